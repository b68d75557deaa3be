//! The unit check: proves, before anything runs, that both sides of every
//! operation agree. Also settles whether a bare word is a symbol or a name.

use std::ops::Range;
use std::sync::Arc;

use super::{BinOp, Expr, Kind, Node};
use crate::diag::{Checked, Diagnostic, Diagnostics};
use crate::quantity::{Dim, with_article};
use crate::source::{Place, Source};

/// Where the check finds what symbols hold.
pub trait Kinds {
    fn kind(&self, symbol: &str) -> Option<Kind>;

    /// Every known symbol, for suggestions.
    fn symbols(&self) -> Vec<String>;

    /// The kind of an input that may be left out, whether or not it can be read here.
    fn optional(&self, _symbol: &str) -> Option<Kind> {
        None
    }

    /// The symbol would come from something that is wrong itself and says so.
    fn excused(&self, _symbol: &str) -> bool {
        false
    }

    /// A better reason than "unknown", if the symbol exists but not here.
    fn why_not(&self, _symbol: &str) -> Option<String> {
        None
    }
}

/// The kind of an expression's value.
///
/// # Errors
/// Unknown symbols, units that do not agree.
pub fn check(expr: &mut Expr, source: &Arc<Source>, kinds: &dyn Kinds) -> Checked<Kind> {
    Checker { source, kinds }.kind(expr, None)
}

/// That an expression is true or false.
///
/// # Errors
/// As for `check`; a value stands in its place.
pub fn check_condition(expr: &mut Expr, source: &Arc<Source>, kinds: &dyn Kinds) -> Checked<()> {
    Checker { source, kinds }.condition(expr)
}

/// The same where a certain kind is wanted: a bare word can then be one of
/// its names.
pub fn check_as(expr: &mut Expr, wanted: &Kind, source: &Arc<Source>, kinds: &dyn Kinds) -> Checked<Kind> {
    let checker = Checker { source, kinds };
    let found = checker.kind(expr, Some(wanted))?;
    if wanted.accepts(&found) {
        return Ok(found);
    }
    Err(checker.complain(expr, format!("found {}, expected {}", found.named(), wanted.named())).into())
}

/// Symbols as before, and some inputs that are known to be given.
struct Granted<'a> {
    kinds: &'a dyn Kinds,
    given: Vec<(String, Kind)>,
}

impl Kinds for Granted<'_> {
    fn kind(&self, symbol: &str) -> Option<Kind> {
        let given = self.given.iter().find(|(name, _)| name == symbol);
        given.map(|(_, kind)| kind.clone()).or_else(|| self.kinds.kind(symbol))
    }

    fn symbols(&self) -> Vec<String> {
        self.kinds.symbols()
    }

    fn optional(&self, symbol: &str) -> Option<Kind> {
        self.kinds.optional(symbol)
    }

    fn excused(&self, symbol: &str) -> bool {
        self.kinds.excused(symbol)
    }

    fn why_not(&self, symbol: &str) -> Option<String> {
        self.kinds.why_not(symbol)
    }
}

struct Checker<'a> {
    source: &'a Arc<Source>,
    kinds: &'a dyn Kinds,
}

