//! How the limits of a post react to its inputs.

use std::collections::BTreeMap;

use super::Combination;
use super::facts::is_setting;
use super::govern::loads_from;
use super::root::Root;
use super::typed::{self, Typed};
use crate::formula::Value;
use crate::job::{ALL, Post, Reaction};
use crate::program::{Cone, Memory, Outcome, Room};
use crate::typeset::value_text;

/// Loads by their case.
type Cases = BTreeMap<String, Reaction>;

/// A limit, by its place in the program, in a combination.
pub type At = (usize, usize);

/// A post with inputs that can be moved.
pub struct Moved<'a> {
    root: &'a Root<'a>,
    combinations: &'a [Combination],
    post: &'a Post,
    pub inputs: Vec<Typed>,
    cases: Vec<String>,
    memory: Memory,
    pub room: Room,
    /// By the combinations that were asked for.
    brought: BTreeMap<usize, Brought>,
}

/// What a combination brings: the values of its facts, and the loads that these are summed from.
#[derive(Default)]
struct Brought {
    values: Vec<(usize, f64)>,
    terms: Vec<Term>,
}

struct Term {
    fact: usize,
    /// The case and the part of it that it is of.
    of: (usize, usize),
    factor: f64,
    /// The vertical effect of an earthquake in it, on the load as it is.
    vertical: f64,
}

impl Brought {
    /// The facts that an input brings more to, and how much for one base unit of it.
    fn more<'b>(&'b self, input: &'b Typed) -> impl Iterator<Item = (usize, f64)> + 'b {
        let of = move |term: &Term| {
            let brings = input.brings.binary_search_by_key(&term.of, |(of, _)| *of);
            let brings = brings.map_or(0.0, |at| input.brings[at].1);
            (term.fact, term.factor * brings + term.vertical * input.vertical)
        };
        self.terms.iter().map(of).filter(|(_, more)| *more != 0.0)
    }
}

/// The part of a reaction that a fact of a combination is summed from.
fn part(name: &str) -> Option<usize> {
    Some(match name {
        "P" | "P_D" | "P_E" => 0,
        "H_x" | "H_x_E" => 1,
        "H_y" | "H_y_E" => 2,
        "w_x" => 3,
        "w_y" => 4,
        "brace_x_1" => 5,
        "brace_x_2" => 6,
        "brace_y_1" => 7,
        "brace_y_2" => 8,
        _ => return None,
    })
}

impl<'a> Moved<'a> {
    /// `slack`: only inputs that may be off.
    pub fn new(root: &'a Root<'a>, combinations: &'a [Combination], at: usize, slack: bool) -> Moved<'a> {
        let mut memory = root.program.memory();
        root.set(&mut memory, at);
        Moved::with(root, combinations, at, slack, memory)
    }

    /// The same with a memory in which the facts of the post are set.
    pub(super) fn with(
        root: &'a Root<'a>,
        combinations: &'a [Combination],
        at: usize,
        slack: bool,
        memory: Memory,
    ) -> Moved<'a> {
        let post = &root.job.posts[at];
        let cases: Vec<String> = post.reactions.keys().cloned().collect();
        let inputs = typed::inputs(root, at, slack, &memory);
        Moved { root, combinations, post, inputs, cases, memory, room: Room::default(), brought: BTreeMap::new() }
    }

