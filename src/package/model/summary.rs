//! The summary.

use serde::Serialize;

#[derive(Debug, Serialize)]
pub struct SummaryRow {
    pub mark: String,
    pub group: usize,
    /// As the order list has it: size, length, wood.
    pub post: String,
    pub base: String,
    /// The governing limit in words, and its sheet's title.
    pub limit: String,
    pub sheet: String,
    pub cite: String,
    pub combination: String,
    /// `"0.664"`; `"–"` for a limit that is not a ratio.
    pub ratio: String,
    /// The same as a number for the bar; none where there is no ratio.
    pub fill: Option<f64>,
    pub ok: bool,
    /// Open questions that the post rests on.
    pub open: usize,
    pub line: String,
    /// Limits met, limits in all.
    pub met: usize,
    pub limits: usize,
}
