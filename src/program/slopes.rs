//! How a limit reacts to the facts: the operations that it rests on, worked by
//! themselves, and its derivatives, backwards through those that were carried out.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use super::op::{self, Op};
use super::partials::{carried_out, partials, result};
use super::{Limit, Memory, Outcome, Program, Slot};
use crate::formula::Kind;
use crate::sheet::Method;

/// The operations that a limit rests on, in the combinations of one method.
#[derive(Debug, Default)]
pub struct Cone {
    /// Those that no load reaches, and those of a combination.
    lists: [Vec<Op>; 2],
    /// Where they put something.
    sets: Vec<Slot>,
    /// The facts that they read, by index.
    pub facts: Vec<usize>,
    /// All that they read or set.
    slots: Vec<Slot>,
}

/// Room to sum derivatives in, by slot: nothing stays in it.
#[derive(Debug, Default)]
pub struct Room {
    /// What is rounded does not move, as in truth it does not by a little.
    pub rounded_stays: bool,
    sums: Vec<f64>,
    ops: Vec<Op>,
}

/// Which operations of a list put something where, and which branch each is in.
#[derive(Debug)]
struct Producers {
    of: Vec<Vec<u32>>,
    above: Vec<u32>,
}

const NO_BRANCH: u32 = u32::MAX;

/// What is found out of a program when somebody asks how its limits react.
#[derive(Debug, Default)]
pub struct Reacting {
    producers: [OnceLock<Producers>; 1 + Method::ALL.len()],
    /// For each limit and method.
    cones: OnceLock<Vec<[OnceLock<Cone>; Method::ALL.len()]>>,
    rows: OnceLock<BTreeSet<usize>>,
}

/// The derivatives of a ratio by facts, by their index.
pub type Slopes = Vec<(usize, f64)>;

impl Program {
    /// What a limit rests on, by its place in `limits`.
    pub fn cone(&self, limit: usize, method: Method) -> &Cone {
        let none = || (0..self.limits.len()).map(|_| Default::default()).collect();
        self.reacting.cones.get_or_init(none)[limit][method as usize].get_or_init(|| self.make_cone(limit, method))
    }

    fn producers(&self, list: usize) -> &Producers {
        self.reacting.producers[list].get_or_init(|| {
            let ops = &self.lists[list];
            let mut of = vec![Vec::new(); self.image.len()];
            for (at, op) in ops.iter().enumerate() {
                self.results(*op, &mut |slot| of[slot as usize].push(at as u32));
            }
            let mut above = vec![NO_BRANCH; ops.len()];
            // A branch stands before what it holds: of those around an operation the last is written last.
            for (at, op) in ops.iter().enumerate() {
                if let Op::Branch { then, otherwise, .. } = op {
                    above[at + 1..=at + (then + otherwise) as usize].fill(at as u32);
                }
            }
            Producers { of, above }
        })
    }

    fn make_cone(&self, limit: usize, method: Method) -> Cone {
        let limit = &self.limits[limit];
        let sides = limit.sides.iter().flatten().map(|(slot, _)| *slot);
        let mut wanted: Vec<Slot> = sides.chain([limit.state]).collect();
        let mut seen = vec![false; self.image.len()];
        wanted.iter().for_each(|slot| seen[*slot as usize] = true);
        let lists = [0, 1 + method as usize];
        let mut kept = lists.map(|list| vec![false; self.lists[list].len()]);
        while let Some(slot) = wanted.pop() {
            for (list, kept) in lists.into_iter().zip(&mut kept) {
                let producers = self.producers(list);
                for first in &producers.of[slot as usize] {
                    let mut at = *first;
                    while at != NO_BRANCH && !std::mem::replace(&mut kept[at as usize], true) {
                        self.reads(self.lists[list][at as usize], &mut |slot| {
                            if !std::mem::replace(&mut seen[slot as usize], true) {
                                wanted.push(slot);
                            }
                        });
                        at = producers.above[at as usize];
                    }
                }
            }
        }
        let mut cone = Cone::default();
        for ((list, kept), ops) in lists.into_iter().zip(&kept).zip(&mut cone.lists) {
            keep(&self.lists[list], 0..self.lists[list].len(), kept, ops);
            ops.iter().for_each(|op| self.results(*op, &mut |slot| cone.sets.push(slot)));
        }
        cone.facts = (0..self.facts.len()).filter(|at| seen[self.facts[*at].slot as usize]).collect();
        // A row that is looked up for one column gives others too.
        cone.sets.iter().for_each(|slot| seen[*slot as usize] = true);
        cone.slots = (0..seen.len() as Slot).filter(|slot| seen[*slot as usize]).collect();
        cone
    }

