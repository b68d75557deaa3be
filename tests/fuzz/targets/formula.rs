//! One formula: parsed, its units checked, worked with values that the first bytes choose, and set as on a page.
//! What the check passes comes to a value of the kind that it said, or to a number that does not exist.
#![no_main]

use std::sync::Arc;

use libfuzzer_sys::fuzz_target;
use socle::formula::{Expr, Kind, Kinds, Parser, Stop, Value, Values, check, check_condition, eval, holds};
use socle::quantity::{Dim, Quantity};
use socle::source::Source;
use socle::typeset::{symbolic, symbolic_inline};
use socle_fuzz::refused;

fuzz_target!(|input: &[u8]| socle_fuzz::run(input, target));

const NUMBERS: [f64; 16] =
    [0.0, 1.0, -1.0, 0.5, 2.0, 3.0, 1e-300, 1e300, -0.0, 12.0, 1e-9, 0.1, 7.25, 1000.0, -2.5, f64::MAX];

const QUANTITIES: [(&str, Dim); 8] = [
    ("a", Dim::LENGTH),
    ("b", Dim::LENGTH),
    ("P", Dim::FORCE),
    ("n", Dim::NONE),
    ("f_c'", Dim::of(-2, 1)),
    ("theta", Dim::ANGLE),
    ("seat.M", Dim::of(1, 1)),
    ("h", Dim::LENGTH),
];

/// Values by symbol; `h` may be left out.
struct Given<'a>(&'a [u8]);

impl Kinds for Given<'_> {
    fn kind(&self, symbol: &str) -> Option<Kind> {
        match symbol {
            "h" => None,
            "kind" => Some(Kind::Choice(vec!["made".into(), "rated".into()])),
            "grade" => Some(Kind::Text),
            _ => self.optional(symbol),
        }
    }

    fn symbols(&self) -> Vec<String> {
        QUANTITIES.iter().map(|(name, _)| name.to_string()).collect()
    }

    fn optional(&self, symbol: &str) -> Option<Kind> {
        let of = QUANTITIES.iter().find(|(name, _)| *name == symbol)?;
        Some(Kind::Quantity(of.1))
    }
}

impl Values for Given<'_> {
    fn value(&self, symbol: &str) -> Option<Value> {
        match symbol {
            "kind" => return Some(Value::Text("rated".into())),
            "grade" => return Some(Value::Text("No.1".into())),
            _ => {}
        }
        let at = QUANTITIES.iter().position(|(name, _)| *name == symbol)?;
        let byte = usize::from(self.0[at]);
        let left_out = symbol == "h" && byte > 127;
        (!left_out).then(|| Value::Quantity(Quantity::new(NUMBERS[byte % NUMBERS.len()], QUANTITIES[at].1)))
    }
}

fn target(input: &[u8]) {
    let Some((values, text)) = input.split_at_checked(QUANTITIES.len()) else { return };
    let Ok(text) = std::str::from_utf8(text) else { return };
    let (source, given) = (Source::new("formula", text), Given(values));
    let parsed = Parser::new(&source, 0..text.len()).and_then(|mut parser| {
        let expr = parser.parse_expr()?;
        parser.expect_end()?;
        Ok(expr)
    });
    let expr = match parsed {
        Ok(expr) => expr,
        Err(wrong) => return shown(&source, &[wrong]),
    };
    let mut as_value = expr.clone();
    match check(&mut as_value, &source, &given) {
        Ok(kind) if kind.dim().is_some() => match eval(&as_value, &source, &given) {
            Ok(Value::Quantity(quantity)) => assert_eq!(Some(quantity.dim), kind.dim(), "{quantity:?}"),
            Ok(other) => panic!("{other:?} is not {}", kind.named()),
            Err(stop) => stopped(stop),
        },
        Ok(_) => {}
        Err(wrong) => shown(&source, &wrong),
    }
    set(&as_value);
    let mut as_condition = expr;
    match check_condition(&mut as_condition, &source, &given) {
        Ok(()) => {
            let _ = holds(&as_condition, &source, &given).map_err(stopped);
            set(&as_condition);
        }
        Err(wrong) => shown(&source, &wrong),
    }
}

/// What is told of a text that a person could see; others are refused before they are parsed.
fn shown(source: &Arc<Source>, wrong: &[socle::diag::Diagnostic]) {
    if socle::legible::faults(source).is_empty() {
        refused(wrong);
    }
}

fn stopped(stop: Stop) {
    match stop {
        Stop::Missing(symbol) => assert_eq!(symbol, "h", "it is given"),
        Stop::Fault(fault) => {
            let checked = ["a condition is not a value", "not a quantity", "not an arithmetic operation"];
            let told = fault.message.as_str();
            assert!(!checked.contains(&told) && told != "this is neither true nor false", "{told}");
        }
    }
}

fn set(expr: &Expr) {
    for math in [symbolic(expr), symbolic_inline(expr)] {
        assert!(math.width.is_finite() && math.width >= 0.0 && math.scale.is_none_or(|scale| scale >= 0.0), "{math:?}");
    }
}
