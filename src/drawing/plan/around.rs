//! What is over the posts and beside them: the roof, its slope, winds, axes and north.

use super::super::geometry::{Extent, Point, crosses, extent};
use super::super::view::{HEAVY, MEDIUM};
use super::super::{Shape, apart, text_width};
use super::{NOTE, Plan, Sheet};

/// How long the arrow of a wind is, and how many names stand in one line at it.
const WIND: f64 = 24.0;
const NAMES: usize = 4;

impl Sheet {
    pub(super) fn roof(&mut self, it: &Plan) {
        let dots = self.most.is_some();
        for area in it.posts.iter().filter_map(|post| post.area).filter(|_| !dots) {
            self.rectangle(area, 0.25, false);
        }
        let Some(roof) = &it.roof else { return };
        self.rectangle(roof.outline, MEDIUM, false);
        let [x_1, x_2, y_1, y_2] = roof.outline;
        if let Some((axis, at, name)) = roof.ridge {
            let ends = if axis == 0 { [[x_1, at], [x_2, at]] } else { [[at, y_1], [at, y_2]] };
            let [from, to] = ends.map(|end| self.place(end));
            // The name stands at the end where the axis goes, past a post that stands there.
            let wide = text_width(name, NOTE, false);
            let (mut tip, mut words, anchor) = if axis == 0 {
                ([to[0] + 6.0, to[1]], [to[0] + 9.0, to[1] + 2.5], "start")
            } else {
                ([to[0], to[1] - 6.0], [to[0], to[1] - 9.0], "middle")
            };
            let (way, left) = if axis == 0 { (1.0, 0.0) } else { (-1.0, wide / 2.0) };
            let boxed = |at: Point| [at[0] - left, at[1] - NOTE, at[0] - left + wide, at[1] + 0.25 * NOTE];
            while !self.symbols.iter().all(|post| apart(&boxed(words), post)) {
                words[axis] += 4.0 * way;
                tip[axis] += 4.0 * way;
            }
            self.text(words, anchor, NOTE, false, name);
            self.dashes(from, tip);
        }
    }

    /// An arrow down the slope of a monoslope, where no post stands.
    pub(super) fn slope(&mut self, it: &Plan) {
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

    /// Arrows outside the plan, each on the side that its winds come from.
    pub(super) fn winds(&mut self, it: &Plan) {
        let third = [self.frame[2] / 3.0, self.frame[3] / 3.0];
        for (way, names) in it.winds.iter().enumerate().filter(|(_, names)| !names.is_empty()) {
            // The names of one wind reach below a small plan, where those of another stand.
            let all = self.extent();
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
    pub(super) fn corners(&mut self, it: &Plan) {
        let all = self.extent();
        let at = self.corner_of([36.0, 36.0], all, false);
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
