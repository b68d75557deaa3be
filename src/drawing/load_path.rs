//! How loads go to the ground: one bay along each axis, in outline, not to scale.

use super::geometry::{Point, extent, shifted};
use super::hatch::earth;
use super::view::{HEAVY, MEDIUM, Scale, THIN, View};
use super::{Drawing, Shape, text_at};
use crate::quantity::Units;

/// What holds the top of a post sideways.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Holds {
    Braces,
    Walls,
    Frame,
    /// The post itself, in a base that takes moment.
    Cantilever,
    /// Nothing, though the base is a hinge.
    Nothing,
    /// What the job does not name.
    Other,
}

/// The roof as it is seen along an axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Above {
    /// A ridge, or a valley, across the axis of the bay.
    Gable,
    Valley,
    /// Slats, a slope seen from its side, or what the job only gives reactions of.
    Level,
    /// Rising to the right, or to the left.
    Right,
    Left,
}

#[derive(Clone, Debug)]
pub struct Bay {
    /// What stands over the bay: `along x: knee braces`.
    pub title: String,
    pub holds: Holds,
    pub above: Above,
}

#[derive(Clone, Debug)]
pub struct LoadPath {
    /// The roof is worked here; else it is drawn dashed, as what others design.
    pub roof: bool,
    /// A floor, else piers or pads.
    pub floor: bool,
    pub pad: bool,
    pub bays: Vec<Bay>,
}

const WIDE: f64 = 232.0;
const TEXT: f64 = 8.0;
/// The middles of the two posts, and their half width.
const POSTS: [f64; 2] = [62.0, 168.0];
const HALF: f64 = 4.0;
/// Levels from the top down.
const APEX: f64 = 22.0;
const ROOF: f64 = 44.0;
const BEAM: [f64; 2] = [46.0, 55.0];
const FOOT: f64 = 132.0;
const TOP: f64 = 140.0;
const EARTH: f64 = 145.0;
const BOTTOM: f64 = 166.0;

pub fn load_path(it: &LoadPath) -> Drawing {
    let mut shapes: Vec<Shape> = Vec::new();
    for (at, bay) in it.bays.iter().enumerate() {
        shapes.extend(shifted(elevation(it, bay, at == 0), [at as f64 * (WIDE + 34.0), 0.0]));
    }
    let [left, top, right, bottom] = extent(&shapes);
    let shapes = shifted(shapes, [2.0 - left, 2.0 - top]);
    let bays: Vec<&str> = it.bays.iter().map(|bay| bay.title.as_str()).collect();
    let alt = format!(
        "Load path: 1 roof, 2 beams, 3 posts, 4 bases, 5 {}, 6 {}. {}.",
        if it.floor { "screws" } else { "anchors" },
        if it.floor { "floor" } else { "foundations and soil" },
        bays.join("; ")
    );
    Drawing { width: right - left + 4.0, height: bottom - top + 4.0, alt, scale: String::new(), points: 0.0, shapes }
}

