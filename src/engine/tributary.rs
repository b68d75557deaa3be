//! Where each post stands among its neighbours: what the sheet for loads needs
//! to share a roof out.

use std::collections::BTreeMap;

use crate::diag::{Checked, Diagnostic};
use crate::formula::{Kind, Value};
use crate::job::Post;
use crate::quantity::{Dim, Quantity, Unit, number};

/// Two coordinates that are one line of posts, in feet: posts of unlike size
/// that are flush on one face stand some inches apart.
const ONE_LINE: f64 = 0.5;

/// The posts of a job as they stand in lines along x and along y.
pub struct PostGrid {
    /// Along x and along y, what each post sees of its line.
    seen: [Vec<Seen>; 2],
    at: Vec<[f64; 2]>,
    /// The outermost posts.
    least: [f64; 2],
    most: [f64; 2],
}

/// One direction of the grid as a post sees it, in feet.
#[derive(Clone)]
struct Seen {
    /// Half the bay before and after it; 0 at an edge.
    half: [f64; 2],
    place: &'static str,
    count: usize,
    least: f64,
    /// Height of the tallest post.
    tallest: f64,
}

impl PostGrid {
    pub fn new(posts: &[Post]) -> PostGrid {
        let heights: Vec<Option<f64>> = posts.iter().map(|post| length(post, "height")).collect();
        let at: Vec<[f64; 2]> = posts.iter().map(|post| post.at).collect();
        let end =
            |pick: fn(f64, f64) -> f64| [0, 1].map(|axis| at.iter().map(|at| at[axis]).reduce(pick).unwrap_or(0.0));
        let (least, most) = (end(f64::min), end(f64::max));
        PostGrid { seen: [0, 1].map(|axis| seen(&at, &heights, axis)), at, least, most }
    }

    /// Whether the posts carry the whole roof between them, and nothing of it twice: on
    /// a grid with a gap at a corner, or with a post out of line, they do not, unless
    /// the job says which part of the roof these posts carry.
    ///
    /// # Errors
    /// The areas, and what to do.
    pub fn whole_roof(&self, posts: &[Post]) -> Checked<()> {
        let half = |axis: usize, post: usize| self.seen[axis][post].half.iter().sum::<f64>();
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
        let (carried, whole) = (number(carried, 3), number(whole, 3));
        let diagnostic = Diagnostic::new(if twice {
            format!("the posts carry {carried} ft² of the {whole} ft² of roof between them: some of it is carried twice")
        } else {
            format!("the posts carry {carried} ft² of the {whole} ft² of roof between them: their grid has a gap, or a post out of line")
        })
        .at(posts[0].header.clone());
        let diagnostic = if twice {
            diagnostic
        } else {
            diagnostic
                .hint("posts within 6 in of a line count as in it")
                .hint("for a post that is not on the grid say which part of the roof it carries, with its overhang, in columns `roof_from_x [ft]`, `roof_to_x [ft]`, `roof_from_y [ft]` and `roof_to_y [ft]` of `posts.csv`")
        };
        Err(diagnostic
            .hint("where these columns are empty a post carries the roof halfway to its neighbours in line: fill them in for the posts beside it too, so that the parts make up the whole roof")
            .hint("or give the loads in columns or in `reactions.csv`, without `[roof]`")
            .into())
    }

    /// The place of a post in the grid, by the names of the sheet's inputs.
    pub fn place(&self, post: usize) -> BTreeMap<&'static str, Value> {
        let [x, y] = [0, 1].map(|axis| &self.seen[axis][post]);
        let feet = |value: f64| Value::Quantity(Quantity::new(value * 12.0, Dim::LENGTH));
        let count = |value: usize| Value::number(value as f64);
        let name = |value: &str| Value::Text(value.into());
        BTreeMap::from([
            ("x", feet(self.at[post][0])),
            ("y", feet(self.at[post][1])),
            ("left", feet(x.half[0])),
            ("right", feet(x.half[1])),
            ("below", feet(y.half[0])),
            ("above", feet(y.half[1])),
            ("at_x", name(x.place)),
            ("at_y", name(y.place)),
            ("n_x", count(x.count)),
            ("n_y", count(y.count)),
            ("tall_x", feet(x.tallest)),
            ("tall_y", feet(y.tallest)),
            ("L_x", feet(x.least)),
            ("L_y", feet(y.least)),
            ("X_1", feet(self.least[0])),
            ("X_2", feet(self.most[0])),
            ("Y_1", feet(self.least[1])),
            ("Y_2", feet(self.most[1])),
        ])
    }
}

