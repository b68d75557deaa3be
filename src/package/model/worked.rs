//! The worked pages.

use serde::Serialize;

use super::{Math, Printed, Span};
use crate::drawing::Drawing;

/// The worked pages of one group of equal posts: `group-N.json`.
#[derive(Debug, Serialize)]
pub struct Group {
    pub no: usize,
    /// `Group 2: posts A1, A3`, `Shop sheet: posts …`.
    pub title: String,
    pub marks: Vec<String>,
    pub demo: bool,
    /// The post in words, and what it chose: base, foundation, anchors.
    pub facts: Vec<(String, String)>,
    pub verdict: bool,
    /// All limits of the group, those too that stand on pages of another.
    pub limits: Vec<LimitRow>,
    pub sections: Vec<Section>,
}

#[derive(Debug, Serialize)]
pub struct LimitRow {
    /// Where its formula stands.
    pub line: String,
    pub say: Vec<Span>,
    pub ratio: String,
    pub ok: bool,
}

/// One sheet, worked in one load combination.
#[derive(Debug, Serialize)]
pub struct Section {
    /// 1 for a sheet that the root uses, 2 for one that such a sheet uses, ….
    pub depth: usize,
    pub sheet: String,
    pub title: String,
    /// What of it comes from the job and not from the program: the sheet, rows
    /// of tables. Empty where nothing does.
    pub own: Vec<String>,
    /// `"0.6D + 0.6W1"`; empty if no load enters.
    pub combination: String,
    pub c_d: String,
    pub lines: Vec<Line>,
}

// Lines are built once and written out; their size is nothing to save on.
#[allow(clippy::large_enum_variant)]
#[derive(Debug, Serialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub enum Line {
    Heading {
        text: String,
    },
    Prose {
        spans: Vec<Span>,
    },
    Note {
        spans: Vec<Span>,
    },
    /// What the user's files say of the posts, each with a number of its own.
    Facts {
        file: String,
        items: Vec<FactItem>,
    },
    /// Values that come into a sheet from lines above.
    Inputs {
        items: Vec<InputItem>,
    },
    /// A worked line. `symbolic` is the whole right-hand side in symbols,
    /// `substituted` the same with numbers (absent if nothing to substitute).
    Step {
        no: String,
        say: Vec<Span>,
        /// Empty for the program's own arithmetic.
        cite: String,
        symbol: Math,
        symbolic: Option<Math>,
        substituted: Option<Math>,
        value: Printed,
        /// Units in which symbols enter as plain numbers ("D in in, giving psi").
        raw: String,
    },
    /// A case formula: every case is printed, the taken one is marked.
    Cases {
        no: String,
        say: Vec<Span>,
        cite: String,
        symbol: Math,
        cases: Vec<CaseRow>,
        substituted: Option<Math>,
        value: Printed,
        raw: String,
    },
    /// `least(…)` or `greatest(…)`: every candidate, the governing one named.
    Candidates {
        no: String,
        say: Vec<Span>,
        cite: String,
        symbol: Math,
        /// `"least of"` or `"greatest of"`.
        which: String,
        candidates: Vec<Candidate>,
        value: Printed,
    },
    /// Values looked up in a table.
    Lookup {
        no: String,
        say: Vec<Span>,
        cite: String,
        table: String,
        keys: Vec<(String, String)>,
        values: Vec<LookedUp>,
        /// The rows that the values lie between: `"7.5 °: −0.6, −0.3"`.
        ends: Vec<String>,
        source: String,
        caution: String,
        /// Words for a row of the job's own.
        own: String,
    },
    Figure {
        no: String,
        say: Vec<Span>,
        drawing: Drawing,
    },
    /// What was not taken, in one line.
    Skipped {
        spans: Vec<Span>,
    },
    /// What has to go together, in one line.
    Fit {
        no: String,
        say: Vec<Span>,
        cite: String,
        ok: bool,
        remedy: String,
    },
    Limit {
        no: String,
        say: Vec<Span>,
        cite: String,
        /// `"≤"` or `"≥"`, as written: demand and capacity are in the order
        /// demand, capacity whatever the sign.
        demand: Side,
        capacity: Side,
        /// The limit as written, in symbols.
        symbolic: Math,
        ratio: String,
        fill: Option<f64>,
        ok: bool,
        remedy: String,
        /// "governed by D + S: ratio 0.71", when another combination than
        /// the one printed here governs this limit; else empty.
        elsewhere: String,
    },
}

#[derive(Debug, Serialize)]
pub struct FactItem {
    pub no: String,
    pub symbol: Math,
    pub say: Vec<Span>,
    pub value: Printed,
}

#[derive(Debug, Serialize)]
pub struct InputItem {
    pub symbol: Math,
    pub value: Printed,
    pub from: Whence,
}

/// Where a value comes from: the number of a line (then `link` holds it), or
/// words.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Whence {
    pub words: String,
    pub link: Option<String>,
}

#[derive(Debug, Serialize)]
pub struct CaseRow {
    pub value: Math,
    pub condition: Vec<Span>,
    pub taken: bool,
}

#[derive(Debug, Serialize)]
pub struct Candidate {
    pub symbolic: Math,
    /// Where the candidate is itself a formula, with numbers.
    pub substituted: Option<Math>,
    pub value: Printed,
    pub governs: bool,
}

#[derive(Debug, Serialize)]
pub struct LookedUp {
    pub symbol: Math,
    pub value: Printed,
}

#[derive(Debug, Serialize)]
pub struct Side {
    /// `"demand"` or `"capacity"` in symbols, e.g. `f_c` or `n Z'`.
    pub symbolic: Math,
    pub substituted: Option<Math>,
    pub value: Printed,
}
