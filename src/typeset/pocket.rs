//! A formula with this post's numbers in it, such that a reader with a pocket
//! calculator gets the printed result to the printed digits.
//!
//! All numbers of one formula stand in one system of units, so no conversion
//! factor is hidden. Each is printed to a few digits; where working the
//! formula with those would not give the printed result, more are shown, of as
//! few of them as it takes. A length that was given and has no end of decimals in
//! the formula's unit is a fraction there: 38 in is 3 1/6 ft.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::math::{Division, Math, Style, typeset};
use super::part::{Part, constant, plain, with_unit};
use super::piece::Piece;
use crate::formula::{BinOp, Expr, Node, Value, eval};
use crate::quantity::{
    Dim, INPUT_DIGITS, Quantity, RESULT_DIGITS, System, Unit, given_digits, measured, number, number_fixed,
};
use crate::sheet::{Bound, Raw, Side};
use crate::source::Source;

/// A printed value and its unit.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Shown {
    pub number: String,
    pub unit: String,
}

impl Shown {
    /// The sign for degrees is a part of the number, which it stands close to.
    fn of(number: String, unit: &Unit) -> Shown {
        match unit.pretty() {
            unit if unit == "°" => Shown { number: measured(&number, &unit), unit: String::new() },
            unit => Shown { number, unit },
        }
    }
}

/// Most digits that are ever shown.
const MOST_DIGITS: usize = 12;

/// A symbol's value as its own line prints it.
pub fn printed(bound: &Bound) -> Shown {
    match &bound.value {
        Value::Quantity(quantity) => {
            Shown::of(show(*quantity, &bound.unit, digits_of(bound), bound.count), &bound.unit)
        }
        value => Shown { number: value_text(value), unit: String::new() },
    }
}

/// A value that was given, with its unit.
pub fn given_text(value: &Value, unit: &Unit) -> String {
    match value {
        Value::Quantity(quantity) => {
            let value = quantity.in_unit(unit);
            measured(&number(value, given_digits(value)), &unit.pretty())
        }
        value => value_text(value),
    }
}

/// A name or a date as it is printed.
pub fn value_text(value: &Value) -> String {
    match value {
        Value::Text(text) => text.clone(),
        Value::Date(date) => date.to_string(),
        Value::Quantity(quantity) => number(quantity.value, RESULT_DIGITS),
    }
}

fn digits_of(bound: &Bound) -> usize {
    match &bound.value {
        Value::Quantity(quantity) if bound.given => given_digits(quantity.in_unit(&bound.unit)),
        _ => RESULT_DIGITS,
    }
}

/// A plain factor keeps one decimal, `1.0`; a count has none.
fn show(quantity: Quantity, unit: &Unit, digits: usize, count: bool) -> String {
    let value = quantity.shown_in(unit);
    // The last bits of a conversion are not part of a value: 8 ft is 96 in.
    let text = number(value, digits);
    if quantity.dim.is_none() && unit.name().is_empty() && !count && !text.contains('.') && value.abs() < 1000.0 {
        return number_fixed(value.round(), 1);
    }
    text
}

/// The number that a printed text says, `3 1/6` too.
fn read_back(text: &str) -> f64 {
    let plain = |text: &str| text.replace(',', "").replace('−', "-").parse().unwrap_or(f64::NAN);
    let Some((above, below)) = text.split_once('/') else { return plain(text) };
    let (whole, above) = above.split_once(' ').unwrap_or(("0", above));
    plain(whole) + plain(above) / plain(below)
}

/// A positive length in feet or inches as a fraction, `3 1/6`, where that is
/// shorter than its decimals and just as exact.
fn as_fraction(value: f64, unit: &Unit) -> Option<String> {
    // Eighths of an inch in a foot, sixty-fourths of an inch.
    let parts: u32 = match unit.name() {
        "ft" => 96,
        "in" => 64,
        _ => return None,
    };
    let whole = value.trunc();
    let above = (value - whole) * f64::from(parts);
    let exact = value > 0.0 && (above.round() - above).abs() <= 1e-9 * f64::from(parts) * value.max(1.0);
    let above = above.round() as u32;
    if !exact || above == 0 || above >= parts {
        return None;
    }
    let common = (1..=above).rev().find(|by| above.is_multiple_of(*by) && parts.is_multiple_of(*by))?;
    let fraction = format!("{}/{}", above / common, parts / common);
    Some(if whole == 0.0 { fraction } else { format!("{} {fraction}", number(whole, MOST_DIGITS)) })
}

