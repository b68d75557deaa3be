//! Where each post stands among its neighbours: what the sheet for loads needs
//! to share a roof out, and how level the tops of a line are.

use std::collections::BTreeMap;

use super::around::{Around, key};
use crate::diag::{Checked, Diagnostic};
use crate::formula::{Kind, Value};
use crate::job::{Facts, Post};
use crate::quantity::{Dim, Quantity, Unit, Units};

/// Two coordinates that are one line of posts, in feet: posts of unlike size
/// that are flush on one face stand some inches apart.
const ONE_LINE: f64 = 2.0;

/// The column for the level of a base.
pub const LEVEL: &str = "base_level";

/// The posts of a job as they stand in lines along x and along y.
pub struct PostGrid {
    /// Along x and along y, the posts of each line, from the first to the last.
    lines: [Vec<Vec<usize>>; 2],
    /// Along x and along y, what each post sees of its line.
    seen: [Vec<Seen>; 2],
    at: Vec<[f64; 2]>,
    /// The outermost posts.
    least: [f64; 2],
    most: [f64; 2],
}

/// A post in its line, along one axis; lengths in feet.
#[derive(Clone, Copy, Default)]
struct Seen {
    /// The bay before and after it; 0 at an edge.
    bays: [f64; 2],
    place: &'static str,
    count: usize,
    /// The tops of the line, from the lowest to the highest.
    spread: f64,
}

impl PostGrid {
    pub fn new(posts: &[Post]) -> PostGrid {
        let at: Vec<[f64; 2]> = posts.iter().map(|post| post.at).collect();
        let end =
            |pick: fn(f64, f64) -> f64| [0, 1].map(|axis| at.iter().map(|at| at[axis]).reduce(pick).unwrap_or(0.0));
        let (least, most) = (end(f64::min), end(f64::max));
        let lines = [0, 1].map(|axis| lines(&at, axis));
        let tops: Vec<Option<f64>> = posts.iter().map(top).collect();
        let seen = [0, 1].map(|axis| {
            let mut seen = vec![Seen::default(); at.len()];
            for line in &lines[axis] {
                let tops = || line.iter().filter_map(|post| tops[*post]);
                let (lowest, highest) = (tops().reduce(f64::min), tops().reduce(f64::max));
                let spread = highest.zip(lowest).map_or(0.0, |(highest, lowest)| highest - lowest);
                for (no, post) in line.iter().enumerate() {
                    seen[*post] = Seen { spread, ..in_line(line, no, &|post| at[post][axis]) };
                }
            }
            seen
        });
        PostGrid { lines, seen, at, least, most }
    }

    /// The lines of posts along an axis, 0 for x and 1 for y.
    pub fn lines(&self, axis: usize) -> &[Vec<usize>] {
        &self.lines[axis]
    }

