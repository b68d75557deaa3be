//! One view of a thing, drawn in inches with y upwards, at a scale. Lines stand
//! where they are put; texts wait and look for a free place once all lines stand.

use super::geometry::{Extent, Point, crosses, distance, edges_of, extent, goes_round, ink, meet};
use super::{Shape, apart, text_at, text_width};
use crate::quantity::Units;

/// Line weights: what explains, what is behind or beside, what is cut or seen.
pub(super) const THIN: f64 = 0.3;
pub(super) const MEDIUM: f64 = 0.5;
pub(super) const HEAVY: f64 = 0.9;

pub(super) const TEXT: f64 = 8.0;
/// From one line of a note to the next: more than a text is tall.
pub(super) const LINE: f64 = 1.26 * TEXT;

/// How a view is drawn: points of paper to an inch of the thing, and how it says
/// sizes.
#[derive(Clone, Copy)]
pub(super) struct Scale {
    pub points: f64,
    pub units: Units,
}

pub(super) struct View {
    /// Points of paper to an inch of the thing.
    pub scale: f64,
    pub units: Units,
    shapes: Vec<Shape>,
    labels: Vec<Label>,
    /// The sign of a weld round the text of a label, by its number.
    welds: Vec<(usize, Weld)>,
}

/// A fillet weld, as the sign on the line beside its leader says it.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Weld {
    BothSides,
    AllRound,
}

/// A text and where it may stand.
pub(super) struct Label {
    pub lines: Vec<String>,
    pub spots: Vec<Spot>,
}

/// On paper. The lower the cost, the better the place.
pub(super) struct Spot {
    /// Where the first line of the text starts or ends, at half its height.
    pub at: Point,
    pub anchor: &'static str,
    pub leader: Vec<Point>,
    pub cost: f64,
}

impl View {
    pub fn new(scale: Scale) -> View {
        View { scale: scale.points, units: scale.units, shapes: Vec::new(), labels: Vec::new(), welds: Vec::new() }
    }

    pub fn paper(&self, at: Point) -> Point {
        [at[0] * self.scale, -at[1] * self.scale]
    }

    pub fn line(&mut self, from: Point, to: Point, weight: f64) {
        let (from, to) = (self.paper(from), self.paper(to));
        self.stroke(from, to, weight, false);
    }

    /// An edge behind what is seen, or a line that is not a thing.
    pub fn dashed(&mut self, from: Point, to: Point) {
        let (from, to) = (self.paper(from), self.paper(to));
        self.stroke(from, to, MEDIUM, true);
    }

    /// A line of dashes and dots, through the middle of things: on which they stand.
    pub fn chain_line(&mut self, from: Point, to: Point) {
        let (from, to) = (self.paper(from), self.paper(to));
        let far = distance(from, to).max(1e-9);
        let at = |run: f64| [0, 1].map(|axis| from[axis] + (to[axis] - from[axis]) * (run / far).min(1.0));
        let mut run = 0.0;
        while run < far {
            for (start, long) in [(0.0, 9.0), (11.5, 1.2)] {
                if run + start < far {
                    self.stroke(at(run + start), at(run + start + long), THIN, false);
                }
            }
            run += 15.2;
        }
    }

    /// A line in points of paper.
    pub fn stroke(&mut self, from: Point, to: Point, weight: f64, dash: bool) {
        self.shapes.push(Shape::Line { from, to, weight, dash });
    }

    /// Between two opposite corners.
    pub fn rect(&mut self, a: Point, b: Point, weight: f64) {
        let (a, b) = (self.paper(a), self.paper(b));
        let at = [a[0].min(b[0]), a[1].min(b[1])];
        let size = [(a[0] - b[0]).abs(), (a[1] - b[1]).abs()];
        self.shapes.push(Shape::Rect { at, size, weight, filled: false });
    }

    pub fn dashed_rect(&mut self, a: Point, b: Point) {
        let corners = [a, [b[0], a[1]], b, [a[0], b[1]], a];
        for ends in corners.windows(2) {
            self.dashed(ends[0], ends[1]);
        }
    }

