//! The foot of a post as it is cut: the face with its holes, measured from the end
//! grain, and the side along the blade, the plates or the bolts.

use super::Drawing;
use super::dimension::{Side, Station, chains, note, running};
use super::fit::{fit, row};
use super::geometry::Point;
use super::hatch::break_line;
use super::kerf::{Kerf, Passes};
use super::measure::HAIR;
use super::rows::up_a_face;
use super::view::{HEAVY, MEDIUM, Scale, THIN, View};
use crate::quantity::Units;

/// All in inches. Along the pins or screws is `b`, in the plane of the blade or
/// the plates is `d`.
#[derive(Clone, Debug)]
pub struct PostFoot {
    /// Whether the blade or the plates run along x.
    pub along_x: bool,
    pub b: f64,
    pub d: f64,
    pub fixing: Fixing,
    /// In a row along the grain.
    pub n: usize,
    pub rows: usize,
    /// End grain to the nearest row across.
    pub end: f64,
    pub spacing: f64,
    pub row_spacing: f64,
    pub seat_b: f64,
    pub seat_t: f64,
    /// End grain above what the base stands on.
    pub standoff: f64,
    pub foot_b: f64,
    pub foot_t: f64,
    /// Thickness along `b` of what stands between the plates; of a round one its diameter.
    pub leg_t: f64,
}

#[derive(Clone, Debug)]
pub enum Fixing {
    /// A blade in a slot, held by pins driven from one face and plugged.
    Blade {
        slot: f64,
        slot_depth: f64,
        pin_d: f64,
        pin_length: f64,
        /// Depth of the holes from the face they are bored in.
        bore: f64,
        blade_t: f64,
        blade_w: f64,
        blade_h: f64,
        /// Of the saw that cuts the slot; none where the shop does not say.
        saw: Option<Kerf>,
    },
    /// A plate on each of two faces, held by screws.
    Plates { plate_t: f64, plate_w: f64, plate_h: f64, screw_d: f64, screw_length: f64 },
    /// A tube in a bore, held by bolts through both.
    Tube { bore: f64, bore_deep: f64, tube: f64, tube_t: f64, tube_h: f64, bolt_d: f64 },
}

impl PostFoot {
    /// Holes on the face: across from the middle, up from the end grain.
    pub fn holes(&self) -> Vec<Point> {
        up_a_face([self.n, self.rows], self.end, [self.spacing, self.row_spacing])
    }

    /// Where the drawing breaks the post off: above all that is in it.
    fn top(&self) -> f64 {
        let inside = match self.fixing {
            Fixing::Blade { slot_depth, blade_h, saw, .. } => {
                slot_depth.max(blade_h) + saw.map_or(0.0, |saw| saw.overcut())
            }
            Fixing::Plates { plate_h, .. } => plate_h,
            Fixing::Tube { bore_deep, tube_h, .. } => bore_deep.max(tube_h),
        };
        self.holes().iter().fold(inside, |top, hole| top.max(hole[1] + self.hole_d())) + 0.13 * self.d
    }

    fn hole_d(&self) -> f64 {
        match self.fixing {
            Fixing::Blade { pin_d, .. } => pin_d,
            Fixing::Plates { screw_d, .. } => screw_d,
            Fixing::Tube { bolt_d, .. } => bolt_d,
        }
    }

    /// The post and its end grain, as wide as it is on a side.
    fn outline(&self, view: &mut View, post: f64) {
        let top = self.top();
        view.line([-post / 2.0, 0.0], [-post / 2.0, top], HEAVY);
        view.line([post / 2.0, 0.0], [post / 2.0, top], HEAVY);
        view.line([-post / 2.0, 0.0], [post / 2.0, 0.0], HEAVY);
        break_line(view, -post / 2.0, post / 2.0, top);
    }

