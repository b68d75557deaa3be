//! The summary: how each post stands and by which limit, and the limits of the
//! job by rank.

use std::collections::{BTreeMap, BTreeSet};

use super::build::marks;
use super::chosen::{by_weight, harder};
use super::ledger::Ledger;
use super::model::{RankedLimit, Ranking, SummaryRow};
use crate::diag::count;
use crate::engine::{GroupResult, Limit, Results};
use crate::job::{Job, some_marks};
use crate::quantity::number_fixed;
use crate::verdict::Verdict as Stand;

/// Marks that a line of the summary has room for.
const MARKS: usize = 8;

/// Limits with a demand of this part of their capacity have a line of their own.
const WORTH_A_LINE: f64 = 0.5;

/// As many have one in any case.
const AT_LEAST: usize = 10;

/// A line for the posts that are alike: what is not met first, then the highest
/// ratio.
pub(super) fn summary(
    job: &Job,
    results: &Results,
    stand: &Stand,
    described: &[String],
    ledger: &Ledger,
) -> Vec<SummaryRow> {
    let mut groups: Vec<&GroupResult> = results.groups.iter().collect();
    let height = |group: &GroupResult| group.governing().and_then(Limit::ratio).unwrap_or(-1.0);
    groups.sort_by(|a, b| a.ok().cmp(&b.ok()).then(height(b).total_cmp(&height(a))));
    groups.into_iter().map(|group| row(job, results, stand, group, &described[group.no - 1], ledger)).collect()
}

fn row(
    job: &Job,
    results: &Results,
    stand: &Stand,
    group: &GroupResult,
    described: &str,
    ledger: &Ledger,
) -> SummaryRow {
    let governing = group.governing();
    let (ratio, fill) = governing.map_or(("–".into(), None), ratio);
    let open = group.posts.iter().map(|post| stand.open_of(*post)).max().unwrap_or(0);
    let marks = marks(job, group);
    // Where something does not go together, that is counted, too.
    let unfit = group.limits.iter().any(|limit| limit.is_fit() && !limit.ok());
    let counted = || group.limits.iter().filter(|limit| unfit || !limit.is_fit());
    SummaryRow {
        shown: some_marks(&marks, MARKS),
        marks,
        group: group.no,
        post: described.into(),
        base: job.posts[group.posts[0]].base().to_string(),
        limit: governing.map_or(String::new(), |limit| limit.rule().say.clone()),
        sheet: governing.map_or(String::new(), sheet_of),
        cite: governing.and_then(|limit| limit.rule().cite.clone()).unwrap_or_default(),
        combination: governing.map_or(String::new(), |limit| combination_name(results, limit)),
        ratio,
        fill,
        ok: group.ok(),
        open,
        line: governing.map_or(String::new(), |limit| ledger.line_of(limit)),
        met: counted().filter(|limit| limit.ok()).count(),
        limits: counted().count(),
        changed: false,
    }
}

/// Each limit of the job once, in the posts and the combination that govern it,
/// by rank. What is no ratio is not in it, unless it is not met.
pub(super) fn ranking(job: &Job, results: &Results, ledger: &Ledger) -> Ranking {
    let mut highest: BTreeMap<(&str, usize), (&GroupResult, &Limit)> = BTreeMap::new();
    let key = |limit: &Limit| (limit.ok(), -limit.ratio().unwrap_or(0.0));
    for group in by_weight(results).into_iter().map(|at| &results.groups[at]) {
        for limit in group.limits.iter().filter(|limit| !limit.is_fit()) {
            let known = highest.entry((limit.path(), limit.rule().span.start)).or_insert((group, limit));
            if harder(limit, known.1) {
                *known = (group, limit);
            }
        }
    }
    let (mut driven, mut fixed): (Vec<_>, Vec<_>) = highest
        .into_values()
        .filter(|(_, limit)| limit.ratio().is_some())
        .partition(|(_, limit)| limit.varies() || !limit.ok());
    for list in [&mut driven, &mut fixed] {
        list.sort_by(|a, b| key(a.1).partial_cmp(&key(b.1)).unwrap_or(std::cmp::Ordering::Equal));
    }
    let worth = |(at, (_, limit)): &(usize, (&GroupResult, &Limit))| {
        *at < AT_LEAST || !limit.ok() || limit.ratio().is_some_and(|ratio| ratio >= WORTH_A_LINE)
    };
    let shown = driven.iter().copied().enumerate().filter(|it| worth(it)).count();
    // Two uses of a sheet have limits of one name: the use tells them apart.
    let mut names: BTreeMap<(&str, &str), BTreeSet<&str>> = BTreeMap::new();
    for (_, limit) in &driven {
        names.entry((limit.title(), &limit.rule().say)).or_default().insert(limit.sheet());
    }
    let one = |(group, limit): &(&GroupResult, &Limit)| {
        let several = names.get(&(limit.title(), limit.rule().say.as_str())).is_some_and(|uses| uses.len() > 1);
        let (ratio, fill) = ratio(limit);
        RankedLimit {
            limit: limit.rule().say.clone(),
            sheet: if several { format!("{} ({})", limit.title(), limit.sheet()) } else { sheet_of(limit) },
            cite: limit.rule().cite.clone().unwrap_or_default(),
            marks: some_marks(&marks(job, group), 3),
            combination: combination_name(results, limit),
            ratio,
            fill,
            ok: limit.ok(),
            line: ledger.line_of(limit),
            changed: false,
        }
    };
    let rest = &driven[shown..];
    let under = rest.first().and_then(|(_, limit)| limit.ratio());
    let rest = under.map_or(String::new(), |under| {
        format!("{} that depend on loads: at most {}.", count(rest.len(), "further limit"), number_fixed(under, 3))
    });
    Ranking { limits: driven[..shown].iter().map(one).collect(), rest, bound: at_bound(&fixed) }
}

/// Sizes and distances that are just as they have to be, by name.
fn at_bound(fixed: &[(&GroupResult, &Limit)]) -> String {
    let at = fixed.iter().filter(|(_, limit)| limit.ratio().is_some_and(|ratio| ratio > 0.9995));
    let mut names: Vec<&str> = at.map(|(_, limit)| limit.rule().say.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    match names.len() {
        0 => String::new(),
        _ => format!("At a limit on size, whatever the loads: {}.", names.join(", ")),
    }
}

/// The sheet of a limit, where its title says more than the limit itself.
fn sheet_of(limit: &Limit) -> String {
    let (title, say) = (limit.title(), &limit.rule().say);
    if title.eq_ignore_ascii_case(say) { String::new() } else { title.into() }
}

/// The ratio as printed, and as the length of a bar.
pub(super) fn ratio(limit: &Limit) -> (String, Option<f64>) {
    match limit.ratio() {
        Some(ratio) if ratio.is_finite() => (number_fixed(ratio, 3), Some(ratio)),
        _ => ("–".into(), None),
    }
}

pub(super) fn combination_name(results: &Results, limit: &Limit) -> String {
    if limit.varies() { results.combinations[limit.run()].name.clone() } else { String::new() }
}