/// More digits than these of a length are a fraction, if they can be.
fn is_long(value: f64) -> bool {
    number(value, INPUT_DIGITS).chars().filter(char::is_ascii_digit).count() > 5
}

/// The formula with numbers; none if it has no symbol, or is nothing but one.
pub fn substituted(
    expr: &Expr,
    source: &Arc<Source>,
    bound: &BTreeMap<String, Bound>,
    raw: Option<&Raw>,
    result: &Bound,
) -> Option<Math> {
    let symbols = expr.symbols();
    if symbols.is_empty() || matches!(expr.node, Node::Symbol(_)) {
        return None;
    }
    let Value::Quantity(target) = &result.value else { return None };
    let hints = symbols.iter().filter_map(|symbol| bound.get(*symbol)).map(|bound| &bound.unit);
    let system = System::of(&result.unit, hints);
    let wanted = show(*target, &result.unit, digits_of(result), result.count);
    let own = raw.map_or_else(|| system.unit(target.dim), |raw| raw.giving.clone());
    const EXTRA: usize = MOST_DIGITS - RESULT_DIGITS;
    let extra = symbols.iter().map(|symbol| (*symbol, EXTRA)).collect();
    let mut pocket = Pocket { bound, raw, system, extra, literals: 0 };
    // What the formula gives with the numbers as printed, if that is the result.
    let reproduced = |pocket: &Pocket| {
        let written = pocket.written(expr);
        let Ok(Value::Quantity(worked)) = eval(&written, source, &|symbol: &str| pocket.value(symbol)) else {
            return None;
        };
        let worked = match raw {
            Some(raw) => Quantity::new(raw.giving.to_base(worked.value), raw.giving.dim),
            None => Quantity::new(worked.value, target.dim),
        };
        (show(worked, &result.unit, digits_of(result), result.count) == wanted).then_some(worked)
    };
    if !matches!(pocket.written(expr), Cow::Borrowed(_)) {
        for literals in 0..EXTRA {
            pocket.literals = literals;
            if reproduced(&pocket).is_some() {
                break;
            }
        }
    }
    for extra in 0..=EXTRA {
        pocket.extra = symbols.iter().map(|symbol| (*symbol, extra)).collect();
        let Some(mut worked) = reproduced(&pocket) else { continue };
        for symbol in symbols.iter().filter(|_| extra > 0) {
            for fewer in 0..extra {
                pocket.extra.insert(*symbol, fewer);
                match reproduced(&pocket) {
                    Some(enough) => {
                        worked = enough;
                        break;
                    }
                    None => pocket.extra.insert(*symbol, extra),
                };
            }
        }
        return Some(converted(pocket.typeset(expr), worked, &own, result).into());
    }
    Some(pocket.typeset(expr).into())
}

/// What a formula gives in the unit that its numbers make, where the result is
/// printed in another: to as many digits as it takes to get there.
fn converted(formula: Part, worked: Quantity, own: &Unit, result: &Bound) -> Part {
    if own.same_size(&result.unit) || own.dim == Dim::ANGLE || own.name().is_empty() || result.unit.name() == "%" {
        return formula;
    }
    let wanted = printed(result).number;
    let step = |digits| {
        let text = number(worked.in_unit(own), digits);
        let back = Quantity::new(own.to_base(read_back(&text)), own.dim);
        (show(back, &result.unit, digits_of(result), result.count) == wanted).then_some(text)
    };
    let Some(text) = (RESULT_DIGITS..=MOST_DIGITS).find_map(step) else { return formula };
    formula.and(Piece::Sign('='), "equals", with_unit(&text, &own.pretty()), 0)
}

/// Numbers over numbers lie, as they are typed into a calculator; where there are
/// many, bars are easier to read than brackets.
fn division(expr: &Expr) -> Division {
    let mut fractions = 0;
    expr.walk(&mut |expr| fractions += usize::from(matches!(expr.node, Node::Binary(BinOp::Div, ..))));
    if fractions <= 2 { Division::Lying } else { Division::Upright }
}

/// One formula's numbers, each to so many digits more than usual, and what is written
/// out in it.
struct Pocket<'a> {
    bound: &'a BTreeMap<String, Bound>,
    raw: Option<&'a Raw>,
    system: System,
    extra: BTreeMap<&'a str, usize>,
    literals: usize,
}

