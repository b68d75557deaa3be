//! Formula trees to the typesetter's math mode.

use serde::Serialize;

use super::line::{Run, line};
use super::symbol::{symbol, twin};
use super::width::formula_width;
use crate::formula::{Assoc, BinOp, Expr, Function, Node, PREFIX_PRECEDENCE};
use crate::quantity::{INPUT_DIGITS, number};

/// One formula, ready to typeset: the source in the typesetter's math mode,
/// and what a screen reader says.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Math {
    pub src: String,
    pub alt: String,
    /// What it is made smaller by, where a part of it is wider than any line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub scale: Option<f64>,
    /// The same as words, where it is a line of them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub runs: Option<Vec<Run>>,
}

/// The narrowest body of a page without what an equation may be set in from its
/// edge, in ems of the text: `look.typ`, a page in metric units.
const LINE: f64 = (376.0 - 24.0) / 9.0;

impl Math {
    pub fn new(src: String, alt: String) -> Math {
        // Two signs may stand before it, and in one line of ten thousand a font's
        // kerning makes words wider than their letters.
        let piece = formula_width(&src).piece + 1.5;
        let scale = (piece > LINE).then(|| (LINE / piece * 100.0).floor() / 100.0);
        let runs = if scale.is_none() { line(&src) } else { None };
        Math { src, alt, scale, runs }
    }
}

/// A part with the precedence of its outermost operator.
pub(super) struct Piece {
    pub src: String,
    pub alt: String,
    pub precedence: u8,
}

const ATOM: u8 = u8::MAX;

impl Piece {
    pub fn atom(src: impl Into<String>, alt: impl Into<String>) -> Piece {
        Piece { src: src.into(), alt: alt.into(), precedence: ATOM }
    }

    /// In brackets where a looser operator stands in a tighter one.
    fn within(self, least: u8) -> Piece {
        if self.precedence >= least {
            return self;
        }
        Piece::atom(format!("({})", self.src), format!("open bracket {} close bracket", self.alt))
    }
}

/// What stands for numbers and symbols, and between factors.
#[derive(Clone, Copy)]
pub(super) struct Style<'a> {
    pub leaf: &'a dyn Fn(&Expr) -> Piece,
    /// Numbers with units need a sign between them, symbols only a space.
    pub times: &'static str,
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
            let math = if twins { twin(name) } else { symbol(name) };
            Piece::atom(math.src, math.alt)
        }
        _ => constant_leaf(expr),
    };
    finish(typeset(expr, &Style { leaf: &leaf, times: "thin", division }))
}

pub(super) fn finish(piece: Piece) -> Math {
    Math::new(piece.src, piece.alt)
}

fn constant_leaf(expr: &Expr) -> Piece {
    match &expr.node {
        Node::Number(value) => plain(&number(*value, INPUT_DIGITS)),
        Node::Literal { value, unit, print } => {
            let value = if unit == print { *value } else { print.from_base(unit.to_base(*value)) };
            with_unit(&number(value, INPUT_DIGITS), &print.pretty())
        }
        Node::Text(name) => Piece::atom(format!("upright({})", quoted(name)), name.clone()),
        _ => Piece::atom("", ""),
    }
}

pub(super) fn plain(number: &str) -> Piece {
    let alt = number.replace('−', "minus ").replace(',', "");
    if number.starts_with('−') {
        return Piece { src: quoted(number), alt, precedence: PREFIX_PRECEDENCE };
    }
    Piece::atom(quoted(number), alt)
}

/// A number and its unit bind like a product: they need brackets under a power.
pub(super) fn with_unit(number: &str, unit: &str) -> Piece {
    let bare = plain(number);
    if unit.is_empty() {
        return bare;
    }
    let space = if unit == "°" { "" } else { " thin" };
    let src = format!("{}{space} upright({})", bare.src, quoted(unit));
    Piece { src, alt: format!("{} {unit}", bare.alt), precedence: bare.precedence.min(BinOp::Mul.precedence() + 1) }
}

/// A text that math mode prints as it stands.
pub(super) fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

pub(super) fn typeset(expr: &Expr, style: &Style) -> Piece {
    match &expr.node {
        Node::Number(_) | Node::Literal { .. } | Node::Symbol(_) | Node::Text(_) => (style.leaf)(expr),
        Node::Negate(inner) => {
            let inner = typeset(inner, style).within(PREFIX_PRECEDENCE + 1);
            Piece { src: format!("-{}", inner.src), alt: format!("minus {}", inner.alt), precedence: PREFIX_PRECEDENCE }
        }
        Node::Not(inner) => {
            if let Node::Given(input) = &inner.node {
                return given(input, "is not given", style);
            }
            let inner = typeset(inner, style).within(BinOp::Is.precedence());
            Piece {
                src: format!("upright(\"not\") {}", inner.src),
                alt: format!("not {}", inner.alt),
                precedence: BinOp::And.precedence(),
            }
        }
        Node::Given(input) => given(input, "is given", style),
        Node::Call(function, args) => call(*function, args, style),
        Node::Binary(op, left, right) => binary(*op, left, right, style),
    }
}

