//! Shop and field sheets: drawings, measures as a tape shows them, and words.
//! What is worked out to get there stands in the worked pages.

use std::collections::{BTreeMap, BTreeSet};

use super::build::chosen;
use super::figure;
use super::ledger::Ledger;
use super::lines::{join, prose, said};
use super::model::{HoldPart, PlainSheet, PlainValue, Printed, Span};
use super::worked::some_marks;
use crate::engine::{GroupResult, Made};
use crate::formula::Value;
use crate::job::Job;
use crate::quantity::{Dim, Units};
use crate::sheet::{Bound, PageKind, Step, Worked};
use crate::typeset::printed;

/// The sheets for the shop or the site: posts whose sheets say the same share
/// one, but one on hold never with one that is not.
pub fn sheets(job: &Job, made: &[(&GroupResult, Made)], kind: PageKind, ledger: &Ledger) -> Vec<PlainSheet> {
    let mut found: Vec<(PlainSheet, String, Vec<&GroupResult>)> = Vec::new();
    for (group, worked) in made {
        let sheet = plain(job.units, worked, kind, chosen(&job.posts[group.posts[0]]));
        if sheet.values.is_empty() && sheet.words.is_empty() && sheet.figures.is_empty() {
            continue;
        }
        let text = format!("{} {sheet:?}", group.ok());
        match found.iter_mut().find(|(_, known, _)| *known == text) {
            Some((.., groups)) => groups.push(group),
            None => found.push((sheet, text, vec![group])),
        }
    }
    let name = if kind == PageKind::Shop { "Shop" } else { "Field" };
    let titled = found.into_iter().map(|(sheet, _, groups)| {
        let mut posts: Vec<usize> = groups.iter().flat_map(|group| group.posts.iter().copied()).collect();
        posts.sort();
        let marks: Vec<String> = posts.iter().map(|post| job.posts[*post].mark.clone()).collect();
        PlainSheet { title: title(name, &marks), hold: hold(job, &groups, ledger), ..sheet }
    });
    titled.collect()
}

/// `Shop sheet for posts A1, A3`.
fn title(name: &str, marks: &[String]) -> String {
    let posts = if marks.len() == 1 { "post" } else { "posts" };
    format!("{name} sheet for {posts} {}", some_marks(marks, 6))
}

/// What is not met of some groups: a limit that several fail, or that a sheet
/// which is used twice says twice, is said once.
fn hold(job: &Job, groups: &[&GroupResult], ledger: &Ledger) -> Vec<HoldPart> {
    let mut parts: Vec<(&str, String, BTreeSet<usize>)> = Vec::new();
    for group in groups {
        for limit in group.limits.iter().filter(|limit| !limit.ok()) {
            let say = limit.rule().say.as_str();
            match parts.iter_mut().find(|(known, ..)| *known == say) {
                Some((.., posts)) => posts.extend(&group.posts),
                None => parts.push((say, ledger.line_of(group.no, limit), group.posts.iter().copied().collect())),
            }
        }
    }
    let part = |(limit, line, posts): (&str, String, BTreeSet<usize>)| {
        let marks: Vec<String> = posts.iter().map(|post| job.posts[*post].mark.clone()).collect();
        HoldPart { marks: some_marks(&marks, 6), limit: limit.into(), line }
    };
    parts.into_iter().map(part).collect()
}

/// What the sheets of a post say on the page of a kind.
fn plain(units: Units, worked: &Worked, kind: PageKind, facts: Vec<(String, String)>) -> PlainSheet {
    let (values, words, own) = (Vec::new(), Vec::new(), Vec::new());
    let mut sheet =
        PlainSheet { title: String::new(), hold: Vec::new(), own, facts, figures: Vec::new(), values, words };
    pages(units, worked, kind, &mut sheet);
    sheet
}

fn pages(units: Units, worked: &Worked, wanted: PageKind, sheet: &mut PlainSheet) {
    for step in &worked.steps {
        match step {
            Step::Page { kind, steps, bound } if *kind == wanted => {
                if worked.sheet.own && !sheet.own.contains(&worked.sheet.title) {
                    sheet.own.push(worked.sheet.title.clone());
                }
                collect(units, steps, bound, sheet);
            }
            Step::Use(inner) => pages(units, inner, wanted, sheet),
            _ => {}
        }
    }
}

fn collect(units: Units, steps: &[Step], bound: &BTreeMap<String, Bound>, sheet: &mut PlainSheet) {
    let value =
        |name: &str, say: &str| bound.get(name).map(|bound| PlainValue { say: said(say), value: tape(units, bound) });
    for step in steps {
        match step {
            Step::Let { rule, .. } | Step::Rename(rule) => sheet.values.extend(value(&rule.name, &rule.say)),
            Step::Take { rule, .. } => {
                sheet.values.extend(rule.names.iter().filter_map(|(name, ..)| value(name, &rule.say)))
            }
            Step::Figure { name, say, values } => {
                sheet.figures.extend(figure::draw(name, values, units).map(|drawing| (said(say), drawing)));
            }
            Step::Heading(text) => sheet.words.push(vec![Span::Markup(format!("*{text}*"))]),
            Step::Prose(text) => sheet.words.push(prose(text)),
            Step::Note(note) => sheet.words.push(prose(&note.text)),
            Step::Use(_)
            | Step::Must { .. }
            | Step::Decide { .. }
            | Step::Skipped(_)
            | Step::Page { .. }
            | Step::Piece { .. } => {}
        }
    }
}

/// A length to the sixteenth, what is bored to the thirty-second, with the exact one where that is another.
fn tape(units: Units, bound: &Bound) -> Printed {
    match &bound.value {
        Value::Quantity(quantity) if quantity.dim == Dim::LENGTH => {
            let number = match (units.length(quantity.value), units.size(quantity.value)) {
                (_, size) if size.contains('/') => size,
                (about, _) if about.ends_with('±') => format!("{about} ({})", join(&printed(bound))),
                (on_a_tape, _) => on_a_tape,
            };
            Printed { number, unit: String::new() }
        }
        _ => printed(bound),
    }
}
