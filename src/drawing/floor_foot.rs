//! A base on a floor beam or sill: where its screws go, across the beam and from above.

use super::Drawing;
use super::dimension::{Side, axes_from, chains, note};
use super::fit::{fit, row};
use super::hatch::end_grain;
use super::rows::{Group, places_of};
use super::view::{HEAVY, MEDIUM, Scale, View};
use crate::quantity::Units;

/// In inches; along the beam, which may run along x or y, and across it.
#[derive(Clone, Copy, Debug)]
pub struct FloorFoot {
    pub along_x: bool,
    pub beam_t: f64,
    pub beam_w: f64,
    /// End of the beam to the nearest screw.
    pub end: f64,
    pub base_run: f64,
    pub base_across: f64,
    /// Screws along the beam, and from one to the next.
    pub n: usize,
    pub rows: usize,
    pub s: f64,
    pub s_row: f64,
    pub screw_d: f64,
    pub screw_l: f64,
}

impl FloorFoot {
    fn across(&self, scale: Scale) -> View {
        let mut view = View::new(scale);
        let (half, base) = (self.beam_w / 2.0, self.base_across / 2.0);
        end_grain(&mut view, [-half, -self.beam_t], [half, 0.0]);
        view.rect([-half, -self.beam_t], [half, 0.0], HEAVY);
        view.rect([-base, 0.0], [base, 4.0 / view.scale], HEAVY);
        let screws = places_of(self.rows, self.s_row);
        for x in &screws {
            for side in [-self.screw_d / 2.0, self.screw_d / 2.0] {
                view.line([x + side, -self.screw_l], [x + side, 0.0], MEDIUM);
            }
            view.line([x - self.screw_d, 4.0 / view.scale], [x + self.screw_d, 4.0 / view.scale], HEAVY);
        }
        chains(&mut view, Side::Bottom, &[vec![([-half, -self.beam_t], "beam"), ([half, -self.beam_t], "")]]);
        chains(&mut view, Side::Left, &[vec![([-half, -self.beam_t], "beam"), ([-half, 0.0], "")]]);
        if let Some(last) = screws.last() {
            chains(&mut view, Side::Right, &[vec![([*last, -self.screw_l], "screws"), ([*last, 0.0], "")]]);
        }
        let lines = ["posts, joists or solid", "blocking under the", "beam carry this load on"];
        note(&mut view, [half * 0.5, -self.beam_t], -60.0, &lines);
        view
    }

    fn plan(&self, scale: Scale) -> View {
        let (mut view, units) = (View::new(scale), scale.units);
        let screws = Group::about_middle([self.n, self.rows], [self.s, self.s_row]);
        let (xs, ys) = (&screws.xs, &screws.ys);
        let (Some(first), Some(last)) = (xs.first().copied(), xs.last().copied()) else { return view };
        let half = self.beam_w / 2.0;
        // A beam that goes far on is broken off.
        let near = self.end <= 24.0;
        let left = if near { first - self.end } else { -self.base_run / 2.0 - 6.0 };
        let right = (self.base_run / 2.0).max(last) + 5.0;
        for y in [-half, half] {
            view.line([left, y], [right, y], HEAVY);
        }
        if near {
            view.line([left, -half], [left, half], HEAVY);
        }
        view.rect(
            [-self.base_run / 2.0, -self.base_across / 2.0],
            [self.base_run / 2.0, self.base_across / 2.0],
            MEDIUM,
        );
        let seen = self.screw_d.max(3.2 / view.scale);
        screws.draw(&mut view, seen, HEAVY);
        let mut along: Vec<_> = xs.iter().map(|x| ([*x, -half], "")).collect();
        if near {
            along.push(([left, -half], "end"));
        }
        let edge = self.base_across.max(self.beam_w) / 2.0;
        chains(&mut view, Side::Bottom, &[along]);
        let up = ys.iter().map(|y| ([right, *y], "")).chain([([right, -half], "edge"), ([right, half], "")]);
        let mut up: Vec<_> = up.collect();
        if let Some(at) = up.iter().position(|(at, name)| name.is_empty() && Some(&at[1]) == ys.last()) {
            up[at].1 = "edge";
        }
        chains(&mut view, Side::Right, &[up]);
        let axis = if self.along_x { ["x", "y"] } else { ["y", "x"] };
        // Beside the end of the beam: over it are the notes.
        let corner = [view.paper([left, 0.0])[0] - 40.0, 8.0];
        axes_from(&mut view, corner, axis[0], axis[1]);
        let text = screws.told("screw", &[self.screw_d, self.screw_l].map(|it| units.size(it)).join(" × "));
        note(&mut view, [last, edge.min(ys.last().copied().unwrap_or(0.0))], 80.0, &[&text]);
        let base = [self.base_run, self.base_across].map(|side| units.length(side)).join(" × ");
        note(&mut view, [-self.base_run / 2.0, self.base_across / 2.0], 110.0, &["base", &base]);
        view
    }
}

/// Lays the two views out in a frame of so many points.
pub fn floor_foot(it: &FloorFoot, width: f64, height: f64, units: Units) -> Drawing {
    let alt = format!(
        "A base {} by {} on a floor beam {} wide and {} thick that runs along {}, across it and from above: {} by {} screws {} by {}, \
         {} apart along the beam and {} across, the nearest {} from its end.",
        units.length(it.base_run),
        units.length(it.base_across),
        units.length(it.beam_w),
        units.length(it.beam_t),
        if it.along_x { "x" } else { "y" },
        it.n,
        it.rows,
        units.size(it.screw_d),
        units.size(it.screw_l),
        units.length(it.s),
        units.length(it.s_row),
        units.length(it.end),
    );
    let draw = |scale| row([(it.across(scale), "Across the beam"), (it.plan(scale), "From above")]);
    fit([width, height], units, &alt, &[&draw])
}
