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
    /// The combinations that it is worked in; all of them for a sheet that does not say.
    pub method: Option<Methods>,
    pub source: Arc<Source>,
    /// The open place that it can stand in.
    pub stands: Option<Stands>,
    /// The sheet after whose lines it is worked, and the place of its name.
    pub joins: Option<(String, Range<usize>)>,
    /// It comes from the job and not from the program.
    pub own: bool,
    pub inputs: Vec<Arc<Input>>,
    /// What other sheets can read of it, besides its inputs.
    pub gives: Vec<Give>,
    pub body: Vec<Stmt>,
}

/// `stands as base when kind is made`.
#[derive(Clone, Debug)]
pub struct Stands {
    pub place: String,
    pub column: String,
    pub value: String,
    pub span: Range<usize>,
}

/// `P_a  force  "axial load on what fixes the base"  in lbf`.
#[derive(Clone, Debug)]
pub struct Give {
    pub name: String,
    pub span: Range<usize>,
    pub kind: Kind,
    pub say: String,
    pub unit: Option<Unit>,
}

/// Where an input comes from unless it is passed: a file or table of the job,
/// or a sheet that is used above.
#[derive(Clone, Debug, PartialEq)]
pub struct From {
    pub source: String,
    /// The column, key or symbol there.
    pub name: String,
}

/// A set of load combinations: the basic ones, and those with overstrength
/// (ASCE 7-16 12.4.3), by what is worked in them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Method {
    Asd,
    Strength,
    /// For what holds the bases of posts that stand as cantilevers.
    AsdCantilevers,
    /// For anchors alone.
    StrengthAnchors,
    /// For both.
    StrengthCantilevers,
}

impl Method {
    pub const ALL: [Method; 5] =
        [Method::Asd, Method::Strength, Method::AsdCantilevers, Method::StrengthAnchors, Method::StrengthCantilevers];

    /// Without overstrength.
    pub fn is_basic(self) -> bool {
        matches!(self, Method::Asd | Method::Strength)
    }

    pub fn is_asd(self) -> bool {
        matches!(self, Method::Asd | Method::AsdCantilevers)
    }
}

/// Sets of load combinations, one bit for each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Methods(u8);

/// What a sheet can say after `method`.
const METHODS: [(&str, &[Method]); 5] = [
    ("asd", &[Method::Asd]),
    ("strength", &[Method::Strength]),
    ("asd, overstrength of cantilevers", &[Method::Asd, Method::AsdCantilevers]),
    ("strength, overstrength of cantilevers", &[Method::Strength, Method::StrengthCantilevers]),
    ("strength, overstrength", &[Method::Strength, Method::StrengthAnchors, Method::StrengthCantilevers]),
];

impl Methods {
    pub const NONE: Methods = Methods(0);
    pub const ALL: Methods = Methods(0b11111);

    pub fn named(name: &str) -> Option<Methods> {
        METHODS.iter().find(|(known, _)| *known == name).map(|(_, of)| Methods::of(of))
    }

    /// All that a sheet can say.
    pub fn names() -> impl Iterator<Item = &'static str> {
        METHODS.iter().map(|(name, _)| *name)
    }

    fn of(methods: &[Method]) -> Methods {
        Methods(methods.iter().fold(0, |bits, method| bits | 1 << *method as u8))
    }

    pub fn name(self) -> &'static str {
        METHODS.iter().find(|(_, of)| Methods::of(of) == self).map_or("all", |(name, _)| name)
    }

    pub fn has(self, method: Method) -> bool {
        self.0 >> method as u8 & 1 == 1
    }

    /// The basic combinations of the method.
    pub fn basic(self) -> Method {
        if self.has(Method::Asd) { Method::Asd } else { Method::Strength }
    }

    /// Those of both.
    pub fn and(self, other: Methods) -> Methods {
        Methods(self.0 & other.0)
    }

    pub const fn bits(self) -> u8 {
        self.0
    }
}

/// `D  length  >= 1/4 in  "pin diameter"`.
#[derive(Clone, Debug)]
pub struct Input {
    pub name: String,
    pub span: Range<usize>,
    pub kind: Kind,
    pub from: Option<From>,
    /// A sheet that this one uses needs it; this one does not name it.
    pub passed_on: bool,
    pub bounds: Vec<(BinOp, Expr)>,
    /// Taken, and listed as an assumption, if none is given.
    pub default: Option<Expr>,
    /// The default is the most severe answer: nothing is assumed by taking it.
    pub safe: bool,
    /// It may be left out: `else nothing`.
    pub optional: bool,
    pub say: String,
    /// The unit that it is printed in, and that people usually write it in.
    pub unit: Option<Unit>,
    /// Other units that they write it in.
    pub units: Vec<Unit>,
    pub cite: Option<String>,
}

impl Input {
    /// The units that people write it in, the usual one first; none for what is
    /// no quantity.
    pub fn written(&self) -> Vec<Unit> {
        let usual = self.unit.clone().or_else(|| self.kind.dim().map(Unit::usual));
        usual.into_iter().chain(self.units.iter().cloned()).collect()
    }

    /// The name of the column, key or symbol that it comes from.
    pub fn column(&self) -> &str {
        self.from.as_ref().map_or(&self.name, |from| &from.name)
    }

