//! The units that a job is printed in. Values are kept in inches and pounds;
//! here alone they become what a page, a drawing or a schedule says.

use super::{Decimals, Dim, RESULT_DIGITS, System, Unit, given_digits, measured, number, number_fixed, read_any};

/// `[job] units`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Units {
    #[default]
    Imperial,
    Metric,
}

use Units::{Imperial, Metric};

const MM: f64 = 25.4;
const KN: f64 = 4.4482216152605e-3;
/// Megapascals in a pound on a square inch.
const MPA: f64 = 1e3 * KN / (MM * MM);

impl Units {
    pub const NAMES: [&str; 2] = ["imperial", "metric"];

    pub fn named(name: &str) -> Option<Units> {
        match name {
            "imperial" => Some(Imperial),
            "metric" => Some(Metric),
            _ => None,
        }
    }

    /// The unit that a reader expects of a dimension.
    pub fn unit(self, dim: Dim) -> Unit {
        match self {
            Imperial => System::INCH_POUND.unit(dim),
            Metric => metric(&System::INCH_POUND.unit(dim)),
        }
    }

    /// The unit in which a value is printed that is written in `unit`.
    pub fn print(self, unit: &Unit) -> Unit {
        match self {
            Imperial => unit.clone(),
            Metric => metric(unit),
        }
    }

    /// Inches as a tape shows them, to the sixteenth, or to the millimetre:
    /// `7 1/2″`, from two feet on `8′-0 3/16″`; `1,703 mm`. What is not one is
    /// marked `±`.
    pub fn length(self, inches: f64) -> String {
        if inches < 0.0 {
            return format!("−{}", self.length(-inches));
        }
        let (text, shown) = match self {
            Imperial => {
                let sixteenths = (inches * 16.0).round() as i64;
                let text = if sixteenths >= 24 * 16 { self.run(inches / 12.0) } else { parts(sixteenths, 16) };
                (text, is_whole(inches * 16.0))
            }
            // Under 100 mm a half counts.
            Metric if inches * MM < 100.0 => {
                (millimetres((inches * MM * 2.0).round() / 2.0, 1), is_whole(inches * MM * 2.0))
            }
            Metric => (millimetres((inches * MM).round(), 0), is_whole(inches * MM)),
        };
        if shown { text } else { format!("{text} ±") }
    }

    /// A size that is bought, bored or milled, not measured on site: drills come
    /// in thirty-seconds, and other decimals stay.
    pub fn size(self, inches: f64) -> String {
        match self {
            Metric => millimetres(inches * MM, 2),
            Imperial if is_whole(inches * 16.0) => self.length(inches),
            Imperial if is_whole(inches * 32.0) => parts((inches * 32.0).round() as i64, 32),
            Imperial => format!("{}″", trimmed(inches, 3)),
        }
    }

    /// A length that may be more and not less: up to the sixteenth or the half millimetre, from 100 mm on the whole one; what
    /// is a thirty-second stays.
    pub fn at_least(self, inches: f64) -> String {
        self.inward(inches, f64::ceil)
    }

    /// One that may be less and not more.
    pub fn at_most(self, inches: f64) -> String {
        self.inward(inches, f64::floor)
    }

    /// Such a one as it is measured, in inches: what a drawing shows where `at_least` is
    /// said beside it.
    pub fn measured_at_least(self, inches: f64) -> f64 {
        stepped(inches, self.step_of(inches), f64::ceil)
    }

    fn inward(self, inches: f64, round: fn(f64) -> f64) -> String {
        let step = self.step_of(inches);
        self.in_steps(stepped(inches, step, round), step)
    }

    /// The step of a tape, or a finer one for what is whole in it.
    fn step_of(self, inches: f64) -> f64 {
        let (exact, step) = match self {
            Imperial => (1.0 / 32.0, 1.0 / 16.0),
            Metric if inches * MM < 100.0 => (0.1 / MM, 0.5 / MM),
            Metric => (1.0 / MM, 1.0 / MM),
        };
        if is_exactly_whole(inches / exact) { exact } else { step }
    }

    /// Least and greatest that a tolerance allows, both rounded into it: to the thirty-second, or to finer steps where
    /// those would leave less than half of it.
    pub fn between(self, least: f64, greatest: f64) -> (String, String) {
        let steps = self.either([1.0 / 32.0, 1.0 / 64.0, 0.001], [0.5 / MM, 0.1 / MM, 0.01 / MM]);
        let rounded = |step: f64| (stepped(least, step, f64::ceil), stepped(greatest, step, f64::floor));
        let enough = |step: &f64| {
            let (from, to) = rounded(*step);
            to - from >= 0.5 * (greatest - least)
        };
        let step = steps.into_iter().find(enough).unwrap_or(steps[2]);
        let (from, to) = rounded(step);
        (self.in_steps(from, step), self.in_steps(to, step))
    }

