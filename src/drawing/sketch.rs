//! The foot of a post on its base and on what that stands on, with the forces
//! of the combinations that govern: a sketch, true to kind and not to scale.
//! Seen along y: x to the right, y going back.

use super::geometry::{Point, extent, shifted};
use super::hatch::break_line;
use super::view::{HEAVY, MEDIUM, Scale, THIN, View};
use super::{Drawing, Shape, text_at, text_width};
use crate::quantity::Units;

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SketchBase {
    /// A blade in a slot.
    Blade,
    SidePlates,
    /// A tube in a bore.
    Sleeve,
    /// A bought base with sides up the post.
    Rated,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SketchGround {
    RoundPier,
    SquarePier,
    Pad,
    Floor,
}

/// A force with its sign, and as it is printed, without its unit.
#[derive(Clone, Debug, Default)]
pub struct Force {
    pub value: f64,
    pub text: String,
}

/// What a post does to its base in one combination: down, along x and y; the
/// wind on the post itself; the moment with the shear along x and along y.
#[derive(Clone, Debug, Default)]
pub struct Acting {
    /// Names the combination among the arrows; what it stands for is said beside the
    /// sketch.
    pub letter: String,
    pub combination: String,
    pub p: Force,
    pub h: [Force; 2],
    pub w: [Force; 2],
    pub m: [Force; 2],
}

#[derive(Clone, Debug)]
pub struct Sketch {
    pub base: SketchBase,
    pub ground: SketchGround,
    /// Whether a gap is left between the end grain and what the base stands on.
    pub standoff: bool,
    /// Whether a pad is under the pier.
    pub pad: bool,
    /// A pin is marked where the base is a hinge; none where it takes a moment.
    pub hinge: bool,
    /// Units of forces, of wind on the post and of moments.
    pub units: [String; 3],
    /// One to three combinations.
    pub acting: Vec<Acting>,
    /// Lines below the table, such as `hinge 5 1/4″ above the concrete`.
    pub notes: Vec<String>,
}

const TEXT: f64 = 7.5;
/// From one line to the next: more than a symbol with its letter below is tall.
const LINE: f64 = 11.2;
/// The whole sketch is so wide, unless a word in it is wider.
const WIDE: f64 = 230.0;
/// The middle of the post, its half width, and how far a pier reaches.
const MIDDLE: f64 = 56.0;
const HALF: f64 = 10.0;
const PIER: f64 = 24.0;
/// Levels, from the top down: the cut through the post, its foot and hinge, what
/// the base stands on, the earth, and the foot of the whole.
const CUT: f64 = 30.0;
const FOOT: f64 = 106.0;
const HINGE: f64 = 96.0;
const TOP: f64 = 122.0;
const EARTH: f64 = 129.0;
const BOTTOM: f64 = 152.0;
/// Where y goes, on paper, and how long arrows are.
const BACK: Point = [0.83, -0.55];
const LONG: f64 = 32.0;

/// Where the list of values begins.
const LIST: f64 = 2.0 * MIDDLE + 10.0;

pub fn sketch(it: &Sketch) -> Drawing {
    let mut view = View::new(Scale { points: 1.0, units: Units::Imperial });
    post(&mut view);
    base(&mut view, it);
    ground(&mut view, it);
    let mut words = Vec::new();
    arrows(&mut view, &mut words, it);
    axes(&mut view, &mut words);
    let mut shapes = view.settle();
    shapes.extend(words);
    list(&mut shapes, it);
    let [left, top, right, bottom] = extent(&shapes);
    let shapes = shifted(shapes, [2.0 - left, 2.0 - top]);
    let (width, height) = (right - left + 4.0, bottom - top + 4.0);
    Drawing { width, height, alt: alt(it), scale: String::new(), points: 0.0, shapes }
}

/// What is drawn, with the values of its list.
fn alt(it: &Sketch) -> String {
    let base = match it.base {
        SketchBase::Blade => "a blade in a slot",
        SketchBase::SidePlates => "side plates",
        SketchBase::Sleeve => "a tube in a bore",
        SketchBase::Rated => "a rated base",
    };
    let ground = match it.ground {
        SketchGround::RoundPier => "a round pier",
        SketchGround::SquarePier => "a square pier",
        SketchGround::Pad => "a pad",
        SketchGround::Floor => "a floor",
    };
    let mut alt = format!("Foot of a post on {base} on {ground}, with the forces on the base.");
    let rows = rows(it);
    for acting in &it.acting {
        let values = rows.iter().map(|row| format!("{} {} {}", row.symbol, (row.of)(acting).text, row.unit));
        alt += &format!(" {}: {}.", acting.combination, values.collect::<Vec<_>>().join(", "));
    }
    alt
}

fn path(view: &mut View, points: &[Point], weight: f64) {
    for ends in points.windows(2) {
        view.stroke(ends[0], ends[1], weight, false);
    }
}

fn back(from: Point, by: f64) -> Point {
    [from[0] + by * BACK[0], from[1] + by * BACK[1]]
}

/// A box seen from the front, with what is seen of its top and its right side.
fn block(view: &mut View, [left, top, right, bottom]: [f64; 4], deep: f64, weight: f64) {
    let corners = [[left, bottom], [left, top], [right, top], [right, bottom]];
    path(view, &[corners[0], corners[1], corners[2], corners[3], corners[0]], weight);
    path(view, &[corners[1], back(corners[1], deep), back(corners[2], deep), corners[2]], MEDIUM);
    path(view, &[back(corners[2], deep), back(corners[3], deep), corners[3]], MEDIUM);
}

fn post(view: &mut View) {
    let (left, right) = (MIDDLE - HALF, MIDDLE + HALF);
    path(view, &[[left, CUT], [left, FOOT], [right, FOOT], [right, CUT]], HEAVY);
    let edge = |y| back([right, y], 7.0);
    path(view, &[[right, FOOT], edge(FOOT), edge(CUT)], MEDIUM);
    break_line(view, left, right + 6.0, -CUT);
}

fn base(view: &mut View, it: &Sketch) {
    let (left, right) = (MIDDLE - HALF, MIDDLE + HALF);
    // Without a gap, the base is on what it stands on.
    let under = if it.standoff { FOOT + 3.0 } else { TOP };
    path(view, &[[left, under], [right, under], [right, FOOT], [left, FOOT], [left, under]], MEDIUM);
    let rise = 24.0;
    match it.base {
        SketchBase::Blade => {
            for x in [MIDDLE - 1.2, MIDDLE + 1.2] {
                view.stroke([x, FOOT], [x, FOOT - rise], MEDIUM, true);
            }
            view.stroke([MIDDLE - 1.2, FOOT - rise], [MIDDLE + 1.2, FOOT - rise], MEDIUM, false);
        }
        SketchBase::Sleeve => {
            for x in [MIDDLE - 4.0, MIDDLE + 4.0] {
                view.stroke([x, FOOT], [x, FOOT - rise], MEDIUM, true);
            }
            view.stroke([MIDDLE - 4.0, FOOT - rise], [MIDDLE + 4.0, FOOT - rise], MEDIUM, true);
        }
        SketchBase::SidePlates | SketchBase::Rated => {
            for (x, out) in [(left, -2.4), (right, 2.4)] {
                path(view, &[[x, FOOT], [x + out, FOOT], [x + out, FOOT - rise], [x, FOOT - rise]], MEDIUM);
            }
        }
    }
    if it.standoff {
        let leg = if it.base == SketchBase::Rated { 8.0 } else { 3.5 };
        for x in [MIDDLE - leg, MIDDLE + leg] {
            view.stroke([x, under], [x, TOP - 2.5], MEDIUM, false);
        }
        path(view, &[[left, TOP], [left, TOP - 2.5], [right, TOP - 2.5], [right, TOP]], MEDIUM);
    }
    if it.hinge {
        view.circle([MIDDLE, -HINGE], 2.4, HEAVY);
    }
    if it.ground != SketchGround::Floor {
        for x in [MIDDLE - 6.5, MIDDLE + 6.5] {
            view.stroke([x, TOP], [x, TOP + 14.0], MEDIUM, true);
        }
    }
}

fn ground(view: &mut View, it: &Sketch) {
    let side = |half: f64| (MIDDLE - half, MIDDLE + half);
    let mut reach = side(PIER);
    match it.ground {
        SketchGround::Floor => {
            let (left, right) = side(MIDDLE - 6.0);
            for y in [TOP, TOP + 22.0] {
                view.stroke([left, y], [right, y], HEAVY, false);
            }
            view.stroke([left, TOP + 3.5], [right, TOP + 3.5], THIN, false);
            for x in [left, right] {
                path(view, &[[x, TOP], [x - 2.0, TOP + 10.0], [x + 2.0, TOP + 12.0], [x, TOP + 22.0]], MEDIUM);
            }
            return;
        }
        SketchGround::Pad => {
            reach = side(31.0);
            block(view, [reach.0, TOP, reach.1, BOTTOM], 9.0, HEAVY);
        }
        SketchGround::SquarePier => block(view, [reach.0, TOP, reach.1, BOTTOM], 9.0, HEAVY),
        SketchGround::RoundPier => {
            path(view, &[[reach.0, TOP], [reach.0, BOTTOM], [reach.1, BOTTOM], [reach.1, TOP]], HEAVY);
            let rim = |part: usize| {
                let (sine, cosine) = libm::sincos(part as f64 / 24.0 * std::f64::consts::TAU);
                [MIDDLE + PIER * cosine, TOP - 3.5 * sine]
            };
            path(view, &(0..=24).map(rim).collect::<Vec<_>>(), MEDIUM);
        }
    }
    if it.pad && it.ground != SketchGround::Pad {
        block(view, [MIDDLE - 40.0, BOTTOM - 9.0, MIDDLE + 40.0, BOTTOM], 0.0, HEAVY);
    }
    // The earth ends at the concrete.
    let seen = if it.ground == SketchGround::RoundPier { 0.0 } else { 7.5 };
    for (from, to) in [(4.0, reach.0), (reach.1 + seen, 2.0 * MIDDLE - 4.0)] {
        view.stroke([from, EARTH], [to, EARTH], MEDIUM, false);
        let mut x = from + 5.0;
        while x <= to {
            view.stroke([x, EARTH], [x - 4.0, EARTH + 4.0], THIN, false);
            x += 4.0;
        }
    }
}

/// The combinations in which a force acts one way: none where it does not, no
/// letters where it always does.
fn letters(it: &Sketch, of: &dyn Fn(&Acting) -> f64, way: f64) -> Option<String> {
    let acts: Vec<bool> = it.acting.iter().map(|acting| of(acting) * way > 0.0).collect();
    if !acts.contains(&true) {
        return None;
    }
    if acts.iter().all(|acts| *acts) {
        return Some(String::new());
    }
    let named = acts.iter().zip(&it.acting).filter(|(acts, _)| **acts).map(|(_, acting)| acting.letter.clone());
    Some(format!(" {}", named.collect::<Vec<_>>().join(", ")))
}

/// Between a letter and the one below the line, so that their boxes never touch.
const AIR: f64 = 0.2;

/// `H_x a, b` with the x set below the line; how wide it comes out.
fn symbol(shapes: &mut Vec<Shape>, at: Point, end: bool, name: &str, rest: &str) {
    let (base, below) = name.split_once('_').unwrap_or((name, ""));
    let widths = [(base, TEXT), (below, 7.0), (rest, TEXT)].map(|(text, size)| text_width(text, size, false));
    let mut x = if end { at[0] - widths.iter().sum::<f64>() - 2.0 * AIR } else { at[0] };
    for ((text, size, down), wide) in [(base, TEXT, 0.0), (below, 7.0, 1.8), (rest, TEXT, 0.0)].into_iter().zip(widths)
    {
        // A blank before the letters is left, not set.
        let shown = text.trim_start();
        if !shown.is_empty() {
            let after = x + wide - text_width(shown, size, false);
            shapes.push(text_at([after, at[1] + down], "start", size, false, shown.into()));
        }
        x += wide + AIR;
    }
}

fn arrows(view: &mut View, words: &mut Vec<Shape>, it: &Sketch) {
    let (left, right) = (MIDDLE - HALF, MIDDLE + HALF + 6.0);
    let p = |acting: &Acting| acting.p.value;
    let (down, up) = (letters(it, &p, 1.0), letters(it, &p, -1.0));
    let aside = if down.is_some() && up.is_some() { 5.0 } else { 0.0 };
    if let Some(named) = down {
        view.arrow([MIDDLE - aside, 2.0], [MIDDLE - aside, CUT - 7.0], HEAVY);
        symbol(words, [MIDDLE - aside - 4.0, 11.0], true, "P", &named);
    }
    if let Some(named) = up {
        view.arrow([MIDDLE + aside, CUT - 7.0], [MIDDLE + aside, 2.0], HEAVY);
        symbol(words, [MIDDLE + aside + 4.0, 11.0], false, "P", &named);
    }
    for axis in 0..2 {
        let w = |acting: &Acting| acting.w[axis].value;
        let h = |acting: &Acting| acting.h[axis].value;
        let (w_name, h_name) = [("w_x", "H_x"), ("w_y", "H_y")][axis];
        for way in [1.0, -1.0] {
            if let Some(named) = letters(it, &w, way) {
                wind(view, axis, way);
                let (end, at) = match (axis, way > 0.0) {
                    (0, true) => (true, [left - 5.0, 34.0]),
                    (0, false) => (false, [right + 8.0, 34.0]),
                    (_, true) => (false, [right + 12.0, 62.0]),
                    (_, false) => (true, [left - 21.0, 78.0]),
                };
                symbol(words, at, end, w_name, &named);
            }
            let Some(named) = letters(it, &h, way) else { continue };
            match (axis, way > 0.0) {
                (0, true) => {
                    view.arrow([left - 4.0 - LONG, HINGE], [left - 4.0, HINGE], HEAVY);
                    symbol(words, [left - 12.0, HINGE - 4.0], true, h_name, &named);
                }
                (0, false) => {
                    view.arrow([right + LONG, HINGE], [right, HINGE], HEAVY);
                    symbol(words, [right + 20.0, HINGE - 4.0], false, h_name, &named);
                }
                (_, true) => {
                    view.arrow([MIDDLE, HINGE], back([MIDDLE, HINGE], LONG + 8.0), HEAVY);
                    symbol(words, [right + 20.0, HINGE - 19.0], false, h_name, &named);
                }
                (_, false) => {
                    view.arrow([MIDDLE, HINGE], back([MIDDLE, HINGE], -LONG + 5.0), HEAVY);
                    symbol(words, [MIDDLE - 33.0, HINGE + 20.0], true, h_name, &named);
                }
            }
        }
    }
    moment(view, words, it);
}

/// Three short arrows on the post, from the side or from the front.
fn wind(view: &mut View, axis: usize, way: f64) {
    let (left, right) = (MIDDLE - HALF, MIDDLE + HALF + 6.0);
    for at in 0..3 {
        let step = f64::from(at);
        match (axis, way > 0.0) {
            (0, true) => view.arrow([left - 18.0, 39.0 + 6.5 * step], [left - 2.0, 39.0 + 6.5 * step], THIN),
            (0, false) => view.arrow([right + 18.0, 39.0 + 6.5 * step], [right + 2.0, 39.0 + 6.5 * step], THIN),
            (_, true) => {
                let from = [MIDDLE + 10.0, 66.0 + 5.0 * step];
                view.arrow(from, back(from, 16.0), THIN);
            }
            (_, false) => {
                let from = [MIDDLE - 8.0, 62.0 + 5.0 * step];
                view.arrow(from, back(from, -16.0), THIN);
            }
        }
    }
}

/// An arc about the foot for the moment in the plane of the sketch, with a head
/// at the end that it turns to: two where it turns both ways.
fn moment(view: &mut View, words: &mut Vec<Shape>, it: &Sketch) {
    let takes = |way: f64| it.acting.iter().any(|acting| acting.m[0].value * way > 0.0);
    let arc = |part: usize| {
        let (sine, cosine) = libm::sincos((-70.0 + 115.0 * part as f64 / 12.0).to_radians());
        [MIDDLE + 3.0 + 26.0 * cosine, HINGE + 6.0 + 20.0 * sine]
    };
    if !takes(1.0) && !takes(-1.0) {
        return;
    }
    path(view, &(1..12).map(arc).collect::<Vec<_>>(), HEAVY);
    for (way, from, to) in [(1.0, 11, 12), (-1.0, 1, 0)] {
        if takes(way) {
            view.arrow(arc(from), arc(to), HEAVY);
        }
    }
    symbol(words, [MIDDLE + 35.0, HINGE + 13.0], false, "M_x", "");
}

/// x to the right, y going back.
fn axes(view: &mut View, words: &mut Vec<Shape>) {
    let at = [6.0, BOTTOM + 22.0];
    view.arrow(at, [at[0] + 20.0, at[1]], THIN);
    view.arrow(at, back(at, 20.0), THIN);
    words.push(text_at([at[0] + 22.0, at[1] + 2.5], "start", TEXT, false, "x".into()));
    let tip = back(at, 20.0);
    words.push(text_at([tip[0] + 2.0, tip[1] + 1.5], "start", TEXT, false, "y".into()));
}

/// A line of the table.
struct Row<'a> {
    symbol: &'static str,
    unit: &'a str,
    of: fn(&Acting) -> &Force,
}

