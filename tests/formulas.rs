//! Formulas one by one: what they come to, which units agree, what is refused and where.

use std::collections::BTreeMap;

use socle::diag::Diagnostics;
use socle::formula::{
    BinOp, Kind, Kinds, Parser, Stop, TOLERANCE, Value, check, check_as, check_condition, compare, eval, holds,
};
use socle::quantity::{Dim, Quantity, Unit};
use socle::source::Source;

/// What symbols hold: lengths, a force, numbers, a choice, and two inputs of which only the first was given.
struct Known;

fn values() -> BTreeMap<&'static str, Value> {
    let number = |value: f64, unit: &str| {
        let unit = Unit::parse(unit).expect("a unit");
        Value::Quantity(Quantity::new(unit.to_base(value), unit.dim))
    };
    BTreeMap::from([
        ("a", number(3.0, "in")),
        ("b", number(4.0, "in")),
        ("P", number(100.0, "lbf")),
        ("n", number(5.0, "-")),
        ("F_c'", number(2.0, "psi")),
        ("pin-yield.Z", number(7.0, "lbf")),
        ("kind", Value::Text("made".into())),
        ("maybe", number(6.0, "in")),
    ])
}

fn kind_of(value: &Value) -> Kind {
    match value {
        Value::Quantity(quantity) => Kind::Quantity(quantity.dim),
        Value::Text(_) => Kind::Choice(vec!["made".into(), "rated".into()]),
        Value::Date(_) => Kind::Date,
    }
}

impl Kinds for Known {
    fn kind(&self, symbol: &str) -> Option<Kind> {
        values().get(symbol).filter(|_| symbol != "maybe").map(kind_of)
    }

    fn symbols(&self) -> Vec<String> {
        values().keys().map(|name| name.to_string()).collect()
    }

    fn optional(&self, symbol: &str) -> Option<Kind> {
        ["maybe", "absent"].contains(&symbol).then_some(Kind::Quantity(Dim::LENGTH))
    }
}

fn told(wrong: Diagnostics) -> String {
    let parts = wrong.iter().map(|one| format!("{} ({})", one.message, one.hints.join("; ")));
    parts.collect::<Vec<_>>().join("\n")
}

fn parsed(text: &str) -> Result<(), String> {
    let source = Source::new("formula", text);
    let expr = Parser::new(&source, 0..text.len()).and_then(|mut parser| parser.parse_expr());
    expr.map(drop).map_err(|one| one.message)
}

/// The value of a formula in base units, or what is wrong with it.
fn worked(text: &str) -> Result<f64, String> {
    let source = Source::new("formula", text);
    let mut parser = Parser::new(&source, 0..text.len()).map_err(|one| one.message)?;
    let mut expr = parser.parse_expr().map_err(|one| one.message)?;
    parser.expect_end().map_err(|one| one.message)?;
    let kind = check(&mut expr, &source, &Known).map_err(told)?;
    match eval(&expr, &source, &|name: &str| values().get(name).cloned()) {
        Ok(Value::Quantity(quantity)) => {
            assert_eq!(kind.dim(), Some(quantity.dim), "{text}");
            Ok(quantity.value)
        }
        Ok(other) => Err(format!("{other:?}")),
        Err(Stop::Missing(name)) => Err(format!("{name} is missing")),
        Err(Stop::Fault(one)) => Err(one.message),
    }
}

/// Whether a condition holds, or what is wrong with it.
fn condition(text: &str) -> Result<bool, String> {
    let source = Source::new("condition", text);
    let mut parser = Parser::new(&source, 0..text.len()).map_err(|one| one.message)?;
    let mut expr = parser.parse_expr().map_err(|one| one.message)?;
    parser.expect_end().map_err(|one| one.message)?;
    check_condition(&mut expr, &source, &Known).map_err(told)?;
    holds(&expr, &source, &|name: &str| values().get(name).cloned()).map_err(|stop| format!("{stop:?}"))
}