    /// What is so many steps long, without rounding it again.
    fn in_steps(self, inches: f64, step: f64) -> String {
        let of = (1.0 / step).round();
        match self {
            Metric => millimetres(inches * MM, 2),
            Imperial if of > 64.0 => format!("{}″", trimmed(inches, 3)),
            Imperial if inches >= 24.0 && is_exactly_whole(inches * 16.0) => self.run(inches / 12.0),
            Imperial => parts((inches * of).round() as i64, of as i64),
        }
    }

    /// A distance on the site, from feet: `12′-6″`, `3,810 mm`.
    pub fn run(self, feet: f64) -> String {
        if self == Metric {
            return millimetres((feet * 12.0 * MM).round(), 0);
        }
        let sixteenths = (feet * 192.0).round() as i64;
        let (feet, inches) = (sixteenths / 192, sixteenths % 192 / 16);
        match fraction(sixteenths % 16, 16) {
            Some(fraction) => format!("{feet}′-{inches} {fraction}″"),
            None => format!("{feet}′-{inches}″"),
        }
    }

    /// A height over the datum of a job, from feet, with its sign.
    pub fn level(self, feet: f64) -> String {
        format!("{}{}", if feet < 0.0 { "−" } else { "+" }, self.run(feet.abs()))
    }

    /// Pounds: `2,310 lbf`, `10.28 kN`.
    pub fn force(self, pounds: f64) -> String {
        format!("{} {}", self.force_number(pounds), self.force_unit())
    }

    /// A number in a column that is headed by [`Units::force_unit`].
    pub fn force_number(self, pounds: f64) -> String {
        match self {
            Imperial => number_fixed(pounds, 0),
            Metric => number_fixed(pounds * KN, 2),
        }
    }

    pub fn force_unit(self) -> &'static str {
        self.either("lbf", "kN")
    }

    /// From pounds an inch, in [`Units::line_load_unit`].
    pub fn line_load_number(self, pounds_per_inch: f64) -> String {
        match self {
            Imperial => number_fixed(12.0 * pounds_per_inch, 1),
            Metric => number_fixed(1e3 * KN / MM * pounds_per_inch, 3),
        }
    }

    pub fn line_load_unit(self) -> &'static str {
        self.either("lbf/ft", "kN/m")
    }

    /// From inch-pounds: `193 lbf ft`, `0.26 kN·m`.
    pub fn moment(self, inch_pounds: f64) -> String {
        match self {
            Imperial => format!("{} lbf ft", number_fixed(inch_pounds / 12.0, 0)),
            Metric => format!("{} kN·m", number_fixed(inch_pounds * KN * MM / 1e3, 2)),
        }
    }

    /// Of wind or snow, from pounds on a square inch: `16.0 psf`, `0.766 kPa`.
    pub fn pressure(self, psi: f64) -> String {
        match self {
            Imperial => format!("{} psf", number_fixed(144.0 * psi, 1)),
            Metric => format!("{} kPa", number_fixed(1e3 * MPA * psi, 3)),
        }
    }

    /// Of soil: `1,500 psf`, `71.8 kPa`.
    pub fn soil_pressure(self, psi: f64) -> String {
        match self {
            Imperial => format!("{} psf", number_fixed(144.0 * psi, 0)),
            Metric => format!("{} kPa", number_fixed(1e3 * MPA * psi, 1)),
        }
    }

    /// From square inches: `112 ft²`, `10.4 m²`.
    pub fn area(self, square_inches: f64) -> String {
        match self {
            Imperial => format!("{} ft²", number(square_inches / 144.0, RESULT_DIGITS)),
            Metric => format!("{} m²", number(square_inches * MM * MM / 1e6, RESULT_DIGITS)),
        }
    }

    /// Concrete to order, from cubic inches: `12.4 ft³, 0.46 yd³`, `0.35 m³`.
    pub fn volume(self, cubic_inches: f64) -> String {
        match self {
            Imperial => {
                let fixed = |value: f64, decimals| number_fixed(value, if value < 100.0 { decimals } else { 0 });
                format!("{} ft³, {} yd³", fixed(cubic_inches / 1728.0, 1), fixed(cubic_inches / 46656.0, 2))
            }
            Metric => format!("{} m³", number_fixed(cubic_inches * (MM / 1e3).powi(3), 2)),
        }
    }

    /// What somebody typed, if it is a value in other units than these.
    pub fn typed(self, text: &str, header: Option<&Unit>, decimals: Decimals) -> Option<String> {
        let reading = read_any(text, header, decimals)?;
        let unit = self.print(&reading.unit);
        if unit == reading.unit {
            return None;
        }
        let value = reading.quantity.in_unit(&unit);
        Some(measured(&number(value, given_digits(value)), &unit.pretty()))
    }

    /// Words of a sheet, with each value in them in these units: `at least 16 psf`
    /// is `at least 0.7661 kPa`.
    pub fn words(self, text: &str) -> String {
        match self {
            Imperial => text.into(),
            Metric => metric_words(text, |value, _| number(value, RESULT_DIGITS)),
        }
    }

    /// The same for those who work with a tape: `within 1/8 in` is `within 3 mm`.
    pub fn words_on_site(self, text: &str) -> String {
        let on_a_tape = |value: f64, unit: &Unit| match unit.dim == Dim::LENGTH && unit.name() == "mm" {
            true => trimmed(if value < 3.0 { (2.0 * value).round() / 2.0 } else { value.round() }, 1),
            false => number(value, RESULT_DIGITS),
        };
        match self {
            Imperial => text.into(),
            Metric => metric_words(text, on_a_tape),
        }
    }

    /// Advice for one who gives values in these units, with what it proposes.
    pub fn advice(self, text: &str) -> String {
        const HEADINGS: [(&str, &str); 8] = [
            ("[lbf]", "[kN]"),
            ("[kip]", "[kN]"),
            ("[lbf/ft]", "[kN/m]"),
            ("[lbf ft]", "[kN m]"),
            ("[in]", "[mm]"),
            ("[ft]", "[m]"),
            ("[psi]", "[MPa]"),
            ("[psf]", "[kPa]"),
        ];
        match self {
            Imperial => text.into(),
            Metric => HEADINGS.iter().fold(Metric.words(text), |text, (inch, metric)| text.replace(inch, metric)),
        }
    }

    /// The paper that goes with them, and its width in points.
    pub fn paper(self) -> (&'static str, f64) {
        self.either(("us-letter", 612.0), ("a4", 595.28))
    }

    /// One of two.
    pub fn either<T>(self, imperial: T, metric: T) -> T {
        match self {
            Imperial => imperial,
            Metric => metric,
        }
    }
}

