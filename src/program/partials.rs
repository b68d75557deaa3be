//! How the result of one operation reacts to what it was worked from.
//!
//! A branch, a case, the lesser of two stays the one that was taken; a value that is
//! rounded counts as if it were not; of two that are equal each counts for half; a row of a
//! table stays the row, and between two rows the slope is that of the straight line.

use super::op::Op;
use super::{Memory, NOTHING, Slot};
use crate::formula::{Function, TOLERANCE};
use crate::sheet::Hit;

/// The derivatives of the one result of an operation as it was last worked, by the slots that it
/// was worked from. What is true, given or reached does not change by a little.
pub(super) fn partials(op: Op, memory: &Memory, rounded_stays: bool) -> [(Slot, f64); 2] {
    const NONE: (Slot, f64) = (NOTHING, 0.0);
    let value = |slot: Slot| memory.get(slot);
    if result(op).is_none_or(|to| value(to).is_nan()) {
        return [NONE; 2];
    }
    match op {
        Op::Add { a, b, .. } => [(a, 1.0), (b, 1.0)],
        Op::Subtract { a, b, .. } => [(a, 1.0), (b, -1.0)],
        Op::Multiply { a, b, .. } => [(a, value(b)), (b, value(a))],
        Op::Divide { to, a, b } => [(a, 1.0 / value(b)), (b, -value(to) / value(b))],
        Op::Raise { to, a, b } => {
            let (base, power) = (value(a), value(b));
            let by_power = if base > 0.0 { value(to) * libm::log(base) } else { 0.0 };
            [(a, power * libm::pow(base, power - 1.0)), (b, by_power)]
        }
        Op::Least { a, b, .. } => either(a, b, value(b) - value(a)),
        Op::Greatest { a, b, .. } => either(a, b, value(a) - value(b)),
        Op::Negate { a, .. } => [(a, -1.0), NONE],
        Op::Scale { a, by, over, .. } => [(a, value(by) / value(over)), NONE],
        Op::Copy { a, .. } | Op::Bound { a, .. } => [(a, 1.0), NONE],
        Op::Select { condition, then, otherwise, .. } => {
            [(if value(condition) == 1.0 { then } else { otherwise }, 1.0), NONE]
        }
        Op::Call { function: Function::Nearest | Function::Up | Function::Down, .. } if rounded_stays => [NONE; 2],
        Op::Call { function, a, b, .. } => {
            let [first, second] = function.slopes(value(a), value(b));
            [(a, first), if function.arity().1 > 1 { (b, second) } else { NONE }]
        }
        _ => [NONE; 2],
    }
}

impl super::Lookup {
    /// The key that lies between two rows, of those that it looks up by.
    pub(super) fn between(&self) -> Option<usize> {
        self.keys.iter().position(|(_, between)| *between)
    }

    /// How a column changes with a key that lies between two rows. On a row itself it
    /// is the slope above it, or else the one below.
    pub(super) fn slope(&self, memory: &Memory, between: usize, column: usize) -> f64 {
        let mut keys: Vec<(f64, bool)> = self.keys.iter().map(|(slot, it)| (memory.get(*slot), *it)).collect();
        let key = keys[between].0;
        let nudge = 4.0 * TOLERANCE * key.abs();
        for at in [key, key + nudge, key - nudge] {
            keys[between].0 = at;
            if let Some(Hit::Between(low, high, _)) = self.table.locate(&keys) {
                let read = |row: usize, column: usize| self.table.read_at(Hit::Row(row), column);
                return (read(high, column) - read(low, column)) / (read(high, between) - read(low, between));
            }
        }
        0.0
    }
}

impl Function {
    /// The derivatives by its two arguments. A root at zero, where it has none, counts
    /// as nothing.
    fn slopes(self, x: f64, y: f64) -> [f64; 2] {
        let one = match self {
            Function::Sqrt if x == 0.0 => 0.0,
            Function::Sqrt => 0.5 / libm::sqrt(x),
            Function::Abs if x == 0.0 => 0.0,
            Function::Abs => x.signum(),
            Function::Sin => libm::cos(x),
            Function::Cos => -libm::sin(x),
            Function::Tan => 1.0 + libm::tan(x) * libm::tan(x),
            Function::Asin => 1.0 / libm::sqrt(1.0 - x * x),
            Function::Acos => -1.0 / libm::sqrt(1.0 - x * x),
            Function::Atan => 1.0 / (1.0 + x * x),
            Function::Atan2 => return [y / (x * x + y * y), -x / (x * x + y * y)],
            Function::Exp => libm::exp(x),
            Function::Ln => 1.0 / x,
            // Rounded, it counts as it was.
            Function::Nearest | Function::Up | Function::Down => 1.0,
            // They are operations of their own.
            Function::Least | Function::Greatest => 0.0,
        };
        [one, 0.0]
    }
}

/// The first if `ahead` is more than nothing, the second if it is less.
fn either(a: Slot, b: Slot, ahead: f64) -> [(Slot, f64); 2] {
    let first = if ahead == 0.0 { 0.5 } else { f64::from(u8::from(ahead > 0.0)) };
    [(a, first), (b, 1.0 - first)]
}

/// Where the one result of an operation goes.
pub(super) fn result(op: Op) -> Option<Slot> {
    Some(match op {
        Op::Add { to, .. }
        | Op::Subtract { to, .. }
        | Op::Multiply { to, .. }
        | Op::Divide { to, .. }
        | Op::Raise { to, .. }
        | Op::Least { to, .. }
        | Op::Greatest { to, .. }
        | Op::Compare { to, .. }
        | Op::Call { to, .. }
        | Op::Negate { to, .. }
        | Op::Not { to, .. }
        | Op::Given { to, .. }
        | Op::Scale { to, .. }
        | Op::Copy { to, .. }
        | Op::Bound { to, .. }
        | Op::Both { to, .. }
        | Op::Either { to, .. }
        | Op::Select { to, .. }
        | Op::Reach { to } => to,
        Op::Lookup { .. } | Op::Branch { .. } | Op::Skip { .. } | Op::Need { .. } | Op::Within { .. } => return None,
    })
}

/// The operations that a run carried out, by the branches that it took.
pub(super) fn carried_out(ops: &[Op], memory: &Memory, found: &mut Vec<Op>) {
    found.clear();
    let mut at = 0;
    while let Some(op) = ops.get(at) {
        at += 1;
        match *op {
            Op::Branch { condition, then, otherwise } => {
                let condition = memory.get(condition);
                if condition == 0.0 {
                    at += then as usize;
                } else if condition.is_nan() {
                    at += (then + otherwise) as usize;
                }
            }
            Op::Skip { many } => at += many as usize,
            op => found.push(op),
        }
    }
}
