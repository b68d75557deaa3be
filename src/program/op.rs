//! The operations of a compiled sheet, and the loop that carries them out.
//!
//! A value that does not exist (a division by zero, a root of a negative value,
//! an input that was not given, a block that was not entered) is not a number,
//! and what is worked from it is not one either. Why there is none is found out
//! by [`crate::sheet::work`], for the rare run in which somebody needs it.

use super::{Lookup, Memory, Slot};
use crate::formula::{BinOp, Function, TOLERANCE};

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
    /// Whether there is a value.
    Given {
        to: Slot,
        a: Slot,
    },
    Add {
        to: Slot,
        a: Slot,
        b: Slot,
    },
    Subtract {
        to: Slot,
        a: Slot,
        b: Slot,
    },
    Multiply {
        to: Slot,
        a: Slot,
        b: Slot,
    },
    Divide {
        to: Slot,
        a: Slot,
        b: Slot,
    },
    Raise {
        to: Slot,
        a: Slot,
        b: Slot,
    },
    Least {
        to: Slot,
        a: Slot,
        b: Slot,
    },
    Greatest {
        to: Slot,
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
    limits: Vec<(BinOp, f64)>,
    count: bool,
    /// Between these no limit is so near that it has to be asked.
    clear: (f64, f64),
}

impl Bounds {
    pub fn new(limits: Vec<(BinOp, f64)>, count: bool) -> Bounds {
        let mut clear = (f64::NEG_INFINITY, f64::INFINITY);
        for (op, limit) in &limits {
            let margin = 4.0 * TOLERANCE * limit.abs();
            match op {
                BinOp::Greater | BinOp::GreaterEqual => clear.0 = clear.0.max(limit + margin),
                BinOp::Less | BinOp::LessEqual => clear.1 = clear.1.min(limit - margin),
                _ => clear.0 = f64::INFINITY,
            }
        }
        Bounds { limits, count, clear }
    }

    /// Whether what lies within others lies within these.
    pub fn follow_from(&self, others: &Bounds) -> bool {
        self.limits.iter().all(|limit| others.limits.contains(limit)) && (others.count || !self.count)
    }

    fn hold(&self, value: f64) -> bool {
        let clear = value > self.clear.0 && value < self.clear.1;
        (clear || self.limits.iter().all(|(op, limit)| compare(*op, value, *limit)))
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

#[inline]
fn raise(a: f64, b: f64) -> f64 {
    // Zero to the power of zero is one, whatever the other is not.
    if a.is_nan() || b.is_nan() || (a == 0.0 && b < 0.0) { f64::NAN } else { finite(libm::pow(a, b)) }
}

impl Op {
    pub fn arithmetic(op: BinOp, to: Slot, a: Slot, b: Slot) -> Op {
        match op {
            BinOp::Add => Op::Add { to, a, b },
            BinOp::Sub => Op::Subtract { to, a, b },
            BinOp::Mul => Op::Multiply { to, a, b },
            BinOp::Div => Op::Divide { to, a, b },
            BinOp::Pow => Op::Raise { to, a, b },
            _ => Op::Compare { to, op, a, b },
        }
    }

    pub fn call(function: Function, to: Slot, a: Slot, b: Slot) -> Op {
        match function {
            Function::Least => Op::Least { to, a, b },
            Function::Greatest => Op::Greatest { to, a, b },
            function => Op::Call { to, function, a, b },
        }
    }

    /// Where the result goes, and the slots without which there is none.
    fn rests_on(self) -> Option<(Slot, [Slot; 2])> {
        Some(match self {
            Op::Add { to, a, b }
            | Op::Subtract { to, a, b }
            | Op::Multiply { to, a, b }
            | Op::Divide { to, a, b }
            | Op::Raise { to, a, b }
            | Op::Least { to, a, b }
            | Op::Greatest { to, a, b }
            | Op::Compare { to, a, b, .. }
            | Op::Call { to, a, b, .. } => (to, [a, b]),
            Op::Negate { to, a }
            | Op::Not { to, a }
            | Op::Scale { to, a, .. }
            | Op::Copy { to, a }
            | Op::Bound { to, a, .. }
            | Op::Both { to, a, .. }
            | Op::Either { to, a, .. }
            | Op::Select { to, condition: a, .. } => (to, [a, a]),
            Op::Given { .. }
            | Op::Lookup { .. }
            | Op::Branch { .. }
            | Op::Skip { .. }
            | Op::Need { .. }
            | Op::Within { .. }
            | Op::Reach { .. } => return None,
        })
    }
}

/// Takes out of a block what says again that something is needed: what has no
/// value leaves all that is worked from it without one.
pub fn prune(ops: &mut Vec<Op>) {
    // Blocks in this one were pruned when they were closed.
    let mut inside = vec![false; ops.len()];
    let mut at = 0;
    while at < ops.len() {
        at += 1;
        if let Op::Branch { then, otherwise, .. } = ops[at - 1] {
            let end = at + (then + otherwise) as usize;
            inside[at..end].fill(true);
            at = end;
        }
    }
    let mut needed = std::collections::BTreeSet::new();
    let mut kept = vec![true; ops.len()];
    for (at, op) in ops.iter().enumerate().rev().filter(|(at, _)| !inside[*at]) {
        if let Op::Need { a } = op {
            kept[at] = needed.insert(*a);
        } else if let Some((to, of)) = op.rests_on()
            && needed.contains(&to)
        {
            needed.extend(of);
        }
    }
    let mut kept = kept.into_iter();
    ops.retain(|_| kept.next() != Some(false));
}

/// Carries a list of operations out.
pub fn run(ops: &[Op], memory: &mut Memory, bounds: &[Bounds], lookups: &[Lookup]) {
    let mut at = 0;
    let slots = memory.slots.as_mut_slice();
    while let Some(op) = ops.get(at) {
        at += 1;
        match *op {
            Op::Add { to, a, b } => slots[to as usize] = finite(slots[a as usize] + slots[b as usize]),
            Op::Subtract { to, a, b } => slots[to as usize] = finite(slots[a as usize] - slots[b as usize]),
            Op::Multiply { to, a, b } => slots[to as usize] = finite(slots[a as usize] * slots[b as usize]),
            // By zero the result is not finite, whatever is divided.
            Op::Divide { to, a, b } => slots[to as usize] = finite(slots[a as usize] / slots[b as usize]),
            Op::Raise { to, a, b } => slots[to as usize] = raise(slots[a as usize], slots[b as usize]),
            Op::Least { to, a, b } => {
                let (a, b) = (slots[a as usize], slots[b as usize]);
                slots[to as usize] = if a.is_nan() || b.is_nan() { f64::NAN } else { a.min(b) };
            }
            Op::Greatest { to, a, b } => {
                let (a, b) = (slots[a as usize], slots[b as usize]);
                slots[to as usize] = if a.is_nan() || b.is_nan() { f64::NAN } else { a.max(b) };
            }
            Op::Negate { to, a } => slots[to as usize] = -slots[a as usize],
            Op::Given { to, a } => slots[to as usize] = f64::from(u8::from(!slots[a as usize].is_nan())),
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
            Op::Lookup { at } => lookups[at as usize].run(slots, &mut memory.looked),
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
