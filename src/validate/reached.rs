//! What a worked sheet came to, by the name that a check value has for it.

use std::collections::BTreeMap;

use crate::formula::Value;
use crate::quantity::{measured, number};
use crate::sheet::{Bound, PageKind, Step, Worked};

/// Digits of a size that is ordered.
const DIGITS: usize = 6;

/// The value of `Z`, of `pin-yield.Z` in a sheet that is used, of `shop.hole` on a page or of `post-end.slot` in a figure; and
/// the sheet where that stands, with its name there.
pub(super) fn reached<'a>(worked: &'a Worked, name: &str) -> Option<(&'a Value, (String, String))> {
    let path: Vec<&str> = name.split('.').collect();
    within(&worked.sheet.name, &worked.bound, &worked.steps, &path)
}

fn within<'a>(
    sheet: &str,
    bound: &'a BTreeMap<String, Bound>,
    steps: &'a [Step],
    path: &[&str],
) -> Option<(&'a Value, (String, String))> {
    let stands = |name: &str| (sheet.to_string(), name.to_string());
    match path {
        [] => None,
        [name] => Some((&bound.get(*name)?.value, stands(name))),
        [first, rest @ ..] => steps.iter().find_map(|step| match step {
            Step::Use(inner) if inner.name == *first => within(&inner.sheet.name, &inner.bound, &inner.steps, rest),
            Step::Page { kind, steps, bound } if page(*kind) == *first => within(sheet, bound, steps, rest),
            Step::Figure { name, values, .. } if name == first => {
                let [wanted] = rest else { return None };
                let (_, value) = values.iter().find(|(name, _)| name == wanted)?;
                Some((value, stands(wanted)))
            }
            _ => None,
        }),
    }
}

fn page(kind: PageKind) -> &'static str {
    match kind {
        PageKind::Shop => "shop",
        PageKind::Field => "field",
    }
}

/// All that is ordered under some words, `2 of 0.75 in, 12 in, painted`; or `none`.
pub(super) fn pieces(steps: &[Step], words: &str) -> String {
    let mut found = Vec::new();
    ordered(steps, words, &mut found);
    if found.is_empty() { "none".into() } else { found.join("; ") }
}

fn ordered(steps: &[Step], words: &str, found: &mut Vec<String>) {
    for step in steps {
        match step {
            Step::Use(inner) => ordered(&inner.steps, words, found),
            Step::Page { steps, .. } => ordered(steps, words, found),
            Step::Piece { rule, amount, values } if rule.name == words => {
                let values: Vec<String> = values.iter().map(text).collect();
                found.push(format!("{} of {}", text(amount), values.join(", ")));
            }
            _ => {}
        }
    }
}

fn text(bound: &Bound) -> String {
    match &bound.value {
        Value::Quantity(quantity) => measured(&number(quantity.in_unit(&bound.unit), DIGITS), bound.unit.name()),
        Value::Text(name) => name.clone(),
        Value::Date(date) => date.to_string(),
    }
}
