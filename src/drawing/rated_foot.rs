//! A post in a base that comes ready made: what is known of it, from both sides and from above.

use super::Drawing;
use super::dimension::{Side, axes, chains, note, running};
use super::fit::{fit, row, stack};
use super::hatch::{break_line, end_grain};
use super::measure::HAIR;
use super::rows::Group;
use super::view::{HEAVY, MEDIUM, Scale, View};
use crate::quantity::Units;

/// In inches. Heights are over what the base stands on.
#[derive(Clone, Copy, Debug)]
pub struct RatedFoot {
    pub b: f64,
    pub d: f64,
    pub seat_x: f64,
    pub seat_y: f64,
    pub standoff: f64,
    /// Middle of the fasteners; zero where only the report knows.
    pub fastener_h: f64,
    pub fasteners: u32,
    pub on_wood: bool,
    /// Anchors or screws, and from one to the next.
    pub n_x: usize,
    pub n_y: usize,
    pub s_x: f64,
    pub s_y: f64,
    pub anchor_d: f64,
}

impl RatedFoot {
    /// As it looks along an axis: the base is dashed, for its report draws it.
    fn side(&self, scale: Scale, [post, seat]: [f64; 2], first: bool) -> View {
        let mut view = View::new(scale);
        let told = self.fastener_h > HAIR;
        let over = match told {
            true => self.fastener_h + (self.fastener_h - self.standoff).max(0.5),
            false => self.standoff + 0.6 * post,
        };
        let (half, top) = (post / 2.0, over + 0.25 * post.max(1.0));
        for x in [-half, half] {
            view.line([x, self.standoff], [x, top], HEAVY);
        }
        view.line([-half, self.standoff], [half, self.standoff], HEAVY);
        break_line(&mut view, -half, half, top);
        let wide = seat.max(post) / 2.0 + 0.25;
        view.dashed_rect([-wide, 0.0], [wide, over]);
        let ground = wide + 12.0 / view.scale;
        view.line([-ground, 0.0], [ground, 0.0], HEAVY);
        let middle = self.fastener_h;
        let mut heights = vec![([half, self.standoff], "end grain")];
        if told {
            view.dashed([-wide, middle], [wide, middle]);
            heights.push(([wide, middle], "fasteners"));
        }
        running(&mut view, Side::Right, [ground, 0.0], &heights);
        chains(&mut view, Side::Top, &[vec![([-half, top], "post"), ([half, top], "")]]);
        chains(&mut view, Side::Bottom, &[vec![([-seat / 2.0, 0.0], "seat"), ([seat / 2.0, 0.0], "")]]);
        if first {
            let count = format!("{} fasteners", self.fasteners);
            note(&mut view, [wide, over * 0.3 + self.standoff * 0.5], -30.0, &[&count, "by the report"]);
        }
        view
    }

    fn plan(&self, scale: Scale) -> View {
        let (mut view, units) = (View::new(scale), scale.units);
        let post = [self.b / 2.0, self.d / 2.0];
        end_grain(&mut view, [-post[0], -post[1]], post);
        view.rect([-post[0], -post[1]], post, HEAVY);
        let seat = [self.seat_x / 2.0, self.seat_y / 2.0];
        view.rect([-seat[0], -seat[1]], seat, MEDIUM);
        let fixed = Group::about_middle([self.n_x, self.n_y], [self.s_x, self.s_y]);
        let seen = self.anchor_d.max(3.2 / view.scale);
        fixed.draw(&mut view, seen, HEAVY);
        let (low, left) = (-seat[1].max(post[1]), -seat[0].max(post[0]));
        chains(&mut view, Side::Bottom, &[fixed.xs.iter().map(|x| ([*x, low], "")).collect()]);
        chains(&mut view, Side::Left, &[fixed.ys.iter().map(|y| ([left, *y], "")).collect()]);
        axes(&mut view, "x", "y");
        if let Some(last) = fixed.last() {
            let thing = if self.on_wood { "screw" } else { "anchor" };
            note(&mut view, last, 60.0, &[&fixed.told(thing, &units.size(self.anchor_d))]);
        }
        view
    }
}

/// Lays the three views out in a frame of so many points.
pub fn rated_foot(it: &RatedFoot, width: f64, height: f64, units: Units) -> Drawing {
    let alt = format!(
        "Foot of a {} by {} post in a rated base, from both sides and from above: seat {} by {}, end grain {} above the {}, \
         {} fasteners{}, {} by {} {} {}, {} apart along x and {} along y.",
        units.length(it.b),
        units.length(it.d),
        units.length(it.seat_x),
        units.length(it.seat_y),
        units.length(it.standoff),
        if it.on_wood { "floor" } else { "concrete" },
        it.fasteners,
        match it.fastener_h > HAIR {
            true => format!(" with their center {} above it", units.length(it.fastener_h)),
            false => " by its report".into(),
        },
        it.n_x,
        it.n_y,
        if it.on_wood { "screws" } else { "anchors" },
        units.size(it.anchor_d),
        units.length(it.s_x),
        units.length(it.s_y),
    );
    // Both sides are drawn where they differ.
    let alike = (it.b - it.d).abs() + (it.seat_x - it.seat_y).abs() < HAIR;
    let one =
        |scale| row([(it.side(scale, [it.b, it.seat_x], true), "From each side"), (it.plan(scale), "From above")]);
    let both = |scale| {
        row([
            (it.side(scale, [it.b, it.seat_x], true), "Along x"),
            (it.side(scale, [it.d, it.seat_y], false), "Along y"),
            (it.plan(scale), "From above"),
        ])
    };
    let below = |scale| {
        let sides = [
            (it.side(scale, [it.b, it.seat_x], true), "Along x"),
            (it.side(scale, [it.d, it.seat_y], false), "Along y"),
        ];
        stack(row(sides), row([(it.plan(scale), "From above")]))
    };
    match alike {
        true => fit([width, height], units, &alt, &[&one]),
        false => fit([width, height], units, &alt, &[&both, &below]),
    }
}
