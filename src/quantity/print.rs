//! Numbers as a reader wants them: a few significant digits, thousands set
//! off by commas, never an exponent.
/// Significant digits of a worked result.
pub const RESULT_DIGITS: usize = 4;
/// Significant digits of a value that was given: enough to print it as typed.
pub const INPUT_DIGITS: usize = 7;

/// As many digits as a value that was given is printed with: all that were
/// typed, or, where it was converted or worked out, those of a result.
pub fn given_digits(value: f64) -> usize {
    let exponent = if value == 0.0 { 0 } else { libm::floor(libm::log10(value.abs())) as i32 };
    let size = libm::pow(10.0, f64::from(INPUT_DIGITS as i32 - 1 - exponent));
    let typed = ((value * size).round() / size - value).abs() <= 1e-12 * value.abs();
    if typed { INPUT_DIGITS } else { RESULT_DIGITS }
}

/// `value` to so many significant digits: `1,160`, `0.9874`, `1,235,000`.
/// Zeros at the end of the decimals are left off.
pub fn number(value: f64, digits: usize) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value.is_finite() { "0".into() } else { "–".into() };
    }
    // The exponent of the rounded value: 0.99996 to four digits is 1.
    let rounded = format!("{:.*e}", digits.saturating_sub(1), value);
    let exponent: i32 = rounded.split('e').nth(1).and_then(|e| e.parse().ok()).unwrap_or(0);
    let decimals = digits as i32 - 1 - exponent;
    if decimals > 0 {
        let text = number_fixed(value, decimals as usize);
        text.trim_end_matches('0').trim_end_matches('.').to_string()
    } else {
        let rounded: f64 = rounded.parse().unwrap_or(value);
        number_fixed(rounded, 0)
    }
}

/// A number with its unit behind it; the sign for degrees stands close: `8 lbf`, `30°`.
pub fn measured(number: &str, unit: &str) -> String {
    match unit {
        "" => number.into(),
        "°" => format!("{number}°"),
        _ => format!("{number} {unit}"),
    }
}

/// With a fixed number of decimals: `1,160.0`.
pub fn number_fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let (sign, digits) = match text.strip_prefix('-') {
        Some(digits) if digits.chars().any(|c| c.is_ascii_digit() && c != '0') => ("−", digits),
        Some(digits) => ("", digits),
        None => ("", text.as_str()),
    };
    let (whole, rest) = digits.split_at(digits.find('.').unwrap_or(digits.len()));
    let mut grouped = String::new();
    for (at, digit) in whole.chars().enumerate() {
        if at > 0 && (whole.len() - at).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    format!("{sign}{grouped}{rest}")
}
