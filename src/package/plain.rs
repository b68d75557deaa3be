//! Shop and field sheets: drawings, measures as a tape shows them, and words.
//! What is worked out to get there stands in the worked pages.

use std::collections::BTreeMap;

use super::figure;
use super::lines::{join, prose, said};
use super::model::{PlainSheet, PlainValue, Printed, Span};
use crate::drawing::length;
use crate::formula::Value;
use crate::quantity::Dim;
use crate::sheet::{Bound, PageKind, Step, Worked};
use crate::typeset::printed;

/// What the sheets of a post say on the page of a kind.
pub fn plain(worked: &Worked, kind: PageKind, title: String, facts: Vec<(String, String)>) -> PlainSheet {
    let mut sheet = PlainSheet { title, facts, figures: Vec::new(), values: Vec::new(), words: Vec::new() };
    pages(worked, kind, &mut sheet);
    sheet
}

fn pages(worked: &Worked, wanted: PageKind, sheet: &mut PlainSheet) {
    for step in &worked.steps {
        match step {
            Step::Page { kind, steps, bound } if *kind == wanted => collect(steps, bound, sheet),
            Step::Use(inner) => pages(inner, wanted, sheet),
            _ => {}
        }
    }
}

fn collect(steps: &[Step], bound: &BTreeMap<String, Bound>, sheet: &mut PlainSheet) {
    let value = |name: &str, say: &str| bound.get(name).map(|bound| PlainValue { say: said(say), value: tape(bound) });
    for step in steps {
        match step {
            Step::Let { rule, .. } | Step::Rename(rule) => sheet.values.extend(value(&rule.name, &rule.say)),
            Step::Take { rule, .. } => {
                sheet.values.extend(rule.names.iter().filter_map(|(name, ..)| value(name, &rule.say)))
            }
            Step::Figure { name, say, values } => {
                sheet.figures.extend(figure::draw(name, values).map(|drawing| (said(say), drawing)));
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

/// A length to the sixteenth, with the exact one where that is another.
fn tape(bound: &Bound) -> Printed {
    match &bound.value {
        Value::Quantity(quantity) if quantity.dim == Dim::LENGTH => {
            let shown = length(quantity.value);
            let exact = if shown.ends_with('±') { format!(" ({})", join(&printed(bound))) } else { String::new() };
            Printed { number: format!("{shown}{exact}"), unit: String::new() }
        }
        _ => printed(bound),
    }
}
