//! How wide a formula or a run of words is when it is set, from the advances of
//! its characters: so the way in which a line is laid out is chosen here, and
//! the templates measure nothing, which is what makes typesetting slow.
//!
//! It reads the math source that this module's neighbours write, and no other.
//! The result is a bound from above; `tests/typesetting.rs` holds it to what the
//! typesetter measures.

use super::advance::{Face, advance};

/// The width of a formula in display style, in ems of the text it stands in.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Width {
    pub whole: f64,
    /// The widest piece that no line break divides.
    pub piece: f64,
}

/// Of the source of a formula.
pub fn formula_width(src: &str) -> Width {
    let mut reader = Reader { rest: src.trim_start() };
    let run = reader.run(Size::Display, &[]);
    debug_assert!(reader.rest.is_empty(), "`{}` is left of `{src}`", reader.rest);
    Width { whole: run.width, piece: run.piece }
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

/// A part of a formula that has been read.
#[derive(Clone, Copy, Default)]
struct Part {
    width: f64,
    piece: f64,
    tall: bool,
    /// Words keep the blanks beside them.
    words: bool,
}

/// Passes a token, if it is the next one.
pub(super) fn eat(rest: &mut &str, token: &str) -> bool {
    match rest.strip_prefix(token) {
        Some(after) => {
            *rest = after;
            true
        }
        None => false,
    }
}

struct Reader<'a> {
    rest: &'a str,
}

