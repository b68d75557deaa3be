//! A sum of factored loads, as the combinations of a code are made.

use super::math::Math;
use super::part::{Part, plain, with_unit};
use super::piece::Piece;
use super::pocket::Shown;

/// `0.6 × 1,234 lbf − 0.7 × 250 lbf`; none of no terms.
pub fn factored(terms: &[(String, Shown)]) -> Option<Math> {
    let mut sum: Option<Part> = None;
    for (factor, load) in terms {
        let (sign, word, factor) = match factor.strip_prefix('−') {
            Some(factor) => ('−', "minus", factor),
            None => ('+', "plus", factor.as_str()),
        };
        let load = with_unit(&load.number, &load.unit);
        let load = if load.is_negative() { load.in_brackets() } else { load };
        let term = match factor {
            "1" => load,
            factor => plain(factor).and(Piece::Sign('×'), "times", load, 0),
        };
        sum = Some(match sum {
            None if sign == '−' => term.negated(),
            None => term,
            Some(sum) => sum.and(Piece::Sign(sign), word, term, 0),
        });
    }
    sum.map(Math::from)
}
