//! A formula in the source of the typesetter's math mode, for `eval`: all that is
//! text in it stands between quotes, so nothing of a job is read as source.

use super::line::raised;
use super::piece::{Before, Piece};

pub(super) fn source(piece: &Piece) -> String {
    match piece {
        Piece::Text(text) => quoted(text),
        Piece::Words(words) => format!("upright({})", quoted(words)),
        Piece::Letter(letter) => format!("it({letter})"),
        Piece::Sign('·') => "dot.op".into(),
        Piece::Mark('/') => "slash".into(),
        // Without the space behind a comma of a list.
        Piece::Mark(',') => "class(\"normal\", comma)".into(),
        Piece::Sign(c) | Piece::Mark(c) => c.to_string(),
        Piece::Comma => ",".into(),
        Piece::Thin => "thin".into(),
        Piece::Function(name) => format!("op(\"{name}\")"),
        Piece::Fraction(top, bottom) => format!("frac({}, {})", source(top), source(bottom)),
        Piece::Root(inner) => format!("sqrt({})", source(inner)),
        Piece::Absolute(inner) => format!("abs({})", source(inner)),
        Piece::Brackets(inner) => format!("({})", source(inner)),
        Piece::Attach { base, below, above } => {
            // Copied, a small 2 that is set higher is a 2 like others. A bracket around what
            // is more than a line high needs one, at its top.
            let raised = above.as_deref().filter(|_| !base.is_tall()).and_then(raised);
            let raised = raised.filter(|signs| signs.chars().all(|sign| "²³".contains(sign)));
            let script = |side, piece: Option<&Piece>| {
                piece.map_or(String::new(), |piece| format!(", {side}: {}", source(piece)))
            };
            let above = above.as_deref().filter(|_| raised.is_none());
            let scripts = script('b', below.as_deref()) + &script('t', above);
            let base = source(base);
            let base = if scripts.is_empty() { base } else { format!("attach({base}{scripts})") };
            base + raised.as_deref().unwrap_or("")
        }
        Piece::Row(_) => {
            let mut src = String::new();
            for (before, piece) in piece.in_row() {
                if !src.is_empty() && before != Before::Close {
                    src.push(' ');
                }
                src.push_str(&source(piece));
            }
            src
        }
    }
}

fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}
