//! The functions a formula can call.

use super::Kind;
use crate::quantity::{Dim, Quantity};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Function {
    Sqrt,
    Abs,
    Sin,
    Cos,
    Tan,
    Asin,
    Acos,
    Atan,
    /// The angle whose tangent is the first over the second.
    Atan2,
    Exp,
    Ln,
    /// To the nearest, next higher, next lower multiple of a step.
    Nearest,
    Up,
    Down,
    Least,
    Greatest,
}

const NAMES: &[(&str, Function)] = &[
    ("sqrt", Function::Sqrt),
    ("abs", Function::Abs),
    ("sin", Function::Sin),
    ("cos", Function::Cos),
    ("tan", Function::Tan),
    ("asin", Function::Asin),
    ("acos", Function::Acos),
    ("atan", Function::Atan),
    ("atan2", Function::Atan2),
    ("exp", Function::Exp),
    ("ln", Function::Ln),
    ("nearest", Function::Nearest),
    ("up", Function::Up),
    ("down", Function::Down),
    ("least", Function::Least),
    ("greatest", Function::Greatest),
];

/// `a length`, for a message.
fn noun(dim: Dim) -> String {
    Kind::Quantity(dim).named()
}

impl Function {
    pub fn named(name: &str) -> Option<Function> {
        NAMES.iter().find(|(known, _)| *known == name).map(|(_, function)| *function)
    }

    pub fn names() -> impl Iterator<Item = &'static str> {
        NAMES.iter().map(|(name, _)| *name)
    }

    pub fn name(self) -> &'static str {
        NAMES.iter().find(|(_, function)| *function == self).map_or("", |(name, _)| *name)
    }

    /// Fewest and most arguments.
    pub fn arity(self) -> (usize, usize) {
        match self {
            Function::Least | Function::Greatest => (2, usize::MAX),
            Function::Atan2 | Function::Nearest | Function::Up | Function::Down => (2, 2),
            _ => (1, 1),
        }
    }

    /// The dimension of the result.
    ///
    /// # Errors
    /// What is wrong with which argument.
    pub fn dim(self, args: &[Dim]) -> Result<Dim, (usize, String)> {
        let name = self.name();
        let first = args[0];
        match self {
            Function::Sqrt => first.root().ok_or_else(|| {
                (0, format!("the square root of {} has no unit; if the code's formula hides units, write `where … in …, giving …`", noun(first)))
            }),
            Function::Abs => Ok(first),
            Function::Sin | Function::Cos | Function::Tan => {
                if first == Dim::ANGLE { Ok(Dim::NONE) } else { Err((0, format!("`{name}` needs an angle, found {}", noun(first)))) }
            }
            Function::Asin | Function::Acos | Function::Atan => {
                if first.is_none() { Ok(Dim::ANGLE) } else { Err((0, format!("`{name}` needs a plain number, found {}", noun(first)))) }
            }
            Function::Exp | Function::Ln => {
                if first.is_none() { Ok(Dim::NONE) } else { Err((0, format!("`{name}` needs a plain number, found {}", noun(first)))) }
            }
            Function::Atan2 | Function::Nearest | Function::Up | Function::Down | Function::Least | Function::Greatest => {
                match args.iter().position(|dim| *dim != first) {
                    Some(at) => Err((at, format!("`{name}` compares {} with {}", noun(first), noun(args[at])))),
                    None if self == Function::Atan2 => Ok(Dim::ANGLE),
                    None => Ok(first),
                }
            }
        }
    }

    /// The value; the arguments are of the right number and dimensions.
    ///
    /// # Errors
    /// Why there is no value.
    pub fn apply(self, args: &[Quantity]) -> Result<Quantity, String> {
        let x = args[0].value;
        let y = args.get(1).map_or(1.0, |arg| arg.value);
        if let Some(fault) = self.fault(x, y) {
            return Err(fault);
        }
        let rest = args.iter().skip(1).map(|arg| arg.value);
        let value = if self.arity().1 > 2 { rest.fold(x, |a, b| self.number(a, b)) } else { self.number(x, y) };
        let dims: Vec<Dim> = args.iter().map(|arg| arg.dim).collect();
        Ok(Quantity::new(value, self.dim(&dims).map_err(|(_, message)| message)?))
    }

    /// Why there is no value.
    fn fault(self, x: f64, y: f64) -> Option<String> {
        Some(match self {
            Function::Sqrt if x < 0.0 => "the square root of a negative value".into(),
            Function::Asin | Function::Acos if x.abs() > 1.0 => format!("`{}` of a value beyond 1", self.name()),
            Function::Atan2 if x == 0.0 && y == 0.0 => "the angle of a load that is zero".into(),
            Function::Ln if x <= 0.0 => "the logarithm of a value that is not above zero".into(),
            Function::Nearest | Function::Up | Function::Down if y <= 0.0 => {
                format!("`{}` needs a step above zero", self.name())
            }
            _ => return None,
        })
    }

    /// The value of one argument, or of two of those that take two or more;
    /// not a number where there is none.
    pub fn number(self, x: f64, y: f64) -> f64 {
        match self {
            Function::Sqrt => libm::sqrt(x),
            Function::Abs => x.abs(),
            Function::Sin => libm::sin(x),
            Function::Cos => libm::cos(x),
            Function::Tan => libm::tan(x),
            Function::Asin => libm::asin(x),
            Function::Acos => libm::acos(x),
            Function::Atan => libm::atan(x),
            Function::Atan2 if x == 0.0 && y == 0.0 => f64::NAN,
            Function::Atan2 => libm::atan2(x, y),
            Function::Exp => libm::exp(x),
            Function::Ln if x <= 0.0 => f64::NAN,
            Function::Ln => libm::log(x),
            Function::Nearest | Function::Up | Function::Down if y <= 0.0 => f64::NAN,
            Function::Nearest => libm::floor(x / y + 0.5) * y,
            // A value that is a whole number of steps but for its last bits stays.
            Function::Up => libm::ceil(x / y - 1e-9) * y,
            Function::Down => libm::floor(x / y + 1e-9) * y,
            Function::Least | Function::Greatest if x.is_nan() || y.is_nan() => f64::NAN,
            Function::Least => x.min(y),
            Function::Greatest => x.max(y),
        }
    }
}
