//! What a job is made of: its posts one by one, and the pieces to order.

use std::collections::BTreeMap;

use super::{GroupResult, Made};
use crate::formula::{Kind as Kinds, Value};
use crate::job::{CATALOGUES, Entry, Fact, Facts, Job, Post};
use crate::quantity::{Dim, Quantity, number, number_fixed};
use crate::sheet::{Bound, Step};

/// A table of texts under a title.
#[derive(Debug)]
pub struct Schedule {
    pub title: &'static str,
    pub header: Vec<&'static str>,
    pub rows: Vec<Vec<String>>,
}

pub fn schedules(job: &Job, made: &[(&GroupResult, Made)]) -> Vec<Schedule> {
    let entry = |post: &Post, name: &str| post.entries.get(name).map_or(String::new(), |entry| entry.name.clone());
    let of_group = made.iter().flat_map(|(group, worked)| {
        let described = described(worked);
        group.posts.iter().map(move |post| (*post, described.clone()))
    });
    let described: BTreeMap<usize, String> = of_group.collect();
    let posts = job.posts.iter().enumerate().map(|(at, post)| {
        let own = [post.mark.clone(), described.get(&at).cloned().unwrap_or_default()];
        own.into_iter().chain(CATALOGUES.iter().map(|catalogue| entry(post, catalogue.name))).collect()
    });
    let posts = Schedule {
        title: "Posts",
        header: vec!["Mark", "Post", "Base", "Foundation", "Anchors"],
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

/// Cubic inches in a cubic foot and in a cubic yard, by which concrete is ordered.
const FOOT: f64 = 1728.0;
const YARD: f64 = 46656.0;

/// A post in words: the first piece that its sheets ask for is the post itself.
pub fn described(worked: &Made) -> String {
    let mut found = Vec::new();
    pieces_of(&worked.steps, 1.0, &mut found);
    found.into_iter().next().map_or(String::new(), |piece| piece.kind)
}

/// One kind of piece: what it is, of which kind, how much of it.
struct Kind {
    name: String,
    kind: String,
    amount: Quantity,
}

/// The pieces that the sheets of all posts ask for, in the order of the sheets.
fn pieces(made: &[(&GroupResult, Made)]) -> Vec<Vec<String>> {
    let mut found: Vec<Kind> = Vec::new();
    for (group, worked) in made {
        pieces_of(&worked.steps, group.posts.len() as f64, &mut found);
    }
    let mut names: Vec<String> = Vec::new();
    for piece in &found {
        if !names.contains(&piece.name) {
            names.push(piece.name.clone());
        }
    }
    found.sort_by_key(|piece| names.iter().position(|name| *name == piece.name));
    let row = |piece: Kind| {
        let value = piece.amount.value;
        let amount = match piece.amount.dim == Dim::of(3, 0) {
            true => format!("{} ft³, {} yd³", number_fixed(value / FOOT, 1), number_fixed(value / YARD, 2)),
            false => number(value, 6),
        };
        vec![piece.name, piece.kind, amount]
    };
    found.into_iter().map(row).collect()
}

fn pieces_of(steps: &[Step], posts: f64, found: &mut Vec<Kind>) {
    for step in steps {
        match step {
            Step::Use(inner) => pieces_of(&inner.steps, posts, found),
            Step::Page { steps, .. } => pieces_of(steps, posts, found),
            Step::Piece { rule, amount, values } => {
                let Value::Quantity(one) = amount.value else { continue };
                let (name, kind) = (rule.name.clone(), kind_of(values));
                let amount = Quantity::new(posts * one.value, one.dim);
                if one.value <= 0.0 {
                    continue;
                }
                match found.iter_mut().find(|known| known.name == name && known.kind == kind) {
                    Some(known) => known.amount.value += amount.value,
                    None => found.push(Kind { name, kind, amount }),
                }
            }
            _ => {}
        }
    }
}

/// `7 1/2 in by 9 ft, Douglas Fir-Larch No.1`: sizes by one another, then names.
fn kind_of(values: &[Bound]) -> String {
    let mut text = String::new();
    let mut size_before = false;
    for bound in values {
        let shown = as_typed(bound);
        let size = matches!(bound.value, Value::Quantity(_));
        if !text.is_empty() && !shown.is_empty() {
            text.push_str(match (size_before, size) {
                (true, true) => " by ",
                (false, false) => " ",
                _ => ", ",
            });
        }
        text.push_str(&shown);
        size_before = size;
    }
    text
}

/// A value as the files have it: fractions stay fractions.
fn as_typed(bound: &Bound) -> String {
    let quantity = match &bound.value {
        Value::Quantity(quantity) => quantity,
        Value::Text(name) => return name.clone(),
        Value::Date(date) => return date.to_string(),
    };
    let typed = bound.place.as_ref().map(|place| place.source.text[place.span.clone()].trim_matches('"').to_string());
    let number = typed.unwrap_or_else(|| number(quantity.in_unit(&bound.unit), 6));
    if number.ends_with(|c: char| c.is_ascii_digit()) {
        format!("{number} {}", bound.unit.pretty()).trim().to_string()
    } else {
        number
    }
}

/// Inches in a foot.
const INCHES: f64 = 12.0;

/// The sides of a post along x and y, in feet; six inches where it does not say.
pub fn sides(post: &Post) -> [f64; 2] {
    let side = |name: &str| match post.facts.get(name)?.read(&Kinds::Quantity(Dim::LENGTH)).ok()?.0 {
        Value::Quantity(side) => Some(side.value / INCHES),
        _ => None,
    };
    ["width", "depth"].map(|name| side(name).unwrap_or(0.5))
}

/// The roof that a post carries, from the sheet that worked it out, in feet:
/// from and to along x, from and to along y.
pub fn roof_area(worked: &Made) -> Option<[f64; 4]> {
    let edge = |name: &str| match worked.bound.get(&format!("area.{name}"))?.value {
        Value::Quantity(edge) => Some(edge.value / INCHES),
        _ => None,
    };
    Some([edge("x_1")?, edge("x_2")?, edge("y_1")?, edge("y_2")?])
}