fn elevation(it: &LoadPath, bay: &Bay, numbered: bool) -> Vec<Shape> {
    let mut view = View::new(Scale { points: 1.0, units: Units::Imperial });
    roof(&mut view, it, bay.above);
    let ends = [POSTS[0] - 16.0, POSTS[1] + 16.0];
    boxed(&mut view, [ends[0], BEAM[0], ends[1], BEAM[1]], HEAVY);
    for x in POSTS {
        post(&mut view, it, x);
        match bay.holds {
            Holds::Braces => {
                for way in [-1.0, 1.0] {
                    // A brace past the last post has no beam to go to.
                    if (x == POSTS[0]) == (way > 0.0) {
                        let (foot, head) = ([x + way * HALF, BEAM[1] + 26.0], [x + way * (HALF + 24.0), BEAM[1]]);
                        for down in [0.0, 5.0] {
                            view.stroke([foot[0], foot[1] + down], [head[0] + way * down, head[1]], MEDIUM, false);
                        }
                    }
                }
            }
            Holds::Frame => {
                for way in [-1.0, 1.0] {
                    let corner = [x + way * HALF, BEAM[1]];
                    view.stroke([corner[0] + way * 8.0, corner[1]], [corner[0], corner[1] + 8.0], HEAVY, false);
                    view.stroke([corner[0] + way * 4.0, corner[1]], [corner[0], corner[1] + 4.0], HEAVY, false);
                }
            }
            Holds::Cantilever => {
                // A fixed foot: the base, black and wide.
                for down in 0..4 {
                    let y = FOOT + 1.0 + 2.0 * f64::from(down);
                    view.stroke([x - 9.0, y], [x + 9.0, y], 2.0, false);
                }
            }
            Holds::Walls | Holds::Nothing | Holds::Other => {}
        }
        if bay.holds != Holds::Cantilever {
            view.circle([x, -FOOT + 2.5], 2.0, MEDIUM);
        }
    }
    if bay.holds == Holds::Walls {
        let (left, right) = (POSTS[0] + HALF + 6.0, POSTS[1] - HALF - 6.0);
        boxed(&mut view, [left, BEAM[1], right, EARTH], MEDIUM);
        view.stroke([left, BEAM[1]], [right, EARTH], THIN, false);
        view.stroke([left, EARTH], [right, BEAM[1]], THIN, false);
    }
    ground(&mut view, it);
    // The push at the beam, and what answers it.
    view.arrow([4.0, BEAM[0] + 4.5], [ends[0] - 2.0, BEAM[0] + 4.5], HEAVY);
    match bay.holds {
        Holds::Walls => view.arrow([POSTS[1] - 20.0, EARTH - 7.0], [POSTS[1] - 56.0, EARTH - 7.0], HEAVY),
        Holds::Nothing | Holds::Other => {}
        _ => {
            for x in POSTS {
                view.arrow([x + 38.0, FOOT], [x + 11.0, FOOT], HEAVY);
            }
        }
    }
    let mut shapes = view.settle();
    if matches!(bay.holds, Holds::Nothing | Holds::Other) {
        shapes.push(text_at([(POSTS[0] + POSTS[1]) / 2.0, 84.0], "middle", 14.0, true, "?".into()));
    }
    shapes.push(text_at([WIDE / 2.0, 10.0], "middle", 9.0, true, bay.title.clone()));
    if numbered {
        numbers(&mut shapes, it, bay.above);
    }
    shapes
}

fn path(view: &mut View, points: &[Point], weight: f64, dash: bool) {
    for ends in points.windows(2) {
        view.stroke(ends[0], ends[1], weight, dash);
    }
}

fn boxed(view: &mut View, [left, top, right, bottom]: [f64; 4], weight: f64) {
    path(view, &[[left, top], [right, top], [right, bottom], [left, bottom], [left, top]], weight, false);
}

fn roof(view: &mut View, it: &LoadPath, above: Above) {
    let (left, right) = (POSTS[0] - 30.0, POSTS[1] + 30.0);
    let middle = (left + right) / 2.0;
    let low = ROOF - 7.0;
    let outline = match above {
        Above::Gable => vec![[left, ROOF], [middle, APEX], [right, ROOF]],
        Above::Valley => vec![[left, APEX + 4.0], [middle, ROOF], [right, APEX + 4.0]],
        Above::Level => vec![[left, low], [right, low]],
        Above::Right => vec![[left, ROOF], [right, APEX]],
        Above::Left => vec![[left, APEX], [right, ROOF]],
    };
    // A roof is thick: the same line below.
    let below: Vec<Point> = outline.iter().map(|at| [at[0], at[1] - 4.0]).collect();
    for line in [&outline, &below] {
        path(view, line, MEDIUM, !it.roof);
    }
    for end in [0, outline.len() - 1] {
        view.stroke(outline[end], below[end], MEDIUM, !it.roof);
    }
    // Its load, down.
    for part in [0.2, 0.5, 0.8] {
        let x = left + part * (right - left);
        view.arrow([x, APEX - 8.0], [x, APEX + 1.0], THIN);
    }
}