    /// Whether the posts carry the whole roof between them, and nothing of it twice: on
    /// a grid with a gap at a corner, or with a post out of line, they do not, unless
    /// the job says which part of the roof these posts carry.
    ///
    /// # Errors
    /// The areas, and what to do.
    pub fn whole_roof(&self, posts: &[Post], units: Units) -> Checked<()> {
        let half = |axis: usize, post: usize| self.seen[axis][post].bays.iter().sum::<f64>() / 2.0;
        // Overhangs are left out on both sides of the comparison.
        let within =
            |axis: usize, [from, to]: [f64; 2]| (to.min(self.most[axis]) - from.max(self.least[axis])).max(0.0);
        let given: Vec<Option<[[f64; 2]; 2]>> = posts.iter().map(part_of_roof).collect();
        let carried = given.iter().enumerate().map(|(post, part)| match part {
            Some([along_x, along_y]) => within(0, *along_x) * within(1, *along_y),
            None => half(0, post) * half(1, post),
        });
        let carried: f64 = carried.sum();
        let whole = (self.most[0] - self.least[0]) * (self.most[1] - self.least[1]);
        let twice = carried > 1.02 * whole && given.iter().any(Option::is_some);
        if carried >= 0.98 * whole && !twice {
            return Ok(());
        }
        let [carried, whole] = [carried, whole].map(|area| units.area(144.0 * area));
        let diagnostic = Diagnostic::new(if twice {
            format!("the posts carry {carried} of the {whole} of roof between them: some of it is carried twice")
        } else {
            format!("the posts carry {carried} of the {whole} of roof between them: their grid has a gap, or a post out of line")
        })
        .at(posts[0].header.clone());
        let diagnostic = if twice {
            diagnostic
        } else {
            diagnostic
                .hint("posts within 2 ft of a line count as on it")
                .hint("for a post that is not on the grid say which part of the roof it carries, with its overhang, in columns `roof_from_x [ft]`, `roof_to_x [ft]`, `roof_from_y [ft]` and `roof_to_y [ft]` of `posts.csv`")
        };
        Err(diagnostic
            .hint("where these columns are empty a post carries the roof halfway to its neighbours in line: fill them in for the posts beside it too, so that the parts make up the whole roof")
            .hint("or give the loads in columns or in `reactions.csv`, without `[roof]`")
            .into())
    }

    /// Where every post stands, by the names of a sheet's inputs.
    pub fn around(&self) -> Around {
        Around((0..self.at.len()).map(|post| self.place(post)).collect())
    }

    fn place(&self, post: usize) -> BTreeMap<String, Value> {
        let [x, y] = [0, 1].map(|axis| &self.seen[axis][post]);
        let values = [
            ("x", feet(self.at[post][0])),
            ("y", feet(self.at[post][1])),
            ("left", feet(x.bays[0] / 2.0)),
            ("right", feet(x.bays[1] / 2.0)),
            ("below", feet(y.bays[0] / 2.0)),
            ("above", feet(y.bays[1] / 2.0)),
            ("at_x", name(x.place)),
            ("at_y", name(y.place)),
            ("n_x", count(x.count)),
            ("n_y", count(y.count)),
            ("spread_x", feet(x.spread)),
            ("spread_y", feet(y.spread)),
            ("X_1", feet(self.least[0])),
            ("X_2", feet(self.most[0])),
            ("Y_1", feet(self.least[1])),
            ("Y_2", feet(self.most[1])),
        ];
        values.into_iter().map(|(name, value)| (key("grid", name), value)).collect()
    }

    /// The places of posts, each with its axis, that what a post sees rests on, by the name of
    /// a sheet's input along an axis, and how much of each is in it. How far tops are apart is not followed.
    pub(super) fn rests_on(&self, post: usize, name: &str, axis: usize) -> Vec<(usize, usize, f64)> {
        let outer = |axis: usize, end: f64| self.at.iter().position(|at| at[axis] == end).map(|it| (it, axis, 1.0));
        let bay = |axis: usize, after: bool, part: f64| {
            let line = self.lines[axis].iter().find(|line| line.contains(&post));
            let no = line.and_then(|line| line.iter().position(|it| *it == post));
            let (from, to) = match (line.zip(no), after) {
                (Some((line, no)), true) => (Some(post), line.get(no + 1).copied()),
                (Some((line, no)), false) => (no.checked_sub(1).map(|no| line[no]), Some(post)),
                (None, _) => (None, None),
            };
            let bay = from.zip(to).map(|(from, to)| vec![(from, axis, -part), (to, axis, part)]);
            bay.unwrap_or_default()
        };
        match name {
            "x" => vec![(post, 0, 1.0)],
            "y" => vec![(post, 1, 1.0)],
            "left" => bay(0, false, 0.5),
            "right" => bay(0, true, 0.5),
            "below" => bay(1, false, 0.5),
            "above" => bay(1, true, 0.5),
            "bay_0" => bay(axis, false, 1.0),
            "bay" => bay(axis, true, 1.0),
            "X_1" => outer(0, self.least[0]).into_iter().collect(),
            "X_2" => outer(0, self.most[0]).into_iter().collect(),
            "Y_1" => outer(1, self.least[1]).into_iter().collect(),
            "Y_2" => outer(1, self.most[1]).into_iter().collect(),
            _ => Vec::new(),
        }
    }

