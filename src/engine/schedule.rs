//! What a job is made of: its posts one by one, and the pieces to order.

use super::{GroupResult, Made};
use crate::formula::Value;
use crate::job::{Entry, Fact, Facts, Job, Post, find_fact};
use crate::quantity::{number, number_fixed};
use crate::sheet::{Bound, Step};
use crate::typeset::value_text;

/// A table of texts under a title.
#[derive(Debug)]
pub struct Schedule {
    pub title: &'static str,
    pub header: Vec<&'static str>,
    pub rows: Vec<Vec<String>>,
}

pub fn schedules(job: &Job, made: &[(&GroupResult, Made)]) -> Vec<Schedule> {
    let entry = |post: &Post, name: &str| post.entries.get(name).map_or(String::new(), |entry| entry.name.clone());
    let posts = job.posts.iter().map(|post| {
        let own = |name: &str| text(&post.facts, name);
        vec![
            post.mark.clone(),
            size(post),
            own("height"),
            format!("{} {}", own("species"), own("grade")).trim().to_string(),
            entry(post, "bases"),
            entry(post, "foundations"),
            entry(post, "anchors"),
        ]
    });
    let posts = Schedule {
        title: "Posts",
        header: vec!["Mark", "Size", "Height", "Wood", "Base", "Foundation", "Anchors"],
        rows: posts.collect(),
    };
    let pieces = Schedule { title: "Pieces to order", header: vec!["Piece", "Kind", "Number"], rows: pieces(made) };
    let mut all = vec![posts];
    for (title, name) in [("Bases", "bases"), ("Piers, footings and floors", "foundations"), ("Anchors", "anchors")] {
        let rows = hardware(job, name);
        if !rows.is_empty() {
            all.push(Schedule { title, header: vec!["Name", "Posts", "Number", "As the catalogue gives it"], rows });
        }
    }
    all.push(pieces);
    all
}

/// The entries of a catalogue that the posts use, in the order of the posts.
fn hardware(job: &Job, catalogue: &str) -> Vec<Vec<String>> {
    let mut used: Vec<(&Entry, Vec<&str>)> = Vec::new();
    for post in &job.posts {
        let Some(entry) = post.entries.get(catalogue) else { continue };
        match used.iter_mut().find(|(known, _)| known.name == entry.name) {
            Some((_, marks)) => marks.push(&post.mark),
            None => used.push((entry, vec![&post.mark])),
        }
    }
    let row = |(entry, marks): (&Entry, Vec<&str>)| {
        vec![entry.name.clone(), marks.join(", "), marks.len().to_string(), as_given(&entry.facts)]
    };
    used.into_iter().map(row).collect()
}

/// `standoff 2 in, finish hot-dip galvanized, …`, in the order of the columns.
fn as_given(facts: &Facts) -> String {
    let mut facts: Vec<(&String, &Fact)> = facts
        .iter()
        .filter(|(name, fact)| !matches!(name.as_str(), "name" | "source") && !fact.text.is_empty())
        .collect();
    facts.sort_by_key(|(_, fact)| fact.place.span.start);
    let said = facts.into_iter().map(|(name, fact)| format!("{} {}", name, fact.as_typed()));
    said.collect::<Vec<_>>().join(", ")
}

/// The pieces that the sheets of all posts ask for, in the order of the sheets.
fn pieces(made: &[(&GroupResult, Made)]) -> Vec<Vec<String>> {
    let mut found: Vec<(String, String, Bound)> = Vec::new();
    for (group, worked) in made {
        pieces_of(worked, group.posts.len() as f64, &mut found);
    }
    let row = |(name, kind, amount): (String, String, Bound)| {
        let Value::Quantity(quantity) = &amount.value else { return vec![name, kind, String::new()] };
        let many = quantity.in_unit(&amount.unit);
        let many = match amount.unit.name() {
            "" => number(many, 6),
            _ => format!("{} {}", number_fixed(many, 2), amount.unit.pretty()),
        };
        vec![name, kind, many]
    };
    found.into_iter().map(row).collect()
}

fn pieces_of(worked: &Made, posts: f64, found: &mut Vec<(String, String, Bound)>) {
    for step in &worked.steps {
        match step {
            Step::Use(inner) => pieces_of(inner, posts, found),
            Step::Page { steps, .. } => steps.iter().for_each(|step| piece(step, posts, found)),
            step => piece(step, posts, found),
        }
    }
}

fn piece(step: &Step, posts: f64, found: &mut Vec<(String, String, Bound)>) {
    let Step::Piece { rule, amount, values } = step else { return };
    let Value::Quantity(quantity) = &amount.value else { return };
    if quantity.value <= 0.0 {
        return;
    }
    let kind = values.iter().map(as_typed).filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" by ");
    let known =
        found.iter_mut().find(|(name, known, other)| *name == rule.name && *known == kind && other.unit == amount.unit);
    let many = crate::quantity::Quantity { value: posts * quantity.value, ..*quantity };
    match known {
        Some((.., Bound { value: Value::Quantity(sum), .. })) => sum.value += many.value,
        _ => found.push((rule.name.clone(), kind, Bound { value: Value::Quantity(many), ..amount.clone() })),
    }
}

/// A value as the files have it: fractions stay fractions.
fn as_typed(bound: &Bound) -> String {
    let typed = bound.place.as_ref().map(|place| place.source.text[place.span.clone()].trim_matches('"').to_string());
    match &bound.value {
        Value::Quantity(quantity) => match typed.filter(|text| text.ends_with(|c: char| c.is_ascii_alphabetic())) {
            Some(text) => text,
            None => {
                let digits = bound
                    .place
                    .as_ref()
                    .map(|place| place.source.text[place.span.clone()].trim_matches('"').to_string());
                let number = digits.unwrap_or_else(|| number(quantity.in_unit(&bound.unit), 6));
                format!("{number} {}", bound.unit.pretty()).trim().to_string()
            }
        },
        value => value_text(value),
    }
}

fn text(facts: &Facts, name: &str) -> String {
    find_fact(facts, name).map_or(String::new(), Fact::as_typed)
}

/// The size of a post as it was typed.
pub fn size(post: &Post) -> String {
    let side = |name: &str| find_fact(&post.facts, name).map(Fact::as_typed);
    if let Some(nominal) = side("nominal") {
        return format!("{nominal} nominal");
    }
    match (side("width"), side("depth")) {
        (Some(width), Some(depth)) if width == depth => format!("{width} square"),
        (Some(width), Some(depth)) => format!("{width} × {depth}"),
        (width, depth) => width.or(depth).unwrap_or_default(),
    }
}
