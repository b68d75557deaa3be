//! A reader with a pocket calculator: works every printed formula from its
//! printed numbers, knowing nothing of the program's trees or units, and
//! compares with the printed result to the printed digits.

use serde_json::Value;

use crate::jobs::{package_in, sections};
use crate::support::{JOBS, root};

/// Reads the typesetter's math source that has only numbers and units in it, and the
/// words that are printed in its place where they are one line.
struct Calculator<'a> {
    rest: &'a str,
}

impl Calculator<'_> {
    fn skip(&mut self) {
        loop {
            self.rest = self.rest.trim_start();
            let Some(unit) = self.rest.strip_prefix("thin").or(Some(self.rest)) else { return };
            let unit = unit.trim_start();
            let Some(unit) = unit.strip_prefix("upright(\"") else { return };
            self.rest = &unit[unit.find("\")").expect("a closed unit") + 2..];
        }
    }

    fn eat(&mut self, sign: &str) -> bool {
        self.skip();
        match self.rest.strip_prefix(sign) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    fn sum(&mut self) -> Option<f64> {
        let mut value = self.product()?;
        loop {
            if self.eat("+") {
                value += self.product()?;
            } else if self.eat("−") {
                value -= self.product()?;
            } else {
                return Some(value);
            }
        }
    }

    fn product(&mut self) -> Option<f64> {
        let mut value = self.factor()?;
        loop {
            if self.eat("×") || self.eat("dot.op") {
                value *= self.factor()?;
            } else if self.eat("thin slash thin") || self.eat("/") {
                value /= self.factor()?;
            } else {
                return Some(value);
            }
        }
    }

    fn factor(&mut self) -> Option<f64> {
        if self.eat("−") {
            return Some(-self.factor()?);
        }
        let value = self.base()?;
        if self.eat("²") {
            return Some(value.powi(2));
        }
        if self.eat("³") {
            return Some(value.powi(3));
        }
        if !self.eat("^(") {
            return Some(value);
        }
        let power = self.sum()?;
        assert!(self.eat(")"), "{}", self.rest);
        Some(value.powf(power))
    }

    fn base(&mut self) -> Option<f64> {
        if self.eat("frac(") {
            let top = self.sum()?;
            assert!(self.eat(","));
            let bottom = self.sum()?;
            assert!(self.eat(")"));
            return Some(top / bottom);
        }
        if self.eat("attach(") {
            let base = self.sum()?;
            assert!(self.eat(", t:"));
            let power = self.sum()?;
            assert!(self.eat(")"));
            return Some(base.powf(power));
        }
        for (name, f) in [
            ("sqrt(", f64::sqrt as fn(f64) -> f64),
            ("abs(", f64::abs),
            ("sin (", |degrees| degrees.to_radians().sin()),
            ("cos (", |degrees| degrees.to_radians().cos()),
            ("tan (", |degrees| degrees.to_radians().tan()),
            ("arccos (", |cosine| cosine.acos().to_degrees()),
            ("arctan (", |tangent| tangent.atan().to_degrees()),
            ("exp (", f64::exp),
            ("ln (", f64::ln),
            ("(", |value| value),
        ] {
            if self.eat(name) {
                let value = self.sum()?;
                assert!(self.eat(")"), "{}", self.rest);
                return Some(f(value));
            }
        }
        if self.eat("it(π)") || self.eat("π") {
            return Some(std::f64::consts::PI);
        }
        self.skip();
        let text = match self.rest.strip_prefix('"') {
            Some(text) => {
                let (text, rest) = text.split_once('"')?;
                self.rest = rest;
                text
            }
            None => self.words(),
        };
        let plain = |text: &str| text.replace(',', "").replace('−', "-").parse::<f64>().ok();
        match text.split_once('/') {
            None => plain(text),
            Some((above, below)) => {
                let (whole, above) = above.split_once(' ').unwrap_or(("0", above));
                Some(plain(whole)? + plain(above)? / plain(below)?)
            }
        }
    }

    /// A number, `3 1/6` too; passes its unit as well.
    fn words(&mut self) -> &str {
        let end = |text: &str, of: fn(char) -> bool| text.find(|c: char| !of(c)).unwrap_or(text.len());
        let (number, rest) = self.rest.split_at(end(self.rest, |c| c.is_ascii_digit() || ",./ ".contains(c)));
        let unit = rest.strip_prefix('\u{a0}').unwrap_or(rest);
        let of_unit = end(unit, |c| c.is_alphabetic() || "·²³⁴/°%".contains(c));
        // What is raised behind a number or a bracket is a power.
        let is_unit = unit.starts_with(|c: char| c.is_alphabetic() || "°%".contains(c));
        self.rest = if is_unit { &unit[of_unit..] } else { rest };
        number.trim_end()
    }
}

