//! One group of equal posts in every combination, and what governs.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{Combination, Effect, ROOT, facts};
use crate::diag::{Checked, Complaint};
use crate::job::Job;
use crate::sheet::{Context, Library, Must, Origin, Step, Verdict, Work, Worked, work};

#[derive(Debug)]
pub struct GroupResult {
    /// From 1.
    pub no: usize,
    /// Indices of its posts in the job.
    pub posts: Vec<usize>,
    /// One for each combination, in their order.
    pub runs: Vec<Run>,
    pub limits: Vec<Limit>,
    /// For every sheet that was worked, by its path.
    pub sheets: BTreeMap<String, SheetRun>,
}

/// The root sheet worked in one combination.
#[derive(Debug)]
pub struct Run {
    pub effect: Effect,
    pub worked: Worked,
}

#[derive(Debug)]
pub struct SheetRun {
    /// The combination in which the sheet's highest ratio stands.
    pub run: usize,
    /// The name its symbols go by in results.
    pub name: String,
    /// Order in which sheets are reached.
    pub order: usize,
}

#[derive(Debug)]
pub struct Limit {
    /// `post/pins/pin-yield`.
    pub path: String,
    /// The name of the use, which is the sheet's unless it was given another.
    pub sheet: String,
    pub title: String,
    pub rule: Arc<Must>,
    /// The run and verdict of every combination in which it was met with.
    pub verdicts: Vec<(usize, Verdict)>,
    /// Index in `verdicts`.
    pub governing: usize,
}

impl Limit {
    pub fn verdict(&self) -> &Verdict {
        &self.verdicts[self.governing].1
    }

    pub fn run(&self) -> usize {
        self.verdicts[self.governing].0
    }

    pub fn ok(&self) -> bool {
        self.verdicts.iter().all(|(_, verdict)| verdict.ok)
    }
}

/// How hard a verdict presses: a limit that is no ratio governs all when it
/// is not met, nothing when it is.
fn weight(verdict: &Verdict) -> f64 {
    match verdict.ratio {
        Some(ratio) => ratio,
        None if verdict.ok => -1.0,
        None => f64::INFINITY,
    }
}

impl GroupResult {
    /// A sheet that no combination has a part in, for a first post.
    pub fn without_loads(no: usize, post: usize, worked: Worked) -> GroupResult {
        let runs = vec![Run { effect: Effect::default(), worked }];
        let (limits, sheets) = govern(&runs);
        GroupResult { no, posts: vec![post], runs, limits, sheets }
    }

    pub fn ok(&self) -> bool {
        self.limits.iter().all(Limit::ok)
    }

    /// The limit with the highest ratio; one that is not met goes first, and
    /// what loads press on goes before a size that is just as it has to be.
    pub fn governing(&self) -> Option<&Limit> {
        let mut best: Option<&Limit> = None;
        for limit in &self.limits {
            let key = |limit: &Limit| (!limit.ok(), limit.verdict().varies, weight(limit.verdict()));
            if best.is_none_or(|best| key(limit).partial_cmp(&key(best)) == Some(std::cmp::Ordering::Greater)) {
                best = Some(limit);
            }
        }
        best
    }
}

pub fn work_group(
    job: &Job,
    library: &Library,
    combinations: &[Combination],
    no: usize,
    posts: &[usize],
) -> Checked<GroupResult> {
    let Some(root) = library.sheet(ROOT) else {
        return Err(Complaint::new(format!("there is no sheet `{ROOT}`")).into());
    };
    let post = &job.posts[posts[0]];
    let (inputs, mut complaints) = facts::inputs(root, job, post);
    let missing = |input: &crate::sheet::Input| facts::missing(input, job, post);
    let mut runs = Vec::new();
    for combination in combinations {
        let effect = combination.effect(&post.reactions);
        let mut inputs = inputs.clone();
        inputs.extend(facts::loads(root, combination, effect, combination.seismic(&post.reactions)));
        let context = Context { library, method: Some(combination.method), missing: &missing };
        let Work { worked, complaints: more } = work(root, inputs, &context);
        complaints.extend(more.into_iter().map(|complaint| facts::located(complaint, root, job, post)));
        runs.push(Run { effect, worked });
    }
    if !complaints.is_empty() {
        return Err(complaints);
    }
    let (limits, sheets) = govern(&runs);
    Ok(GroupResult { no, posts: posts.to_vec(), runs, limits, sheets })
}

type Found = (Vec<Limit>, BTreeMap<String, SheetRun>);

