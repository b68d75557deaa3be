//! A sum of factored loads, as the combinations of a code are made.

use super::math::{Math, Piece, finish, plain, with_unit};
use super::pocket::Shown;

/// `0.6 × 1,234 lbf − 0.7 × 250 lbf`; none of no terms.
pub fn factored(terms: &[(String, Shown)]) -> Option<Math> {
    let mut sum: Option<Piece> = None;
    for (factor, load) in terms {
        let (sign, factor) = match factor.strip_prefix('−') {
            Some(factor) => ("-", factor),
            None => ("+", factor.as_str()),
        };
        let load = with_unit(&load.number, &load.unit);
        let load = if load.src.starts_with("\"−") {
            Piece::atom(format!("({})", load.src), format!("open bracket {} close bracket", load.alt))
        } else {
            load
        };
        let term = if factor == "1" {
            load
        } else {
            let factor = plain(factor);
            Piece::atom(format!("{} times {}", factor.src, load.src), format!("{} times {}", factor.alt, load.alt))
        };
        let word = if sign == "-" { "minus" } else { "plus" };
        sum = Some(match sum {
            None if sign == "-" => Piece::atom(format!("-{}", term.src), format!("minus {}", term.alt)),
            None => term,
            Some(sum) => {
                Piece::atom(format!("{} {sign} {}", sum.src, term.src), format!("{} {word} {}", sum.alt, term.alt))
            }
        });
    }
    sum.map(finish)
}