    fn cone(&self, (limit, run): At) -> &'a Cone {
        self.root.program.cone(limit, self.combinations[run].method)
    }

    /// Whether a limit reads an input as a fact.
    pub(super) fn reads(&self, at: At, input: usize) -> bool {
        self.inputs[input].fact.is_some_and(|fact| self.cone(at).facts.binary_search(&fact).is_ok())
    }

    /// A limit alone, with inputs moved by so much each.
    pub fn moved(&mut self, at: At, moves: &[f64]) -> Option<Outcome> {
        self.learn(at.1);
        let (program, brought) = (&self.root.program, &self.brought[&at.1]);
        for (fact, value) in &brought.values {
            self.memory.set(program.facts[*fact].slot, *value);
        }
        for (input, by) in self.inputs.iter().zip(moves).filter(|(_, by)| **by != 0.0) {
            if let Some(fact) = input.fact {
                self.memory.set(program.facts[fact].slot, input.value + by);
            }
            for (fact, more) in brought.more(input) {
                let slot = program.facts[fact].slot;
                self.memory.set(slot, self.memory.get(slot) + by * more);
            }
        }
        let (limit, method) = (&program.limits[at.0], self.combinations[at.1].method);
        let outcome = program.again(limit, self.cone(at), &mut self.memory, method);
        let moved = self.inputs.iter().zip(moves).filter(|(_, by)| **by != 0.0);
        for (fact, value) in moved.filter_map(|(input, _)| Some((input.fact?, input.value))) {
            self.memory.set(program.facts[fact].slot, value);
        }
        outcome
    }

    /// A limit with all loads of the post so many times as large.
    pub(super) fn scaled(&mut self, at: At, factor: f64) -> Option<Outcome> {
        let (program, combination) = (&self.root.program, &self.combinations[at.1]);
        let reactions = self.loads(factor);
        self.root.bring(&mut self.memory, loads_from(combination, &reactions));
        program.again(&program.limits[at.0], self.cone(at), &mut self.memory, combination.method)
    }

    /// All loads of the post, so many times as large.
    fn loads(&self, factor: f64) -> Cases {
        let nothing = Reaction::default();
        let cases = self.post.reactions.iter();
        cases.map(|(case, reaction)| (case.clone(), nothing.plus(factor, reaction))).collect()
    }

    /// Every limit that is met with, in every combination, at loads so many times as large and
    /// with a fact at another value; whether there is one that could not be worked.
    pub(super) fn everywhere(
        &mut self,
        factor: f64,
        other: Option<(usize, f64)>,
        found: &mut dyn FnMut(At, Outcome),
    ) -> bool {
        let (program, reactions) = (&self.root.program, self.loads(factor));
        let slot = other.map(|(fact, _)| program.facts[fact].slot);
        let before = slot.map(|slot| self.memory.get(slot));
        if let Some((slot, (_, value))) = slot.zip(other) {
            self.memory.set(slot, value);
        }
        program.once_again(&mut self.memory);
        for (run, combination) in self.combinations.iter().enumerate() {
            self.root.load(&mut self.memory, loads_from(combination, &reactions));
            for (no, limit) in program.limits.iter().enumerate() {
                if let Some(outcome) = program.outcome(limit, &self.memory, Some(combination.method)) {
                    found((no, run), outcome);
                }
            }
        }
        if let Some((slot, before)) = slot.zip(before) {
            self.memory.set(slot, before);
        }
        !self.memory.faulty
    }

    /// The facts that name a size or a grade by a row of a table, with those beside it.
    pub(super) fn neighbours(&mut self, at: At) -> Vec<(usize, [Option<f64>; 2])> {
        self.moved(at, &[]);
        let program = &self.root.program;
        let mut found = program.neighbours(self.cone(at), &self.memory);
        // What the job says of all posts is no size.
        let from = |fact: usize| program.facts[fact].input.from.as_ref();
        found.retain(|(fact, _)| from(*fact).is_some_and(|from| !is_setting(&from.source)));
        found
    }

    /// Where a fact stands, and what was typed.
    pub(super) fn says(&self, fact: usize) -> Option<(String, String)> {
        let found = self.root.fact(&self.root.program.facts[fact].input, self.post)?;
        Some((found.whence.of.clone(), found.printed(self.root.library.units())))
    }

    /// Another value of a fact, as it would be typed.
    pub(super) fn printed(&self, fact: usize, number: f64) -> Option<String> {
        let (program, units) = (&self.root.program, self.root.library.units());
        Some(match program.fact_value(fact, number)? {
            Value::Quantity(quantity) => {
                let unit = self.root.typed(self.post, fact).unwrap_or_else(|| units.unit(quantity.dim));
                typed::printed(quantity.value, &unit)
            }
            value => value_text(&value),
        })
    }

    /// The derivatives of a limit's ratio by the inputs, where these are moved by so much each.
    pub fn slopes(&mut self, at: At, moves: &[f64]) -> Option<Vec<f64>> {
        let program = &self.root.program;
        self.moved(at, moves)?;
        let by_fact = program.slopes(&program.limits[at.0], self.cone(at), &self.memory, &mut self.room)?;
        let of = |fact: usize| by_fact.binary_search_by_key(&fact, |(fact, _)| *fact).map_or(0.0, |at| by_fact[at].1);
        let brought = &self.brought[&at.1];
        let (mut by_case, mut by_vertical) = (vec![[0.0; ALL]; self.cases.len()], 0.0);
        for term in &brought.terms {
            let of = of(term.fact);
            by_case[term.of.0][term.of.1] += term.factor * of;
            by_vertical += term.vertical * of;
        }
        let by_loads = |input: &Typed| {
            let parts = input.brings.iter().map(|((case, part), brings)| brings * by_case[*case][*part]);
            parts.sum::<f64>() + input.vertical * by_vertical
        };
        Some(self.inputs.iter().map(|input| input.fact.map_or(0.0, of) + by_loads(input)).collect())
    }

    /// Finds what a combination brings, and what that is summed from.
    fn learn(&mut self, run: usize) {
        let (root, combination, cases) = (self.root, &self.combinations[run], &self.cases);
        let (memory, post) = (&mut self.memory, self.post);
        self.brought.entry(run).or_insert_with(|| {
            root.bring(memory, loads_from(combination, &post.reactions));
            let mut brought = Brought::default();
            for (fact, of) in root.program.facts.iter().enumerate().filter(|(_, fact)| fact.varies) {
                brought.values.push((fact, memory.get(of.slot)));
                let name = of.input.column();
                let Some((part, terms)) = part(name).zip(combination.terms(name)) else { continue };
                let vertical = combination.vertical(name);
                for (case, factor) in terms {
                    let Some(no) = cases.iter().position(|known| *known == case) else { continue };
                    let vertical = if case == "D" { vertical * post.reactions[&case].all()[part] } else { 0.0 };
                    brought.terms.push(Term { fact, of: (no, part), factor, vertical });
                }
            }
            brought
        });
    }
}
