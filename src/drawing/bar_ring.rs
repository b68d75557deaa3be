//! The bars of a pier and the ties round them, cut across.

use std::f64::consts::FRAC_1_SQRT_2;

use super::Drawing;
use super::dimension::{Side, chains, counted, note};
use super::fit::fit;
use super::measure::HAIR;
use super::pier::bar_places;
use super::view::{HEAVY, MEDIUM, Scale, View};
use crate::quantity::Units;

/// In inches.
#[derive(Clone, Debug)]
pub struct BarRing {
    pub round: bool,
    /// Diameter or side of the pier.
    pub width: f64,
    pub bars: usize,
    /// What a bar and a tie are called.
    pub bar: String,
    pub bar_d: f64,
    pub tie: String,
    pub tie_d: f64,
    /// Through the middles of the bars.
    pub ring: f64,
}

/// Lays the section out in a frame of so many points.
pub fn bar_ring(it: &BarRing, width: f64, height: f64, units: Units) -> Drawing {
    let half = it.width / 2.0;
    // Ties of whole millimetres, and no less cover than there has to be.
    let out = it.ring / 2.0 + it.bar_d / 2.0 + it.tie_d;
    let out = units.either(out, (2.0 * out * 25.4 + 1e-6).floor() / 25.4 / 2.0);
    let bars = bar_places(it.round, it.ring / 2.0, it.bars);
    let draw = |scale: Scale| {
        let mut view = View::new(scale);
        let mut outline = |at: f64, weight: f64| match it.round {
            true => view.circle([0.0, 0.0], at, weight),
            false => view.rect([-at, -at], [at, at], weight),
        };
        outline(half, HEAVY);
        outline(out, MEDIUM);
        outline(out - it.tie_d, MEDIUM);
        for bar in &bars {
            view.dot(*bar, (it.bar_d / 2.0 * scale.points).max(1.2));
        }
        let tie = vec![([-half, 0.0], "cover"), ([-out, 0.0], "tie"), ([out, 0.0], "cover"), ([half, 0.0], "")];
        chains(&mut view, Side::Bottom, &[tie]);
        if let Some(bar) = bars.first() {
            note(&mut view, *bar, 20.0, &[&counted(it.bars, "bar", &it.bar)]);
        }
        if it.tie_d > HAIR {
            note(&mut view, [out * FRAC_1_SQRT_2, -out * FRAC_1_SQRT_2], -20.0, &["tie", &it.tie]);
        }
        view.settle()
    };
    let alt = format!(
        "{} pier {} across with {} in a ring {} across, in ties {} across their outside.",
        if it.round { "Round" } else { "Square" },
        units.length(it.width),
        counted(it.bars, "bar", &it.bar),
        units.size(it.ring),
        units.size(2.0 * out),
    );
    fit([width, height], units, &alt, &[&draw])
}
