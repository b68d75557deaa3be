//! A pier in the ground: a section, and the plan beside it.

use super::Drawing;
use super::dimension::{Side, caption, chains, counted, note};
use super::fit::{fit, row, stack};
use super::geometry::Point;
use super::hatch::earth;
use super::measure::HAIR;
use super::rows::places_of;
use super::view::{HEAVY, MEDIUM, Scale, THIN, View};
use crate::quantity::Units;

/// In inches, the pressure in pounds on a square inch. What there is none of is
/// zero.
#[derive(Clone, Copy, Debug)]
pub struct Pier {
    pub round: bool,
    /// Diameter or side.
    pub width: f64,
    pub above_ground: f64,
    /// From the ground to the underside, that of the pad if there is one.
    pub depth: f64,
    pub frost: f64,
    /// Side of a square pad under the pier.
    pub pad: f64,
    pub pad_t: f64,
    /// Vertical bars.
    pub bars: usize,
    pub bar_d: f64,
    /// From the side of the pier to the middle of a bar.
    pub bar_in: f64,
    /// Spacing of the ties round them.
    pub tie_s: f64,
    pub n_x: usize,
    pub n_y: usize,
    pub s_x: f64,
    pub s_y: f64,
    pub anchor_d: f64,
    pub embedment: f64,
    /// Pressure that the soil takes sideways at a third of the depth.
    pub soil: f64,
}

impl Pier {
    /// Vertical bars in the plan.
    pub fn bar_places(&self) -> Vec<Point> {
        bar_places(self.round, self.width / 2.0 - self.bar_in, self.bars)
    }

    /// Heights of the ties: three close together round the anchors, then evenly
    /// down to half a spacing above the pad or the foot.
    pub(super) fn tie_places(&self, top: f64, foot: f64) -> Vec<f64> {
        if self.tie_s <= HAIR {
            return vec![];
        }
        let below = ((top - 5.0 - foot - self.tie_s / 2.0) / self.tie_s).ceil().clamp(0.0, 200.0) as usize;
        let close = [2.0, 3.5, 5.0].map(|down| top - down);
        close
            .into_iter()
            .chain((1..=below).map(|at| top - 5.0 - self.tie_s * at as f64))
            .filter(|y| *y > foot)
            .collect()
    }

    fn has_pad(&self) -> bool {
        self.pad > HAIR && self.pad_t > HAIR
    }

    fn section(&self, scale: Scale) -> View {
        let mut view = View::new(scale);
        let (half, top, foot) = (self.width / 2.0, self.above_ground, -self.depth);
        let reach = half.max(self.pad / 2.0);
        let shoulder = if self.has_pad() { foot + self.pad_t } else { foot };
        for x in [-half, half] {
            view.line([x, shoulder], [x, top], HEAVY);
        }
        view.line([-half, top], [half, top], HEAVY);
        if self.has_pad() {
            view.rect([-self.pad / 2.0, foot], [self.pad / 2.0, shoulder], HEAVY);
        } else {
            view.line([-half, foot], [half, foot], HEAVY);
        }
        let places = self.bar_places();
        let outermost = places.iter().map(|at| at[0]).fold(0.0, f64::max);
        if self.bars > 0 {
            for x in [-outermost, outermost] {
                view.dashed([x, foot + self.bar_in], [x, top - self.bar_in]);
            }
            for y in self.tie_places(top, shoulder) {
                view.line([-outermost, y], [outermost, y], THIN);
            }
        }
        let anchors: Vec<f64> = places_of(self.n_x, self.s_x);
        for x in &anchors {
            self.anchor(&mut view, *x);
        }
        let ground = reach + 36.0 / view.scale;
        earth(&mut view, -ground, -half, 0.0);
        earth(&mut view, half, ground, 0.0);
        if self.frost > HAIR {
            for way in [-1.0, 1.0] {
                let inner = if -self.frost < shoulder { reach } else { half };
                view.dashed([way * inner, -self.frost], [way * ground, -self.frost]);
            }
        }
        if self.soil > 0.0 {
            self.pressure(&mut view, half);
        }
        let pad = if self.has_pad() { vec![([-reach, foot], "pad"), ([-reach, shoulder], "")] } else { vec![] };
        let heights = vec![([-reach, foot], "depth"), ([-ground, 0.0], "above ground"), ([-half, top], "")];
        chains(&mut view, Side::Left, &[pad, heights]);
        let last = anchors.last().copied().unwrap_or(0.0);
        let mut right = vec![vec![([ground, -self.frost], "frost"), ([ground, 0.0], "")]];
        if !anchors.is_empty() {
            right.insert(0, vec![([last, top - self.embedment], "embedment"), ([last, top], "")]);
        }
        if self.frost <= HAIR {
            right.pop();
        }
        chains(&mut view, Side::Right, &right);
        let wide = if self.has_pad() { ("pad", self.pad / 2.0) } else { (self.shape(), half) };
        chains(&mut view, Side::Bottom, &[vec![([-wide.1, foot], wide.0), ([wide.1, foot], "")]]);
        view
    }