impl Reader<'_> {
    /// Items up to one of some tokens, or the end.
    fn run(&mut self, size: Size, ends: &[&str]) -> Part {
        let em = size.factor();
        let mut run = Part::default();
        let mut piece = 0.0_f64;
        // A minus behind a sign, a space or nothing belongs to what follows.
        let mut prefix = true;
        let mut words = false;
        loop {
            let blank = self.blank();
            if self.rest.is_empty() || ends.iter().any(|end| self.rest.starts_with(end)) {
                break;
            }
            if let Some((glyph, space)) = self.sign(prefix) {
                let space = if size.spaced() { space } else { 0.0 };
                run.width += em * (glyph + 2.0 * space);
                // A line ends behind a sign.
                piece += em * (glyph + space);
                if space > 0.0 {
                    run.piece = run.piece.max(piece);
                    piece = em * space;
                }
                (prefix, words) = (true, false);
                continue;
            }
            if eat(&mut self.rest, "thin") {
                run.width += em * THIN;
                piece += em * THIN;
                (prefix, words) = (true, false);
                continue;
            }
            let item = self.item(size);
            let width = item.width + if blank && !prefix && (words || item.words) { em * BLANK } else { 0.0 };
            run.width += width;
            piece += width;
            run.tall |= item.tall;
            (prefix, words) = (false, item.words);
        }
        run.piece = run.piece.max(piece);
        run.words = words;
        run
    }

    /// Passes blanks; whether there were any.
    fn blank(&mut self) -> bool {
        let before = self.rest.len();
        self.rest = self.rest.trim_start();
        self.rest.len() < before
    }

    /// A sign between two items: its glyph and the space on each side.
    fn sign(&mut self, prefix: bool) -> Option<(f64, f64)> {
        for (token, space) in [
            ("times", MEDIUM),
            ("dot.op", MEDIUM),
            ("lt.eq", THICK),
            ("gt.eq", THICK),
            ("eq.not", THICK),
            ("=", THICK),
            ("<", THICK),
            (">", THICK),
            ("+", MEDIUM),
            ("-", MEDIUM),
        ] {
            if eat(&mut self.rest, token) {
                let glyph = match token {
                    "dot.op" => 0.278,
                    _ => 0.778,
                };
                return Some((glyph, if prefix && token == "-" { 0.0 } else { space }));
            }
        }
        None
    }

    fn item(&mut self, size: Size) -> Part {
        let em = size.factor();
        let plain = |width: f64| Part { width, piece: width, ..Part::default() };
        if self.rest.starts_with('"') {
            return Part { words: true, ..plain(em * text_width(&self.string(), Face::Regular)) };
        }
        if eat(&mut self.rest, "bot") {
            return plain(em * 0.778);
        }
        if eat(&mut self.rest, "parallel") {
            return plain(em * 0.5);
        }
        if eat(&mut self.rest, "prime") || eat(&mut self.rest, "*") {
            return plain(em * 0.5);
        }
        if eat(&mut self.rest, ",") {
            return plain(em * (advance(',', Face::Regular) + THIN));
        }
        if eat(&mut self.rest, "it(") {
            let end = self.rest.find(')').unwrap_or(self.rest.len());
            let width = text_width(&self.rest[..end], Face::Italic);
            self.rest = &self.rest[end..];
            eat(&mut self.rest, ")");
            return plain(em * width);
        }
        if eat(&mut self.rest, "upright(") {
            let inner = self.run(size, &[")"]);
            eat(&mut self.rest, ")");
            return inner;
        }
        if eat(&mut self.rest, "class(\"normal\", comma)") {
            return plain(em * advance(',', Face::Regular));
        }
        if eat(&mut self.rest, "slash") {
            return plain(em * advance('/', Face::Regular));
        }
        if eat(&mut self.rest, "op(") {
            let name = self.string();
            eat(&mut self.rest, ")");
            return plain(em * (text_width(&name, Face::Regular) + THIN));
        }
        if eat(&mut self.rest, "attach(") {
            let base = self.run(size, &[", t:", ", b:", ")"]);
            let mut script = 0.0_f64;
            while eat(&mut self.rest, ", t:") || eat(&mut self.rest, ", b:") {
                script = script.max(self.run(size.in_script(), &[", t:", ", b:", ")"]).width);
            }
            eat(&mut self.rest, ")");
            let width = base.width + script + em * AFTER_SCRIPT;
            return Part { width, piece: width, tall: base.tall, words: false };
        }
        if eat(&mut self.rest, "frac(") {
            let top = self.run(size.in_fraction(), &[","]);
            eat(&mut self.rest, ",");
            let bottom = self.run(size.in_fraction(), &[")"]);
            eat(&mut self.rest, ")");
            let width = top.width.max(bottom.width) + 2.0 * BAR * em;
            return Part { width, piece: width, tall: true, words: false };
        }
        if eat(&mut self.rest, "sqrt(") {
            let inner = self.run(size, &[")"]);
            eat(&mut self.rest, ")");
            let width = inner.width + em * ROOT;
            return Part { width, piece: width, tall: true, words: false };
        }
        if eat(&mut self.rest, "abs(") {
            let inner = self.run(size, &[")"]);
            eat(&mut self.rest, ")");
            let width = inner.width + 2.0 * em * STROKE;
            return Part { width, piece: width, tall: inner.tall, words: false };
        }
        if eat(&mut self.rest, "(") {
            let inner = self.run(size, &[")"]);
            eat(&mut self.rest, ")");
            let width = inner.width + 2.0 * em * if inner.tall { TALL_BRACKET } else { BRACKET };
            return Part { width, piece: width, tall: inner.tall, words: false };
        }
        // The name of a function, and the space behind it.
        let end = self.rest.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(self.rest.len()).max(1);
        let (name, rest) = self.rest.split_at(end.min(self.rest.len()));
        self.rest = rest;
        plain(em * (text_width(name, Face::Regular) + THIN))
    }

    /// A text between quotes.
    fn string(&mut self) -> String {
        let mut text = String::new();
        let mut chars = self.rest.char_indices().skip_while(|(_, c)| *c != '"').skip(1);
        while let Some((at, c)) = chars.next() {
            match c {
                '"' => {
                    self.rest = &self.rest[at + 1..];
                    return text;
                }
                '\\' => text.extend(chars.next().map(|(_, c)| c)),
                _ => text.push(c),
            }
        }
        self.rest = "";
        text
    }
}
