//! The basis of design, and what of a package is the job's own.

use serde::Serialize;

use super::Span;

#[derive(Debug, Serialize)]
pub struct Code {
    pub short: String,
    /// Publication, title, edition.
    pub title: String,
}

#[derive(Debug, Serialize)]
pub struct Assumption {
    /// `"A1"`.
    pub no: String,
    pub text: Vec<Span>,
    pub cite: String,
    pub changed: bool,
}

#[derive(Debug, Serialize)]
pub struct OwnFile {
    /// Its path in the folder of the job.
    pub file: String,
    pub title: String,
    /// How it stands to what is built in: "in place of the built-in one",
    /// "3 rows added".
    pub stands: String,
    /// The sheets that use it, and the posts that are worked by it.
    pub used: String,
    /// Of a table, the rows that the job reads.
    pub rows: Vec<OwnRow>,
    pub changed: bool,
}

#[derive(Debug, Serialize)]
pub struct OwnRow {
    /// Cell by cell, with headings and units.
    pub row: String,
    pub source: String,
    /// "in place of the built-in row", or nothing.
    pub stands: String,
    /// Lines that read it.
    pub lines: Vec<String>,
}