/// What every post sees along an axis. In the order of the other coordinate, the
/// posts in line with one post stand together, and posts of one line share them.
fn seen(at: &[[f64; 2]], heights: &[Option<f64>], axis: usize) -> Vec<Seen> {
    let across = |post: usize| at[post][1 - axis];
    let mut order: Vec<usize> = (0..at.len()).collect();
    order.sort_by(|a, b| across(*a).total_cmp(&across(*b)));
    let mut line = Line::default();
    let mut found: Vec<(usize, Seen)> = Vec::new();
    for &post in &order {
        let first = order.partition_point(|other| across(*other) - across(post) <= -ONE_LINE);
        let end = order.partition_point(|other| across(*other) - across(post) < ONE_LINE);
        if line.within != (first..end) {
            line = Line::new(first..end, &order, at, heights, axis);
        }
        found.push((post, line.seen(at[post][axis])));
    }
    found.sort_by_key(|(post, _)| *post);
    found.into_iter().map(|(_, seen)| seen).collect()
}

/// The posts that are in line with some post.
#[derive(Default)]
struct Line {
    /// Where they stand in the order of the other coordinate.
    within: std::ops::Range<usize>,
    along: Vec<f64>,
    least: f64,
    tallest: f64,
}

impl Line {
    fn new(
        within: std::ops::Range<usize>,
        order: &[usize],
        at: &[[f64; 2]],
        heights: &[Option<f64>],
        axis: usize,
    ) -> Line {
        let posts = &order[within.clone()];
        let mut along: Vec<f64> = posts.iter().map(|post| at[*post][axis]).collect();
        along.sort_by(f64::total_cmp);
        Line {
            within,
            least: along.windows(2).map(|pair| pair[1] - pair[0]).reduce(f64::min).unwrap_or(0.0),
            tallest: posts.iter().filter_map(|post| heights[*post]).reduce(f64::max).unwrap_or(0.0),
            along,
        }
    }

    fn seen(&self, own: f64) -> Seen {
        let along = &self.along;
        let place = along.partition_point(|value| value - own <= -ONE_LINE);
        let bay = |neighbour: Option<&f64>| neighbour.map_or(0.0, |neighbour| (neighbour - own).abs() / 2.0);
        let before = place.checked_sub(1).and_then(|before| along.get(before));
        let (first, last) = (place == 0, place + 1 == along.len());
        Seen {
            half: [bay(before), bay(along.get(place + 1))],
            place: match (first, last) {
                (true, true) => "only",
                (true, false) => "first",
                (false, true) => "last",
                (false, false) => "inner",
            },
            count: along.len(),
            least: self.least,
            tallest: self.tallest,
        }
    }
}

/// The part of the roof that the job says a post carries, along x and along y. What
/// is no length, or lacks a side, is complained of where the sheet asks for it.
fn part_of_roof(post: &Post) -> Option<[[f64; 2]; 2]> {
    let [from_x, to_x, from_y, to_y] =
        ["roof_from_x", "roof_to_x", "roof_from_y", "roof_to_y"].map(|name| length(post, name));
    Some([[from_x?, to_x?], [from_y?, to_y?]])
}

/// What stands in a column, in feet; what is no length is complained of where the
/// sheet asks for it.
fn length(post: &Post, name: &str) -> Option<f64> {
    match post.facts.get(name)?.read(&Kind::Quantity(Dim::LENGTH), &Unit::all(&["ft"])).ok()?.0 {
        Value::Quantity(length) => Some(length.value / 12.0),
        _ => None,
    }
}
