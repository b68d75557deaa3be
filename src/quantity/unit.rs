//! Units: their names, their sizes, and the unit in which a reader expects a
//! dimension.

use std::sync::Arc;

use super::{Dim, with_article};

/// A unit with the name it was asked for. `base = value * up / down`: two
/// factors, because `25.4` is exact where its inverse is not.
#[derive(Clone, Debug, PartialEq)]
pub struct Unit {
    name: Arc<str>,
    pub dim: Dim,
    up: f64,
    down: f64,
}

/// `(printed name, other spellings, dimension, up, down)`.
type Row = (&'static str, &'static [&'static str], Dim, f64, f64);

const TIME: Dim = Dim { time: 1, ..Dim::NONE };
const SPEED: Dim = Dim { length: 1, time: -1, ..Dim::NONE };
const TEMPERATURE: Dim = Dim { temperature: 1, ..Dim::NONE };
const STRESS: Dim = Dim::of(-2, 1);
const NEWTON: f64 = 4.4482216152605;

#[rustfmt::skip]
const UNITS: &[Row] = &[
    ("in",   &["inch", "inches", "\"", "″", "”"], Dim::LENGTH, 1.0, 1.0),
    ("ft",   &["foot", "feet", "'", "′", "’"],    Dim::LENGTH, 12.0, 1.0),
    ("mm",   &[],                            Dim::LENGTH, 10.0, 254.0),
    ("cm",   &[],                            Dim::LENGTH, 100.0, 254.0),
    ("m",    &[],                            Dim::LENGTH, 10000.0, 254.0),
    ("sf",   &["sqft"],                      Dim::of(2, 0), 144.0, 1.0),
    ("lbf",  &["lb", "lbs", "pound", "pounds", "#"], Dim::FORCE, 1.0, 1.0),
    ("kip",  &["kips", "k"],                 Dim::FORCE, 1000.0, 1.0),
    ("N",    &[],                            Dim::FORCE, 1.0, NEWTON),
    ("daN",  &[],                            Dim::FORCE, 10.0, NEWTON),
    ("kN",   &[],                            Dim::FORCE, 1000.0, NEWTON),
    // Of a load or a density: the weight of a mass.
    ("kg",   &[],                            Dim::FORCE, 9.80665, NEWTON),
    ("psi",  &[],                            STRESS, 1.0, 1.0),
    ("ksi",  &[],                            STRESS, 1000.0, 1.0),
    ("psf",  &[],                            STRESS, 1.0, 144.0),
    ("ksf",  &[],                            STRESS, 1000.0, 144.0),
    ("Pa",   &[],                            STRESS, 25.4 * 25.4, NEWTON * 1e6),
    ("kPa",  &[],                            STRESS, 25.4 * 25.4, NEWTON * 1e3),
    ("MPa",  &[],                            STRESS, 25.4 * 25.4, NEWTON),
    ("GPa",  &[],                            STRESS, 25.4 * 25.4 * 1e3, NEWTON),
    ("plf",  &[],                            Dim::of(-1, 1), 1.0, 12.0),
    ("klf",  &[],                            Dim::of(-1, 1), 1000.0, 12.0),
    ("pli",  &[],                            Dim::of(-1, 1), 1.0, 1.0),
    ("pcf",  &[],                            Dim::of(-3, 1), 1.0, 1728.0),
    ("deg",  &["degree", "degrees", "°"],    Dim::ANGLE, std::f64::consts::PI, 180.0),
    ("rad",  &[],                            Dim::ANGLE, 1.0, 1.0),
    ("s",    &["sec"],                       TIME, 1.0, 1.0),
    ("mph",  &[],                            SPEED, 63360.0, 3600.0),
    ("degF", &["°F", "F"],                   TEMPERATURE, 1.0, 1.0),
    ("degC", &["°C"],                        TEMPERATURE, 9.0, 5.0),
    ("%",    &["percent"],                   Dim::NONE, 1.0, 100.0),
];

impl Unit {
    /// The unit of a plain number.
    pub fn none() -> Unit {
        Unit { name: "".into(), dim: Dim::NONE, up: 1.0, down: 1.0 }
    }

    pub fn from_base(&self, base: f64) -> f64 {
        base * self.down / self.up
    }

    pub fn to_base(&self, value: f64) -> f64 {
        value * self.up / self.down
    }

    /// `base = value * up / down`: both, so that others can do just the same.
    pub fn factors(&self) -> (f64, f64) {
        (self.up, self.down)
    }

    /// As typed: `in^2`, `lbf/in`.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The simple units of its name, without their powers.
    pub(super) fn words(&self) -> impl Iterator<Item = &str> {
        self.name.split(['/', ' ']).map(|part| part.split('^').next().unwrap_or(part))
    }

    /// Whether its name speaks of no inch, foot or pound. An angle speaks of none.
    pub fn is_metric(&self) -> bool {
        const METRIC: [&str; 16] =
            ["mm", "cm", "m", "N", "daN", "kN", "kg", "Pa", "kPa", "MPa", "GPa", "degC", "deg", "rad", "s", "1"];
        self.words().all(|word| METRIC.contains(&word))
    }

    /// Whether a number means the same in both.
    pub fn same_size(&self, other: &Unit) -> bool {
        self.dim == other.dim && ((self.up / self.down) / (other.up / other.down) - 1.0).abs() < 1e-12
    }

    /// As printed: `in²`, `lbf·ft`, `°`.
    pub fn pretty(&self) -> String {
        let mut out = String::new();
        let mut chars = self.name.chars().peekable();
        while let Some(c) = chars.next() {
            match c {
                '^' => {
                    while let Some(digit) = chars.next_if(|c| c.is_ascii_digit()) {
                        out.push("⁰¹²³⁴⁵⁶⁷⁸⁹".chars().nth(digit as usize - '0' as usize).unwrap_or(digit));
                    }
                }
                ' ' => out.push('·'),
                c => out.push(c),
            }
        }
        match out.as_str() {
            "deg" => "°".into(),
            "degF" => "°F".into(),
            "degC" => "°C".into(),
            _ => out,
        }
    }

    /// A single name such as `psi`; no powers or products.
    pub fn simple(name: &str) -> Option<Unit> {
        let exact = UNITS.iter().find(|row| row.0 == name || row.1.contains(&name));
        let found = exact.or_else(|| {
            let lower = name.to_lowercase();
            UNITS.iter().find(|row| row.0.to_lowercase() == lower || row.1.contains(&lower.as_str()))
        })?;
        Some(Unit { name: found.0.into(), dim: found.2, up: found.3, down: found.4 })
    }

    /// Reads `lbf`, `in^2`, `in2`, `kip/ft`, `lb-ft`, `lbf/in^2`; `Err` says
    /// which part is not a unit.
    pub fn parse(text: &str) -> Result<Unit, String> {
        let text = text.trim();
        if text.is_empty() || text == "-" {
            return Ok(Unit::none());
        }
        let mut unit: Option<Unit> = None;
        let mut rest = text;
        let mut divide = false;
        loop {
            let end = rest.find(['/', '*', '·', ' ', '-']).unwrap_or(rest.len());
            let part = Unit::power_of(&rest[..end]).ok_or_else(|| format!("`{}` is not a known unit", &rest[..end]))?;
            unit = Some(match unit {
                None => part,
                Some(unit) if divide => unit.over(&part),
                Some(unit) => unit.times(&part),
            });
            let Some(operator) = rest[end..].trim_start().chars().next() else { break };
            divide = operator == '/';
            rest = rest[end..].trim_start().trim_start_matches(['/', '*', '·', '-']).trim_start();
        }
        unit.ok_or_else(|| "no unit".into())
    }

    fn power_of(text: &str) -> Option<Unit> {
        if let Some(unit) = Unit::simple(text) {
            return Some(unit);
        }
        let (name, power) = match text.split_once('^') {
            Some((name, power)) => (name, power.parse().ok()?),
            None => {
                let digits = text.len() - text.trim_end_matches(|c: char| c.is_ascii_digit()).len();
                let superscript = ["²", "³", "⁴"].iter().position(|s| text.ends_with(s));
                match superscript {
                    Some(at) => (text.trim_end_matches(['²', '³', '⁴']), at as i8 + 2),
                    None => (&text[..text.len() - digits], text[text.len() - digits..].parse().ok()?),
                }
            }
        };
        Unit::simple(name).map(|unit| unit.power(power))
    }

    pub fn power(&self, exponent: i8) -> Unit {
        Unit {
            name: format!("{}^{exponent}", self.name).into(),
            dim: self.dim.power(exponent),
            up: libm::pow(self.up, exponent.into()),
            down: libm::pow(self.down, exponent.into()),
        }
    }

    pub fn times(&self, other: &Unit) -> Unit {
        Unit {
            name: format!("{} {}", self.name, other.name).into(),
            dim: self.dim.times(other.dim),
            up: self.up * other.up,
            down: self.down * other.down,
        }
    }

    pub fn over(&self, other: &Unit) -> Unit {
        Unit {
            name: format!("{}/{}", self.name, other.name).into(),
            dim: self.dim.over(other.dim),
            up: self.up * other.down,
            down: self.down * other.up,
        }
    }

    /// What a quantity in this unit is called: `a length`; psi measure a stress,
    /// psf and kPa a pressure.
    pub fn noun(&self) -> String {
        match self.name() {
            "psf" | "ksf" | "kPa" => "a pressure".into(),
            "psf/ft" => "a pressure per foot of depth".into(),
            "kPa/m" => "a pressure per meter of depth".into(),
            _ => with_article(&self.dim.to_string().replace('-', " ")),
        }
    }

    /// Units by their names; one that is not known is left out.
    pub fn all(names: &[&str]) -> Vec<Unit> {
        names.iter().filter_map(|name| Unit::parse(name).ok()).collect()
    }

    /// The unit a reader expects where none was asked for.
    pub fn usual(dim: Dim) -> Unit {
        System::INCH_POUND.unit(dim)
    }

    pub fn names() -> impl Iterator<Item = &'static str> {
        UNITS.iter().map(|row| row.0)
    }
}

/// A pair of units of length and force. A formula whose numbers all stand in
/// one system needs no conversion factor when it is worked by hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct System {
    length: &'static str,
    force: &'static str,
}

