//! A value as tables show it: as many digits as say something, and its unit.

use super::Validation;
use super::sources::shared;
use super::value::{Answer, Kind, Tolerance, Value};
use crate::quantity::{measured, number, number_fixed};

/// Significant digits: what was typed in a publication has no more.
const DIGITS: usize = 6;
/// All those of a count.
const COUNT: usize = 9;
/// Of a deviation.
const FEW: usize = 2;
/// A deviation under which nothing is seen of it, as a share or in its unit.
const NOTHING: f64 = 5e-6;
/// A tolerance that leaves room for that of the arithmetic alone.
const ROUNDING: f64 = 1e-5;

impl Answer {
    pub fn shown(&self) -> String {
        match self {
            Answer::Number(value) => number(*value, DIGITS),
            Answer::Text(text) => text.clone(),
            Answer::Met(true) => "met".into(),
            Answer::Met(false) => "not met".into(),
            Answer::NotAsked => "not asked".into(),
            Answer::Refused(true) => "refused".into(),
            Answer::Refused(false) => "not refused so".into(),
        }
    }
}

impl Value {
    pub fn found_shown(&self) -> String {
        self.found.as_ref().map_or("nothing".into(), Answer::shown)
    }

    /// A share in percent, or, of what is to be 0, a value in its unit.
    pub fn deviation_shown(&self) -> String {
        let signed = |value: f64, text: String| if value > 0.0 { format!("+{text}") } else { text };
        match (self.share(), self.deviation()) {
            (Some(share), _) if share.abs() < NOTHING => "0".into(),
            (Some(share), _) => signed(share, format!("{} %", number(share * 100.0, FEW))),
            (None, Some(deviation)) if deviation.abs() < NOTHING => "0".into(),
            (None, Some(deviation)) => signed(deviation, measured(&number(deviation, FEW), &self.unit.pretty())),
            (None, None) => String::new(),
        }
    }

    /// Whether both have their source in common and are held to the same; they may be other shares of it.
    pub fn alike(&self, other: &Value) -> bool {
        fn ground(value: &Value) -> (Kind, Tolerance, &str, &str) {
            let (by, _, of) = shared(&value.source);
            (value.kind, value.tolerance, by, of)
        }
        ground(self) == ground(other)
    }

    /// The kind of evidence of some values that are alike, how near they have to be, and whose they are: of which shares.
    pub fn ground(alike: &[Value]) -> (&'static str, String, String) {
        let Some(first) = alike.first() else { return Default::default() };
        let (by, _, of) = shared(&first.source);
        let mut shares: Vec<&str> = alike.iter().map(|value| shared(&value.source).1).collect();
        shares.sort_unstable();
        shares.dedup();
        let source = match shares.join(", ").as_str() {
            "" => first.source.clone(),
            shares => format!("{by}{shares} of {of}"),
        };
        (first.kind.name(), within(alike), source)
    }
}

/// `within 0.5 %`; nothing of verdicts, which have no tolerance.
fn within(alike: &[Value]) -> String {
    let mut numbers = alike.iter().filter(|value| matches!(value.wanted, Answer::Number(_)));
    let Some(first) = numbers.next() else { return String::new() };
    match first.tolerance {
        Tolerance::Relative(room) | Tolerance::Absolute(room) if room < ROUNDING => "within rounding".into(),
        Tolerance::Relative(share) => format!("within {} %", number(share * 100.0, FEW)),
        Tolerance::Absolute(room) if numbers.all(|value| value.unit.same_size(&first.unit)) => {
            format!("within {}", measured(&number(room, FEW), &first.unit.pretty()))
        }
        Tolerance::Absolute(room) => format!("within {} in the unit of each", number(room, FEW)),
    }
}

/// The deviation of the worst of some values, as a share of its tolerance.
pub fn worst_shown<'a>(values: impl Iterator<Item = &'a Value>) -> String {
    match values.filter_map(Value::used).reduce(f64::max) {
        None => String::new(),
        Some(worst) if worst > 0.0 && worst < 0.01 => "<0.01".into(),
        Some(worst) => number(worst, FEW),
    }
}

impl Validation {
    /// How many limits have a published value as the best that bears on them, and so on, with their share of all.
    pub fn shares(&self) -> Vec<(&'static str, usize, String)> {
        let row = |kind: Option<Kind>| {
            let count = self.limits.iter().filter(|limit| limit.best() == kind).count();
            let share = 100.0 * count as f64 / self.limits.len().max(1) as f64;
            (kind.map_or("none", Kind::name), count, format!("{} %", number_fixed(share, 1)))
        };
        Kind::ALL.map(Some).into_iter().chain([None]).map(row).collect()
    }

    /// How the values stand, in a sentence.
    pub fn headline(&self) -> String {
        let (all, off) = (self.values().count(), self.values().filter(|value| !value.holds()).count());
        let said = number(all as f64, COUNT);
        match off {
            _ if all == 0 => "There are no check values of this sheet.".into(),
            0 => format!("All {said} check values agree within their tolerances."),
            _ => format!("{} of {said} check values do NOT agree within their tolerances.", number(off as f64, COUNT)),
        }
    }
}
