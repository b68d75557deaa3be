//! The runs of a group that a page, a terminal or another program is shown: the steps of
//! each, made when they are asked for, and the one that each sheet is shown in.

use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

use super::govern::{Limit, loads_of};
use super::root::Root;
use super::{Combination, GroupResult};
use crate::formula::{Expr, Value};
use crate::program::{Memory, Reached};
use crate::quantity::Unit;
use crate::sheet::{Stmt, Use, Worked};

pub struct Shown<'a> {
    pub group: &'a GroupResult,
    root: &'a Root<'a>,
    combinations: &'a [Combination],
    runs: Vec<OnceLock<Arc<Worked>>>,
}

struct SheetRun {
    /// The combination in which the sheet's highest ratio stands.
    run: usize,
    /// The name its symbols go by in results.
    name: String,
    /// Order in which sheets are reached.
    order: usize,
    /// Index in the program's uses.
    at: usize,
}

impl<'a> Shown<'a> {
    pub fn new(root: &'a Root<'a>, combinations: &'a [Combination], group: &'a GroupResult) -> Shown<'a> {
        let runs = (0..combinations.len().max(1)).map(|_| OnceLock::new()).collect();
        Shown { group, root, combinations, runs }
    }

    /// The steps of a run.
    pub fn worked(&self, run: usize) -> &Worked {
        self.runs[run].get_or_init(|| self.root.steps(self.group.posts[0], self.combinations, run, true))
    }

    /// The sheet at a path, in a run.
    pub fn find(&self, run: usize, path: &str) -> Option<&Worked> {
        find(self.worked(run), path)
    }

    /// For every sheet that was worked, by its path, the run that it is shown in.
    fn sheets(&self) -> BTreeMap<String, SheetRun> {
        let Shown { group, root, combinations, .. } = *self;
        let mut memory = root.program.memory();
        let mut reached: Vec<Vec<bool>> = vec![Vec::new(); root.program.uses.len()];
        let mut each = |memory: &Memory, at: Option<usize>| {
            let method = at.map(|at| combinations[at].method);
            for (known, used) in reached.iter_mut().zip(&root.program.uses) {
                known.push(root.program.reached(used, memory, method));
            }
        };
        root.set(&mut memory, group.posts[0]);
        if combinations.is_empty() {
            each(&memory, None);
        }
        let post = &root.job.posts[group.posts[0]];
        for (at, combination) in combinations.iter().enumerate() {
            root.load(&mut memory, loads_of(combination, post));
            each(&memory, Some(at));
        }
        sheets(root, group, &reached)
    }

    /// Every symbol of every sheet, in the run that the sheet is shown in.
    pub fn values(&self) -> Vec<(String, Value, Arc<Unit>)> {
        let program = &self.root.program;
        let post = &self.root.job.posts[self.group.posts[0]];
        let mut memory = program.memory();
        self.root.set(&mut memory, self.group.posts[0]);
        let sheets = self.sheets();
        let mut ordered: Vec<&SheetRun> = sheets.values().collect();
        ordered.sort_by_key(|sheet| sheet.order);
        let mut found: BTreeMap<usize, Vec<(String, Value, Arc<Unit>)>> = BTreeMap::new();
        for run in 0..self.runs.len() {
            let here: Vec<&&SheetRun> = ordered.iter().filter(|sheet| sheet.run == run).collect();
            if here.is_empty() {
                continue;
            }
            if let Some(combination) = self.combinations.get(run) {
                self.root.load(&mut memory, loads_of(combination, post));
            }
            for sheet in here {
                let symbols = program.symbols().iter().filter(|symbol| symbol.of == sheet.at);
                let values = symbols.filter_map(|symbol| {
                    let (value, unit) = program.shown(symbol, &memory, &|fact| self.root.typed(post, fact))?;
                    Some((format!("{}.{}", sheet.name, symbol.name()), value, unit))
                });
                found.insert(sheet.order, values.collect());
            }
        }
        found.into_values().flatten().collect()
    }

    /// The highest ratio that loads bring about, in each run.
    pub fn highest(&self) -> Vec<Option<f64>> {
        let program = &self.root.program;
        let post = &self.root.job.posts[self.group.posts[0]];
        let mut memory = program.memory();
        self.root.set(&mut memory, self.group.posts[0]);
        let ratios = self.combinations.iter().map(|combination| {
            self.root.load(&mut memory, loads_of(combination, post));
            let limits = program.limits.iter().filter(|limit| limit.varies);
            let outcomes = limits.filter_map(|limit| program.outcome(limit, &memory, Some(combination.method)));
            outcomes.filter_map(|outcome| super::govern::ratio(&outcome)).max_by(f64::total_cmp)
        });
        ratios.collect()
    }
}