    fn shape(&self) -> &'static str {
        if self.round { "diameter" } else { "square" }
    }

    /// A rod with a head, and a piece above the concrete for the plate and nut.
    pub(super) fn anchor(&self, view: &mut View, x: f64) {
        let (top, half) = (self.above_ground, self.anchor_d / 2.0);
        let head = top - self.embedment;
        for side in [-half, half] {
            view.line([x + side, head], [x + side, top + 3.0 * self.anchor_d], MEDIUM);
        }
        view.line([x - half, top + 3.0 * self.anchor_d], [x + half, top + 3.0 * self.anchor_d], MEDIUM);
        view.line([x - 2.0 * half - half, head], [x + 3.0 * half, head], HEAVY);
    }

    /// What the soil takes sideways, growing with the depth, on the left.
    fn pressure(&self, view: &mut View, half: f64) {
        const LONG: f64 = 36.0;
        let at = |depth: f64| LONG * depth / self.depth;
        let edge = |depth: f64| view.paper([-half, -depth]);
        let (third, foot) = (edge(self.depth / 3.0), edge(self.depth));
        let start = edge(0.0);
        view.stroke(start, [foot[0] - LONG, foot[1]], THIN, false);
        view.stroke(foot, [foot[0] - LONG, foot[1]], THIN, false);
        view.arrow([third[0] - at(self.depth / 3.0), third[1]], third, MEDIUM);
        let text = view.units.soil_pressure(self.soil);
        caption(view, [third[0] - at(self.depth / 3.0), third[1]], 180.0, &[&text, "at 1/3 depth"]);
    }

    fn plan(&self, scale: Scale) -> View {
        let (mut view, units) = (View::new(scale), scale.units);
        let half = self.width / 2.0;
        if self.has_pad() {
            view.dashed_rect([-self.pad / 2.0, -self.pad / 2.0], [self.pad / 2.0, self.pad / 2.0]);
        }
        if self.round {
            view.circle([0.0, 0.0], half, HEAVY);
        } else {
            view.rect([-half, -half], [half, half], HEAVY);
        }
        let bars = self.bar_places();
        for bar in &bars {
            view.dot(*bar, (self.bar_d / 2.0 * view.scale).max(1.2));
        }
        let ys = places_of(self.n_y, self.s_y);
        for at in places_of(self.n_x, self.s_x).into_iter().flat_map(|x| ys.iter().map(move |y| [x, *y])) {
            view.circle(at, (self.anchor_d / 2.0).max(1.2 / view.scale), MEDIUM);
        }
        chains(&mut view, Side::Bottom, &[vec![([-half, 0.0], self.shape()), ([half, 0.0], "")]]);
        if let Some(bar) = bars.first() {
            let text = counted(self.bars, "bar", &units.size(self.bar_d));
            note(&mut view, *bar, 20.0, &[&text]);
        }
        let count = self.n_x * self.n_y;
        if count > 0 {
            let x = places_of(self.n_x, self.s_x)[0];
            let text = counted(count, "anchor", &units.size(self.anchor_d));
            note(&mut view, [x, *ys.last().expect("anchors")], 120.0, &[&text]);
        }
        view
    }
}

/// Lays section and plan out in a frame of so many points.
pub fn pier(it: &Pier, width: f64, height: f64, units: Units) -> Drawing {
    let beside = |scale| row([(it.section(scale), "Section"), (it.plan(scale), "Plan")]);
    let below = |scale| stack(row([(it.section(scale), "Section")]), row([(it.plan(scale), "Plan")]));
    let form = if it.round { "Round" } else { "Square" };
    let mut alt = format!(
        "{form} pier {} wide, {} above the ground and {} deep, in section and plan.",
        units.length(it.width),
        units.length(it.above_ground),
        units.length(it.depth)
    );
    if it.has_pad() {
        alt += &format!(" Its pad is {} square and {} thick.", units.length(it.pad), units.length(it.pad_t));
    }
    if it.n_x * it.n_y > 0 {
        let anchors = counted(it.n_x * it.n_y, "anchor", &units.size(it.anchor_d));
        alt += &format!(" In it {anchors}, {} deep.", units.length(it.embedment));
    }
    if it.bars > 0 {
        alt += &format!(" {} vertical bars {}.", it.bars, units.size(it.bar_d));
        if it.tie_s > HAIR {
            alt += &format!(" Ties every {}.", units.length(it.tie_s));
        }
    }
    if it.frost > HAIR {
        alt += &format!(" Frost reaches {} down.", units.length(it.frost));
    }
    if it.soil > 0.0 {
        alt += &format!(" The soil takes {} sideways at a third of the depth.", units.soil_pressure(it.soil));
    }
    fit([width, height], units, &alt, &[&beside, &below])
}

/// So many bars about the middle, at most so far from it each way: evenly round, or in a square, its corners first.
pub(super) fn bar_places(round: bool, half: f64, bars: usize) -> Vec<Point> {
    if round {
        let angle = |at: usize| (at as f64 + 0.5) / bars as f64 * std::f64::consts::TAU;
        return (0..bars).map(|at| [half * libm::cos(angle(at)), half * libm::sin(angle(at))]).collect();
    }
    let corners = [[-half, -half], [half, -half], [half, half], [-half, half]];
    let side = |side: usize| {
        // What four do not divide goes to sides that face each other.
        let count = bars / 4 + usize::from([0, 2, 1, 3].iter().position(|own| *own == side) < Some(bars % 4));
        let (from, to) = (corners[side], corners[(side + 1) % 4]);
        let part = move |at: usize| at as f64 / count as f64;
        (0..count).map(move |at| [0, 1].map(|axis| from[axis] + (to[axis] - from[axis]) * part(at)))
    };
    (0..4).flat_map(side).collect()
}
