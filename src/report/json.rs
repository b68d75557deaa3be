//! The JSON that tests and other programs read. Its shape is stable.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::{Map, Value as Json, json};

use crate::engine::{GroupResult, Results, find};
use crate::formula::Value;
use crate::job::Job;
use crate::sheet::{Bound, Must, Step, Verdict, Worked};
use crate::typeset::value_text;

#[derive(Serialize)]
struct LimitRow {
    sheet: String,
    limit: String,
    cite: String,
    /// Both null for a limit that is no ratio.
    demand: Option<f64>,
    capacity: Option<f64>,
    unit: String,
    ratio: Option<f64>,
    combination: String,
    ok: bool,
}

impl LimitRow {
    fn new(sheet: &str, rule: &Must, verdict: &Verdict, combination: String, ok: bool) -> LimitRow {
        let sides = verdict.sides.as_ref();
        let unit = sides.map(|(_, capacity)| capacity.unit.clone());
        let in_unit = |side: &crate::sheet::Side| unit.as_ref().map_or(0.0, |unit| side.quantity.in_unit(unit));
        LimitRow {
            sheet: sheet.into(),
            limit: rule.say.clone(),
            cite: rule.cite.clone().unwrap_or_default(),
            demand: sides.map(|(demand, _)| in_unit(demand)),
            capacity: sides.map(|(_, capacity)| in_unit(capacity)),
            unit: unit.as_ref().map_or(String::new(), |unit| unit.name().into()),
            ratio: verdict.ratio.filter(|ratio| ratio.is_finite()),
            combination,
            ok,
        }
    }
}

fn value(bound: &Bound) -> Json {
    match &bound.value {
        Value::Quantity(quantity) => json!({ "value": quantity.in_unit(&bound.unit), "unit": bound.unit.name() }),
        other => json!({ "value": value_text(other), "unit": "" }),
    }
}

fn program() -> &'static str {
    env!("CARGO_PKG_VERSION")
}

/// A whole job.
pub fn check_json(job: &Job, results: &Results, digest: &str) -> String {
    let posts: Vec<Json> = job
        .posts
        .iter()
        .enumerate()
        .map(|(at, post)| {
            let group = &results.groups[results.group_of[at]];
            json!({
                "mark": post.mark,
                "group": group.no,
                "ok": group.ok(),
                "limits": limits(results, group),
                "values": values(group),
            })
        })
        .collect();
    let whole =
        json!({ "socle": program(), "job": job.card.name, "digest": digest, "ok": results.ok(), "posts": posts });
    pretty(&whole)
}

fn limits(results: &Results, group: &GroupResult) -> Vec<LimitRow> {
    let rows = group.limits.iter().map(|limit| {
        let verdict = limit.verdict();
        let combination = if verdict.varies { results.combinations[limit.run()].name.clone() } else { String::new() };
        LimitRow::new(&limit.sheet, &limit.rule, verdict, combination, limit.ok())
    });
    rows.collect()
}

/// Every bound symbol of every sheet used, for the combination that governs
/// that sheet's highest ratio.
fn values(group: &GroupResult) -> Map<String, Json> {
    let mut ordered: Vec<_> = group.sheets.iter().collect();
    ordered.sort_by_key(|(_, sheet)| sheet.order);
    let mut values = Map::new();
    for (path, sheet) in ordered {
        let Some(worked) = find(&group.runs[sheet.run].worked, path) else { continue };
        for (symbol, bound) in worked.bound.iter().filter(|(symbol, _)| !symbol.contains('.')) {
            values.insert(format!("{}.{symbol}", sheet.name), value(bound));
        }
    }
    values
}

/// One sheet.
pub fn work_json(worked: &Worked) -> String {
    let mut limits = Vec::new();
    let mut values = BTreeMap::new();
    collect(worked, "", &mut limits, &mut values);
    let ok = limits.iter().all(|limit: &LimitRow| limit.ok);
    pretty(&json!({ "socle": program(), "sheet": worked.sheet.name, "ok": ok, "limits": limits, "values": values }))
}

fn collect(worked: &Worked, prefix: &str, limits: &mut Vec<LimitRow>, values: &mut BTreeMap<String, Json>) {
    for (symbol, bound) in worked.bound.iter().filter(|(symbol, _)| !symbol.contains('.')) {
        values.insert(format!("{prefix}{symbol}"), value(bound));
    }
    for step in &worked.steps {
        match step {
            Step::Must { rule, verdict } => {
                limits.push(LimitRow::new(&worked.name, rule, verdict, String::new(), verdict.ok))
            }
            Step::Use(inner) => collect(inner, &format!("{prefix}{}.", inner.name), limits, values),
            _ => {}
        }
    }
}

fn pretty(json: &Json) -> String {
    let mut text = serde_json::to_string_pretty(json).unwrap_or_default();
    text.push('\n');
    text
}