    /// A post in its line along an axis.
    pub fn in_line(&self, axis: usize, post: usize) -> BTreeMap<String, Value> {
        let seen = &self.seen[axis][post];
        let values = [
            ("at", name(seen.place)),
            ("n", count(seen.count)),
            ("bay_0", feet(seen.bays[0])),
            ("bay", feet(seen.bays[1])),
        ];
        values.into_iter().map(|(name, value)| (key("line", name), value)).collect()
    }
}

fn feet(value: f64) -> Value {
    Value::Quantity(Quantity::new(value * 12.0, Dim::LENGTH))
}

fn count(value: usize) -> Value {
    Value::number(value as f64)
}

fn name(value: &str) -> Value {
    Value::Text(value.into())
}

/// The posts in lines along an axis, each in the order in which it stands.
fn lines(at: &[[f64; 2]], axis: usize) -> Vec<Vec<usize>> {
    let across = |post: usize| at[post][1 - axis];
    let mut order: Vec<usize> = (0..at.len()).collect();
    order.sort_by(|a, b| across(*a).total_cmp(&across(*b)));
    let mut lines: Vec<Vec<usize>> = Vec::new();
    for post in order {
        match lines.last_mut().filter(|line| across(post) - across(line[0]) < ONE_LINE) {
            Some(line) => line.push(post),
            None => lines.push(vec![post]),
        }
    }
    for line in &mut lines {
        line.sort_by(|a, b| at[*a][axis].total_cmp(&at[*b][axis]));
    }
    lines
}

/// The part of the roof that the job says a post carries, along x and along y. What
/// is no length, or lacks a side, is complained of where the sheet asks for it.
fn part_of_roof(post: &Post) -> Option<[[f64; 2]; 2]> {
    let [from_x, to_x, from_y, to_y] =
        ["roof_from_x", "roof_to_x", "roof_from_y", "roof_to_y"].map(|name| length(&post.facts, name));
    Some([[from_x?, to_x?], [from_y?, to_y?]])
}

/// What stands in a column, in feet; what is no length is complained of where the
/// sheet asks for it.
fn length(facts: &Facts, name: &str) -> Option<f64> {
    match facts.get(name)?.read(&Kind::Quantity(Dim::LENGTH), &Unit::all(&["ft"])).ok()?.0 {
        Value::Quantity(length) => Some(length.value / 12.0),
        _ => None,
    }
}

fn in_line(line: &[usize], no: usize, along: &dyn Fn(usize) -> f64) -> Seen {
    let bay = |one: Option<&usize>, other: Option<&usize>| match (one, other) {
        (Some(one), Some(other)) => along(*other) - along(*one),
        _ => 0.0,
    };
    let before = no.checked_sub(1).and_then(|before| line.get(before));
    let after = line.get(no + 1);
    let place = match (before, after) {
        (None, None) => "only",
        (None, Some(_)) => "first",
        (Some(_), None) => "last",
        (Some(_), Some(_)) => "inner",
    };
    let bays = [bay(before, line.get(no)), bay(line.get(no), after)];
    Seen { bays, place, count: line.len(), spread: 0.0 }
}

/// The top of a post over the datum of the job, which is the level of a base that has none.
fn top(post: &Post) -> Option<f64> {
    let standoff = length(&post.entries.get("bases")?.facts, "standoff")?;
    let height = length(&post.facts, "height")?;
    Some(base_level(post).unwrap_or(0.0) + standoff + height)
}

/// The top of what the base of a post stands on over the datum of the job, in feet.
pub fn base_level(post: &Post) -> Option<f64> {
    length(&post.facts, LEVEL)
}