    /// The base under it, so that the shop sees how the post stands.
    fn base(&self, view: &mut View) {
        let ground = -self.standoff;
        let plates = [
            (self.seat_t, self.seat_b, [-self.seat_t, 0.0]),
            (self.leg_height(), self.leg_t, [ground + self.foot_t, -self.seat_t]),
            (self.foot_t, self.foot_b, [ground, ground + self.foot_t]),
        ];
        for (thick, wide, [from, to]) in plates {
            if thick > HAIR {
                view.rect([-wide / 2.0, from], [wide / 2.0, to], THIN);
            }
        }
        let concrete = self.foot_b / 2.0 + 10.0 / view.scale;
        view.line([-concrete, ground], [concrete, ground], MEDIUM);
    }

    fn leg_height(&self) -> f64 {
        self.standoff - self.seat_t - self.foot_t
    }

    /// The face on which the holes are set out, from the end grain and from one edge.
    fn face(&self, scale: Scale) -> View {
        let mut view = View::new(scale);
        let (half, top, holes) = (self.d / 2.0, self.top(), self.holes());
        self.outline(&mut view, self.d);
        let mut heights: Vec<Station> = holes.iter().take(self.n).map(|hole| (*hole, "")).collect();
        match self.fixing {
            Fixing::Blade { slot_depth, blade_w, blade_h, saw, .. } => {
                view.dashed([-half, slot_depth], [half, slot_depth]);
                view.dashed_rect([-blade_w / 2.0, 0.0], [blade_w / 2.0, blade_h]);
                heights.push(([-half, slot_depth], "slot"));
                if let Some(saw) = saw {
                    self.kerf(&mut view, &saw);
                    heights.push(([-half, slot_depth + saw.overcut()], "kerf"));
                }
            }
            Fixing::Plates { plate_w, plate_h, .. } => {
                view.rect([-plate_w / 2.0, self.plate_foot()], [plate_w / 2.0, plate_h], MEDIUM);
                heights.push(([-plate_w / 2.0, plate_h], "plate"));
            }
            Fixing::Tube { bore, bore_deep, .. } => {
                self.bored(&mut view);
                heights.push(([-bore / 2.0, bore_deep], "bore"));
            }
        }
        for hole in &holes {
            view.circle(*hole, self.hole_d() / 2.0, HEAVY);
            cross(&mut view, *hole, self.hole_d() / 2.0);
        }
        running(&mut view, Side::Left, [-half, 0.0], &heights);
        let lowest = holes.iter().step_by(self.n.max(1));
        let mut across: Vec<Vec<Station>> = lowest.map(|hole| vec![([-half, top], ""), ([hole[0], top], "")]).collect();
        across.push(vec![([-half, top], "post"), ([half, top], "")]);
        chains(&mut view, Side::Top, &across);
        let (count, units) = (holes.len(), view.units);
        let Some(last) = holes.last().copied() else { return view };
        match self.fixing {
            Fixing::Blade { pin_d, bore, pin_length, .. } => {
                let bored = if count == 1 { "1 hole".into() } else { format!("{count} holes") };
                let pins = format!("for {}", units.size(pin_d));
                let deep = format!("{} deep", units.at_most(bore));
                let plugged = if bore - pin_length > HAIR { "plugged" } else { "through" };
                note(&mut view, last, 0.0, &[&bored, &pins, &deep, plugged]);
            }
            Fixing::Plates { screw_d, screw_length, .. } => {
                let screws = format!("{} × {}", units.size(screw_d), units.size(screw_length));
                let each = if count == 1 { "1 screw".into() } else { format!("{count} screws") };
                note(&mut view, last, 0.0, &[&each, &screws, "each face"]);
            }
            Fixing::Tube { bolt_d, bore, .. } => {
                let bolts = if count == 1 { "1 bolt".into() } else { format!("{count} bolts") };
                note(&mut view, last, 0.0, &[&format!("{bolts} {}", units.size(bolt_d)), "through"]);
                let low = [bore / 2.0, self.end * 0.4];
                note(&mut view, low, 0.0, &["bore", &units.size(bore)]);
            }
        }
        view
    }

    /// The hole from the end grain up, with the tube in it.
    fn bored(&self, view: &mut View) {
        let Fixing::Tube { bore, bore_deep, tube, tube_t, tube_h, .. } = self.fixing else { return };
        view.dashed_rect([-bore / 2.0, 0.0], [bore / 2.0, bore_deep]);
        for half in [tube / 2.0, tube / 2.0 - tube_t] {
            view.rect([-half, 0.0], [half, tube_h], THIN);
        }
    }

