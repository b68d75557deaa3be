//! The tables of values.

use serde::Serialize;

use super::{Math, Span};

/// Values of up to six groups side by side.
#[derive(Debug, Serialize)]
pub struct ValueTable {
    /// The marks of each group.
    pub columns: Vec<String>,
    pub blocks: Vec<ValueBlock>,
}

/// One use of a sheet.
#[derive(Debug, Serialize)]
pub struct ValueBlock {
    pub title: String,
    /// The sheet comes from the job and not from the program.
    pub own: bool,
    /// `blade/at-seat`: the use, by the names of the sheets above it.
    pub path: String,
    /// For each column; empty if no load enters.
    pub combinations: Vec<String>,
    pub rows: Vec<ValueRow>,
}

#[derive(Debug, Serialize)]
pub struct ValueRow {
    /// The line of its formula; empty for what only enters a sheet.
    pub line: String,
    /// A symbol, or what a limit says.
    pub symbol: Option<Math>,
    pub say: Vec<Span>,
    pub unit: String,
    /// For each column.
    pub cells: Vec<ValueCell>,
}

/// Empty where a group has no such line.
#[derive(Debug, Default, Serialize)]
pub struct ValueCell {
    pub value: String,
    pub note: String,
    /// Where the group is worked by another line than the row's.
    pub line: String,
    pub failed: bool,
}
