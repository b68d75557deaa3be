//! The key plan: posts where they stand, to scale, with a grid and marks.

use super::view::{extent, shifted};
use super::{Drawing, Shape, apart, text_at, text_width};
use crate::quantity::Units;

/// A post as the plan shows it.
pub struct PlanPost {
    pub mark: String,
    /// In feet, y up the sheet.
    pub at: [f64; 2],
    /// In feet, across and up.
    pub size: [f64; 2],
    pub ok: bool,
    /// The roof that it carries: from and to along x, from and to along y, in feet.
    pub area: Option<[f64; 4]>,
    /// A second line under the mark: the governing ratio.
    pub note: String,
}

/// Scales that a framer's rule has: feet on the ground to an inch on paper.
const IMPERIAL: [(f64, &str); 9] = [
    (1.0, "1 in = 1 ft"),
    (2.0, "1/2 in = 1 ft"),
    (4.0, "1/4 in = 1 ft"),
    (16.0 / 3.0, "3/16 in = 1 ft"),
    (8.0, "1/8 in = 1 ft"),
    (32.0 / 3.0, "3/32 in = 1 ft"),
    (16.0, "1/16 in = 1 ft"),
    (32.0, "1/32 in = 1 ft"),
    (100.0, "1 in = 100 ft"),
];

/// The same for metric rules.
const METRIC: [(f64, &str); 9] = [
    (10.0 / 12.0, "1:10"),
    (20.0 / 12.0, "1:20"),
    (25.0 / 12.0, "1:25"),
    (50.0 / 12.0, "1:50"),
    (75.0 / 12.0, "1:75"),
    (100.0 / 12.0, "1:100"),
    (200.0 / 12.0, "1:200"),
    (500.0 / 12.0, "1:500"),
    (1000.0 / 12.0, "1:1000"),
];

/// From the dimension lines to the right and the lower edge: room for their texts.
const STRIP: [f64; 2] = [48.0, 16.0];
const MARK: f64 = 9.0;
const NOTE: f64 = 7.5;

/// Lays the plan out in a frame of so many points.
pub fn plan(posts: &[PlanPost], width: f64, height: f64, units: Units) -> Drawing {
    let ends = |axis: usize| {
        let edges = posts.iter().filter_map(|post| post.area).flat_map(|area| [area[2 * axis], area[2 * axis + 1]]);
        let values = posts.iter().map(|post| post.at[axis]).chain(edges);
        (values.clone().fold(f64::INFINITY, f64::min), values.fold(f64::NEG_INFINITY, f64::max))
    };
    let ((left, right), (low, high)) = (ends(0), ends(1));
    let border = [64.0, 56.0];
    // At the right, the labels of the last posts stand before the dimensions.
    let borders = [border[0] + 64.0 + STRIP[0], 2.0 * border[1]];
    let fits = |feet: f64| {
        let points = 72.0 / feet;
        (right - left) * points + borders[0] <= width && (high - low) * points + borders[1] <= height
    };
    let (feet, scale) =
        units.either(IMPERIAL, METRIC).into_iter().find(|(feet, _)| fits(*feet)).unwrap_or((1000.0, "not to scale"));
    let points = 72.0 / feet;
    let size = [(right - left) * points + borders[0], (high - low) * points + borders[1]];
    let place = |at: [f64; 2]| [border[0] + (at[0] - left) * points, border[1] + (high - at[1]) * points];
    let mut shapes = Vec::new();
    for (axis, lines) in [grid_lines(posts, 0), grid_lines(posts, 1)].into_iter().enumerate() {
        let drawn: Vec<f64> = lines.iter().map(|line| place([*line, *line])[axis]).collect();
        for at in &drawn {
            let line = if axis == 0 {
                ([*at, 18.0], [*at, size[1] - STRIP[1] - 10.0])
            } else {
                ([18.0, *at], [size[0] - STRIP[0] - 10.0, *at])
            };
            shapes.push(Shape::Line { from: line.0, to: line.1, weight: 0.3, dash: true });
        }
        dimensions(&mut shapes, &lines, &drawn, axis, size, units);
    }
    let mut edges: Vec<[f64; 4]> = Vec::new();
    for area in posts.iter().filter_map(|post| post.area) {
        let (a, b) = (place([area[0], area[2]]), place([area[1], area[3]]));
        let corners = [a, [b[0], a[1]], b, [a[0], b[1]]];
        for (from, to) in corners.iter().zip(corners.iter().cycle().skip(1)) {
            shapes.push(Shape::Line { from: *from, to: *to, weight: 0.25, dash: false });
            // A mark does not stand across the edge of an area.
            edges.push([from[0].min(to[0]), from[1].min(to[1]), from[0].max(to[0]) + 0.5, from[1].max(to[1]) + 0.5]);
        }
    }
    let mut taken: Vec<[f64; 4]> = shapes.iter().filter_map(Shape::text_box).chain(edges).collect();
    let [beside, below] = [size[0] - STRIP[0], size[1] - STRIP[1]];
    taken.push([beside - 3.0, 0.0, beside + 3.0, size[1]]);
    taken.push([0.0, below - 3.0, size[0], below + 3.0]);
    for post in posts {
        let at = place(post.at);
        let half = [0, 1].map(|axis| (post.size[axis] * points / 2.0).max(2.5));
        let arm = half.map(|half| if post.ok { half } else { half + 2.5 });
        taken.push([at[0] - arm[0], at[1] - arm[1], at[0] + arm[0], at[1] + arm[1]]);
        shapes.push(Shape::Rect {
            at: [at[0] - half[0], at[1] - half[1]],
            size: [2.0 * half[0], 2.0 * half[1]],
            weight: 0.8,
            filled: post.ok,
        });
        // A post whose limits are not all met is open and crossed out.
        if !post.ok {
            for sign in [1.0, -1.0] {
                let arm = [arm[0], arm[1] * sign];
                shapes.push(Shape::Line {
                    from: [at[0] - arm[0], at[1] - arm[1]],
                    to: [at[0] + arm[0], at[1] + arm[1]],
                    weight: 0.8,
                    dash: false,
                });
            }
        }
    }
    for post in posts {
        label(&mut shapes, &mut taken, place(post.at), post, points, size);
    }
    // A label that found no room inside widens the paper.
    let taken = extent(&shapes);
    let (left, top) = (taken[0].min(0.0), taken[1].min(0.0));
    let size = [taken[2].max(size[0]) - left, taken[3].max(size[1]) - top];
    let shapes = shifted(shapes, [-left, -top]);
    let alt =
        format!("Key plan, {scale}: {}", posts.iter().map(|post| post.mark.as_str()).collect::<Vec<_>>().join(", "));
    Drawing { width: size[0], height: size[1], alt, scale: scale.into(), shapes }
}

