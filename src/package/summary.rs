//! The summary: how each post stands, and by which limit.

use super::ledger::Ledger;
use super::model::SummaryRow;
use crate::engine::{Limit, Results};
use crate::job::Post;
use crate::quantity::number_fixed;

pub(super) fn summary(
    post: &Post,
    results: &Results,
    group_at: usize,
    described: &[String],
    ledger: &Ledger,
) -> SummaryRow {
    let group = &results.groups[group_at];
    let governing = group.governing();
    let (ratio, fill) = governing.map_or(("–".into(), None), ratio);
    SummaryRow {
        mark: post.mark.clone(),
        group: group.no,
        post: described[group_at].clone(),
        base: post.base().to_string(),
        limit: governing.map_or(String::new(), |limit| limit.rule().say.clone()),
        sheet: governing.map_or(String::new(), |limit| limit.title().to_string()),
        cite: governing.and_then(|limit| limit.rule().cite.clone()).unwrap_or_default(),
        combination: governing.map_or(String::new(), |limit| combination_name(results, limit)),
        ratio,
        fill,
        ok: group.ok(),
        open: 0,
        line: governing.map_or(String::new(), |limit| ledger.line_of(group.no, limit)),
        met: group.limits.iter().filter(|limit| !limit.is_fit() && limit.ok()).count(),
        limits: group.limits.iter().filter(|limit| !limit.is_fit()).count(),
    }
}

/// The ratio as printed, and as the length of a bar.
pub(super) fn ratio(limit: &Limit) -> (String, Option<f64>) {
    match limit.ratio() {
        Some(ratio) if ratio.is_finite() => (number_fixed(ratio, 3), Some(ratio)),
        _ => ("–".into(), None),
    }
}

fn combination_name(results: &Results, limit: &Limit) -> String {
    if limit.varies() { results.combinations[limit.run()].name.clone() } else { String::new() }
}