/// The words of a formula in one text.
fn typed(runs: &Value) -> Option<String> {
    let run = |run: &Value| match (run[0].as_str(), run[1].as_str()) {
        (Some(words), Some("")) => words.replace("\u{a0}(", " ("),
        (Some(words), Some("u")) => format!("^({words})"),
        (Some("π"), Some("i")) => "π".into(),
        _ => panic!("a formula of numbers has {run}"),
    };
    Some(runs.as_array()?.iter().map(run).collect())
}

fn printed_decimals(number: &str) -> i32 {
    number.split_once('.').map_or(0, |(_, decimals)| decimals.len() as i32)
}

/// Significant digits before trailing zeros of a whole number: 23,460 is
/// rounded to tens.
fn last_place(number: &str, significant: usize) -> f64 {
    let digits = number.chars().filter(char::is_ascii_digit).count();
    match printed_decimals(number) {
        0 if digits > significant => 10f64.powi((digits - significant) as i32),
        decimals => 10f64.powi(-decimals),
    }
}

/// How many of the second unit are in one of the first: conversions that a metric
/// page shows.
fn in_another(own: &str, other: &str) -> f64 {
    const NEWTON: f64 = 4.4482216152605;
    const MPA: f64 = NEWTON / (25.4 * 25.4);
    match (own, other) {
        // A moment on a unit of length, too.
        ("N", "kN" | "kN·m/m") => 1e-3,
        ("N·mm", "kN·m") => 1e-6,
        ("N·mm²", "kN·m²") => 1e-9,
        ("mm/N", "mm/kN") => 1e3,
        ("kN·mm", "kN·m") => 1e-3,
        ("in", "mm") => 25.4,
        ("in²", "mm²") => 25.4 * 25.4,
        ("ft", "m") => 0.3048,
        ("lbf", "kN") => NEWTON * 1e-3,
        ("lbf·in", "kN·m") => NEWTON * 25.4 * 1e-6,
        ("lbf/in", "N/mm") => NEWTON / 25.4,
        ("psi", "MPa") => MPA,
        ("psf", "kPa") => MPA * 1e3 / 144.0,
        ("pcf", "kN/m³") => NEWTON * 1e-3 / 0.3048_f64.powi(3),
        _ => panic!("a conversion from {own} to {other}"),
    }
}

#[test]
fn printed_formulas_give_the_printed_results() {
    for job in JOBS.map(|job| format!("fixtures/{job}")).into_iter().chain(["tests/metric".into()]) {
        let mut worked = 0;
        let pages = package_in(&root().join(&job)).1;
        for section in sections(&pages) {
            let section: Value = serde_json::to_value(section).expect("JSON");
            let lines = section["lines"].as_array().expect("lines").iter();
            let steps = lines.filter(|line| line["kind"] == "step");
            for (line, row) in
                steps.flat_map(|line| line["rows"].as_array().expect("rows").iter().map(move |row| (line, row)))
            {
                let Some(source) = row["substituted"]["src"].as_str() else { continue };
                // A rounding step or a choice is not on a pocket calculator.
                if ["to the nearest", "rounded", "least", "greatest"].iter().any(|word| source.contains(word)) {
                    continue;
                }
                let words = typed(&row["substituted"]["runs"]);
                let source = source.replace("op(\"", "").replace("\") (", " (");
                for source in [Some(&source), words.as_ref()].into_iter().flatten() {
                    let mut calculator = Calculator { rest: source };
                    let mut value = calculator.sum().unwrap_or_else(|| panic!("{job} {}: {source}", line["no"]));
                    calculator.skip();
                    let mut factor = 1.0;
                    // A step in the unit that the numbers make, before the result in another.
                    if let Some(step) = calculator.rest.trim().strip_prefix("= ") {
                        let step = step.replace(" thin upright(", "\u{a0}").replace(['"', ')'], "");
                        let (number, unit) = step.split_once('\u{a0}').expect("a number with its unit");
                        let told: f64 = number.replace(',', "").replace('−', "-").parse().expect("a number");
                        let slack = last_place(number, 4) * 0.5000001;
                        assert!((value - told).abs() <= slack, "{job} {}: {source} gives {value}", line["no"]);
                        factor = in_another(unit, row["value"]["unit"].as_str().expect("a unit"));
                        value = told;
                        calculator.rest = "";
                    }
                    assert!(
                        calculator.rest.trim().is_empty(),
                        "{job} {}: {} left of {source}",
                        line["no"],
                        calculator.rest
                    );
                    // The sign for degrees stands close.
                    let number = row["value"]["number"].as_str().expect("a number").trim_end_matches('°');
                    let result: f64 = number.replace(',', "").replace('−', "-").parse().expect("a number");
                    // Half of the last printed place, and a little for what lies just
                    // between two roundings.
                    let slack = last_place(number, 4) * 0.5000001;
                    let value = factor * value;
                    assert!(
                        (value - result).abs() <= slack,
                        "{job} {}: {source} gives {value}, printed {number}",
                        line["no"]
                    );
                }
                worked += 1;
            }
        }
        assert!(worked > 30, "{job}: {worked} formulas were worked");
    }
}
