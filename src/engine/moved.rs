//! Inputs of a post as they were typed, and how its limits react to them: the facts that its
//! sheets read, and its loads. Where loads were calculated from a roof they stay as they are
//! while a cell or key is moved that they were calculated from.

use std::collections::BTreeMap;

use super::Combination;
use super::facts::is_setting;
use super::govern::loads_from;
use super::root::Root;
use crate::formula::Value;
use crate::job::{ALL, PARTS, Post, Reaction};
use crate::program::{Cone, Memory, Outcome, Room};
use crate::quantity::{Unit, given_digits, measured, number};
use crate::typeset::value_text;

/// Loads by their case.
type Cases = BTreeMap<String, Reaction>;

/// A limit, by its place in the program, in a combination.
pub type At = (usize, usize);

/// A number that somebody typed, or a load that was calculated.
#[derive(Clone, Debug)]
pub struct Typed {
    /// The column or key, `P_S` or `brace_drop`.
    pub name: String,
    /// Where it stands, as a page names it.
    pub whence: String,
    /// As it was typed; empty where only what may be off is asked.
    pub text: String,
    /// In base units.
    pub value: f64,
    pub slack: f64,
    /// The fact that it is to the sheets, by index.
    fact: Option<usize>,
    /// What it brings to each case, for one base unit of it.
    brings: Vec<(usize, [f64; ALL])>,
}

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
    case: usize,
    part: usize,
    factor: f64,
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

fn printed(value: f64, unit: &Unit) -> String {
    let value = unit.from_base(value);
    measured(&number(value, given_digits(value)), &unit.pretty())
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
        let mut inputs = Vec::new();
        let no_part = [0.0; ALL];
        // What a roof brings is moved as it was calculated, a case as a whole.
        for (no, case) in cases.iter().enumerate().filter(|(_, case)| !slack && root.job.derived.contains(*case)) {
            inputs.push(Typed {
                name: case.clone(),
                whence: "loads".into(),
                text: "as calculated".into(),
                value: 1.0,
                slack: 0.0,
                fact: None,
                brings: vec![(no, post.reactions[case].all())],
            });
        }
        for (no, case) in cases.iter().enumerate() {
            let Some(off) = post.slack.get(case) else { continue };
            let reaction = post.reactions[case].all();
            for (part, off) in off.all().into_iter().enumerate().take(PARTS.len()) {
                let value = reaction[part];
                let counts = if slack { off > 0.0 } else { value != 0.0 };
                if counts {
                    let mut brings = no_part;
                    brings[part] = 1.0;
                    inputs.push(Typed {
                        name: format!("{}_{case}", PARTS[part].0),
                        whence: "loads".into(),
                        text: printed(value, &root.library.units().unit(PARTS[part].1)),
                        value,
                        slack: off,
                        fact: None,
                        brings: vec![(no, brings)],
                    });
                }
            }
        }
        let facts = root.program.facts.iter().enumerate().filter(|(_, fact)| !fact.varies);
        for (fact, of) in facts.filter(|(_, fact)| fact.input.kind.dim().is_some_and(|dim| !dim.is_none())) {
            let Some(found) = root.fact(&of.input, post) else { continue };
            let off = if root.program.names_row(fact) { 0.0 } else { found.slack(&of.input.kind) };
            if slack && off == 0.0 {
                continue;
            }
            inputs.push(Typed {
                name: of.input.column().into(),
                whence: found.whence.of.clone(),
                text: if slack { String::new() } else { found.printed(root.library.units()) },
                value: memory.get(of.slot),
                slack: off,
                fact: Some(fact),
                brings: Vec::new(),
            });
        }
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
            for (case, brings) in &input.brings {
                for term in brought.terms.iter().filter(|term| term.case == *case && brings[term.part] != 0.0) {
                    let slot = program.facts[term.fact].slot;
                    self.memory.set(slot, self.memory.get(slot) + by * term.factor * brings[term.part]);
                }
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
                printed(quantity.value, &unit)
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
        let mut by_case = vec![[0.0; ALL]; self.cases.len()];
        for term in &self.brought[&at.1].terms {
            by_case[term.case][term.part] += term.factor * of(term.fact);
        }
        let slope = |input: &Typed| {
            let loads = input.brings.iter().flat_map(|(case, brings)| brings.iter().zip(&by_case[*case]));
            input.fact.map_or(0.0, of) + loads.map(|(brings, slope)| brings * slope).sum::<f64>()
        };
        Some(self.inputs.iter().map(slope).collect())
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
                for (case, factor) in terms {
                    let case = cases.iter().position(|known| *known == case);
                    brought.terms.extend(case.map(|case| Term { fact, case, part, factor }));
                }
            }
            brought
        });
    }
}
