//! The key plan: posts where they stand, to scale, with their marks, the roof
//! over them, axes, north, and the ways in which each wind pushes.

use super::view::{Extent, HEAVY, MEDIUM, Point, THIN, crosses, distance, extent, meet, shifted};
use super::{Drawing, Shape, apart, text_at, text_width};
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
const IMPERIAL: [(f64, &str); 13] = [
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
const METRIC: [(f64, &str); 13] = [
    (20.0 / 12.0, "1:20"),
    (25.0 / 12.0, "1:25"),
    (40.0 / 12.0, "1:40"),
    (50.0 / 12.0, "1:50"),
    (75.0 / 12.0, "1:75"),
    (100.0 / 12.0, "1:100"),
    (125.0 / 12.0, "1:125"),
    (200.0 / 12.0, "1:200"),
    (250.0 / 12.0, "1:250"),
    (400.0 / 12.0, "1:400"),
    (500.0 / 12.0, "1:500"),
    (1000.0 / 12.0, "1:1000"),
    (2000.0 / 12.0, "1:2000"),
];

const MARK: f64 = 9.0;
const NOTE: f64 = 7.5;
/// From what is drawn to the dimensions, and from those to the next.
const GAP: f64 = 14.0;
const TICK: f64 = 2.5;
/// How long the arrow of a wind is, and how many names stand in one line at it.
const WIND: f64 = 24.0;
const NAMES: usize = 4;

/// A plan that is laid out.
pub struct Planned {
    pub drawing: Drawing,
    /// Only the marks found room: what belongs under them has to stand elsewhere.
    pub bare: bool,
    /// Posts whose marks found no room either.
    pub unmarked: usize,
}

/// As many marks without room are led out of the plan; where there are more, the
/// drawing would be all leaders.
const LED_OUT: usize = 20;

/// Lays the plan out in a frame of so many points, at the largest scale that
/// goes into it; where the posts are too close for all that belongs to them,
/// with their marks alone.
pub fn plan(it: &Plan, width: f64, height: f64, units: Units) -> Planned {
    let mut last = None;
    for bare in [false, true] {
        for (feet, scale) in units.either(IMPERIAL, METRIC) {
            let (drawing, crowded, unmarked) = at_scale(it, 72.0 / feet, scale, bare, units);
            if drawing.width > width || drawing.height > height {
                last = Some((drawing, unmarked));
                continue;
            }
            if !crowded || bare {
                return Planned { drawing, bare, unmarked };
            }
            // A smaller scale only crowds them more.
            break;
        }
    }
    let (drawing, unmarked) = last.expect("a scale");
    Planned { drawing, bare: true, unmarked }
}

/// The plan, and whether some mark found no room.
fn at_scale(it: &Plan, points: f64, scale: &str, bare: bool, units: Units) -> (Drawing, bool, usize) {
    let mut sheet = Sheet::new(it, points);
    sheet.roof(it);
    sheet.symbols(it);
    sheet.slope(it);
    let (crowded, unmarked) = sheet.marks(it, bare);
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
    let marks = it.posts.iter().map(|post| post.mark.as_str()).collect::<Vec<_>>().join(", ");
    let mut alt = format!("Key plan, {scale}: {marks}.");
    for (way, names) in ["+x", "−x", "+y", "−y"].iter().zip(&it.winds).filter(|(_, names)| !names.is_empty()) {
        alt += &format!(" Wind toward {way}: {}.", names.join(", "));
    }
    if let Some(north) = it.north {
        alt += &format!(" North is {north:.0} degrees clockwise from +y.");
    }
    let [width, height] = [right - left + 4.0, bottom - top + 4.0];
    (Drawing { width, height, alt, scale: scale.into(), shapes }, crowded, unmarked)
}

/// Where a text stands, and the line that leads to its post.
type Place = (Extent, Option<[Point; 2]>);

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
        let far = libm::hypot(tip[0] - tail[0], tip[1] - tail[1]);
        let along = [(tip[0] - tail[0]) / far, (tip[1] - tail[1]) / far];
        let back = |by: f64, aside: f64| {
            [tip[0] - by * along[0] - aside * along[1], tip[1] - by * along[1] + aside * along[0]]
        };
        self.line(tail, back(5.0, 0.0), weight);
        let points = vec![tip, back(7.0, 2.2), back(7.0, -2.2)];
        self.shapes.push(Shape::Polygon { points, weight: 0.0, filled: true });
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

    fn roof(&mut self, it: &Plan) {
        for area in it.posts.iter().filter_map(|post| post.area) {
            self.rectangle(area, 0.25, false);
        }
        let Some(roof) = &it.roof else { return };
        self.rectangle(roof.outline, MEDIUM, false);
        let [x_1, x_2, y_1, y_2] = roof.outline;
        if let Some((axis, at, name)) = roof.ridge {
            let ends = if axis == 0 { [[x_1, at], [x_2, at]] } else { [[at, y_1], [at, y_2]] };
            let [from, to] = ends.map(|end| self.place(end));
            // The name stands at the end where the axis goes.
            let (tip, words) = if axis == 0 {
                ([to[0] + 6.0, to[1]], ([to[0] + 9.0, to[1] + 2.5], "start"))
            } else {
                ([to[0], to[1] - 6.0], ([to[0], to[1] - 9.0], "middle"))
            };
            self.text(words.0, words.1, NOTE, false, name);
            self.dashes(from, tip);
        }
    }

    /// An arrow down the slope of a monoslope, where no post stands.
    fn slope(&mut self, it: &Plan) {
        let Some((axis, plus)) = it.roof.as_ref().and_then(|roof| roof.rises) else { return };
        let long = (self.frame[2 + axis] - self.frame[axis]).clamp(16.0, 48.0);
        let word = text_width("down", NOTE, false);
        // The arrow, and its word over it or at its right.
        let size = if axis == 0 { [long.max(word), 14.0] } else { [word + 8.0, long] };
        let part = |no: i32| [0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95][no as usize];
        let spots = (0..7).flat_map(|x| (0..7).map(move |y| [part(x), part(y)]));
        let boxed = |part: Point| {
            let at = [0, 1].map(|axis| self.frame[axis] + part[axis] * (self.frame[2 + axis] - self.frame[axis]));
            [at[0] - size[0] / 2.0, at[1] - size[1] / 2.0, at[0] + size[0] / 2.0, at[1] + size[1] / 2.0]
        };
        let free = |own: &Extent| self.symbols.iter().chain(&self.texts).all(|other| apart(own, other));
        let crossed = |own: &Extent| self.lines.iter().filter(|line| crosses([line.from, line.to], own)).count();
        let Some(own) = spots.map(boxed).filter(free).min_by_key(crossed) else { return };
        // Down is away from the high side; y goes down on paper.
        let forward = plus != (axis == 0);
        let (start, end) = if axis == 0 {
            ([own[0], own[3] - 2.0], [own[0] + long, own[3] - 2.0])
        } else {
            ([own[0] + 3.0, own[1]], [own[0] + 3.0, own[3]])
        };
        let (tail, tip) = if forward { (start, end) } else { (end, start) };
        self.arrow(tail, tip, MEDIUM);
        let at = if axis == 0 { [own[0], own[3] - 5.0] } else { [own[0] + 7.0, (own[1] + own[3]) / 2.0 + 2.5] };
        self.text(at, "start", NOTE, false, "down");
        self.symbols.push(own);
    }

    /// A line of dashes and dots: the ridge, on no other line.
    fn dashes(&mut self, from: Point, to: Point) {
        let far = libm::hypot(to[0] - from[0], to[1] - from[1]).max(1e-9);
        let at = |run: f64| [0, 1].map(|axis| from[axis] + (to[axis] - from[axis]) * (run / far).min(1.0));
        let mut run = 0.0;
        while run < far {
            self.guide(at(run), at(run + 14.0), HEAVY, false);
            if run + 17.0 < far {
                self.guide(at(run + 17.0), at(run + 18.5), HEAVY, false);
            }
            run += 21.5;
        }
    }

    fn half(&self, post: &PlanPost) -> Point {
        post.size.map(|size| (size * self.points / 2.0).max(2.5))
    }

    fn symbols(&mut self, it: &Plan) {
        for post in &it.posts {
            let (at, half) = (self.place(post.at), self.half(post));
            let mut arm = half.map(|half| if post.ok { half } else { half + 2.5 });
            self.shapes.push(Shape::Rect {
                at: [at[0] - half[0], at[1] - half[1]],
                size: [2.0 * half[0], 2.0 * half[1]],
                weight: 0.8,
                filled: post.ok,
            });
            // A post whose limits are not all met is open and crossed out.
            if !post.ok {
                for sign in [1.0, -1.0] {
                    let reach = [arm[0], arm[1] * sign];
                    self.line([at[0] - reach[0], at[1] - reach[1]], [at[0] + reach[0], at[1] + reach[1]], 0.8);
                }
            }
            if let Some(axis) = post.blade {
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

    /// The marks beside their posts: near if there is room, else farther off, with
    /// a line that leads to the post.
    fn marks(&mut self, it: &Plan, bare: bool) -> (bool, usize) {
        // Grid lines do not stand yet, but a text had better leave them alone.
        let grid: Vec<[Point; 2]> = [0, 1]
            .into_iter()
            .flat_map(|axis| grid_lines(&it.posts, axis).into_iter().map(move |line| (axis, line)))
            .map(|(axis, line)| {
                let at = self.place([line, line])[axis];
                if axis == 0 { [[at, -900.0], [at, 9000.0]] } else { [[-900.0, at], [9000.0, at]] }
            })
            .collect();
        // Those in the middle first: the others have room outside.
        let middle = [0, 1].map(|axis| (self.frame[axis] + self.frame[2 + axis]) / 2.0);
        let mut posts: Vec<&PlanPost> = it.posts.iter().collect();
        posts.sort_by(|a, b| {
            let [a, b] = [a, b].map(|post| distance(self.place(post.at), middle));
            a.total_cmp(&b)
        });
        let sides = sides();
        let mut without = 0;
        for (at, post) in posts.iter().enumerate() {
            if !self.mark(post, if bare { &[] } else { &post.notes }, &grid, &sides) {
                without += 1;
                // It is drawn again with the marks alone.
                if !bare {
                    return (true, 0);
                }
            }
            if without > LED_OUT {
                return (true, posts.len() - at - 1);
            }
        }
        (without > 0, 0)
    }

    /// Whether it found a place.
    fn mark(&mut self, post: &PlanPost, notes: &[String], grid: &[[Point; 2]], sides: &[Point]) -> bool {
        let (at, half) = (self.place(post.at), self.half(post));
        let wide =
            notes.iter().map(|note| text_width(note, NOTE, false)).fold(text_width(&post.mark, MARK, true), f64::max);
        let tall = 1.25 * (MARK + NOTE * notes.len() as f64) + 0.5 * notes.len() as f64;
        let boxed = |step: usize, side: Point| {
            let gap = 4.0 + 9.0 * step as f64;
            let corner = |axis: usize, own: f64| match side[axis] {
                out if out > 0.0 => at[axis] + half[axis] + gap * out,
                out if out < 0.0 => at[axis] - half[axis] + gap * out - own,
                _ => at[axis] - own / 2.0,
            };
            let corner = [corner(0, wide), corner(1, tall)];
            [corner[0], corner[1], corner[0] + wide, corner[1] + tall]
        };
        let mut best: (f64, Option<Place>) = (f64::INFINITY, None);
        for step in 0..STEPS {
            // A place is never better than how far off it is.
            if 10.0 * step as f64 >= best.0 {
                break;
            }
            for (rank, side) in sides.iter().enumerate() {
                let own = boxed(step, *side);
                let leader = (step > 0).then(|| [at, [at[0].clamp(own[0], own[2]), at[1].clamp(own[1], own[3])]]);
                let price = 10.0 * step as f64 + 0.2 * rank as f64 + self.price(&own, leader, grid);
                if price < best.0 {
                    best = (price, Some((own, leader)));
                }
            }
        }
        // Where all is full, under the whole plan.
        let below = || {
            let all = self.extent();
            let own = [all[0], all[3] + 4.0, all[0] + wide, all[3] + 4.0 + tall];
            (own, Some([at, [own[0], own[1]]]))
        };
        let (own, leader) = best.1.unwrap_or_else(below);
        if let Some([from, to]) = leader {
            self.line(from, to, THIN);
            self.leaders.push([from, to]);
        }
        let mut y = own[1] + MARK;
        self.text([own[0], y], "start", MARK, true, &post.mark);
        y += 0.25 * MARK;
        for note in notes {
            y += NOTE + 0.5;
            self.text([own[0], y], "start", NOTE, false, note);
            y += 0.25 * NOTE;
        }
        best.1.is_some()
    }

    /// What it costs to put a text there: endless on another text or a post, some
    /// on every line that it interrupts.
    fn price(&self, own: &Extent, leader: Option<[Point; 2]>, grid: &[[Point; 2]]) -> f64 {
        let free = |own: &Extent| self.texts.iter().chain(&self.symbols).all(|other| apart(own, other));
        let run_through = |line: &[Point; 2]| crosses(*line, own);
        let led = |ends: [Point; 2]| {
            // A leader begins in its own post.
            let start =
                self.symbols.iter().position(|other| !apart(&[ends[0][0], ends[0][1], ends[0][0], ends[0][1]], other));
            let posts = self.symbols.iter().enumerate().filter(|(at, _)| Some(*at) != start);
            self.texts.iter().chain(posts.map(|(_, other)| other)).any(|other| crosses(ends, other))
        };
        if !free(own) || self.leaders.iter().any(run_through) || leader.is_some_and(led) {
            return f64::INFINITY;
        }
        let lines = self.lines.iter().filter(|line| crosses([line.from, line.to], own)).count();
        let met = leader.map_or(0, |ends| self.leaders.iter().filter(|other| meet(ends, **other)).count());
        let outside = usize::from(own[0] < -70.0 || own[1] < -50.0);
        6.0 * lines as f64
            + 6.0 * grid.iter().filter(|line| run_through(line)).count() as f64
            + 30.0 * met as f64
            + 40.0 * outside as f64
    }

    /// Grid lines, and the distances between them: below and at the right.
    fn dimensions(&mut self, it: &Plan, units: Units) {
        let all = self.extent();
        let edges = [all[3] + GAP, all[2] + GAP];
        for (axis, edge) in edges.into_iter().enumerate() {
            let lines = grid_lines(&it.posts, axis);
            let point = |along: f64, across: f64| if axis == 0 { [along, across] } else { [across, along] };
            let drawn: Vec<f64> = lines.iter().map(|line| self.place([*line, *line])[axis]).collect();
            for at in &drawn {
                let near = if axis == 0 { all[1] - 4.0 } else { all[0] - 4.0 };
                self.guide(point(*at, near), point(*at, edge + 4.0), THIN, true);
            }
            let (Some(first), Some(last)) = (drawn.first(), drawn.last()) else { continue };
            if drawn.len() < 2 {
                continue;
            }
            self.line(point(*first, edge), point(*last, edge), 0.4);
            for at in &drawn {
                let [x, y] = point(*at, edge);
                self.line([x - TICK, y + TICK], [x + TICK, y - TICK], 0.6);
            }
            let spans: Vec<(String, f64)> = lines
                .windows(2)
                .zip(drawn.windows(2))
                .map(|(pair, ends)| (units.run(pair[1] - pair[0]), (ends[0] + ends[1]) / 2.0))
                .collect();
            self.distances(&spans, axis, edge);
        }
    }

    /// Each distance beside its part of the chain. Where they are too close, all
    /// stand off in their order, each with a line that leads to its part: below,
    /// in as many rows as they need.
    fn distances(&mut self, spans: &[(String, f64)], axis: usize, edge: f64) {
        let wide = |text: &str| text_width(text, NOTE, false) + 6.0;
        let room = |text: &str| if axis == 0 { wide(text) } else { ROW };
        let pairs = || spans.iter().zip(&spans[1..]);
        let near = pairs().any(|(a, b)| (b.1 - a.1).abs() < (room(&a.0) + room(&b.0)) / 2.0);
        if !near {
            for (text, middle) in spans {
                let (at, anchor) = if axis == 0 {
                    ([*middle, edge + 10.0], "middle")
                } else {
                    ([edge + 4.0, middle + NOTE / 3.0], "start")
                };
                self.text(at, anchor, NOTE, false, text);
            }
            return;
        }
        // On paper the chain of y runs down.
        let mut order: Vec<&(String, f64)> = spans.iter().collect();
        order.sort_by(|a, b| a.1.total_cmp(&b.1));
        if axis == 1 {
            let places = spread(&order.iter().map(|(_, middle)| (*middle, ROW)).collect::<Vec<_>>());
            for ((text, middle), at) in order.into_iter().zip(places) {
                self.line([edge, *middle], [edge + 14.0, at], THIN);
                self.text([edge + 16.0, at + NOTE / 3.0], "start", NOTE, false, text);
            }
            return;
        }
        // In steps: of those that stand together, the first is in the lowest row, so
        // that each line goes down at the left of the texts over it.
        let widest = order.iter().map(|(text, _)| wide(text)).fold(0.0, f64::max);
        let span = order[order.len() - 1].1 - order[0].1 + 2.0 * widest;
        let rows = ((order.len() as f64 * widest / span).ceil() as usize).clamp(2, 8);
        let stairs: Vec<&[&(String, f64)]> = order.chunks(rows).collect();
        let long = widest + STEP * rows as f64;
        let middle =
            |stair: &[&(String, f64)]| stair.iter().map(|(_, middle)| middle).sum::<f64>() / stair.len() as f64;
        let places = spread(&stairs.iter().map(|stair| (middle(stair), long)).collect::<Vec<_>>());
        for (stair, place) in stairs.iter().zip(places) {
            for (at, (text, middle)) in stair.iter().enumerate() {
                let x = place - long / 2.0 + STEP * at as f64;
                let y = edge + 12.0 + ROW * (stair.len() - at) as f64;
                self.line([*middle, edge], [x, edge + 12.0], THIN);
                self.line([x, edge + 12.0], [x, y - 2.0], THIN);
                self.text([x + 2.0, y - 2.5], "start", NOTE, false, text);
            }
        }
    }

    /// Arrows outside the plan, each on the side that its winds come from.
    fn winds(&mut self, it: &Plan) {
        let all = self.extent();
        let third = [self.frame[2] / 3.0, self.frame[3] / 3.0];
        for (way, names) in it.winds.iter().enumerate().filter(|(_, names)| !names.is_empty()) {
            let (axis, plus) = (way / 2, way % 2 == 0);
            let lines: Vec<String> = names.chunks(NAMES).map(|names| names.join(", ")).collect();
            let wide = lines.iter().map(|line| text_width(line, NOTE, false)).fold(WIND, f64::max);
            let tall = 9.6 * lines.len() as f64;
            if axis == 0 {
                // The names stand over the arrow.
                let x = if plus { all[0] - 10.0 - wide } else { all[2] + 10.0 };
                let y = third[1].max(tall + 4.0);
                let (from, to) = ([x, y], [x + WIND, y]);
                let shift = if plus { wide - WIND } else { 0.0 };
                let [from, to] = [from, to].map(|at| [at[0] + shift, at[1]]);
                if plus {
                    self.arrow(from, to, HEAVY)
                } else {
                    self.arrow(to, from, HEAVY)
                }
                let (edge, anchor) = if plus { (to[0], "end") } else { (from[0], "start") };
                for (at, line) in lines.iter().rev().enumerate() {
                    self.text([edge, y - 4.5 - 9.6 * at as f64], anchor, NOTE, false, line);
                }
            } else {
                // Toward +y is up the sheet, from below; the names stand beside it.
                let y = if plus { all[3] + 10.0 } else { all[1] - 10.0 - WIND.max(tall) };
                let x = third[0];
                let (high, low) = ([x, y], [x, y + WIND]);
                if plus {
                    self.arrow(low, high, HEAVY)
                } else {
                    self.arrow(high, low, HEAVY)
                }
                for (at, line) in lines.iter().enumerate() {
                    self.text([x + 5.0, y + 9.0 + 9.6 * at as f64], "start", NOTE, false, line);
                }
            }
        }
    }

    /// The axes at the lower left, and north at the upper right.
    fn corners(&mut self, it: &Plan) {
        let all = self.extent();
        let at = self.corner_of([36.0, 34.0], all, false);
        let origin = [at[0] + 3.0, at[1] + 31.0];
        let (x, y) = ([origin[0] + 22.0, origin[1]], [origin[0], origin[1] - 22.0]);
        self.arrow(origin, x, MEDIUM);
        self.arrow(origin, y, MEDIUM);
        self.text([x[0] + 3.0, x[1] + 2.0], "start", NOTE, false, "x");
        self.text([y[0] + 4.0, y[1] + 5.0], "start", NOTE, false, "y");
        let Some(north) = it.north else { return };
        let at = self.corner_of([46.0, 46.0], all, true);
        let middle = [at[0] + 23.0, at[1] + 23.0];
        let (sine, cosine) = libm::sincos(north.to_radians());
        let along =
            |by: f64, aside: f64| [middle[0] + by * sine + aside * cosine, middle[1] - by * cosine + aside * sine];
        self.line(along(-16.0, 0.0), along(10.0, 0.0), MEDIUM);
        let half = vec![along(12.0, 0.0), along(-2.0, -4.5), along(1.5, 0.0)];
        self.shapes.push(Shape::Polygon { points: half, weight: 0.0, filled: true });
        let other = vec![along(12.0, 0.0), along(-2.0, 4.5), along(1.5, 0.0)];
        self.shapes.push(Shape::Polygon { points: other, weight: MEDIUM, filled: false });
        let name = along(17.5, 0.0);
        self.text([name[0], name[1] + 3.0], "middle", NOTE, true, "N");
    }

    /// The upper left of a free place of a size: at the right and top, or at the
    /// left and below; in the paper that is used, else just outside it.
    fn corner_of(&self, size: Point, all: Extent, upper_right: bool) -> Point {
        let taken: Vec<Extent> =
            self.shapes.iter().map(|shape| shape.text_box().unwrap_or_else(|| extent([shape]))).collect();
        let free = |at: &Point| {
            let own = [at[0], at[1], at[0] + size[0], at[1] + size[1]];
            let posts = self.symbols.iter().chain([&self.frame]);
            taken.iter().chain(posts).all(|other| apart(&own, other))
        };
        let steps = |axis: usize| {
            let (low, high) = (all[axis], all[2 + axis] - size[axis]);
            (0..=8).map(move |part| low + (high - low).max(0.0) * f64::from(part) / 8.0)
        };
        let spots: Vec<Point> = if upper_right {
            steps(1).flat_map(|y| steps(0).rev().map(move |x| [x, y])).collect()
        } else {
            steps(1).rev().flat_map(|y| steps(0).map(move |x| [x, y])).collect()
        };
        let outside = if upper_right { [all[2] + 2.0, all[1]] } else { [all[0] - size[0] - 2.0, all[3] - size[1]] };
        spots.into_iter().find(free).unwrap_or(outside)
    }
}

/// Ways in which the mark of a post may stand off, corners first: out to 1 along
/// the greater of both.
fn sides() -> Vec<Point> {
    let corners =
        [[1.0, -1.0], [-1.0, -1.0], [1.0, 1.0], [-1.0, 1.0], [0.0, -1.0], [0.0, 1.0], [1.0, 0.0], [-1.0, 0.0]];
    let parts = [0.2, 0.5, 0.75].into_iter().flat_map(|part| [[part, 1.0], [1.0, part]]);
    let ways = [[1.0, -1.0], [-1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]];
    let between = parts.flat_map(|part| ways.map(|way| [part[0] * way[0], part[1] * way[1]]));
    corners.into_iter().chain(between).collect()
}

/// How far off a mark may go.
const STEPS: usize = 30;

/// From one row of distances to the next, and from one line that leads to them to
/// the next.
const ROW: f64 = 9.8;
const STEP: f64 = 4.0;

/// Places in order, each as near to where it would be as its neighbours let it:
/// each has the room that goes with it.
fn spread(wanted: &[(f64, f64)]) -> Vec<f64> {
    // Runs of places that touch: where the first is, how far they reach, how many.
    let mut runs: Vec<(f64, f64, usize)> = Vec::new();
    for (at, room) in wanted {
        let mut run = (at - room / 2.0, *room, 1);
        while let Some((from, long, count)) = runs.last().copied().filter(|(from, long, _)| from + long > run.0) {
            runs.pop();
            // Two runs meet where both would rather be, by how many they are.
            let (own, other) = (run.2 as f64, count as f64);
            let start = (other * from + own * (run.0 - long)) / (own + other);
            run = (start, long + run.1, count + run.2);
        }
        runs.push(run);
    }
    let mut rooms = wanted.iter().map(|(_, room)| room);
    let mut places = Vec::new();
    for (start, _, count) in runs {
        let mut at = start;
        for room in rooms.by_ref().take(count) {
            places.push(at + room / 2.0);
            at += room;
        }
    }
    places
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
