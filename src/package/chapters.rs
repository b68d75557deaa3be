//! The chapters of worked pages: the loads of the posts that govern, and each kind of
//! base and foundation.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::build::marks;
use super::chain::{Chain, LineAt, Place, Source};
use super::chapter::{Chapter, Column};
use super::chosen::{Chosen, LimitKey, key_of, told_apart};
use super::frames::Brought;
use super::ledger::Ledger;
use super::lines::{join, said};
use super::model::{FitRow, LowLimit, RatioCell, RatioRow, RatioTable, Worked as Pages};
use super::reactions::WorkedOut;
use super::skipped::skipped;
use super::sums;
use super::worked::{own_sheet, write};
use crate::engine::{Derived, GroupResult, Limit, Made, Results, Root, Shown};
use crate::formula::Value;
use crate::job::{Job, some_marks};
use crate::quantity::{number, number_fixed};
use crate::typeset::two_sides;

/// The worked pages of the posts.
pub fn of_posts(
    root: &Root,
    results: &Results,
    chosen: &Chosen,
    shown: &[Shown],
    made: &[Arc<Made>],
    ledger: &mut Ledger,
    full: bool,
) -> Pages {
    let job = root.job;
    let columns = chosen.columns.iter().map(|column| {
        let group = &results.groups[column.group];
        let combination = &results.combinations[column.run];
        Column {
            marks: marks(job, group),
            what: combination.name.clone(),
            c_d: combination.c_d.map_or(String::new(), |c_d| number(c_d, 4)),
            chain: Chain::new(shown[column.group].worked(column.run)),
            loads: Some((combination, &job.posts[group.posts[0]])),
        }
    });
    let targets = chosen.targets.iter();
    let targets =
        targets.map(|target| ((target.path.clone(), Place::Step(target.rule.span.start)), target.columns.clone()));
    let chapter = Chapter {
        name: "B".into(),
        title: "Worked limits".into(),
        columns: columns.collect(),
        targets: targets.collect(),
        across: BTreeMap::new(),
        whole: if full { whole(results, chosen) } else { Vec::new() },
    };
    let mut written = write(root.library, root.job.units, &chapter, ledger);
    for target in &chosen.targets {
        let line: LineAt = (target.path.clone(), Place::Step(target.rule.span.start));
        let no = written.number_of(&line, target.columns[0]);
        ledger.limits.insert((target.path.clone(), target.rule.span.start), no);
    }
    let (mut low, mut fits) = (Vec::new(), Vec::new());
    for limit in &chosen.low {
        let group = &results.groups[limit.group];
        let is = |other: &&Limit| other.path() == limit.path && other.rule().span == limit.rule.span;
        let Some(found) = group.limits.iter().find(is) else { continue };
        let no = written.no();
        ledger.limits.insert((limit.path.clone(), limit.rule.span.start), no.clone());
        let cite = limit.rule.cite.clone().unwrap_or_default();
        ledger.cite(&cite, &no);
        let own = own_sheet(root.library, found.of());
        match found.ratio() {
            Some(_) => low.push(LowLimit { own, ..low_limit(job, results, group, found, no, cite) }),
            None => fits.push(FitRow {
                no,
                say: said(&limit.rule.say),
                cite,
                fails: String::new(),
                remedy: String::new(),
                own,
                changed: false,
            }),
        }
    }
    let mut rules: Vec<(&Limit, BTreeSet<usize>)> = Vec::new();
    for group in &results.groups {
        for fit in group.limits.iter().filter(|limit| limit.is_fit()) {
            let at = rules.iter().position(|(known, _)| key_of(known) == key_of(fit)).unwrap_or_else(|| {
                rules.push((fit, BTreeSet::new()));
                rules.len() - 1
            });
            if !fit.ok() {
                rules[at].1.extend(&group.posts);
            }
        }
    }
    for (fit, fails) in rules {
        // One that is worked, since it fails, has its line.
        let key = (fit.path().to_string(), fit.rule().span.start);
        if ledger.limits.contains_key(&key) {
            continue;
        }
        let no = written.no();
        ledger.limits.insert(key, no.clone());
        let cite = fit.rule().cite.clone().unwrap_or_default();
        ledger.cite(&cite, &no);
        let fails: Vec<String> = fails.iter().map(|post| job.posts[*post].mark.clone()).collect();
        let remedy = if fails.is_empty() { String::new() } else { fit.rule().remedy.clone() };
        fits.push(FitRow {
            no,
            say: said(&fit.rule().say),
            cite,
            fails: some_marks(&fails, 6),
            remedy,
            own: own_sheet(root.library, fit.of()),
            changed: false,
        });
    }
    let skipped = skipped(job, &results.groups, made);
    let ratios = if full { ratios(job, results, ledger) } else { Vec::new() };
    Pages { low, fits, skipped, ratios, ..written.pages }
}

