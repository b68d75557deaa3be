//! Where each post stands among its neighbours: what the sheet for loads needs
//! to share a roof out.

use std::collections::BTreeMap;

use crate::diag::{Checked, Complaint};
use crate::formula::{Kind, Value};
use crate::job::{Post, find_fact};
use crate::quantity::{Dim, Quantity, number};
use crate::source::Place;

/// Two coordinates that are one line of posts, in feet: posts of unlike size
/// that are flush on one face stand some inches apart.
const ONE_LINE: f64 = 0.5;

/// One direction of the grid as a post sees it, in feet.
struct Line {
    /// Half the bay before and after it; 0 at an edge.
    half: [f64; 2],
    place: &'static str,
    count: usize,
    least: f64,
    /// Height of the tallest post.
    tallest: f64,
}

fn line(posts: &[Post], at: usize, axis: usize) -> Line {
    let own = posts[at].at;
    let in_line = || posts.iter().filter(|post| (post.at[1 - axis] - own[1 - axis]).abs() < ONE_LINE);
    let mut along: Vec<f64> = in_line().map(|post| post.at[axis]).collect();
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
        tallest: in_line().filter_map(height).reduce(f64::max).unwrap_or(0.0),
    }
}

/// A height that is no length is complained of where the sheet asks for it.
fn height(post: &Post) -> Option<f64> {
    match find_fact(&post.facts, "height")?.read(&Kind::Quantity(Dim::LENGTH)).ok()?.0 {
        Value::Quantity(height) => Some(height.value / 12.0),
        _ => None,
    }
}

/// Whether the posts carry the whole roof between them: on a grid with a gap at
/// a corner, or with a post out of line, they do not.
///
/// # Errors
/// The areas, and what to do.
pub fn whole_roof(posts: &[Post]) -> Checked<()> {
    let end = |axis: usize, pick: fn(f64, f64) -> f64| posts.iter().map(|post| post.at[axis]).reduce(pick);
    let run = |axis: usize| Some(end(axis, f64::max)? - end(axis, f64::min)?);
    let carried = |at: usize| {
        let half = |axis: usize| line(posts, at, axis).half.iter().sum::<f64>();
        half(0) * half(1)
    };
    let carried: f64 = (0..posts.len()).map(carried).sum();
    let whole = run(0).zip(run(1)).map_or(0.0, |(x, y)| x * y);
    if carried >= 0.98 * whole {
        return Ok(());
    }
    let source = &posts[0].place.source;
    let header = Place::new(source, 0..source.text.find(['\r', '\n']).unwrap_or(0));
    let (carried, whole) = (number(carried, 3), number(whole, 3));
    Err(Complaint::new(format!(
        "the posts carry {carried} ft² of the {whole} ft² of roof between them: their grid has a gap, or a post out of line"
    ))
    .at(header)
    .hint("posts within 6 in of a line count as in it; for a plan that is no full grid give the loads in columns or in `reactions.csv`, without `[roof]`")
    .into())
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
        ("tall_x", feet(x.tallest)),
        ("tall_y", feet(y.tallest)),
        ("L_x", feet(x.least)),
        ("L_y", feet(y.least)),
        ("X_1", feet(end(0, f64::min))),
        ("X_2", feet(end(0, f64::max))),
        ("Y_1", feet(end(1, f64::min))),
        ("Y_2", feet(end(1, f64::max))),
    ])
}
