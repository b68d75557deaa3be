//! One thing that a file says, with its place. Its kind is not known until
//! somebody asks for it.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::civil::Date;

use crate::diag::{self, Diagnostic};
use crate::formula::{Kind, Value};
use crate::names::{nearest, same_name};
use crate::quantity::{Decimals, Dim, Unit, Units, Unread, is_size, measured, read, slack};
use crate::source::{Form, Place};

/// What a row or a table of `job.toml` says, by the one name of the column or key.
pub type Facts = BTreeMap<String, Fact>;

/// Whether a source says that the data is invented.
pub fn is_demo(facts: &Facts) -> bool {
    facts.get("source").is_some_and(|fact| fact.text.to_lowercase().starts_with("demo"))
}

#[derive(Clone, Debug)]
pub struct Fact {
    pub text: String,
    /// The unit of its column, which all its cells share.
    pub unit: Option<Arc<Unit>>,
    pub place: Place,
    pub whence: Arc<Whence>,
    pub decimals: Decimals,
}

/// Where a fact stands, as a page names it: `posts.csv, width`.
#[derive(Debug)]
pub struct Whence {
    /// The file, or the post and case; empty for what was typed alone.
    pub of: String,
    /// The column or key.
    pub name: String,
}

impl Whence {
    pub fn new(of: impl Into<String>, name: impl Into<String>) -> Arc<Whence> {
        Arc::new(Whence { of: of.into(), name: name.into() })
    }
}

impl std::fmt::Display for Whence {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        match self.of.as_str() {
            "" => write!(f, "`{}`", self.name),
            of => write!(f, "{of}, {}", self.name),
        }
    }
}

impl Fact {
    /// As it was typed, with the unit of its column if it has none itself.
    pub fn as_typed(&self) -> String {
        match &self.unit {
            Some(unit) if self.text.ends_with(|c: char| c.is_ascii_digit()) => measured(&self.text, &unit.pretty()),
            _ => self.text.clone(),
        }
    }

    /// The same, in the units that a job is printed in.
    pub fn printed(&self, units: Units) -> String {
        units.typed(&self.text, self.unit.as_deref(), self.decimals).unwrap_or_else(|| self.as_typed())
    }

    /// A quantity, in base units; `units` as for `read`.
    ///
    /// # Errors
    /// It is none of this dimension.
    pub fn number(&self, dim: Dim, units: &[Unit]) -> Result<f64, Diagnostic> {
        match self.read(&Kind::Quantity(dim), units)?.0 {
            Value::Quantity(quantity) => Ok(quantity.value),
            _ => unreachable!("a quantity was asked for"),
        }
    }

    /// How far the value may be off as it was typed, in base units; counts and names are exact.
    pub fn slack(&self, kind: &Kind) -> f64 {
        match kind {
            Kind::Quantity(dim) => slack(&self.text, *dim, self.unit.as_deref(), self.decimals),
            _ => 0.0,
        }
    }