    /// Where the kerf of a round saw ends, which is cut from a face inwards.
    fn kerf(&self, view: &mut View, saw: &Kerf) {
        let half = self.d / 2.0;
        let left: Vec<Point> = saw.arc().into_iter().map(|[x, y]| [x - half, y]).collect();
        view.dashed_curve(&left);
        if saw.passes() != Passes::One {
            let right: Vec<Point> = left.iter().map(|[x, y]| [-x, *y]).collect();
            view.dashed_curve(&right);
        }
        let words = match saw.passes() {
            Passes::One => ["sawn from", "the left"],
            Passes::Both => ["sawn from", "both sides"],
            Passes::Core(core) => {
                for x in [-core / 2.0, core / 2.0] {
                    view.dashed([x, 0.0], [x, saw.slot_depth]);
                }
                ["the saw leaves", "the middle"]
            }
        };
        let beside = left[left.len() / 3];
        let beside = if saw.passes() == Passes::One { beside } else { [-beside[0], beside[1]] };
        note(view, beside, 40.0, &words);
    }

    /// Where side plates begin: beside the seat if that is no wider than the
    /// post, else on it.
    fn plate_foot(&self) -> f64 {
        if self.seat_b > self.b + HAIR { 0.0 } else { -self.seat_t }
    }

