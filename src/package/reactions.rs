//! What the loads come to: reactions, combinations, equilibrium, forces handed
//! to others.

use std::collections::{BTreeMap, BTreeSet};

use super::build::marks;
use super::chosen::{by_weight, harder};
use super::model::{
    BalanceRow, Case, Combination, CombinationSet, Governing, GroupRef, HandedForce, HandedRow, ReactionRow,
    ReactionTable,
};
use super::summary::{combination_name, ratio};
use crate::diag::count;
use crate::engine::{Derived, GroupResult, Limit, Results, summed};
use crate::job::{Job, REACTIONS, Reaction, some_marks};
use crate::quantity::{measured, number, number_fixed};

pub(super) fn what(case: &str) -> String {
    match case {
        "D" => "dead load",
        "L" => "live load",
        "Lr" => "roof live load",
        "S" => "snow load",
        "R" => "rain load",
        "E" => "seismic load",
        "E_x" => "seismic load along x",
        "E_y" => "seismic load along y",
        _ => "wind load",
    }
    .into()
}

/// The load cases, those of one kind together.
pub(super) fn cases(job: &Job) -> Vec<Case> {
    let mut kinds: Vec<Case> = Vec::new();
    for name in job.cases() {
        let what = what(&name);
        match kinds.iter_mut().find(|known| known.what == what) {
            Some(known) => known.names.push(name),
            None => kinds.push(Case { names: vec![name], what }),
        }
    }
    kinds
}

/// Reactions that are worked line by line: a post, a case, `P`, `H_x`, `w_y`.
pub type WorkedOut = BTreeSet<(usize, String, &'static str)>;

/// Columns of reactions that stand beside one another, at most.
const ACROSS: usize = 10;

/// The nominal reactions of all posts, those that are alike in one column.
pub(super) fn reactions(job: &Job, worked: &WorkedOut) -> Vec<ReactionTable> {
    let mut columns: Vec<Vec<usize>> = Vec::new();
    let mut known: BTreeMap<String, usize> = BTreeMap::new();
    for (post, of) in job.posts.iter().enumerate() {
        let at = *known.entry(format!("{:?}", of.reactions)).or_insert(columns.len());
        if at == columns.len() {
            columns.push(Vec::new());
        }
        columns[at].push(post);
    }
    let table = |columns: &[Vec<usize>]| {
        let mut rows = Vec::new();
        for case in job.cases() {
            let of = |posts: &Vec<usize>| job.posts[posts[0]].reactions.get(&case).copied().unwrap_or_default();
            let found: Vec<Reaction> = columns.iter().map(of).collect();
            let force = |value: f64| job.units.force_number(value);
            let line = |value: f64| job.units.line_load_number(value);
            let mut add = |what: &'static str, get: &dyn Fn(&Reaction) -> f64, print: &dyn Fn(f64) -> String| {
                if found.iter().any(|reaction| get(reaction) != 0.0) {
                    let cells = found.iter().map(|reaction| print(get(reaction))).collect();
                    let is =
                        |posts: &Vec<usize>| posts.iter().any(|post| worked.contains(&(*post, case.clone(), what)));
                    let worked = columns.iter().map(is).collect();
                    let (wind, changed) = (what.starts_with('w'), false);
                    rows.push(ReactionRow { case: case.clone(), what: what.into(), wind, cells, worked, changed });
                }
            };
            add("P", &|it| it.p, &force);
            add("H_x", &|it| it.h_x, &force);
            add("H_y", &|it| it.h_y, &force);
            add("w_x", &|it| it.w_x, &line);
            add("w_y", &|it| it.w_y, &line);
        }
        let marks = |posts: &Vec<usize>| posts.iter().map(|post| job.posts[*post].mark.clone()).collect::<Vec<_>>();
        ReactionTable { columns: columns.iter().map(|posts| some_marks(&marks(posts), 3)).collect(), rows }
    };
    // Tables of like width, for one column alone is as high as ten.
    let tables = columns.len().div_ceil(ACROSS).max(1);
    columns.chunks(columns.len().div_ceil(tables).max(1)).map(table).collect()
}

pub(super) fn combinations(results: &Results) -> Vec<Combination> {
    let rows = results.combinations.iter().map(|combination| Combination {
        name: combination.name.clone(),
        method: method(combination.method),
        clause: combination.clause.clone(),
        c_d: combination.c_d.map_or(String::new(), |c_d| number_fixed(c_d, 2)),
    });
    rows.collect()
}

fn method(method: crate::sheet::Method) -> String {
    if method.is_asd() { "ASD".into() } else { "strength".into() }
}

