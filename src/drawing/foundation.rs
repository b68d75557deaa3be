//! A foundation for those who dig and pour it: a section with its heights, steel and rods.

use super::Drawing;
use super::dimension::{Side, caption, chains, counted, note};
use super::fit::fit;
use super::hatch::earth;
use super::measure::HAIR;
use super::pier::Pier;
use super::rows::places_of;
use super::view::{HEAVY, MEDIUM, Scale, THIN, View};
use crate::quantity::Units;

/// In inches. What there is none of is zero: a block has no pier, a pier may have no pad.
#[derive(Clone, Debug)]
pub struct Foundation {
    /// Width, heights and steel; its pad along x.
    pub pier: Pier,
    pub pad_y: f64,
    /// What an upright bar is called.
    pub bar: String,
}

impl Foundation {
    fn has_pad(&self) -> bool {
        self.pier.pad > HAIR && self.pier.pad_t > HAIR
    }

    fn has_pier(&self) -> bool {
        self.pier.width > HAIR
    }

    fn section(&self, scale: Scale) -> View {
        let (it, mut view, units) = (&self.pier, View::new(scale), scale.units);
        let (half, top, foot) = (it.width / 2.0, it.above_ground, -it.depth);
        let (wide, shoulder) = match (self.has_pad(), self.has_pier()) {
            (true, true) => (it.pad / 2.0, foot + it.pad_t),
            (true, false) => (it.pad / 2.0, top),
            (false, _) => (half, foot),
        };
        if self.has_pad() {
            view.rect([-wide, foot], [wide, shoulder], HEAVY);
        } else {
            view.line([-half, foot], [half, foot], HEAVY);
        }
        let face = if self.has_pier() { half } else { wide };
        if self.has_pier() {
            view.line([-half, shoulder], [-half, top], HEAVY);
            view.line([half, shoulder], [half, top], HEAVY);
            view.line([-half, top], [half, top], HEAVY);
        }
        let ground = wide.max(face) + 20.0 / view.scale;
        earth(&mut view, -ground, -face, 0.0);
        earth(&mut view, face, ground, 0.0);
        let rods = places_of(it.n_x, it.s_x);
        for x in &rods {
            it.anchor(&mut view, *x);
        }
        let outermost = it.bar_places().iter().map(|at| at[0]).fold(0.0, f64::max);
        let ties = it.tie_places(top, shoulder);
        if it.bars > 0 {
            for x in [-outermost, outermost] {
                view.dashed([x, foot + 3.0], [x, top - it.bar_in.min(3.0)]);
            }
            for y in &ties {
                view.line([-outermost, *y], [outermost, *y], THIN);
            }
        }
        let mut heights = vec![([-wide, foot], "in the ground"), ([-ground, 0.0], "above ground"), ([-face, top], "")];
        if self.has_pad() && self.has_pier() {
            heights[0].1 = "pad";
            heights.push(([-half, shoulder], if top > HAIR { "above the pad" } else { "pier" }));
        }
        chains(&mut view, Side::Left, &[heights]);
        if let Some(last) = rods.last() {
            // Anchors may be deeper, and not less deep.
            let deep = units.measured_at_least(it.embedment);
            chains(&mut view, Side::Right, &[vec![([*last, top - deep], "anchors"), ([*last, top], "")]]);
        }
        if it.frost > HAIR {
            let inner = if -it.frost < shoulder { wide } else { face };
            let [from, to] = [inner, ground].map(|x| view.paper([x, -it.frost]));
            view.stroke(from, [to[0].max(from[0] + 16.0), to[1]], MEDIUM, true);
            caption(
                &mut view,
                [to[0].max(from[0] + 16.0), to[1]],
                0.0,
                &[&format!("frost {}", units.length(it.frost))],
            );
        }
        if self.has_pier() {
            let form = if it.round { "round pier" } else { "square pier" };
            // What the form is cut to.
            let size = [it.width, top - shoulder].map(|side| units.length(side));
            let size = format!("{}, {} high", size[0], size[1]);
            note(&mut view, [half, (shoulder.min(0.0)) / 2.0], 0.0, &[form, &size]);
        }
        if self.has_pad() {
            let size = [it.pad, self.pad_y].map(|side| units.length(side)).join(" × ");
            let name = if self.has_pier() { "pad" } else { "block" };
            note(&mut view, [wide, foot + (shoulder - foot) * 0.4], 0.0, &[name, &size]);
        }
        if it.bars > 0 {
            let text = counted(it.bars, "bar", &self.bar);
            note(&mut view, [outermost, shoulder + (top - shoulder) * 0.3], 0.0, &[&text]);
            if let Some(tie) = ties.last().filter(|_| it.tie_s > HAIR) {
                let text = format!("at most {} apart", units.at_most(it.tie_s));
                note(&mut view, [outermost, *tie], 0.0, &["ties", &text]);
            }
        }
        view
    }
}

/// Lays the section out in a frame of so many points.
pub fn foundation(it: &Foundation, width: f64, height: f64, units: Units) -> Drawing {
    let (pier, size) = (&it.pier, |length: f64| units.length(length));
    let mut alt = String::from("Section of the foundation:");
    if it.has_pier() {
        alt += &format!(" a {} pier {} wide,", if pier.round { "round" } else { "square" }, size(pier.width));
    }
    if it.has_pad() {
        let name = if it.has_pier() { "pad" } else { "block" };
        alt += &format!(" a {name} {} by {}", size(pier.pad), size(it.pad_y));
        if it.has_pier() {
            alt += &format!(" and {} thick", size(pier.pad_t));
        }
        alt += ",";
    }
    alt += &format!(" {} above the ground and {} in it.", size(pier.above_ground), size(pier.depth));
    if pier.n_x * pier.n_y > 0 {
        let rods = counted(pier.n_x * pier.n_y, "rod", &units.size(pier.anchor_d));
        alt += &format!(" {rods}, {} deep.", size(pier.embedment));
    }
    if pier.bars > 0 {
        alt += &format!(" {}.", counted(pier.bars, "vertical bar", &it.bar));
        if pier.tie_s > HAIR {
            alt += &format!(" Ties at most {} apart.", size(pier.tie_s));
        }
    }
    if pier.frost > HAIR {
        alt += &format!(" Frost reaches {} down.", size(pier.frost));
    }
    fit([width, height], units, &alt, &[&|scale| it.section(scale).settle()])
}
