//! Values as people type them: `7 1/2 in`, `7-1/2"`, `8 ft 6 in`, `3.6 kip`,
//! `1,200`, `5 ½`, and `3:12` for a slope.

use super::{Dim, Quantity, Unit};

/// A value that was read, with the unit it was typed in.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    pub quantity: Quantity,
    pub unit: Unit,
}

/// Why a text was not read: what was found and what would be right, in words.
#[derive(Debug, PartialEq)]
pub struct Unread {
    pub message: String,
    /// It is a number, and lacks a unit.
    pub unitless: bool,
}

impl From<String> for Unread {
    fn from(message: String) -> Unread {
        Unread { message, unitless: false }
    }
}

/// What stands before the decimals of numbers.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Decimals {
    /// A point; a comma tells thousands.
    #[default]
    Point,
    /// A comma; a point tells thousands.
    Comma,
    /// Nobody knows: a number that can be read in two ways is refused.
    Either,
}

/// Reads `text` as a quantity that people write in one of `units`, the usual
/// one first; without any, as a plain number. A unit in the text wins over
/// `header`, the unit of its column.
///
/// # Errors
/// What was found and what would be right.
pub fn read(text: &str, units: &[Unit], header: Option<&Unit>, decimals: Decimals) -> Result<Reading, Unread> {
    let text = text.trim();
    let dim = units.first().map_or(Dim::NONE, |unit| unit.dim);
    if text.is_empty() {
        return Err(format!("found nothing; {}", wanting(units, "")).into());
    }
    if dim == Dim::ANGLE
        && let Some(reading) = pitch(text, decimals)
    {
        return Ok(reading);
    }
    if dim == Dim::ANGLE
        && let Some(slope) = rise_in_run(text, header)
    {
        return Err(
            format!("found `{text}`; expected an angle, such as `18 deg`, or a rise over a run, `{slope}`").into()
        );
    }
    if dim == Dim::LENGTH && is_size(text) {
        return Err(format!("found `{text}`, two sizes; expected one length, such as `7 1/2 in`").into());
    }
    if let Some(reading) = thread(text).filter(|_| dim == Dim::LENGTH) {
        return Ok(finite(reading, text)?);
    }
    if let Some(reading) = feet_and_inches(text, decimals)? {
        return Ok(wanted(finite(reading, text)?, units)?);
    }
    let (value, rest) = leading_number(text, decimals)?;
    let unit = if rest.is_empty() {
        match header {
            Some(unit) => unit.clone(),
            None if dim.is_none() => Unit::none(),
            None => {
                let noun = units[0].noun();
                let such = list(units, |unit| format!("`{text} {}`", unit.name()));
                let message = format!("found `{text}` without a unit; expected {noun}, such as {such}");
                return Err(Unread { message, unitless: true });
            }
        }
    } else {
        let number = text[..text.len() - rest.len()].trim_end();
        Unit::parse(rest).map_err(|why| format!("found `{text}`: {why}; {}", wanting(units, number)))?
    };
    let reading = Reading { quantity: Quantity::new(unit.to_base(value), unit.dim), unit };
    Ok(wanted(finite(reading, text)?, units)?)
}

/// Reads a text as whatever quantity it is; none if it is none, or lacks a unit.
pub fn read_any(text: &str, header: Option<&Unit>, decimals: Decimals) -> Option<Reading> {
    let text = text.trim();
    if let Some(reading) = feet_and_inches(text, decimals).ok()? {
        return finite(reading, text).ok();
    }
    let (value, rest) = leading_number(text, decimals).ok()?;
    let unit = if rest.is_empty() { header?.clone() } else { Unit::parse(rest).ok()? };
    finite(Reading { quantity: Quantity::new(unit.to_base(value), unit.dim), unit }, text).ok()
}

