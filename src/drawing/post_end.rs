//! The end grain of a post with its slot or bore, and which way the holes run.

use super::Drawing;
use super::dimension::{Side, axes, caption, chains, note};
use super::fit::fit;
use super::hatch::end_grain;
use super::view::{HEAVY, Scale, View};
use crate::quantity::Units;

/// In inches; `b` along the pins or bolts, `d` normal to them.
#[derive(Clone, Copy, Debug)]
pub struct PostEnd {
    /// Whether `d` is along x.
    pub along_x: bool,
    pub b: f64,
    pub d: f64,
    pub opening: Opening,
    pub seat_b: f64,
    pub seat_d: f64,
}

#[derive(Clone, Copy, Debug)]
pub enum Opening {
    /// So wide, from face to face along `d`.
    Slot(f64),
    /// A round hole, so wide.
    Bore(f64),
}

/// Lays it out in a frame of so many points, the bored face at the top.
pub fn post_end(it: &PostEnd, width: f64, height: f64, units: Units) -> Drawing {
    let axis = if it.along_x { ["x", "y"] } else { ["y", "x"] };
    let draw = |scale: Scale| {
        let mut view = View::new(scale);
        let (b, d) = (it.b / 2.0, it.d / 2.0);
        let seat = [it.seat_d / 2.0, it.seat_b / 2.0];
        view.rect([-d, -b], [d, b], HEAVY);
        view.dashed_rect([-seat[0], -seat[1]], seat);
        match it.opening {
            Opening::Slot(wide) => {
                let slot = wide / 2.0;
                end_grain(&mut view, [-d, slot], [d, b]);
                end_grain(&mut view, [-d, -b], [d, -slot]);
                view.line([-d, slot], [d, slot], HEAVY);
                view.line([-d, -slot], [d, -slot], HEAVY);
                let cheek = vec![([-d, -slot], "slot"), ([-d, slot], "cheek"), ([-d, b], "")];
                chains(&mut view, Side::Left, &[cheek]);
                chains(&mut view, Side::Bottom, &[vec![([-d, -b], ""), ([d, -b], "")]]);
            }
            Opening::Bore(wide) => {
                view.circle([0.0, 0.0], wide / 2.0, HEAVY);
                view.dot([0.0, 0.0], 0.8);
                // From two faces to the middle, where the bit goes in.
                chains(&mut view, Side::Left, &[vec![([-d, -b], ""), ([0.0, 0.0], ""), ([-d, b], "")]]);
                chains(&mut view, Side::Bottom, &[vec![([-d, -b], ""), ([0.0, 0.0], ""), ([d, -b], "")]]);
                note(&mut view, [0.0, wide / 2.0], 30.0, &["bore", &units.size(wide)]);
            }
        }
        axes(&mut view, axis[0], axis[1]);
        let above = view.paper([0.0, b]);
        let holes = match it.opening {
            Opening::Slot(_) => ["bored face,".to_string(), format!("it looks along {}", axis[1])],
            Opening::Bore(_) => ["bolts go through".to_string(), format!("along {}", axis[1])],
        };
        caption(&mut view, above, 90.0, &[&holes[0], &holes[1]]);
        note(&mut view, [seat[0], -seat[1]], -20.0, &["seat"]);
        view.settle()
    };
    let opening = match it.opening {
        Opening::Slot(wide) => format!("a slot {} wide in its middle along {}", units.length(wide), axis[0]),
        Opening::Bore(wide) => format!("a bore {} across in its middle, its bolts along {}", units.size(wide), axis[1]),
    };
    let alt = format!(
        "End grain of a {} by {} post, with {opening}, and the outline of the seat, {} by {}.",
        units.length(it.b),
        units.length(it.d),
        units.length(it.seat_b),
        units.length(it.seat_d),
    );
    fit([width, height], units, &alt, &[&draw])
}
