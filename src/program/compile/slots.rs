//! Slots, operations and blocks of operations.

use std::collections::HashMap;

use super::{Compiler, Lists, Place, UnitOf};
use crate::program::op::{Op, prune};
use crate::program::{ALL, Held, NOTHING, Slot};

impl Compiler<'_> {
    pub(super) fn slot(&mut self, varies: bool) -> Slot {
        let next = if varies { &mut self.each } else { &mut self.once };
        *next += 1;
        *next - 1
    }

    pub(super) fn emit(&mut self, op: Op, varies: bool, methods: u8) {
        let Some(lists) = self.lists.last_mut() else { return };
        if !varies {
            return lists[0].push(op);
        }
        for (at, list) in lists.iter_mut().skip(1).enumerate() {
            if methods & (1 << at) != 0 {
                list.push(op);
            }
        }
    }

    /// An operation that says that a line was reached, in the lists of those
    /// runs that reach it.
    pub(super) fn reach(&mut self, op: Op, varies: bool, methods: u8) {
        self.emit(op, varies || self.varying, methods & self.methods);
    }

    /// The place of what an operation on some places gives.
    pub(super) fn worked(&mut self, held: Held, of: &[Place], make: impl Fn(Slot) -> Op) -> Place {
        let varies = of.iter().any(|place| place.varies);
        let methods = of.iter().fold(self.methods, |methods, place| methods & place.methods);
        let key = |methods: u8| (make(NOTHING), if varies { methods } else { ALL });
        let known = self.known.iter().rev().find_map(|known| known.get(&key(methods)).or_else(|| known.get(&key(ALL))));
        let slot = match known {
            Some(slot) => *slot,
            None => {
                let slot = self.slot(varies);
                self.emit(make(slot), varies, methods);
                if let Some(known) = self.known.last_mut() {
                    known.insert(key(methods), slot);
                }
                slot
            }
        };
        Place { slot, held, varies, methods, unit: 0 }
    }

    pub(super) fn constant(&mut self, value: f64, held: Held) -> Place {
        let same = |(_, known): &&(Slot, f64)| known.to_bits() == value.to_bits();
        let slot = match self.constants.iter().find(same) {
            Some((slot, _)) => *slot,
            None => {
                let slot = self.slot(false);
                self.constants.push((slot, value));
                slot
            }
        };
        Place { slot, held, varies: false, methods: ALL, unit: 0 }
    }

    pub(super) fn name(&mut self, name: &str) -> Place {
        let number = self.texts.number(name);
        self.constant(number.into(), Held::Name)
    }

    pub(super) fn open(&mut self) {
        self.lists.push(Lists::default());
        self.known.push(HashMap::new());
    }

    pub(super) fn close(&mut self) -> Lists {
        self.known.pop();
        let mut lists = self.lists.pop().unwrap_or_default();
        lists.iter_mut().for_each(prune);
        lists
    }

    /// Puts two blocks under a condition. Where the loads decide, what they do
    /// not reach is worked in any case: nobody asks for it if it is not needed.
    pub(super) fn branch(&mut self, condition: Place, then: Lists, otherwise: Lists) {
        let Some(lists) = self.lists.last_mut() else { return };
        for (at, ((list, mut then), otherwise)) in lists.iter_mut().zip(then).zip(otherwise).enumerate() {
            if at == 0 && condition.varies {
                list.extend(then);
                list.extend(otherwise);
            } else if !then.is_empty() || !otherwise.is_empty() {
                if !otherwise.is_empty() {
                    then.push(Op::Skip { many: otherwise.len() as u32 });
                }
                let (many, more) = (then.len() as u32, otherwise.len() as u32);
                list.push(Op::Branch { condition: condition.slot, then: many, otherwise: more });
                list.extend(then);
                list.extend(otherwise);
            }
        }
    }

    /// One place for what several blocks bind each in its own. Where they bind
    /// the same, there is still no value if none of them is entered.
    pub(super) fn join(&mut self, of: &[Place], conditions: &[Place], varies: bool, blocks: &mut [Lists]) -> Place {
        let varies = varies || of.iter().any(|place| place.varies);
        let first = of[0];
        let slot = self.slot(varies);
        let unit = of.iter().zip(conditions).rev().fold(of[of.len() - 1].unit, |otherwise, (place, condition)| {
            self.unit(UnitOf::Select { condition: condition.slot, then: place.unit, otherwise })
        });
        let mut methods = 0;
        for (place, lists) in of.iter().zip(blocks) {
            methods |= place.methods;
            let op = Op::Copy { to: slot, a: place.slot };
            match varies {
                false => lists[0].push(op),
                true => {
                    let of_methods = lists.iter_mut().skip(1).enumerate();
                    of_methods.filter(|(at, _)| place.methods & (1 << at) != 0).for_each(|(_, list)| list.push(op));
                }
            }
        }
        Place { slot, held: first.held, varies, methods, unit }
    }
}
