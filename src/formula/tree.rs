//! The tree of a formula, and its operators as data: the parser and the
//! typesetter take brackets from the same precedence.

use std::ops::Range;

use super::Function;
use crate::quantity::Unit;

#[derive(Clone, Debug)]
pub struct Expr {
    pub span: Range<usize>,
    pub node: Node,
}

#[derive(Clone, Debug)]
pub enum Node {
    Number(f64),
    /// A value written with its unit: `90 deg`; the unit that it is printed in.
    Literal {
        value: f64,
        unit: Unit,
        print: Unit,
    },
    /// A symbol of this sheet, or `sheet.symbol` of one it uses.
    Symbol(String),
    /// A name that stands for itself: `"No.1"`, or a bare word that the check
    /// found to be one of a choice.
    Text(String),
    Negate(Box<Expr>),
    Not(Box<Expr>),
    /// `x is given`: whether an input that may be left out was given.
    Given(Box<Expr>),
    Binary(BinOp, Box<Expr>, Box<Expr>),
    Call(Function, Vec<Expr>),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BinOp {
    Or,
    And,
    Is,
    IsNot,
    Less,
    LessEqual,
    Greater,
    GreaterEqual,
    Add,
    Sub,
    Mul,
    Div,
    Pow,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Assoc {
    Left,
    Right,
    /// `a < b < c` is not a formula.
    None,
}

/// Binds tighter than `*`, looser than `^`: `-a^2` is `-(a^2)`.
pub const PREFIX_PRECEDENCE: u8 = 6;

impl BinOp {
    pub fn precedence(self) -> u8 {
        match self {
            BinOp::Or => 1,
            BinOp::And => 2,
            BinOp::Is | BinOp::IsNot | BinOp::Less | BinOp::LessEqual | BinOp::Greater | BinOp::GreaterEqual => 3,
            BinOp::Add | BinOp::Sub => 4,
            BinOp::Mul | BinOp::Div => 5,
            BinOp::Pow => 7,
        }
    }

    pub fn assoc(self) -> Assoc {
        match self {
            BinOp::Pow => Assoc::Right,
            op if op.precedence() == 3 => Assoc::None,
            _ => Assoc::Left,
        }
    }

    pub fn text(self) -> &'static str {
        match self {
            BinOp::Or => "or",
            BinOp::And => "and",
            BinOp::Is => "is",
            BinOp::IsNot => "is not",
            BinOp::Less => "<",
            BinOp::LessEqual => "<=",
            BinOp::Greater => ">",
            BinOp::GreaterEqual => ">=",
            BinOp::Add => "+",
            BinOp::Sub => "-",
            BinOp::Mul => "*",
            BinOp::Div => "/",
            BinOp::Pow => "^",
        }
    }

    pub fn is_condition(self) -> bool {
        self.precedence() <= 3
    }
}

impl Expr {
    /// Calls `f` on this expression and every one in it, outermost first.
    pub fn walk<'a>(&'a self, f: &mut impl FnMut(&'a Expr)) {
        f(self);
        match &self.node {
            Node::Negate(inner) | Node::Not(inner) | Node::Given(inner) => inner.walk(f),
            Node::Binary(_, left, right) => {
                left.walk(f);
                right.walk(f);
            }
            Node::Call(_, args) => args.iter().for_each(|arg| arg.walk(f)),
            Node::Number(_) | Node::Literal { .. } | Node::Symbol(_) | Node::Text(_) => {}
        }
    }

    /// Calls `f` on each value that is written out in it, with its unit and the one that
    /// it is printed in.
    pub fn literals(&mut self, f: &impl Fn(&mut f64, &Unit, &mut Unit)) {
        match &mut self.node {
            Node::Literal { value, unit, print } => f(value, unit, print),
            Node::Negate(inner) | Node::Not(inner) | Node::Given(inner) => inner.literals(f),
            Node::Binary(_, left, right) => {
                left.literals(f);
                right.literals(f);
            }
            Node::Call(_, args) => args.iter_mut().for_each(|arg| arg.literals(f)),
            Node::Number(_) | Node::Symbol(_) | Node::Text(_) => {}
        }
    }

    /// The printed unit of the first value in it that is written out with one.
    pub fn written_unit(&self) -> Option<Unit> {
        let mut unit = None;
        self.walk(&mut |expr| {
            if let Node::Literal { print: found, .. } = &expr.node {
                unit.get_or_insert(found.clone());
            }
        });
        unit
    }

    /// Inputs that may be left out, of which a condition says that they are given,
    /// where it holds or where it does not.
    pub fn proves_given(&self, holds: bool) -> Vec<&str> {
        match &self.node {
            Node::Given(inner) if holds => inner.symbols(),
            Node::Not(inner) => inner.proves_given(!holds),
            Node::Binary(op, left, right) if *op == if holds { BinOp::And } else { BinOp::Or } => {
                [left, right].into_iter().flat_map(|side| side.proves_given(holds)).collect()
            }
            _ => Vec::new(),
        }
    }

    /// The inputs of which it asks whether they are given.
    pub fn asked(&self) -> Vec<&str> {
        let mut names = Vec::new();
        self.walk(&mut |expr| {
            if let Node::Given(inner) = &expr.node {
                names.extend(inner.symbols());
            }
        });
        names
    }

    /// Every symbol, in the order it is written; one that stands twice comes twice.
    pub fn symbols(&self) -> Vec<&str> {
        let mut names = Vec::new();
        self.walk(&mut |expr| {
            if let Node::Symbol(name) = &expr.node {
                names.push(name.as_str());
            }
        });
        names
    }
}
