//! What a job is made of: its posts one by one, and lists of what to order.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::tributary::LEVEL;
use super::{GroupResult, Made};
use crate::formula::Value;
use crate::job::{CATALOGUES, Job, Post};
use crate::quantity::{Dim, Quantity, Units, measured, number};
use crate::sheet::{Bound, Step};

/// A table of texts under a title.
#[derive(Debug)]
pub struct Schedule {
    pub title: String,
    pub header: Vec<String>,
    pub rows: Vec<Vec<String>>,
}

/// What nobody is to cut, order or set: something of its post is not met.
const HOLD: &str = "HOLD";

/// Posts first, then a list of what to order for each trade that the pieces name. A job that has posts on hold has a
/// column for it in each table.
pub fn schedules(job: &Job, made: &[(&GroupResult, Arc<Made>)]) -> Vec<Schedule> {
    let held: BTreeSet<usize> =
        made.iter().filter(|(group, _)| !group.ok()).flat_map(|(group, _)| group.posts.iter().copied()).collect();
    let mut all = vec![posts(job, made, &held)];
    let pieces = pieces(job.units, made);
    let mut trades: Vec<&str> = Vec::new();
    for piece in &pieces {
        if !trades.contains(&piece.trade.as_str()) {
            trades.push(&piece.trade);
        }
    }
    for trade in trades {
        let rows = pieces.iter().filter(|piece| piece.trade == trade);
        let rows = rows.map(|piece| {
            let amount = |value: f64| match piece.amount.dim == Dim::of(3, 0) {
                true => job.units.volume(value),
                false => number(value, 6),
            };
            let on_hold = (piece.held > 0.0).then(|| format!("{HOLD}: {}", amount(piece.held)));
            let row = [&piece.name, &piece.kind, &marks(job, &piece.posts), &amount(piece.amount.value)];
            row.into_iter().cloned().chain((!held.is_empty()).then(|| on_hold.unwrap_or_default())).collect()
        });
        let header = ["Piece", "Size and material", "For posts", "Number"].into_iter();
        let header = header.chain((!held.is_empty()).then_some("Hold")).map(String::from).collect();
        all.push(Schedule { title: format!("{} to order", capital(trade)), header, rows: rows.collect() });
    }
    all
}

fn posts(job: &Job, made: &[(&GroupResult, Arc<Made>)], held: &BTreeSet<usize>) -> Schedule {
    let entry = |post: &Post, name: &str| post.entries.get(name).map_or(String::new(), |entry| entry.name.clone());
    let of_group = made.iter().flat_map(|(group, worked)| {
        let described = described(job.units, worked);
        group.posts.iter().map(move |post| (*post, described.clone()))
    });
    let described: BTreeMap<usize, String> = of_group.collect();
    let levels = job.posts.iter().any(|post| post.facts.contains_key(LEVEL));
    let row = |(at, post): (usize, &Post)| {
        let on_hold = if held.contains(&at) { HOLD.to_string() } else { String::new() };
        let row = std::iter::once(post.mark.clone()).chain((!held.is_empty()).then_some(on_hold));
        let row = row.chain(described.get(&at).cloned());
        let row = row.chain(CATALOGUES.iter().map(|catalogue| entry(post, catalogue.name)));
        row.chain(levels.then(|| post.facts.get(LEVEL).map_or(String::new(), |fact| fact.printed(job.units)))).collect()
    };
    let header = std::iter::once("Mark").chain((!held.is_empty()).then_some("Hold"));
    let header = header.chain(["Post", "Base", "Foundation", "Anchors"]).chain(levels.then_some("Level of the base"));
    let rows = job.posts.iter().enumerate().map(row).collect();
    Schedule { title: "Posts".into(), header: header.map(String::from).collect(), rows }
}

/// A post in words: its size, its height from the base to the beam, its wood.
pub fn described(units: Units, worked: &Made) -> String {
    let known = ["post-size.b", "post-size.d", "post-order.height", "post-order.species", "post-order.grade"];
    kind_of(units, known.iter().filter_map(|name| worked.bound.get(*name)), false)
}