#[test]
fn formulas_come_to_what_a_calculator_says() {
    for (text, value) in [
        ("1 + 2 * 3", 7.0),
        ("(1 + 2) * 3", 9.0),
        ("2 - 3 - 4", -5.0),
        ("24 / 4 / 2", 3.0),
        ("2^3^2", 512.0),
        ("-2^2", -4.0),
        ("-2 * 3 + 10", 4.0),
        ("2^-1", 0.5),
        ("6 in / a", 2.0),
        ("2 lbf/in * a", 6.0),
        ("1 ft + a", 15.0),
        ("2 ft^2", 288.0),
        ("3 lbf ft", 36.0),
        ("P * a / b", 75.0),
        ("F_c' * b^2", 32.0),
        ("pin-yield.Z + P", 107.0),
        ("n - 1", 4.0),
        ("sqrt(a^2 + b^2)", 5.0),
        ("sqrt(16)", 4.0),
        ("(a * b)^0.5 / sqrt(12) / 1 in", 1.0),
        ("n^0.5 * n^(1/2)", 5.0),
        ("abs(a - b)", 1.0),
        ("sin(30 deg)", 0.5),
        ("cos(60 deg)", 0.5),
        ("tan(45 deg)", 1.0),
        ("asin(0.5) / 1 deg", 30.0),
        ("acos(0.5) / 1 deg", 60.0),
        ("atan(1) / 1 deg", 45.0),
        ("atan2(a, -b) / 1 deg", 143.13010235415598),
        ("exp(0)", 1.0),
        ("ln(exp(2))", 2.0),
        ("nearest(2.5, 1)", 3.0),
        ("nearest(2.49, 1)", 2.0),
        ("nearest(2.46, 0.5)", 2.5),
        ("nearest(7, 5)", 5.0),
        ("up(a, 2 in)", 4.0),
        ("up(4.000000001, 2)", 4.0),
        ("up(0.7, 0.5)", 1.0),
        ("down(b, 3 in)", 3.0),
        ("down(3.9999999999, 2)", 4.0),
        ("down(0.7, 0.5)", 0.5),
        ("least(3, 1, 2)", 1.0),
        ("greatest(3, 1, 4, 2)", 4.0),
        ("1.5e1 + 2E-1", 15.2),
    ] {
        let found = worked(text).unwrap_or_else(|wrong| panic!("{text}: {wrong}"));
        assert!((found - value).abs() <= 1e-9 * value.abs().max(1.0), "{text} is {found}");
    }
}

