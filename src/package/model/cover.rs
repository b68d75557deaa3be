//! The cover.

use serde::Serialize;

use super::Span;

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
    /// What is wrong with who checks it; empty if nothing is.
    pub checker_note: String,
}

/// The firm in the title block.
#[derive(Debug, Serialize)]
pub struct TitleBlock {
    pub name: String,
    pub address: Vec<String>,
    pub licence: String,
    /// Its virtual path.
    pub logo: Option<String>,
    /// What a screen reader says of it.
    pub alt: String,
    /// Its width over its height.
    pub ratio: f64,
    /// The bytes of the logo, in short.
    pub digest: String,
    /// The template is the job's own.
    pub own: bool,
    pub changed: bool,
}

#[derive(Debug, Serialize)]
pub struct Verdict {
    pub ok: bool,
    /// The sentence that `check` closes with.
    pub headline: String,
    pub changed: bool,
    /// One line for each limit that is not met, with its remedy.
    pub failures: Vec<Failure>,
}

#[derive(Debug, PartialEq, Serialize)]
pub struct Failure {
    pub marks: String,
    pub limit: String,
    pub remedy: String,
    /// Number of the line where it stands, e.g. `B2.14`.
    pub line: String,
    pub changed: bool,
}

#[derive(Debug, Serialize)]
pub struct Revision {
    pub no: String,
    pub date: String,
    pub what: String,
}

/// An item of IBC 1603.1.
#[derive(Debug, Serialize)]
pub struct DesignLoad {
    /// `1603.1.3`.
    pub clause: String,
    pub title: String,
    pub spans: Vec<Span>,
    pub changed: bool,
}

/// A special inspection, and the posts that need it.
#[derive(Debug, Serialize)]
pub struct Inspection {
    pub what: Vec<Span>,
    /// `periodic` or `continuous`.
    pub how: String,
    pub cite: String,
    pub posts: String,
    pub changed: bool,
}
