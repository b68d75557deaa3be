//! A formula that is one line high as the words that it is: letters, numbers and
//! signs, some of them below or above the line. Such words are set in a third of the time of
//! an equation, and are read out as they stand.

use serde::Serialize;

use super::piece::{Before, Piece};

/// How letters stand: the names are those of `parts.typ`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Stand {
    #[serde(rename = "")]
    Upright,
    #[serde(rename = "i")]
    Italic,
    #[serde(rename = "s")]
    Below,
    #[serde(rename = "t")]
    BelowItalic,
    #[serde(rename = "u")]
    Above,
}

/// Letters that stand alike.
pub type Run = (String, Stand);

/// None where a formula has a fraction, a root, an exponent that is no number, or a
/// bracket for an absolute value.
pub(super) fn line(piece: &Piece) -> Option<Vec<Run>> {
    let mut line = Line { runs: Vec::new(), place: Place::On };
    line.row(piece)?;
    Some(line.runs)
}

#[derive(Clone, Copy, PartialEq)]
enum Place {
    On,
    Below,
    Above,
}

struct Line {
    runs: Vec<Run>,
    place: Place,
}

impl Line {
    fn push(&mut self, text: &str, italic: bool) {
        let stand = match (self.place, italic) {
            _ if text.is_empty() => return,
            (Place::On, false) => Stand::Upright,
            (Place::On, true) => Stand::Italic,
            (Place::Below, false) => Stand::Below,
            (Place::Below, true) => Stand::BelowItalic,
            (Place::Above, _) => Stand::Above,
        };
        match self.runs.last_mut() {
            Some((last, same)) if *same == stand => last.push_str(text),
            _ => self.runs.push((text.to_string(), stand)),
        }
    }

    fn row(&mut self, piece: &Piece) -> Option<()> {
        for (before, piece) in piece.in_row() {
            if before == Before::Blank {
                self.push(" ", false);
            }
            self.piece(before, piece)?;
        }
        Some(())
    }

    fn script(&mut self, place: Place, piece: &Piece) -> Option<()> {
        self.place = place;
        self.row(piece)?;
        self.place = Place::On;
        Some(())
    }

    fn piece(&mut self, before: Before, piece: &Piece) -> Option<()> {
        let on = self.place == Place::On;
        match piece {
            Piece::Text(text) | Piece::Words(text) => self.push(text, false),
            Piece::Letter(letter) => self.push(&letter.to_string(), true),
            Piece::Sign(sign) if !on || (*sign == '−' && before == Before::Start) => {
                self.push(&sign.to_string(), false);
            }
            // A line ends behind a sign.
            Piece::Sign(sign) => self.push(&format!("\u{a0}{sign} "), false),
            Piece::Mark(mark) => self.push(&mark.to_string(), false),
            Piece::Comma => self.push(", ", false),
            Piece::Thin if !on => {}
            Piece::Thin => self.push("\u{a0}", false),
            Piece::Function(name) => self.push(&format!("{name}\u{a0}"), false),
            Piece::Brackets(inner) => {
                self.push("(", false);
                self.row(inner)?;
                self.push(")", false);
            }
            Piece::Attach { base, below, above } if on => {
                self.row(base)?;
                if let Some(below) = below {
                    self.script(Place::Below, below)?;
                }
                if let Some(above) = above {
                    self.above(above)?;
                }
            }
            _ => return None,
        }
        Some(())
    }

    /// Characters that are raised by themselves are copied as what they are: 115² is
    /// not 1152. All else is a number, or one over another.
    fn above(&mut self, piece: &Piece) -> Option<()> {
        if let Some(raised) = raised(piece) {
            self.push(&raised, false);
            return Some(());
        }
        let number =
            |piece: &Piece| matches!(piece, Piece::Text(_) | Piece::Sign('−') | Piece::Mark('/') | Piece::Thin);
        if !piece.in_row().all(|(_, piece)| number(piece)) {
            return None;
        }
        self.script(Place::Above, piece)
    }
}

pub(super) fn raised(piece: &Piece) -> Option<String> {
    let one = |piece: &Piece| match piece {
        Piece::Mark(mark @ ('′' | '*')) => Some(*mark),
        Piece::Text(number) if number == "2" => Some('²'),
        Piece::Text(number) if number == "3" => Some('³'),
        _ => None,
    };
    piece.in_row().map(|(_, piece)| one(piece)).collect()
}