/// The columns of the post that governs the job, one for each method, that are
/// shown with all their lines.
fn whole(results: &Results, chosen: &Chosen) -> Vec<usize> {
    let group = chosen.columns.first().map(|column| column.group);
    let of = |asd: bool| {
        let is = |run: usize| results.combinations.get(run).is_some_and(|it| it.method.is_asd() == asd);
        chosen.columns.iter().position(|column| Some(column.group) == group && is(column.run))
    };
    [of(true), of(false)].into_iter().flatten().collect()
}

/// Posts side by side in a table of ratios.
const ACROSS: usize = 8;

/// Every limit of every group, by its line.
fn ratios(job: &Job, results: &Results, ledger: &Ledger) -> Vec<RatioTable> {
    let table = |groups: &[GroupResult]| {
        let mut rows: Vec<(LimitKey, RatioRow)> = Vec::new();
        for (at, group) in groups.iter().enumerate() {
            for limit in group.limits.iter().filter(|limit| !limit.is_fit()) {
                let row = rows.iter().position(|(known, _)| *known == key_of(limit)).unwrap_or_else(|| {
                    let (line, say) = (ledger.line_of(limit), said(&limit.rule().say));
                    let cells = groups.iter().map(|_| RatioCell::default()).collect();
                    rows.push((key_of(limit), RatioRow { line, say, cells, changed: false }));
                    rows.len() - 1
                });
                let combination =
                    if limit.varies() { results.combinations[limit.run()].name.clone() } else { String::new() };
                let ratio = limit.ratio().filter(|ratio| ratio.is_finite());
                let ratio = ratio.map_or("–".into(), |ratio| number_fixed(ratio, 3));
                rows[row].1.cells[at] = RatioCell { ratio, combination, ok: limit.ok() };
            }
        }
        let posts = groups.iter().map(|group| some_marks(&marks(job, group), 2)).collect();
        RatioTable { posts, rows: rows.into_iter().map(|(_, row)| row).collect() }
    };
    results.groups.chunks(ACROSS).map(table).collect()
}

fn low_limit(job: &Job, results: &Results, group: &GroupResult, limit: &Limit, no: String, cite: String) -> LowLimit {
    let verdict = limit.verdict();
    let (demand, capacity, ratio) = match &verdict.sides {
        Some((demand, capacity)) => {
            let (demand, capacity, ratio) = two_sides(demand, capacity, verdict.ratio);
            // What may come to one is the ratio itself.
            let one = capacity.number == "1" && capacity.unit.is_empty() && verdict.ratio.is_some();
            (if one { ratio.clone() } else { join(&demand) }, join(&capacity), ratio)
        }
        None => (String::new(), String::new(), "–".into()),
    };
    let combination = if limit.varies() { results.combinations[limit.run()].name.clone() } else { String::new() };
    LowLimit {
        no,
        say: told_apart(group, limit),
        sheet: limit.title().into(),
        cite,
        demand,
        capacity,
        ratio,
        post: some_marks(&marks(job, group), 2),
        combination,
        ok: limit.ok(),
        own: String::new(),
        changed: false,
    }
}

/// What posts bring to the ground and to the beams in a load case, by the names in the
/// sheet for it.
const BROUGHT: [&str; 5] = ["P", "F_x", "F_y", "w_x", "w_y"];

/// Those of them that no frame makes anything else of.
const WIND: [&str; 2] = ["w_x", "w_y"];

/// The chapter of loads that were worked out.
pub struct Loads {
    pub pages: Pages,
    /// The numbers of the lines that frames read, with the questions that these rest on.
    pub lines: BTreeMap<Brought, (String, BTreeSet<String>)>,
    /// The reactions that it works.
    pub reactions: WorkedOut,
}