/// All combinations by their clauses: those that differ by the wind, or by the
/// earthquake and its sign alone, are written once, with W or E for all of them.
pub(super) fn combination_sets(job: &Job, results: &Results) -> Vec<CombinationSet> {
    let cases = job.cases();
    let of = |letter: char| cases.iter().filter(|case| case.starts_with(letter)).collect::<Vec<_>>();
    let (winds, quakes) = (of('W'), of('E'));
    let mut sets: Vec<(CombinationSet, Vec<Pattern>)> = Vec::new();
    for combination in &results.combinations {
        let c_d = combination.c_d.map_or(String::new(), |c_d| number_fixed(c_d, 2));
        let (method, clause) = (method(combination.method), combination.clause.clone());
        let same = |(set, _): &&mut (CombinationSet, Vec<Pattern>)| {
            (&set.method, &set.clause, &set.c_d) == (&method, &clause, &c_d)
        };
        let patterns = match sets.iter_mut().find(same) {
            Some((_, patterns)) => patterns,
            None => {
                let names = Vec::new();
                sets.push((CombinationSet { method, clause, c_d, names, changed: false }, Vec::new()));
                &mut sets.last_mut().expect("it was pushed").1
            }
        };
        let pattern = Pattern::of(&combination.name, &combination.factors);
        match patterns.iter_mut().find(|known| known.name == pattern.name) {
            Some(known) => known.all.extend(pattern.all),
            None => patterns.push(pattern),
        }
    }
    let sets = sets.into_iter().map(|(set, patterns)| {
        let names = patterns.into_iter().flat_map(|pattern| pattern.names(winds.len(), quakes.len())).collect();
        CombinationSet { names, ..set }
    });
    sets.collect()
}

/// What W and E stand for there.
pub(super) fn combination_key(job: &Job) -> String {
    let cases = job.cases();
    let of = |letter: char| cases.iter().filter(|case| case.starts_with(letter)).cloned().collect::<Vec<String>>();
    let key = |name: &str, cases: Vec<String>| match cases.as_slice() {
        [] => None,
        [one] if one == name => None,
        [one] => Some(format!("{name} is {one}")),
        several => Some(format!("{name} is each of {}", several.join(", "))),
    };
    [key("W", of('W')), key("E", of('E'))].into_iter().flatten().collect::<Vec<String>>().join("; ")
}

/// A combination with its wind or earthquake left open, and those that it stands for.
struct Pattern {
    name: String,
    all: Vec<String>,
}

impl Pattern {
    fn of(name: &str, factors: &[(String, f64)]) -> Pattern {
        let open = factors.iter().map(|(case, _)| case).find(|case| case.starts_with(['W', 'E']));
        let pattern = match open {
            None => name.to_string(),
            Some(case) => {
                let (before, after) = name.rsplit_once(case.as_str()).unwrap_or((name, ""));
                let (head, factor) = before.rsplit_once(['+', '−']).unwrap_or(("", before));
                let sign = if head.is_empty() { "" } else { "±" };
                format!("{head}{sign}{factor}{}{after}", &case[..1])
            }
        };
        Pattern { name: pattern, all: vec![name.into()] }
    }

    /// The pattern, where it stands for all winds or earthquakes, with both signs or
    /// with one; else each by itself.
    fn names(self, winds: usize, quakes: usize) -> Vec<String> {
        let cases = if self.name.contains('W') { winds } else { quakes };
        let minus = self.all.iter().filter(|name| name.contains('−')).count();
        match (self.all.len(), minus) {
            (1, _) => self.all,
            (all, 0) if all == cases => vec![self.name.replace('±', "+")],
            (all, minus) if all == 2 * cases && minus == cases => vec![self.name],
            _ => self.all,
        }
    }
}

/// The combinations that govern a limit anywhere, with the highest ratio that
/// each brings about.
pub(super) fn governing(job: &Job, results: &Results) -> Vec<Governing> {
    let mut runs: BTreeMap<usize, Vec<(&GroupResult, &Limit)>> = BTreeMap::new();
    for group in by_weight(results).into_iter().map(|at| &results.groups[at]) {
        let driven = group.limits.iter().filter(|limit| limit.varies() && !limit.is_fit());
        for limit in driven.filter(|limit| limit.ratio().is_some_and(|ratio| ratio > 0.0)) {
            runs.entry(limit.run()).or_default().push((group, limit));
        }
    }
    let height = |limit: &Limit| limit.ratio().unwrap_or(0.0);
    let mut rows: Vec<(f64, Governing)> = Vec::new();
    for (run, limits) in runs {
        let highest = limits.iter().reduce(|best, next| if harder(next.1, best.1) { next } else { best });
        let (group, limit) = highest.expect("a run is entered with a limit");
        let combination = &results.combinations[run];
        let effect = combination.effect(&job.posts[group.posts[0]].reactions);
        let force = |force| job.units.force_number(force);
        let row = Governing {
            name: combination_name(results, limit),
            c_d: combination.c_d.map_or(String::new(), |c_d| number_fixed(c_d, 2)),
            method: method(combination.method),
            limits: limits.len(),
            marks: some_marks(&marks(job, group), 3),
            p: force(effect.p),
            h_x: force(effect.h_x),
            h_y: force(effect.h_y),
            ratio: ratio(limit).0,
            limit: limit.rule().say.clone(),
            changed: false,
        };
        rows.push((height(limit), row));
    }
    rows.sort_by(|a, b| b.0.total_cmp(&a.0));
    rows.into_iter().map(|(_, row)| row).collect()
}

/// As many forces are named, the largest; others are no more than the last.
const HANDED: usize = 24;