impl System {
    pub const INCH_POUND: System = System { length: "in", force: "lbf" };
    pub const MILLIMETRE_NEWTON: System = System { length: "mm", force: "N" };

    /// The system that a result in this unit is worked in, where it tells: a
    /// length in its unit, a force in its own. What it does not tell is taken
    /// from `hints` in order.
    pub fn of<'a>(result: &Unit, hints: impl IntoIterator<Item = &'a Unit>) -> System {
        let hints: Vec<&Unit> = hints.into_iter().collect();
        if let Some(system) = metric(result, &hints) {
            return system;
        }
        let (mut length, mut force) = parts(result.name());
        for unit in hints {
            let (l, f) = parts(unit.name());
            length = length.or(l);
            force = force.or(f);
        }
        System { length: length.unwrap_or("in"), force: force.unwrap_or("lbf") }
    }

    /// The named unit of a dimension in this system: `psi` in inches and
    /// pounds, `psf` in feet and pounds.
    pub fn unit(self, dim: Dim) -> Unit {
        if dim == Dim::ANGLE {
            return Unit::simple("deg").expect("deg is in the table");
        }
        if dim.is_none() {
            return Unit::none();
        }
        let length = Unit::simple(self.length).expect("a system names known units");
        let force = Unit::simple(self.force).expect("a system names known units");
        let named = UNITS.iter().filter(|row| row.2 == dim && !matches!(row.0, "sf" | "degC" | "pli" | "plf" | "klf"));
        let size =
            libm::pow(length.up / length.down, dim.length.into()) * libm::pow(force.up / force.down, dim.force.into());
        if dim.time == 0 && dim.angle == 0 && dim.temperature == 0 {
            for row in named {
                if (row.3 / row.4 / size - 1.0).abs() < 1e-12 {
                    return Unit { name: row.0.into(), dim, up: row.3, down: row.4 };
                }
            }
        }
        let base = [
            (force, dim.force),
            (length, dim.length),
            (Unit::simple("s").expect("known"), dim.time),
            (Unit::simple("rad").expect("known"), dim.angle),
            (Unit::simple("degF").expect("known"), dim.temperature),
        ];
        let raise = |(unit, power): &(Unit, i8)| if power.abs() == 1 { unit.clone() } else { unit.power(power.abs()) };
        let over: Vec<Unit> = base.iter().filter(|(_, power)| *power > 0).map(raise).collect();
        let under: Vec<Unit> = base.iter().filter(|(_, power)| *power < 0).map(raise).collect();
        let product = |units: Vec<Unit>| units.into_iter().reduce(|a, b| a.times(&b));
        match (product(over), product(under)) {
            (Some(over), Some(under)) => over.over(&under),
            (Some(over), None) => over,
            (None, Some(under)) => {
                let mut unit = Unit { name: "1".into(), ..Unit::none() }.over(&under);
                unit.dim = dim;
                unit
            }
            (None, None) => Unit::none(),
        }
    }
}

