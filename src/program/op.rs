//! The operations of a compiled sheet, and the loop that carries them out.
//!
//! A value that does not exist (a division by zero, a root of a negative value,
//! an input that was not given, a block that was not entered) is not a number,
//! and what is worked from it is not one either. Why there is none is found out
//! by [`crate::sheet::work`], for the rare run in which somebody needs it.

use super::{Lookup, Memory, Slot};
use crate::formula::{BinOp, Function, TOLERANCE};
use crate::sheet::Texts;

/// `to` is where the result goes. Truths are 1 and 0, names are their numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Op {
    Negate {
        to: Slot,
        a: Slot,
    },
    Not {
        to: Slot,
        a: Slot,
    },
    Arithmetic {
        to: Slot,
        op: BinOp,
        a: Slot,
        b: Slot,
    },
    Compare {
        to: Slot,
        op: BinOp,
        a: Slot,
        b: Slot,
    },
    Call {
        to: Slot,
        function: Function,
        a: Slot,
        b: Slot,
    },
    /// The first that decides: of `and` a false one, of `or` a true one.
    Both {
        to: Slot,
        a: Slot,
        b: Slot,
    },
    Either {
        to: Slot,
        a: Slot,
        b: Slot,
    },
    Select {
        to: Slot,
        condition: Slot,
        then: Slot,
        otherwise: Slot,
    },
    /// `a * by / over`, by two constants: to a unit and from it.
    Scale {
        to: Slot,
        a: Slot,
        by: Slot,
        over: Slot,
    },
    Copy {
        to: Slot,
        a: Slot,
    },
    /// The value, where it lies within the bounds of an input.
    Bound {
        to: Slot,
        a: Slot,
        bounds: u32,
    },
    /// Enters the row of a table.
    Lookup {
        at: u32,
    },
    /// Goes on with the next `then` operations, or after them with the next
    /// `otherwise` ones; with neither if the condition has no value.
    Branch {
        condition: Slot,
        then: u32,
        otherwise: u32,
    },
    Skip {
        many: u32,
    },
    /// A line was reached that needs this value.
    Need {
        a: Slot,
    },
    /// A line was reached that gives this input a value; is it within bounds?
    Within {
        a: Slot,
        bound: Slot,
    },
    /// A sheet was reached.
    Reach {
        to: Slot,
    },
}

/// Bounds of an input in base units; of a count, that it is whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Bounds {
    pub limits: Vec<(BinOp, f64)>,
    pub count: bool,
}

impl Bounds {
    fn hold(&self, value: f64) -> bool {
        self.limits.iter().all(|(op, limit)| compare(*op, value, *limit))
            && (!self.count || (value.fract() == 0.0 && value >= 0.0))
    }
}

pub fn compare(op: BinOp, a: f64, b: f64) -> bool {
    let equal = || (a - b).abs() <= TOLERANCE * a.abs().max(b.abs());
    match op {
        BinOp::Is => a == b,
        BinOp::IsNot => a != b,
        BinOp::Less => a < b && !equal(),
        BinOp::LessEqual => a < b || equal(),
        BinOp::Greater => a > b && !equal(),
        _ => a > b || equal(),
    }
}

#[inline]
fn finite(value: f64) -> f64 {
    if value.is_finite() { value } else { f64::NAN }
}

fn arithmetic(op: BinOp, a: f64, b: f64) -> f64 {
    finite(match op {
        BinOp::Add => a + b,
        BinOp::Sub => a - b,
        BinOp::Mul => a * b,
        BinOp::Div if b == 0.0 => f64::NAN,
        BinOp::Div => a / b,
        // Zero to the power of zero is one, whatever the other is not.
        _ if a.is_nan() || b.is_nan() => f64::NAN,
        _ if a == 0.0 && b < 0.0 => f64::NAN,
        _ => libm::pow(a, b),
    })
}

/// Carries a list of operations out.
pub fn run(ops: &[Op], memory: &mut Memory, bounds: &[Bounds], lookups: &[Lookup], texts: &Texts) {
    let mut at = 0;
    let slots = &mut memory.slots;
    while let Some(op) = ops.get(at) {
        at += 1;
        match *op {
            Op::Arithmetic { to, op, a, b } => {
                slots[to as usize] = arithmetic(op, slots[a as usize], slots[b as usize])
            }
            Op::Negate { to, a } => slots[to as usize] = -slots[a as usize],
            Op::Not { to, a } => slots[to as usize] = 1.0 - slots[a as usize],
            Op::Compare { to, op, a, b } => {
                let (a, b) = (slots[a as usize], slots[b as usize]);
                slots[to as usize] =
                    if a.is_nan() || b.is_nan() { f64::NAN } else { f64::from(u8::from(compare(op, a, b))) };
            }
            Op::Call { to, function, a, b } => {
                slots[to as usize] = finite(function.number(slots[a as usize], slots[b as usize]));
            }
            Op::Both { to, a, b } => {
                slots[to as usize] = if slots[a as usize] == 1.0 { slots[b as usize] } else { slots[a as usize] };
            }
            Op::Either { to, a, b } => {
                slots[to as usize] = if slots[a as usize] == 0.0 { slots[b as usize] } else { slots[a as usize] };
            }
            Op::Select { to, condition, then, otherwise } => {
                let condition = slots[condition as usize];
                slots[to as usize] = if condition == 1.0 {
                    slots[then as usize]
                } else if condition == 0.0 {
                    slots[otherwise as usize]
                } else {
                    f64::NAN
                };
            }
            Op::Scale { to, a, by, over } => {
                slots[to as usize] = finite(slots[a as usize] * slots[by as usize] / slots[over as usize]);
            }
            Op::Copy { to, a } => slots[to as usize] = slots[a as usize],
            Op::Bound { to, a, bounds: at } => {
                let value = slots[a as usize];
                slots[to as usize] = if bounds[at as usize].hold(value) { value } else { f64::NAN };
            }
            Op::Lookup { at } => lookups[at as usize].run(slots, texts),
            Op::Branch { condition, then, otherwise } => {
                let condition = slots[condition as usize];
                if condition == 0.0 {
                    at += then as usize;
                } else if condition.is_nan() {
                    at += (then + otherwise) as usize;
                }
            }
            Op::Skip { many } => at += many as usize,
            Op::Need { a } => memory.faulty |= slots[a as usize].is_nan(),
            Op::Within { a, bound } => memory.faulty |= slots[bound as usize].is_nan() && !slots[a as usize].is_nan(),
            Op::Reach { to } => slots[to as usize] = 1.0,
        }
    }
}
