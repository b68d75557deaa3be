//! One group of equal posts in every combination, and what governs.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{Combination, Effect, ROOT, facts};
use crate::diag::{Checked, Complaint, Complaints};
use crate::job::Job;
use crate::sheet::{Context, Library, Must, Step, Verdict, Work, Worked, work};

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
    /// The worked loads of posts, which no combination has a part in yet.
    pub fn of_loads(no: usize, worked: Worked) -> GroupResult {
        let runs = vec![Run { effect: Effect::default(), worked }];
        let (limits, sheets) = govern(&runs);
        GroupResult { no, posts: Vec::new(), runs, limits, sheets }
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
        complaints.extend(more.into_iter().map(|complaint| complaint.hint(format!("for post {}", post.mark))));
        runs.push(Run { effect, worked });
    }
    if !complaints.is_empty() {
        return Err(forget_consequences(complaints));
    }
    let (limits, sheets) = govern(&runs);
    Ok(GroupResult { no, posts: posts.to_vec(), runs, limits, sheets })
}

/// A cell that can not be read is also missing; only the first is said.
fn forget_consequences(complaints: Complaints) -> Complaints {
    let unread: Vec<String> = complaints
        .iter()
        .filter_map(|complaint| complaint.message.split_once(", ")?.1.split_once(':').map(|(name, _)| name.to_string()))
        .collect();
    let consequence = |complaint: &Complaint| {
        unread.iter().any(|name| {
            complaint.message.split('`').skip(1).step_by(2).any(|quoted| crate::grid::same_name(quoted, name))
                && complaint.message.contains(" has no ")
        })
    };
    complaints.into_iter().filter(|complaint| !consequence(complaint)).collect()
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
        let own = limits.iter().filter(|limit| limit.path == *path && (limit.verdict().varies || !limit.ok()));
        let best = own.max_by(|a, b| weight(a.verdict()).total_cmp(&weight(b.verdict())).then(b.run().cmp(&a.run())));
        // A sheet without limits is shown as the one above it used it.
        let above = path.rsplit_once('/').and_then(|(above, _)| sheets.get(above)).map(|above| above.run);
        let within = above.filter(|run| find(&runs[*run].worked, path).is_some());
        let run = match best {
            Some(limit) if limit.verdict().ratio.is_some() || !limit.ok() => limit.run(),
            _ => within.unwrap_or(*first),
        };
        let clash = reached.iter().any(|(other, known, _)| known == name && other != path);
        let name = if clash { path.split('/').skip(1).collect::<Vec<_>>().join(".") } else { name.clone() };
        sheets.insert(path.clone(), SheetRun { run, name, order });
    }
    (limits, sheets)
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