fn post(view: &mut View, it: &LoadPath, x: f64) {
    path(view, &[[x - HALF, BEAM[1]], [x - HALF, FOOT], [x + HALF, FOOT], [x + HALF, BEAM[1]]], HEAVY, false);
    view.stroke([x, FOOT], [x, TOP], 1.6, false);
    view.stroke([x - 6.0, TOP - 0.8], [x + 6.0, TOP - 0.8], 1.6, false);
    if it.floor {
        return;
    }
    for side in [-3.0, 3.0] {
        view.stroke([x + side, TOP], [x + side, TOP + 11.0], MEDIUM, false);
    }
    boxed(view, [x - 10.0, TOP, x + 10.0, BOTTOM], MEDIUM);
    if it.pad {
        boxed(view, [x - 19.0, BOTTOM - 6.0, x + 19.0, BOTTOM], MEDIUM);
    }
    // The soil under it.
    for aside in [-6.0, 6.0] {
        view.arrow([x + aside, BOTTOM + 11.0], [x + aside, BOTTOM + 1.0], THIN);
    }
}

fn ground(view: &mut View, it: &LoadPath) {
    let (left, right) = (POSTS[0] - 44.0, POSTS[1] + 44.0);
    if it.floor {
        boxed(view, [left + 8.0, TOP, right - 8.0, TOP + 12.0], HEAVY);
        for x in POSTS {
            for side in [-3.0, 3.0] {
                view.stroke([x + side, TOP], [x + side, TOP + 9.0], MEDIUM, false);
            }
            view.arrow([x, TOP + 25.0], [x, TOP + 13.0], THIN);
        }
        return;
    }
    for (from, to) in [(left, POSTS[0] - 10.0), (POSTS[0] + 10.0, POSTS[1] - 10.0), (POSTS[1] + 10.0, right)] {
        earth(view, from, to, -EARTH);
    }
}

/// Numbers in rings at the right of the bay, for the words beside.
fn numbers(shapes: &mut Vec<Shape>, it: &LoadPath, above: Above) {
    let x = POSTS[1] + HALF;
    let eave = match above {
        Above::Gable | Above::Left => ROOF - 2.0,
        Above::Level => ROOF - 9.0,
        Above::Valley => APEX + 2.0,
        Above::Right => APEX - 2.0,
    };
    let ground = if it.floor { [x + 16.0, TOP + 9.0] } else { [x + 6.0, BOTTOM - 8.0] };
    let places: [(&str, Point, Point); 6] = [
        ("1", [x + 26.0, eave], [x + 44.0, 28.0]),
        ("2", [x + 12.0, (BEAM[0] + BEAM[1]) / 2.0], [x + 44.0, 52.0]),
        ("3", [x, 92.0], [x + 44.0, 88.0]),
        ("4", [x - 1.0, FOOT + 3.0], [x + 44.0, 112.0]),
        ("5", [x - 1.0, TOP + 7.0], [x + 60.0, 130.0]),
        ("6", ground, [x + 60.0, 160.0]),
    ];
    for (no, from, ring) in places {
        let far = libm::hypot(ring[0] - from[0], ring[1] - from[1]);
        let to = [0, 1].map(|axis| ring[axis] - 6.5 * (ring[axis] - from[axis]) / far);
        shapes.push(Shape::Line { from, to, weight: THIN, dash: false });
        shapes.push(Shape::Circle { at: ring, radius: 6.5, weight: MEDIUM, filled: false });
        shapes.push(text_at([ring[0], ring[1] + 2.7], "middle", TEXT, false, no.into()));
    }
}
