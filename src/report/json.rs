//! The JSON that tests and other programs read. Its shape is stable.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::{Map, Value as Json, json};

use crate::engine::{GroupResult, Results, Root, Shown};
use crate::formula::Value;
use crate::quantity::Unit;
use crate::sheet::{Must, Step, Verdict, Worked};
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

fn value(value: &Value, unit: &Unit) -> Json {
    match value {
        Value::Quantity(quantity) => json!({ "value": quantity.in_unit(unit), "unit": unit.name() }),
        other => json!({ "value": value_text(other), "unit": "" }),
    }
}

fn program() -> &'static str {
    env!("CARGO_PKG_VERSION")
}

/// A whole job. The values of posts that are alike are worked out once.
pub fn check_json(root: &Root, results: &Results, digest: &str) -> String {
    let job = root.job;
    let of_groups: Vec<(Vec<LimitRow>, Vec<FitRow>, Map<String, Json>)> = results
        .groups
        .iter()
        .map(|group| (limits(results, group), fits(group), values(root, results, group)))
        .collect();
    let posts: Vec<Json> = job
        .posts
        .iter()
        .enumerate()
        .map(|(at, post)| {
            let group = &results.groups[results.group_of[at]];
            let (limits, fits, values) = &of_groups[results.group_of[at]];
            json!({
                "mark": post.mark,
                "group": group.no,
                "ok": group.ok(),
                "limits": limits,
                "fits": fits,
                "values": values,
            })
        })
        .collect();
    let whole =
        json!({ "socle": program(), "job": job.card.name, "digest": digest, "ok": results.ok(), "posts": posts });
    pretty(&whole)
}

/// What has to go together.
#[derive(Serialize)]
struct FitRow {
    sheet: String,
    fit: String,
    cite: String,
    ok: bool,
}

impl FitRow {
    fn new(sheet: &str, rule: &Must, ok: bool) -> FitRow {
        FitRow { sheet: sheet.into(), fit: rule.say.clone(), cite: rule.cite.clone().unwrap_or_default(), ok }
    }
}

fn limits(results: &Results, group: &GroupResult) -> Vec<LimitRow> {
    let rows = group.limits.iter().filter(|limit| !limit.is_fit()).map(|limit| {
        let combination = if limit.varies() { results.combinations[limit.run()].name.clone() } else { String::new() };
        LimitRow::new(limit.sheet(), limit.rule(), &limit.verdict(), combination, limit.ok())
    });
    rows.collect()
}

fn fits(group: &GroupResult) -> Vec<FitRow> {
    let fits = group.limits.iter().filter(|limit| limit.is_fit());
    fits.map(|limit| FitRow::new(limit.sheet(), limit.rule(), limit.ok())).collect()
}

/// Every bound symbol of every sheet used, for the combination that governs
/// that sheet's highest ratio.
fn values(root: &Root, results: &Results, group: &GroupResult) -> Map<String, Json> {
    let shown = Shown::new(root, &results.combinations, group);
    shown.values().into_iter().map(|(name, found, unit)| (name, value(&found, &unit))).collect()
}

/// One sheet.
pub fn work_json(worked: &Worked) -> String {
    let mut found = Alone::default();
    found.collect(worked, "");
    let Alone { limits, fits, values } = found;
    let ok = limits.iter().all(|limit| limit.ok) && fits.iter().all(|fit| fit.ok);
    let sheet = &worked.sheet.name;
    pretty(&json!({ "socle": program(), "sheet": sheet, "ok": ok, "limits": limits, "fits": fits, "values": values }))
}

#[derive(Default)]
struct Alone {
    limits: Vec<LimitRow>,
    fits: Vec<FitRow>,
    values: BTreeMap<String, Json>,
}

impl Alone {
    fn collect(&mut self, worked: &Worked, prefix: &str) {
        for (symbol, bound) in worked.bound.iter().filter(|(symbol, _)| !symbol.contains('.')) {
            self.values.insert(format!("{prefix}{symbol}"), value(&bound.value, &bound.unit));
        }
        for step in &worked.steps {
            match step {
                Step::Must { rule, verdict } if rule.fit => {
                    self.fits.push(FitRow::new(&worked.name, rule, verdict.ok));
                }
                Step::Must { rule, verdict } => {
                    self.limits.push(LimitRow::new(&worked.name, rule, verdict, String::new(), verdict.ok))
                }
                Step::Use(inner) => self.collect(inner, &format!("{prefix}{}.", inner.name)),
                _ => {}
            }
        }
    }
}

fn pretty(json: &Json) -> String {
    let mut text = serde_json::to_string_pretty(json).unwrap_or_default();
    text.push('\n');
    text
}
