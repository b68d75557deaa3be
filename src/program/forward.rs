//! How all that a program works once reacts to its facts: derivatives forwards, where
//! many results are asked of a few inputs.

use super::partials::{carried_out, partials, result};
use super::{Memory, NOTHING, Op, Program, Slot};

/// Derivatives of what stands in the slots by inputs, which are told by their number.
#[derive(Debug, Default)]
pub struct Leaning {
    inputs: usize,
    by: Vec<f64>,
    /// Slots that react to any of them.
    any: Vec<bool>,
    sum: Vec<f64>,
    ops: Vec<Op>,
}

impl Leaning {
    /// Derivatives by so many inputs.
    pub fn by(inputs: usize) -> Leaning {
        Leaning { inputs, sum: vec![0.0; inputs], ..Leaning::default() }
    }

    /// Those of one slot, by input; none if it reacts to nothing.
    pub fn of(&self, slot: Slot) -> Option<&[f64]> {
        self.any[slot as usize].then(|| self.row(slot))
    }

    fn row(&self, slot: Slot) -> &[f64] {
        &self.by[slot as usize * self.inputs..][..self.inputs]
    }

    /// Begins with a program, of which nothing reacts yet.
    pub fn begin(&mut self, program: &Program) {
        self.by.resize(program.image.len() * self.inputs, 0.0);
        self.any.clear();
        self.any.resize(program.image.len(), false);
    }

    /// Says how a slot that is given reacts: by how much to which input.
    pub fn set(&mut self, slot: Slot, slopes: impl Iterator<Item = (usize, f64)>) {
        let mut counts = false;
        for (input, slope) in slopes.filter(|(_, slope)| *slope != 0.0) {
            self.sum[input] += slope;
            counts = true;
        }
        self.put(slot, counts);
    }

    /// Adds a slot's derivatives, so many times, to the sum.
    fn add(&mut self, slot: Slot, slope: f64) -> bool {
        let counts = slope != 0.0 && slope.is_finite() && self.any[slot as usize];
        if counts {
            let row = &self.by[slot as usize * self.inputs..][..self.inputs];
            self.sum.iter_mut().zip(row).for_each(|(sum, by)| *sum += slope * by);
        }
        counts
    }

    /// Puts the sum into a slot, and empties it.
    fn put(&mut self, slot: Slot, counts: bool) {
        self.any[slot as usize] = counts;
        if counts {
            self.by[slot as usize * self.inputs..][..self.inputs].copy_from_slice(&self.sum);
            self.sum.fill(0.0);
        }
    }
}

impl Program {
    /// Follows inputs through what no load reaches, as it was last worked, once it is said how
    /// facts react to them.
    pub fn lean(&self, memory: &Memory, leaning: &mut Leaning) {
        let mut ops = std::mem::take(&mut leaning.ops);
        carried_out(&self.lists[0], memory, &mut ops);
        for op in &ops {
            if let Op::Lookup { at } = *op {
                let lookup = &self.lookups[at as usize];
                let between = lookup.between().filter(|at| leaning.any[lookup.keys[*at].0 as usize]);
                for (column, to) in &lookup.columns {
                    let counts = between.is_some_and(|between| {
                        leaning.add(lookup.keys[between].0, lookup.slope(memory, between, *column))
                    });
                    leaning.put(*to, counts);
                }
            } else if let Some(to) = result(*op) {
                let mut counts = false;
                for (slot, slope) in partials(*op, memory, false) {
                    counts |= slot != NOTHING && leaning.add(slot, slope);
                }
                leaning.put(to, counts);
            }
        }
        leaning.ops = ops;
    }
}
