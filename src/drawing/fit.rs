//! Views beside each other and under each other, at the largest scale that goes into a frame.

use super::geometry::{extent, shifted};
use super::view::{Scale, View};
use super::{Drawing, Shape, text_at};
use crate::quantity::Units;

const TITLE: f64 = 9.0;

/// Settled views beside each other, heights kept, each over its title.
pub(super) fn row<const N: usize>(views: [(View, &str); N]) -> Vec<Shape> {
    let views = views.map(|(view, title)| (view.extent(), view.settle(), title));
    let foot = views.iter().map(|(_, shapes, _)| extent(shapes)[3]).fold(f64::NEG_INFINITY, f64::max);
    let mut placed: Vec<Shape> = Vec::new();
    for (lines, mut shapes, title) in views {
        if !title.is_empty() {
            let at = [(lines[0] + lines[2]) / 2.0, foot + 1.8 * TITLE];
            shapes.push(text_at(at, "middle", TITLE, true, title.into()));
        }
        let aside = if placed.is_empty() { 0.0 } else { extent(&placed)[2] - extent(&shapes)[0] + 12.0 };
        placed.extend(shifted(shapes, [aside, 0.0]));
    }
    placed
}

/// One under the other, places across kept.
pub(super) fn stack(top: Vec<Shape>, bottom: Vec<Shape>) -> Vec<Shape> {
    let down = extent(&top)[3] - extent(&bottom)[1] + 18.0;
    top.into_iter().chain(shifted(bottom, [0.0, down])).collect()
}

/// Scales that a framer's rule has: points of paper to an inch.
const IMPERIAL: &[(f64, &str)] = &[
    (18.0, "3 in = 1 ft"),
    (9.0, "1 1/2 in = 1 ft"),
    (6.0, "1 in = 1 ft"),
    (4.5, "3/4 in = 1 ft"),
    (3.0, "1/2 in = 1 ft"),
    (2.25, "3/8 in = 1 ft"),
    (1.5, "1/4 in = 1 ft"),
    (1.125, "3/16 in = 1 ft"),
    (0.75, "1/8 in = 1 ft"),
    (0.375, "1/16 in = 1 ft"),
    (0.1875, "1/32 in = 1 ft"),
];

/// And those of ISO 5455, which a metric rule has.
const METRIC: &[(f64, &str)] = &[
    (72.0 / 2.0, "1:2, sizes in mm"),
    (72.0 / 5.0, "1:5, sizes in mm"),
    (72.0 / 10.0, "1:10, sizes in mm"),
    (72.0 / 20.0, "1:20, sizes in mm"),
    (72.0 / 50.0, "1:50, sizes in mm"),
    (72.0 / 100.0, "1:100, sizes in mm"),
    (72.0 / 200.0, "1:200, sizes in mm"),
    (72.0 / 500.0, "1:500, sizes in mm"),
];

/// The first of the arrangements that goes into a frame of so many points, at
/// the largest scale that lets one in; else what has to be reduced least.
pub(super) fn fit(frame: [f64; 2], units: Units, alt: &str, arrangements: &[&dyn Fn(Scale) -> Vec<Shape>]) -> Drawing {
    const BORDER: f64 = 4.0;
    let mut best: Option<(f64, Drawing)> = None;
    for &(points, name) in units.either(IMPERIAL, METRIC) {
        for arrange in arrangements {
            let shapes = arrange(Scale { points, units });
            let [left, top, right, bottom] = extent(&shapes);
            let [width, height] = [right - left + 2.0 * BORDER, bottom - top + 2.0 * BORDER];
            let room = (frame[0] / width).min(frame[1] / height);
            if best.as_ref().is_some_and(|(most, _)| room <= *most) {
                continue;
            }
            let shapes = shifted(shapes, [BORDER - left, BORDER - top]);
            let drawing =
                Drawing { width, height, alt: format!("{alt} Scale {name}."), scale: name.into(), points, shapes };
            if room >= 1.0 {
                return drawing;
            }
            best = Some((room, drawing));
        }
    }
    best.expect("an arrangement").1
}
