//! Formulas as operations, and the units that their values are printed in.

use std::sync::Arc;

use super::{Compiler, Place, Scope, UnitOf};
use crate::formula::{BinOp, Expr, Node, Value, eval};
use crate::program::op::Op;
use crate::program::{Held, NOTHING};
use crate::quantity::{Dim, Unit};
use crate::source::Source;

impl Compiler<'_> {
    pub(super) fn unit(&mut self, unit: UnitOf) -> usize {
        self.units.iter().position(|known| *known == unit).unwrap_or_else(|| {
            self.units.push(unit);
            self.units.len() - 1
        })
    }

    pub(super) fn fixed_unit(&mut self, unit: &Unit) -> usize {
        self.unit(UnitOf::Fixed(Arc::new(unit.clone())))
    }

    /// A formula is printed like the first symbol in it that it could be, or
    /// like the first value that is written out.
    pub(super) fn same_unit(&mut self, expr: &Expr, held: Held, scope: &Scope) -> usize {
        let Held::Quantity(dim) = held else { return 0 };
        let alike = |place: &&Place| place.held == held && self.known_dim(place) == dim;
        if let Some(place) = expr.symbols().iter().filter_map(|symbol| scope.get(*symbol)).find(alike) {
            return place.unit;
        }
        match expr.written_unit().filter(|unit| unit.dim == dim) {
            Some(unit) => self.fixed_unit(&unit),
            None => self.fixed_unit(&self.library.units().unit(dim)),
        }
    }

    /// The dimension of the unit that a value is printed in; it is that of the
    /// value but for a plain number that was typed with a unit, such as a slope.
    pub(super) fn known_dim(&self, place: &Place) -> Dim {
        match &self.units[place.unit] {
            UnitOf::Fixed(unit) => unit.dim,
            _ => dim(place.held),
        }
    }

    pub(super) fn symbol(&self, name: &str, scope: &Scope) -> Place {
        scope.get(name).copied().unwrap_or(nothing())
    }

    pub(super) fn expr(&mut self, expr: &Expr, scope: &Scope) -> Place {
        match &expr.node {
            Node::Number(value) => self.constant(*value, Held::Quantity(Dim::NONE)),
            Node::Literal { value, unit, .. } => self.constant(unit.to_base(*value), Held::Quantity(unit.dim)),
            Node::Text(name) => self.name(name),
            Node::Symbol(symbol) => self.symbol(symbol, scope),
            Node::Negate(inner) => {
                let a = self.expr(inner, scope);
                self.worked(a.held, &[a], |to| Op::Negate { to, a: a.slot })
            }
            Node::Not(inner) => {
                let a = self.expr(inner, scope);
                self.worked(Held::Truth, &[a], |to| Op::Not { to, a: a.slot })
            }
            Node::Given(inner) => {
                let a = self.expr(inner, scope);
                self.worked(Held::Truth, &[a], |to| Op::Given { to, a: a.slot })
            }
            Node::Binary(op, left, right) => {
                let (op, a, b) = (*op, self.expr(left, scope), self.expr(right, scope));
                self.binary(op, a, b, right)
            }
            Node::Call(function, args) => {
                let args: Vec<Place> = args.iter().map(|arg| self.expr(arg, scope)).collect();
                let dims: Vec<Dim> = args.iter().map(|place| dim(place.held)).collect();
                let held = Held::Quantity(function.dim(&dims).unwrap_or(dims[0]));
                let function = *function;
                let call = |compiler: &mut Compiler, a: Place, b: Place| {
                    compiler.worked(held, &[a, b], |to| Op::call(function, to, a.slot, b.slot))
                };
                match args.as_slice() {
                    [one] => call(self, *one, *one),
                    [first, rest @ ..] => rest.iter().fold(*first, |a, b| call(self, a, *b)),
                    [] => nothing(),
                }
            }
        }
    }

    pub(super) fn binary(&mut self, op: BinOp, a: Place, b: Place, right: &Expr) -> Place {
        let (dim_a, dim_b) = (dim(a.held), dim(b.held));
        match op {
            BinOp::And => self.worked(Held::Truth, &[a, b], |to| Op::Both { to, a: a.slot, b: b.slot }),
            BinOp::Or => self.worked(Held::Truth, &[a, b], |to| Op::Either { to, a: a.slot, b: b.slot }),
            _ if op.is_condition() => {
                self.worked(Held::Truth, &[a, b], |to| Op::Compare { to, op, a: a.slot, b: b.slot })
            }
            _ => {
                let dim = match op {
                    BinOp::Mul => dim_a.times(dim_b),
                    BinOp::Div => dim_a.over(dim_b),
                    BinOp::Pow => powered(dim_a, right),
                    _ => dim_a,
                };
                self.worked(Held::Quantity(dim), &[a, b], |to| Op::arithmetic(op, to, a.slot, b.slot))
            }
        }
    }
}

/// The value of what is written out, without a symbol in it.
pub(super) fn written(expr: &Expr) -> Option<Value> {
    eval(expr, &Source::new("", ""), &|_: &str| None).ok()
}

pub(super) fn nothing() -> Place {
    Place { slot: NOTHING, held: Held::Quantity(Dim::NONE), varies: false, methods: 0, unit: 0 }
}

pub(super) fn value_held(value: &Value) -> Held {
    match value {
        Value::Quantity(quantity) => Held::Quantity(quantity.dim),
        Value::Text(_) => Held::Name,
        Value::Date(_) => Held::Date,
    }
}

pub(super) fn dim(held: Held) -> Dim {
    match held {
        Held::Quantity(dim) => dim,
        _ => Dim::NONE,
    }
}

/// The dimension of a power; the check has proved that the exponent is written
/// out where it matters.
pub(super) fn powered(base: Dim, exponent: &Expr) -> Dim {
    let power = match written(exponent) {
        Some(Value::Quantity(power)) if !base.is_none() => power.value,
        _ => return base,
    };
    match base.root() {
        _ if power.fract() == 0.0 => base.power(power as i8),
        Some(root) => root.power((power * 2.0) as i8),
        None => base,
    }
}