/// The metric unit in which a value is printed that is written in another.
fn metric(unit: &Unit) -> Unit {
    let named = |name: &str| Unit::parse(name).unwrap_or_else(|_| unreachable!("`{name}` is made of known units"));
    let (name, dim) = (unit.name(), unit.dim);
    if name.is_empty() || unit.is_metric() || dim.force == 0 && dim.length == 0 && dim.temperature == 0 {
        return unit.clone();
    }
    let on_feet =
        ["ft", "sf", "psf", "ksf", "plf", "klf", "pcf"].iter().any(|of_feet| unit.words().any(|it| it == *of_feet));
    match (dim.length, dim.force) {
        _ if dim.time != 0 => named("m/s"),
        _ if dim.temperature != 0 => named("degC"),
        (1, 1) => named("kN m"),
        (-2, 1) if on_feet => named("kPa"),
        (-2, 1) => named("MPa"),
        (-1, 1) if on_feet => named("kN/m"),
        (-1, 1) => named("N/mm"),
        (-3, 1) if name.starts_with("psf") || name.starts_with("ksf") => named("kPa/m"),
        (-3, 1) if on_feet => named("kN/m^3"),
        (-3, 1) => named("N/mm^3"),
        // A moment on a unit of length.
        (0, 1) if name.contains('/') => named("kN m/m"),
        (0, 1) => named("kN"),
        (1, -1) => named("mm/kN"),
        (1, 0) => named(if on_feet { "m" } else { "mm" }),
        (length, 0) if length > 1 => named(&format!("{}^{length}", if on_feet { "m" } else { "mm" })),
        (2, 1) => named("kN m^2"),
        _ => System::MILLIMETRE_NEWTON.unit(dim),
    }
}

/// Units that words of a sheet name after a number.
const SAID: [&str; 15] = [
    "psf/ft", "lbf/ft", "lbf/in", "lbf ft", "kip ft", "lbf", "kip", "psi", "ksi", "psf", "pcf", "mph", "in", "ft", "sf",
];

/// After these an `in` is no inch: `1.5 in place of`, `2 in a row`, `W/50 in ft`.
const NO_INCH: [&str; 9] = ["a", "the", "each", "all", "place", "SDC", "ft", "in", "stirrups"];

/// What is said of a unit of length: `force on an inch`. A post has a foot that is none, `a foot that is fixed`.
const EACH: [(&str, &str); 6] = [
    ("an inch", "a millimeter"),
    ("per inch", "per millimeter"),
    ("each inch", "each millimeter"),
    ("on a foot", "on a meter"),
    ("per foot", "per meter"),
    ("each foot", "each meter"),
];

