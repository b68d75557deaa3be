//! What a reviewer asks of a post: which inputs its governing ratio reacts to most, what the
//! next size or grade would change, and how far all loads are from the first limit.

use std::collections::{BTreeMap, BTreeSet};

use super::govern::{GroupResult, Rank, rank, ratio, weight};
use super::moved::{At, Moved};
use super::root::Root;
use super::{Combination, Limit};

/// As many inputs are named.
const NAMED: usize = 3;

/// Loads are not followed farther than to so many times what they are, up and down. What is
/// not met with next to none is no matter of their size.
const FARTHEST: f64 = 1000.0;
const LEAST: f64 = 1e-6;

/// Where a size at which a limit is reached is known well enough.
const NEAR: f64 = 1e-9;

#[derive(Clone, Debug, Default)]
pub struct Reacts {
    /// Those that the governing ratio reacts to most.
    pub inputs: Vec<Elasticity>,
    pub steps: Vec<Step>,
    pub loads: Option<Reached>,
}

/// An input, and by how many percent the ratio changes for each percent of it.
#[derive(Clone, Debug)]
pub struct Elasticity {
    pub name: String,
    pub whence: String,
    pub text: String,
    pub percent: f64,
}

/// A size or a grade, and its neighbours in its table.
#[derive(Clone, Debug)]
pub struct Step {
    pub name: String,
    pub whence: String,
    pub own: String,
    pub others: Vec<Neighbour>,
}

/// What would govern with it.
#[derive(Clone, Debug)]
pub struct Neighbour {
    pub value: String,
    pub ratio: Option<f64>,
    pub ok: bool,
    pub limit: String,
}

/// The factor on all loads at which a limit is reached first, and which it is.
#[derive(Clone, Debug)]
pub struct Reached {
    pub factor: f64,
    pub limit: String,
}

/// How a group reacts.
pub fn reacts<'a>(root: &Root, combinations: &[Combination], group: &'a GroupResult) -> &'a Reacts {
    group.reacts.get_or_init(|| work_out(root, combinations, group))
}

fn work_out(root: &Root, combinations: &[Combination], group: &GroupResult) -> Reacts {
    let mut moved = Moved::new(root, combinations, group.posts[0], false);
    let governing = group.driven().filter(|_| group.governing().is_none_or(|limit| limit.ok() || limit.varies()));
    let inputs = governing.map_or_else(Vec::new, |limit| most(&mut moved, limit));
    let steps = governing.map_or_else(Vec::new, |limit| steps(root, &mut moved, limit));
    let loads = reached(&mut moved, group);
    let loads = loads.map(|(factor, no)| Reached { factor, limit: root.program.limits[no].rule.say.clone() });
    Reacts { inputs, steps, loads }
}

fn most(moved: &mut Moved, limit: &Limit) -> Vec<Elasticity> {
    let slopes = moved.slopes(limit.at(), &[]);
    let Some((slopes, own)) = slopes.zip(limit.ratio().filter(|ratio| *ratio > 0.0)) else { return Vec::new() };
    let inputs = moved.inputs.iter().zip(slopes).map(|(input, slope)| Elasticity {
        name: input.name.clone(),
        whence: input.whence.clone(),
        text: input.text.clone(),
        percent: slope * input.value / own,
    });
    let mut found: Vec<Elasticity> = inputs.filter(|it| it.percent.is_finite() && it.percent.abs() >= SEEN).collect();
    found.sort_by(|a, b| b.percent.abs().total_cmp(&a.percent.abs()));
    found.truncate(NAMED);
    found
}

/// Less is not worth a line.
const SEEN: f64 = 0.005;

/// The neighbours of what a post, or a row that it chose, says by a row of a table.
fn steps(root: &Root, moved: &mut Moved, limit: &Limit) -> Vec<Step> {
    let mut found = Vec::new();
    for (fact, beside) in moved.neighbours(limit.at()) {
        let Some((whence, own)) = moved.says(fact) else { continue };
        let mut others = Vec::new();
        for number in beside.into_iter().flatten() {
            let Some(value) = moved.printed(fact, number) else { continue };
            others.extend(with(root, moved, fact, number).map(|(ok, ratio, no)| Neighbour {
                value,
                ratio,
                ok,
                limit: root.program.limits[no].rule.say.clone(),
            }));
        }
        if !others.is_empty() {
            found.push(Step { name: root.program.facts[fact].input.column().into(), whence, own, others });
        }
    }
    found
}