/// The greatest of each force that is handed to others, by group, the largest first.
/// Whoever designs for it does so by one method or the other, so both levels are given.
pub(super) fn handed(job: &Job, results: &Results) -> Vec<HandedRow> {
    type Forces = Vec<(f64, HandedForce)>;
    let mut rows: Vec<(&str, [Forces; 2])> = Vec::new();
    for (group, handed) in results.groups.iter().flat_map(|group| group.handed.iter().map(move |it| (group, it))) {
        let posts = marks(job, group);
        let force = HandedForce {
            marks: some_marks(&posts, 4),
            posts,
            value: measured(&number(handed.value.in_unit(&handed.unit), 4), &handed.unit.pretty()),
            combination: results.combinations[handed.run].name.clone(),
        };
        let at = rows.iter().position(|(what, _)| *what == handed.rule.what).unwrap_or_else(|| {
            rows.push((&handed.rule.what, [Vec::new(), Vec::new()]));
            rows.len() - 1
        });
        rows[at].1[usize::from(!handed.method.is_asd())].push((handed.value.value, force));
    }
    let sorted = |mut forces: Vec<(f64, HandedForce)>| -> (Vec<HandedForce>, String) {
        forces.sort_by(|a, b| b.0.total_cmp(&a.0));
        let more = forces.split_off(forces.len().min(HANDED));
        let rest = more.first().map_or(String::new(), |(_, most)| {
            format!("{}, each at most {}", count(more.len(), "more group"), most.value)
        });
        (forces.into_iter().map(|(_, force)| force).collect(), rest)
    };
    let rows = rows.into_iter().map(|(what, both)| {
        let [(asd, more), (strength, stronger)] = both.map(sorted);
        HandedRow { what: what.into(), asd, strength, rest: [more, stronger], changed: false }
    });
    rows.collect()
}

/// How the loads came to be.
pub(super) fn load_model(job: &Job) -> String {
    let (derived, given): (Vec<String>, Vec<String>) =
        job.cases().into_iter().partition(|case| job.derived.contains(case));
    let mut parts = Vec::new();
    if !given.is_empty() {
        let file = job.files.iter().find(|file| file.name == REACTIONS);
        let columns = || format!("the columns of {}", job.tables.name("posts.csv"));
        let from = file.map_or_else(columns, |file| file.shown.clone());
        parts.push(format!(
            "The reactions of {} are given in {from}; the analysis that they come from is not part of this package.",
            given.join(", ")
        ));
        if !job.mapping.is_empty() {
            parts.push(format!("By the names of that analysis: {}.", job.mapping.said().join(", ")));
        }
    }
    if !derived.is_empty() {
        parts.push(format!(
            "The reactions of {} are calculated in this package from [site], [seismic] and [roof] of job.toml and the grid of posts: each line of posts is a plane frame of its own, and its posts share the load along it by their stiffness.",
            derived.join(", ")
        ));
    }
    parts.join(" ")
}

/// What the sums of all reactions show.
pub(super) fn equilibrium(job: &Job, balance: &[BalanceRow]) -> String {
    let unit = job.units.force_unit();
    let known: Vec<&BalanceRow> = balance.iter().filter(|row| row.brought.is_some()).collect();
    if known.is_empty() {
        return format!(
            "Sums over all bases, in {unit}, without the wind on the posts themselves. The loads of roof and frame are not known here, because the reactions are given: compare the sums with the loads of the analysis."
        );
    }
    let apart: Vec<&str> =
        known.iter().filter(|row| row.brought.as_ref() != Some(&row.ground)).map(|row| row.case.as_str()).collect();
    let agree = match apart.as_slice() {
        [] => "They agree.".to_string(),
        apart => format!("They differ in {}.", apart.join(", ")),
    };
    let roof = job.settings.get("roof").and_then(|roof| roof.get("roof")).map_or("", |fact| fact.text.as_str());
    let snow = match roof {
        "slats" | "monoslope" => "",
        _ => {
            " Snow is the greater of balanced and unbalanced for each post, so its sum may be more than the whole roof carries."
        }
    };
    format!("Loads of roof, beams and posts in each case, and the sum at all bases, in {unit}. {agree}{snow}")
}

/// What all posts bring in each case, where it was worked out, and what reaches
/// the ground.
pub(super) fn balance(job: &Job, loads: Option<&Derived>) -> Vec<BalanceRow> {
    let force = |sums: [f64; 3]| sums.map(|sum| job.units.force_number(sum));
    let row = |case: String| {
        let derived = loads.filter(|_| job.derived.contains(&case));
        BalanceRow {
            brought: derived.map(|loads| force(loads.brought(&case))),
            ground: force(derived.map_or_else(|| summed(job, &case), |loads| loads.ground(job, &case))),
            case,
            changed: false,
        }
    };
    job.cases().into_iter().map(row).collect()
}

pub(super) fn group_ref(job: &Job, group: &GroupResult) -> GroupRef {
    let marks = marks(job, group);
    GroupRef {
        no: group.no,
        title: format!("Posts {}", some_marks(&marks, 6)),
        marks,
        file: format!("/group-{}.json", group.no),
    }
}
