//! The plate of a base on the concrete from above: its holes, and what is welded on it.

use super::Drawing;
use super::dimension::{Side, axes, chains, note};
use super::measure::HAIR;
use super::steel_base::Leg;
use super::view::{HEAVY, MEDIUM, Scale, View, fit};
use crate::quantity::Units;

/// In inches: `d` in the plane of the blade or the side plates, `b` normal to it.
#[derive(Clone, Copy, Debug)]
pub struct BasePlan {
    pub along_x: bool,
    /// Of the blade or of a side plate.
    pub plate_t: f64,
    pub plate_w: f64,
    /// Between two side plates; zero for a blade.
    pub apart: f64,
    pub seat_b: f64,
    pub seat_d: f64,
    pub leg: Leg,
    pub leg_w: f64,
    /// Thickness of a bar, wall of a pipe.
    pub leg_t: f64,
    pub foot_b: f64,
    pub foot_d: f64,
    /// From the middle to the holes; zero is one on the middle line.
    pub anchor_b: f64,
    pub anchor_d: f64,
    pub anchor_hole: f64,
}

/// Lays it out in a frame of so many points, the blade from left to right.
pub fn base_plan(it: &BasePlan, width: f64, height: f64, units: Units) -> Drawing {
    let axis = if it.along_x { ["x", "y"] } else { ["y", "x"] };
    let places = |at: f64| if at > HAIR { vec![-at, at] } else { vec![0.0] };
    let draw = |scale: Scale| {
        let mut view = View::new(scale);
        let (d, b) = (it.foot_d / 2.0, it.foot_b / 2.0);
        view.rect([-d, -b], [d, b], HEAVY);
        view.dashed_rect([-it.seat_d / 2.0, -it.seat_b / 2.0], [it.seat_d / 2.0, it.seat_b / 2.0]);
        match it.leg {
            Leg::Bar => view.rect([-it.leg_w / 2.0, -it.leg_t / 2.0], [it.leg_w / 2.0, it.leg_t / 2.0], MEDIUM),
            Leg::Round => view.circle([0.0, 0.0], it.leg_w / 2.0, MEDIUM),
            Leg::Pipe => {
                view.circle([0.0, 0.0], it.leg_w / 2.0, MEDIUM);
                view.circle([0.0, 0.0], (it.leg_w / 2.0 - it.leg_t).max(0.0), MEDIUM);
            }
        }
        let plates = if it.apart > HAIR { places((it.apart + it.plate_t) / 2.0) } else { vec![0.0] };
        for y in plates {
            view.dashed_rect([-it.plate_w / 2.0, y - it.plate_t / 2.0], [it.plate_w / 2.0, y + it.plate_t / 2.0]);
        }
        let (xs, ys) = (places(it.anchor_d), places(it.anchor_b));
        for at in xs.iter().flat_map(|x| ys.iter().map(move |y| [*x, *y])) {
            view.circle(at, it.anchor_hole / 2.0, MEDIUM);
            view.dot(at, 0.8);
        }
        let across = xs.iter().chain(&[-d, d]).map(|x| ([*x, -b], "")).collect();
        let up = ys.iter().chain(&[-b, b]).map(|y| ([-d, *y], "")).collect();
        chains(&mut view, Side::Bottom, &[across]);
        chains(&mut view, Side::Left, &[up]);
        let count = xs.len() * ys.len();
        let holes = if count == 1 { "1 hole,".to_string() } else { format!("{count} holes,") };
        let most = format!("at most {}", units.at_most(it.anchor_hole));
        note(&mut view, [xs[xs.len() - 1], ys[ys.len() - 1]], 50.0, &[&holes, &most]);
        let plate = [it.foot_d, it.foot_b].map(|side| units.size(side)).join(" × ");
        note(&mut view, [d, -b], -30.0, &["plate", &plate]);
        axes(&mut view, axis[0], axis[1]);
        view.settle()
    };
    let alt = format!(
        "Plate on the concrete from above, {} by {}, the blade along {}: holes {} at most, {} and {} from its middle; over it the seat, {} by {}.",
        units.size(it.foot_d),
        units.size(it.foot_b),
        axis[0],
        units.at_most(it.anchor_hole),
        units.length(it.anchor_d),
        units.length(it.anchor_b),
        units.size(it.seat_d),
        units.size(it.seat_b),
    );
    fit([width, height], units, &alt, &[&draw])
}