fn given(input: &Expr, words: &str, style: &Style) -> Piece {
    let input = typeset(input, style);
    Piece {
        src: format!("{} upright({})", input.src, quoted(words)),
        alt: format!("{} {words}", input.alt),
        precedence: BinOp::Is.precedence(),
    }
}

fn call(function: Function, args: &[Expr], style: &Style) -> Piece {
    let pieces: Vec<Piece> = args.iter().map(|arg| typeset(arg, style)).collect();
    let first = &pieces[0];
    let tight = BinOp::Mul.precedence();
    match function {
        Function::Sqrt => {
            Piece::atom(format!("sqrt({})", first.src), format!("the square root of {}, end root", first.alt))
        }
        Function::Abs => Piece::atom(format!("abs({})", first.src), format!("the absolute value of {}", first.alt)),
        Function::Atan2 => {
            let small = Style { division: Division::Lying, ..*style };
            let [first, second] = [0, 1].map(|at| typeset(&args[at], &small));
            Piece::atom(
                format!("arctan (frac({}, {}))", first.src, second.src),
                format!("arc tangent of {} over {}", first.alt, second.alt),
            )
        }
        Function::Nearest | Function::Up | Function::Down => {
            let words = match function {
                Function::Nearest => "to the nearest",
                Function::Up => "rounded up to",
                _ => "rounded down to",
            };
            let step = &pieces[1];
            let inner = typeset(&args[0], style).within(tight);
            Piece {
                src: format!("{}upright(\", {words}\") {}", inner.src, step.src),
                alt: format!("{}, {words} {}", inner.alt, step.alt),
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
            let src: Vec<&str> = pieces.iter().map(|piece| piece.src.as_str()).collect();
            let alt: Vec<&str> = pieces.iter().map(|piece| piece.alt.as_str()).collect();
            let head = match function {
                Function::Least | Function::Greatest => format!("op(\"{name}\")"),
                _ => name.to_string(),
            };
            Piece::atom(format!("{head} ({})", src.join(", ")), format!("{name} of {}", alt.join(", ")))
        }
    }
}

/// An operand of a product or of a lying fraction. One that is itself such a
/// fraction stands in brackets: what `a / b c` divides by, readers disagree.
fn factor(expr: &Expr, style: &Style, least: u8) -> Piece {
    let lying = style.division == Division::Lying && matches!(expr.node, Node::Binary(BinOp::Div, ..));
    typeset(expr, style).within(if lying { ATOM } else { least })
}

fn binary(op: BinOp, left: &Expr, right: &Expr, style: &Style) -> Piece {
    let precedence = op.precedence();
    let small = Style { division: Division::Lying, ..*style };
    match op {
        // A fraction bar and a raised exponent bracket by their shape.
        BinOp::Div if style.division == Division::Upright => {
            let (a, b) = (typeset(left, &small), typeset(right, &small));
            return Piece {
                src: format!("frac({}, {})", a.src, b.src),
                alt: format!("the fraction {} over {}, end fraction", a.alt, b.alt),
                precedence: BinOp::Pow.precedence() - 1,
            };
        }
        BinOp::Div => {
            let (a, b) = (factor(left, style, precedence), factor(right, style, precedence + 1));
            return Piece {
                src: format!("{} thin slash thin {}", a.src, b.src),
                alt: format!("{} over {}", a.alt, b.alt),
                precedence,
            };
        }
        BinOp::Pow => {
            let (a, b) = (typeset(left, style).within(precedence + 1), typeset(right, &small));
            return Piece {
                src: format!("attach({}, t: {})", a.src, b.src),
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
    let starts_with_number = |piece: &Piece| piece.src.starts_with('"');
    // Two signs side by side do not read: 6 − (−1.5).
    let negative = b.src.starts_with('-') || b.src.starts_with("\"−");
    let b = if negative && !op.is_condition() { b.within(ATOM) } else { b };
    // Words side by side would read as a phrase.
    let word = |piece: &Piece| piece.src.starts_with("upright(");
    let times = if starts_with_number(&b) || word(&a) || word(&b) { "dot.op" } else { style.times };
    let times = if style.times == "times" { "times" } else { times };
    let (sign, word) = match op {
        BinOp::Or => ("upright(\"or\")", "or"),
        BinOp::And => ("upright(\"and\")", "and"),
        BinOp::Is => ("=", "is"),
        BinOp::IsNot => ("eq.not", "is not"),
        BinOp::Less => ("<", "is less than"),
        BinOp::LessEqual => ("lt.eq", "is at most"),
        BinOp::Greater => (">", "is more than"),
        BinOp::GreaterEqual => ("gt.eq", "is at least"),
        BinOp::Add => ("+", "plus"),
        BinOp::Sub => ("-", "minus"),
        _ => (times, "times"),
    };
    Piece { src: format!("{} {sign} {}", a.src, b.src), alt: format!("{} {word} {}", a.alt, b.alt), precedence }
}
