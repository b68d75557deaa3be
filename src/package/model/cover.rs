//! The cover.

use serde::Serialize;

#[derive(Debug, Serialize)]
pub struct JobCard {
    pub name: String,
    pub place: String,
    pub number: String,
    pub client: String,
    pub date: String,
    pub revision: String,
    pub prepared_by: String,
    /// Empty when nobody is named yet: a line is left free.
    pub checked_by: String,
}

#[derive(Debug, Serialize)]
pub struct Verdict {
    pub ok: bool,
    /// The sentence that `check` closes with.
    pub headline: String,
    /// One line for each limit that is not met, with its remedy.
    pub failures: Vec<Failure>,
}

#[derive(Debug, Serialize)]
pub struct Failure {
    pub marks: String,
    pub limit: String,
    pub remedy: String,
    /// Number of the line where it stands, e.g. `B2.14`.
    pub line: String,
}

#[derive(Debug, Serialize)]
pub struct Revision {
    pub no: String,
    pub date: String,
    pub what: String,
}