/// One kind of piece: for which trade, what it is, of which kind, how much of it.
struct Kind {
    trade: String,
    name: String,
    kind: String,
    amount: Quantity,
    posts: BTreeSet<usize>,
    /// How much of it is for posts on hold.
    held: f64,
}

/// The pieces that the sheets of all posts ask for, in the order of the sheets.
fn pieces(units: Units, made: &[(&GroupResult, Arc<Made>)]) -> Vec<Kind> {
    let mut found: Vec<Kind> = Vec::new();
    for (group, worked) in made {
        pieces_of(units, &worked.steps, group, &mut found);
    }
    let mut names: Vec<String> = Vec::new();
    for piece in &found {
        if !names.contains(&piece.name) {
            names.push(piece.name.clone());
        }
    }
    found.sort_by_key(|piece| names.iter().position(|name| *name == piece.name));
    found
}

fn pieces_of(units: Units, steps: &[Step], group: &GroupResult, found: &mut Vec<Kind>) {
    for step in steps {
        match step {
            Step::Use(inner) => pieces_of(units, &inner.steps, group, found),
            Step::Page { steps, .. } => pieces_of(units, steps, group, found),
            Step::Piece { rule, amount, values } => {
                let Value::Quantity(one) = amount.value else { continue };
                if one.value <= 0.0 {
                    continue;
                }
                let (trade, name) = rule.name.split_once(": ").unwrap_or(("other pieces", &rule.name));
                let kind = kind_of(units, values, name.contains("at most"));
                let amount = Quantity::new(group.posts.len() as f64 * one.value, one.dim);
                let known = found.iter().position(|it| it.trade == trade && it.name == name && it.kind == kind);
                let at = known.unwrap_or_else(|| {
                    let (trade, name, none) = (trade.into(), name.into(), Quantity::new(0.0, one.dim));
                    found.push(Kind { trade, name, kind, amount: none, posts: BTreeSet::new(), held: 0.0 });
                    found.len() - 1
                });
                let piece = &mut found[at];
                piece.amount.value += amount.value;
                piece.posts.extend(&group.posts);
                piece.held += if group.ok() { 0.0 } else { amount.value };
            }
            _ => {}
        }
    }
}

/// Marks of posts as far as a cell holds them.
fn marks(job: &Job, posts: &BTreeSet<usize>) -> String {
    const SHOWN: usize = 12;
    if posts.len() > SHOWN {
        return format!("{} posts", posts.len());
    }
    posts.iter().map(|post| job.posts[*post].mark.as_str()).collect::<Vec<_>>().join(", ")
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// `7 1/2 in by 9 ft, Douglas Fir-Larch, No.1`: sizes by one another, then names.
fn kind_of<'a>(units: Units, values: impl IntoIterator<Item = &'a Bound>, at_most: bool) -> String {
    let mut text = String::new();
    let mut size_before = false;
    for bound in values {
        let shown = as_ordered(units, bound, at_most);
        let size = matches!(&bound.value, Value::Quantity(quantity) if quantity.dim == Dim::LENGTH);
        if !text.is_empty() && !shown.is_empty() {
            text.push_str(if size_before && size { " by " } else { ", " });
        }
        text.push_str(&shown);
        size_before = size;
    }
    text
}

/// A value as the files have it, where fractions stay fractions; a length that is worked out no shorter than it is, or no
/// longer.
fn as_ordered(units: Units, bound: &Bound, at_most: bool) -> String {
    let quantity = match &bound.value {
        Value::Quantity(quantity) => quantity,
        Value::Text(name) => return name.clone(),
        Value::Date(date) => return date.to_string(),
    };
    let Some(place) = bound.place.as_ref().filter(|_| !bound.unit.is_metric()) else {
        if quantity.dim == Dim::LENGTH {
            // As the files write it, not as a drawing does.
            let length = if at_most { units.at_most(quantity.value) } else { units.at_least(quantity.value) };
            return length.replace("′-", " ft ").replace('″', " in");
        }
        let unit = units.print(&bound.unit);
        return measured(&number(quantity.in_unit(&unit), 6), &unit.pretty());
    };
    let typed = place.source.text[place.span.clone()].trim_matches('"').to_string();
    if typed.ends_with(|c: char| c.is_ascii_digit()) { measured(&typed, &bound.unit.pretty()) } else { typed }
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
