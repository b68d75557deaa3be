//! The appendix.

use serde::Serialize;

/// A file as it was read, before any unit was applied.
#[derive(Debug, Serialize)]
pub struct InputFile {
    pub name: String,
    pub records: usize,
    /// Rows of a catalogue that no post has.
    pub idle: Vec<String>,
    /// What is the same in every record, `heading: value`.
    pub shared: Vec<(String, String)>,
    /// Columns without a cell.
    pub empty: Vec<String>,
    /// What differs, in tables that stand beside one another.
    pub tables: Vec<InputTable>,
    /// Headings of `shared` that have another value.
    pub changed: Vec<String>,
    /// Of `job.toml`, each of its tables on a line.
    pub lines: Vec<InputLine>,
}

#[derive(Debug, Serialize)]
pub struct InputTable {
    pub header: Vec<String>,
    pub rows: Vec<Vec<String>>,
    /// A column a record, a row a field of it.
    #[serde(skip)]
    pub on_side: bool,
    /// Which rows changed, by their places.
    pub changed: Vec<usize>,
}

#[derive(Debug, Serialize)]
pub struct InputLine {
    pub table: String,
    pub keys: Vec<(String, String)>,
    pub changed: bool,
}

#[derive(Debug, Serialize)]
pub struct Report {
    pub base: String,
    pub number: String,
    pub date: String,
    pub source: String,
    pub changed: bool,
}

/// A row of a table that was looked up, with its source. What was written down
/// from memory stands among the open questions.
#[derive(Debug, Serialize)]
pub struct TableSource {
    pub table: String,
    /// The key that was looked up, e.g. `"Douglas Fir-Larch, No.1, posts"`.
    pub row: String,
    pub source: String,
    pub caution: String,
    /// Lines that use it.
    pub lines: Vec<String>,
    pub changed: bool,
}

/// The clauses of one publication.
#[derive(Debug, Serialize)]
pub struct Cited {
    pub publication: String,
    pub clauses: Vec<Clause>,
}

#[derive(Debug, Serialize)]
pub struct Clause {
    /// Without the name of the publication.
    pub cite: String,
    /// Line numbers; each is also a label in the document.
    pub lines: Vec<String>,
}
