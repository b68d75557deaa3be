//! Which posts and load combinations the worked pages show. What governs a limit of
//! half or more on one pair of base and foundation, and what governs a post, has a
//! column of numbers there; all columns share the lines of the sheets.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::lines::said;
use super::model::Span;
use crate::engine::{GroupResult, Limit, Results, Shown};
use crate::job::Job;
use crate::quantity::number_fixed;
use crate::sheet::{Must, Step, Verdict};

/// From this demand/capacity ratio on a limit is worked line by line.
pub const WORKED_FROM: f64 = 0.5;

/// What is worked of a job.
pub struct Chosen {
    pub columns: Vec<Column>,
    pub targets: Vec<Target>,
    /// The limits that are listed and not worked, each where it governs.
    pub low: Vec<Low>,
    /// The groups of each pair of base and foundation.
    pub pairs: Vec<Vec<usize>>,
}

/// A post in a load combination: a column of numbers on the worked pages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Column {
    pub group: usize,
    pub run: usize,
}

/// A limit that is worked, and the columns in which it is.
pub struct Target {
    pub path: String,
    pub rule: Arc<Must>,
    pub columns: Vec<usize>,
}

/// A limit where it is greatest.
pub struct Low {
    pub path: String,
    pub rule: Arc<Must>,
    pub group: usize,
}

/// The key of a limit: the use of a sheet, and where its rule begins.
pub type LimitKey = (String, usize);

pub fn key_of(limit: &Limit) -> LimitKey {
    (limit.path().to_string(), limit.rule().span.start)
}

/// The words of a limit, with the use of its sheet where the post has more than one:
/// `smallest leg of the weld (ring weld)`.
pub fn told_apart(group: &GroupResult, limit: &Limit) -> Vec<Span> {
    said(&limit.rule().say).into_iter().chain(use_of(group, limit).map(Span::Text)).collect()
}

/// The use of a sheet that a limit is of, in brackets, where the post has more than one.
pub fn use_of(group: &GroupResult, limit: &Limit) -> Option<String> {
    let twin = |other: &Limit| {
        other.sheet() != limit.sheet() && other.of().name == limit.of().name && other.rule().span == limit.rule().span
    };
    group.limits.iter().any(twin).then(|| format!(" ({})", limit.sheet().replace('-', " ")))
}

/// `a`, `b`, … `z`, `aa`, ….
pub fn letter(at: usize) -> String {
    let last = char::from(b'a' + (at % 26) as u8);
    if at < 26 { last.to_string() } else { format!("{}{last}", letter(at / 26 - 1)) }
}

impl Chosen {
    /// What is worked of a job. `all` works every limit.
    pub fn new(job: &Job, results: &Results, shown: &[Shown], all: bool) -> Chosen {
        let groups: Vec<usize> = (0..results.groups.len()).collect();
        let pairs = pairs(job, results, &groups);
        let mut chosen = Chosen { columns: Vec::new(), targets: Vec::new(), low: Vec::new(), pairs };
        chosen.choose(results, shown, all);
        chosen
    }
}

/// Groups by the base and the foundation that their posts chose.
fn pairs(job: &Job, results: &Results, groups: &[usize]) -> Vec<Vec<usize>> {
    let mut by_names: BTreeMap<[String; 2], usize> = BTreeMap::new();
    let mut pairs: Vec<Vec<usize>> = Vec::new();
    for group in groups {
        let post = &job.posts[results.groups[*group].posts[0]];
        let name = |catalogue: &str| post.entries.get(catalogue).map_or(String::new(), |entry| entry.name.clone());
        let next = pairs.len();
        let at = *by_names.entry(["bases", "foundations"].map(name)).or_insert(next);
        if at == next {
            pairs.push(Vec::new());
        }
        pairs[at].push(*group);
    }
    pairs
}

fn weight(limit: &Limit) -> f64 {
    if limit.ok() { limit.ratio().unwrap_or(-1.0) } else { f64::INFINITY }
}

/// Groups, first those that something presses on most. Of limits that come to the same
/// in more than one, that of the first governs, wherever one is named.
pub fn by_weight(results: &Results) -> Vec<usize> {
    let governing = |group: &usize| results.groups[*group].governing().map_or(-1.0, weight);
    let mut order: Vec<usize> = (0..results.groups.len()).collect();
    order.sort_by(|a, b| governing(b).total_cmp(&governing(a)));
    order
}

