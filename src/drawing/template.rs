//! The template that holds anchors in place: their pattern, the plate that comes on them, the concrete round them.

use super::Drawing;
use super::dimension::{Side, axes, chains, counted, note};
use super::measure::HAIR;
use super::pier::places_of;
use super::view::{HEAVY, MEDIUM, Scale, View, fit};
use crate::quantity::Units;

/// In inches; x to the right, y up, the anchors in the middle of the concrete.
#[derive(Clone, Copy, Debug)]
pub struct Template {
    pub round: bool,
    /// The concrete along x, or its diameter.
    pub width_x: f64,
    pub width_y: f64,
    pub n_x: usize,
    pub n_y: usize,
    pub s_x: f64,
    pub s_y: f64,
    pub anchor_d: f64,
    pub plate_x: f64,
    pub plate_y: f64,
}

/// Lays the plan out in a frame of so many points.
pub fn template(it: &Template, width: f64, height: f64, units: Units) -> Drawing {
    let (half_x, half_y) = (it.width_x / 2.0, if it.round { it.width_x } else { it.width_y } / 2.0);
    let (xs, ys) = (places_of(it.n_x, it.s_x), places_of(it.n_y, it.s_y));
    let draw = |scale: Scale| {
        let mut view = View::new(scale);
        if it.round {
            view.circle([0.0, 0.0], half_x, HEAVY);
        } else {
            view.rect([-half_x, -half_y], [half_x, half_y], HEAVY);
        }
        view.rect([-it.plate_x / 2.0, -it.plate_y / 2.0], [it.plate_x / 2.0, it.plate_y / 2.0], MEDIUM);
        for at in xs.iter().flat_map(|x| ys.iter().map(move |y| [*x, *y])) {
            view.circle(at, it.anchor_d / 2.0, MEDIUM);
            view.dot(at, 1.0);
        }
        // A straight edge is measured from; a round one is not: its anchors stand about its middle.
        let edge = if it.round { vec![] } else { vec![-half_x, half_x] };
        let across = xs.iter().chain(&edge).map(|x| ([*x, -half_y], "")).collect();
        let edge = if it.round { vec![] } else { vec![-half_y, half_y] };
        let up = ys.iter().chain(&edge).map(|y| ([-half_x, *y], "")).collect();
        let whole = if it.round { "diameter" } else { "" };
        let all_across = vec![([-half_x, -half_y], whole), ([half_x, -half_y], "")];
        chains(&mut view, Side::Bottom, &[across, all_across]);
        let all_up = if it.round { vec![] } else { vec![([-half_x, -half_y], ""), ([-half_x, half_y], "")] };
        chains(&mut view, Side::Left, &[up, all_up]);
        if let (Some(x), Some(y)) = (xs.last(), ys.last()) {
            let anchors = counted(xs.len() * ys.len(), "anchor", &units.size(it.anchor_d));
            note(&mut view, [*x, *y], 35.0, &[&anchors]);
        }
        if it.plate_x > HAIR && it.plate_y > HAIR {
            let plate = [it.plate_x, it.plate_y].map(|side| units.size(side)).join(" × ");
            note(&mut view, [it.plate_x / 2.0, -it.plate_y / 2.0], -20.0, &["plate", &plate]);
        }
        axes(&mut view, "x", "y");
        view.settle()
    };
    let concrete = match it.round {
        true => format!("a round pier {} across", units.length(it.width_x)),
        false => format!("concrete {} by {}", units.length(it.width_x), units.length(it.width_y)),
    };
    let alt = format!(
        "Plan of {concrete}, in its middle {} by {} anchors {}, {} apart along x and {} along y, under a plate {} by {}.",
        it.n_x,
        it.n_y,
        units.size(it.anchor_d),
        units.length(it.s_x),
        units.length(it.s_y),
        units.size(it.plate_x),
        units.size(it.plate_y),
    );
    fit([width, height], units, &alt, &[&draw])
}
