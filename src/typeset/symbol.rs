//! Symbols as the codes print them: `F_c_perp'` is F with the subscript c⊥
//! and a prime.
//!
//! A letter is a plain one in an italic face, which the templates know as `it`,
//! not a character of a mathematical alphabet: so a reader who copies a symbol,
//! or searches for it, has the letters that a keyboard has. A prime stands
//! behind the subscript and not above it, for text is read from left to right.

use super::math::Math;
use super::part::Part;
use super::piece::Piece;

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

/// A symbol of a sheet, or the symbol alone of `sheet.symbol`.
pub fn symbol(name: &str) -> Math {
    named(name).into()
}

/// The same, as a part of a formula.
pub(super) fn named(name: &str) -> Part {
    labelled(name.split_once('.').map_or(name, |(_, name)| name), None)
}

/// The same, told from a symbol of another sheet that is called alike.
pub fn twin_symbol(name: &str) -> Math {
    twin(name).into()
}

/// With a word in the subscript that tells it from its twin: where a sheet is
/// used twice, `geometry-along.C_delta` and `geometry-across.C_delta`.
pub(super) fn twin(name: &str) -> Part {
    match name.split_once('.') {
        Some((sheet, name)) => labelled(name, sheet.rsplit('-').next()),
        None => labelled(name, None),
    }
}

fn labelled(name: &str, label: Option<&str>) -> Part {
    let bare = name.trim_end_matches('\'');
    let primes = name.len() - bare.len();
    let mut parts = bare.split('_');
    let base = parts.next().unwrap_or("");
    // Words, not symbols: `plate_thickness` reads as it is written.
    if base.len() > 2 && greek(base).is_none() {
        let words = bare.replace('_', " ");
        return Part::atom(Piece::Words(words.clone()), words);
    }
    let mut above = Vec::new();
    let mut below = Vec::new();
    let mut alt = vec![base.to_string()];
    let mut subscript = Vec::new();
    for part in parts {
        if part == "star" {
            above.push(Piece::Mark('*'));
            alt.push("star".into());
            continue;
        }
        let joined = matches!(part, "perp" | "par" | "theta");
        if !below.is_empty() && !joined {
            below.push(Piece::Mark(','));
        }
        below.push(letter(part));
        subscript.push(spoken(part));
    }
    if let Some(word) = label {
        if !below.is_empty() {
            below.push(Piece::Mark(','));
        }
        below.push(Piece::Text(word.into()));
        subscript.push(word);
    }
    if !subscript.is_empty() {
        alt.insert(1, format!("sub {}", subscript.join(" ")));
    }
    for _ in 0..primes {
        above.push(Piece::Mark('′'));
        alt.push("prime".into());
    }
    let some = |pieces: Vec<Piece>| (!pieces.is_empty()).then(|| Piece::row(pieces));
    let base = letter(base);
    let piece = match (some(below), some(above)) {
        (None, None) => base,
        (Some(below), Some(above)) => Piece::row([
            Piece::attach(base, Some(below), None),
            Piece::attach(Piece::Text(String::new()), None, Some(above)),
        ]),
        (below, above) => Piece::attach(base, below, above),
    };
    Part::atom(piece, alt.join(" "))
}

/// What is normal to a direction is called `perp` in a stress, `square` where a
/// pattern is told: on paper both have the sign.
fn letter(part: &str) -> Piece {
    let mut chars = part.chars();
    match (part, chars.next(), chars.next()) {
        ("perp" | "square", ..) => Piece::Mark('⊥'),
        ("par", ..) => Piece::Mark('∥'),
        (_, Some(letter), None) if letter.is_alphabetic() => Piece::Letter(letter),
        _ => greek(part).map_or_else(|| Piece::Text(part.into()), Piece::Letter),
    }
}

fn spoken(part: &str) -> &str {
    match part {
        "perp" | "square" => "perpendicular",
        "par" => "parallel",
        _ => part,
    }
}