/// A number that is written well can be too large in base units.
fn finite(reading: Reading, text: &str) -> Result<Reading, String> {
    if reading.quantity.value.is_finite() { Ok(reading) } else { Err(too_large(text)) }
}

fn too_large(text: &str) -> String {
    format!("found `{text}`; the number is too large")
}

fn wanted(reading: Reading, units: &[Unit]) -> Result<Reading, String> {
    let found = &reading.unit;
    let Some(usual) = units.first().filter(|unit| !unit.dim.is_none()) else {
        return match found.dim.is_none() {
            true => Ok(reading),
            false => Err(format!("found `{}`; expected a plain number", found.name())),
        };
    };
    if found.dim == usual.dim {
        return Ok(reading);
    }
    let what = match found.name() {
        "" => "a plain number".to_string(),
        name => format!("`{name}`, {}", found.noun()),
    };
    Err(format!("found {what}; {}", wanting(units, "")))
}

/// What is wanted: the number that was found in each of the units, or something in one of them.
fn wanting(units: &[Unit], number: &str) -> String {
    match units.first().filter(|unit| !unit.dim.is_none()) {
        None => "expected a plain number".into(),
        Some(usual) if number.is_empty() => {
            format!("expected {} in {}", usual.noun(), list(units, |unit| format!("`{}`", unit.name())))
        }
        Some(usual) => {
            let such = list(units, |unit| format!("`{number} {}`", unit.name()));
            format!("expected {}, such as {such}", usual.noun())
        }
    }
}

/// The units, said in one way, with `or` between them.
fn list(units: &[Unit], say: impl Fn(&Unit) -> String) -> String {
    units.iter().map(say).collect::<Vec<_>>().join(" or ")
}

/// `3:12`, the rise of a roof over its run.
fn pitch(text: &str, decimals: Decimals) -> Option<Reading> {
    let (rise, run) = text.split_once(':')?;
    let number = |text: &str| match leading_number(text.trim(), decimals) {
        Ok((value, "")) => Some(value),
        _ => None,
    };
    let (rise, run) = (number(rise)?, number(run)?);
    let unit = Unit::simple("deg")?;
    (run > 0.0).then(|| Reading { quantity: Quantity::new(libm::atan2(rise, run), Dim::ANGLE), unit })
}

/// `8:12`, where a text says `8 in 12`, or `8/12` without a unit.
fn rise_in_run(text: &str, header: Option<&Unit>) -> Option<String> {
    let halves = text.split_once(" in ").or_else(|| text.split_once('/').filter(|_| header.is_none()))?;
    let number = |text: &str| text.trim().parse::<f64>().is_ok();
    let (rise, run) = (halves.0.trim(), halves.1.trim());
    (number(rise) && number(run)).then(|| format!("{rise}:{run}"))
}

/// `8x8`, the size of a timber.
pub fn is_size(text: &str) -> bool {
    let number = |text: &str| matches!(leading_number(text.trim(), Decimals::Point), Ok((_, "")));
    text.split_once(['x', 'X', '×']).is_some_and(|(width, depth)| number(width) && number(depth))
}

/// `M16`, a metric thread by its diameter.
fn thread(text: &str) -> Option<Reading> {
    let digits = text.strip_prefix(['M', 'm']).filter(|digits| digits.starts_with(|c: char| c.is_ascii_digit()))?;
    let value: f64 = digits.parse().ok()?;
    let unit = Unit::simple("mm")?;
    Some(Reading { quantity: Quantity::new(unit.to_base(value), Dim::LENGTH), unit })
}