#[test]
fn what_has_no_value_says_why() {
    for (text, part) in [
        ("a + P", "adds a force to a length"),
        ("a - P", "subtracts a force from a length"),
        ("sqrt(a)", "the square root of a length has no unit"),
        ("a^n", "can only be raised to a whole number"),
        ("a^0.5", "can only be raised to a whole number"),
        ("(a * b)^0.25", "can only be raised to a whole number"),
        ("a^10", "can only be raised to a whole number"),
        ("2^a", "an exponent must be a plain number"),
        ("sin(1)", "`sin` needs an angle"),
        ("atan(a)", "`atan` needs a plain number"),
        ("exp(a)", "`exp` needs a plain number"),
        ("least(a, P)", "`least` compares a length with a force"),
        ("least(a)", "takes at least 2 arguments"),
        ("sqrt(1, 2)", "takes 1 argument, found 2"),
        ("sqrt()", "takes 1 argument"),
        ("up(1)", "takes 2 arguments"),
        ("up(1, 2, 3)", "takes 2 arguments"),
        ("squrt(4)", "unknown function `squrt`"),
        ("c", "unknown symbol `c`"),
        ("a-b", "put spaces around a minus sign"),
        ("kind", "Text(\"made\")"),
        ("kind + 1", "expected a quantity"),
        ("a < b", "this is true or false"),
        ("1 / (n - 5)", "a division by zero"),
        ("sqrt(3 - n)", "the square root of a negative value"),
        ("(3 - n)^0.5", "a negative value raised to a power"),
        ("(n - 5)^-1", "zero raised to a negative power"),
        ("asin(n)", "a value beyond 1"),
        ("acos(-n)", "a value beyond 1"),
        ("ln(n - 5)", "not above zero"),
        ("atan2(a - a, b - b)", "the angle of a load that is zero"),
        ("up(n, n - 5)", "a step above zero"),
        ("exp(1000)", "no finite value"),
        ("(1 + 2", "expected `)`"),
        ("1 +", "expected a value"),
        (".5", "`.` has no meaning here"),
        ("1 2", "expected the end of the line"),
        ("1 ≤ 2", "`≤` has no meaning here"),
        ("1.2.3", "`.` has no meaning here"),
        ("6 in/a", "`a` is not a known unit"),
        ("\"open", "a text without its closing quote"),
    ] {
        let wrong = worked(text).expect_err(text);
        assert!(wrong.contains(part), "{text}: {wrong}");
    }
    let hinted = worked("pin-yield.z").expect_err("a symbol that is not known");
    assert!(!hinted.contains("minus sign"), "{hinted}");
    let deep = |many: usize| format!("{}1{}", "(".repeat(many), ")".repeat(many));
    assert_eq!(worked(&deep(60)), Ok(1.0));
    assert!(worked(&deep(70)).expect_err("too deep").contains("brackets nested deeper than 64"));
    let long = |many: usize| vec!["1"; many].join(" + ");
    assert_eq!(parsed(&long(990)), Ok(()));
    assert!(parsed(&long(1_010)).expect_err("too long").contains("more than 1000 terms"));
}

#[test]
fn conditions_hold_to_the_last_bit_but_a_few() {
    for (text, wanted) in [
        ("a < b", true),
        ("b < a", false),
        ("a < a", false),
        ("a <= a", true),
        ("a <= b and b <= a", false),
        ("a <= b or b <= a", true),
        ("b <= a or a < b and n > 4", true),
        ("not a < b", false),
        ("not b < a and a < b", true),
        ("a >= 3 in", true),
        ("a > 3 in", false),
        ("a < 3.000000001 in", false),
        ("a < 3.00000001 in", true),
        ("a > 2.99999999 in", true),
        ("a <= 2.999999999 in", true),
        ("a <= 2.99999999 in", false),
        ("-1 < 1", true),
        ("-1 >= 1", false),
        ("-1 < -1", false),
        ("kind is made", true),
        ("kind is rated", false),
        ("kind is not rated", true),
        ("kind is \"made\"", true),
        ("maybe is given", true),
        ("absent is given", false),
        ("absent is not given", true),
        ("maybe is given and maybe > 5 in", true),
        ("maybe is not given or maybe > 5 in", true),
        ("absent is given and absent > 5 in", false),
        ("absent is not given or absent > 5 in", true),
    ] {
        assert_eq!(condition(text), Ok(wanted), "{text}");
    }
    for (text, part) in [
        ("a < P", "compares a length with a force"),
        ("a < b < n", "`and` between two comparisons"),
        ("kind is MADE", "`MADE` is not one of the names"),
        ("kind is elsewhere", "`elsewhere` is not one of the names"),
        ("a is made", "`is` compares names"),
        ("kind < 1", "compares"),
        ("a is given", "`a` always has a value"),
        ("c is given", "unknown symbol `c`"),
        ("3 is given", "only an input is given or not given"),
        ("a", "wanted what is true or false"),
        ("not a", "wanted what is true or false"),
        ("maybe > 5 in", "unknown symbol `maybe`"),
        // Where it is not given, its value is not there to be read.
        ("maybe is given or maybe > 5 in", "unknown symbol `maybe`"),
        ("maybe is not given and maybe > 5 in", "unknown symbol `maybe`"),
    ] {
        let wrong = condition(text).expect_err(text);
        assert!(wrong.contains(part), "{text}: {wrong}");
    }
    // Two values are the same within a share of the larger one.
    let number = Value::number;
    for (a, b, same) in [(1.0, 1.0 + 0.9 * TOLERANCE, true), (1.0, 1.0 + 1.1 * TOLERANCE, false), (0.0, 0.0, true)] {
        for (one, two) in [(a, b), (b, a), (-a, -b)] {
            assert_eq!(compare(BinOp::LessEqual, &number(one), &number(two)), same || one < two, "{one} {two}");
            assert_eq!(compare(BinOp::GreaterEqual, &number(one), &number(two)), same || one > two, "{one} {two}");
            assert_eq!(compare(BinOp::Less, &number(one), &number(two)), !same && one < two, "{one} {two}");
            assert_eq!(compare(BinOp::Greater, &number(one), &number(two)), !same && one > two, "{one} {two}");
        }
    }
    assert!(!compare(BinOp::LessEqual, &number(1.0), &Value::Text("1".into())));
}

