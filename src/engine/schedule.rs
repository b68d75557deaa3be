//! What a job is made of: its posts one by one, and the pieces to order.

use std::collections::{BTreeMap, BTreeSet};

use super::tributary::LEVEL;
use super::{GroupResult, Made};
use crate::formula::Value;
use crate::job::{CATALOGUES, Entry, Fact, Facts, Job, Post};
use crate::quantity::{Dim, Quantity, Units, number};
use crate::sheet::{Bound, Step};

/// A table of texts under a title.
#[derive(Debug)]
pub struct Schedule {
    pub title: &'static str,
    pub header: Vec<&'static str>,
    pub rows: Vec<Vec<String>>,
}

/// What nobody is to cut, order or set: something of its post is not met.
const HOLD: &str = "HOLD";

/// A row, and what stands in its column for holds.
type Held = (Vec<String>, String);

/// A job that has posts on hold has a column for it in each table.
pub fn schedules(job: &Job, made: &[(&GroupResult, Made)]) -> Vec<Schedule> {
    let held: BTreeSet<usize> =
        made.iter().filter(|(group, _)| !group.ok()).flat_map(|(group, _)| group.posts.iter().copied()).collect();
    let entry = |post: &Post, name: &str| post.entries.get(name).map_or(String::new(), |entry| entry.name.clone());
    let of_group = made.iter().flat_map(|(group, worked)| {
        let described = described(worked);
        group.posts.iter().map(move |post| (*post, described.clone()))
    });
    let described: BTreeMap<usize, String> = of_group.collect();
    let levels = job.posts.iter().any(|post| post.facts.contains_key(LEVEL));
    let posts = job.posts.iter().enumerate().map(|(at, post)| {
        let own = [post.mark.clone(), described.get(&at).cloned().unwrap_or_default()];
        let row = own.into_iter().chain(CATALOGUES.iter().map(|catalogue| entry(post, catalogue.name)));
        let row =
            row.chain(levels.then(|| post.facts.get(LEVEL).map_or(String::new(), |fact| fact.printed(job.units))));
        (row.collect(), if held.contains(&at) { HOLD.to_string() } else { String::new() })
    });
    let schedule = |title, header: &[&'static str], rows: Vec<Held>, at: usize| {
        let mut schedule = Schedule { title, header: header.to_vec(), rows: Vec::new() };
        for (mut row, hold) in rows {
            if !held.is_empty() {
                row.insert(at, hold);
            }
            schedule.rows.push(row);
        }
        if !held.is_empty() {
            schedule.header.insert(at, "Hold");
        }
        schedule
    };
    let header = ["Mark", "Post", "Base", "Foundation", "Anchors", "Level of the base"];
    let mut all = vec![schedule("Posts", &header[..if levels { 6 } else { 5 }], posts.collect(), 1)];
    for (title, name) in [("Bases", "bases"), ("Piers, footings and floors", "foundations"), ("Anchors", "anchors")] {
        let rows = hardware(job, name, &held);
        if !rows.is_empty() {
            let header = ["Name", "Posts", "Number", "As the catalogue gives it"];
            all.push(schedule(title, &header, rows, 2));
        }
    }
    all.push(schedule("Pieces to order", &["Piece", "Kind", "Number"], pieces(job.units, made), 3));
    all
}

/// The entries of a catalogue that the posts use, in the order of the posts.
fn hardware(job: &Job, catalogue: &str, held: &BTreeSet<usize>) -> Vec<Held> {
    let mut used: Vec<(&Entry, Vec<usize>)> = Vec::new();
    for (at, post) in job.posts.iter().enumerate() {
        let Some(entry) = post.entries.get(catalogue) else { continue };
        match used.iter_mut().find(|(known, _)| known.name == entry.name) {
            Some((_, posts)) => posts.push(at),
            None => used.push((entry, vec![at])),
        }
    }
    let marks = |posts: &mut dyn Iterator<Item = &usize>| {
        posts.map(|post| job.posts[*post].mark.as_str()).collect::<Vec<_>>().join(", ")
    };
    let row = |(entry, posts): (&Entry, Vec<usize>)| {
        let on_hold = marks(&mut posts.iter().filter(|post| held.contains(post)));
        let hold = if on_hold.is_empty() { on_hold } else { format!("{HOLD}: {on_hold}") };
        let marks = marks(&mut posts.iter());
        (vec![entry.name.clone(), marks, posts.len().to_string(), as_given(job.units, &entry.facts)], hold)
    };
    used.into_iter().map(row).collect()
}

