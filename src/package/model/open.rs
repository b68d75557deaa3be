//! What is open.

use serde::Serialize;

/// What is left to be answered, and what has been.
#[derive(Debug, Serialize)]
pub struct Open {
    pub decisions: Vec<OpenDecision>,
    /// Rows from memory, a table after the other.
    pub values: Vec<OpenValue>,
    pub declared: Vec<Declared>,
    pub assumed: Vec<OpenDefault>,
    pub starters: Vec<OpenStarters>,
}

/// What a clause leaves to a licensed engineer.
#[derive(Debug, Serialize)]
pub struct OpenDecision {
    /// `Q1`.
    pub no: String,
    pub what: String,
    pub value: String,
    pub cite: String,
    pub posts: String,
    /// Who decided it, by which licence, when; empty while it is open.
    pub answer: String,
    /// Why an answer that was given does not hold.
    pub why: String,
    pub changed: bool,
}

/// A row of a table that was written down from memory.
#[derive(Debug, Serialize)]
pub struct OpenValue {
    pub no: String,
    /// The title of its table.
    pub table: String,
    pub row: String,
    pub values: String,
    pub source: String,
    pub doubt: String,
    /// Who read it in which publication, and when; empty while it is open.
    pub answer: String,
    pub why: String,
    pub changed: bool,
}

/// A kind of load that the job says it does not have.
#[derive(Debug, Serialize)]
pub struct Declared {
    /// `L, live load`.
    pub kind: String,
    pub reason: String,
    pub changed: bool,
}

/// What was taken for an input that the job does not give.
#[derive(Debug, Serialize)]
pub struct OpenDefault {
    pub no: String,
    /// `site.K_zt`.
    pub input: String,
    pub value: String,
    pub say: String,
    pub posts: String,
    pub changed: bool,
}

/// Values of one place in the files of a job, marked there as nobody's answer.
#[derive(Debug, Serialize)]
pub struct OpenStarters {
    /// `Q7` or `Q7 to Q31`.
    pub no: String,
    /// `bases.csv, knife 8`.
    pub place: String,
    /// Column or key, and value.
    pub values: Vec<(String, String)>,
    pub posts: String,
    pub changed: bool,
}
