//! The appendix.

use serde::Serialize;

#[derive(Debug, Serialize)]
pub struct InputFile {
    pub name: String,
    pub header: Vec<String>,
    /// Rows as read, before any unit was applied.
    pub rows: Vec<Vec<String>>,
}

#[derive(Debug, Serialize)]
pub struct Report {
    pub base: String,
    pub number: String,
    pub date: String,
    pub source: String,
}

#[derive(Debug, Serialize)]
pub struct TableSource {
    pub table: String,
    /// The key that was looked up, e.g. `"Douglas Fir-Larch, No.1, posts"`.
    pub row: String,
    pub source: String,
    /// `"published"` or `"recalled"`.
    pub kind: String,
    pub caution: String,
    /// Lines that use it.
    pub lines: Vec<String>,
}

#[derive(Debug, Serialize)]
pub struct Clause {
    pub cite: String,
    /// Line numbers; each is also a label in the document.
    pub lines: Vec<String>,
}