/// `standoff 2 in, finish hot-dip galvanized, …`, in the order of the columns.
fn as_given(units: Units, facts: &Facts) -> String {
    let mut facts: Vec<(&String, &Fact)> = facts
        .iter()
        .filter(|(name, fact)| !matches!(name.as_str(), "name" | "source") && !fact.text.is_empty())
        .collect();
    facts.sort_by_key(|(_, fact)| fact.place.span.start);
    let said = facts.into_iter().map(|(name, fact)| format!("{} {}", name, fact.printed(units)));
    said.collect::<Vec<_>>().join(", ")
}

/// A post in words: the first piece that its sheets ask for is the post itself.
pub fn described(worked: &Made) -> String {
    let mut found = Vec::new();
    pieces_of(&worked.steps, 1.0, false, &mut found);
    found.into_iter().next().map_or(String::new(), |piece| piece.kind)
}

/// One kind of piece: what it is, of which kind, how much of it.
struct Kind {
    name: String,
    kind: String,
    amount: Quantity,
    /// How much of it is for posts on hold.
    held: f64,
}

/// The pieces that the sheets of all posts ask for, in the order of the sheets.
fn pieces(units: Units, made: &[(&GroupResult, Made)]) -> Vec<Held> {
    let mut found: Vec<Kind> = Vec::new();
    for (group, worked) in made {
        pieces_of(&worked.steps, group.posts.len() as f64, !group.ok(), &mut found);
    }
    let mut names: Vec<String> = Vec::new();
    for piece in &found {
        if !names.contains(&piece.name) {
            names.push(piece.name.clone());
        }
    }
    found.sort_by_key(|piece| names.iter().position(|name| *name == piece.name));
    let row = |piece: Kind| {
        let amount = |value: f64| match piece.amount.dim == Dim::of(3, 0) {
            true => units.volume(value),
            false => number(value, 6),
        };
        let hold = if piece.held > 0.0 { format!("{HOLD}: {}", amount(piece.held)) } else { String::new() };
        let amount = amount(piece.amount.value);
        (vec![piece.name, piece.kind, amount], hold)
    };
    found.into_iter().map(row).collect()
}

fn pieces_of(steps: &[Step], posts: f64, on_hold: bool, found: &mut Vec<Kind>) {
    for step in steps {
        match step {
            Step::Use(inner) => pieces_of(&inner.steps, posts, on_hold, found),
            Step::Page { steps, .. } => pieces_of(steps, posts, on_hold, found),
            Step::Piece { rule, amount, values } => {
                let Value::Quantity(one) = amount.value else { continue };
                let (name, kind) = (rule.name.clone(), kind_of(values));
                let amount = Quantity::new(posts * one.value, one.dim);
                if one.value <= 0.0 {
                    continue;
                }
                let held = if on_hold { amount.value } else { 0.0 };
                match found.iter_mut().find(|known| known.name == name && known.kind == kind) {
                    Some(known) => {
                        known.amount.value += amount.value;
                        known.held += held;
                    }
                    None => found.push(Kind { name, kind, amount, held }),
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
    let typed = bound
        .place
        .as_ref()
        .filter(|_| !bound.unit.is_metric())
        .map(|place| place.source.text[place.span.clone()].trim_matches('"').to_string());
    let number = typed.unwrap_or_else(|| number(quantity.in_unit(&bound.unit), 6));
    if number.ends_with(|c: char| c.is_ascii_digit()) {
        format!("{number} {}", bound.unit.pretty()).trim().to_string()
    } else {
        number
    }
}

/// Inches in a foot.
const INCHES: f64 = 12.0;

/// The sides of a post along x and y, from the sheet that knows them, in feet;
/// six inches where none does.
pub fn sides(worked: &Made) -> [f64; 2] {
    ["b", "d"].map(|side| feet(worked, &format!("post-size.{side}")).unwrap_or(0.5))
}

pub(super) fn feet(worked: &Made, symbol: &str) -> Option<f64> {
    match worked.bound.get(symbol)?.value {
        Value::Quantity(length) => Some(length.value / INCHES),
        _ => None,
    }
}
