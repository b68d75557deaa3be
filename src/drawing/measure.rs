//! Lengths, forces and angles as a drawing prints them.

/// To the nearest sixteenth, the least that a tape shows: `7 1/2″`, from two
/// feet on `8′-0 3/16″`. What is not a sixteenth is marked `±`.
pub fn length(inches: f64) -> String {
    if inches < 0.0 {
        return format!("−{}", length(-inches));
    }
    let sixteenths = (inches * 16.0).round() as i64;
    let text = if sixteenths >= 24 * 16 { feet_and_inches(inches / 12.0) } else { parts(sixteenths, 16) };
    if on_a_tape(inches) { text } else { format!("{text} ±") }
}

/// A size that is bought, bored or milled, not measured on site: drills come in
/// thirty-seconds, and other decimals stay.
pub fn size(inches: f64) -> String {
    if on_a_tape(inches) {
        return length(inches);
    }
    if is_whole(inches * 32.0) {
        return parts((inches * 32.0).round() as i64, 32);
    }
    let text = format!("{inches:.3}");
    format!("{}″", text.trim_end_matches('0'))
}

/// To the nearest sixteenth: `12′-6″`, `8′-0 3/16″`.
pub fn feet_and_inches(feet: f64) -> String {
    let sixteenths = (feet * 192.0).round() as i64;
    let (feet, inches) = (sixteenths / 192, sixteenths % 192 / 16);
    match fraction(sixteenths % 16, 16) {
        Some(fraction) => format!("{feet}′-{inches} {fraction}″"),
        None => format!("{feet}′-{inches}″"),
    }
}

/// `2,310`
pub fn whole(value: f64) -> String {
    let digits = format!("{:.0}", value.abs());
    let mut text = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    if value < 0.0 && digits != "0" { format!("−{text}") } else { text }
}

/// `2,310 lbf`
pub fn pounds(force: f64) -> String {
    format!("{} lbf", whole(force))
}

/// `14.6°`
pub fn degrees(angle: f64) -> String {
    let text = format!("{angle:.1}");
    format!("{}°", text.trim_end_matches('0').trim_end_matches('.'))
}

/// Nothing is drawn or dimensioned that is thinner than this.
pub(super) const HAIR: f64 = 1.0 / 64.0;

fn on_a_tape(inches: f64) -> bool {
    is_whole(inches * 16.0)
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