fn govern(runs: &[Run]) -> Found {
    let mut limits: Vec<Limit> = Vec::new();
    let mut reached: Vec<(String, String, usize)> = Vec::new();
    for (at, run) in runs.iter().enumerate() {
        collect(&run.worked, &run.worked.name, at, &mut limits, &mut reached);
    }
    for limit in &mut limits {
        let heaviest = |best: usize, at: usize| {
            let (new, old) = (&limit.verdicts[at].1, &limit.verdicts[best].1);
            if weight(new) > weight(old) { at } else { best }
        };
        limit.governing = (0..limit.verdicts.len()).fold(0, heaviest);
    }
    let mut sheets: BTreeMap<String, SheetRun> = BTreeMap::new();
    for (order, (path, name, first)) in reached.iter().enumerate() {
        // A size that is just as it has to be is the same in every combination.
        let own = heaviest(&limits, |other| other == path);
        let above = path.rsplit_once('/').map(|(above, _)| above);
        let above_run = above.and_then(|above| sheets.get(above)).map(|above| above.run);
        // A sheet without limits is shown as the heaviest one that it uses, or
        // that its values go to, or else as the one above used it.
        let below = || heaviest(&limits, |other| other.starts_with(&format!("{path}/")));
        let run = own.or_else(below).or_else(|| {
            let above = above?;
            let parent = find(&runs[*first].worked, above)?;
            consumer(parent, above, name, &limits)
        });
        let there = |run: &usize| find(&runs[*run].worked, path).is_some();
        let run = run.filter(there).or(above_run.filter(there)).unwrap_or(*first);
        let clash = reached.iter().any(|(other, known, _)| known == name && other != path);
        let name = if clash { path.split('/').skip(1).collect::<Vec<_>>().join(".") } else { name.clone() };
        sheets.insert(path.clone(), SheetRun { run, name, order });
    }
    (limits, sheets)
}

/// The run of the limit with the highest ratio among sheets of some paths.
fn heaviest(limits: &[Limit], of: impl Fn(&str) -> bool) -> Option<usize> {
    let own = limits.iter().filter(|limit| of(&limit.path) && (limit.verdict().varies || !limit.ok()));
    let best = own.max_by(|a, b| weight(a.verdict()).total_cmp(&weight(b.verdict())).then(b.run().cmp(&a.run())))?;
    (best.verdict().ratio.is_some() || !best.ok()).then(|| best.run())
}

/// The run of the heaviest sheet that the values of `name` go to, through the
/// lines of the sheet that uses both.
fn consumer(parent: &Worked, path: &str, name: &str, limits: &[Limit]) -> Option<usize> {
    let mut touched: Vec<String> = Vec::new();
    let mut paths: Vec<String> = Vec::new();
    let is_touched = |touched: &[String], symbol: &str| {
        symbol.strip_prefix(name).is_some_and(|rest| rest.starts_with('.'))
            || touched.iter().any(|known| known == symbol)
    };
    for step in &parent.steps {
        match step {
            Step::Let { rule, taken } => {
                let symbols = rule.cases[*taken].value.symbols();
                if symbols.iter().any(|symbol| is_touched(&touched, symbol)) {
                    touched.push(rule.name.clone());
                }
            }
            Step::Use(inner) if inner.name != name => {
                let takes = inner.given.iter().any(|given| match &given.origin {
                    Origin::Symbol(symbol) => is_touched(&touched, symbol),
                    Origin::Formula(expr) => expr.symbols().iter().any(|symbol| is_touched(&touched, symbol)),
                    Origin::File(_) | Origin::Default => false,
                });
                if takes {
                    paths.push(format!("{path}/{}", inner.name));
                }
            }
            _ => {}
        }
    }
    heaviest(limits, |limit| paths.iter().any(|path| limit == path || limit.starts_with(&format!("{path}/"))))
}

fn collect(
    worked: &Worked,
    path: &str,
    run: usize,
    limits: &mut Vec<Limit>,
    reached: &mut Vec<(String, String, usize)>,
) {
    if !reached.iter().any(|(known, ..)| known == path) {
        reached.push((path.into(), worked.name.clone(), run));
    }
    for step in &worked.steps {
        match step {
            Step::Must { rule, verdict } => {
                let known = limits.iter_mut().find(|limit| limit.path == path && limit.rule.span == rule.span);
                match known {
                    Some(limit) => limit.verdicts.push((run, verdict.clone())),
                    None => limits.push(Limit {
                        path: path.into(),
                        sheet: worked.name.clone(),
                        title: worked.sheet.title.clone(),
                        rule: rule.clone(),
                        verdicts: vec![(run, verdict.clone())],
                        governing: 0,
                    }),
                }
            }
            Step::Use(inner) => collect(inner, &format!("{path}/{}", inner.name), run, limits, reached),
            _ => {}
        }
    }
}

/// The sheet at a path below the root.
pub fn find<'a>(root: &'a Worked, path: &str) -> Option<&'a Worked> {
    let mut at = root;
    for name in path.split('/').skip(1) {
        at = at.steps.iter().find_map(|step| match step {
            Step::Use(inner) if inner.name == name => Some(&**inner),
            _ => None,
        })?;
    }
    Some(at)
}