/// Presses harder, and not only by what is left of rounding.
pub fn harder(limit: &Limit, than: &Limit) -> bool {
    let ratio = |limit: &Limit| limit.ratio().unwrap_or(-1.0);
    if limit.ok() == than.ok() { ratio(limit) > ratio(than) + 1e-9 } else { than.ok() }
}

impl Chosen {
    fn choose(&mut self, results: &Results, shown: &[Shown], all: bool) {
        // What governs the whole kind comes first.
        let order = by_weight(results);
        let mut rules: BTreeMap<LimitKey, Vec<(usize, &Limit)>> = BTreeMap::new();
        let mut keys: Vec<LimitKey> = Vec::new();
        for group in &order {
            for limit in results.groups[*group].limits.iter().filter(|limit| !limit.is_fit()) {
                let entry = rules.entry(key_of(limit)).or_default();
                if entry.is_empty() {
                    keys.push(key_of(limit));
                }
                entry.push((*group, limit));
            }
        }
        // Where a size that does not fit governs a post, so does what loads press on most.
        for group in &order {
            let group_results = &results.groups[*group];
            let governing = group_results.governing();
            let driven = group_results.driven().filter(|_| governing.is_some_and(|limit| !limit.varies()));
            for limit in governing.into_iter().chain(driven) {
                self.work(*group, limit, shown);
            }
        }
        for key in keys {
            let limits = &rules[&key];
            // Of equal ones the first, which belongs to a post that governs more.
            let most = |groups: &[usize]| {
                let of = limits.iter().filter(|(group, _)| groups.contains(group));
                of.reduce(|best, next| if harder(next.1, best.1) { next } else { best })
            };
            let mut worked = false;
            for pair in self.pairs.clone() {
                if let Some((group, limit)) = most(&pair).filter(|(_, limit)| all || weight(limit) >= WORKED_FROM) {
                    self.work(*group, limit, shown);
                    worked = true;
                }
            }
            for (group, limit) in limits.iter().filter(|(_, limit)| !limit.ok()) {
                self.work(*group, limit, shown);
                worked = true;
            }
            if !worked && let Some((group, limit)) = most(&order) {
                self.low.push(Low { path: key.0, rule: limit.rule().clone(), group: *group });
            }
        }
        self.low.retain(|low| {
            let is = |target: &Target| target.path == low.path && target.rule.span == low.rule.span;
            !self.targets.iter().any(is)
        });
    }

    /// Works a limit of a group in the combination that governs it.
    fn work(&mut self, group: usize, limit: &Limit, shown: &[Shown]) {
        // A combination that a column stands for already, and in which the limit
        // comes to the same, serves as well.
        let alike = |column: &Column| {
            let steps = shown[column.group].find(column.run, limit.path()).into_iter().flat_map(|sheet| &sheet.steps);
            let digits = |ratio: Option<f64>| ratio.map(|ratio| number_fixed(ratio, 3));
            let same =
                |verdict: &Verdict| verdict.ok == limit.verdict().ok && digits(verdict.ratio) == digits(limit.ratio());
            steps.into_iter().any(
                |step| matches!(step, Step::Must { rule, verdict } if rule.span == limit.rule().span && same(verdict)),
            )
        };
        let same = |column: &&Column| column.group == group && column.run == limit.run();
        let known = self
            .columns
            .iter()
            .position(|column| same(&column))
            .or_else(|| self.columns.iter().position(|column| column.group == group && alike(column)));
        let column = known.unwrap_or_else(|| {
            self.columns.push(Column { group, run: limit.run() });
            self.columns.len() - 1
        });
        let is = |target: &Target| target.path == limit.path() && target.rule.span == limit.rule().span;
        match self.targets.iter_mut().find(|target| is(target)) {
            Some(target) if target.columns.contains(&column) => {}
            Some(target) => target.columns.push(column),
            None => {
                let (path, rule) = (limit.path().to_string(), limit.rule().clone());
                self.targets.push(Target { path, rule, columns: vec![column] });
            }
        }
    }
}
