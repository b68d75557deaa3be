//! A reader with a pocket calculator: works every printed formula from its
//! printed numbers, knowing nothing of the program's trees or units, and
//! compares with the printed result to the printed digits.

use serde_json::Value;

use crate::jobs::package_in;
use crate::support::{JOBS, root};

/// Reads the typesetter's math source that has only numbers and units in it.
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
            } else if self.eat("thin slash thin") {
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
            ("op(\"sin\") (", |degrees| degrees.to_radians().sin()),
            ("op(\"cos\") (", |degrees| degrees.to_radians().cos()),
            ("op(\"tan\") (", |degrees| degrees.to_radians().tan()),
            ("op(\"arccos\") (", |cosine| cosine.acos().to_degrees()),
            ("op(\"arctan\") (", |tangent| tangent.atan().to_degrees()),
            ("op(\"exp\") (", f64::exp),
            ("op(\"ln\") (", f64::ln),
            ("(", |value| value),
        ] {
            if self.eat(name) {
                let value = self.sum()?;
                assert!(self.eat(")"), "{}", self.rest);
                return Some(f(value));
            }
        }
        if self.eat("it(π)") {
            return Some(std::f64::consts::PI);
        }
        self.skip();
        let text = self.rest.strip_prefix('"')?;
        let end = text.find('"')?;
        self.rest = &text[end + 1..];
        let plain = |text: &str| text.replace(',', "").replace('−', "-").parse::<f64>().ok();
        match text[..end].split_once('/') {
            None => plain(&text[..end]),
            Some((above, below)) => {
                let (whole, above) = above.split_once(' ').unwrap_or(("0", above));
                Some(plain(whole)? + plain(above)? / plain(below)?)
            }
        }
    }
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
        ("N", "kN") => 1e-3,
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
        let chapters = pages.loads.iter().chain(&pages.worked);
        for section in chapters.flat_map(|chapter| &chapter.sections) {
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
                let mut calculator = Calculator { rest: source };
                let value = calculator.sum().unwrap_or_else(|| panic!("{job} {}: {source}", line["no"]));
                calculator.skip();
                let mut factor = 1.0;
                let mut value = value;
                // A step in the unit that the numbers make, before the result in another.
                if let Some(step) = calculator.rest.trim().strip_prefix("= ") {
                    let (number, unit) = step.split_once(" thin upright(").expect("a number with its unit");
                    let (number, unit) = (number.trim_matches('"'), unit.trim_end_matches(')').trim_matches('"'));
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
                let number = row["value"]["number"].as_str().expect("a number");
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
                worked += 1;
            }
        }
        assert!(worked > 30, "{job}: {worked} formulas were worked");
    }
}
