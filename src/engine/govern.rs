//! One group of equal posts in every combination, and what governs.

use std::cell::LazyCell;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, OnceLock};

use super::asked::Asked;
use super::interval::Interval;
use super::moved::At;
use super::reacts::Reacts;
use super::root::{Loads, Root};
use super::{Combination, Effect};
use crate::diag::{Diagnostic, Diagnostics};
use crate::job::{Post, Reaction};
use crate::program::{self, Memory};
use crate::quantity::{Quantity, Unit};
use crate::sheet::{self, Hand, Method, Must, Side, Verdict};

#[derive(Clone, Debug)]
pub struct GroupResult {
    /// From 1.
    pub no: usize,
    /// Indices of its posts in the job.
    pub posts: Vec<usize>,
    pub limits: Vec<Limit>,
    /// The greatest of each force that is handed to others, in each method.
    pub handed: Vec<Handed>,
    pub asked: Arc<Asked>,
    /// Found out when it is asked, for this and for all that are copied from it.
    pub(super) reacts: Arc<OnceLock<Reacts>>,
}

/// The greatest that a force which is handed to others comes to in the basic
/// combinations of a method.
#[derive(Clone, Debug)]
pub struct Handed {
    pub rule: Arc<Hand>,
    pub method: Method,
    pub value: Quantity,
    pub unit: Arc<Unit>,
    /// Index of the combination in which it is greatest.
    pub run: usize,
}

/// What a limit or a fit of a group came to in the run that governs it.
#[derive(Clone, Debug)]
pub struct Limit {
    /// Its place in the program.
    no: u32,
    rule: Arc<program::Limit>,
    used: Arc<program::Reached>,
    run: u32,
    /// Met in every run.
    all_met: bool,
    outcome: program::Outcome,
    units: Option<[Arc<Unit>; 2]>,
    interval: Option<Interval>,
}

impl Limit {
    /// Its place in the program, and the combination that governs it.
    pub fn at(&self) -> At {
        (self.no as usize, self.run as usize)
    }

    /// Between what its ratio lies while typed values are off by what they may be, where
    /// that was asked and it has one.
    pub fn interval(&self) -> Option<Interval> {
        self.interval
    }

    /// Its verdict may turn within that.
    pub fn close(&self) -> bool {
        self.interval.is_some_and(|interval| interval.close)
    }

    pub(super) fn set_interval(&mut self, interval: Option<Interval>) {
        self.interval = interval;
    }

    pub fn rule(&self) -> &Arc<Must> {
        &self.rule.rule
    }

    /// `post/made-base/pins`.
    pub fn path(&self) -> &str {
        &self.used.path
    }

    /// The name of the use, which is the sheet's unless it was given another.
    pub fn sheet(&self) -> &str {
        &self.used.name
    }

    /// The sheet that it stands in.
    pub fn of(&self) -> &Arc<sheet::Sheet> {
        &self.used.sheet
    }

    pub fn title(&self) -> &str {
        &self.used.sheet.title
    }

    /// It says what has to go together, and is no limit of a code.
    pub fn is_fit(&self) -> bool {
        self.rule.rule.fit
    }

    /// Loads enter it.
    pub fn varies(&self) -> bool {
        self.rule.varies
    }

    /// Index of the combination that governs.
    pub fn run(&self) -> usize {
        self.run as usize
    }

    pub fn ok(&self) -> bool {
        self.all_met
    }

    pub(super) fn weight(&self) -> f64 {
        weight(&self.outcome)
    }

    pub fn ratio(&self) -> Option<f64> {
        ratio(&self.outcome)
    }

    /// How it came out in the run that governs.
    pub fn verdict(&self) -> Verdict {
        let sides = self.outcome.sides.zip(self.units.as_ref()).map(|([demand, capacity], [first, second])| {
            let side = |value: f64, unit: &Arc<Unit>| Side {
                quantity: Quantity::new(value, unit.dim),
                unit: unit.as_ref().clone(),
            };
            (side(demand, first), side(capacity, second))
        });
        Verdict { ok: self.outcome.ok, ratio: self.ratio(), sides, varies: self.varies() }
    }
}

/// The demand/capacity ratio of a limit that has one.
pub(super) fn ratio(outcome: &program::Outcome) -> Option<f64> {
    let [demand, capacity] = outcome.sides?;
    Some(sheet::ratio(demand, capacity, outcome.ok))
}

/// How hard an outcome presses: a limit that is no ratio governs all when it
/// is not met, nothing when it is.
pub(super) fn weight(outcome: &program::Outcome) -> f64 {
    match ratio(outcome) {
        Some(ratio) => ratio,
        None if outcome.ok => -1.0,
        None => f64::INFINITY,
    }
}

/// Not met, what goes first, weight.
pub(super) type Rank = (bool, bool, f64);

/// The greatest of all limits of a post governs it.
pub(super) fn rank(ok: bool, rule: &program::Limit, weight: f64) -> Rank {
    (!ok, if ok { rule.varies } else { !rule.rule.fit }, weight)
}

impl GroupResult {
    pub fn ok(&self) -> bool {
        self.limits.iter().all(Limit::ok)
    }

    /// The limit with the highest ratio; one that is not met goes first. Of what is met,
    /// what loads press on goes before a size that is just as it has to be; of what is
    /// not, a limit before a fit.
    pub fn governing(&self) -> Option<&Limit> {
        let mut best: Option<&Limit> = None;
        for limit in &self.limits {
            let key = |limit: &Limit| rank(limit.ok(), &limit.rule, weight(&limit.outcome));
            if best.is_none_or(|best| key(limit).partial_cmp(&key(best)) == Some(std::cmp::Ordering::Greater)) {
                best = Some(limit);
            }
        }
        best
    }