#[test]
fn kinds_stand_for_each_other_or_not() {
    let choice = |names: &[&str]| Kind::Choice(names.iter().map(|name| name.to_string()).collect());
    for (wanted, found, accepts) in [
        (Kind::NUMBER, Kind::Count, true),
        (Kind::Count, Kind::NUMBER, true),
        (Kind::NUMBER, Kind::Quantity(Dim::LENGTH), false),
        (Kind::Quantity(Dim::FORCE), Kind::Quantity(Dim::FORCE), true),
        (Kind::Text, choice(&["x"]), true),
        (Kind::Text, Kind::NUMBER, false),
        (choice(&["x", "y"]), choice(&["y"]), true),
        (choice(&["x", "y"]), choice(&["y", "z"]), false),
        (choice(&["x"]), Kind::Text, false),
        (Kind::Date, Kind::Date, true),
        (Kind::Date, Kind::Text, false),
        (Kind::Date, Kind::NUMBER, false),
    ] {
        assert_eq!(wanted.accepts(&found), accepts, "{wanted} {found}");
    }
    let as_choice = |text: &str| {
        let source = Source::new("choice", text);
        let mut expr = Parser::new(&source, 0..text.len()).and_then(|mut parser| parser.parse_expr()).expect("a name");
        check_as(&mut expr, &choice(&["made", "n"]), &source, &Known).map_err(told)
    };
    // Where a name is wanted, one that can stand there is no symbol.
    assert_eq!(as_choice("n"), Ok(choice(&["n"])));
    assert_eq!(as_choice("made"), Ok(choice(&["made"])));
    assert!(as_choice("elsewhere").expect_err("no such name").contains("is not one of the names that can stand here"));
    assert!(as_choice("a").expect_err("a length").contains("found a length"));
}

#[test]
fn a_dimension_has_a_root_if_its_exponents_are_even() {
    assert_eq!(Dim::of(4, 2).root(), Some(Dim::of(2, 1)));
    assert_eq!(Dim::of(-2, 0).root(), Some(Dim::of(-1, 0)));
    assert_eq!(Dim::NONE.root(), Some(Dim::NONE));
    assert_eq!([Dim::LENGTH, Dim::of(2, 1), Dim::ANGLE, Dim::of(3, 2)].map(Dim::root), [None; 4]);
    assert_eq!(Dim::of(2, -1).power(3).over(Dim::of(1, 1)).times(Dim::FORCE), Dim::of(5, -3));
}

/// A value that nobody gave a unit is printed in the first that is written in its formula.
#[test]
fn the_first_unit_that_is_written_is_the_one_of_the_formula() {
    let unit = |text: &str| {
        let source = Source::new("formula", text);
        let expr = Parser::new(&source, 0..text.len()).and_then(|mut parser| parser.parse_expr());
        expr.unwrap_or_else(|one| panic!("{}", one.message)).written_unit().map(|unit| unit.name().to_string())
    };
    assert_eq!(unit("a + b"), None);
    assert_eq!(unit("a + 3 ft + 2 in").as_deref(), Some("ft"));
    assert_eq!(unit("least(a, 40 mm)").as_deref(), Some("mm"));
}
