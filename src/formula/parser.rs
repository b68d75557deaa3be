//! Reads a formula by precedence climbing. `expect_…` complains of what the
//! user wrote, `parse_…` reads a construct and complains inside it.

use std::ops::Range;
use std::sync::Arc;

use super::{Assoc, BinOp, Expr, Function, Lexer, Node, PREFIX_PRECEDENCE, Token};
use crate::diag::Diagnostic;
use crate::quantity::Unit;
use crate::source::Source;

/// Brackets nested deeper than this are an error, not a full stack.
const MAX_DEPTH: usize = 64;

/// A formula of more terms than this is one that nobody follows.
const MAX_TERMS: usize = 1_000;

pub struct Parser<'a> {
    lexer: Lexer<'a>,
    token: Token,
    span: Range<usize>,
    /// End of the token before.
    last_end: usize,
    depth: usize,
    terms: usize,
}

impl<'a> Parser<'a> {
    pub fn new(source: &'a Arc<Source>, span: Range<usize>) -> Result<Parser<'a>, Diagnostic> {
        let start = span.start;
        let mut lexer = Lexer::new(source, span);
        let (token, span) = lexer.token()?;
        Ok(Parser { lexer, token, span, last_end: start, depth: 0, terms: 0 })
    }

    pub fn token(&self) -> &Token {
        &self.token
    }

    pub fn span(&self) -> Range<usize> {
        self.span.clone()
    }

    pub fn last_end(&self) -> usize {
        self.last_end
    }

    pub fn advance(&mut self) -> Result<Token, Diagnostic> {
        self.last_end = self.span.end;
        let (token, span) = self.lexer.token()?;
        self.span = span;
        Ok(std::mem::replace(&mut self.token, token))
    }

    pub fn at_word(&self, word: &str) -> bool {
        matches!(&self.token, Token::Word(found) if found == word)
    }

    pub fn at_sign(&self, sign: &str) -> bool {
        matches!(&self.token, Token::Sign(found) if *found == sign)
    }

    pub fn eat_word(&mut self, word: &str) -> Result<bool, Diagnostic> {
        let found = self.at_word(word);
        if found {
            self.advance()?;
        }
        Ok(found)
    }

    pub fn eat_sign(&mut self, sign: &str) -> Result<bool, Diagnostic> {
        let found = self.at_sign(sign);
        if found {
            self.advance()?;
        }
        Ok(found)
    }

    /// A diagnostic at the token that stands here.
    pub fn wanted(&self, what: &str) -> Diagnostic {
        Diagnostic::new(format!("found {}, expected {what}", self.token.describe())).at(self.lexer.place(self.span()))
    }

    pub fn expect_sign(&mut self, sign: &str, after: &str) -> Result<(), Diagnostic> {
        if self.eat_sign(sign)? {
            Ok(())
        } else {
            Err(self.wanted(&format!("`{sign}` {after}")).hint(format!("put `{sign}` here, or go on with the line")))
        }
    }

    pub fn expect_word(&mut self, what: &str) -> Result<(String, Range<usize>), Diagnostic> {
        match &self.token {
            Token::Word(word) => {
                let found = (word.clone(), self.span());
                self.advance()?;
                Ok(found)
            }
            _ => Err(self.wanted(what)),
        }
    }

    pub fn expect_end(&self) -> Result<(), Diagnostic> {
        if self.token == Token::End { Ok(()) } else { Err(self.wanted("the end of the line")) }
    }

    pub fn eat_text(&mut self) -> Result<Option<String>, Diagnostic> {
        match &self.token {
            Token::Text(text) => {
                let text = text.clone();
                self.advance()?;
                Ok(Some(text))
            }
            _ => Ok(None),
        }
    }

    /// `[NDS 2018 Eq. 12.3-7]`, if one stands here.
    pub fn eat_citation(&mut self) -> Result<Option<(String, Range<usize>)>, Diagnostic> {
        if !self.at_sign("[") {
            return Ok(None);
        }
        // The bracket holds prose, so it is read raw from its start.
        let (text, span) = self.lexer.bracketed(self.span.start)?;
        self.advance()?;
        if text.is_empty() {
            return Err(Diagnostic::new("an empty citation").at(self.lexer.place(span)));
        }
        Ok(Some((text, span)))
    }

    /// A unit: `lbf`, `in^2`, `lbf/in`, `kip ft`.
    pub fn parse_unit(&mut self) -> Result<Unit, Diagnostic> {
        let mut unit = self.parse_unit_power(None)?;
        loop {
            let divide = self.at_sign("/");
            let word = match (&self.token, divide) {
                (Token::Word(word), false) if Unit::simple(word).is_some() => true,
                (_, divide) => divide,
            };
            if !word {
                return Ok(unit);
            }
            if divide {
                self.advance()?;
            }
            let next = self.parse_unit_power(None)?;
            unit = if divide { unit.over(&next) } else { unit.times(&next) };
        }
    }

    fn parse_unit_power(&mut self, first: Option<Unit>) -> Result<Unit, Diagnostic> {
        let unit = match first {
            Some(unit) => unit,
            None => {
                if let Token::Number(one) = self.token
                    && one == 1.0
                {
                    self.advance()?;
                    return Ok(Unit::none());
                }
                let place = self.lexer.place(self.span());
                let (word, _) = self.expect_word("a unit")?;
                Unit::simple(&word).ok_or_else(|| {
                    Diagnostic::new(format!("`{word}` is not a known unit")).at(place).nearest(&word, Unit::names())
                })?
            }
        };
        if !self.at_sign("^") {
            return Ok(unit);
        }
        self.advance()?;
        match self.token {
            Token::Number(power) if power.fract() == 0.0 && (1.0..=9.0).contains(&power) => {
                self.advance()?;
                Ok(unit.power(power as i8))
            }
            _ => Err(self.wanted("a whole number as the power of a unit")),
        }
    }

    pub fn parse_expr(&mut self) -> Result<Expr, Diagnostic> {
        self.parse_climbing(0)
    }

    fn parse_climbing(&mut self, least: u8) -> Result<Expr, Diagnostic> {
        self.depth += 1;
        if self.depth > MAX_DEPTH {
            return Err(Diagnostic::new(format!("brackets nested deeper than {MAX_DEPTH}"))
                .at(self.lexer.place(self.span()))
                .hint("give parts of the formula names of their own with `let`"));
        }
        let mut left = self.parse_prefix()?;
        while let Some(op) = self.peek_operator() {
            let precedence = op.precedence();
            if precedence < least {
                break;
            }
            self.advance()?;
            let op = if op == BinOp::Is && self.eat_word("not")? { BinOp::IsNot } else { op };
            if precedence == BinOp::Is.precedence() && self.at_word("given") {
                left = self.parse_given(left, op)?;
                continue;
            }
            let right = self.parse_climbing(if op.assoc() == Assoc::Right { precedence } else { precedence + 1 })?;
            let span = left.span.start..right.span.end;
            left = Expr { span, node: Node::Binary(op, Box::new(left), Box::new(right)) };
            if op.assoc() == Assoc::None
                && let Some(next) = self.peek_operator()
                && next.precedence() == precedence
            {
                return Err(self.wanted("`and` between two comparisons"));
            }
        }
        self.depth -= 1;
        Ok(left)
    }

    /// `x is given`, `x is not given`.
    fn parse_given(&mut self, left: Expr, op: BinOp) -> Result<Expr, Diagnostic> {
        if !matches!(left.node, Node::Symbol(_)) {
            return Err(Diagnostic::new("only an input is given or not given").at(self.lexer.place(left.span)));
        }
        let span = left.span.start..self.span.end;
        self.advance()?;
        let given = Expr { span: span.clone(), node: Node::Given(Box::new(left)) };
        Ok(if op == BinOp::IsNot { Expr { span, node: Node::Not(Box::new(given)) } } else { given })
    }

    fn peek_operator(&self) -> Option<BinOp> {
        Some(match &self.token {
            Token::Word(word) => match word.as_str() {
                "or" => BinOp::Or,
                "and" => BinOp::And,
                "is" => BinOp::Is,
                _ => return None,
            },
            Token::Sign(sign) => match *sign {
                "<" => BinOp::Less,
                "<=" => BinOp::LessEqual,
                ">" => BinOp::Greater,
                ">=" => BinOp::GreaterEqual,
                "+" => BinOp::Add,
                "-" => BinOp::Sub,
                "*" => BinOp::Mul,
                "/" => BinOp::Div,
                "^" => BinOp::Pow,
                _ => return None,
            },
            _ => return None,
        })
    }

    fn parse_prefix(&mut self) -> Result<Expr, Diagnostic> {
        self.terms += 1;
        if self.terms > MAX_TERMS {
            return Err(Diagnostic::new(format!("a formula of more than {MAX_TERMS} terms"))
                .at(self.lexer.place(self.span()))
                .hint("give parts of the formula names of their own with `let`, or make a table of it"));
        }
        let start = self.span.start;
        if self.eat_sign("-")? {
            let inner = self.parse_climbing(PREFIX_PRECEDENCE + 1)?;
            return Ok(Expr { span: start..inner.span.end, node: Node::Negate(Box::new(inner)) });
        }
        if self.eat_word("not")? {
            let inner = self.parse_climbing(BinOp::Is.precedence())?;
            return Ok(Expr { span: start..inner.span.end, node: Node::Not(Box::new(inner)) });
        }
        self.parse_atom()
    }

    fn parse_atom(&mut self) -> Result<Expr, Diagnostic> {
        let start = self.span.start;
        let node = match self.token.clone() {
            Token::Number(value) => {
                self.advance()?;
                match self.literal_unit()? {
                    Some(unit) => Node::Literal { value, print: unit.clone(), unit },
                    None => Node::Number(value),
                }
            }
            Token::Text(text) => {
                self.advance()?;
                Node::Text(text)
            }
            Token::Word(word) => {
                let span = self.span();
                self.advance()?;
                if self.at_sign("(") { self.parse_call(&word, span)? } else { Node::Symbol(word) }
            }
            Token::Sign("(") => {
                self.advance()?;
                let inner = self.parse_climbing(0)?;
                self.expect_sign(")", "to close the bracket")?;
                return Ok(Expr { span: start..self.last_end, node: inner.node });
            }
            _ => return Err(self.wanted("a value")),
        };
        Ok(Expr { span: start..self.last_end, node })
    }

    /// The unit right after a number: `90 deg`, `8 in^2`, `0.6 kip/ft`. A
    /// slash belongs to the unit only if it touches it on both sides, so that
    /// `6 in / s` stays a division.
    fn literal_unit(&mut self) -> Result<Option<Unit>, Diagnostic> {
        let Token::Word(word) = &self.token else { return Ok(None) };
        let Some(first) = Unit::simple(word) else { return Ok(None) };
        self.advance()?;
        let mut unit = self.parse_unit_power(Some(first))?;
        while self.at_sign("/") && self.span.start == self.last_end && self.lexer.adjacent() {
            self.advance()?;
            let under = self.parse_unit_power(None)?;
            unit = unit.over(&under);
        }
        // `lbf ft`; `in` after a unit begins the printed unit.
        while let Token::Word(word) = &self.token
            && word != "in"
            && let Some(next) = Unit::simple(word)
        {
            self.advance()?;
            unit = unit.times(&self.parse_unit_power(Some(next))?);
        }
        Ok(Some(unit))
    }

    fn parse_call(&mut self, name: &str, span: Range<usize>) -> Result<Node, Diagnostic> {
        let Some(function) = Function::named(name) else {
            return Err(Diagnostic::new(format!("unknown function `{name}`"))
                .at(self.lexer.place(span))
                .nearest(name, Function::names()));
        };
        self.advance()?;
        let mut args = Vec::new();
        if !self.at_sign(")") {
            loop {
                args.push(self.parse_climbing(0)?);
                if !self.eat_sign(",")? {
                    break;
                }
            }
        }
        self.expect_sign(")", &format!("to close `{name}(`"))?;
        let (fewest, most) = function.arity();
        if args.len() < fewest || args.len() > most {
            let wanted = if fewest == most { fewest.to_string() } else { format!("at least {fewest}") };
            return Err(Diagnostic::new(format!(
                "`{name}` takes {wanted} argument{}, found {}",
                if fewest == 1 { "" } else { "s" },
                args.len()
            ))
            .at(self.lexer.place(span.start..self.last_end)));
        }
        Ok(Node::Call(function, args))
    }
}
