//! Where each post stands among its neighbours: what the sheet for loads needs
//! to share a roof out.

use std::collections::BTreeMap;

use crate::formula::Value;
use crate::job::Post;
use crate::quantity::{Dim, Quantity};

/// Two coordinates that are one line of posts, in feet.
const ONE_LINE: f64 = 0.02;

/// One direction of the grid as a post sees it, in feet.
struct Line {
    /// Half the bay before and after it; 0 at an edge.
    half: [f64; 2],
    place: &'static str,
    count: usize,
    least: f64,
}

fn line(posts: &[Post], at: usize, axis: usize) -> Line {
    let own = posts[at].at;
    let mut along: Vec<f64> = posts
        .iter()
        .map(|post| post.at)
        .filter(|other| (other[1 - axis] - own[1 - axis]).abs() < ONE_LINE)
        .map(|other| other[axis])
        .collect();
    along.sort_by(f64::total_cmp);
    let place = along.iter().position(|value| (value - own[axis]).abs() < ONE_LINE).unwrap_or(0);
    let bay = |a: Option<&f64>, b: f64| a.map_or(0.0, |a| (a - b).abs() / 2.0);
    let before = place.checked_sub(1).and_then(|before| along.get(before));
    let (first, last) = (place == 0, place + 1 == along.len());
    Line {
        half: [bay(before, own[axis]), bay(along.get(place + 1), own[axis])],
        place: match (first, last) {
            (true, true) => "only",
            (true, false) => "first",
            (false, true) => "last",
            (false, false) => "inner",
        },
        count: along.len(),
        least: along.windows(2).map(|pair| pair[1] - pair[0]).reduce(f64::min).unwrap_or(0.0),
    }
}

/// The place of a post in the grid, by the names of the sheet's inputs.
pub fn place(posts: &[Post], at: usize) -> BTreeMap<&'static str, Value> {
    let (x, y) = (line(posts, at, 0), line(posts, at, 1));
    let end =
        |axis: usize, pick: fn(f64, f64) -> f64| posts.iter().map(|post| post.at[axis]).reduce(pick).unwrap_or(0.0);
    let feet = |value: f64| Value::Quantity(Quantity::new(value * 12.0, Dim::LENGTH));
    let count = |value: usize| Value::number(value as f64);
    let name = |value: &str| Value::Text(value.into());
    BTreeMap::from([
        ("x", feet(posts[at].at[0])),
        ("y", feet(posts[at].at[1])),
        ("left", feet(x.half[0])),
        ("right", feet(x.half[1])),
        ("below", feet(y.half[0])),
        ("above", feet(y.half[1])),
        ("at_x", name(x.place)),
        ("at_y", name(y.place)),
        ("n_x", count(x.count)),
        ("n_y", count(y.count)),
        ("L_x", feet(x.least)),
        ("L_y", feet(y.least)),
        ("X_1", feet(end(0, f64::min))),
        ("X_2", feet(end(0, f64::max))),
        ("Y_1", feet(end(1, f64::min))),
        ("Y_2", feet(end(1, f64::max))),
    ])
}
