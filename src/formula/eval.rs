//! The value of one formula. Units were proved by the check; what can still
//! go wrong is a number: a division by zero, a root of a negative value.

use std::sync::Arc;

use super::{BinOp, Expr, Node, TOLERANCE, Value};
use crate::diag::Diagnostic;
use crate::names::same_name;
use crate::quantity::Quantity;
use crate::source::{Place, Source};

/// Why there is no value.
#[derive(Clone, Debug)]
pub enum Stop {
    /// A symbol has none: it was not given, or was not reached.
    Missing(String),
    Fault(Diagnostic),
}

pub trait Values {
    fn value(&self, symbol: &str) -> Option<Value>;

    /// Whether an input that may be left out was given.
    fn given(&self, symbol: &str) -> bool {
        self.value(symbol).is_some()
    }
}

impl<F: Fn(&str) -> Option<Value>> Values for F {
    fn value(&self, symbol: &str) -> Option<Value> {
        self(symbol)
    }
}

/// Evaluates a quantity or a name.
///
/// # Errors
/// [`Stop::Missing`] for a symbol without a value, [`Stop::Fault`] for a
/// number that does not exist.
pub fn eval(expr: &Expr, source: &Arc<Source>, values: &dyn Values) -> Result<Value, Stop> {
    let fault = |message: &str| Stop::Fault(Diagnostic::new(message).at(Place::new(source, expr.span.clone())));
    let value = match &expr.node {
        Node::Number(value) => Value::number(*value),
        Node::Literal { value, unit, .. } => Value::Quantity(Quantity::new(unit.to_base(*value), unit.dim)),
        Node::Text(name) => Value::Text(name.clone()),
        Node::Symbol(symbol) => values.value(symbol).ok_or_else(|| Stop::Missing(symbol.clone()))?,
        Node::Negate(inner) => {
            let inner = quantity(inner, source, values)?;
            Value::Quantity(Quantity::new(-inner.value, inner.dim))
        }
        Node::Call(function, args) => {
            let args: Vec<Quantity> = args.iter().map(|arg| quantity(arg, source, values)).collect::<Result<_, _>>()?;
            Value::Quantity(function.apply(&args).map_err(|message| fault(&message))?)
        }
        Node::Binary(op, left, right) if !op.is_condition() => {
            let (a, b) = (quantity(left, source, values)?, quantity(right, source, values)?);
            Value::Quantity(arithmetic(*op, a, b).map_err(fault)?)
        }
        Node::Not(_) | Node::Given(_) | Node::Binary(..) => return Err(fault("a condition is not a value")),
    };
    match &value {
        Value::Quantity(quantity) if !quantity.value.is_finite() => Err(fault("this has no finite value")),
        _ => Ok(value),
    }
}

fn quantity(expr: &Expr, source: &Arc<Source>, values: &dyn Values) -> Result<Quantity, Stop> {
    match eval(expr, source, values)? {
        Value::Quantity(quantity) => Ok(quantity),
        _ => Err(Stop::Fault(Diagnostic::new("not a quantity").at(Place::new(source, expr.span.clone())))),
    }
}

fn arithmetic(op: BinOp, a: Quantity, b: Quantity) -> Result<Quantity, &'static str> {
    let (x, y) = (a.value, b.value);
    Ok(match op {
        BinOp::Add => Quantity::new(x + y, a.dim),
        BinOp::Sub => Quantity::new(x - y, a.dim),
        BinOp::Mul => Quantity::new(x * y, a.dim.times(b.dim)),
        BinOp::Div if y == 0.0 => return Err("a division by zero"),
        BinOp::Div => Quantity::new(x / y, a.dim.over(b.dim)),
        BinOp::Pow if x < 0.0 && y.fract() != 0.0 => {
            return Err("a negative value raised to a power that is not a whole number");
        }
        BinOp::Pow if x == 0.0 && y < 0.0 => return Err("zero raised to a negative power"),
        BinOp::Pow => {
            let dim = match a.dim.root() {
                _ if a.dim.is_none() => a.dim,
                _ if y.fract() == 0.0 => a.dim.power(y as i8),
                Some(root) => root.power((y * 2.0) as i8),
                None => a.dim,
            };
            Quantity::new(libm::pow(x, y), dim)
        }
        _ => return Err("not an arithmetic operation"),
    })
}

/// Whether a condition holds.
pub fn holds(expr: &Expr, source: &Arc<Source>, values: &dyn Values) -> Result<bool, Stop> {
    match &expr.node {
        Node::Not(inner) => Ok(!holds(inner, source, values)?),
        Node::Given(inner) => Ok(inner.symbols().iter().all(|symbol| values.given(symbol))),
        Node::Binary(BinOp::And, left, right) => Ok(holds(left, source, values)? && holds(right, source, values)?),
        Node::Binary(BinOp::Or, left, right) => Ok(holds(left, source, values)? || holds(right, source, values)?),
        Node::Binary(op, left, right) if op.is_condition() => {
            let (a, b) = (eval(left, source, values)?, eval(right, source, values)?);
            Ok(compare(*op, &a, &b))
        }
        _ => Err(Stop::Fault(
            Diagnostic::new("this is neither true nor false").at(Place::new(source, expr.span.clone())),
        )),
    }
}

/// Compares two values of one kind; quantities within the tolerance are equal.
pub fn compare(op: BinOp, a: &Value, b: &Value) -> bool {
    match (op, a, b) {
        (BinOp::Is, Value::Text(a), Value::Text(b)) => same_name(a, b),
        (BinOp::Is, a, b) => a == b,
        (BinOp::IsNot, a, b) => !compare(BinOp::Is, a, b),
        (op, Value::Date(a), Value::Date(b)) => match op {
            BinOp::Less => a < b,
            BinOp::LessEqual => a <= b,
            BinOp::Greater => a > b,
            _ => a >= b,
        },
        (op, Value::Quantity(a), Value::Quantity(b)) => {
            let (a, b) = (a.value, b.value);
            let equal = (a - b).abs() <= TOLERANCE * a.abs().max(b.abs());
            match op {
                BinOp::Less => a < b && !equal,
                BinOp::LessEqual => a < b || equal,
                BinOp::Greater => a > b && !equal,
                _ => a > b || equal,
            }
        }
        _ => false,
    }
}
