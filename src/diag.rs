//! Diagnostics: what is wrong, where, and what would be right. Diagnostics are
//! collected, so that one run shows all of them. How they look is decided in
//! `report`.

use std::collections::{BTreeMap, BTreeSet};

use crate::names::{nearest, same_name};
use crate::source::Place;

/// What is wrong, as far as the program acts on it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Kind {
    /// A column, key or input is not there.
    Missing,
    /// A cell or key is there and cannot be read.
    Unreadable,
    /// The same, because it has no unit, or because its column has another unit or sign than
    /// it says: one slip, in however many rows.
    Unitless,
    /// A name that is not known, where this one was meant.
    Meant,
    /// A value lies beyond what a sheet covers.
    OutOfBounds,
    /// A table has no row for a key, by its place among the keys.
    NoRow(usize),
    /// A sheet has no case for what was given.
    Refused,
    #[default]
    Other,
}

/// The column, key or input that something is wrong with, and how.
#[derive(Clone, Debug)]
struct Subject {
    kind: Kind,
    about: String,
}

#[derive(Clone, Debug)]
pub struct Diagnostic {
    /// Boxed, because results carry diagnostics about.
    subject: Option<Box<Subject>>,
    /// Lower case, no final stop, names in backticks.
    pub message: String,
    pub place: Option<Place>,
    /// Stands at the mark under the line.
    pub label: Box<str>,
    /// Advice, one line each.
    pub hints: Vec<String>,
    /// Inputs of the sheet that is being worked which the fault comes from,
    /// nearest first: whoever gave them can say where they stand.
    pub rests_on: Vec<String>,
}

impl Diagnostic {
    pub fn new(message: impl Into<String>) -> Diagnostic {
        Diagnostic {
            subject: None,
            message: message.into(),
            place: None,
            label: "".into(),
            hints: Vec::new(),
            rests_on: Vec::new(),
        }
    }

    /// Of a kind, about a column, key or input.
    pub fn of(mut self, kind: Kind, about: &str) -> Diagnostic {
        self.subject = Some(Box::new(Subject { kind, about: about.into() }));
        self
    }

    pub fn kind(&self) -> Kind {
        self.subject.as_ref().map_or(Kind::Other, |subject| subject.kind)
    }

    /// The column, key or input that it is about, where it is about one.
    pub fn about(&self) -> Option<&str> {
        self.subject.as_ref().map(|subject| subject.about.as_str())
    }

    pub fn at(mut self, place: Place) -> Diagnostic {
        self.place = Some(place);
        self
    }

    pub fn label(mut self, label: impl Into<String>) -> Diagnostic {
        self.label = label.into().into();
        self
    }

    pub fn hint(mut self, hint: impl Into<String>) -> Diagnostic {
        self.hints.push(hint.into());
        self
    }

    pub fn rests_on(mut self, inputs: Vec<String>) -> Diagnostic {
        self.rests_on = inputs;
        self
    }

    /// What was meant, it seems: that is then not missing besides.
    fn meant(self, near: &str) -> Diagnostic {
        let diagnostic = if self.subject.is_none() { self.of(Kind::Meant, near) } else { self };
        diagnostic.hint(format!("did you mean `{near}`?"))
    }

    /// Adds the nearest of the known names as a hint, if one is near.
    pub fn hint_near<'a>(self, wrong: &str, known: impl IntoIterator<Item = &'a str>) -> Diagnostic {
        match nearest(wrong, known) {
            Some(near) => self.meant(near),
            None => self,
        }
    }

    /// Adds the nearest of the known names as a hint, or lists them if there
    /// are few and none is near.
    pub fn nearest<'a>(self, wrong: &str, known: impl IntoIterator<Item = &'a str>) -> Diagnostic {
        let known: Vec<&str> = known.into_iter().collect();
        match nearest(wrong, known.iter().copied()) {
            Some(near) => self.meant(near),
            None if known.is_empty() => self,
            None if known.len() <= 12 => self.hint(format!("known here: {}", list(&known, "and"))),
            None => self,
        }
    }
}

/// All that is wrong; never empty when it is an `Err`.
pub type Diagnostics = Vec<Diagnostic>;

pub type Checked<T> = Result<T, Diagnostics>;