/// How the loads of the posts that govern were worked out: the load cases that their
/// combinations are made from, and what else `frames` read of posts.
pub fn of_loads(
    root: &Root,
    bringing: &[(&GroupResult, Arc<Made>)],
    derived: &Derived,
    (results, chosen): (&Results, &Chosen),
    frames: &BTreeSet<Brought>,
    ledger: &mut Ledger,
    full: bool,
) -> Option<Loads> {
    let group_of = |post: usize| derived.groups.iter().position(|group| group.posts.contains(&post));
    let mut wanted: BTreeMap<usize, BTreeSet<String>> = BTreeMap::new();
    let mut cases: BTreeMap<usize, BTreeSet<String>> = BTreeMap::new();
    for column in &chosen.columns {
        let Some(group) = group_of(results.groups[column.group].posts[0]) else { continue };
        let factors = &results.combinations[column.run].factors;
        cases.entry(group).or_default().extend(factors.iter().map(|(case, _)| case.clone()));
    }
    for (group, cases) in &cases {
        let names = cases.iter().flat_map(|case| BROUGHT.iter().map(move |name| format!("{case}.{name}")));
        wanted.entry(*group).or_default().extend(names);
    }
    for (post, name) in frames {
        wanted.entry(group_of(*post)?).or_default().insert(name.clone());
    }
    let columns = wanted.keys().map(|at| &bringing[*at]).map(|(group, made)| Column {
        marks: marks(root.job, group),
        what: String::new(),
        c_d: String::new(),
        chain: Chain::new(made),
        loads: None,
    });
    let columns: Vec<Column> = columns.collect();
    let line_of = |at: usize, name: &str| {
        let chain = &columns[at].chain;
        let root = chain.roots[0];
        let (path, name) = match name.split_once('.') {
            Some((case, name)) => (format!("{}/{case}", root.name), name),
            None => (root.name.clone(), name),
        };
        let nothing = match &chain.find(&path)?.bound.get(name)?.value {
            Value::Quantity(quantity) => quantity.value == 0.0,
            _ => true,
        };
        match chain.source(&path, name) {
            Source::Line(line, _) if !nothing => Some(line),
            _ => None,
        }
    };
    let mut targets: Vec<(LineAt, Vec<usize>)> = Vec::new();
    for (at, names) in wanted.values().enumerate() {
        for line in names.iter().filter_map(|name| line_of(at, name)) {
            match targets.iter_mut().find(|(known, _)| *known == line) {
                Some((_, columns)) if columns.contains(&at) => {}
                Some((_, columns)) => columns.push(at),
                None => targets.push((line, vec![at])),
            }
        }
    }
    if targets.is_empty() {
        return None;
    }
    let column_of = |post: usize| wanted.keys().position(|group| Some(*group) == group_of(post));
    let read: Vec<(Brought, LineAt, usize)> = frames
        .iter()
        .filter_map(|(post, name)| {
            let at = column_of(*post)?;
            Some(((*post, name.clone()), line_of(at, name)?, at))
        })
        .collect();
    let own: Vec<(usize, String, LineAt)> = wanted
        .values()
        .enumerate()
        .flat_map(|(at, names)| names.iter().map(move |name| (at, name)))
        .filter_map(|(at, name)| Some((at, name.strip_suffix(".P")?.to_string(), line_of(at, name)?)))
        .collect();
    let mut reactions = WorkedOut::new();
    for (at, (group, names)) in wanted.iter().enumerate() {
        for name in names.iter().filter(|name| line_of(at, name).is_some()) {
            let Some((case, force)) = name.split_once('.') else { continue };
            let wind = WIND.into_iter().filter(|wind| *wind == force);
            let posts = &derived.groups[*group].posts;
            reactions.extend(wind.flat_map(|wind| posts.iter().map(move |post| (*post, case.to_string(), wind))));
        }
    }
    let chapter = Chapter {
        name: "L".into(),
        title: "Calculated loads".into(),
        columns,
        targets,
        across: BTreeMap::new(),
        whole: if full { vec![0] } else { Vec::new() },
    };
    let mut written = write(root.library, root.job.units, &chapter, ledger);
    let lines = read
        .into_iter()
        .map(|(brought, line, at)| (brought, (written.number_of(&line, at), written.questions_of(&line, at))));
    let lines = lines.collect();
    let none = BTreeSet::new();
    let of = |group: &usize| (derived.groups[*group].posts.as_slice(), cases.get(group).unwrap_or(&none));
    let own = own.into_iter().map(|(at, case, line)| ((at, case), written.number_of(&line, at))).collect();
    reactions.extend(sums::append(root.job, derived, &wanted.keys().map(of).collect::<Vec<_>>(), &own, &mut written));
    Some(Loads { pages: written.pages, lines, reactions })
}