/// `8 ft 6 in`, `8'-6 1/2"`; none if the text has no feet part followed by more.
fn feet_and_inches(text: &str, decimals: Decimals) -> Result<Option<Reading>, String> {
    let Ok((feet, rest)) = leading_number(text, decimals) else { return Ok(None) };
    let mark = ["feet", "foot", "ft", "'", "′", "’"].into_iter().find_map(|mark| rest.strip_prefix(mark));
    let Some(rest) = mark.map(|rest| rest.trim_start_matches(['.', ' ', '-'])) else { return Ok(None) };
    if !rest.starts_with(|c: char| c.is_ascii_digit() || "½¼¾⅛⅜⅝⅞".contains(c)) {
        return Ok(None);
    }
    let (inches, rest) = leading_number(rest, decimals)?;
    let inch = Unit::simple("in").expect("in is in the table");
    if inches >= 12.0 || !rest.is_empty() && Unit::parse(rest)? != inch {
        return Err(format!("found `{text}`; after feet come inches, less than 12, as in `8 ft 6 in`"));
    }
    let sign = if text.starts_with(['-', '−']) { -1.0 } else { 1.0 };
    Ok(Some(Reading { quantity: Quantity::new(feet * 12.0 + sign * inches, Dim::LENGTH), unit: inch }))
}

/// The number at the start of a text and what follows it.
fn leading_number(text: &str, decimals: Decimals) -> Result<(f64, &str), String> {
    let not_a_number = || format!("found `{text}`; expected a number");
    let (sign, body) = match text.strip_prefix(['-', '−']) {
        Some(body) => (-1.0, body.trim_start()),
        None => (1.0, text.strip_prefix('+').unwrap_or(text)),
    };
    let (whole, rest) = match fraction(body) {
        Some(found) => found,
        None => {
            let end = body.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',').unwrap_or(body.len());
            // `2e3`: an exponent belongs to the number, `2 ext` does not.
            let end = exponent_end(body, end);
            (plain(&body[..end], decimals).ok_or_else(not_a_number)??, &body[end..])
        }
    };
    let glue = rest.trim_start_matches([' ', '\u{a0}', '-']);
    let mixed = whole.fract() == 0.0 && glue.len() <= rest.len();
    if let Some((part, rest)) = fraction(glue).filter(|(part, _)| mixed && *part < 1.0) {
        return Ok((sign * (whole + part), rest.trim()));
    }
    Ok((sign * whole, rest.trim()))
}

fn exponent_end(body: &str, end: usize) -> usize {
    let tail = &body[end..];
    let Some(power) = tail.strip_prefix(['e', 'E']) else { return end };
    let digits = power.trim_start_matches(['+', '-']);
    let count = digits.len() - digits.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    if count == 0 { end } else { end + 1 + (power.len() - digits.len()) + count }
}

/// Digits with separators; none if it is not a number at all.
fn plain(text: &str, decimals: Decimals) -> Option<Result<f64, String>> {
    let number = match written(text, decimals) {
        Ok(number) => number.parse::<f64>().ok()?,
        Err(message) => return Some(Err(message)),
    };
    Some(if number.is_finite() { Ok(number) } else { Err(too_large(text)) })
}

/// The same digits with a point before the decimals, and nothing between thousands.
pub(super) fn written(text: &str, decimals: Decimals) -> Result<String, String> {
    match decimals {
        Decimals::Point => with_point(text),
        Decimals::Comma => with_comma(text),
        Decimals::Either => with_either(text),
    }
}

/// What the number at the start of a text shows of its file: `7,5` has a decimal comma,
/// and `3,150` has one or a comma between thousands.
pub fn shown_decimals(text: &str) -> Option<Decimals> {
    let body = text.trim().trim_start_matches(['-', '−', '+']).trim_start();
    let end = body.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',').unwrap_or(body.len());
    let number = &body[..end];
    let one = |by: char, before: Decimals, other: Decimals| match number.matches(by).count() {
        1 => (!doubtful(number, by)).then_some(before),
        _ => grouped(number, by).then_some(other),
    };
    match (number.rfind(','), number.rfind('.')) {
        (None, None) => None,
        (Some(comma), Some(point)) => Some(if comma > point { Decimals::Comma } else { Decimals::Point }),
        (Some(_), None) => one(',', Decimals::Comma, Decimals::Point),
        (None, Some(_)) => one('.', Decimals::Point, Decimals::Comma),
    }
}

