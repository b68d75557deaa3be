//! How far a value may be off as it was typed.

use super::{Decimals, Dim, Unit, read::written, read_any};

/// Half of what two readings of a tape differ by, in inches, where a length has no decimals.
const INCHES: f64 = 1.0 / 64.0;
const MILLIMETRES: f64 = 0.5;

/// In base units. Decimals are right to half of the last digit. A length without decimals
/// is right to 1/64 in, a metric one to half a millimetre; a whole force, or a load on a
/// length, to half of its unit. Exact are plain numbers and zero, and whole values of all
/// else, such as 3000 psi or 115 mph: they were specified and not measured.
pub fn slack(text: &str, dim: Dim, header: Option<&Unit>, decimals: Decimals) -> f64 {
    let Some(reading) = read_any(text, header, decimals).filter(|it| it.unit.dim == dim && !dim.is_none()) else {
        return 0.0;
    };
    let force = dim.force == 1 && Dim { length: 0, ..dim } == Dim::FORCE && dim.length.abs() <= 1;
    match last_digit(text, decimals) {
        _ if reading.quantity.value == 0.0 => 0.0,
        Some(digit) if digit != 1.0 => reading.unit.to_base(digit / 2.0),
        _ if dim == Dim::LENGTH && reading.unit.is_metric() => {
            Unit::simple("mm").map_or(0.0, |mm| mm.to_base(MILLIMETRES))
        }
        _ if dim == Dim::LENGTH => INCHES,
        Some(digit) if force => reading.unit.to_base(digit / 2.0),
        _ => 0.0,
    }
}

/// What the last digit of a number counts, 0.01 of `5.25`; none for a fraction.
fn last_digit(text: &str, decimals: Decimals) -> Option<f64> {
    let fraction = text.contains(['½', '¼', '¾', '⅛', '⅜', '⅝', '⅞'])
        || text.split('/').zip(text.split('/').skip(1)).any(|(before, after)| {
            before.ends_with(|c: char| c.is_ascii_digit()) && after.starts_with(|c: char| c.is_ascii_digit())
        });
    if fraction {
        return None;
    }
    // The last number counts: after feet come inches.
    let in_number = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
    let (mut at, mut last) = (0, None);
    for run in text.split_inclusive(|c: char| !in_number(c)) {
        let number = run.trim_end_matches(|c: char| !in_number(c));
        // A digit behind a letter is an exponent, of the number or of its unit; a sign may stand between: `1.5e+3`.
        let before = text[..at].to_lowercase().replace("e+", "e").replace("e-", "e");
        let free = !before.ends_with(|c: char| c.is_alphabetic() || c == '^');
        if free && number.contains(|c: char| c.is_ascii_digit()) {
            last = Some((number, &text[at + number.len()..]));
        }
        at += run.len();
    }
    let (number, rest) = last?;
    let written = written(number, decimals).ok()?;
    let places = written.split_once('.').map_or(0, |(_, decimals)| decimals.len()) as i32;
    let power = rest.strip_prefix(['e', 'E']).map(|power| {
        let end = power.find(|c: char| !c.is_ascii_digit() && c != '-' && c != '+').unwrap_or(power.len());
        power[..end].parse::<i32>().unwrap_or(0)
    });
    Some(libm::pow(10.0, f64::from(power.unwrap_or(0) - places)))
}
