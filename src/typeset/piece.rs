//! How a formula is laid out, as a tree: what stands beside, above and below what.
//! `source` writes it for the typesetter, `line` as words where it is one line high,
//! `width` says how much room it takes; none of them reads what another wrote.

use std::slice;

#[derive(Clone, Debug)]
pub(super) enum Piece {
    /// A number, or a text as it stands in a job: upright.
    Text(String),
    /// A unit, or a word of the formula: upright too.
    Words(String),
    /// A letter of a symbol: italic.
    Letter(char),
    /// `+ − × · = ≠ < > ≤ ≥`, with space on both sides, but for a minus that belongs
    /// to what follows it.
    Sign(char),
    /// `/ , ⊥ ∥ ′ *`, without space.
    Mark(char),
    /// Of a list, with space behind it.
    Comma,
    /// The narrow space between two factors, and between a number and its unit.
    Thin,
    /// The name of a function, with space behind it.
    Function(&'static str),
    Fraction(Box<Piece>, Box<Piece>),
    Root(Box<Piece>),
    Absolute(Box<Piece>),
    Brackets(Box<Piece>),
    /// What is above stands to the right of the base, and what is below too.
    Attach {
        base: Box<Piece>,
        below: Option<Box<Piece>>,
        above: Option<Box<Piece>>,
    },
    /// Pieces side by side, none of them a row itself.
    Row(Vec<Piece>),
}

/// What is between a piece of a row and the one before it.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Before {
    /// The row begins here, or again behind a sign, a comma or a space: a minus is a prefix.
    Start,
    /// Words keep the blanks beside them.
    Blank,
    /// These would, and must not.
    Close,
    Nothing,
}

impl Piece {
    pub fn row(pieces: impl IntoIterator<Item = Piece>) -> Piece {
        let mut row = Vec::new();
        for piece in pieces {
            match piece {
                Piece::Row(more) => row.extend(more),
                one => row.push(one),
            }
        }
        Piece::Row(row)
    }

    pub fn attach(base: Piece, below: Option<Piece>, above: Option<Piece>) -> Piece {
        Piece::Attach { base: Box::new(base), below: below.map(Box::new), above: above.map(Box::new) }
    }

    /// The pieces of a row, or this one.
    fn pieces(&self) -> &[Piece] {
        match self {
            Piece::Row(pieces) => pieces,
            one => slice::from_ref(one),
        }
    }

    pub fn first(&self) -> Option<&Piece> {
        self.pieces().first()
    }

    /// More than one line high.
    pub fn is_tall(&self) -> bool {
        match self {
            Piece::Fraction(..) | Piece::Root(_) => true,
            Piece::Absolute(inner) | Piece::Brackets(inner) => inner.is_tall(),
            Piece::Attach { base, .. } => base.is_tall(),
            Piece::Row(pieces) => pieces.iter().any(Piece::is_tall),
            _ => false,
        }
    }

    /// The pieces of a row, or this one, each with what is before it.
    pub fn in_row(&self) -> impl Iterator<Item = (Before, &Piece)> {
        let mut last: Option<(Before, &Piece)> = None;
        self.pieces().iter().map(move |piece| {
            let before = match (last, piece) {
                (None, _) => Before::Start,
                (Some((Before::Start, Piece::Sign('−'))), _) => Before::Close,
                (Some((_, Piece::Sign(_) | Piece::Comma | Piece::Thin)), _) => Before::Start,
                (_, Piece::Sign(_) | Piece::Thin) => Before::Nothing,
                (_, Piece::Comma | Piece::Mark(_)) | (Some((_, Piece::Mark(_))), _) => Before::Close,
                (_, Piece::Words(words)) if words.starts_with([',', '°']) => Before::Close,
                (_, Piece::Text(_) | Piece::Words(_)) | (Some((_, Piece::Text(_) | Piece::Words(_))), _) => {
                    Before::Blank
                }
                _ => Before::Nothing,
            };
            last = Some((before, piece));
            (before, piece)
        })
    }
}
