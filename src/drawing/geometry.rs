//! Where shapes are on paper, and whether strokes, circles and texts meet.

use super::Shape;

pub(super) type Point = [f64; 2];
/// Left, top, right, bottom.
pub(super) type Extent = [f64; 4];

/// What shapes take up, texts included.
pub(super) fn extent<'a>(shapes: impl IntoIterator<Item = &'a Shape>) -> Extent {
    let corners = shapes.into_iter().flat_map(|shape| match (shape, shape.text_box()) {
        (_, Some(own)) => vec![[own[0], own[1]], [own[2], own[3]]],
        (Shape::Circle { at, radius, .. }, _) => {
            vec![[at[0] - radius, at[1] - radius], [at[0] + radius, at[1] + radius]]
        }
        _ => edges_of(shape).into_iter().flatten().collect(),
    });
    corners.fold([f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY], |own, at| {
        [own[0].min(at[0]), own[1].min(at[1]), own[2].max(at[0]), own[3].max(at[1])]
    })
}

pub(super) fn shifted(shapes: Vec<Shape>, by: Point) -> Vec<Shape> {
    let moved = |at: Point| [at[0] + by[0], at[1] + by[1]];
    let shift = |shape| match shape {
        Shape::Line { from, to, weight, dash } => Shape::Line { from: moved(from), to: moved(to), weight, dash },
        Shape::Rect { at, size, weight, filled } => Shape::Rect { at: moved(at), size, weight, filled },
        Shape::Circle { at, radius, weight, filled } => Shape::Circle { at: moved(at), radius, weight, filled },
        Shape::Polygon { points, weight, filled } => {
            Shape::Polygon { points: points.into_iter().map(moved).collect(), weight, filled }
        }
        Shape::Text { at, anchor, size, bold, text } => Shape::Text { at: moved(at), anchor, size, bold, text },
    };
    shapes.into_iter().map(shift).collect()
}

/// The straight strokes of a shape.
pub(super) fn edges_of(shape: &Shape) -> Vec<[Point; 2]> {
    let closed = |points: &[Point]| {
        let next = points.iter().cycle().skip(1);
        points.iter().zip(next).map(|(from, to)| [*from, *to]).collect()
    };
    match shape {
        Shape::Line { from, to, .. } => vec![[*from, *to]],
        Shape::Rect { at: [x, y], size: [w, h], .. } => closed(&[[*x, *y], [x + w, *y], [x + w, y + h], [*x, y + h]]),
        Shape::Polygon { points, .. } => closed(points),
        Shape::Circle { .. } | Shape::Text { .. } => Vec::new(),
    }
}

/// The part of a text's box that has ink, and some air beside it.
pub(super) fn ink(text: &Extent) -> Extent {
    let tall = text[3] - text[1];
    [text[0] - 2.0, text[1] + 0.1 * tall, text[2] + 2.0, text[3]]
}

/// Whether a stroke runs through a box: what is left of it after cutting it at
/// the four sides.
pub(super) fn crosses([from, to]: [Point; 2], own: &Extent) -> bool {
    let (mut start, mut end) = (0.0_f64, 1.0_f64);
    for axis in 0..2 {
        let run = to[axis] - from[axis];
        let (low, high) = (own[axis] - from[axis], own[axis + 2] - from[axis]);
        if run == 0.0 {
            if low > 0.0 || high < 0.0 {
                return false;
            }
            continue;
        }
        let (near, far) = if run > 0.0 { (low / run, high / run) } else { (high / run, low / run) };
        (start, end) = (start.max(near), end.min(far));
    }
    start <= end
}

/// Whether a circle runs through a box, or is in it.
pub(super) fn goes_round((at, radius): (Point, f64), own: &Extent) -> bool {
    let near = [0, 1].map(|axis| at[axis].max(own[axis]).min(own[axis + 2]));
    let far =
        [0, 1].map(|axis| if at[axis] - own[axis] > own[axis + 2] - at[axis] { own[axis] } else { own[axis + 2] });
    distance(at, near) <= radius && radius <= distance(at, far)
}

/// Whether two strokes cross.
pub(super) fn meet(a: [Point; 2], b: [Point; 2]) -> bool {
    let side = |[from, to]: [Point; 2], at: Point| {
        (to[0] - from[0]) * (at[1] - from[1]) - (to[1] - from[1]) * (at[0] - from[0])
    };
    side(a, b[0]) * side(a, b[1]) < 0.0 && side(b, a[0]) * side(b, a[1]) < 0.0
}

pub(super) fn distance(a: Point, b: Point) -> f64 {
    libm::hypot(a[0] - b[0], a[1] - b[1])
}
