//! Parts of a formula, which go together to larger ones.

use super::piece::Piece;
use crate::formula::{BinOp, PREFIX_PRECEDENCE};
use crate::quantity::{INPUT_DIGITS, measured, number};

/// A part of a formula: how it is laid out, what a screen reader says, and the
/// precedence of its outermost operator.
pub(super) struct Part {
    pub piece: Piece,
    pub alt: String,
    pub precedence: u8,
}

pub(super) const ATOM: u8 = u8::MAX;

impl Part {
    pub fn atom(piece: Piece, alt: impl Into<String>) -> Part {
        Part { piece, alt: alt.into(), precedence: ATOM }
    }

    /// A text as it stands.
    pub fn text(text: &str) -> Part {
        Part::atom(Piece::Text(text.into()), text)
    }

    /// In brackets where a looser operator stands in a tighter one.
    pub fn within(self, least: u8) -> Part {
        if self.precedence >= least { self } else { self.in_brackets() }
    }

    pub fn in_brackets(self) -> Part {
        let alt = format!("open bracket {} close bracket", self.alt);
        Part::atom(Piece::Brackets(Box::new(self.piece)), alt)
    }

    pub fn negated(self) -> Part {
        let piece = Piece::row([Piece::Sign('−'), self.piece]);
        Part { piece, alt: format!("minus {}", self.alt), precedence: PREFIX_PRECEDENCE }
    }

    /// Two parts with a sign between them.
    pub fn and(self, sign: Piece, word: &str, other: Part, precedence: u8) -> Part {
        let piece = Piece::row([self.piece, sign, other.piece]);
        Part { piece, alt: format!("{} {word} {}", self.alt, other.alt), precedence }
    }

    /// Whether a minus stands first.
    pub fn is_negative(&self) -> bool {
        match self.piece.first() {
            Some(Piece::Sign(sign)) => *sign == '−',
            Some(Piece::Text(text)) => text.starts_with('−'),
            _ => false,
        }
    }
}

/// A number of a formula.
pub(super) fn constant(value: f64) -> Part {
    match (value - std::f64::consts::PI).abs() < 1e-9 {
        true => Part::atom(Piece::Letter('π'), "pi"),
        false => plain(&number(value, INPUT_DIGITS)),
    }
}

pub(super) fn plain(number: &str) -> Part {
    let alt = number.replace('−', "minus ").replace(',', "");
    let precedence = if number.starts_with('−') { PREFIX_PRECEDENCE } else { ATOM };
    Part { piece: Piece::Text(number.into()), alt, precedence }
}

/// A number and its unit bind like a product: they need brackets under a power.
pub(super) fn with_unit(number: &str, unit: &str) -> Part {
    let bare = plain(number);
    if unit.is_empty() {
        return bare;
    }
    let precedence = bare.precedence.min(BinOp::Mul.precedence() + 1);
    let alt = measured(&bare.alt, unit);
    let words = Piece::Words(unit.into());
    let piece = match unit {
        "°" => Piece::row([bare.piece, words]),
        _ => Piece::row([bare.piece, Piece::Thin, words]),
    };
    Part { piece, alt, precedence }
}
