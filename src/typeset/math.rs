//! A formula's tree to how it is laid out and said, with the brackets that it needs.

use serde::{Serialize, Serializer};

use super::line::{Run, line};
use super::part::{ATOM, Part, constant, with_unit};
use super::piece::Piece;
use super::source::source;
use super::symbol::{named, twin};
use super::width::formula_width;
use crate::formula::{Assoc, BinOp, Expr, Function, Node, PREFIX_PRECEDENCE};
use crate::quantity::{given_digits, number};

/// One formula, ready to typeset.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Math {
    /// The source in the typesetter's math mode.
    pub src: String,
    /// What a screen reader says.
    pub alt: String,
    /// What it is made smaller by, where a part of it is wider than any line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub scale: Option<f64>,
    /// The same as words, where it is a line of them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub runs: Option<Vec<Run>>,
    /// How wide it is as an equation, in ems of the text it stands in. Templates do
    /// not ask: how a line is laid out is chosen before.
    #[serde(serialize_with = "hundredths")]
    pub width: f64,
}

fn hundredths<S: Serializer>(width: &f64, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_f64((width * 100.0).ceil() / 100.0)
}

/// The narrowest body of a page without what an equation may be set in from its
/// edge, in ems of the text: `look.typ`, a page in metric units.
const LINE: f64 = (376.0 - 24.0) / 9.0;

impl From<Part> for Math {
    fn from(part: Part) -> Math {
        let width = formula_width(&part.piece);
        // Two signs may stand before it, and in one line of ten thousand a font's
        // kerning makes words wider than their letters.
        let piece = width.piece + 1.5;
        let scale = (piece > LINE).then(|| (LINE / piece * 100.0).floor() / 100.0);
        let runs = if scale.is_none() { line(&part.piece) } else { None };
        Math { src: source(&part.piece), alt: part.alt, scale, runs, width: width.whole }
    }
}

/// What stands for numbers and symbols, and between factors.
#[derive(Clone, Copy)]
pub(super) struct Style<'a> {
    pub leaf: &'a dyn Fn(&Expr) -> Part,
    /// Numbers with units need a sign between them, symbols only a space.
    pub numbers: bool,
    pub division: Division,
}

/// A fraction stands upright where its parts have the size of the text. In a
/// fraction, an exponent or a line of words they would be too small to read, so
/// there it lies: `a / b`.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Division {
    Upright,
    Lying,
}

/// The formula in symbols, on a line of its own.
pub fn symbolic(expr: &Expr) -> Math {
    in_symbols(expr, expr, Division::Upright)
}

/// The formula in symbols, in a line of words.
pub fn symbolic_inline(expr: &Expr) -> Math {
    in_symbols(expr, expr, Division::Lying)
}

/// A part of a formula in symbols, in a line of words; twins in the whole are
/// told apart in it.
pub fn symbolic_part(expr: &Expr, whole: &Expr) -> Math {
    in_symbols(expr, whole, Division::Lying)
}

fn in_symbols(expr: &Expr, whole: &Expr, division: Division) -> Math {
    let symbols = whole.symbols();
    let tail = |name: &str| name.rsplit('.').next().unwrap_or("").to_string();
    let leaf = |expr: &Expr| match &expr.node {
        Node::Symbol(name) => {
            let twins = symbols.iter().any(|other| *other != name && tail(other) == tail(name));
            if twins { twin(name) } else { named(name) }
        }
        Node::Number(value) => constant(*value),
        Node::Literal { value, unit, print } => {
            let value = if unit == print { *value } else { print.from_base(unit.to_base(*value)) };
            with_unit(&number(value, given_digits(value)), &print.pretty())
        }
        Node::Text(name) => Part::atom(Piece::Words(name.clone()), name.clone()),
        _ => Part::text(""),
    };
    typeset(expr, &Style { leaf: &leaf, numbers: false, division }).into()
}

pub(super) fn typeset(expr: &Expr, style: &Style) -> Part {
    match &expr.node {
        Node::Number(_) | Node::Literal { .. } | Node::Symbol(_) | Node::Text(_) => (style.leaf)(expr),
        Node::Negate(inner) => typeset(inner, style).within(PREFIX_PRECEDENCE + 1).negated(),
        Node::Not(inner) => {
            if let Node::Given(input) = &inner.node {
                return given(input, "is not given", style);
            }
            let inner = typeset(inner, style).within(BinOp::Is.precedence());
            Part {
                piece: Piece::row([Piece::Words("not".into()), inner.piece]),
                alt: format!("not {}", inner.alt),
                precedence: BinOp::And.precedence(),
            }
        }
        Node::Given(input) => given(input, "is given", style),
        Node::Call(function, args) => call(*function, args, style),
        Node::Binary(op, left, right) => binary(*op, left, right, style),
    }
}

fn given(input: &Expr, words: &str, style: &Style) -> Part {
    let input = typeset(input, style);
    Part {
        piece: Piece::row([input.piece, Piece::Words(words.into())]),
        alt: format!("{} {words}", input.alt),
        precedence: BinOp::Is.precedence(),
    }
}