/// The forces that act; of P and the shears those that are zero too.
fn rows(it: &Sketch) -> Vec<Row<'_>> {
    let [force, wind, moment] = &it.units;
    let all: [Row; 7] = [
        Row { symbol: "P", unit: force, of: |it| &it.p },
        Row { symbol: "H_x", unit: force, of: |it| &it.h[0] },
        Row { symbol: "H_y", unit: force, of: |it| &it.h[1] },
        Row { symbol: "w_x", unit: wind, of: |it| &it.w[0] },
        Row { symbol: "w_y", unit: wind, of: |it| &it.w[1] },
        Row { symbol: "M_x", unit: moment, of: |it| &it.m[0] },
        Row { symbol: "M_y", unit: moment, of: |it| &it.m[1] },
    ];
    let acts = |row: &Row| it.acting.iter().any(|acting| (row.of)(acting).value != 0.0);
    all.into_iter().enumerate().filter(|(at, row)| *at < 3 || acts(row)).map(|(_, row)| row).collect()
}

/// The values, a column a combination, and the notes below; how far down it reaches.
fn list(shapes: &mut Vec<Shape>, it: &Sketch) -> f64 {
    let rows = rows(it);
    let wide = |text: &str| text_width(text, TEXT, false);
    let head = rows.iter().map(|row| wide(row.unit)).fold(0.0, f64::max);
    let mut y = 12.0;
    let mut column = LIST + 17.0 + head;
    for acting in &it.acting {
        let own = rows.iter().map(|row| wide(&(row.of)(acting).text)).fold(8.0, f64::max);
        column += own + 6.0;
        shapes.push(text_at([column, y], "end", TEXT, true, acting.letter.clone()));
        for (down, row) in rows.iter().enumerate() {
            let at = [column, y + LINE * (down as f64 + 1.0) + 2.0];
            shapes.push(text_at(at, "end", TEXT, false, (row.of)(acting).text.clone()));
        }
    }
    shapes.push(Shape::Line { from: [LIST, y + 3.5], to: [column, y + 3.5], weight: MEDIUM, dash: false });
    for (down, row) in rows.iter().enumerate() {
        let at = [LIST, y + LINE * (down as f64 + 1.0) + 2.0];
        symbol(shapes, at, false, row.symbol, "");
        shapes.push(text_at([LIST + 16.0, at[1]], "start", TEXT, false, row.unit.into()));
    }
    y += LINE * rows.len() as f64 + 2.0;
    let room = (column - LIST).max(WIDE - LIST);
    for line in it.notes.iter().flat_map(|note| wrapped(note, room)) {
        y += LINE;
        shapes.push(text_at([LIST, y + 4.0], "start", TEXT, false, line));
    }
    y + 8.0
}

/// Words in lines of a width; a single word that is wider stays whole.
pub(super) fn wrapped(text: &str, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if text_width(&format!("{line} {word}"), TEXT, false) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.into()),
        }
    }
    lines
}