    /// Along the blade or the plates; the bored face is on the left.
    fn side(&self, scale: Scale) -> View {
        let mut view = View::new(scale);
        let (half, top) = (self.b / 2.0, self.top());
        self.outline(&mut view, self.b);
        self.base(&mut view);
        match self.fixing {
            Fixing::Blade { slot, slot_depth, pin_length, bore, blade_t, blade_h, pin_d, .. } => {
                for x in [-slot / 2.0, slot / 2.0] {
                    view.line([x, 0.0], [x, slot_depth], HEAVY);
                }
                view.line([-slot / 2.0, slot_depth], [slot / 2.0, slot_depth], HEAVY);
                view.rect([-blade_t / 2.0, 0.0], [blade_t / 2.0, blade_h], MEDIUM);
                let plug = bore - pin_length;
                for hole in self.holes().iter().take(self.n) {
                    let y = [hole[1] - pin_d / 2.0, hole[1] + pin_d / 2.0];
                    view.dashed([-half, y[0]], [-half + bore, y[0]]);
                    view.dashed([-half, y[1]], [-half + bore, y[1]]);
                    view.dashed([-half + bore, y[0]], [-half + bore, y[1]]);
                    if plug > HAIR {
                        view.dashed([-half + plug, y[0]], [-half + plug, y[1]]);
                    }
                }
                let from_face = |stations: &[(f64, &'static str)]| {
                    stations.iter().map(|(x, name)| ([*x - half, top], *name)).collect::<Vec<Station>>()
                };
                // A bolt goes through, and nothing is plugged.
                let plugged = if plug > HAIR { vec![(0.0, "plug")] } else { vec![] };
                let pin = from_face(&[&plugged[..], &[(plug, "pin"), (bore, "")]].concat());
                let post = from_face(&[(0.0, "post"), (self.b, "")]);
                chains(&mut view, Side::Top, &[pin, post]);
                let slot = vec![([-slot / 2.0, 0.0], "slot"), ([-slot / 2.0, slot_depth], "")];
                chains(&mut view, Side::Left, &[slot]);
            }
            Fixing::Plates { plate_t, plate_h, screw_length, screw_d, .. } => {
                for way in [-1.0, 1.0] {
                    view.rect([way * half, self.plate_foot()], [way * (half + plate_t), plate_h], MEDIUM);
                    for hole in self.holes().iter().take(self.n) {
                        let (outer, tip) = (way * (half + plate_t), way * (half + plate_t - screw_length));
                        for y in [hole[1] - screw_d / 2.0, hole[1] + screw_d / 2.0] {
                            view.dashed([outer, y], [tip, y]);
                        }
                        view.line([tip, hole[1] - screw_d / 2.0], [tip, hole[1] + screw_d / 2.0], THIN);
                        let head = [way * screw_d * 0.5, screw_d * 0.8];
                        view.rect([outer, hole[1] - head[1]], [outer + head[0], hole[1] + head[1]], MEDIUM);
                    }
                }
                chains(&mut view, Side::Top, &[vec![([-half, top], "post"), ([half, top], "")]]);
            }
            Fixing::Tube { bolt_d, .. } => {
                self.bored(&mut view);
                for hole in self.holes().iter().take(self.n) {
                    for y in [hole[1] - bolt_d / 2.0, hole[1] + bolt_d / 2.0] {
                        view.line([-half, y], [half, y], MEDIUM);
                    }
                    // Heads and nuts, over washers.
                    for way in [-1.0, 1.0] {
                        let (face, wide) = (way * half, way * 0.65 * bolt_d);
                        view.rect([face, hole[1] - 0.8 * bolt_d], [face + wide, hole[1] + 0.8 * bolt_d], MEDIUM);
                    }
                }
                chains(&mut view, Side::Top, &[vec![([-half, top], "post"), ([half, top], "")]]);
            }
        }
        view
    }

    fn alt(&self, units: Units) -> String {
        let fixing = match self.fixing {
            Fixing::Blade { slot, slot_depth, pin_d, pin_length, bore, saw, .. } => format!(
                "a slot {} wide and {} deep, and holes {} deep for pins {} across and {} long{}",
                units.length(slot),
                units.length(slot_depth),
                units.length(bore),
                units.size(pin_d),
                units.length(pin_length),
                saw.map_or(String::new(), |saw| format!(
                    "; the kerf of a saw of {} radius, {} deep, ends {} up the face",
                    units.length(saw.radius),
                    units.length(saw.cut),
                    units.length(saw.slot_depth + saw.overcut())
                ))
            ),
            Fixing::Plates { plate_w, plate_h, screw_d, screw_length, .. } => format!(
                "side plates {} by {} and screws {} by {} in each",
                units.length(plate_w),
                units.length(plate_h),
                units.size(screw_d),
                units.length(screw_length)
            ),
            Fixing::Tube { bore, bore_deep, tube, bolt_d, .. } => format!(
                "a bore {} across and {} deep for a tube {} across, and bolts {} through both",
                units.size(bore),
                units.length(bore_deep),
                units.size(tube),
                units.size(bolt_d)
            ),
        };
        format!(
            "Foot of a {} by {} post, from the face and the side: {fixing}; {} in a row, {}, the first {} from the end grain. \
             {} along {}. The end grain is {} above the concrete.",
            units.length(self.b),
            units.length(self.d),
            self.n,
            if self.rows == 1 { "1 row".into() } else { format!("{} rows", self.rows) },
            units.length(self.end),
            match self.fixing {
                Fixing::Blade { .. } => "The slot runs",
                Fixing::Plates { .. } => "The plates run",
                Fixing::Tube { .. } => "The bolts run",
            },
            // Bolts go through from face to face, where a blade runs across them.
            if self.along_x != matches!(self.fixing, Fixing::Tube { .. }) { "x" } else { "y" },
            units.length(self.standoff)
        )
    }
}

/// Lays face and side out in a frame of so many points.
pub fn post_foot(it: &PostFoot, width: f64, height: f64, units: Units) -> Drawing {
    let title = match it.fixing {
        Fixing::Blade { .. } => "Bored face",
        Fixing::Plates { .. } => "Face with plate",
        Fixing::Tube { .. } => "Face with bolts",
    };
    let draw = |scale| row([(it.face(scale), title), (it.side(scale), "Side")]);
    fit([width, height], units, &it.alt(units), &[&draw])
}

/// The middle of a hole, where a punch goes.
fn cross(view: &mut View, at: Point, radius: f64) {
    let [x, y] = view.paper(at);
    let arm = radius * view.scale + 2.0;
    view.stroke([x - arm, y], [x + arm, y], THIN, false);
    view.stroke([x, y - arm], [x, y + arm], THIN, false);
}
