//! Two states of a job side by side: for a terminal, and as JSON.

use serde_json::{Value as Json, json};

use super::json::pretty;
use super::paper::{Paper, met};
use crate::diag::count;
use crate::job::some_marks;
use crate::revision::{Comparison, InputChange, LimitChange, Outcome, OwnChange};

/// Runs of marks that a line has room for.
const MARKS: usize = 6;

/// Nothing changed that is put in, and nothing that comes out beyond the threshold.
pub fn is_nothing(found: &Comparison, moved: f64) -> bool {
    let limits = found.limits.iter().any(|change| change.is_turned() || change.is_moved(moved));
    let put_in = !found.inputs.is_empty() || !found.own.is_empty() || !found.built_in.is_empty();
    let posts = !found.added.is_empty() || !found.removed.is_empty();
    !(limits || put_in || posts || found.program.is_some() || !found.entered.is_empty() || found.from != found.to)
}

/// Limits whose verdict changed, then those that moved.
fn parts(found: &Comparison, moved: f64) -> [Vec<&LimitChange>; 2] {
    let (turned, other): (Vec<&LimitChange>, Vec<&LimitChange>) =
        found.limits.iter().partition(|change| change.is_turned());
    let mut moved: Vec<&LimitChange> = other.into_iter().filter(|change| change.is_moved(moved)).collect();
    let by = |change: &LimitChange| (ratio(&change.new) - ratio(&change.old)).abs();
    moved.sort_by(|a, b| by(b).total_cmp(&by(a)));
    [turned, moved]
}

fn ratio(outcome: &Option<Outcome>) -> f64 {
    outcome.as_ref().and_then(|outcome| outcome.ratio).unwrap_or(f64::NAN)
}

pub fn comparison(found: &Comparison, moved: f64, paper: Paper) -> String {
    let named = |[revision, date]: &[String; 2]| match revision.is_empty() {
        true => format!("the issue of {date}"),
        false => format!("revision {revision} of {date}"),
    };
    let mut out = String::new();
    let mut list = |title: &str, head: &[&str], rows: Vec<Vec<String>>, right: &[usize]| {
        if !rows.is_empty() {
            out.push_str(&format!("\n{title}\n{}", paper.table(2, head, rows, right)));
        }
    };
    let program = found.program.iter().map(|[old, new]| vec![format!("{new}, was {old}")]);
    list("Program", &[""], program.collect(), &[]);
    let entered = found.entered.iter().map(|it| vec![it.no.clone(), it.date.clone(), it.what.clone()]);
    list("Revisions entered", &["", "", ""], entered.collect(), &[]);
    let posts = [("added", &found.added), ("removed", &found.removed)].into_iter().filter(|(_, it)| !it.is_empty());
    let posts = posts.map(|(how, marks)| vec![how.to_string(), some_marks(marks, usize::MAX)]);
    list("Posts", &["", ""], posts.collect(), &[]);
    list("Inputs", &["file", "row", "column", "was", "is"], found.inputs.iter().map(input).collect(), &[]);
    list("The job's own sheets and tables", &["", ""], found.own.iter().map(file).collect(), &[]);
    list("Sheets and tables of the program", &["", ""], found.built_in.iter().map(file).collect(), &[]);
    let [turned, others] = parts(found, moved);
    let head = ["posts", "limit", "was", "is", ""];
    list("Verdicts", &head, turned.into_iter().map(limit).collect(), &[2, 3]);
    list(&format!("Ratios that moved by more than {moved}"), &head, others.into_iter().map(limit).collect(), &[2, 3]);
    if is_nothing(found, moved) {
        let less = found.limits.iter().filter(|change| !change.is_turned()).count();
        let less = match less {
            0 => "Nothing changed".into(),
            less => format!("Nothing changed; {} moved by {moved} or less", count(less, "ratio")),
        };
        return paper.paragraph(&format!("{less} from {} to {}.", named(&found.from), named(&found.to)));
    }
    paper.paragraph(&format!("From {} to {}:", named(&found.from), named(&found.to))) + &out
}

fn input(change: &InputChange) -> Vec<String> {
    let cell = |value: &Option<String>| value.clone().unwrap_or_else(|| "–".into());
    let column = change.column.clone().unwrap_or_else(|| "whole row".into());
    vec![change.file.clone(), change.row.clone(), column, cell(&change.old), cell(&change.new)]
}

fn file(change: &OwnChange) -> Vec<String> {
    vec![change.file.clone(), change.how.said()]
}

fn limit(change: &LimitChange) -> Vec<String> {
    let printed = |outcome: &Option<Outcome>| outcome.as_ref().map_or("not checked".into(), Outcome::printed);
    let either = change.new.as_ref().or(change.old.as_ref());
    let words = format!("{} ({})", change.limit, either.map_or(String::new(), |it| it.sheet.to_lowercase()));
    let verdict = match (&change.old, &change.new) {
        (Some(old), Some(new)) if old.ok != new.ok => format!("{}, was {}", met(new.ok), met(old.ok)),
        (_, Some(new)) => met(new.ok),
        (_, None) => String::new(),
    };
    vec![some_marks(&change.posts, MARKS), words, printed(&change.old), printed(&change.new), verdict]
}

pub fn comparison_json(found: &Comparison, moved: f64) -> String {
    let state = |[revision, date]: &[String; 2]| json!({ "revision": revision, "date": date });
    let outcome = |outcome: &Option<Outcome>| match outcome {
        None => Json::Null,
        Some(it) => json!({ "ratio": it.ratio, "ok": it.ok, "combination": it.combination }),
    };
    let limits = |changes: Vec<&LimitChange>| -> Vec<Json> {
        let row = |it: &LimitChange| json!({ "posts": it.posts, "of": it.path, "limit": it.limit, "old": outcome(&it.old), "new": outcome(&it.new) });
        changes.into_iter().map(row).collect()
    };
    let input =
        |it: &InputChange| json!({ "file": it.file, "row": it.row, "column": it.column, "old": it.old, "new": it.new });
    let files = |changes: &[OwnChange]| -> Vec<Json> {
        changes.iter().map(|it| json!({ "file": it.file, "how": it.how.said() })).collect()
    };
    let [turned, others] = parts(found, moved);
    let entered = found.entered.iter().map(|it| json!({ "no": it.no, "date": it.date, "what": it.what }));
    pretty(&json!({
        "changed": !is_nothing(found, moved),
        "old": state(&found.from),
        "new": state(&found.to),
        "program": found.program,
        "entered": entered.collect::<Vec<_>>(),
        "posts": { "added": found.added, "removed": found.removed },
        "inputs": found.inputs.iter().map(input).collect::<Vec<_>>(),
        "own": files(&found.own),
        "sheets": files(&found.built_in),
        "verdicts": limits(turned),
        "moved": limits(others),
    }))
}
