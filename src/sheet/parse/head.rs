//! The head of a sheet: what it is, what it needs, what it gives.

use std::ops::Range;

use super::super::tree::{From, Give, Input, Methods, Stands};
use super::{Line, Reader, Tail};
use crate::diag::{Diagnostic, list};
use crate::formula::{BinOp, Kind, Parser, Token};
use crate::quantity::Dim;

impl Reader<'_> {
    pub(super) fn method(&mut self, line: &Line) -> Option<Methods> {
        let name = self.text(line);
        let methods = Methods::named(&name.split_whitespace().collect::<Vec<_>>().join(" "));
        if methods.is_none() {
            let names: Vec<&str> = Methods::names().collect();
            let unknown = Diagnostic::new(format!("unknown method `{name}`")).at(self.at(line.rest.clone()));
            self.diagnostics.push(unknown.hint(format!("a method is {}", list(&names, "or"))));
        }
        methods
    }

    pub(super) fn input(&mut self, line: &Line) -> Result<Input, Diagnostic> {
        let mut parser = self.named(line)?;
        let (name, span) = parser.expect_word("the name of an input")?;
        let kind = self.kind(&mut parser)?;
        let from = self.from(&mut parser, &name)?;
        let mut bounds = Vec::new();
        loop {
            let op = match parser.token() {
                Token::Sign(">=") => BinOp::GreaterEqual,
                Token::Sign("<=") => BinOp::LessEqual,
                Token::Sign(">") => BinOp::Greater,
                Token::Sign("<") => BinOp::Less,
                _ => break,
            };
            parser.advance()?;
            let bound = parser.parse_expr()?;
            if !bound.symbols().is_empty() {
                return Err(Diagnostic::new("a bound is a value, not a symbol").at(self.at(bound.span)));
            }
            bounds.push((op, bound));
            if !parser.eat_sign(",")? {
                break;
            }
        }
        let (mut default, mut optional, mut safe) = (None, false, false);
        if parser.eat_word("else")? {
            optional = parser.eat_word("nothing")?;
            safe = parser.eat_word("safe")?;
            default = if optional { None } else { Some(parser.parse_expr()?) };
        }
        let Tail { say, unit, units, cite, .. } = self.tail(&mut parser, &["or"])?;
        Ok(Input { name, span, kind, from, passed_on: false, bounds, default, safe, optional, say, unit, units, cite })
    }

    /// A line that begins with a name. One such as `use` or `note` would be taken
    /// for a statement.
    fn named(&self, line: &Line) -> Result<Parser<'_>, Diagnostic> {
        if line.word.is_empty() {
            return Parser::new(self.source, line.rest.clone());
        }
        let message = format!("`{}` is a word of the language and cannot be a name", line.word);
        Err(Diagnostic::new(message).at(self.at(line.word_span.clone())))
    }

    /// `from bases`, `from bases.blade`, `from timber-values.C_M_c`.
    pub(super) fn from(&self, parser: &mut Parser, name: &str) -> Result<Option<From>, Diagnostic> {
        if !parser.eat_word("from")? {
            return Ok(None);
        }
        let (word, _) = parser.expect_word("where it comes from")?;
        let (source, name) = word.split_once('.').unwrap_or((&word, name));
        Ok(Some(From { source: source.into(), name: name.into() }))
    }

    pub(super) fn give(&mut self, line: &Line) -> Result<Give, Diagnostic> {
        let mut parser = self.named(line)?;
        let (name, span) = parser.expect_word("the name of a symbol")?;
        let kind = self.kind(&mut parser)?;
        let tail = self.tail(&mut parser, &[])?;
        Ok(Give { name, span, kind, say: tail.say, unit: tail.unit })
    }

    /// `stands as base when kind is made`.
    pub(super) fn stands(&mut self, line: &Line) -> Result<Stands, Diagnostic> {
        let mut parser = self.parser(line)?;
        let wanted = parser.wanted("`as` and the name of an open place");
        if !parser.eat_word("as")? {
            return Err(wanted);
        }
        let (place, span) = parser.expect_word("the name of an open place")?;
        let wanted = parser.wanted("`when`, a column, `is` and a name");
        if !parser.eat_word("when")? {
            return Err(wanted);
        }
        let (column, _) = parser.expect_word("the column that chooses")?;
        let wanted = parser.wanted("`is` and a name");
        if !parser.eat_word("is")? {
            return Err(wanted);
        }
        let value = match parser.eat_text()? {
            Some(text) => text,
            None => parser.expect_word("the name that chooses this sheet")?.0,
        };
        parser.expect_end()?;
        Ok(Stands { place, column, value, span })
    }

    pub(super) fn joins(&mut self, line: &Line) -> Result<(String, Range<usize>), Diagnostic> {
        let mut parser = self.parser(line)?;
        let found = parser.expect_word("the name of the sheet that this one joins")?;
        parser.expect_end()?;
        Ok(found)
    }

    pub(super) fn kind(&self, parser: &mut Parser) -> Result<Kind, Diagnostic> {
        let place = self.at(parser.span());
        let (word, _) = parser.expect_word("the kind of the input, such as `length`")?;
        Ok(match word.as_str() {
            "count" => Kind::Count,
            "text" => Kind::Text,
            "date" => Kind::Date,
            "one" if parser.eat_word("of")? => {
                let mut names = Vec::new();
                loop {
                    names.push(match parser.eat_text()? {
                        Some(text) => text,
                        None => parser.expect_word("a name to choose from")?.0,
                    });
                    if !parser.eat_sign(",")? {
                        break;
                    }
                }
                Kind::Choice(names)
            }
            _ => match Dim::named(&word) {
                Some(dim) => Kind::Quantity(dim),
                None => {
                    let known = Dim::names().chain(["count", "text", "date", "one of"]);
                    return Err(Diagnostic::new(format!("unknown kind `{word}`")).at(place).nearest(&word, known));
                }
            },
        })
    }
}
