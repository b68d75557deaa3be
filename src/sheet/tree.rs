//! The tree of a sheet.

use std::ops::Range;
use std::sync::Arc;

use crate::formula::{BinOp, Expr, Kind};
use crate::quantity::Unit;
use crate::source::{Place, Source};

#[derive(Debug)]
pub struct Sheet {
    pub name: String,
    pub title: String,
    pub method: Option<Method>,
    pub source: Arc<Source>,
    pub inputs: Vec<Input>,
    pub body: Vec<Stmt>,
}

/// Which set of load combinations a sheet is worked with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Method {
    Asd,
    Strength,
}

impl Method {
    pub fn name(self) -> &'static str {
        match self {
            Method::Asd => "asd",
            Method::Strength => "strength",
        }
    }
}

/// `D  length  >= 1/4 in  "pin diameter"`.
#[derive(Clone, Debug)]
pub struct Input {
    pub name: String,
    pub span: Range<usize>,
    pub kind: Kind,
    /// Where a root sheet finds it: `posts`, `bases`, `combination`, or a
    /// table of `job.toml`.
    pub from: Option<String>,
    pub bounds: Vec<(BinOp, Expr)>,
    /// Taken, and listed as an assumption, if none is given.
    pub default: Option<Expr>,
    pub say: String,
    pub unit: Option<Unit>,
    pub cite: Option<String>,
}

#[derive(Clone, Debug)]
pub enum Stmt {
    Heading(String),
    Prose(Prose),
    Note(Arc<Note>),
    Figure(Arc<Figure>),
    Let(Arc<Let>),
    Take(Arc<Take>),
    Use(Arc<Use>),
    When(Arc<When>),
    Must(Arc<Must>),
}

/// Prose of a sheet: Typst markup, with symbols between backticks.
pub type Prose = Vec<Part>;

#[derive(Clone, Debug)]
pub enum Part {
    Markup(String),
    Symbol(String),
}

/// Something that the engineer must accept. `covered` is false for what the
/// sheet says it leaves out.
#[derive(Debug)]
pub struct Note {
    pub text: Prose,
    pub cite: Option<String>,
    pub covered: bool,
}

#[derive(Debug)]
pub struct Let {
    pub name: String,
    pub span: Range<usize>,
    /// One without a condition, or several of which the last may lack one.
    pub cases: Vec<Case>,
    /// Why there is no value if no case holds; none if the last always does.
    pub refusal: Option<String>,
    pub raw: Option<Raw>,
    pub say: String,
    pub cite: Option<String>,
    pub unit: Option<Unit>,
}

#[derive(Clone, Debug)]
pub struct Case {
    pub value: Expr,
    pub when: Option<Expr>,
}

/// `where D in in, giving psi`: the code's formula hides units.
#[derive(Debug)]
pub struct Raw {
    pub symbols: Vec<(String, Range<usize>, Unit)>,
    pub giving: Unit,
}

#[derive(Debug)]
pub struct Take {
    /// `(symbol, column, span)`; the same name unless written `symbol = column`.
    pub names: Vec<(String, String, Range<usize>)>,
    pub table: String,
    pub table_span: Range<usize>,
    /// Keys for the first columns; true if asked for between rows.
    pub keys: Vec<(Expr, bool)>,
    pub say: String,
    pub cite: Option<String>,
    pub span: Range<usize>,
}

#[derive(Debug)]
pub struct Use {
    pub sheet: String,
    pub span: Range<usize>,
    /// The name its symbols are reached by.
    pub name: String,
    pub args: Vec<(String, Range<usize>, Expr)>,
    /// Sheets whose outputs are passed to inputs of the same name; the check
    /// turns them into `args`.
    pub from: Vec<(String, Range<usize>)>,
}

/// `figure pin-group(n, rows, s = pin_spacing)  "the pins"`: a drawing made
/// from worked values.
#[derive(Debug)]
pub struct Figure {
    pub name: String,
    pub span: Range<usize>,
    pub args: Vec<(String, Range<usize>, Expr)>,
    pub say: String,
}

#[derive(Debug)]
pub struct When {
    pub condition: Expr,
    pub body: Vec<Stmt>,
    pub otherwise: Vec<Stmt>,
}

#[derive(Debug)]
pub struct Must {
    pub condition: Expr,
    pub span: Range<usize>,
    pub say: String,
    pub cite: Option<String>,
    pub remedy: String,
}

impl Must {
    /// Demand, operator and capacity of a limit that is a ratio.
    pub fn sides(&self) -> Option<(&Expr, &Expr)> {
        match &self.condition.node {
            crate::formula::Node::Binary(BinOp::LessEqual | BinOp::Less, demand, capacity) => Some((demand, capacity)),
            crate::formula::Node::Binary(BinOp::GreaterEqual | BinOp::Greater, capacity, demand) => {
                Some((demand, capacity))
            }
            _ => None,
        }
    }
}

impl Sheet {
    pub fn place(&self, span: &Range<usize>) -> Place {
        Place::new(&self.source, span.clone())
    }

    pub fn input(&self, name: &str) -> Option<&Input> {
        self.inputs.iter().find(|input| input.name == name)
    }

    /// Calls `f` on every statement, blocks before what is in them.
    pub fn walk<'a>(&'a self, f: &mut impl FnMut(&'a Stmt)) {
        fn inner<'a>(body: &'a [Stmt], f: &mut impl FnMut(&'a Stmt)) {
            for stmt in body {
                f(stmt);
                if let Stmt::When(when) = stmt {
                    inner(&when.body, f);
                    inner(&when.otherwise, f);
                }
            }
        }
        inner(&self.body, f);
    }
}