    /// Works a limit alone, once facts and loads are set; how it comes out.
    pub fn again(&self, limit: &Limit, cone: &Cone, memory: &mut Memory, method: Method) -> Option<Outcome> {
        cone.sets.iter().for_each(|slot| memory.set(*slot, f64::NAN));
        cone.lists.iter().for_each(|ops| op::run(ops, memory, &self.bounds, &self.lookups));
        self.outcome(limit, memory, Some(method))
    }

    /// The derivatives of a limit's ratio by each quantity among the facts, as it was
    /// last worked; none for a limit that is no ratio, or has no capacity.
    pub fn slopes(&self, limit: &Limit, cone: &Cone, memory: &Memory, room: &mut Room) -> Option<Slopes> {
        let [(demand, _), (capacity, _)] = limit.sides?;
        let (over, under) = (memory.get(demand), memory.get(capacity));
        if !(under > 0.0 && over.is_finite()) {
            return None;
        }
        let Room { sums, ops, rounded_stays } = room;
        sums.resize(self.image.len(), 0.0);
        // Below zero a demand counts as nothing.
        if over >= 0.0 {
            sums[demand as usize] += 1.0 / under;
            sums[capacity as usize] -= over / (under * under);
        }
        for list in cone.lists.iter().rev() {
            carried_out(list, memory, ops);
            ops.iter().rev().for_each(|op| self.back(*op, memory, sums, *rounded_stays));
        }
        let quantity = |at: &usize| self.facts[*at].input.kind.dim().is_some();
        let of = |at: usize| (at, sums[self.facts[at].slot as usize]);
        let slopes = cone.facts.iter().copied().filter(quantity).map(of).collect();
        cone.slots.iter().for_each(|slot| sums[*slot as usize] = 0.0);
        Some(slopes)
    }

    /// Whether a fact names a row of a table: a size of a list, and no measure.
    pub fn names_row(&self, fact: usize) -> bool {
        let rows = self.reacting.rows.get_or_init(|| {
            let mut keys: BTreeSet<Slot> = BTreeSet::new();
            for lookup in &self.lookups {
                let exact = lookup.keys.iter().enumerate().filter(|(_, (_, between))| !between);
                keys.extend(exact.filter(|(column, _)| !lookup.table.ranges(*column)).map(|(_, (slot, _))| *slot));
            }
            for op in self.lists.iter().flat_map(|ops| ops.iter().rev()) {
                if let Op::Copy { to, a } | Op::Bound { to, a, .. } = op
                    && keys.contains(to)
                {
                    keys.insert(*a);
                }
            }
            (0..self.facts.len()).filter(|at| keys.contains(&self.facts[*at].slot)).collect()
        });
        rows.contains(&fact)
    }

    /// The facts that name a row behind all other keys that are no fixed names, as a size or
    /// a grade does, and what the rows before and after it are called.
    pub fn neighbours(&self, cone: &Cone, memory: &Memory) -> Vec<(usize, [Option<f64>; 2])> {
        let mut found: Vec<(usize, [Option<f64>; 2])> = Vec::new();
        let mut kinds: BTreeSet<usize> = BTreeSet::new();
        let mut ops = Vec::new();
        for list in &cone.lists {
            carried_out(list, memory, &mut ops);
            for op in &ops {
                let Op::Lookup { at } = *op else { continue };
                let lookup = &self.lookups[at as usize];
                let named = |at: &usize| self.image[lookup.keys[*at].0 as usize].is_nan();
                let keys: Vec<usize> = (0..lookup.keys.len()).filter(named).collect();
                let Some((last, others)) = keys.split_last() else { continue };
                kinds.extend(others.iter().filter_map(|at| self.origin(lookup.keys[*at].0, memory)));
                let Some(fact) = self.origin(lookup.keys[*last].0, memory) else { continue };
                let free =
                    !lookup.keys[*last].1 && matches!(self.facts[fact].input.kind, Kind::Text | Kind::Quantity(_));
                if free && found.iter().all(|(known, _)| *known != fact) {
                    let keys: Vec<f64> = lookup.keys.iter().map(|(slot, _)| memory.get(*slot)).collect();
                    found.push((fact, lookup.table.beside(&keys, *last)));
                }
            }
        }
        found.retain(|(fact, _)| !kinds.contains(fact));
        found
    }