impl Checker<'_> {
    fn complain(&self, expr: &Expr, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(message).at(Place::new(self.source, expr.span.clone()))
    }

    fn kind(&self, expr: &mut Expr, wanted: Option<&Kind>) -> Checked<Kind> {
        match &mut expr.node {
            Node::Number(_) => Ok(Kind::NUMBER),
            Node::Literal { unit, .. } => Ok(Kind::Quantity(unit.dim)),
            Node::Text(name) => {
                let name = name.clone();
                self.name(expr, &name, wanted)
            }
            Node::Symbol(symbol) => {
                // Where a name is wanted, one that can stand there is no symbol.
                let is_name = matches!(wanted, Some(Kind::Choice(names)) if names.contains(symbol));
                if let Some(kind) = self.kinds.kind(symbol).filter(|_| !is_name) {
                    return Ok(kind);
                }
                let symbol = symbol.clone();
                if let Some(Kind::Choice(_) | Kind::Text) = wanted {
                    let kind = self.name(expr, &symbol, wanted)?;
                    expr.node = Node::Text(symbol);
                    return Ok(kind);
                }
                if self.kinds.excused(&symbol) {
                    return Err(Diagnostics::new());
                }
                Err(self.unknown(expr, &symbol).into())
            }
            Node::Negate(inner) => {
                let dim = self.dim(inner)?;
                Ok(Kind::Quantity(dim))
            }
            Node::Binary(op, left, right) if !op.is_condition() => {
                let op = *op;
                self.binary(op, left, right, &expr.span)
            }
            // True or false is no value that a symbol can hold.
            Node::Not(_) | Node::Given(_) | Node::Binary(..) => {
                self.condition(expr)?;
                let wrong = self.complain(expr, "this is true or false, where a value is wanted");
                Err(wrong.hint("a condition stands behind `when`: `1 when a <= 3 in, 0 otherwise`").into())
            }
            Node::Call(function, args) => {
                let mut dims = Vec::new();
                let mut diagnostics = Diagnostics::new();
                for arg in args.iter_mut() {
                    match self.dim(arg) {
                        Ok(dim) => dims.push(dim),
                        Err(more) => diagnostics.extend(more),
                    }
                }
                // One that is excused has no dimension and nothing to say.
                if dims.len() < args.len() {
                    return Err(diagnostics);
                }
                match function.dim(&dims) {
                    Ok(dim) => Ok(Kind::Quantity(dim)),
                    Err((at, message)) => Err(self.complain(&args[at], message).into()),
                }
            }
        }
    }

    fn condition(&self, expr: &mut Expr) -> Checked<()> {
        match &mut expr.node {
            Node::Not(inner) => self.condition(inner),
            Node::Given(inner) => {
                let Node::Symbol(symbol) = &inner.node else { return Ok(()) };
                match (self.kinds.optional(symbol), self.kinds.kind(symbol)) {
                    (Some(_), _) => Ok(()),
                    (None, Some(_)) => Err(self
                        .complain(inner, format!("`{symbol}` always has a value"))
                        .hint("only an input that ends with `else nothing` can be left out")
                        .into()),
                    (None, None) => Err(self.unknown(inner, symbol).into()),
                }
            }
            Node::Binary(op, left, right) if op.is_condition() => {
                let op = *op;
                self.compared(op, left, right, &expr.span)
            }
            _ => {
                let kind = self.kind(expr, None)?;
                let found = self.complain(expr, format!("found {}, wanted what is true or false", kind.named()));
                Err(found.hint("compare it with a value: `a <= 3 in`, `kind is made`, `a is given`").into())
            }
        }
    }

    fn unknown(&self, expr: &Expr, symbol: &str) -> Diagnostic {
        if let Some(reason) = self.kinds.why_not(symbol) {
            return self.complain(expr, reason);
        }
        let known = self.kinds.symbols();
        let mut diagnostic =
            self.complain(expr, format!("unknown symbol `{symbol}`")).nearest(symbol, known.iter().map(String::as_str));
        if symbol.contains('-') && !symbol.contains('.') {
            diagnostic = diagnostic.hint("put spaces around a minus sign: a hyphen between letters is part of a name");
        }
        diagnostic
    }

    fn name(&self, expr: &Expr, name: &str, wanted: Option<&Kind>) -> Checked<Kind> {
        match wanted {
            Some(Kind::Choice(names)) if !names.iter().any(|known| known == name) => {
                let known = names.iter().map(String::as_str);
                Err(self
                    .complain(expr, format!("`{name}` is not one of the names that can stand here"))
                    .nearest(name, known)
                    .into())
            }
            _ => Ok(Kind::Choice(vec![name.into()])),
        }
    }

    fn dim(&self, expr: &mut Expr) -> Checked<Dim> {
        let kind = self.kind(expr, None)?;
        kind.dim().ok_or_else(|| self.complain(expr, format!("found {}, expected a quantity", kind.named())).into())
    }

    fn disagree<T>(&self, message: String, span: &Range<usize>) -> Checked<T> {
        Err(Diagnostic::new(message)
            .at(Place::new(self.source, span.clone()))
            .hint("both sides need the same dimension; check the units, or, if the code's formula hides them, write `where … in …, giving …`")
            .into())
    }

    fn compared(&self, op: BinOp, left: &mut Expr, right: &mut Expr, span: &Range<usize>) -> Checked<()> {
        match op {
            BinOp::And | BinOp::Or => {
                let first = self.condition(left);
                // The right side is read only where the left one leaves it open.
                let given = left.proves_given(op == BinOp::And);
                let given = given.into_iter().filter_map(|name| Some((name.into(), self.kinds.optional(name)?)));
                let kinds = Granted { kinds: self.kinds, given: given.collect() };
                let second = Checker { source: self.source, kinds: &kinds }.condition(right);
                match (first, second) {
                    (Ok(_), Ok(_)) => Ok(()),
                    (a, b) => Err(a.err().into_iter().chain(b.err()).flatten().collect()),
                }
            }
            BinOp::Is | BinOp::IsNot => {
                let kind = self.kind(left, None)?;
                if !matches!(kind, Kind::Choice(_) | Kind::Text) {
                    return Err(self
                        .complain(left, format!("`is` compares names; this is {}", kind.named()))
                        .hint("compare quantities with `<=` or `>=`")
                        .into());
                }
                let other = self.kind(right, Some(&kind))?;
                if !matches!(other, Kind::Choice(_) | Kind::Text) {
                    let message = format!("`is` compares names; this is {}", other.named());
                    return Err(self.complain(right, message).into());
                }
                Ok(())
            }
            _ => {
                let (a, b) = self.both(|expr| self.kind(expr, None), left, right)?;
                if a == Kind::Date && b == Kind::Date {
                    return Ok(());
                }
                match (a.dim(), b.dim()) {
                    (Some(a), Some(b)) if a == b => Ok(()),
                    _ => self.disagree(format!("compares {} with {}", a.named(), b.named()), span),
                }
            }
        }
    }

    fn binary(&self, op: BinOp, left: &mut Expr, right: &mut Expr, span: &Range<usize>) -> Checked<Kind> {
        match op {
            BinOp::Add | BinOp::Sub => {
                let (a, b) = self.both(|expr| self.dim(expr), left, right)?;
                if a == b {
                    return Ok(Kind::Quantity(a));
                }
                let verb = if op == BinOp::Add { "adds" } else { "subtracts" };
                let (a, b) = (Kind::Quantity(a).named(), Kind::Quantity(b).named());
                let what = if op == BinOp::Add { format!("{verb} {b} to {a}") } else { format!("{verb} {b} from {a}") };
                self.disagree(what, span)
            }
            BinOp::Mul => {
                let (a, b) = self.both(|expr| self.dim(expr), left, right)?;
                Ok(Kind::Quantity(a.times(b)))
            }
            BinOp::Div => {
                let (a, b) = self.both(|expr| self.dim(expr), left, right)?;
                Ok(Kind::Quantity(a.over(b)))
            }
            BinOp::Pow => {
                let (base, exponent) = self.both(|expr| self.dim(expr), left, right)?;
                if !exponent.is_none() {
                    return Err(self.complain(right, "an exponent must be a plain number").into());
                }
                if base.is_none() {
                    return Ok(Kind::NUMBER);
                }
                match constant(right) {
                    Some(power) if power.fract() == 0.0 && power.abs() <= 9.0 => {
                        Ok(Kind::Quantity(base.power(power as i8)))
                    }
                    Some(power) if (power * 2.0).fract() == 0.0 && base.root().is_some() => {
                        Ok(Kind::Quantity(base.root().unwrap_or(base).power((power * 2.0) as i8)))
                    }
                    _ => Err(self
                        .complain(
                            right,
                            format!(
                                "{} can only be raised to a whole number that is written out",
                                with_article(&base.to_string())
                            ),
                        )
                        .hint("if the code's formula hides units, write `where … in …, giving …`")
                        .into()),
                }
            }
            _ => self.disagree("not an operation".into(), span),
        }
    }

    fn both<T>(&self, f: impl Fn(&mut Expr) -> Checked<T>, left: &mut Expr, right: &mut Expr) -> Checked<(T, T)> {
        match (f(left), f(right)) {
            (Ok(a), Ok(b)) => Ok((a, b)),
            (a, b) => Err(a.err().into_iter().chain(b.err()).flatten().collect()),
        }
    }
}

/// The value of an expression that has no symbols.
fn constant(expr: &Expr) -> Option<f64> {
    match &expr.node {
        Node::Number(value) => Some(*value),
        Node::Negate(inner) => constant(inner).map(|value| -value),
        Node::Binary(BinOp::Div, left, right) => Some(constant(left)? / constant(right)?),
        _ => None,
    }
}