/// Whether it is met, its ratio and its place.
type Governs = (bool, Option<f64>, usize);

/// What governs with another value of a fact; none where that cannot be worked.
fn with(root: &Root, moved: &mut Moved, fact: usize, value: f64) -> Option<Governs> {
    let mut limits: BTreeMap<usize, (bool, f64, Option<f64>)> = BTreeMap::new();
    let whole = moved.everywhere(1.0, Some((fact, value)), &mut |(no, _), outcome| {
        let known = limits.entry(no).or_insert((true, f64::NEG_INFINITY, None));
        known.0 &= outcome.ok;
        if weight(&outcome) > known.1 {
            (known.1, known.2) = (weight(&outcome), ratio(&outcome));
        }
    });
    let mut first: Option<(Rank, Governs)> = None;
    for (no, (ok, weight, ratio)) in limits.into_iter().filter(|_| whole) {
        let rank = rank(ok, &root.program.limits[no], weight);
        if first.is_none_or(|(highest, _)| rank > highest) {
            first = Some((rank, (ok, ratio, no)));
        }
    }
    first.map(|(_, found)| found)
}

/// The factor on all loads at which a limit is reached first as they grow from nothing, and
/// the place of that limit: above 1 where all is met, below where something is not. What is
/// not met with next to none is left out. First each limit in the combination that governs it is
/// followed, then it is seen whether another one comes before.
fn reached(moved: &mut Moved, group: &GroupResult) -> Option<(f64, usize)> {
    let mut limits: Vec<&Limit> = group.limits.iter().filter(|limit| limit.varies()).collect();
    limits.sort_by(|a, b| b.weight().total_cmp(&a.weight()));
    let mut first: Option<(f64, usize)> = None;
    for at in limits.iter().map(|limit| limit.at()) {
        let most = first.map_or(FARTHEST, |(factor, _)| factor);
        first = turns(moved, at, most).map(|factor| (factor, at.0)).or(first);
    }
    let mut lost: BTreeSet<At> = BTreeSet::new();
    loop {
        let before = first.map_or(FARTHEST, |(factor, _)| factor) * (1.0 - 2.0 * NEAR);
        let mut sooner: BTreeSet<At> = BTreeSet::new();
        moved.everywhere(before, None, &mut |at, outcome| {
            if !outcome.ok && !lost.contains(&at) {
                sooner.insert(at);
            }
        });
        let known = (first, lost.len());
        for at in sooner {
            let most = first.map_or(before, |(factor, _)| factor.min(before));
            match turns(moved, at, most) {
                Some(factor) => first = Some((factor, at.0)),
                None if moved.scaled(at, LEAST).is_some_and(|outcome| !outcome.ok) => drop(lost.insert(at)),
                None => {}
            }
        }
        if known == (first, lost.len()) {
            return first;
        }
    }
}

/// The factor below `most` at which a limit that is met turns to one that is not.
fn turns(moved: &mut Moved, at: At, most: f64) -> Option<f64> {
    let mut met = |factor: f64| moved.scaled(at, factor).map(|outcome| outcome.ok);
    let mut low = if most > 1.0 && met(1.0) == Some(true) { 1.0 } else { LEAST };
    if low == LEAST && met(LEAST) == Some(false) {
        return None;
    }
    let mut high = most;
    match met(high) {
        Some(true) => return None,
        Some(false) => {}
        // So much load has no value any more: it is not met before that, or not at all.
        None => {
            high = low;
            while met(high) != Some(false) {
                (low, high) = (high, high * STEP);
                if high >= most {
                    return None;
                }
            }
        }
    }
    while high - low > NEAR * high {
        let middle = (low + high) / 2.0;
        if met(middle) == Some(false) { high = middle } else { low = middle }
    }
    Some(high)
}

/// From one factor to the next, where they are tried one by one.
const STEP: f64 = 1.1;
