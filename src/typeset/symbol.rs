//! Symbols as the codes print them: `F_c_perp'` is F with the subscript c⊥
//! and a prime.
//!
//! A letter is a plain one in an italic face, which the templates know as `it`,
//! not a character of a mathematical alphabet: so a reader who copies a symbol,
//! or searches for it, has the letters that a keyboard has. A prime stands
//! behind the subscript and not above it, for text is read from left to right.

use super::Math;
use super::math::quoted;

#[rustfmt::skip]
const GREEK: &[(&str, char)] = &[
    ("alpha", 'α'), ("beta", 'β'), ("gamma", 'γ'), ("delta", 'δ'), ("epsilon", 'ε'), ("eta", 'η'),
    ("theta", 'θ'), ("kappa", 'κ'), ("lambda", 'λ'), ("mu", 'μ'), ("nu", 'ν'), ("xi", 'ξ'),
    ("pi", 'π'), ("rho", 'ρ'), ("sigma", 'σ'), ("tau", 'τ'), ("phi", 'φ'), ("psi", 'ψ'),
    ("omega", 'ω'), ("Gamma", 'Γ'), ("Delta", 'Δ'), ("Theta", 'Θ'), ("Lambda", 'Λ'), ("Sigma", 'Σ'),
    ("Phi", 'Φ'), ("Psi", 'Ψ'), ("Omega", 'Ω'),
];

fn greek(name: &str) -> Option<char> {
    GREEK.iter().find(|(known, _)| *known == name).map(|(_, letter)| *letter)
}

/// Between two subscripts, without the space behind a comma of a list.
const COMMA: &str = "class(\"normal\", comma)";

/// A symbol of a sheet, or the symbol alone of `sheet.symbol`.
pub fn symbol(name: &str) -> Math {
    labelled(name.split_once('.').map_or(name, |(_, name)| name), None)
}

/// With a word in the subscript that tells it from its twin: where a sheet is
/// used twice, `geometry-along.C_delta` and `geometry-across.C_delta`.
pub(super) fn twin(name: &str) -> Math {
    match name.split_once('.') {
        Some((sheet, name)) => labelled(name, sheet.rsplit('-').next()),
        None => labelled(name, None),
    }
}

fn labelled(name: &str, label: Option<&str>) -> Math {
    let bare = name.trim_end_matches('\'');
    let primes = name.len() - bare.len();
    let mut parts = bare.split('_');
    let base = parts.next().unwrap_or("");
    // Words, not symbols: `plate_thickness` reads as it is written.
    if base.len() > 2 && greek(base).is_none() {
        let words = bare.replace('_', " ");
        return Math::new(format!("upright(\"{words}\")"), words);
    }
    let mut over: Vec<&str> = Vec::new();
    let mut below: Vec<String> = Vec::new();
    let mut alt = vec![base.to_string()];
    let mut subscript = Vec::new();
    for part in parts {
        if part == "star" {
            over.push("*");
            alt.push("star".into());
            continue;
        }
        let joined = matches!(part, "perp" | "par" | "theta");
        if !below.is_empty() && !joined {
            below.push(COMMA.into());
        }
        below.push(letter(part));
        subscript.push(spoken(part));
    }
    if let Some(word) = label {
        if !below.is_empty() {
            below.push(COMMA.into());
        }
        below.push(format!("\"{word}\""));
        subscript.push(word.to_string());
    }
    if !subscript.is_empty() {
        alt.insert(1, format!("sub {}", subscript.join(" ")));
    }
    for _ in 0..primes {
        over.push("prime");
        alt.push("prime".into());
    }
    let base = letter(base);
    let (below, over) = (below.join(" "), over.join(" "));
    let src = match (below.is_empty(), over.is_empty()) {
        (true, true) => base,
        (true, false) => format!("attach({base}, t: {over})"),
        (false, true) => format!("attach({base}, b: {below})"),
        (false, false) => format!("attach({base}, b: {below})attach(\"\", t: {over})"),
    };
    Math::new(src, alt.join(" "))
}

/// What is normal to a direction is called `perp` in a stress, `square` where a
/// pattern is told: on paper both have the sign.
fn letter(part: &str) -> String {
    match part {
        "perp" | "square" => "bot".into(),
        "par" => "parallel".into(),
        _ if part.chars().count() == 1 && part.chars().all(char::is_alphabetic) => format!("it({part})"),
        _ => greek(part).map_or_else(|| quoted(part), |letter| format!("it({letter})")),
    }
}

fn spoken(part: &str) -> String {
    match part {
        "perp" | "square" => "perpendicular".into(),
        "par" => "parallel".into(),
        _ => part.into(),
    }
}