impl Pocket<'_> {
    fn unit(&self, symbol: &str, bound: &Bound) -> Unit {
        if let Some((.., unit)) = self.raw.and_then(|raw| raw.symbols.iter().find(|(name, ..)| name == symbol)) {
            return unit.clone();
        }
        match &bound.value {
            Value::Quantity(quantity) if bound.unit.name() != "%" => self.system.unit(quantity.dim),
            _ => bound.unit.clone(),
        }
    }

    fn text(&self, symbol: &str, bound: &Bound) -> Option<(String, Unit)> {
        let Value::Quantity(quantity) = bound.value else { return None };
        let unit = self.unit(symbol, bound);
        let value = quantity.in_unit(&unit);
        if let Some(fraction) =
            Some(value).filter(|value| bound.given && is_long(*value)).and_then(|value| as_fraction(value, &unit))
        {
            return Some((fraction, unit));
        }
        let digits = if bound.given { given_digits(value) } else { RESULT_DIGITS };
        let extra = self.extra.get(symbol).copied().unwrap_or_default();
        Some((show(quantity, &unit, digits + extra, bound.count), unit))
    }

    /// A value that is written out in the formula, in its system.
    fn literal(&self, value: f64, unit: &Unit) -> (String, Unit) {
        let own = self.system.unit(unit.dim);
        let value = Quantity::new(unit.to_base(value), unit.dim).in_unit(&own);
        (number(value, (given_digits(value) + self.literals).min(MOST_DIGITS)), own)
    }

    /// The formula with such values as they are printed; the same where all are exact.
    fn written<'e>(&self, expr: &'e Expr) -> Cow<'e, Expr> {
        let rounded = |value: f64, unit: &Unit| {
            let (text, own) = self.literal(value, unit);
            unit.from_base(own.to_base(read_back(&text)))
        };
        let mut exact = true;
        expr.walk(&mut |expr| {
            if let Node::Literal { value, unit, .. } = &expr.node {
                exact &= (rounded(*value, unit) - value).abs() <= 1e-12 * value.abs();
            }
        });
        if exact {
            return Cow::Borrowed(expr);
        }
        let mut expr = expr.clone();
        expr.literals(&|value, unit, _| *value = rounded(*value, unit));
        Cow::Owned(expr)
    }

    /// What a calculator is fed for a symbol.
    fn value(&self, symbol: &str) -> Option<Value> {
        let bound = self.bound.get(symbol)?;
        let Some((text, unit)) = self.text(symbol, bound) else { return Some(bound.value.clone()) };
        let plain = self.raw.is_some_and(|raw| raw.symbols.iter().any(|(name, ..)| name == symbol));
        let value = read_back(&text);
        Some(Value::Quantity(if plain {
            Quantity::number(value)
        } else {
            Quantity::new(unit.to_base(value), unit.dim)
        }))
    }

    fn typeset(&self, expr: &Expr) -> Part {
        let leaf = |expr: &Expr| match &expr.node {
            Node::Symbol(symbol) => match self.bound.get(symbol).map(|bound| (bound, self.text(symbol, bound))) {
                Some((_, Some((text, unit)))) => {
                    let raw = self.raw.is_some_and(|raw| raw.symbols.iter().any(|(name, ..)| name == symbol));
                    if raw { plain(&text) } else { with_unit(&text, &unit.pretty()) }
                }
                Some((bound, None)) => Part::text(&value_text(&bound.value)),
                None => Part::atom(Piece::Text("?".into()), "no value"),
            },
            Node::Number(value) => constant(*value),
            Node::Literal { value, unit, .. } => {
                let (text, unit) = self.literal(*value, unit);
                with_unit(&text, &unit.pretty())
            }
            Node::Text(name) => Part::text(name),
            _ => Part::text(""),
        };
        typeset(expr, &Style { leaf: &leaf, numbers: true, division: division(expr) })
    }
}

/// Demand and capacity of a limit in one unit, to as many digits as it takes
/// for their quotient to give the printed ratio.
pub fn two_sides(demand: &Side, capacity: &Side, ratio: Option<f64>) -> (Shown, Shown, String) {
    let unit = &capacity.unit;
    let text = ratio.filter(|ratio| ratio.is_finite()).map_or("–".into(), |ratio| number_fixed(ratio, 3));
    let plain = |side: &Side, digits| number(side.quantity.shown_in(unit), digits);
    let mut digits = RESULT_DIGITS;
    while digits < MOST_DIGITS && text != "–" {
        let quotient = read_back(&plain(demand, digits)) / read_back(&plain(capacity, digits));
        if number_fixed(quotient.max(0.0), 3) == text {
            break;
        }
        digits += 1;
    }
    let shown = |side: &Side| Shown::of(plain(side, digits), unit);
    (shown(demand), shown(capacity), text)
}
