//! Signs for what a line alone does not say: a thing that goes on, end grain,
//! earth.

use super::geometry::Point;
use super::view::{MEDIUM, THIN, View};

/// The level line at which a post is broken off.
pub(super) fn break_line(view: &mut View, left: f64, right: f64, y: f64) {
    let ([left, y], [right, _]) = (view.paper([left, y]), view.paper([right, y]));
    let middle = (left + right) / 2.0;
    let path = [
        [left - 5.0, y],
        [middle - 4.0, y],
        [middle - 2.0, y - 4.0],
        [middle + 2.0, y + 4.0],
        [middle + 4.0, y],
        [right + 5.0, y],
    ];
    for ends in path.windows(2) {
        view.stroke(ends[0], ends[1], MEDIUM, false);
    }
}

/// Slanting lines over a rectangle: wood cut across.
pub(super) fn end_grain(view: &mut View, a: Point, b: Point) {
    let (a, b) = (view.paper(a), view.paper(b));
    let [left, top, right, bottom] = [a[0].min(b[0]), a[1].min(b[1]), a[0].max(b[0]), a[1].max(b[1])];
    const PITCH: f64 = 5.0;
    // A line is where x + y is the same; the pitch is measured from the origin,
    // so that two strips beside each other look like one piece.
    let first = ((left + top) / PITCH).ceil() as i64;
    let last = ((right + bottom) / PITCH).floor() as i64;
    for sum in (first..=last).take(400).map(|step| step as f64 * PITCH) {
        let from = [left.max(sum - bottom), (sum - left).min(bottom)];
        let to = [right.min(sum - top), (sum - right).max(top)];
        view.stroke(from, to, THIN, false);
    }
}

/// The level line of the ground, with the strokes of earth under it.
pub(super) fn earth(view: &mut View, left: f64, right: f64, y: f64) {
    let ([left, y], [right, _]) = (view.paper([left, y]), view.paper([right, y]));
    view.stroke([left, y], [right, y], MEDIUM, false);
    let groups = ((right - left) / 12.0).floor().clamp(1.0, 60.0) as usize;
    for group in 0..groups {
        for stroke in 0..3 {
            let x = left + 12.0 * group as f64 + 3.0 * f64::from(stroke) + 5.0;
            view.stroke([x, y], [x - 5.0, y + 5.0], THIN, false);
        }
    }
}