impl From<Diagnostic> for Diagnostics {
    fn from(diagnostic: Diagnostic) -> Diagnostics {
        vec![diagnostic]
    }
}

/// Keeps of the diagnostics about one place the first: a cell that is wrong is
/// wrong in every combination and in every sheet. Several things can be
/// missing in one row; what cannot be read, or has a slip in its name, is not also
/// missing.
pub fn once(diagnostics: &mut Diagnostics) {
    not_also_missing(diagnostics);
    let mut seen = BTreeSet::new();
    diagnostics.retain(|diagnostic| {
        let missing = diagnostic.about().filter(|_| diagnostic.kind() == Kind::Missing);
        // A column without a unit lacks it in every row.
        let unitless = diagnostic.about().filter(|_| diagnostic.kind() == Kind::Unitless);
        let span = |place: &Place| if unitless.is_some() { 0..0 } else { place.span.clone() };
        let place =
            diagnostic.place.as_ref().map(|place| (place.source.name.clone(), span(place).start, span(place).end));
        let what = match missing.or(unitless) {
            Some(column) => column.to_string(),
            None if place.is_some() => String::new(),
            None => diagnostic.message.clone(),
        };
        seen.insert((place, what))
    });
    one_slip(diagnostics);
}

/// A name that a table does not have is one slip, in however many rows it stands, and so is a
/// cell that cannot be read.
fn one_slip(diagnostics: &mut Diagnostics) {
    let said = |diagnostic: &Diagnostic| match diagnostic.kind() {
        Kind::NoRow(_) => Some(diagnostic.message.clone()),
        // What stands before the name of the column tells one row from another.
        Kind::Unreadable => {
            let place = diagnostic.place.as_ref()?;
            let column = format!("{}: ", diagnostic.about()?);
            let (_, found) = diagnostic.message.split_once(&column)?;
            Some(format!("{} {column}{found}", place.source.name))
        }
        _ => None,
    };
    let mut first: BTreeMap<String, (usize, Vec<String>)> = BTreeMap::new();
    let mut kept = Diagnostics::new();
    for diagnostic in std::mem::take(diagnostics) {
        let key = said(&diagnostic);
        let place = diagnostic.place.as_ref().filter(|_| key.is_some());
        let line = place.map(|place| place.source.line_column(place.span.start).0.to_string());
        match line.zip(key) {
            Some((line, key)) => match first.get_mut(&key) {
                Some((_, lines)) => lines.push(line),
                None => {
                    first.insert(key, (kept.len(), Vec::new()));
                    kept.push(diagnostic);
                }
            },
            None => kept.push(diagnostic),
        }
    }
    for (at, lines) in first.into_values().filter(|(_, lines)| !lines.is_empty()) {
        let what = if lines.len() == 1 { "line" } else { "lines" };
        // Two sheets that read one column say the same of it.
        const ELSEWHERE: &str = "the same in ";
        if !kept[at].hints.iter().any(|hint| hint.starts_with(ELSEWHERE)) {
            kept[at].hints.push(format!("{ELSEWHERE}{what} {}", lines.join(", ")));
        }
    }
    *diagnostics = kept;
}

/// What cannot be read is not also missing.
pub fn not_also_missing(diagnostics: &mut Diagnostics) {
    let unreadable =
        diagnostics.iter().filter(|it| matches!(it.kind(), Kind::Unreadable | Kind::Unitless | Kind::Meant));
    // A column that cannot be read in every row is one name.
    let unread: BTreeSet<String> = unreadable.filter_map(|diagnostic| Some(diagnostic.about()?.into())).collect();
    diagnostics.retain(|diagnostic| {
        let missing = diagnostic.about().filter(|_| diagnostic.kind() == Kind::Missing);
        !missing.is_some_and(|missing| unread.iter().any(|name| same_name(name, missing)))
    });
}

/// `` `a`, `b` or `c` ``.
pub fn list(names: &[impl AsRef<str>], word: &str) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("`{}`", name.as_ref())).collect();
    match quoted.as_slice() {
        [] => "nothing".into(),
        [one] => one.clone(),
        [head @ .., last] => format!("{} {word} {last}", head.join(", ")),
    }
}

/// `1 limit`, `2 limits`.
pub fn count(number: usize, noun: &str) -> String {
    if number == 1 { format!("1 {noun}") } else { format!("{number} {noun}s") }
}
