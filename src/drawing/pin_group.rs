//! A group of pins in the end of a post, and the force that it takes.

use super::Drawing;
use super::dimension::{Side, caption, chains, set_out};
use super::fit::fit;
use super::geometry::Point;
use super::hatch::break_line;
use super::measure::degrees;
use super::rows::up_a_face;
use super::view::{HEAVY, Scale, THIN, View};
use crate::quantity::Units;

/// In inches and pounds.
#[derive(Clone, Copy, Debug)]
pub struct PinGroup {
    /// Width of the post in the plane of the forces.
    pub d: f64,
    pub pin_d: f64,
    /// In a row along the grain.
    pub n: usize,
    pub rows: usize,
    /// End grain to the nearest pins.
    pub end: f64,
    pub spacing: f64,
    pub row_spacing: f64,
    /// Along the grain, away from the end.
    pub uplift: f64,
    /// Across the grain.
    pub shear: f64,
}

impl PinGroup {
    pub fn resultant(&self) -> f64 {
        libm::hypot(self.uplift, self.shear)
    }

    /// To the grain, in degrees.
    pub fn angle(&self) -> f64 {
        libm::atan2(self.shear.abs(), self.uplift.abs()).to_degrees()
    }
}

/// Lays the group out in a frame of so many points.
pub fn pin_group(it: &PinGroup, width: f64, height: f64, units: Units) -> Drawing {
    let last = it.end + it.n.saturating_sub(1) as f64 * it.spacing;
    let (half, top) = (it.d / 2.0, last + 0.7 * it.d);
    let pins = up_a_face([it.n, it.rows], it.end, [it.spacing, it.row_spacing]);
    let force = it.resultant();
    let draw = |scale: Scale| {
        let mut view = View::new(scale);
        for x in [-half, half] {
            view.line([x, 0.0], [x, top], HEAVY);
        }
        view.line([-half, 0.0], [half, 0.0], HEAVY);
        break_line(&mut view, -half, half, top);
        for pin in &pins {
            view.circle(*pin, it.pin_d / 2.0, HEAVY);
        }
        let mut along = vec![([-half, 0.0], "end")];
        along.extend(pins.iter().take(it.n).map(|pin| (*pin, "")));
        let lowest: Vec<Point> = pins.iter().step_by(it.n.max(1)).copied().collect();
        let sideways = set_out(half, &lowest, ["edge", "row"]);
        chains(&mut view, Side::Left, &[along]);
        chains(&mut view, Side::Bottom, &[sideways, vec![([-half, 0.0], "post"), ([half, 0.0], "")]]);
        if force > 0.0 {
            forces(&mut view, it, [0.0, (it.end + last) / 2.0]);
        }
        view.settle()
    };
    let alt = format!(
        "Group of {} pins {} in a post {} wide: {} in a row and {} across, end distance {}, spacing {}, rows {} apart. \
         {} of uplift and {} of shear make {} at {} to the grain.",
        it.n * it.rows,
        units.size(it.pin_d),
        units.length(it.d),
        it.n,
        it.rows,
        units.length(it.end),
        units.length(it.spacing),
        units.length(it.row_spacing),
        units.force(it.uplift),
        units.force(it.shear),
        units.force(force),
        degrees(it.angle()),
    );
    fit([width, height], units, &alt, &[&draw])
}

/// Uplift and shear as the sides of a triangle, the resultant from the middle of
/// the group; long enough for the smaller one to be seen.
fn forces(view: &mut View, it: &PinGroup, middle: Point) {
    const LONG: f64 = 48.0;
    let (start, units) = (view.paper(middle), view.units);
    let part = |force: f64| LONG * force / it.resultant();
    let corner = [start[0], start[1] - part(it.uplift)];
    let tip = [start[0] + part(it.shear), corner[1]];
    view.dot(middle, 1.6);
    view.arrow(start, tip, HEAVY);
    let resultant = format!("resultant {}", units.force(it.resultant()));
    let angle = format!("at {} to the grain", degrees(it.angle()));
    let (uplift, shear) = (it.uplift != 0.0, it.shear != 0.0);
    if uplift && shear {
        view.stroke(start, corner, THIN, true);
        view.stroke(corner, tip, THIN, true);
        let half_way = |from: Point, to: Point| [(from[0] + to[0]) / 2.0, (from[1] + to[1]) / 2.0];
        // On the side that the resultant leaves free.
        let free = if it.shear > 0.0 { 180.0 } else { 0.0 };
        caption(view, half_way(start, corner), free, &[&format!("uplift {}", units.force(it.uplift.abs()))]);
        caption(view, half_way(corner, tip), 90.0, &[&format!("shear {}", units.force(it.shear.abs()))]);
    }
    caption(view, tip, 0.0, &[&resultant, &angle]);
}
