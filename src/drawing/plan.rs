//! The key plan: posts where they stand, to scale, with their marks, the roof
//! over them, axes, north, and the ways in which each wind pushes.

mod around;
mod distances;
mod marks;

use super::geometry::{Extent, Point, extent, shifted};
use super::view::arrow;
use super::{Drawing, Shape, text_at};
use crate::quantity::Units;

/// A post as the plan shows it.
#[derive(Clone, Debug, Default)]
pub struct PlanPost {
    pub mark: String,
    /// In feet, y up the sheet.
    pub at: [f64; 2],
    /// In feet, across and up.
    pub size: [f64; 2],
    pub ok: bool,
    /// The roof that it carries: from and to along x, from and to along y, in feet.
    pub area: Option<[f64; 4]>,
    /// The axis along which its blade or side plates run.
    pub blade: Option<usize>,
    /// Lines under the mark: base and ratio, the level.
    pub notes: Vec<String>,
}

/// In feet, as the plan has them.
#[derive(Clone, Debug, Default)]
pub struct PlanRoof {
    /// From and to along x, from and to along y, overhangs included.
    pub outline: [f64; 4],
    /// Axis of the ridge or valley, where it is on the other one, and its name.
    pub ridge: Option<(usize, f64, &'static str)>,
    /// The axis along which a monoslope rises, and whether toward plus.
    pub rises: Option<(usize, bool)>,
}

#[derive(Clone, Debug, Default)]
pub struct Plan {
    pub posts: Vec<PlanPost>,
    pub roof: Option<PlanRoof>,
    /// North, in degrees clockwise from +y.
    pub north: Option<f64>,
    /// Winds by the way they push: toward +x, −x, +y and −y.
    pub winds: [Vec<String>; 4],
}

/// Scales that a framer's rule has: feet on the ground to an inch on paper.
const IMPERIAL: &[(f64, &str)] = &[
    (2.0, "1/2 in = 1 ft"),
    (8.0 / 3.0, "3/8 in = 1 ft"),
    (4.0, "1/4 in = 1 ft"),
    (16.0 / 3.0, "3/16 in = 1 ft"),
    (8.0, "1/8 in = 1 ft"),
    (32.0 / 3.0, "3/32 in = 1 ft"),
    (16.0, "1/16 in = 1 ft"),
    (20.0, "1 in = 20 ft"),
    (32.0, "1/32 in = 1 ft"),
    (40.0, "1 in = 40 ft"),
    (60.0, "1 in = 60 ft"),
    (100.0, "1 in = 100 ft"),
    (200.0, "1 in = 200 ft"),
];

/// The same for metric rules.
const METRIC: &[(f64, &str)] = &[
    (20.0 / 12.0, "1:20"),
    (50.0 / 12.0, "1:50"),
    (100.0 / 12.0, "1:100"),
    (200.0 / 12.0, "1:200"),
    (500.0 / 12.0, "1:500"),
    (1000.0 / 12.0, "1:1000"),
    (2000.0 / 12.0, "1:2000"),
];

const MARK: f64 = 9.0;
const NOTE: f64 = 7.5;

/// How much the plan says of each post.
#[derive(Clone, Copy, PartialEq)]
enum Detail {
    /// Its mark, and what belongs under it.
    Notes,
    Marks,
    /// Where it stands: a mark only where there is room beside it. Posts are as small as
    /// it takes to tell them apart, and no line runs through them.
    Dots,
}

/// A plan that is laid out.
pub struct Planned {
    pub drawing: Drawing,
    /// Only the marks found room: what belongs under them has to stand elsewhere.
    pub bare: bool,
    /// Posts whose marks found no room either.
    pub unmarked: usize,
}

/// Lays the plan out in a frame of so many points, at the largest scale that
/// goes into it; where the posts are too close for all that belongs to them,
/// with their marks alone, and where they are for these, with some of them.
pub fn plan(it: &Plan, width: f64, height: f64, units: Units) -> Planned {
    let close = closest(&it.posts);
    let mut last = None;
    for detail in [Detail::Notes, Detail::Marks, Detail::Dots] {
        for &(feet, scale) in units.either(IMPERIAL, METRIC) {
            let (drawing, crowded, unmarked) = at_scale(it, 72.0 / feet, scale, (detail, close), units);
            if drawing.width > width || drawing.height > height {
                last = Some((drawing, unmarked));
                continue;
            }
            if !crowded || detail == Detail::Dots {
                return Planned { drawing, bare: detail != Detail::Notes, unmarked };
            }
            // A smaller scale only crowds them more.
            break;
        }
    }
    let (drawing, unmarked) = last.expect("a scale");
    Planned { drawing, bare: true, unmarked }
}

/// How close two posts come, in feet along the axis on which they are farther apart.
fn closest(posts: &[PlanPost]) -> f64 {
    let mut along: Vec<Point> = posts.iter().map(|post| post.at).collect();
    along.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut close = f64::INFINITY;
    for (at, post) in along.iter().enumerate() {
        for other in &along[at + 1..] {
            if other[0] - post[0] >= close {
                break;
            }
            close = close.min((other[0] - post[0]).max((other[1] - post[1]).abs()));
        }
    }
    close
}

/// The plan, and whether some mark found no room.
fn at_scale(
    it: &Plan,
    points: f64,
    scale: &str,
    (detail, close): (Detail, f64),
    units: Units,
) -> (Drawing, bool, usize) {
    let mut sheet = Sheet::new(it, points);
    if detail == Detail::Dots {
        sheet.most = Some((0.25 * close * points).max(0.2));
    }
    sheet.symbols(it);
    sheet.roof(it);
    sheet.slope(it);
    let (crowded, unmarked) = sheet.marks(it, detail);
    sheet.dimensions(it, units);
    sheet.winds(it);
    sheet.corners(it);
    let Sheet { mut shapes, texts, lines, .. } = sheet;
    // Lines that only guide the eye are left out where a text stands.
    for line in lines {
        shapes.extend(cut(&line, &texts));
    }
    let [left, top, right, bottom] = extent(&shapes);
    let shapes = shifted(shapes, [2.0 - left, 2.0 - top]);
    let mut alt = match detail {
        Detail::Dots => format!("Key plan, {scale}: {} posts.", it.posts.len()),
        _ => {
            let marks = it.posts.iter().map(|post| post.mark.as_str()).collect::<Vec<_>>().join(", ");
            format!("Key plan, {scale}: {marks}.")
        }
    };
    for (way, names) in ["+x", "−x", "+y", "−y"].iter().zip(&it.winds).filter(|(_, names)| !names.is_empty()) {
        alt += &format!(" Wind toward {way}: {}.", names.join(", "));
    }
    if let Some(north) = it.north {
        alt += &format!(" North is {north:.0} degrees clockwise from +y.");
    }
    let [width, height] = [right - left + 4.0, bottom - top + 4.0];
    (Drawing { width, height, alt, scale: scale.into(), points: 0.0, shapes }, crowded, unmarked)
}

/// A line that may be interrupted.
struct Guide {
    from: Point,
    to: Point,
    weight: f64,
    dash: bool,
}

struct Sheet {
    /// Points of paper to a foot, and the plan's upper left corner in feet.
    points: f64,
    corner: Point,
    /// What the posts and the roof take up.
    frame: Extent,
    /// Half the size of a post at most, where only dots have room.
    most: Option<f64>,
    shapes: Vec<Shape>,
    texts: Vec<Extent>,
    /// Posts, which nothing covers, and leaders, which no text does.
    symbols: Vec<Extent>,
    leaders: Vec<[Point; 2]>,
    lines: Vec<Guide>,
}

impl Sheet {
    fn new(it: &Plan, points: f64) -> Sheet {
        let ends = |axis: usize| {
            let areas = it.posts.iter().filter_map(|post| post.area).chain(it.roof.iter().map(|roof| roof.outline));
            let edges = areas.flat_map(|area| [area[2 * axis], area[2 * axis + 1]]);
            let values = it.posts.iter().map(|post| post.at[axis]).chain(edges);
            (values.clone().fold(f64::INFINITY, f64::min), values.fold(f64::NEG_INFINITY, f64::max))
        };
        let ((left, right), (low, high)) = (ends(0), ends(1));
        Sheet {
            points,
            corner: [left, high],
            frame: [0.0, 0.0, (right - left) * points, (high - low) * points],
            most: None,
            shapes: Vec::new(),
            texts: Vec::new(),
            symbols: Vec::new(),
            leaders: Vec::new(),
            lines: Vec::new(),
        }
    }

