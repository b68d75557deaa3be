//! A formula that is one line high as the words that it is: letters, numbers and
//! signs, some of them below the line. Such words are set in a third of the time of
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
}

/// Letters that stand alike.
pub type Run = (String, Stand);

/// None where a formula has a fraction, a root, an exponent, a bracket for an
/// absolute value, or a sign that only a face for mathematics has.
pub(super) fn line(piece: &Piece) -> Option<Vec<Run>> {
    let mut line = Line { runs: Vec::new(), below: false };
    line.row(piece)?;
    Some(line.runs)
}

struct Line {
    runs: Vec<Run>,
    below: bool,
}

impl Line {
    fn push(&mut self, text: &str, italic: bool) {
        let stand = match (self.below, italic) {
            (false, false) => Stand::Upright,
            (false, true) => Stand::Italic,
            (true, false) => Stand::Below,
            (true, true) => Stand::BelowItalic,
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

    fn piece(&mut self, before: Before, piece: &Piece) -> Option<()> {
        match piece {
            Piece::Text(text) | Piece::Words(text) => self.push(text, false),
            Piece::Letter(letter) => self.push(&letter.to_string(), true),
            Piece::Sign(sign) if self.below || (*sign == '−' && before == Before::Start) => {
                self.push(&sign.to_string(), false);
            }
            // A line ends behind a sign.
            Piece::Sign(sign) => self.push(&format!("\u{a0}{sign} "), false),
            Piece::Mark(mark @ ('/' | ',')) => self.push(&mark.to_string(), false),
            Piece::Comma => self.push(", ", false),
            Piece::Thin if self.below => {}
            Piece::Thin => self.push("\u{a0}", false),
            Piece::Function(name) => self.push(&format!("{name}\u{a0}"), false),
            Piece::Brackets(inner) => {
                self.push("(", false);
                self.row(inner)?;
                self.push(")", false);
            }
            Piece::Attach { base, below, above: None } if !self.below => {
                self.row(base)?;
                if let Some(below) = below {
                    self.below = true;
                    self.row(below)?;
                    self.below = false;
                }
            }
            _ => return None,
        }
        Some(())
    }
}