fn metric_words(text: &str, shown: impl Fn(f64, &Unit) -> String) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        let (before, from) = rest.split_at(at);
        out.push_str(before);
        // A number that is part of a name is none: `No. 4`, `C24`, `W/50`, `B.1`.
        let bare = out.chars().last().is_none_or(|c| !c.is_alphanumeric() && !matches!(c, '/' | '.' | '_'));
        match said(from, &shown).filter(|_| bare && !out.ends_with("No. ")) {
            Some((metric, taken)) => {
                out.push_str(&metric);
                rest = &from[taken..];
            }
            None => {
                let end = from.find(|c: char| !c.is_ascii_digit()).unwrap_or(from.len());
                out.push_str(&from[..end]);
                rest = &from[end..];
            }
        }
    }
    out.push_str(rest);
    // Threads are told by the inch wherever they are.
    let screw = "threads per inch";
    let out = out.replace(screw, "\u{0}");
    EACH.iter().fold(out, |out, (inch, metric)| out.replace(inch, metric)).replace('\u{0}', screw)
}

/// A value at the start of a text in metric units, and how long it is there:
/// `16 psf`, `11 to 25 in`, `1/2 in`, `3-1/2 in`.
fn said(text: &str, shown: &impl Fn(f64, &Unit) -> String) -> Option<(String, usize)> {
    let run = |text: &str| text.find(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | '/')).unwrap_or(text.len());
    let digits = |text: &str| {
        let whole = run(text);
        // A fraction that stands after whole inches belongs to them.
        let more = text[whole..].strip_prefix('-').map_or("", |after| &after[..run(after)]);
        if more.contains('/') { whole + 1 + more.len() } else { whole }
    };
    let part = |text: &str| match text.split_once('/') {
        Some((top, bottom)) => Some(top.parse::<f64>().ok()? / bottom.parse::<f64>().ok()?),
        None => text.parse().ok(),
    };
    let value = |text: &str| match text.split_once('-') {
        Some((whole, fraction)) => Some(part(whole)? + part(fraction)?),
        None => part(text),
    };
    let mut end = digits(text);
    let first = value(&text[..end])?;
    let mut second = None;
    if let Some(more) = text[end..].strip_prefix(" to ") {
        let length = digits(more);
        second = value(&more[..length]);
        end += " to ".len() + length;
    }
    let after = text[end..].strip_prefix(' ')?;
    let name = SAID.iter().find(|name| after.starts_with(**name))?;
    let ends = |rest: &str| rest.chars().next().is_none_or(|c| !c.is_alphanumeric() && !matches!(c, '^' | '/'));
    let rest = &after[name.len()..];
    let next = rest.trim_start().split(' ').next().unwrap_or_default();
    if !ends(rest) || *name == "in" && rest.starts_with(' ') && NO_INCH.contains(&next) {
        return None;
    }
    let unit = Unit::parse(name).ok()?;
    let print = metric(&unit);
    let shown = |value: f64| shown(print.from_base(unit.to_base(value)), &print);
    let range = second.map_or(String::new(), |second| format!(" to {}", shown(second)));
    Some((measured(&(shown(first) + &range), &print.pretty()), end + 1 + name.len()))
}

fn millimetres(value: f64, decimals: usize) -> String {
    format!("{} mm", trimmed(value, decimals))
}

/// Without zeros at the end of its decimals.
fn trimmed(value: f64, decimals: usize) -> String {
    let text = number_fixed(value, decimals);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').into() } else { text }
}

/// The next multiple of a step; what is one already stays, whatever the last bit of it says.
fn stepped(value: f64, step: f64, round: fn(f64) -> f64) -> f64 {
    let parts = value / step;
    if is_exactly_whole(parts) { parts.round() * step } else { round(parts) * step }
}

fn is_exactly_whole(parts: f64) -> bool {
    (parts - parts.round()).abs() < 1e-6
}

fn is_whole(parts: f64) -> bool {
    (parts - parts.round()).abs() < 0.02
}

/// Inches in sixteenths or thirty-seconds: `7 1/2″`.
fn parts(parts: i64, of: i64) -> String {
    match (parts / of, fraction(parts % of, of)) {
        (0, Some(fraction)) => format!("{fraction}″"),
        (whole, Some(fraction)) => format!("{whole} {fraction}″"),
        (whole, None) => format!("{whole}″"),
    }
}

/// So many parts in lowest terms; none for none. An inch has a power of two of them.
fn fraction(parts: i64, of: i64) -> Option<String> {
    let shared = 1 << parts.trailing_zeros().min(of.trailing_zeros());
    (parts != 0).then(|| format!("{}/{}", parts / shared, of / shared))
}