    fn place(&self, at: Point) -> Point {
        [(at[0] - self.corner[0]) * self.points, (self.corner[1] - at[1]) * self.points]
    }

    fn line(&mut self, from: Point, to: Point, weight: f64) {
        self.shapes.push(Shape::Line { from, to, weight, dash: false });
    }

    fn guide(&mut self, from: Point, to: Point, weight: f64, dash: bool) {
        self.lines.push(Guide { from, to, weight, dash });
    }

    fn text(&mut self, at: Point, anchor: &str, size: f64, bold: bool, text: &str) {
        let shape = text_at(at, anchor, size, bold, text.into());
        self.texts.extend(shape.text_box());
        self.shapes.push(shape);
    }

    fn arrow(&mut self, tail: Point, tip: Point, weight: f64) {
        self.shapes.extend(arrow(tail, tip, weight));
    }

    /// All that stands so far, the roof included.
    fn extent(&self) -> Extent {
        let own = extent(&self.shapes);
        let frame = self.frame;
        [own[0].min(frame[0]), own[1].min(frame[1]), own[2].max(frame[2]), own[3].max(frame[3])]
    }

    fn rectangle(&mut self, area: [f64; 4], weight: f64, dash: bool) {
        let (a, b) = (self.place([area[0], area[2]]), self.place([area[1], area[3]]));
        let corners = [a, [b[0], a[1]], b, [a[0], b[1]]];
        for (from, to) in corners.iter().zip(corners.iter().cycle().skip(1)) {
            self.guide(*from, *to, weight, dash);
        }
    }

