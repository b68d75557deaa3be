//! One value that was compared.

use super::file::About;
use crate::quantity::Unit;

/// What stands behind an expected value, the best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Read in a publication.
    Published,
    /// Worked by another method.
    Independent,
    /// Written down from memory: it guards against slips, it proves nothing about an equation.
    Recalled,
}

impl Kind {
    pub const ALL: [Kind; 3] = [Kind::Published, Kind::Independent, Kind::Recalled];

    pub fn name(self) -> &'static str {
        match self {
            Kind::Published => "published",
            Kind::Independent => "independent",
            Kind::Recalled => "recalled",
        }
    }

    pub fn named(name: &str) -> Option<Kind> {
        Kind::ALL.into_iter().find(|kind| kind.name() == name)
    }
}

#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    Number(f64),
    /// A name, or what is to be ordered.
    Text(String),
    /// Of a limit: met, or not.
    Met(bool),
    /// The sheet does not come to that limit.
    NotAsked,
    /// Of an input: whether it is refused in these words.
    Refused(bool),
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tolerance {
    /// A share of what is expected.
    Relative(f64),
    /// In the unit of what is expected.
    Absolute(f64),
}

/// What a value is of.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// A symbol of the sheet, or a column of the table.
    Symbol(String),
    /// What is to be ordered, by its words.
    Pieces(String),
    Ratio(String),
    Verdict(String),
    /// Words of the message.
    Refusal(String),
}

/// What is expected of a symbol or a limit, and what the program comes to.
#[derive(Clone, Debug)]
pub struct Value {
    /// The case, by its name in its file.
    pub id: String,
    pub what: What,
    pub unit: Unit,
    pub wanted: Answer,
    /// None where the program comes to nothing of the kind.
    pub found: Option<Answer>,
    pub tolerance: Tolerance,
    pub kind: Kind,
    pub source: String,
    /// The sheet in which the symbol or the limit stands, and its name there without those of the uses before it.
    pub stands: Option<(String, String)>,
}

impl Value {
    pub(super) fn new(about: &About, what: What, unit: Unit, wanted: Answer, found: Option<Answer>) -> Value {
        let About { id, source, kind, tolerance } = about;
        let (id, source) = (id.to_string(), source.to_string());
        Value { id, what, unit, wanted, found, tolerance: *tolerance, kind: *kind, source, stands: None }
    }

    pub fn holds(&self) -> bool {
        match (&self.wanted, &self.found) {
            (Answer::Number(wanted), Some(Answer::Number(found))) => (found - wanted).abs() <= self.room(*wanted),
            (wanted, found) => found.as_ref() == Some(wanted),
        }
    }

    /// How far from what is expected it may be.
    fn room(&self, wanted: f64) -> f64 {
        match self.tolerance {
            Tolerance::Relative(share) => share * wanted.abs(),
            Tolerance::Absolute(room) => room,
        }
    }

    /// By how much more than expected; none of a verdict, and where there is nothing to compare.
    pub fn deviation(&self) -> Option<f64> {
        match (&self.wanted, &self.found) {
            (Answer::Number(wanted), Some(Answer::Number(found))) => Some(found - wanted),
            _ => None,
        }
    }

    /// The same as a share of what is expected, unless that is 0.
    pub fn share(&self) -> Option<f64> {
        match self.wanted {
            Answer::Number(wanted) if wanted != 0.0 => Some(self.deviation()? / wanted.abs()),
            _ => None,
        }
    }

    /// The deviation as a share of what the tolerance allows.
    pub fn used(&self) -> Option<f64> {
        let Answer::Number(wanted) = self.wanted else { return None };
        let deviation = self.deviation()?.abs();
        Some(if deviation == 0.0 { 0.0 } else { deviation / self.room(wanted) })
    }

    /// In words, such as `C_P`, `pieces: anchors: nut`, `ratio: bearing`, `verdict: bearing` or `refused: at least 8 in`.
    pub fn what(&self) -> String {
        match &self.what {
            What::Symbol(name) => name.clone(),
            What::Pieces(words) => format!("pieces: {words}"),
            What::Ratio(words) => format!("ratio: {words}"),
            What::Verdict(words) => format!("verdict: {words}"),
            What::Refusal(words) => format!("refused: {words}"),
        }
    }
}