    /// The limit that loads press on most.
    pub fn driven(&self) -> Option<&Limit> {
        let driven = self.limits.iter().filter(|limit| limit.varies() && limit.ratio().is_some());
        driven.reduce(|best, next| if next.weight() > best.weight() { next } else { best })
    }
}

/// Works a group in every combination, or once where no loads have a part in
/// it. Steps are made only where something is wrong, to say what.
pub fn work_group(
    root: &Root,
    combinations: &[Combination],
    memory: &mut Memory,
    no: usize,
    posts: &[usize],
) -> Result<GroupResult, Diagnostics> {
    let post = &root.job.posts[posts[0]];
    let mut diagnostics = root.set(memory, posts[0]);
    let wrong_once = memory.faulty;
    let telling = LazyCell::new(|| telling(combinations, post));
    let mut limits: Vec<Option<Limit>> = root.program.limits.iter().map(|_| None).collect();
    let mut order: Vec<usize> = Vec::new();
    let (mut explained, mut repeated): (Vec<Option<Method>>, Vec<Option<Method>>) = Default::default();
    let mut asked = Asked::default();
    let mut handed: Vec<[Option<Handed>; 2]> = root.program.handed.iter().map(|_| [None, None]).collect();
    let mut run = |at: usize, loads: Option<Loads>, memory: &mut Memory| {
        let method = loads.map(|loads| loads.combination.method);
        if let Some(loads) = loads {
            memory.faulty = false;
            root.load(memory, loads);
        }
        // What no load reaches is wrong in the same way in all combinations of a
        // method, and hides what else is wrong in one of them: those that press
        // hardest are looked through. So they are once a second one has said nothing new.
        let first = !explained.contains(&method);
        let telling = || telling.contains(&at);
        let faulty = memory.faulty && (!repeated.contains(&method) || telling());
        if if wrong_once { first || telling() } else { faulty } {
            let found = root.work(posts[0], loads, method).diagnostics;
            if !first && found.iter().all(|one| diagnostics.iter().any(|known| says_the_same(known, one))) {
                repeated.push(method);
            }
            explained.push(method);
            diagnostics.extend(found);
        }
        asked.run(root, memory, method);
        for (rule, known) in root.program.handed.iter().zip(&mut handed) {
            let typed = |fact| root.typed(post, fact);
            let Some(method) = method.filter(|it| it.is_basic()) else { continue };
            let Some((value, unit)) = root.program.hands(rule, memory, method, &typed) else { continue };
            let known = &mut known[usize::from(!method.is_asd())];
            if known.as_ref().is_none_or(|known| value.value > known.value.value) {
                *known = Some(Handed { rule: rule.rule.clone(), method, value, unit, run: at });
            }
        }
        for (no, rule) in root.program.limits.iter().enumerate() {
            let Some(outcome) = root.program.outcome(rule, memory, method) else { continue };
            match &mut limits[no] {
                Some(known) => {
                    known.all_met &= outcome.ok;
                    if weight(&outcome) > weight(&known.outcome) {
                        (known.outcome, known.run) = (outcome, at as u32);
                        known.units = root.program.side_units(rule, memory, &|fact| root.typed(post, fact));
                    }
                }
                none => {
                    order.push(no);
                    *none = Some(Limit {
                        no: no as u32,
                        interval: None,
                        rule: rule.clone(),
                        used: root.program.uses[rule.of].clone(),
                        run: at as u32,
                        all_met: outcome.ok,
                        outcome,
                        units: root.program.side_units(rule, memory, &|fact| root.typed(post, fact)),
                    });
                }
            }
        }
    };
    if combinations.is_empty() {
        run(0, None, memory);
    }
    for (at, combination) in combinations.iter().enumerate() {
        run(at, Some(loads_of(combination, post)), memory);
    }
    if !diagnostics.is_empty() {
        return Err(diagnostics);
    }
    asked.close(root, memory, post);
    let limits = order.into_iter().filter_map(|no| limits[no].take()).collect();
    let handed = handed.into_iter().flatten().flatten().filter(|handed| handed.value.value > 0.0).collect();
    Ok(GroupResult { no, posts: posts.to_vec(), limits, handed, asked: root.shared(asked), reacts: Arc::default() })
}

fn says_the_same(one: &Diagnostic, other: &Diagnostic) -> bool {
    let span = |it: &Diagnostic| it.place.as_ref().map(|place| place.span.clone());
    one.message == other.message && span(one) == span(other)
}

/// Of each method the combinations with the most and the least axial load and
/// with the most shear along x and y.
fn telling(combinations: &[Combination], post: &Post) -> BTreeSet<usize> {
    let measures: [fn(&Effect) -> f64; 4] = [|it| it.p, |it| -it.p, |it| it.h_x.abs(), |it| it.h_y.abs()];
    let effects: Vec<Effect> = combinations.iter().map(|combination| combination.effect(&post.reactions)).collect();
    let mut found = BTreeSet::new();
    for method in Method::ALL {
        let of_method = (0..effects.len()).filter(|at| combinations[*at].method == method);
        for measure in measures {
            let key = |at: &usize| measure(&effects[*at]);
            found.extend(of_method.clone().max_by(|a, b| key(a).total_cmp(&key(b))));
        }
    }
    found
}

pub fn loads_of<'a>(combination: &'a Combination, post: &Post) -> Loads<'a> {
    loads_from(combination, &post.reactions)
}

pub(super) fn loads_from<'a>(combination: &'a Combination, reactions: &BTreeMap<String, Reaction>) -> Loads<'a> {
    let effect: Effect = combination.effect(reactions);
    let seismic = combination.seismic(reactions);
    Loads { combination, effect, seismic, dead: combination.dead(reactions) }
}