    fn half(&self, post: &PlanPost) -> Point {
        post.size.map(|size| (size * self.points / 2.0).max(2.5).min(self.most.unwrap_or(f64::INFINITY)))
    }

    /// How far a post reaches with the cross of one that is not met.
    fn arm(&self, post: &PlanPost) -> Point {
        let beyond = self.most.map_or(2.5, |most| (0.5 * most).min(2.5));
        self.half(post).map(|half| if post.ok { half } else { half + beyond })
    }

    fn symbols(&mut self, it: &Plan) {
        for post in &it.posts {
            let (at, half, mut arm) = (self.place(post.at), self.half(post), self.arm(post));
            let weight = self.most.map_or(0.8, |most| (0.3 * most).min(0.8));
            self.shapes.push(Shape::Rect {
                at: [at[0] - half[0], at[1] - half[1]],
                size: [2.0 * half[0], 2.0 * half[1]],
                weight,
                filled: post.ok,
            });
            // A post whose limits are not all met is open and crossed out.
            if !post.ok {
                for sign in [1.0, -1.0] {
                    let reach = [arm[0], arm[1] * sign];
                    self.line([at[0] - reach[0], at[1] - reach[1]], [at[0] + reach[0], at[1] + reach[1]], weight);
                }
            }
            if let Some(axis) = post.blade.filter(|_| self.most.is_none()) {
                let mut ends = [at, at];
                let long = half[axis] + 4.5;
                ends[0][axis] -= long;
                ends[1][axis] += long;
                self.line(ends[0], ends[1], 1.4);
                arm[axis] = arm[axis].max(long);
            }
            self.symbols.push([at[0] - arm[0], at[1] - arm[1], at[0] + arm[0], at[1] + arm[1]]);
        }
    }
}

/// Distinct coordinates along an axis, in order.
fn grid_lines(posts: &[PlanPost], axis: usize) -> Vec<f64> {
    let mut lines: Vec<f64> = posts.iter().map(|post| post.at[axis]).collect();
    lines.sort_by(f64::total_cmp);
    lines.dedup_by(|a, b| (*a - *b).abs() < 0.02);
    lines
}

/// What is left of a level or upright line beside the texts.
fn cut(line: &Guide, texts: &[Extent]) -> Vec<Shape> {
    let axis = usize::from((line.from[0] - line.to[0]).abs() < 1e-9);
    let across = line.from[1 - axis];
    let (start, end) = (line.from[axis].min(line.to[axis]), line.from[axis].max(line.to[axis]));
    let mut holes: Vec<(f64, f64)> = texts
        .iter()
        .filter(|text| text[1 - axis] - 1.0 < across && across < text[3 - axis] + 1.0)
        .map(|text| (text[axis] - 2.0, text[2 + axis] + 2.0))
        .collect();
    holes.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut pieces = Vec::new();
    let mut at = start;
    for (from, to) in holes.into_iter().chain([(end, end)]) {
        if from.min(end) > at {
            let mut ends = [line.from, line.from];
            (ends[0][axis], ends[1][axis]) = (at, from.min(end));
            let [from, to] = ends;
            pieces.push(Shape::Line { from, to, weight: line.weight, dash: line.dash });
        }
        at = at.max(to);
    }
    pieces
}
