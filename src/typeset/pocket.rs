//! A formula with this post's numbers in it, such that a reader with a pocket
//! calculator gets the printed result to the printed digits.
//!
//! All numbers of one formula stand in one system of units, so no conversion
//! factor is hidden. Each is printed to a few digits; where working the
//! formula with those would not give the printed result, more are shown.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Math;
use super::math::{Division, Piece, Style, finish, plain, quoted, typeset, with_unit};
use crate::formula::{BinOp, Expr, Node, Value, eval};
use crate::quantity::{Dim, INPUT_DIGITS, Quantity, RESULT_DIGITS, System, Unit, given_digits, number, number_fixed};
use crate::sheet::{Bound, Raw, Side};
use crate::source::Source;

/// A printed value and its unit.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Shown {
    pub number: String,
    pub unit: String,
}

/// Most digits that are ever shown.
const MOST_DIGITS: usize = 12;

/// A symbol's value as its own line prints it.
pub fn printed(bound: &Bound) -> Shown {
    match &bound.value {
        Value::Quantity(quantity) => {
            let number = show(*quantity, &bound.unit, digits_of(bound), bound.count);
            Shown { number, unit: bound.unit.pretty() }
        }
        value => Shown { number: value_text(value), unit: String::new() },
    }
}

/// A value that was given, with its unit.
pub fn given_text(value: &Value, unit: &Unit) -> String {
    match value {
        Value::Quantity(quantity) => {
            let value = quantity.in_unit(unit);
            let number = number(value, given_digits(value, unit.is_metric()));
            format!("{number} {}", unit.pretty()).trim_end().into()
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
        Value::Quantity(quantity) if bound.given => given_digits(quantity.in_unit(&bound.unit), bound.unit.is_metric()),
        _ => RESULT_DIGITS,
    }
}

/// A plain factor keeps one decimal, `1.0`; a count has none.
fn show(quantity: Quantity, unit: &Unit, digits: usize, count: bool) -> String {
    let value = quantity.in_unit(unit);
    // The last bits of a conversion are not part of a value: 8 ft is 96 in.
    let text = number(value, digits);
    if quantity.dim.is_none() && unit.name().is_empty() && !count && !text.contains('.') && value.abs() < 1000.0 {
        return number_fixed(value.round(), 1);
    }
    text
}

/// The number that a printed text says.
fn read_back(text: &str) -> f64 {
    text.replace(',', "").replace('−', "-").parse().unwrap_or(f64::NAN)
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
    let wanted = printed(result).number;
    let own = raw.map_or_else(|| system.unit(target.dim), |raw| raw.giving.clone());
    let mut best = None;
    for extra in 0..=(MOST_DIGITS - RESULT_DIGITS) {
        let pocket = Pocket { bound, raw, system, extra };
        let worked = eval(expr, source, &|symbol: &str| pocket.value(symbol)).ok();
        best = Some(pocket.typeset(expr));
        let Some(Value::Quantity(worked)) = worked else { continue };
        let worked = match raw {
            Some(raw) => Quantity::new(raw.giving.to_base(worked.value), raw.giving.dim),
            None => Quantity::new(worked.value, target.dim),
        };
        if show(worked, &result.unit, digits_of(result), result.count) == wanted {
            return best.map(|math| converted(math, worked, &own, result));
        }
    }
    best
}

/// What a formula gives in the unit that its numbers make, where the result is
/// printed in another: to as many digits as it takes to get there.
fn converted(math: Math, worked: Quantity, own: &Unit, result: &Bound) -> Math {
    if own.same_size(&result.unit) || own.dim == Dim::ANGLE || own.name().is_empty() || result.unit.name() == "%" {
        return math;
    }
    let wanted = printed(result).number;
    let step = |digits| {
        let text = number(worked.in_unit(own), digits);
        let back = Quantity::new(own.to_base(read_back(&text)), own.dim);
        (show(back, &result.unit, digits_of(result), result.count) == wanted).then_some(text)
    };
    let Some(text) = (RESULT_DIGITS..=MOST_DIGITS).find_map(step) else { return math };
    let step = with_unit(&text, &own.pretty());
    Math::new(format!("{} = {}", math.src, step.src), format!("{} equals {}", math.alt, step.alt))
}

/// Numbers over numbers lie, as they are typed into a calculator; where there are
/// many, bars are easier to read than brackets.
fn division(expr: &Expr) -> Division {
    let mut fractions = 0;
    expr.walk(&mut |expr| fractions += usize::from(matches!(expr.node, Node::Binary(BinOp::Div, ..))));
    if fractions <= 2 { Division::Lying } else { Division::Upright }
}

/// One formula's numbers, to a number of digits more than usual.
struct Pocket<'a> {
    bound: &'a BTreeMap<String, Bound>,
    raw: Option<&'a Raw>,
    system: System,
    extra: usize,
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
        let digits = match bound.given {
            true => given_digits(quantity.in_unit(&unit), bound.unit.is_metric()),
            false => RESULT_DIGITS,
        };
        Some((show(quantity, &unit, digits + self.extra, bound.count), unit))
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

    fn typeset(&self, expr: &Expr) -> Math {
        let leaf = |expr: &Expr| match &expr.node {
            Node::Symbol(symbol) => match self.bound.get(symbol).map(|bound| (bound, self.text(symbol, bound))) {
                Some((_, Some((text, unit)))) => {
                    let raw = self.raw.is_some_and(|raw| raw.symbols.iter().any(|(name, ..)| name == symbol));
                    if raw { plain(&text) } else { with_unit(&text, &unit.pretty()) }
                }
                Some((bound, None)) => {
                    let text = value_text(&bound.value);
                    Piece::atom(quoted(&text), text)
                }
                None => Piece::atom(quoted("?"), "no value"),
            },
            Node::Number(value) => plain(&number(*value, INPUT_DIGITS)),
            Node::Literal { value, unit, .. } => {
                let base = Quantity::new(unit.to_base(*value), unit.dim);
                let unit = self.system.unit(unit.dim);
                with_unit(&number(base.in_unit(&unit), MOST_DIGITS), &unit.pretty())
            }
            Node::Text(name) => Piece::atom(quoted(name), name.clone()),
            _ => Piece::atom("", ""),
        };
        finish(typeset(expr, &Style { leaf: &leaf, times: "times", division: division(expr) }))
    }
}

/// Demand and capacity of a limit in one unit, to as many digits as it takes
/// for their quotient to give the printed ratio.
pub fn two_sides(demand: &Side, capacity: &Side, ratio: Option<f64>) -> (Shown, Shown, String) {
    let unit = &capacity.unit;
    let text = ratio.filter(|ratio| ratio.is_finite()).map_or("–".into(), |ratio| number_fixed(ratio, 3));
    let plain = |side: &Side, digits| number(side.quantity.in_unit(unit), digits);
    let mut digits = RESULT_DIGITS;
    while digits < MOST_DIGITS && text != "–" {
        let quotient = read_back(&plain(demand, digits)) / read_back(&plain(capacity, digits));
        if number_fixed(quotient.max(0.0), 3) == text {
            break;
        }
        digits += 1;
    }
    let shown = |side: &Side| Shown { number: plain(side, digits), unit: unit.pretty() };
    (shown(demand), shown(capacity), text)
}