/// The metric system of a formula; none for one that has an inch or a pound in
/// it. Megapascals are newtons and millimetres, kilopascals are kilonewtons and
/// metres: a result in another unit is converted where all can see it.
fn metric(result: &Unit, hints: &[&Unit]) -> Option<System> {
    const MM_N: System = System::MILLIMETRE_NEWTON;
    const MM_KN: System = System { length: "mm", force: "kN" };
    const M_KN: System = System { length: "m", force: "kN" };
    let known = |unit: &&Unit| unit.dim.length != 0 || unit.dim.force != 0;
    let all: Vec<&Unit> = std::iter::once(result).chain(hints.iter().copied()).filter(known).collect();
    if all.is_empty() || !all.iter().all(|unit| unit.is_metric()) {
        return None;
    }
    let of = |unit: &Unit| (unit.dim.length, unit.dim.force);
    let any = |wanted: &dyn Fn(&Unit) -> bool| all.iter().any(|unit| wanted(unit));
    let fine = any(&|unit| unit.name.contains("MPa") || unit.name.contains("N/mm"));
    let metres = |unit: &Unit| unit.name.contains("kPa") || unit.words().any(|word| word == "m");
    Some(match of(result) {
        (-2, 1) if !metres(result) => MM_N,
        (_, 0) if !result.dim.is_none() && result.dim.length != 0 && !metres(result) => {
            let loads = any(&|unit| unit.dim.force != 0 && unit.dim.length < 0);
            if loads { MM_N } else { MM_KN }
        }
        (-3..=-1, 1) | (_, 0) if metres(result) => M_KN,
        (1, -1) if !fine => MM_KN,
        _ if fine => MM_N,
        _ if any(&metres) => M_KN,
        _ => MM_KN,
    })
}

/// The units of length and force that a unit's name speaks of.
fn parts(name: &str) -> (Option<&'static str>, Option<&'static str>) {
    let mut length = None;
    let mut force = None;
    for part in name.split(['/', ' ', '^']) {
        let (l, f) = match part {
            "in" | "pli" => (Some("in"), if part == "pli" { Some("lbf") } else { None }),
            "ft" | "sf" => (Some("ft"), None),
            "mm" => (Some("mm"), None),
            "cm" | "m" => (Some("m"), None),
            "lbf" => (None, Some("lbf")),
            "kip" => (None, Some("kip")),
            "N" | "daN" | "kg" => (None, Some("N")),
            "kN" => (None, Some("kN")),
            "psi" => (Some("in"), Some("lbf")),
            "ksi" => (Some("in"), Some("kip")),
            "psf" | "plf" | "pcf" => (Some("ft"), Some("lbf")),
            "ksf" | "klf" => (Some("ft"), Some("kip")),
            "MPa" => (Some("mm"), Some("N")),
            "kPa" => (Some("m"), Some("kN")),
            _ => (None, None),
        };
        length = length.or(l);
        force = force.or(f);
    }
    (length, force)
}