/// Distinct coordinates along an axis, in order.
fn grid_lines(posts: &[PlanPost], axis: usize) -> Vec<f64> {
    let mut lines: Vec<f64> = posts.iter().map(|post| post.at[axis]).collect();
    lines.sort_by(f64::total_cmp);
    lines.dedup_by(|a, b| (*a - *b).abs() < 0.02);
    lines
}

/// Dimensions between grid lines, below the plan and at its right.
fn dimensions(shapes: &mut Vec<Shape>, lines: &[f64], drawn: &[f64], axis: usize, size: [f64; 2], units: Units) {
    let edge = size[1 - axis] - STRIP[1 - axis];
    let point = |along: f64, across: f64| if axis == 0 { [along, across] } else { [across, along] };
    for (pair, ends) in lines.windows(2).zip(drawn.windows(2)) {
        shapes.push(Shape::Line { from: point(ends[0], edge), to: point(ends[1], edge), weight: 0.4, dash: false });
        for end in ends {
            let (from, to) = (point(end - 2.5, edge - 2.5), point(end + 2.5, edge + 2.5));
            let (from, to) = if axis == 0 { ([from[0], to[1]], [to[0], from[1]]) } else { (from, to) };
            shapes.push(Shape::Line { from, to, weight: 0.6, dash: false });
        }
        let middle = (ends[0] + ends[1]) / 2.0;
        let text = units.run(pair[1] - pair[0]);
        let wide = text_width(&text, NOTE, false);
        let room = (ends[1] - ends[0]).abs();
        // A dimension that does not fit between its ticks is left to the table of inputs.
        if axis == 0 && wide <= room {
            shapes.push(text_at([middle, edge + 10.0], "middle", NOTE, false, text));
        } else if axis == 1 && room > NOTE {
            shapes.push(text_at([edge + 4.0, middle + NOTE / 3.0], "start", NOTE, false, text));
        }
    }
}

/// The mark beside its post, where nothing stands yet: near if there is room,
/// else farther off, with a line that leads to it.
fn label(
    shapes: &mut Vec<Shape>,
    taken: &mut Vec<[f64; 4]>,
    at: [f64; 2],
    post: &PlanPost,
    points: f64,
    size: [f64; 2],
) {
    let half = post.size.map(|size| (size * points / 2.0).max(2.5));
    let wide = text_width(&post.mark, MARK, true).max(text_width(&post.note, NOTE, false));
    let tall = 1.25 * (MARK + NOTE) + 0.5;
    let boxed = |step: usize, side: [f64; 2]| {
        let gap = 4.0 + 11.0 * step as f64;
        let corner = |axis: usize, own: f64| match side[axis] {
            out if out > 0.0 => at[axis] + half[axis] + gap,
            out if out < 0.0 => at[axis] - half[axis] - gap - own,
            _ => at[axis] - own / 2.0,
        };
        let corner = [corner(0, wide), corner(1, tall)];
        [corner[0], corner[1], corner[0] + wide, corner[1] + tall]
    };
    let sides = [[1.0, -1.0], [-1.0, -1.0], [1.0, 1.0], [-1.0, 1.0], [0.0, -1.0], [0.0, 1.0], [1.0, 0.0], [-1.0, 0.0]];
    let free = |own: &[f64; 4]| taken.iter().all(|other| apart(own, other));
    let inside = |own: &[f64; 4]| own[0] >= 0.0 && own[1] >= 0.0 && own[2] <= size[0] && own[3] <= size[1];
    let places = (0..LABEL_STEPS).flat_map(|step| sides.map(|side| (step, boxed(step, side))));
    let mut places = places.filter(|(_, own)| free(own));
    let Some((step, own)) = places.clone().find(|(_, own)| inside(own)).or_else(|| places.next()) else { return };
    if step > 0 {
        let end = [at[0].clamp(own[0], own[2]), at[1].clamp(own[1], own[3])];
        shapes.push(Shape::Line { from: at, to: end, weight: 0.3, dash: false });
    }
    taken.push(own);
    shapes.push(text_at([own[0], own[1] + MARK], "start", MARK, true, post.mark.clone()));
    shapes.push(text_at([own[0], own[1] + 1.25 * MARK + NOTE + 0.5], "start", NOTE, false, post.note.clone()));
}

/// How far off a label may go; where even that is full, the summary table has it.
const LABEL_STEPS: usize = 12;