    pub fn circle(&mut self, at: Point, radius: f64, weight: f64) {
        self.shapes.push(Shape::Circle { at: self.paper(at), radius: radius * self.scale, weight, filled: false });
    }

    /// A ring in points of paper.
    pub fn ring(&mut self, at: Point, radius: f64) {
        self.shapes.push(Shape::Circle { at, radius, weight: MEDIUM, filled: false });
    }

    /// A black dot of so many points.
    pub fn dot(&mut self, at: Point, radius: f64) {
        self.shapes.push(Shape::Circle { at: self.paper(at), radius, weight: 0.0, filled: true });
    }

    /// A curve through near points, dashed by its own length: dashes that each
    /// short piece starts anew would run together.
    pub fn dashed_curve(&mut self, points: &[Point]) {
        const DASH: f64 = 3.0;
        let mut run = 0.0;
        for ends in points.windows(2) {
            let (from, to) = (self.paper(ends[0]), self.paper(ends[1]));
            if run % (2.0 * DASH) < DASH {
                self.stroke(from, to, MEDIUM, false);
            }
            run += distance(from, to);
        }
    }

    /// A force: its tip touches `tip`. In points of paper.
    pub fn arrow(&mut self, tail: Point, tip: Point, weight: f64) {
        self.shapes.extend(arrow(tail, tip, weight));
    }

    /// On a metric drawing all sizes are in millimetres, as its scale says.
    pub fn label(&mut self, mut label: Label) {
        if self.units == Units::Metric {
            label.lines.iter_mut().for_each(|line| *line = line.replace(" mm", ""));
        }
        self.labels.push(label);
    }

    /// The sign of a weld, its size as the one line of the label.
    pub fn weld(&mut self, weld: Weld, label: Label) {
        self.welds.push((self.labels.len(), weld));
        self.label(label);
    }

    /// What is taken up so far on paper, with the texts where they would rather
    /// stand.
    pub fn extent(&self) -> Extent {
        let texts = self.labels.iter().flat_map(|label| label.spots.first().map(|spot| label.shapes(spot)));
        extent(self.shapes.iter().chain(texts.collect::<Vec<_>>().iter().flatten()))
    }

    /// Puts every text into its best place: never on another text, nor with its
    /// leader across one; rather not on a line.
    pub fn settle(self) -> Vec<Shape> {
        let mut shapes = self.shapes;
        let mut edges: Vec<[Point; 2]> = shapes.iter().flat_map(edges_of).collect();
        let ring = |shape: &Shape| match shape {
            Shape::Circle { at, radius, .. } => Some((*at, *radius)),
            _ => None,
        };
        let rings: Vec<(Point, f64)> = shapes.iter().filter_map(ring).collect();
        let mut texts: Vec<Extent> = Vec::new();
        for (at, mut label) in self.labels.into_iter().enumerate() {
            let weld = self.welds.iter().find(|(of, _)| *of == at).map(|(_, weld)| *weld);
            label.spots.sort_by(|a, b| a.cost.total_cmp(&b.cost));
            let boxes = |spot: &Spot| match weld {
                Some(_) => vec![extent(&weld_shapes(Weld::BothSides, &label.lines[0], spot))],
                None => label.shapes(spot).iter().filter_map(Shape::text_box).collect::<Vec<_>>(),
            };
            let price = |spot: &Spot| {
                let own = boxes(spot);
                let leader = || spot.leader.windows(2).map(|ends| [ends[0], ends[1]]);
                let over =
                    |text: &Extent| own.iter().any(|own| !apart(own, text)) || leader().any(|ends| crosses(ends, text));
                if texts.iter().any(over) {
                    return f64::INFINITY;
                }
                let ink: Vec<Extent> = own.iter().map(ink).collect();
                let run_through = edges.iter().filter(|edge| ink.iter().any(|ink| crosses(**edge, ink))).count()
                    + leader().filter(|ends| ink.iter().any(|ink| crosses(*ends, ink))).count()
                    + rings.iter().filter(|ring| ink.iter().any(|ink| goes_round(**ring, ink))).count();
                let crossed = edges.iter().filter(|edge| leader().any(|ends| meet(**edge, ends))).count();
                spot.cost + 200.0 * run_through as f64 + 3.0 * crossed as f64
            };
            let mut best = (f64::INFINITY, None);
            for spot in &label.spots {
                // A place is never better than its cost.
                if spot.cost >= best.0 {
                    break;
                }
                let price = price(spot);
                if price < best.0 {
                    best = (price, Some(spot));
                }
            }
            // Where nothing is free, under all else; the sign of a weld is on both sides of its line.
            let extent = extent(&shapes);
            let down = if weld.is_some() { 2.0 * LINE } else { LINE };
            let below = Spot { at: [extent[0], extent[3] + down], anchor: "start", leader: Vec::new(), cost: 0.0 };
            let spot = best.1.unwrap_or(&below);
            texts.extend(boxes(spot));
            shapes.extend(weld.map_or_else(|| label.shapes(spot), |weld| weld_shapes(weld, &label.lines[0], spot)));
            for ends in spot.leader.windows(2) {
                edges.push([ends[0], ends[1]]);
                shapes.push(Shape::Line { from: ends[0], to: ends[1], weight: THIN, dash: false });
            }
        }
        shapes
    }
}

