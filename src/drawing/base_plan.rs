//! The lowest plate of a base from above: its holes, and what is welded on it.

use super::Drawing;
use super::dimension::{Side, axes, chains, note};
use super::fit::fit;
use super::measure::HAIR;
use super::rows::Group;
use super::steel_base::Leg;
use super::view::{HEAVY, MEDIUM, Scale, THIN, View};
use crate::quantity::Units;

/// In inches: `d` in the plane of the blade or the side plates, `b` normal to it.
#[derive(Clone, Copy, Debug)]
pub struct BasePlan {
    pub along_x: bool,
    /// Width of the blade or of a side plate; zero without one.
    pub plate_w: f64,
    /// From the middle of one side plate to that of the other; zero for a blade.
    pub apart: f64,
    pub seat_b: f64,
    pub seat_d: f64,
    pub leg: Leg,
    pub leg_w: f64,
    /// Thickness of a bar, wall of a pipe.
    pub leg_t: f64,
    pub foot_b: f64,
    pub foot_d: f64,
    /// Holes each way, and the outermost apart.
    pub n_b: usize,
    pub n_d: usize,
    pub holes_b: f64,
    pub holes_d: f64,
    pub anchor_hole: f64,
    /// A hole inside the pipe for zinc and air; zero without one.
    pub vent: f64,
}

/// Lays it out in a frame of so many points, the blade from left to right.
pub fn base_plan(it: &BasePlan, width: f64, height: f64, units: Units) -> Drawing {
    let axis = if it.along_x { ["x", "y"] } else { ["y", "x"] };
    let pitch = |count: usize, apart: f64| apart / (count.max(2) - 1) as f64;
    let holes = Group::about_middle([it.n_d, it.n_b], [pitch(it.n_d, it.holes_d), pitch(it.n_b, it.holes_b)]);
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
        if it.plate_w > HAIR {
            for y in [-it.apart / 2.0, it.apart / 2.0] {
                view.dashed([-it.plate_w / 2.0, y], [it.plate_w / 2.0, y]);
            }
        }
        holes.draw(&mut view, it.anchor_hole, MEDIUM);
        // Holes stand about the middle lines; one on such a line needs no more.
        let [past_d, past_b] = [d, b].map(|half| half + 8.0 / view.scale);
        for way in [-1.0, 1.0] {
            view.line([way * d, 0.0], [way * past_d, 0.0], THIN);
            view.line([0.0, way * b], [0.0, way * past_b], THIN);
        }
        let across = holes.xs.iter().map(|x| ([*x, -b], "")).collect();
        let up = holes.ys.iter().map(|y| ([-d, *y], "")).collect();
        chains(&mut view, Side::Bottom, &[across, vec![([-d, -b], ""), ([d, -b], "")]]);
        chains(&mut view, Side::Left, &[up, vec![([-d, -b], ""), ([-d, b], "")]]);
        axes(&mut view, axis[0], axis[1]);
        if it.plate_w > HAIR {
            let name = if it.apart > HAIR { "side plates" } else { "blade" };
            note(&mut view, [it.plate_w / 2.0, it.apart / 2.0], 0.0, &[name]);
        }
        if let Some(last) = holes.last() {
            let count = holes.xs.len() * holes.ys.len();
            let told = if count == 1 { "1 hole".to_string() } else { format!("{count} holes") };
            note(&mut view, last, 50.0, &[&told, "at most", &units.at_most(it.anchor_hole)]);
        }
        if it.vent > HAIR {
            // In the middle between the blade and the wall of the pipe.
            let at = [0.0, -(it.leg_w / 2.0 - it.leg_t) / 2.0 * f64::from(it.plate_w > HAIR && it.apart <= HAIR)];
            view.circle(at, it.vent / 2.0, MEDIUM);
            note(
                &mut view,
                at,
                -20.0,
                &[if it.plate_w > HAIR { "vent" } else { "drain" }, "at least", &units.at_least(it.vent)],
            );
        }
        view.settle()
    };
    let holds = match (it.plate_w > HAIR, it.apart > HAIR) {
        (true, true) => format!("its side plates along {}", axis[0]),
        (true, false) => format!("its blade along {}", axis[0]),
        (false, _) => format!("its bolts along {}", axis[1]),
    };
    let alt = format!(
        "Plate under the base from above, {} by {}, {holds}: {} by {} holes {} at most, the outermost {} and {} apart; over it the \
         seat, {} by {}.",
        units.size(it.foot_d),
        units.size(it.foot_b),
        it.n_d,
        it.n_b,
        units.at_most(it.anchor_hole),
        units.length(it.holes_d),
        units.length(it.holes_b),
        units.size(it.seat_d),
        units.size(it.seat_b),
    );
    fit([width, height], units, &alt, &[&draw])
}
