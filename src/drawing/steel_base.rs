//! A base for those who cut, drill and weld it: along the blade or the plates, and across them.

use super::Drawing;
use super::dimension::{Side, Station, chains, note, running, weld};
use super::measure::HAIR;
use super::view::{HEAVY, MEDIUM, Point, Scale, View, Weld, fit, row};
use crate::quantity::Units;

/// In inches: along `d` in the plane of the blade or the plates, along `b` normal to it. Heights are over the top of the
/// seat, where the end grain stands.
#[derive(Clone, Debug)]
pub struct SteelBase {
    pub along_x: bool,
    pub holder: Holder,
    pub hole: f64,
    pub n: usize,
    pub rows: usize,
    pub end: f64,
    pub spacing: f64,
    pub row_spacing: f64,
    pub seat_b: f64,
    pub seat_d: f64,
    pub seat_t: f64,
    pub standoff: f64,
    pub leg: Leg,
    pub leg_w: f64,
    /// Thickness of a bar, wall of a pipe.
    pub leg_t: f64,
    pub foot_b: f64,
    pub foot_d: f64,
    pub foot_t: f64,
    pub weld: f64,
}

#[derive(Clone, Copy, Debug)]
pub enum Holder {
    Blade {
        t: f64,
        w: f64,
        h: f64,
    },
    /// One on each side of the post, so far apart.
    Plates {
        t: f64,
        w: f64,
        h: f64,
        apart: f64,
    },
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Leg {
    Bar,
    Round,
    Pipe,
}

impl SteelBase {
    fn holder(&self) -> [f64; 3] {
        match self.holder {
            Holder::Blade { t, w, h } | Holder::Plates { t, w, h, .. } => [t, w, h],
        }
    }

    /// Of the blade, or of the plate on the right.
    fn middle_b(&self) -> f64 {
        match self.holder {
            Holder::Blade { .. } => 0.0,
            Holder::Plates { t, apart, .. } => (apart + t) / 2.0,
        }
    }

    fn leg_b(&self) -> f64 {
        if self.leg == Leg::Bar { self.leg_t } else { self.leg_w }
    }

    /// Holes for pins or screws: across from the middle, up from the seat.
    pub fn holes(&self) -> Vec<Point> {
        let rows = (0..self.rows).map(|row| (row as f64 - (self.rows as f64 - 1.0) / 2.0) * self.row_spacing);
        rows.flat_map(|x| (0..self.n).map(move |at| [x, self.end + at as f64 * self.spacing])).collect()
    }

    /// Seat, leg and foot plate as wide as they look from a side.
    fn stand(&self, view: &mut View, [seat, leg, foot]: [f64; 3]) {
        let ground = -self.standoff;
        let parts = [
            (seat, -self.seat_t, 0.0),
            (leg, ground + self.foot_t, -self.seat_t),
            (foot, ground, ground + self.foot_t),
        ];
        for (wide, from, to) in parts {
            if to - from > HAIR {
                view.rect([-wide / 2.0, from], [wide / 2.0, to], HEAVY);
            }
        }
    }

    fn front(&self, scale: Scale) -> View {
        let mut view = View::new(scale);
        let ([_, w, h], ground, units) = (self.holder(), -self.standoff, scale.units);
        self.stand(&mut view, [self.seat_d, self.leg_w, self.foot_d]);
        view.rect([-w / 2.0, 0.0], [w / 2.0, h], HEAVY);
        let holes = self.holes();
        for hole in &holes {
            view.circle(*hole, self.hole / 2.0, MEDIUM);
            view.dot(*hole, 0.8);
        }
        let mut heights: Vec<Station> = holes.iter().take(self.n).map(|hole| (*hole, "")).collect();
        heights.push(([-w / 2.0, h], "top"));
        chains(&mut view, Side::Left, &[vec![([-self.foot_d / 2.0, ground], ""), ([-self.seat_d / 2.0, 0.0], "")]]);
        running(&mut view, Side::Left, [-self.seat_d / 2.0, 0.0], &heights);
        let lowest = holes.iter().step_by(self.n.max(1));
        let mut across: Vec<Station> = lowest.map(|hole| ([hole[0], h], "")).collect();
        across.extend([([-w / 2.0, h], ""), ([w / 2.0, h], "")]);
        chains(&mut view, Side::Top, &[across]);
        if let Some(last) = holes.last() {
            let count = if holes.len() == 1 { "1 hole".to_string() } else { format!("{} holes", holes.len()) };
            let each = if matches!(self.holder, Holder::Plates { .. }) { " each" } else { "" };
            note(&mut view, *last, 20.0, &[&format!("{count}{each}"), &units.size(self.hole)]);
        }
        if self.leg_height() > HAIR {
            let kind = if self.leg == Leg::Bar { Weld::BothSides } else { Weld::AllRound };
            weld(&mut view, [self.leg_w / 2.0, -self.seat_t], -10.0, kind, self.weld);
            weld(&mut view, [self.leg_w / 2.0, ground + self.foot_t], -40.0, kind, self.weld);
        }
        if matches!(self.holder, Holder::Blade { .. }) {
            note(&mut view, [w / 2.0, h * 0.3], 10.0, &["blade", &units.size(self.holder()[0])]);
            self.notes(&mut view, [self.seat_d, self.foot_d]);
            weld(&mut view, [w / 2.0, 0.0], 20.0, Weld::BothSides, self.weld);
        }
        view
    }

