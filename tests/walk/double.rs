//! Doubles, as the program has them: the same to the last bit.

use std::cmp::Ordering;

use socle::formula::{BinOp, Function};
use socle::quantity::Unit;

use super::Number;

fn finite(number: f64) -> Option<f64> {
    Some(number).filter(|number| number.is_finite())
}

fn order(a: f64, b: f64, slack: f64) -> Ordering {
    if (a - b).abs() <= slack { Ordering::Equal } else { a.total_cmp(&b) }
}

impl Number for f64 {
    fn exact(number: f64) -> f64 {
        number
    }

    fn written(number: f64, unit: &Unit) -> f64 {
        unit.to_base(number)
    }

    fn bare(&self, unit: &Unit) -> Option<f64> {
        finite(unit.from_base(*self))
    }

    fn of(&self, unit: &Unit) -> Option<f64> {
        finite(unit.to_base(*self))
    }

    fn negated(&self) -> f64 {
        -self
    }

    fn arithmetic(op: BinOp, a: &f64, b: &f64) -> Option<f64> {
        let (a, b) = (*a, *b);
        finite(match op {
            BinOp::Add => a + b,
            BinOp::Sub => a - b,
            BinOp::Mul => a * b,
            BinOp::Div if b == 0.0 => return None,
            BinOp::Div => a / b,
            BinOp::Pow if a == 0.0 && b < 0.0 => return None,
            BinOp::Pow if a < 0.0 && b.fract() != 0.0 => return None,
            BinOp::Pow => libm::pow(a, b),
            _ => unreachable!("a condition is no value"),
        })
    }

    fn call(function: Function, args: &[f64]) -> Option<f64> {
        let x = args[0];
        let step = args.get(1).copied().unwrap_or(f64::NAN);
        finite(match function {
            Function::Sqrt if x < 0.0 => return None,
            Function::Sqrt => libm::sqrt(x),
            Function::Abs => libm::fabs(x),
            Function::Sin => libm::sin(x),
            Function::Cos => libm::cos(x),
            Function::Tan => libm::tan(x),
            Function::Asin | Function::Acos if !(-1.0..=1.0).contains(&x) => return None,
            Function::Asin => libm::asin(x),
            Function::Acos => libm::acos(x),
            Function::Atan => libm::atan(x),
            Function::Atan2 if x == 0.0 && step == 0.0 => return None,
            Function::Atan2 => libm::atan2(x, step),
            Function::Exp => libm::exp(x),
            Function::Ln if x <= 0.0 => return None,
            Function::Ln => libm::log(x),
            Function::Nearest | Function::Up | Function::Down if step <= 0.0 => return None,
            Function::Nearest => libm::floor(x / step + 0.5) * step,
            Function::Up => libm::ceil(x / step - 1e-9) * step,
            Function::Down => libm::floor(x / step + 1e-9) * step,
            Function::Least => args.iter().copied().fold(f64::INFINITY, f64::min),
            Function::Greatest => args.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        })
    }

    fn compare(&self, other: &f64) -> Ordering {
        order(*self, *other, 1e-9 * f64::max(self.abs(), other.abs()))
    }

    fn beside(&self, key: &f64) -> Ordering {
        order(*self, *key, 1e-9 * key.abs())
    }

    fn is_count(&self) -> bool {
        self.fract() == 0.0 && *self >= 0.0
    }
}