/// Digits in groups of three: `1.234.567`. No such number begins with a zero.
fn grouped(text: &str, by: char) -> bool {
    let mut groups = text.split(by);
    let first = groups.next().unwrap_or_default();
    let begins = (1..=3).contains(&first.len()) && !first.starts_with('0');
    text.contains(by) && begins && groups.all(|group| group.len() == 3)
}

/// A number that is read in two ways by what goes before decimals.
fn doubtful(text: &str, by: char) -> bool {
    text.matches([',', '.']).count() == 1 && grouped(text, by)
}

/// A number whose decimals stand behind a point and whose thousands are told by
/// commas.
fn with_point(text: &str) -> Result<String, String> {
    let (whole, decimals) = text.split_once('.').unwrap_or((text, ""));
    if decimals.contains(',') || whole.contains(',') && !grouped(whole, ',') {
        return Err(format!("found `{text}`; write decimals with a point, as in `{}`", text.replace(',', ".")));
    }
    Ok(text.replace(',', ""))
}

/// A number of a file in which a comma goes before the decimals. A point may do
/// so too, or tell thousands, if it is not seen which: `3.150`.
fn with_comma(text: &str) -> Result<String, String> {
    if let Some((whole, decimals)) = text.split_once(',') {
        if decimals.contains([',', '.']) || whole.contains('.') && !grouped(whole, '.') {
            return Err(format!("found `{text}`; one comma goes before the decimals, as in `1234,5`"));
        }
        return Ok(format!("{}.{decimals}", whole.replace('.', "")));
    }
    match text.matches('.').count() {
        1 if doubtful(text, '.') => Err(two_ways(text, '.', &text.replace('.', ","))),
        count if count > 1 && grouped(text, '.') => Ok(text.replace('.', "")),
        _ => Ok(text.into()),
    }
}

/// A number of a file that shows neither, or both: how it is written tells.
fn with_either(text: &str) -> Result<String, String> {
    for by in [',', '.'] {
        if doubtful(text, by) {
            // With one more digit it is not thousands.
            return Err(two_ways(text, by, &format!("{text}0")));
        }
    }
    match shown_decimals(text) {
        Some(Decimals::Comma) => with_comma(text),
        _ => with_point(text),
    }
}

/// `by` stands before three digits; `decimals` is how the first reading is surely written.
fn two_ways(text: &str, by: char, decimals: &str) -> String {
    let name = if by == ',' { "comma" } else { "point" };
    let whole = text.replace(by, "");
    let read = text.replace(',', ".");
    let read = read.trim_end_matches('0').trim_end_matches('.');
    format!(
        "found `{text}`, which is {read} with a decimal {name} and {whole} with a {name} between thousands; write `{decimals}` or `{whole}`"
    )
}

/// `1/2` or `½` at the start of a text.
fn fraction(text: &str) -> Option<(f64, &str)> {
    const SIGNS: [(char, f64); 7] =
        [('½', 0.5), ('¼', 0.25), ('¾', 0.75), ('⅛', 0.125), ('⅜', 0.375), ('⅝', 0.625), ('⅞', 0.875)];
    let first = text.chars().next()?;
    if let Some((sign, value)) = SIGNS.iter().find(|(sign, _)| *sign == first) {
        return Some((*value, &text[sign.len_utf8()..]));
    }
    let top_end = text.find(|c: char| !c.is_ascii_digit())?;
    let below = text[top_end..].strip_prefix('/')?;
    let bottom_end = below.find(|c: char| !c.is_ascii_digit()).unwrap_or(below.len());
    let (top, bottom): (f64, f64) = (text[..top_end].parse().ok()?, below[..bottom_end].parse().ok()?);
    (bottom > 0.0).then(|| (top / bottom, &below[bottom_end..]))
}
