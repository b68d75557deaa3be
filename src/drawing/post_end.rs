//! The end grain of a post with its slot, and which way the slot runs.

use super::Drawing;
use super::dimension::{Side, axes, caption, chains, note};
use super::hatch::end_grain;
use super::view::{HEAVY, Scale, View, fit};
use crate::quantity::Units;

/// In inches; `d` in the plane of the blade.
#[derive(Clone, Copy, Debug)]
pub struct PostEnd {
    pub along_x: bool,
    pub b: f64,
    pub d: f64,
    pub slot: f64,
    pub seat_b: f64,
    pub seat_d: f64,
}

/// Lays it out in a frame of so many points, the bored face at the top.
pub fn post_end(it: &PostEnd, width: f64, height: f64, units: Units) -> Drawing {
    let axis = if it.along_x { ["x", "y"] } else { ["y", "x"] };
    let draw = |scale: Scale| {
        let mut view = View::new(scale);
        let (b, d, slot) = (it.b / 2.0, it.d / 2.0, it.slot / 2.0);
        let seat = [it.seat_d / 2.0, it.seat_b / 2.0];
        end_grain(&mut view, [-d, slot], [d, b]);
        end_grain(&mut view, [-d, -b], [d, -slot]);
        view.rect([-d, -b], [d, b], HEAVY);
        view.line([-d, slot], [d, slot], HEAVY);
        view.line([-d, -slot], [d, -slot], HEAVY);
        view.dashed_rect([-seat[0], -seat[1]], seat);
        let cheek = vec![([-d, -slot], "slot"), ([-d, slot], "cheek"), ([-d, b], "")];
        chains(&mut view, Side::Left, &[cheek]);
        chains(&mut view, Side::Bottom, &[vec![([-d, -b], ""), ([d, -b], "")]]);
        let above = view.paper([0.0, b]);
        caption(&mut view, above, 90.0, &["bored face,", &format!("it looks along {}", axis[1])]);
        note(&mut view, [seat[0], -seat[1]], -20.0, &["seat"]);
        axes(&mut view, axis[0], axis[1]);
        view.settle()
    };
    let alt = format!(
        "End grain of a {} by {} post, with a slot {} wide in its middle along {}, and the outline of the seat, {} by {}.",
        units.length(it.b),
        units.length(it.d),
        units.length(it.slot),
        axis[0],
        units.length(it.seat_b),
        units.length(it.seat_d),
    );
    fit([width, height], units, &alt, &[&draw])
}
