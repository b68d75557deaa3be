//! Tokens of a formula or a sheet statement, read one at a time so that the
//! parser can take raw text (a citation) where it expects some.

use std::ops::Range;
use std::sync::Arc;

use crate::diag::Diagnostic;
use crate::source::{Place, Source};

#[derive(Clone, Debug, PartialEq)]
pub enum Token {
    Number(f64),
    /// `F_c'`, `pin-yield.Z`, `let`.
    Word(String),
    /// `"mode Im: plate"`.
    Text(String),
    /// `+ - * / ^ ( ) [ ] , < <= > >= = ..`
    Sign(&'static str),
    End,
}

impl Token {
    /// As a diagnostic speaks of it.
    pub fn describe(&self) -> String {
        match self {
            Token::Number(value) => format!("`{value}`"),
            Token::Word(word) => format!("`{word}`"),
            Token::Text(text) => format!("`\"{text}\"`"),
            Token::Sign(sign) => format!("`{sign}`"),
            Token::End => "the end of the line".into(),
        }
    }
}

const SIGNS: [&str; 17] = ["<=", ">=", "..", "+", "-", "*", "/", "^", "(", ")", "[", "]", ",", "<", ">", "=", ":"];

/// Reads tokens from a stretch of a source; line ends inside it are blanks.
#[derive(Clone)]
pub struct Lexer<'a> {
    source: &'a Arc<Source>,
    at: usize,
    end: usize,
}

impl<'a> Lexer<'a> {
    pub fn new(source: &'a Arc<Source>, span: Range<usize>) -> Lexer<'a> {
        Lexer { source, at: span.start, end: span.end }
    }

    fn rest(&self) -> &'a str {
        &self.source.text[self.at..self.end]
    }

    fn skip_blanks(&mut self) {
        self.at = self.end - self.rest().trim_start().len();
    }

    pub fn place(&self, span: Range<usize>) -> Place {
        Place::new(self.source, span)
    }

    /// The next token and its span.
    ///
    /// # Errors
    /// A character that starts no token, a text without its closing quote.
    pub fn token(&mut self) -> Result<(Token, Range<usize>), Diagnostic> {
        self.skip_blanks();
        let start = self.at;
        let rest = self.rest();
        let Some(first) = rest.chars().next() else { return Ok((Token::End, start..start)) };
        let (token, length) = if first.is_ascii_digit() {
            self.number(rest)?
        } else if first.is_alphabetic() {
            let length = word_length(rest);
            (Token::Word(rest[..length].into()), length)
        } else if first == '"' {
            let Some(close) = rest[1..].find('"') else {
                return Err(Diagnostic::new("a text without its closing quote")
                    .at(self.place(start..start + 1))
                    .label("opened here"));
            };
            // A text that goes on over a line end reads as one line.
            (Token::Text(rest[1..=close].split_whitespace().collect::<Vec<_>>().join(" ")), close + 2)
        } else if let Some(sign) = SIGNS.iter().find(|sign| rest.starts_with(*sign)) {
            (Token::Sign(sign), sign.len())
        } else {
            let ascii = match first {
                '≤' => Some("<="),
                '≥' => Some(">="),
                '×' | '·' => Some("*"),
                '−' | '–' => Some("-"),
                '“' | '”' => Some("\""),
                _ => None,
            };
            let mut diagnostic = Diagnostic::new(format!("`{first}` has no meaning here"))
                .at(self.place(start..start + first.len_utf8()));
            if let Some(ascii) = ascii {
                diagnostic = diagnostic.hint(format!("write `{ascii}`"));
            }
            return Err(diagnostic);
        };
        self.at += length;
        Ok((token, start..self.at))
    }

    fn number(&self, rest: &str) -> Result<(Token, usize), Diagnostic> {
        let mut length = digits(rest);
        // `0.1..0.3` is a range, not a number with two points.
        if rest[length..].starts_with('.') && !rest[length..].starts_with("..") {
            length += 1 + digits(&rest[length + 1..]);
        }
        if let Some(power) = rest[length..].strip_prefix(['e', 'E']) {
            let sign = power.len() - power.trim_start_matches(['+', '-']).len();
            let count = digits(&power[sign..]);
            if count > 0 {
                length += 1 + sign + count;
            }
        }
        match rest[..length].parse() {
            Ok(value) => Ok((Token::Number(value), length)),
            Err(_) => Err(Diagnostic::new(format!("`{}` is not a number", &rest[..length]))
                .at(self.place(self.at..self.at + length))),
        }
    }

    /// The raw text between the `[` at `start` and the next `]`, with the span
    /// of both; goes on after it.
    pub fn bracketed(&mut self, start: usize) -> Result<(String, Range<usize>), Diagnostic> {
        self.at = start;
        let Some(close) = self.rest().find(']') else {
            return Err(Diagnostic::new("a citation without its closing bracket").at(self.place(start..start + 1)));
        };
        let text = self.rest()[1..close].split_whitespace().collect::<Vec<_>>().join(" ");
        self.at += close + 1;
        Ok((text, start..self.at))
    }

    /// Whether the next character stands right at this one, without a blank.
    pub fn adjacent(&self) -> bool {
        !self.rest().starts_with(char::is_whitespace) && self.at < self.end
    }
}

fn digits(text: &str) -> usize {
    text.len() - text.trim_start_matches(|c: char| c.is_ascii_digit()).len()
}

/// A word goes on over `_` and `'`, over a hyphen or point between letters
/// (`pin-yield.Z`), and keeps its primes.
fn word_length(text: &str) -> usize {
    let mut length = 0;
    let mut chars = text.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        let next = chars.peek().map(|(_, next)| *next);
        let inside = c.is_alphanumeric() || c == '_' || c == '\'';
        let joins = (c == '-' || c == '.') && next.is_some_and(char::is_alphabetic);
        if !inside && !joins {
            break;
        }
        length = at + c.len_utf8();
    }
    length
}