    /// The fact that a slot has its value from, if that was only handed on.
    fn origin(&self, slot: Slot, memory: &Memory) -> Option<usize> {
        if let Some(fact) = self.facts.iter().position(|fact| fact.slot == slot) {
            return Some(fact);
        }
        let handed = self.producers(0).of[slot as usize].iter().filter_map(|at| match self.lists[0][*at as usize] {
            Op::Copy { a, .. } | Op::Bound { a, .. } => Some(a),
            _ => None,
        });
        let mut same = handed.filter(|a| memory.get(*a) == memory.get(slot));
        same.find_map(|a| self.origin(a, memory))
    }

    /// Hands the derivative by a result on to what the result was worked from.
    fn back(&self, op: Op, memory: &Memory, sums: &mut [f64], rounded_stays: bool) {
        if let Op::Lookup { at } = op {
            let lookup = &self.lookups[at as usize];
            let Some(between) = lookup.between() else { return };
            let mut sum = 0.0;
            for (column, to) in &lookup.columns {
                let by = sums[*to as usize];
                if by != 0.0 {
                    sum += by * lookup.slope(memory, between, *column);
                }
            }
            add(sums, lookup.keys[between].0, sum);
            return;
        }
        let Some(to) = result(op).filter(|to| sums[*to as usize] != 0.0) else { return };
        let by = sums[to as usize];
        partials(op, memory, rounded_stays).into_iter().for_each(|(slot, slope)| add(sums, slot, by * slope));
    }

    /// The slots that an operation reads.
    fn reads(&self, op: Op, found: &mut dyn FnMut(Slot)) {
        match op {
            Op::Add { a, b, .. }
            | Op::Subtract { a, b, .. }
            | Op::Multiply { a, b, .. }
            | Op::Divide { a, b, .. }
            | Op::Raise { a, b, .. }
            | Op::Least { a, b, .. }
            | Op::Greatest { a, b, .. }
            | Op::Compare { a, b, .. }
            | Op::Call { a, b, .. }
            | Op::Both { a, b, .. }
            | Op::Either { a, b, .. } => [a, b].into_iter().for_each(found),
            Op::Negate { a, .. }
            | Op::Not { a, .. }
            | Op::Given { a, .. }
            | Op::Copy { a, .. }
            | Op::Bound { a, .. } => found(a),
            Op::Scale { a, by, over, .. } => [a, by, over].into_iter().for_each(found),
            Op::Select { condition, then, otherwise, .. } => [condition, then, otherwise].into_iter().for_each(found),
            Op::Branch { condition, .. } => found(condition),
            Op::Lookup { at } => self.lookups[at as usize].keys.iter().for_each(|(slot, _)| found(*slot)),
            Op::Skip { .. } | Op::Need { .. } | Op::Within { .. } | Op::Reach { .. } => {}
        }
    }

    /// The slots that an operation puts something in.
    fn results(&self, op: Op, found: &mut dyn FnMut(Slot)) {
        match op {
            Op::Lookup { at } => self.lookups[at as usize].columns.iter().for_each(|(_, to)| found(*to)),
            op => result(op).into_iter().for_each(found),
        }
    }
}

/// Copies the operations of a part of a list that are kept, branches with what they hold.
fn keep(ops: &[Op], part: std::ops::Range<usize>, kept: &[bool], out: &mut Vec<Op>) {
    let mut at = part.start;
    while at < part.end {
        let op = ops[at];
        let Op::Branch { condition, then, otherwise } = op else {
            if kept[at] {
                out.push(op);
            }
            at += 1;
            continue;
        };
        let middle = at + 1 + then as usize;
        let end = middle + otherwise as usize;
        if kept[at] {
            let place = out.len();
            out.push(op);
            // The last of the first part leaps over the second.
            keep(ops, at + 1..middle - usize::from(otherwise > 0), kept, out);
            let leap = out.len();
            keep(ops, middle..end, kept, out);
            let more = (out.len() - leap) as u32;
            if more > 0 {
                out.insert(leap, Op::Skip { many: more });
            }
            let many = (leap - place - 1) as u32 + u32::from(more > 0);
            out[place] = Op::Branch { condition, then: many, otherwise: more };
        }
        at = end;
    }
}

fn add(sums: &mut [f64], slot: Slot, slope: f64) {
    if slope.is_finite() {
        sums[slot as usize] += slope;
    }
}
