//! The summary.

use serde::Serialize;

/// Posts that are alike.
#[derive(Debug, Serialize)]
pub struct SummaryRow {
    pub marks: Vec<String>,
    /// The same, as far as a line has room for them.
    pub shown: String,
    pub group: usize,
    /// As the order list has it: size, length, wood.
    pub post: String,
    pub base: String,
    /// The governing limit in words, and its sheet where that says more.
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
    pub changed: bool,
}

/// The limits of the job, the highest ratio first.
#[derive(Debug, Serialize)]
pub struct Ranking {
    pub limits: Vec<RankedLimit>,
    /// How many more there are, in words.
    pub rest: String,
    /// Sizes and distances at their bound, in words.
    pub bound: String,
}

#[derive(Debug, Serialize)]
pub struct RankedLimit {
    pub limit: String,
    pub sheet: String,
    pub cite: String,
    /// The posts that it governs hardest.
    pub marks: String,
    pub combination: String,
    pub ratio: String,
    pub fill: Option<f64>,
    pub ok: bool,
    pub line: String,
    pub changed: bool,
}