fn call(function: Function, args: &[Expr], style: &Style) -> Part {
    let small = Style { division: Division::Lying, ..*style };
    match (function, args) {
        (Function::Sqrt, [inner]) => {
            let inner = typeset(inner, style);
            let alt = format!("the square root of {}, end root", inner.alt);
            Part::atom(Piece::Root(Box::new(inner.piece)), alt)
        }
        (Function::Abs, [inner]) => {
            let inner = typeset(inner, style);
            Part::atom(Piece::Absolute(Box::new(inner.piece)), format!("the absolute value of {}", inner.alt))
        }
        (Function::Atan2, [up, along]) => {
            let [up, along] = [up, along].map(|arg| typeset(arg, &small));
            let alt = format!("arc tangent of {} over {}", up.alt, along.alt);
            let fraction = Piece::Fraction(Box::new(up.piece), Box::new(along.piece));
            Part::atom(Piece::row([Piece::Function("arctan"), Piece::Brackets(Box::new(fraction))]), alt)
        }
        (Function::Nearest | Function::Up | Function::Down, [inner, step]) => {
            let words = match function {
                Function::Nearest => ", to the nearest",
                Function::Up => ", rounded up to",
                _ => ", rounded down to",
            };
            let inner = typeset(inner, style).within(BinOp::Mul.precedence());
            let step = typeset(step, style);
            Part {
                piece: Piece::row([inner.piece, Piece::Words(words.into()), step.piece]),
                alt: format!("{}{words} {}", inner.alt, step.alt),
                precedence: 0,
            }
        }
        _ => {
            let name = match function {
                Function::Asin => "arcsin",
                Function::Acos => "arccos",
                Function::Atan => "arctan",
                function => function.name(),
            };
            let mut list = Vec::new();
            let mut said = Vec::new();
            for arg in args {
                let arg = typeset(arg, style);
                if !list.is_empty() {
                    list.push(Piece::Comma);
                }
                list.push(arg.piece);
                said.push(arg.alt);
            }
            let piece = Piece::row([Piece::Function(name), Piece::Brackets(Box::new(Piece::row(list)))]);
            Part::atom(piece, format!("{name} of {}", said.join(", ")))
        }
    }
}

/// An operand of a product or of a lying fraction. One that is itself such a
/// fraction stands in brackets: what `a / b c` divides by, readers disagree.
fn factor(expr: &Expr, style: &Style, least: u8) -> Part {
    let lying = style.division == Division::Lying && matches!(expr.node, Node::Binary(BinOp::Div, ..));
    typeset(expr, style).within(if lying { ATOM } else { least })
}

fn binary(op: BinOp, left: &Expr, right: &Expr, style: &Style) -> Part {
    let precedence = op.precedence();
    let small = Style { division: Division::Lying, ..*style };
    match op {
        // A fraction bar and a raised exponent bracket by their shape.
        BinOp::Div if style.division == Division::Upright => {
            let [top, bottom] = [left, right].map(|expr| typeset(expr, &small));
            return Part {
                piece: Piece::Fraction(Box::new(top.piece), Box::new(bottom.piece)),
                alt: format!("the fraction {} over {}, end fraction", top.alt, bottom.alt),
                precedence: BinOp::Pow.precedence() - 1,
            };
        }
        BinOp::Div => {
            let (a, b) = (factor(left, style, precedence), factor(right, style, precedence + 1));
            let slash = Piece::row([Piece::Thin, Piece::Mark('/'), Piece::Thin]);
            return a.and(slash, "over", b, precedence);
        }
        BinOp::Pow => {
            let (a, b) = (typeset(left, style).within(precedence + 1), typeset(right, &small));
            return Part {
                piece: Piece::attach(a.piece, None, Some(b.piece)),
                alt: format!("{} to the power {}", a.alt, b.alt),
                precedence,
            };
        }
        _ => {}
    }
    let (least_left, least_right) = match op.assoc() {
        Assoc::Left => (precedence, precedence + 1),
        Assoc::Right | Assoc::None => (precedence + 1, precedence),
    };
    let (a, b) = match op {
        BinOp::Mul => (factor(left, style, least_left), factor(right, style, least_right)),
        _ => (typeset(left, style).within(least_left), typeset(right, style).within(least_right)),
    };
    // Two signs side by side do not read: 6 − (−1.5).
    let b = if b.is_negative() && !op.is_condition() { b.in_brackets() } else { b };
    let (sign, word) = match op {
        BinOp::Or => (Piece::Words("or".into()), "or"),
        BinOp::And => (Piece::Words("and".into()), "and"),
        BinOp::Is => (Piece::Sign('='), "is"),
        BinOp::IsNot => (Piece::Sign('≠'), "is not"),
        BinOp::Less => (Piece::Sign('<'), "is less than"),
        BinOp::LessEqual => (Piece::Sign('≤'), "is at most"),
        BinOp::Greater => (Piece::Sign('>'), "is more than"),
        BinOp::GreaterEqual => (Piece::Sign('≥'), "is at least"),
        BinOp::Add => (Piece::Sign('+'), "plus"),
        BinOp::Sub => (Piece::Sign('−'), "minus"),
        _ => (between(&a, &b, style), "times"),
    };
    a.and(sign, word, b, precedence)
}

/// What stands between two factors. A number behind a space, or words side by
/// side, would read as a phrase.
fn between(a: &Part, b: &Part, style: &Style) -> Piece {
    match (a.piece.first(), b.piece.first()) {
        _ if style.numbers => Piece::Sign('×'),
        (Some(Piece::Words(_)), _) | (_, Some(Piece::Text(_) | Piece::Words(_))) => Piece::Sign('·'),
        _ => Piece::Thin,
    }
}