    /// The value, and the unit to print it in. `units` are those that people
    /// write such a quantity in, the usual one first.
    ///
    /// # Errors
    /// What was found and what would be right, at the cell.
    pub fn read(&self, kind: &Kind, units: &[Unit]) -> Result<(Value, Unit), Diagnostic> {
        let here = |message: String| {
            let diagnostic = Diagnostic::new(format!("{}: {message}", self.whence)).at(self.place.clone());
            diagnostic.of(diag::Kind::Unreadable, &self.whence.name)
        };
        let unread = |unread: Unread| {
            match unread.unitless {
            _ if is_date(&self.text) => {
                let wanted = units.first().filter(|unit| !unit.dim.is_none()).map_or("a number".into(), Unit::noun);
                here(format!("found the date `{}`; expected {wanted}", self.text)).hint(
                    "a spreadsheet turns `1/2` and `7-1/2` into dates: set the format of the cell to Text and type the value again, or type it in decimals, such as 7.5",
                )
            }
            _ if is_size(&self.text) && ["width", "depth"].contains(&self.whence.name.as_str()) => here(unread.message)
                .hint("width and depth are those of the dressed timber: an 8x8 that was dressed green is 7 1/2 in each way")
                .hint(format!("or write `{}` in a column `nominal`, leave width and depth empty, and say under `[wood]` in `job.toml` how it was dressed: `dressed = \"green\"`", self.text)),
            true => self.unitless(here(unread.message), units),
            false => here(unread.message),
        }
        };
        match kind {
            Kind::Quantity(_) => {
                let reading = read(&self.text, units, self.unit.as_deref(), self.decimals).map_err(unread)?;
                Ok((Value::Quantity(reading.quantity), reading.unit))
            }
            Kind::Count => {
                let reading = read(&self.text, &[], self.unit.as_deref(), self.decimals).map_err(unread)?;
                let value = reading.quantity.value;
                if value.fract() != 0.0 || value < 0.0 {
                    return Err(here(format!("found `{}`; expected a whole number", self.text)));
                }
                Ok((Value::Quantity(reading.quantity), reading.unit))
            }
            Kind::Text => Ok((Value::Text(self.text.clone()), Unit::none())),
            Kind::Choice(names) => {
                let found = names.iter().find(|name| same_name(name, &self.text));
                match found {
                    Some(name) => Ok((Value::Text(name.clone()), Unit::none())),
                    None => {
                        let wanted = diag::list(names, "or");
                        let mut diagnostic = here(format!("found `{}`; expected {wanted}", self.text));
                        let near = nearest(&self.text, names.iter().map(String::as_str)).or(trade_word(&self.text));
                        if let Some(near) = near.filter(|near| names.iter().any(|name| name == near)) {
                            diagnostic = diagnostic.hint(format!("did you mean `{near}`?"));
                        }
                        Err(diagnostic)
                    }
                }
            }
            Kind::Date => match self.text.parse::<Date>() {
                Ok(date) => Ok((Value::Date(date), Unit::none())),
                Err(_) => Err(here(format!("found `{}`; expected a date such as `2026-11-02`", self.text))),
            },
        }
    }

    /// A column that has no unit lacks it in all of its cells.
    fn unitless(&self, diagnostic: Diagnostic, units: &[Unit]) -> Diagnostic {
        let column = &self.whence.name;
        let diagnostic = diagnostic.of(diag::Kind::Unitless, column);
        if self.place.source.form == Form::Lines {
            return diagnostic;
        }
        let headings: Vec<String> = units.iter().map(|unit| format!("`{column} [{}]`", unit.name())).collect();
        diagnostic.hint(format!("a unit in the heading applies to the whole column: {}", headings.join(" or ")))
    }
}

/// Whether a text is a date as a spreadsheet writes one: `2026-01-07`, `7-Jan`,
/// `1/7/2026`.
pub(super) fn is_date(text: &str) -> bool {
    const MONTHS: [&str; 22] = [
        "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec", "fév", "févr", "avr",
        "mai", "juin", "juil", "aoû", "août", "déc", "mars",
    ];
    let day = text.split([' ', 'T']).next().unwrap_or_default();
    if day.parse::<Date>().is_ok() {
        return true;
    }
    let parts: Vec<&str> = day.split(['-', '/']).collect();
    let number = |part: &&str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    match parts.as_slice() {
        [a, b] | [a, b, _] if [a, b].into_iter().any(number) => {
            let month = |part: &&str| MONTHS.iter().any(|month| part.trim_end_matches('.').to_lowercase() == *month);
            [a, b].into_iter().any(month) || parts.len() == 3 && parts.iter().all(number) && parts[2].len() == 4
        }
        _ => false,
    }
}

/// What the trade calls a thing, and the name that it has here.
const TRADE: [(&str, &str); 9] = [
    ("gable", "pitched"),
    ("gabled", "pitched"),
    ("shed", "monoslope"),
    ("lean-to", "monoslope"),
    ("flat", "monoslope"),
    ("butterfly", "troughed"),
    ("pergola", "slats"),
    ("galvanized", "hot-dip galvanized"),
    ("knife plate", "blade"),
];

fn trade_word(typed: &str) -> Option<&'static str> {
    TRADE.iter().find(|(word, _)| same_name(word, typed)).map(|(_, name)| *name)
}
