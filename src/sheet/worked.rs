//! A sheet that was worked: its steps, and what each symbol came to.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::rests::Rests;
use super::table::OwnRow;
use super::tree::{Decide, Input, Let, Must, Note, PageKind, Piece, Prose, Sheet, Take};
use crate::formula::{Expr, Value};
use crate::quantity::{Quantity, Unit};
use crate::source::Place;

/// A symbol's value and what a page says about it.
#[derive(Clone, Debug)]
pub struct Bound {
    pub value: Value,
    /// The unit it is printed in.
    pub unit: Unit,
    /// A load or a load factor enters it: it differs between combinations.
    pub varies: bool,
    /// Whole numbers print without decimals.
    pub count: bool,
    /// Given, or computed: given values print as they were typed.
    pub given: bool,
    /// The cell it was read from.
    pub place: Option<Place>,
    /// The facts that it comes from.
    pub rests: Rests,
}

impl Bound {
    /// What was given, by a file or in a sheet's own words.
    pub fn given(value: Value, unit: Unit) -> Bound {
        Bound { value, unit, varies: false, count: false, given: true, place: None, rests: Rests::default() }
    }
}

/// A sheet with every step that was taken.
#[derive(Debug)]
pub struct Worked {
    pub sheet: Arc<Sheet>,
    /// The name its symbols are reached by in the sheet above.
    pub name: String,
    pub given: Vec<Given>,
    /// Every symbol that has a value, `sub-sheet.symbol` ones included.
    pub bound: BTreeMap<String, Bound>,
    /// The name of the use that fills each open place.
    pub places: BTreeMap<String, String>,
    pub steps: Vec<Step>,
}

/// One input as it came in.
#[derive(Debug)]
pub struct Given {
    pub input: Arc<Input>,
    pub origin: Origin,
}

#[derive(Clone, Debug)]
pub enum Origin {
    /// A place in the user's files, in words: `posts.csv, width`.
    File(String),
    /// A symbol of the sheet above.
    Symbol(String),
    /// A formula of the sheet above.
    Formula(Expr),
    /// The sheet's own default.
    Default,
}

#[derive(Debug)]
pub enum Step {
    Heading(String),
    Prose(Prose),
    Note(Arc<Note>),
    /// `taken` is the case that holds.
    Let {
        rule: Arc<Let>,
        taken: usize,
    },
    Take {
        rule: Arc<Take>,
        taken: Taken,
    },
    /// Another name for a symbol: nothing is worked.
    Rename(Arc<Let>),
    Use(Box<Worked>),
    /// What goes to a page for the shop or the site, and the symbols that it
    /// binds.
    Page {
        kind: PageKind,
        steps: Vec<Step>,
        bound: BTreeMap<String, Bound>,
    },
    /// Something to order: the amount, what it is, and values that tell its kind.
    Piece {
        rule: Arc<Piece>,
        amount: Bound,
        values: Vec<Bound>,
    },
    /// A drawing, and the values it is made from.
    Figure {
        name: String,
        say: String,
        values: Vec<(String, Value)>,
    },
    /// A block that was not entered.
    Skipped(Expr),
    Must {
        rule: Arc<Must>,
        verdict: Verdict,
    },
    /// What is left to an engineer, and the values that are to be decided.
    Decide {
        rule: Arc<Decide>,
        values: Vec<Bound>,
    },
}

/// The row of a table that was looked up.
#[derive(Debug)]
pub struct Taken {
    /// The name of the table, and its title.
    pub table: String,
    pub title: String,
    pub keys: Vec<(String, Value, Unit)>,
    pub source: String,
    pub doubt: String,
    pub recalled: bool,
    /// The places of the rows in it.
    pub rows: Vec<usize>,
    pub own: Vec<OwnRow>,
    /// The two rows of an interpolation: the key, and the values of the names.
    pub ends: Vec<(Value, Vec<Value>)>,
}

#[derive(Clone, Debug)]
pub struct Verdict {
    pub ok: bool,
    /// Demand over capacity; none for a limit that is no ratio.
    pub ratio: Option<f64>,
    pub sides: Option<(Side, Side)>,
    pub varies: bool,
}

/// Demand or capacity of a limit.
#[derive(Clone, Debug)]
pub struct Side {
    pub quantity: Quantity,
    pub unit: Unit,
}

/// Demand/capacity ratio. Without capacity there is no ratio that says more
/// than the verdict; a demand of the other sign asks for nothing.
pub fn ratio(demand: f64, capacity: f64, ok: bool) -> f64 {
    if capacity > 0.0 {
        (demand / capacity).max(0.0)
    } else if ok {
        0.0
    } else {
        f64::INFINITY
    }
}
