//! What a job is made of: its posts one by one, and the pieces to order.

use std::collections::BTreeMap;

use super::{Apart, GroupResult};
use crate::formula::Value;
use crate::job::{Entry, Fact, Facts, Job, Post, find_fact};
use crate::quantity::{number, number_fixed};

/// A table of texts under a title.
#[derive(Debug)]
pub struct Schedule {
    pub title: &'static str,
    pub header: Vec<&'static str>,
    pub rows: Vec<Vec<String>>,
}

/// Cubic inches in a cubic foot and in a cubic yard.
const FOOT: f64 = 1728.0;
const YARD: f64 = 46656.0;

pub fn schedules(job: &Job, apart: &Apart) -> Vec<Schedule> {
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
    let pieces =
        Schedule { title: "Pieces to order", header: vec!["Piece", "Kind", "Number"], rows: pieces(job, apart) };
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

fn pieces(job: &Job, apart: &Apart) -> Vec<Vec<String>> {
    let mut counts: BTreeMap<(usize, &'static str, String), f64> = BTreeMap::new();
    let mut add = |order: usize, piece: &'static str, kind: String, many: f64| {
        if many > 0.0 {
            *counts.entry((order, piece, kind)).or_default() += many;
        }
    };
    for post in &job.posts {
        let own = |name: &str| text(&post.facts, name);
        add(0, "post", format!("{}, {}, {} {}", size(post), own("height"), own("species"), own("grade")), 1.0);
        for (order, piece, name) in [(1, "base", "bases"), (5, "foundation", "foundations")] {
            if let Some(entry) = post.entries.get(name) {
                add(order, piece, entry.name.clone(), 1.0);
            }
        }
    }
    for group in &apart.shop {
        for post in group.posts.iter().map(|at| &job.posts[*at]) {
            let Some(base) = post.entries.get("bases") else { continue };
            let own = |name: &str| text(&base.facts, name);
            add(2, "pin", format!("{} by {}", own("pin_diameter"), own("pin_length")), value(group, "pins"));
            add(
                3,
                "screw in side plates",
                format!("{} by {}", own("screw_d"), own("screw_length")),
                value(group, "screws"),
            );
            add(3, "fastener of a rated base", format!("schedule of `{}`", base.name), value(group, "fasteners_in"));
        }
    }
    let (mut concrete, mut grout) = (0.0, 0.0);
    for group in &apart.field {
        let posts = group.posts.len() as f64;
        concrete += posts * value(group, "concrete");
        grout += posts * value(group, "grout");
        for post in group.posts.iter().map(|at| &job.posts[*at]) {
            if let Some(anchor) = post.entries.get("anchors") {
                add(4, "anchor", anchor.name.clone(), value(group, "anchors"));
            }
            if let Some(base) = post.entries.get("bases") {
                let own = |name: &str| text(&base.facts, name);
                let kind = format!("{} by {}", own("floor_screw_d"), own("floor_screw_length"));
                add(4, "screw into the floor", kind, value(group, "screws"));
            }
        }
    }
    let mut rows: Vec<Vec<String>> =
        counts.into_iter().map(|((_, piece, kind), many)| vec![piece.into(), kind, number(many, 6)]).collect();
    if concrete > 0.0 {
        let volume = format!("{} ft³, {} yd³", number_fixed(concrete / FOOT, 1), number_fixed(concrete / YARD, 2));
        rows.push(vec!["concrete".into(), "without waste".into(), volume]);
    }
    if grout > 0.0 {
        rows.push(vec!["grout".into(), "without waste".into(), format!("{} ft³", number_fixed(grout / FOOT, 2))]);
    }
    rows
}

/// A number that the sheet of a group came to; nothing if it has none.
fn value(group: &GroupResult, name: &str) -> f64 {
    match group.runs[0].worked.bound.get(name).map(|bound| &bound.value) {
        Some(Value::Quantity(quantity)) => quantity.value,
        _ => 0.0,
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
