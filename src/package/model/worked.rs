//! The worked pages.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Serialize, Serializer};

use super::{Math, Printed, Span};
use crate::drawing::Drawing;
use crate::typeset::{Face, text_width};

/// A chapter of worked pages: `worked-1.json`, `loads-1.json`.
#[derive(Debug, Serialize)]
pub struct Worked {
    /// Begins the numbers of its lines: `B1`.
    pub name: String,
    pub title: String,
    /// What the letters of the columns stand for.
    pub columns: Vec<ColumnHead>,
    pub sections: Vec<Section>,
    /// Limits that are not worked, each where it governs.
    pub low: Vec<LowLimit>,
    /// What has to go together, and questions that have been answered.
    pub fits: Vec<FitRow>,
    /// What does not apply, sheet by sheet.
    pub skipped: Vec<SkippedRow>,
    /// Every limit of every post, where a package is full.
    pub ratios: Vec<RatioTable>,
    /// What each line reads, by its number and the letter of a column: numbers of
    /// lines, assumptions and open questions. No page prints it; it tells whether a
    /// reader of the pages finds the way.
    #[serde(skip)]
    pub reads: BTreeMap<(String, String), BTreeSet<String>>,
}

/// Demand/capacity ratios of posts side by side.
#[derive(Debug, Serialize)]
pub struct RatioTable {
    pub posts: Vec<String>,
    pub rows: Vec<RatioRow>,
}

#[derive(Debug, Serialize)]
pub struct RatioRow {
    pub line: String,
    pub say: Vec<Span>,
    /// One for each of the posts; empty where a post has no such limit.
    pub cells: Vec<RatioCell>,
    pub changed: bool,
}

#[derive(Debug, Default, Serialize)]
pub struct RatioCell {
    pub ratio: String,
    pub combination: String,
    pub ok: bool,
}

/// A post in a load combination.
#[derive(Clone, Debug, Serialize)]
pub struct ColumnHead {
    pub letter: String,
    /// The posts in words, and all of them.
    pub post: String,
    pub marks: Vec<String>,
    /// The combination, or the load case.
    pub what: String,
    /// Load duration factor; empty for strength combinations.
    pub c_d: String,
}

#[derive(Debug, Serialize)]
pub struct LowLimit {
    pub no: String,
    pub say: Vec<Span>,
    pub sheet: String,
    pub cite: String,
    /// Empty for a limit that is no ratio.
    pub demand: String,
    pub capacity: String,
    pub ratio: String,
    /// The post and the combination that govern it.
    pub post: String,
    pub combination: String,
    pub ok: bool,
    /// Words for a sheet of the job's own.
    pub own: String,
    /// Another than in the revision that it is compared with.
    pub changed: bool,
}

#[derive(Debug, Serialize)]
pub struct FitRow {
    pub no: String,
    pub say: Vec<Span>,
    pub cite: String,
    /// Posts in which it fails; empty if it is met.
    pub fails: String,
    pub remedy: String,
    /// Words for a sheet of the job's own.
    pub own: String,
    /// Another than in the revision that it is compared with.
    pub changed: bool,
}

/// Why parts of some sheets do not apply.
#[derive(Debug, Serialize)]
pub struct SkippedRow {
    pub says: Vec<Span>,
    /// `posts A1, A3`; empty for all.
    pub posts: String,
    /// The titles of the sheets.
    pub sheets: Vec<String>,
    pub changed: bool,
}

/// One sheet, for all its uses and columns.
#[derive(Debug, Serialize)]
pub struct Section {
    pub sheet: String,
    pub title: String,
    /// It began further up, and goes on after the sheets that it uses.
    pub continued: bool,
    /// What of it comes from the job and not from the program: the sheet, rows
    /// of tables. Empty where nothing does.
    pub own: Vec<String>,
    /// The letters of its columns; empty where the chapter has one.
    pub columns: String,
    /// Its lines are set as a table, a row for each column of the chapter.
    pub table: bool,
    pub lines: Vec<Line>,
}