/// A shaft and its head, in points of paper.
pub(super) fn arrow(tail: Point, tip: Point, weight: f64) -> [Shape; 2] {
    let far = distance(tail, tip).max(1e-9);
    let along = [(tip[0] - tail[0]) / far, (tip[1] - tail[1]) / far];
    let back =
        |by: f64, aside: f64| [tip[0] - by * along[0] - aside * along[1], tip[1] - by * along[1] + aside * along[0]];
    let head = 5.0 + 3.0 * weight;
    let shaft = Shape::Line { from: tail, to: back(head * 0.8, 0.0), weight, dash: false };
    let points = vec![tip, back(head, head * 0.3), back(head, -head * 0.3)];
    [shaft, Shape::Polygon { points, weight: 0.0, filled: true }]
}

/// A reference line from the end of the leader, a triangle with its upright leg on the left and the size before it,
/// under the line for the side that the leader points to, over it for the other; a ring where leader and line meet for a
/// weld all round. AWS A2.4, from memory.
fn weld_shapes(weld: Weld, size: &str, spot: &Spot) -> Vec<Shape> {
    const LEG: f64 = 7.0;
    let [x, y] = spot.at;
    let text = text_width(size, TEXT, false);
    let long = text + LEG + 12.0;
    let left = if spot.anchor == "end" { x - long } else { x };
    let corner = left + 5.0 + text + 2.0;
    let line = Shape::Line { from: [left, y], to: [left + long, y], weight: MEDIUM, dash: false };
    let sign = |way: f64, baseline: f64| {
        let points = vec![[corner, y], [corner, y + way * LEG], [corner + LEG, y]];
        [
            Shape::Polygon { points, weight: MEDIUM, filled: false },
            text_at([left + 5.0, baseline], "start", TEXT, false, size.into()),
        ]
    };
    let mut shapes = vec![line];
    shapes.extend(sign(1.0, y + 1.1 * TEXT));
    match weld {
        Weld::BothSides => shapes.extend(sign(-1.0, y - 0.3 * TEXT)),
        Weld::AllRound => shapes.push(Shape::Circle { at: spot.at, radius: 2.6, weight: MEDIUM, filled: false }),
    }
    shapes
}

impl Label {
    fn shapes(&self, spot: &Spot) -> Vec<Shape> {
        let at = |line: usize| [spot.at[0], spot.at[1] + 0.3 * TEXT + line as f64 * LINE];
        let lines = self.lines.iter().enumerate();
        lines.map(|(line, text)| text_at(at(line), spot.anchor, TEXT, false, text.clone())).collect()
    }
}