    /// The column or key that it comes from, as one word: `bases.blade`.
    pub fn key(&self) -> String {
        self.from.as_ref().map_or_else(|| self.name.clone(), |from| [&from.source, ".", &from.name].concat())
    }

    /// Names of a choice may stand in any order.
    pub fn same_kind(&self, other: &Input) -> bool {
        match (&self.kind, &other.kind) {
            (Kind::Choice(a), Kind::Choice(b)) => a.len() == b.len() && a.iter().all(|name| b.contains(name)),
            (a, b) => a == b,
        }
    }

    /// What follows its `else` in the sheet.
    pub fn otherwise(&self, sheet: &Sheet) -> Option<String> {
        match self.default_value(sheet) {
            None => self.optional.then(|| "nothing".into()),
            Some(value) if self.safe => Some(format!("safe {value}")),
            value => value,
        }
    }

    /// The default as it is written in the sheet, with single blanks.
    pub fn default_value(&self, sheet: &Sheet) -> Option<String> {
        let text = &sheet.source.text[self.default.as_ref()?.span.clone()];
        Some(text.split_whitespace().collect::<Vec<_>>().join(" ").replace('"', ""))
    }
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
    Place(Arc<OpenPlace>),
    When(Arc<When>),
    Must(Arc<Must>),
    Decide(Arc<Decide>),
    Hand(Arc<Hand>),
    Page(Arc<Page>),
    Piece(Arc<Piece>),
}

/// Prose of a sheet: Typst markup, with symbols between backticks.
pub type Prose = Vec<Part>;

#[derive(Clone, Debug)]
pub enum Part {
    Markup(String),
    Symbol(String),
}

#[derive(Debug)]
pub struct Note {
    pub text: Prose,
    pub cite: Option<String>,
    pub kind: NoteKind,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoteKind {
    /// Something that the engineer must accept.
    Assumed,
    /// What the sheet says it leaves out.
    NotCovered,
    /// What somebody inspects while it is made: now and then, or all the time.
    Inspected { continuous: bool },
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

/// `place base by kind from bases`: here stands one of several sheets.
#[derive(Debug)]
pub struct OpenPlace {
    pub name: String,
    pub span: Range<usize>,
    /// The symbol whose value chooses.
    pub column: String,
    /// Its own input, unless the column is a symbol of the sheet.
    pub input: Option<Input>,
    pub args: Vec<(String, Range<usize>, Expr)>,
    /// What every candidate gives.
    pub gives: Vec<Give>,
    /// The candidates, by the value that chooses them; the library fills them in.
    pub choices: Vec<(String, Use)>,
}

/// What goes to a page for the shop or the site.
#[derive(Debug)]
pub struct Page {
    pub kind: PageKind,
    /// The word that opens it.
    pub span: Range<usize>,
    pub body: Vec<Stmt>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PageKind {
    Shop,
    Field,
}

/// `piece pins "pin" (D by l_pin)`: something to order.
#[derive(Debug)]
pub struct Piece {
    pub amount: Expr,
    pub span: Range<usize>,
    pub name: String,
    pub values: Vec<Expr>,
    pub unit: Option<Unit>,
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
    /// It says what has to go together; it is no limit of a code.
    pub fit: bool,
    pub condition: Expr,
    pub span: Range<usize>,
    pub say: String,
    pub cite: Option<String>,
    pub remedy: String,
}

/// `decide "snow on open slats" (snow_share)  [ASCE 7-16 7]`: what a licensed
/// engineer has to decide, and the values that are decided.
#[derive(Debug)]
pub struct Decide {
    pub what: String,
    pub span: Range<usize>,
    pub values: Vec<(String, Range<usize>)>,
    pub cite: String,
}

/// `hand "push of a brace" (F_brace)  [clause]`: a force that is handed to others,
/// who design for it.
#[derive(Debug)]
pub struct Hand {
    pub what: String,
    pub span: Range<usize>,
    pub value: (String, Range<usize>),
    pub cite: String,
}

impl Let {
    /// It only gives a symbol another name.
    pub fn renames(&self) -> bool {
        let [case] = self.cases.as_slice() else { return false };
        self.raw.is_none() && case.when.is_none() && matches!(case.value.node, crate::formula::Node::Symbol(_))
    }
}

impl Must {
    /// Demand, operator and capacity of a limit that is a ratio.
    pub fn sides(&self) -> Option<(&Expr, &Expr)> {
        if self.fit {
            return None;
        }
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

    pub fn give(&self, name: &str) -> Option<&Give> {
        self.gives.iter().find(|give| give.name == name)
    }

    pub fn input(&self, name: &str) -> Option<&Input> {
        self.inputs.iter().map(AsRef::as_ref).find(|input: &&Input| input.name == name)
    }

    /// Calls `f` on every statement, blocks before what is in them.
    pub fn walk<'a>(&'a self, f: &mut impl FnMut(&'a Stmt)) {
        fn inner<'a>(body: &'a [Stmt], f: &mut impl FnMut(&'a Stmt)) {
            for stmt in body {
                f(stmt);
                match stmt {
                    Stmt::When(when) => {
                        inner(&when.body, f);
                        inner(&when.otherwise, f);
                    }
                    Stmt::Page(page) => inner(&page.body, f),
                    _ => {}
                }
            }
        }
        inner(&self.body, f);
    }
}
