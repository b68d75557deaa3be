//! How wide a formula or a run of words is when it is set, from the advances of
//! its characters: so the way in which a line is laid out is chosen here, and
//! the templates measure nothing, which is what makes typesetting slow.
//! The result is a bound from above; `tests/typesetting.rs` holds it to what the
//! typesetter measures.

use super::advance::{Face, advance};
use super::piece::{Before, Piece};

/// The width of a formula in display style, in ems of the text it stands in.
#[derive(Clone, Copy)]
pub(super) struct Width {
    pub whole: f64,
    /// The widest piece that no line break divides.
    pub piece: f64,
}

/// Of a formula.
pub(super) fn formula_width(piece: &Piece) -> Width {
    let Extent { whole, piece, .. } = row(piece, Size::Display);
    Width { whole, piece }
}

/// Of a run of words, in ems.
pub fn text_width(text: &str, face: Face) -> f64 {
    text.chars().map(|c| advance(c, face)).sum()
}

/// The sizes of a formula's parts.
#[derive(Clone, Copy, PartialEq)]
enum Size {
    Display,
    Text,
    Script,
    ScriptScript,
}

impl Size {
    fn factor(self) -> f64 {
        match self {
            Size::Display | Size::Text => 1.0,
            Size::Script => 0.7,
            Size::ScriptScript => 0.5,
        }
    }

    fn in_fraction(self) -> Size {
        match self {
            Size::Display => Size::Text,
            Size::Text => Size::Script,
            _ => Size::ScriptScript,
        }
    }

    fn in_script(self) -> Size {
        if self.spaced() { Size::Script } else { Size::ScriptScript }
    }

    /// Signs in an exponent have no space around them.
    fn spaced(self) -> bool {
        matches!(self, Size::Display | Size::Text)
    }
}

/// What the typesetter puts around signs, in ems.
/// A formula that is a line of words has whole blanks there.
const THIN: f64 = 0.25;
const MEDIUM: f64 = 0.25;
const THICK: f64 = 5.0 / 18.0;
/// A blank of the source beside words.
const BLANK: f64 = 0.332;
/// At the ends of a fraction's bar, each.
const BAR: f64 = 0.1;
/// Behind a subscript or an exponent.
const AFTER_SCRIPT: f64 = 0.056;
/// A root's sign at its widest.
const ROOT: f64 = 1.06;
/// A bracket around what is one line high, and at its widest.
const BRACKET: f64 = 0.39;
const TALL_BRACKET: f64 = 0.86;
const STROKE: f64 = 0.34;

/// What a part of a formula takes.
#[derive(Clone, Copy, Default)]
struct Extent {
    whole: f64,
    piece: f64,
    tall: bool,
}

impl Extent {
    fn undivided(whole: f64, tall: bool) -> Extent {
        Extent { whole, piece: whole, tall }
    }
}

fn row(piece: &Piece, size: Size) -> Extent {
    let em = size.factor();
    let mut row = Extent::default();
    let mut piece_width = 0.0_f64;
    for (before, piece) in piece.in_row() {
        if let Piece::Sign(sign) = piece {
            let (glyph, space) = around(*sign);
            let prefix = *sign == '−' && before == Before::Start;
            let space = if prefix || !size.spaced() { 0.0 } else { space };
            row.whole += em * (glyph + 2.0 * space);
            // A line ends behind a sign.
            piece_width += em * (glyph + space);
            if space > 0.0 {
                row.piece = row.piece.max(piece_width);
                piece_width = em * space;
            }
            continue;
        }
        let extent = of(piece, size);
        let width = extent.whole + if before == Before::Blank { em * BLANK } else { 0.0 };
        row.whole += width;
        piece_width += width;
        row.tall |= extent.tall;
    }
    row.piece = row.piece.max(piece_width);
    row
}

/// A sign's glyph and the space on each side.
fn around(sign: char) -> (f64, f64) {
    match sign {
        '·' => (0.278, MEDIUM),
        '+' | '−' | '×' => (0.778, MEDIUM),
        _ => (0.778, THICK),
    }
}

fn of(piece: &Piece, size: Size) -> Extent {
    let em = size.factor();
    let plain = |width: f64| Extent::undivided(em * width, false);
    match piece {
        Piece::Text(text) | Piece::Words(text) => plain(text_width(text, Face::Regular)),
        Piece::Letter(letter) => plain(advance(*letter, Face::Italic)),
        Piece::Mark('′' | '*') => plain(0.5),
        Piece::Mark(mark) => plain(advance(*mark, Face::Regular)),
        Piece::Comma => plain(advance(',', Face::Regular) + THIN),
        Piece::Thin => plain(THIN),
        Piece::Function(name) => plain(text_width(name, Face::Regular) + THIN),
        Piece::Attach { base, below, above } => {
            let base = row(base, size);
            let scripts = [below, above].into_iter().flatten().map(|piece| row(piece, size.in_script()).whole);
            Extent::undivided(base.whole + scripts.fold(0.0, f64::max) + em * AFTER_SCRIPT, base.tall)
        }
        Piece::Fraction(top, bottom) => {
            let [top, bottom] = [top, bottom].map(|piece| row(piece, size.in_fraction()).whole);
            Extent::undivided(top.max(bottom) + 2.0 * BAR * em, true)
        }
        Piece::Root(inner) => Extent::undivided(row(inner, size).whole + em * ROOT, true),
        Piece::Absolute(inner) => {
            let inner = row(inner, size);
            Extent::undivided(inner.whole + 2.0 * em * STROKE, inner.tall)
        }
        Piece::Brackets(inner) => {
            let inner = row(inner, size);
            let bracket = if inner.tall { TALL_BRACKET } else { BRACKET };
            Extent::undivided(inner.whole + 2.0 * em * bracket, inner.tall)
        }
        Piece::Sign(_) | Piece::Row(_) => row(piece, size),
    }
}
