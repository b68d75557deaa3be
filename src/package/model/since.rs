//! The revision page.

use serde::Serialize;

use super::Revision;

/// What changed since an earlier revision.
#[derive(Debug, Serialize)]
pub struct Since {
    /// `Changes since revision A`.
    pub title: String,
    /// Revision and date of what it is compared with, which sheets without a change
    /// still carry.
    pub from: [String; 2],
    /// Something is to be issued: a change, or a revision that is entered.
    pub issued: bool,
    /// From which revision and date to which.
    pub what: String,
    /// What does not go together: a change without a revision, a revision without
    /// a change. It stands on the cover too.
    pub warning: String,
    /// Revisions that are new.
    pub entered: Vec<Revision>,
    /// Nothing changed.
    pub nothing: bool,
    /// File and place, then as it was and as it is.
    pub inputs: Vec<SinceInput>,
    /// As many are left out.
    pub more_inputs: usize,
    /// Sheets and tables of the job, and the program.
    pub sheets: Vec<SinceSheet>,
    pub more_sheets: usize,
    pub limits: Vec<SinceLimit>,
    pub more_limits: usize,
}

#[derive(Debug, Serialize)]
pub struct SinceInput {
    pub file: String,
    /// Marks or names of rows; a table of `job.toml`.
    pub rows: String,
    /// The column or key; empty for a whole row.
    pub column: String,
    pub old: String,
    pub new: String,
}

#[derive(Debug, Serialize)]
pub struct SinceSheet {
    pub file: String,
    pub how: String,
}

#[derive(Debug, Serialize)]
pub struct SinceLimit {
    pub limit: String,
    pub sheet: String,
    pub marks: String,
    /// The ratio, or words.
    pub old: String,
    pub new: String,
    /// The verdict where it is another; empty where it stays.
    pub verdict: String,
    pub combination: String,
}