    /// What seat, leg and foot plate are made of.
    fn notes(&self, view: &mut View, [seat, foot]: [f64; 2]) {
        let (units, ground) = (view.units, -self.standoff);
        if self.seat_t > HAIR {
            note(view, [-seat / 2.0, -self.seat_t / 2.0], 215.0, &["seat", &units.size(self.seat_t)]);
        }
        if self.leg_height() > HAIR {
            let name = match self.leg {
                Leg::Bar => "bar",
                Leg::Round => "round bar",
                Leg::Pipe => "pipe",
            };
            let sizes = if self.leg == Leg::Round { vec![self.leg_w] } else { vec![self.leg_w, self.leg_t] };
            let size: Vec<String> = sizes.into_iter().map(|side| units.size(side)).collect();
            let long = format!("{} long", units.size(self.leg_height()));
            let at = [0.0, (ground + self.foot_t - self.seat_t) / 2.0];
            note(view, at, 270.0, &[name, &size.join(" × "), &long]);
        }
        if self.foot_t > HAIR {
            let at = [-foot / 2.0, ground + self.foot_t / 2.0];
            note(view, at, 240.0, &["plate", &units.size(self.foot_t)]);
        }
    }

    fn leg_height(&self) -> f64 {
        self.standoff - self.seat_t - self.foot_t
    }

    fn side(&self, scale: Scale) -> View {
        let mut view = View::new(scale);
        let [t, _, h] = self.holder();
        self.stand(&mut view, [self.seat_b, self.leg_b(), self.foot_b]);
        let middle = self.middle_b();
        let middles = if middle > HAIR { vec![-middle, middle] } else { vec![0.0] };
        for x in &middles {
            view.rect([x - t / 2.0, 0.0], [x + t / 2.0, h], HEAVY);
        }
        let across = middles.iter().flat_map(|x| [([x - t / 2.0, h], ""), ([x + t / 2.0, h], "")]);
        chains(&mut view, Side::Top, &[across.collect()]);
        weld(&mut view, [middle + t / 2.0, 0.0], 30.0, Weld::BothSides, self.weld);
        self.notes(&mut view, [self.seat_b, self.foot_b]);
        view
    }
}

/// Lays both sides out in a frame of so many points.
pub fn steel_base(it: &SteelBase, width: f64, height: f64, units: Units) -> Drawing {
    let ([t, w, h], size) = (it.holder(), |length: f64| units.size(length));
    let (name, title) = match it.holder {
        Holder::Blade { .. } => ("blade", ["Along the blade", "Across it"]),
        Holder::Plates { .. } => ("two side plates", ["Along the plates", "Across them"]),
    };
    let alt = format!(
        "Steel of the base: {name} {} by {} by {} along {} with {} holes {}, the lowest {} over the seat; seat {} thick, \
         plate on the concrete {}; fillet welds {}; {} high to the top of the seat.",
        size(t),
        size(w),
        size(h),
        if it.along_x { "x" } else { "y" },
        it.n * it.rows,
        size(it.hole),
        units.length(it.end),
        size(it.seat_t),
        size(it.foot_t),
        size(it.weld),
        units.length(it.standoff),
    );
    // A blade looks the same from its side, but for its thickness.
    let front = |scale| row([(it.front(scale), title[0])]);
    let both = |scale| row([(it.front(scale), title[0]), (it.side(scale), title[1])]);
    match it.holder {
        Holder::Blade { .. } => fit([width, height], units, &alt, &[&front]),
        Holder::Plates { .. } => fit([width, height], units, &alt, &[&both]),
    }
}