/// The run that each sheet is shown in.
fn sheets(root: &Root, group: &GroupResult, reached: &[Vec<bool>]) -> BTreeMap<String, SheetRun> {
    let uses = &root.program.uses;
    let first = |at: usize| reached[at].iter().position(|there| *there);
    let mut order: Vec<(usize, usize)> = (0..uses.len()).filter_map(|at| Some((first(at)?, at))).collect();
    order.sort();
    let mut sheets: BTreeMap<String, SheetRun> = BTreeMap::new();
    for (place, (first, at)) in order.iter().enumerate() {
        let used = &uses[*at];
        let (path, name) = (used.path.as_str(), &used.name);
        // A size that is just as it has to be is the same in every combination.
        let own = heaviest(&group.limits, |other| other == path);
        let above = path.rsplit_once('/').map(|(above, _)| above);
        let above_run = above.and_then(|above| sheets.get(above)).map(|above| above.run);
        // A sheet without limits is shown as the heaviest one that it uses, or
        // that its values go to, or else as the one above used it.
        let below = || heaviest(&group.limits, |other| other.starts_with(&format!("{path}/")));
        let run = own.or_else(below).or_else(|| {
            let above = above?;
            consumer(uses, above, &|symbol| symbol.strip_prefix(name).is_some_and(|rest| rest.starts_with('.')), group)
        });
        let there = |run: &usize| reached[*at][*run];
        let run = run.filter(there).or(above_run.filter(there)).unwrap_or(*first);
        let clash = order.iter().any(|(_, other)| uses[*other].name == *name && uses[*other].path != path);
        let name = if clash { path.split('/').skip(1).collect::<Vec<_>>().join(".") } else { name.clone() };
        sheets.insert(path.into(), SheetRun { run, name, order: place, at: *at });
    }
    sheets
}

/// The run of the limit with the highest ratio among sheets of some paths.
fn heaviest(limits: &[Limit], of: impl Fn(&str) -> bool) -> Option<usize> {
    let own = limits.iter().filter(|limit| of(limit.path()) && !limit.is_fit() && (limit.varies() || !limit.ok()));
    let best = own.max_by(|a, b| a.weight().total_cmp(&b.weight()).then(b.run().cmp(&a.run())))?;
    (best.ratio().is_some() || !best.ok()).then(|| best.run())
}

/// The run of the heaviest sheet that some symbols of the sheet at `path` go
/// to, through its lines and those of the sheets above, to which it gives them.
fn consumer(uses: &[Arc<Reached>], path: &str, begins: &dyn Fn(&str) -> bool, group: &GroupResult) -> Option<usize> {
    let parent = uses.iter().find(|used| used.path == path)?;
    let mut touched: Vec<String> = Vec::new();
    let mut paths: Vec<String> = Vec::new();
    parent.sheet.walk(&mut |stmt| {
        let is_touched = |expr: &Expr| {
            expr.symbols().iter().any(|symbol| begins(symbol) || touched.iter().any(|known| known == symbol))
        };
        let takes = |used: &Use| used.args.iter().any(|(.., value)| is_touched(value));
        match stmt {
            Stmt::Let(rule) if rule.cases.iter().any(|case| is_touched(&case.value)) => touched.push(rule.name.clone()),
            Stmt::Use(used) if takes(used) => paths.push(format!("{path}/{}", used.name)),
            Stmt::Place(place) => {
                let taking = place.choices.iter().map(|(_, used)| used).filter(|used| takes(used));
                paths.extend(taking.map(|used| format!("{path}/{}", used.name)));
            }
            _ => {}
        }
    });
    let here = heaviest(&group.limits, |limit| {
        paths.iter().any(|path| limit == path || limit.starts_with(&format!("{path}/")))
    });
    here.or_else(|| {
        touched.retain(|name| parent.sheet.give(name).is_some());
        let (above, name) = path.rsplit_once('/').filter(|_| !touched.is_empty())?;
        // A sheet in an open place is known above by the name of the place.
        let stands = parent.sheet.stands.as_ref().map_or(name, |stands| stands.place.as_str());
        let given = |symbol: &str| {
            let given = symbol.split_once('.');
            given
                .is_some_and(|(of, symbol)| (of == name || of == stands) && touched.iter().any(|known| known == symbol))
        };
        consumer(uses, above, &given, group)
    })
}

/// The sheet at a path below the root.
pub fn find<'a>(root: &'a Worked, path: &str) -> Option<&'a Worked> {
    let mut at = root;
    for name in path.split('/').skip(1) {
        at = at.steps.iter().find_map(|step| match step {
            crate::sheet::Step::Use(inner) if inner.name == name => Some(&**inner),
            _ => None,
        })?;
    }
    Some(at)
}
