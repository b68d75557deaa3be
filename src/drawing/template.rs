//! The template that holds anchors in place: their pattern, the plate that comes on them, the concrete round them.

use std::f64::consts::FRAC_1_SQRT_2;

use super::Drawing;
use super::dimension::{Side, Station, axes, caption, chains, note};
use super::fit::fit;
use super::measure::HAIR;
use super::outline::Outline;
use super::rows::Group;
use super::view::{MEDIUM, Scale, View};
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
    pub blade: Option<Blade>,
}

/// A blade, or two side plates, that come on the plate: they run along an axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blade {
    pub axis: usize,
    /// How long side plates are, and how far apart in their middles; none of a blade, whose length is not drawn.
    pub plates: Option<[f64; 2]>,
}

impl Blade {
    fn name(&self) -> &'static str {
        if self.plates.is_some() { "side plates" } else { "blade" }
    }
}

impl Template {
    /// `4″ × 5″ apart`: from one anchor to the next along x and y; nothing of one alone.
    fn apart(&self, units: Units) -> Option<String> {
        let apart = [(self.n_x, self.s_x, "x"), (self.n_y, self.s_y, "y")];
        let apart: Vec<_> = apart.into_iter().filter(|(count, ..)| *count > 1).collect();
        match apart.as_slice() {
            [] => None,
            [(_, one, axis)] => Some(format!("{} apart along {axis}", units.size(*one))),
            _ => Some(format!("{} × {} apart", units.size(self.s_x), units.size(self.s_y))),
        }
    }
}

/// Concrete that is so much wider than what stands on it is only told: drawn, it would leave no room for the rods.
const TOO_WIDE: f64 = 2.0;

/// Lays the plan out in a frame of so many points.
pub fn template(it: &Template, width: f64, height: f64, units: Units) -> Drawing {
    let outline = if it.round { Outline::Round(it.width_x) } else { Outline::Straight([it.width_x, it.width_y]) };
    let rods = Group::about_middle([it.n_x, it.n_y], [it.s_x, it.s_y]);
    let last = rods.last().unwrap_or_default();
    let stands = [it.plate_x, it.plate_y].into_iter().zip(last).map(|(plate, last)| plate.max(3.0 * last));
    let drawn = outline.widest() <= TOO_WIDE * stands.fold(1.0, f64::max);
    let draw = |scale: Scale| {
        let mut view = View::new(scale);
        let half =
            if drawn { [it.width_x, if it.round { it.width_x } else { it.width_y }] } else { [it.plate_x, it.plate_y] };
        let half = [0, 1].map(|axis| (half[axis] / 2.0).max(last[axis] + it.anchor_d));
        if drawn {
            outline.draw(&mut view, [0.0, 0.0]);
        }
        view.rect([-it.plate_x / 2.0, -it.plate_y / 2.0], [it.plate_x / 2.0, it.plate_y / 2.0], MEDIUM);
        rods.draw(&mut view, it.anchor_d, MEDIUM);
        // The lines of the key plan, from which a tape measures.
        let reach = half.map(|half| half + 12.0 / view.scale);
        view.chain_line([-reach[0], 0.0], [reach[0], 0.0]);
        view.chain_line([0.0, -reach[1]], [0.0, reach[1]]);
        let across: Vec<Station> = rods.xs.iter().chain(&[0.0]).map(|x| ([*x, -half[1]], "")).collect();
        let up: Vec<Station> = rods.ys.iter().chain(&[0.0]).map(|y| ([-half[0], *y], "")).collect();
        chains(&mut view, Side::Bottom, &[across]);
        chains(&mut view, Side::Left, &[up]);
        axes(&mut view, "x", "y");
        let told = [Some(rods.told("anchor", &units.size(it.anchor_d))), it.apart(units)];
        note(&mut view, last, 35.0, &told.iter().flatten().map(String::as_str).collect::<Vec<_>>());
        if it.plate_x > HAIR && it.plate_y > HAIR {
            let plate = [it.plate_x, it.plate_y].map(|side| units.size(side)).join(" × ");
            // Beside concrete that is drawn there is room on the other side.
            let way = if drawn { -1.0 } else { 1.0 };
            let corner = [way * it.plate_x / 2.0, -way * it.plate_y / 2.0];
            note(&mut view, corner, if drawn { 160.0 } else { -20.0 }, &["plate", &plate]);
        }
        note(&mut view, [reach[0], 0.0], 0.0, &["grid line"]);
        if let Some(blade) = it.blade {
            let axis = blade.axis;
            let end = |along: f64, aside: f64| if axis == 0 { [along, aside] } else { [aside, along] };
            let side = if axis == 0 { it.plate_x } else { it.plate_y };
            let [long, apart] = blade.plates.unwrap_or([0.7 * side, 0.0]);
            for way in if blade.plates.is_some() { &[-0.5, 0.5][..] } else { &[0.0] } {
                // Heavier than the grid line on which a blade lies.
                let [from, to] = [-0.5, 0.5].map(|half| end(half * long, way * apart));
                view.line(from, to, 1.6);
            }
            note(&mut view, end(-0.3 * long, -0.5 * apart), if axis == 0 { 225.0 } else { 160.0 }, &[blade.name()]);
        }
        let size = outline.size(units);
        match (drawn, it.round) {
            (true, true) => {
                note(&mut view, [half[0] * FRAC_1_SQRT_2, -half[0] * FRAC_1_SQRT_2], -40.0, &["round pier", &size])
            }
            (true, false) => note(&mut view, [half[0], -half[1] * 0.8], -10.0, &["concrete", &size]),
            (false, _) => {
                let above = view.paper([0.0, reach[1]]);
                caption(
                    &mut view,
                    above,
                    40.0,
                    &[if it.round { "center of the pier," } else { "center of the concrete," }, &size],
                );
            }
        }
        view.settle()
    };
    let blade = it.blade.map_or(String::new(), |blade| {
        let (name, axis) = (blade.name(), ["x", "y"][blade.axis]);
        match blade.plates {
            Some([_, apart]) => format!(" Its {name} run along {axis}, {} apart.", units.length(apart)),
            None => format!(" Its {name} runs along {axis}."),
        }
    });
    let alt = format!(
        "Plan of {}, in its middle {} by {} anchors {}, {} apart along x and {} along y, under a plate {} by {}.{blade}",
        outline.said(units),
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
