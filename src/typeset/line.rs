//! A formula that is one line high as the words that it is: letters, numbers and
//! signs, some of them below the line. Such words are set in a third of the time of
//! an equation, and are read out as they stand.
//!
//! It reads the math source that this module's neighbours write, and no other.

use serde::Serialize;

use super::width::eat;

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
pub fn line(src: &str) -> Option<Vec<Run>> {
    let mut reader = Reader { rest: src.trim_start(), runs: Vec::new() };
    reader.run(false, &[])?;
    Some(reader.runs)
}

/// A line ends behind a sign.
const SIGNS: [(&str, &str); 10] = [
    ("times", "\u{a0}× "),
    ("dot.op", "\u{a0}· "),
    ("lt.eq", "\u{a0}≤ "),
    ("gt.eq", "\u{a0}≥ "),
    ("eq.not", "\u{a0}≠ "),
    ("=", "\u{a0}= "),
    ("<", "\u{a0}< "),
    (">", "\u{a0}> "),
    ("+", "\u{a0}+ "),
    ("-", "\u{a0}− "),
];

struct Reader<'a> {
    rest: &'a str,
    runs: Vec<Run>,
}

impl<'a> Reader<'a> {
    /// What stands before some token, which is passed too.
    fn before(&mut self, token: &str) -> Option<&'a str> {
        let (before, rest) = self.rest.split_once(token)?;
        self.rest = rest;
        Some(before)
    }

    fn push(&mut self, text: &str, stand: Stand) {
        match self.runs.last_mut() {
            Some((last, same)) if *same == stand => last.push_str(text),
            _ => self.runs.push((text.to_string(), stand)),
        }
    }

    /// Items up to one of some tokens, or the end.
    fn run(&mut self, below: bool, ends: &[&str]) -> Option<()> {
        let upright = if below { Stand::Below } else { Stand::Upright };
        // A minus behind a sign, a space or nothing belongs to what follows.
        let mut prefix = true;
        let mut words = false;
        loop {
            let blank = self.rest.starts_with(' ');
            self.rest = self.rest.trim_start();
            if self.rest.is_empty() || ends.iter().any(|end| self.rest.starts_with(end)) {
                return Some(());
            }
            if let Some((token, sign)) = SIGNS.iter().find(|(token, _)| self.rest.starts_with(token)) {
                eat(&mut self.rest, token);
                let bare = below || (prefix && *token == "-");
                self.push(if bare { sign.trim() } else { sign }, upright);
                (prefix, words) = (true, false);
                continue;
            }
            if eat(&mut self.rest, "thin") {
                if !below {
                    self.push("\u{a0}", upright);
                }
                (prefix, words) = (true, false);
                continue;
            }
            // Words keep the blanks beside them.
            let word = self.rest.starts_with('"') || self.rest.starts_with("upright(");
            if blank && !prefix && (words || word) {
                self.push(" ", upright);
            }
            self.item(below)?;
            (prefix, words) = (false, word);
        }
    }

    fn item(&mut self, below: bool) -> Option<()> {
        let (upright, italic) = match below {
            true => (Stand::Below, Stand::BelowItalic),
            false => (Stand::Upright, Stand::Italic),
        };
        if self.rest.starts_with('"') {
            let text = self.string()?;
            self.push(&text, upright);
        } else if eat(&mut self.rest, "it(") {
            let letter = self.before(")")?;
            self.push(letter, italic);
        } else if eat(&mut self.rest, "upright(") {
            self.run(below, &[")"])?;
            eat(&mut self.rest, ")");
        } else if eat(&mut self.rest, "class(\"normal\", comma)") {
            self.push(",", upright);
        } else if eat(&mut self.rest, ",") {
            self.push(", ", upright);
        } else if eat(&mut self.rest, "slash") {
            self.push("/", upright);
        } else if eat(&mut self.rest, "op(") {
            let name = self.string()?;
            eat(&mut self.rest, ")");
            self.push(&format!("{name}\u{a0}"), upright);
        } else if !below && eat(&mut self.rest, "attach(") {
            self.run(false, &[", t:", ", b:", ")"])?;
            if eat(&mut self.rest, ", b:") {
                self.run(true, &[", t:", ")"])?;
            }
            return eat(&mut self.rest, ")").then_some(());
        } else if eat(&mut self.rest, "(") {
            self.push("(", upright);
            self.run(below, &[")"])?;
            eat(&mut self.rest, ")");
            self.push(")", upright);
        } else {
            // The name of a function before its bracket; all else is no line.
            let end = self.rest.find(|c: char| !c.is_ascii_alphabetic())?;
            let (name, rest) = self.rest.split_at(end);
            if name.is_empty() || !rest.starts_with(" (") {
                return None;
            }
            self.rest = rest;
            self.push(&format!("{name}\u{a0}"), upright);
        }
        Some(())
    }

    /// A text between quotes.
    fn string(&mut self) -> Option<String> {
        let mut text = String::new();
        let mut chars = self.rest.char_indices().skip(1);
        while let Some((at, c)) = chars.next() {
            match c {
                '"' => {
                    self.rest = &self.rest[at + 1..];
                    return Some(text);
                }
                '\\' => text.extend(chars.next().map(|(_, c)| c)),
                _ => text.push(c),
            }
        }
        None
    }
}
