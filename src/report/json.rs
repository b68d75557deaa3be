//! The JSON that tests and other programs read. Its shape is stable.

use std::collections::BTreeMap;

use rayon::prelude::*;
use serde::Serialize;
use serde_json::{Map, Value as Json, json};

use crate::diag::Diagnostic;
use crate::engine::{self, Elasticity, GroupResult, Handed, Limit, Results, Root, Shown, Step as Beside};
use crate::formula::Value;
use crate::job::Job;
use crate::quantity::Unit;
use crate::sheet::{Must, Step, Verdict, Worked};
use crate::source::Place;
use crate::typeset::value_text;
use crate::verdict::{Asks, NOT_WORKED, Question, Verdict as Stand};

/// A limit in the unit of its capacity.
#[derive(Serialize)]
pub(super) struct LimitRow {
    pub sheet: String,
    pub limit: String,
    pub cite: String,
    /// Both null for a limit that is no ratio.
    pub demand: Option<f64>,
    pub capacity: Option<f64>,
    pub unit: String,
    pub ratio: Option<f64>,
    pub combination: String,
    pub ok: bool,
    /// Of a job alone: a sheet that is worked by itself is worked with values of any origin.
    #[serde(flatten)]
    pub reach: Option<Reach>,
}

/// Between what a ratio lies while typed values are off by what they may be.
#[derive(Serialize)]
pub(super) struct Reach {
    /// Null for a limit that is no ratio.
    pub interval: Option<[f64; 2]>,
    pub close: bool,
}

impl LimitRow {
    pub fn low(&self) -> Option<f64> {
        Some(self.reach.as_ref()?.interval?[0])
    }

    pub fn high(&self) -> Option<f64> {
        Some(self.reach.as_ref()?.interval?[1])
    }

    pub fn close(&self) -> &'static str {
        if self.reach.as_ref().is_some_and(|reach| reach.close) { "yes" } else { "no" }
    }

    pub fn of(results: &Results, limit: &Limit) -> LimitRow {
        let combination = if limit.varies() { results.combinations[limit.run()].name.clone() } else { String::new() };
        let row = LimitRow::new(limit.sheet(), limit.rule(), &limit.verdict(), combination, limit.ok());
        let interval = limit.interval().map(|interval| [interval.low, interval.high]);
        LimitRow { reach: Some(Reach { interval, close: limit.close() }), ..row }
    }

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
            reach: None,
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

/// Groups that are worked at once.
const AT_ONCE: usize = 64;

/// A whole job, a post at a time. The values of posts that are alike are worked
/// out once.
pub fn check_json<'a>(
    root: &'a Root,
    results: &'a Results,
    verdict: &Stand,
    digest: &str,
) -> impl Iterator<Item = String> + 'a {
    let job = root.job;
    let declared: Map<String, Json> = verdict.declared.iter().map(|(kind, why)| (kind.clone(), json!(why))).collect();
    let own: Map<String, Json> = verdict.own.iter().map(|(file, stands)| (file.clone(), json!(stands))).collect();
    let head = json!({
        "socle": program(),
        "job": job.card.name,
        "digest": digest,
        "ok": results.ok(),
        "verdict": verdict.form.name(),
        "headline": verdict.headline,
        "open": verdict.open().map(|question| open(job, question)).collect::<Vec<_>>(),
        "declared": declared,
        "own": own,
    });
    let head = pretty(&head).trim_end().trim_end_matches('}').trim_end().to_string() + ",\n  \"posts\": [\n";
    // The texts of groups that posts to come belong to.
    let mut waiting: BTreeMap<usize, String> = BTreeMap::new();
    let mut next = 0;
    let posts = job.posts.iter().enumerate().map(move |(at, post)| {
        let of = results.group_of[at];
        if of >= next {
            let end = results.groups.len().min(of + AT_ONCE);
            let texts: Vec<(usize, String)> =
                (next..end).into_par_iter().map(|of| (of, group_text(root, results, &results.groups[of]))).collect();
            waiting.extend(texts);
            next = end;
        }
        let last = results.groups[of].posts.last() == Some(&at);
        let text = if last { waiting.remove(&of) } else { waiting.get(&of).cloned() }.unwrap_or_default();
        let mark = serde_json::to_string(&post.mark).unwrap_or_default();
        let comma = if at + 1 == job.posts.len() { "" } else { "," };
        format!("    {{\n      \"mark\": {mark},\n{text}    }}{comma}\n")
    });
    std::iter::once(head).chain(posts).chain(std::iter::once("  ]\n}\n".to_string()))
}

