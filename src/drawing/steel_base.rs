//! A base for those who cut, drill and weld it: along the blade, the plates or the tube, and across plates.

use super::Drawing;
use super::dimension::{Side, Station, chains, note, running, weld};
use super::fit::{fit, row};
use super::geometry::Point;
use super::measure::HAIR;
use super::rows::up_a_face;
use super::view::{HEAVY, MEDIUM, Scale, View, Weld};
use crate::quantity::Units;

/// In inches: along `d` in the plane of the blade or the plates, along `b` normal to it, which is along pins, screws or
/// bolts. Heights are over the top of the seat, where the end grain stands.
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
    /// The standoff itself, which goes up through the seat into the post, with a hole to drain it at its foot.
    Tube {
        h: f64,
        drain: f64,
    },
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Leg {
    Bar,
    Round,
    Pipe,
}

impl SteelBase {
    /// Thickness, width and height of what is over the seat.
    fn holder(&self) -> [f64; 3] {
        match self.holder {
            Holder::Blade { t, w, h } | Holder::Plates { t, w, h, .. } => [t, w, h],
            Holder::Tube { h, .. } => [self.leg_t, self.leg_w, h],
        }
    }

    fn is_tube(&self) -> bool {
        matches!(self.holder, Holder::Tube { .. })
    }

    /// Of the blade, or of the plate on the right.
    fn middle_b(&self) -> f64 {
        match self.holder {
            Holder::Plates { t, apart, .. } => (apart + t) / 2.0,
            Holder::Blade { .. } | Holder::Tube { .. } => 0.0,
        }
    }

    fn leg_b(&self) -> f64 {
        if self.leg == Leg::Bar { self.leg_t } else { self.leg_w }
    }

    /// Holes for pins or screws: across from the middle, up from the seat.
    pub fn holes(&self) -> Vec<Point> {
        up_a_face([self.n, self.rows], self.end, [self.spacing, self.row_spacing])
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
        if let Holder::Tube { drain, .. } = self.holder {
            // It is seen behind the seat, whose hole it goes through.
            view.dashed([-w / 2.0, -self.seat_t], [-w / 2.0, 0.0]);
            view.dashed([w / 2.0, -self.seat_t], [w / 2.0, 0.0]);
            if drain > HAIR {
                let at = [0.0, ground + self.foot_t + self.weld + drain];
                view.circle(at, drain / 2.0, MEDIUM);
                note(&mut view, at, 200.0, &["drain", &units.size(drain)]);
            }
        }
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
            let size = units.size(self.hole);
            let lines = match self.holder {
                Holder::Blade { .. } => [count, size],
                Holder::Plates { .. } => [format!("{count} each"), size],
                Holder::Tube { .. } => [format!("{count} {size}"), "through both walls".into()],
            };
            note(&mut view, *last, 20.0, &[&lines[0], &lines[1]]);
        }
        if self.leg_height() > HAIR {
            let kind = if self.leg == Leg::Bar { Weld::BothSides } else { Weld::AllRound };
            weld(&mut view, [self.leg_w / 2.0, -self.seat_t], -10.0, kind, self.weld);
            weld(&mut view, [self.leg_w / 2.0, ground + self.foot_t], -40.0, kind, self.weld);
        }
        match self.holder {
            Holder::Blade { t, .. } => {
                note(&mut view, [w / 2.0, h * 0.55], 0.0, &["blade", &sizes(units, &[t, w, h])]);
                self.notes(&mut view, [self.seat_d, self.foot_d]);
                weld(&mut view, [w / 2.0, 0.0], 20.0, Weld::BothSides, self.weld);
            }
            Holder::Tube { .. } => self.notes(&mut view, [self.seat_d, self.foot_d]),
            Holder::Plates { .. } => {}
        }
        view
    }

    /// What seat, leg and foot plate are cut from.
    fn notes(&self, view: &mut View, [seat, foot]: [f64; 2]) {
        let (units, ground) = (view.units, -self.standoff);
        if self.seat_t > HAIR {
            let size = sizes(units, &[self.seat_t, self.seat_d, self.seat_b]);
            note(view, [-seat / 2.0, -self.seat_t / 2.0], 215.0, &["seat", &size]);
        }
        if self.leg_height() > HAIR {
            let name = match (self.leg, self.is_tube()) {
                (_, true) => "tube",
                (Leg::Bar, _) => "bar",
                (Leg::Round, _) => "round bar",
                (Leg::Pipe, _) => "pipe",
            };
            let size = if self.leg == Leg::Round { vec![self.leg_w] } else { vec![self.leg_w, self.leg_t] };
            let long = format!("{} long", units.size(self.leg_long()));
            let at = [0.0, (ground + self.foot_t - self.seat_t) / 2.0];
            note(view, at, 270.0, &[name, &sizes(units, &size), &long]);
        }
        if self.foot_t > HAIR {
            let at = [-foot / 2.0, ground + self.foot_t / 2.0];
            let size = sizes(units, &[self.foot_t, self.foot_d, self.foot_b]);
            note(view, at, 240.0, &["plate", &size]);
        }
    }

    /// As it is cut: a tube goes on through the seat.
    fn leg_long(&self) -> f64 {
        match self.holder {
            Holder::Tube { h, .. } => self.standoff - self.foot_t + h,
            _ => self.leg_height(),
        }
    }

    fn leg_height(&self) -> f64 {
        self.standoff - self.seat_t - self.foot_t
    }

    fn side(&self, scale: Scale) -> View {
        let mut view = View::new(scale);
        let [t, w, h] = self.holder();
        self.stand(&mut view, [self.seat_b, self.leg_b(), self.foot_b]);
        let middle = self.middle_b();
        let middles = if middle > HAIR { vec![-middle, middle] } else { vec![0.0] };
        for x in &middles {
            view.rect([x - t / 2.0, 0.0], [x + t / 2.0, h], HEAVY);
        }
        let across = middles.iter().flat_map(|x| [([x - t / 2.0, h], ""), ([x + t / 2.0, h], "")]);
        chains(&mut view, Side::Top, &[across.collect()]);
        weld(&mut view, [middle + t / 2.0, 0.0], 30.0, Weld::BothSides, self.weld);
        note(&mut view, [middle + t / 2.0, h * 0.6], 0.0, &["side plates", &sizes(scale.units, &[t, w, h])]);
        self.notes(&mut view, [self.seat_b, self.foot_b]);
        view
    }
}