// Lines are built once and written out; their size is nothing to save on.
#[allow(clippy::large_enum_variant)]
#[derive(Debug, Serialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub enum Line {
    Prose {
        spans: Vec<Span>,
    },
    /// What the user's files say of the posts, each with a number of its own.
    Facts {
        file: String,
        items: Vec<FactItem>,
    },
    /// Values that come into a sheet from lines elsewhere.
    Inputs {
        items: Vec<InputItem>,
    },
    /// A worked line. `symbolic` is the whole right-hand side in symbols; a row
    /// holds the same with numbers (absent if nothing to substitute).
    Step {
        no: String,
        say: Vec<Span>,
        /// Empty for the program's own arithmetic.
        #[serde(serialize_with = "clause")]
        cite: String,
        symbol: Math,
        symbolic: Option<Math>,
        /// What makes this branch apply, where the rule has several.
        when: Vec<Span>,
        rows: Vec<Row>,
        /// Units in which symbols enter as plain numbers ("D in in, giving psi").
        raw: String,
    },
    /// `least(…)` or `greatest(…)`: every candidate, the governing one named.
    Candidates {
        no: String,
        say: Vec<Span>,
        #[serde(serialize_with = "clause")]
        cite: String,
        symbol: Math,
        /// `"least of"` or `"greatest of"`.
        which: String,
        when: Vec<Span>,
        /// The candidates in symbols.
        parts: Vec<Math>,
        rows: Vec<CandidateRow>,
    },
    /// Values looked up in a table.
    Lookup {
        no: String,
        say: Vec<Span>,
        #[serde(serialize_with = "clause")]
        cite: String,
        table: String,
        rows: Vec<LookupRow>,
        /// Recalled, or in doubt; the rows that are used stand in the appendix.
        caution: String,
        /// The numbers of the rows that wait to be confirmed, among the open questions.
        asks: Vec<String>,
        /// Words for a row of the job's own.
        own: String,
    },
    Figure {
        no: String,
        say: Vec<Span>,
        /// Whose it is.
        tag: String,
        drawing: Drawing,
        changed: bool,
    },
    Limit {
        no: String,
        say: Vec<Span>,
        #[serde(serialize_with = "clause")]
        cite: String,
        /// The limit as written, in symbols.
        symbolic: Math,
        /// One for each column in which it governs.
        rows: Vec<LimitRow>,
        /// All of it is one line.
        short: bool,
        /// Where it is not met.
        remedy: String,
    },
    /// What the files, combinations and assumptions say that the line before rests
    /// on, and the rows that wait to be confirmed, by the numbers of those lines.
    Rests {
        lines: Vec<String>,
    },
}

/// A clause, and whether it takes more than a line of its column: `look.typ`.
fn clause<S: Serializer>(cite: &str, serializer: S) -> Result<S::Ok, S::Error> {
    const COLUMN: f64 = 97.0;
    const TYPE: f64 = 7.4;
    (cite, TYPE * text_width(cite, Face::Regular) > COLUMN).serialize(serializer)
}

/// A formula with the numbers of some columns.
#[derive(Debug, Serialize)]
pub struct Row {
    /// The uses and columns that it holds for; empty for all.
    pub tag: String,
    pub substituted: Option<Math>,
    pub value: Printed,
    /// Two such rows stand side by side.
    pub half: bool,
    /// The same, one by one: `post/along-x@a`.
    pub at: Vec<String>,
    /// Another than in the revision that it is compared with.
    pub changed: bool,
}

#[derive(Debug, Serialize)]
pub struct CandidateRow {
    pub tag: String,
    pub candidates: Vec<Candidate>,
    pub value: Printed,
    pub at: Vec<String>,
    /// Another than in the revision that it is compared with.
    pub changed: bool,
}

#[derive(Debug, Serialize)]
pub struct LookupRow {
    pub tag: String,
    pub keys: Vec<(String, String)>,
    pub values: Vec<LookedUp>,
    /// The rows that the values lie between: `"7.5 °: −0.6, −0.3"`.
    pub ends: Vec<String>,
    pub at: Vec<String>,
    /// Another than in the revision that it is compared with.
    pub changed: bool,
}

#[derive(Debug, PartialEq, Serialize)]
pub struct LimitRow {
    pub tag: String,
    pub demand: Side,
    pub capacity: Side,
    pub ratio: String,
    pub fill: Option<f64>,
    pub ok: bool,
    pub at: Vec<String>,
    /// Another than in the revision that it is compared with.
    pub changed: bool,
}

#[derive(Clone, Debug, Serialize)]
pub struct FactItem {
    pub no: String,
    pub symbol: Math,
    pub say: Vec<Span>,
    pub rows: Vec<ValueRow>,
    /// The lines by which it is worked out; summed, if `sum`.
    pub of: Vec<String>,
    pub sum: bool,
}

#[derive(Clone, Debug, Serialize)]
pub struct ValueRow {
    pub tag: String,
    pub value: Printed,
    /// The columns that it holds for: `@a`.
    pub at: Vec<String>,
    /// Another than in the revision that it is compared with.
    pub changed: bool,
}

#[derive(Debug, Serialize)]
pub struct InputItem {
    pub symbol: Math,
    pub rows: Vec<InputRow>,
}

#[derive(Debug, Serialize)]
pub struct InputRow {
    pub tag: String,
    /// Empty where the values are many and stand in the formulas.
    pub value: Printed,
    pub from: Whence,
    pub at: Vec<String>,
    /// Another than in the revision that it is compared with.
    pub changed: bool,
}

/// Where a value comes from: the number of a line (then `link` holds it), or
/// words.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Whence {
    pub words: String,
    pub link: Option<String>,
}

#[derive(Debug, PartialEq, Serialize)]
pub struct Candidate {
    /// Where the candidate is itself a formula, with numbers.
    pub substituted: Option<Math>,
    pub value: Printed,
    pub governs: bool,
}

#[derive(Debug, PartialEq, Serialize)]
pub struct LookedUp {
    pub symbol: Math,
    pub value: Printed,
}

#[derive(Debug, PartialEq, Serialize)]
pub struct Side {
    /// `"demand"` or `"capacity"` in symbols, e.g. `f_c` or `n Z'`.
    pub symbolic: Math,
    pub substituted: Option<Math>,
    pub value: Printed,
}