fn open(job: &Job, question: &Question) -> Json {
    let posts: Vec<&str> = question.posts.iter().map(|post| job.posts[*post].mark.as_str()).collect();
    let mut json = match question.asks {
        Asks::Decision => json!({ "what": question.what, "value": question.value, "cite": question.about }),
        Asks::Confirmation => json!({
            "table": question.what,
            "row": question.row,
            "values": question.value,
            "source": question.about,
            "doubt": question.doubt,
        }),
        Asks::Assumption | Asks::Starter => json!({
            "key": question.what,
            "of": question.row,
            "value": question.value,
            "what": question.about,
        }),
    };
    json["asks"] = json!(question.asks.name());
    json["posts"] = json!(posts);
    if !question.why.is_empty() {
        json["why"] = json!(question.why);
    }
    json
}

/// A job that could not be worked, with the reasons.
pub fn not_worked_json(diagnostics: &[Diagnostic]) -> String {
    let reason = |diagnostic: &Diagnostic| {
        json!({
            "message": diagnostic.message,
            "place": diagnostic.place.as_ref().map(Place::describe),
            "hints": diagnostic.hints,
        })
    };
    let reasons: Vec<Json> = diagnostics.iter().map(reason).collect();
    pretty(&json!({ "socle": program(), "verdict": NOT_WORKED, "reasons": reasons }))
}

/// What all posts of a group share, as the inner lines of an object.
fn group_text(root: &Root, results: &Results, group: &GroupResult) -> String {
    let reacts = engine::reacts(root, &results.combinations, group);
    let loads = reacts.loads.as_ref().map(|reached| json!({ "factor": reached.factor, "limit": reached.limit }));
    let step = |step: &Beside| {
        let others = step.others.iter().map(|it| json!({ "value": it.value, "ratio": it.ratio.filter(|ratio| ratio.is_finite()), "ok": it.ok, "limit": it.limit }));
        json!({ "input": step.name, "of": step.whence, "typed": step.own, "others": others.collect::<Vec<_>>() })
    };
    let steps: Vec<Json> = reacts.steps.iter().map(step).collect();
    let input = |it: &Elasticity| json!({ "input": it.name, "of": it.whence, "typed": it.text, "percent": it.percent });
    let reacts: Vec<Json> = reacts.inputs.iter().map(input).collect();
    let whole = json!({
        "group": group.no,
        "ok": group.ok(),
        "limits": limits(results, group),
        "fits": fits(group),
        "handed": handed(results, group),
        "reacts": reacts,
        "steps": steps,
        "load_factor": loads,
        "values": values(root, results, group),
    });
    let text = pretty(&whole);
    let lines = text.lines().filter(|line| !matches!(*line, "{" | "}"));
    lines.map(|line| format!("    {line}\n")).collect()
}

/// The greatest of each force that is handed to others, at the level of each method.
fn handed(results: &Results, group: &GroupResult) -> Vec<Json> {
    let row = |handed: &Handed| {
        let value = value(&Value::Quantity(handed.value), &handed.unit);
        let level = if handed.method.is_asd() { "ASD" } else { "strength" };
        json!({ "what": handed.rule.what, "level": level, "value": value, "combination": results.combinations[handed.run].name })
    };
    group.handed.iter().map(row).collect()
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
    group.limits.iter().filter(|limit| !limit.is_fit()).map(|limit| LimitRow::of(results, limit)).collect()
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

/// JSON on lines that a person can read.
pub fn pretty(json: &Json) -> String {
    let mut text = serde_json::to_string_pretty(json).unwrap_or_default();
    text.push('\n');
    text
}