/// Lays it out in a frame of so many points.
pub fn steel_base(it: &SteelBase, width: f64, height: f64, units: Units) -> Drawing {
    let ([t, w, h], size) = (it.holder(), |length: f64| units.size(length));
    let (name, title) = match it.holder {
        Holder::Blade { .. } => ("blade", "Along the blade"),
        Holder::Plates { .. } => ("two side plates", "Along the plates"),
        Holder::Tube { .. } => ("tube through the seat", "Seen along the bolts"),
    };
    let alt = format!(
        "Steel of the base: {name} {} by {} by {} along {} with {} holes {}, the lowest {} over the seat; seat {}, plate under it all {}; fillet \
         welds {}; {} high to the top of the seat.",
        size(t),
        size(w),
        size(h),
        if it.along_x { "x" } else { "y" },
        it.n * it.rows,
        size(it.hole),
        units.length(it.end),
        sizes(units, &[it.seat_t, it.seat_d, it.seat_b]),
        sizes(units, &[it.foot_t, it.foot_d, it.foot_b]),
        size(it.weld),
        units.length(it.standoff),
    );
    // A blade or a tube looks the same from its side, but for a thickness that is told.
    let front = |scale| row([(it.front(scale), title)]);
    let both = |scale| row([(it.front(scale), title), (it.side(scale), "Across them")]);
    match it.holder {
        Holder::Plates { .. } => fit([width, height], units, &alt, &[&both]),
        _ => fit([width, height], units, &alt, &[&front]),
    }
}

/// `1/2″ × 4 1/2″ × 8″`
fn sizes(units: Units, sides: &[f64]) -> String {
    sides.iter().map(|side| units.size(*side)).collect::<Vec<_>>().join(" × ")
}
