//! The drawings that a sheet may ask for by name, with what each has to be given.

use std::collections::BTreeMap;

use super::{
    AnchorPlan, BarRing, BasePlan, Drawing, Fixing, FloorFoot, Foundation, FreeBody, Holder, Kerf, Leg, Pier, PinGroup,
    PostEnd, PostFoot, RatedFoot, RoofShape, RoofWind, SteelBase, Template, anchor_plan, bar_ring, base_plan,
    floor_foot, foundation, free_body, pier, pin_group, post_end, post_foot, rated_foot, roof_wind, steel_base,
    template,
};
use crate::quantity::Units;

pub struct Figure {
    pub name: &'static str,
    pub inputs: &'static [(&'static str, Input)],
    /// From values for all inputs.
    pub draw: fn(&Values) -> Drawing,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Input {
    Length,
    Force,
    Stress,
    Moment,
    Angle,
    Number,
    Count,
    Choice(&'static [&'static str]),
}

/// What a figure was given: in inches, pounds and degrees, stresses in pounds on
/// a square inch, moments in inch-pounds.
#[derive(Clone, Debug, Default)]
pub struct Values {
    pub numbers: BTreeMap<String, f64>,
    /// What the figure says sizes in.
    pub units: Units,
    pub choices: BTreeMap<String, String>,
}

impl Values {
    /// # Panics
    ///
    /// Where the figure was not given what its list of inputs asks for.
    pub fn number(&self, name: &str) -> f64 {
        *self.numbers.get(name).unwrap_or_else(|| panic!("the figure was given no `{name}`"))
    }

    /// More than can be drawn is not drawn.
    pub fn count(&self, name: &str) -> usize {
        self.number(name).round().clamp(0.0, 20.0) as usize
    }

    /// # Panics
    ///
    /// As [`Values::number`].
    pub fn choice(&self, name: &str) -> &str {
        self.choices.get(name).unwrap_or_else(|| panic!("the figure was given no `{name}`"))
    }
}

pub fn figure(name: &str) -> Option<&'static Figure> {
    FIGURES.iter().find(|figure| figure.name == name)
}

/// Points that a figure may take within the body of a page, which is narrower on
/// A4 paper than on a letter page.
fn body(units: Units) -> f64 {
    units.either(394.0, 377.0)
}

/// And across it.
fn page(units: Units) -> f64 {
    units.either(524.0, 507.0)
}

/// On a sheet for the shop or the site, which is full but one page: across it, and what stands beside each other there.
const SHEET: [f64; 2] = [507.0, 190.0];
const WIDE: [f64; 2] = [325.0, 240.0];
const NARROW: [f64; 2] = [165.0, 180.0];
const SECTION: [f64; 2] = [280.0, 330.0];
const BESIDE: [f64; 2] = [216.0, 180.0];

use Input::{Angle, Choice, Count, Force, Length, Moment, Stress};

pub const FIGURES: &[Figure] = &[
    Figure {
        name: "blade-foot",
        inputs: &[
            ("along", Choice(&["x", "y"])),
            ("b", Length),
            ("d", Length),
            ("slot", Length),
            ("slot_depth", Length),
            ("pin_d", Length),
            ("pin_length", Length),
            ("bore", Length),
            ("n", Count),
            ("rows", Count),
            ("end", Length),
            ("spacing", Length),
            ("row_spacing", Length),
            ("blade_t", Length),
            ("blade_w", Length),
            ("blade_h", Length),
            ("saw_radius", Length),
            ("saw_cut", Length),
            ("seat_b", Length),
            ("seat_t", Length),
            ("standoff", Length),
            ("leg_t", Length),
            ("foot_b", Length),
            ("foot_t", Length),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let blade = Fixing::Blade {
                slot: n("slot"),
                slot_depth: n("slot_depth"),
                pin_d: n("pin_d"),
                pin_length: n("pin_length"),
                bore: n("bore"),
                blade_t: n("blade_t"),
                blade_w: n("blade_w"),
                blade_h: n("blade_h"),
                saw: (n("saw_radius") > 0.0 && n("saw_cut") > 0.0).then(|| Kerf {
                    radius: n("saw_radius"),
                    cut: n("saw_cut"),
                    d: n("d"),
                    slot_depth: n("slot_depth"),
                }),
            };
            post_foot(&foot(values, blade), WIDE[0], WIDE[1], values.units)
        },
    },
    Figure {
        name: "plate-foot",
        inputs: &[
            ("along", Choice(&["x", "y"])),
            ("b", Length),
            ("d", Length),
            ("screw_d", Length),
            ("screw_length", Length),
            ("n", Count),
            ("rows", Count),
            ("end", Length),
            ("spacing", Length),
            ("row_spacing", Length),
            ("plate_t", Length),
            ("plate_w", Length),
            ("plate_h", Length),
            ("seat_b", Length),
            ("seat_t", Length),
            ("standoff", Length),
            ("leg_t", Length),
            ("foot_b", Length),
            ("foot_t", Length),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let plates = Fixing::Plates {
                plate_t: n("plate_t"),
                plate_w: n("plate_w"),
                plate_h: n("plate_h"),
                screw_d: n("screw_d"),
                screw_length: n("screw_length"),
            };
            post_foot(&foot(values, plates), WIDE[0], WIDE[1], values.units)
        },
    },
    Figure {
        name: "blade-steel",
        inputs: &[
            ("along", Choice(&["x", "y"])),
            ("leg_shape", Choice(&["bar", "round", "pipe"])),
            ("blade_t", Length),
            ("blade_w", Length),
            ("blade_h", Length),
            ("n", Count),
            ("rows", Count),
            ("end", Length),
            ("spacing", Length),
            ("row_spacing", Length),
            ("hole", Length),
            ("seat_d", Length),
            ("seat_t", Length),
            ("standoff", Length),
            ("leg", Length),
            ("leg_t", Length),
            ("foot_d", Length),
            ("foot_t", Length),
            ("weld", Length),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let blade = Holder::Blade { t: n("blade_t"), w: n("blade_w"), h: n("blade_h") };
            steel_base(&steel(values, blade), WIDE[0], WIDE[1], values.units)
        },
    },
    Figure {
        name: "plate-steel",
        inputs: &[
            ("along", Choice(&["x", "y"])),
            ("leg_shape", Choice(&["bar", "round", "pipe"])),
            ("b", Length),
            ("plate_t", Length),
            ("plate_w", Length),
            ("plate_h", Length),
            ("n", Count),
            ("rows", Count),
            ("end", Length),
            ("spacing", Length),
            ("row_spacing", Length),
            ("hole", Length),
            ("seat_b", Length),
            ("seat_d", Length),
            ("seat_t", Length),
            ("standoff", Length),
            ("leg", Length),
            ("leg_t", Length),
            ("foot_b", Length),
            ("foot_d", Length),
            ("foot_t", Length),
            ("weld", Length),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let plates = Holder::Plates { t: n("plate_t"), w: n("plate_w"), h: n("plate_h"), apart: n("b") };
            steel_base(&steel(values, plates), WIDE[0], WIDE[1], values.units)
        },
    },
    Figure {
        name: "post-end",
        inputs: &[
            ("along", Choice(&["x", "y"])),
            ("b", Length),
            ("d", Length),
            ("slot", Length),
            ("seat_b", Length),
            ("seat_d", Length),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let it = PostEnd {
                along_x: values.choice("along") == "x",
                b: n("b"),
                d: n("d"),
                slot: n("slot"),
                seat_b: n("seat_b"),
                seat_d: n("seat_d"),
            };
            post_end(&it, NARROW[0], NARROW[1], values.units)
        },
    },
    Figure {
        name: "base-plan",
        inputs: &[
            ("along", Choice(&["x", "y"])),
            ("leg_shape", Choice(&["bar", "round", "pipe"])),
            ("plate_t", Length),
            ("plate_w", Length),
            ("apart", Length),
            ("seat_b", Length),
            ("seat_d", Length),
            ("leg", Length),
            ("leg_t", Length),
            ("foot_b", Length),
            ("foot_d", Length),
            ("anchor_b", Length),
            ("anchor_d", Length),
            ("anchor_hole", Length),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let it = BasePlan {
                along_x: values.choice("along") == "x",
                plate_t: n("plate_t"),
                plate_w: n("plate_w"),
                apart: n("apart"),
                seat_b: n("seat_b"),
                seat_d: n("seat_d"),
                leg: leg(values),
                leg_w: n("leg"),
                leg_t: n("leg_t"),
                foot_b: n("foot_b"),
                foot_d: n("foot_d"),
                anchor_b: n("anchor_b"),
                anchor_d: n("anchor_d"),
                anchor_hole: n("anchor_hole"),
            };
            base_plan(&it, NARROW[0], NARROW[1], values.units)
        },
    },
    Figure {
        name: "rated-foot",
        inputs: &[
            ("ground", Choice(&["concrete", "wood"])),
            ("b", Length),
            ("d", Length),
            ("seat_x", Length),
            ("seat_y", Length),
            ("standoff", Length),
            ("fastener_h", Length),
            ("fasteners", Count),
            ("n_x", Count),
            ("n_y", Count),
            ("s_x", Length),
            ("s_y", Length),
            ("anchor_d", Length),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let it = RatedFoot {
                b: n("b"),
                d: n("d"),
                seat_x: n("seat_x"),
                seat_y: n("seat_y"),
                standoff: n("standoff"),
                fastener_h: n("fastener_h"),
                fasteners: n("fasteners").max(0.0) as usize,
                on_wood: values.choice("ground") == "wood",
                n_x: values.count("n_x"),
                n_y: values.count("n_y"),
                s_x: n("s_x"),
                s_y: n("s_y"),
                anchor_d: n("anchor_d"),
            };
            rated_foot(&it, SHEET[0], SHEET[1], values.units)
        },
    },
    Figure {
        name: "floor-foot",
        inputs: &[
            ("along", Choice(&["x", "y"])),
            ("beam_t", Length),
            ("beam_w", Length),
            ("end_d", Length),
            ("base_run", Length),
            ("base_across", Length),
            ("n", Count),
            ("rows", Count),
            ("s", Length),
            ("s_row", Length),
            ("screw_d", Length),
            ("screw_l", Length),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let it = FloorFoot {
                along_x: values.choice("along") == "x",
                beam_t: n("beam_t"),
                beam_w: n("beam_w"),
                end: n("end_d"),
                base_run: n("base_run"),
                base_across: n("base_across"),
                n: values.count("n"),
                rows: values.count("rows"),
                s: n("s"),
                s_row: n("s_row"),
                screw_d: n("screw_d"),
                screw_l: n("screw_l"),
            };
            floor_foot(&it, SHEET[0], SHEET[1], values.units)
        },
    },
    Figure {
        name: "template",
        inputs: &[
            ("plan", Choice(&["rectangular", "round"])),
            ("width_x", Length),
            ("width_y", Length),
            ("n_x", Count),
            ("n_y", Count),
            ("s_x", Length),
            ("s_y", Length),
            ("anchor_d", Length),
            ("plate_x", Length),
            ("plate_y", Length),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let it = Template {
                round: values.choice("plan") == "round",
                width_x: n("width_x"),
                width_y: n("width_y"),
                n_x: values.count("n_x"),
                n_y: values.count("n_y"),
                s_x: n("s_x"),
                s_y: n("s_y"),
                anchor_d: n("anchor_d"),
                plate_x: n("plate_x"),
                plate_y: n("plate_y"),
            };
            template(&it, BESIDE[0], BESIDE[1], values.units)
        },
    },
    Figure {
        name: "bar-ring",
        inputs: &[
            ("shape", Choice(&["round", "square"])),
            ("width", Length),
            ("bars", Count),
            ("bar_d", Length),
            ("tie_d", Length),
            ("ring", Length),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let it = BarRing {
                round: values.choice("shape") == "round",
                width: n("width"),
                bars: values.count("bars"),
                bar_d: n("bar_d"),
                tie_d: n("tie_d"),
                ring: n("ring"),
            };
            bar_ring(&it, BESIDE[0], 140.0, values.units)
        },
    },
    Figure {
        name: "foundation",
        inputs: &[
            ("shape", Choice(&["round", "square"])),
            ("width", Length),
            ("above_ground", Length),
            ("depth", Length),
            ("frost", Length),
            ("pad_x", Length),
            ("pad_y", Length),
            ("pad_t", Length),
            ("bars", Count),
            ("bar_d", Length),
            ("bar_in", Length),
            ("tie_s", Length),
            ("n_x", Count),
            ("n_y", Count),
            ("s_x", Length),
            ("anchor_d", Length),
            ("embedment", Length),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let pier = Pier {
                round: values.choice("shape") == "round",
                width: n("width"),
                above_ground: n("above_ground"),
                depth: n("depth"),
                frost: n("frost"),
                pad: n("pad_x"),
                pad_t: n("pad_t"),
                bars: values.count("bars"),
                bar_d: n("bar_d"),
                bar_in: n("bar_in"),
                tie_s: n("tie_s"),
                n_x: values.count("n_x"),
                n_y: values.count("n_y"),
                s_x: n("s_x"),
                s_y: 0.0,
                anchor_d: n("anchor_d"),
                embedment: n("embedment"),
                soil: 0.0,
            };
            foundation(&Foundation { pier, pad_y: n("pad_y") }, SECTION[0], SECTION[1], values.units)
        },
    },
    Figure {
        name: "pin-group",
        inputs: &[
            ("d", Length),
            ("pin_d", Length),
            ("n", Count),
            ("rows", Count),
            ("end", Length),
            ("spacing", Length),
            ("row_spacing", Length),
            ("T", Force),
            ("H", Force),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let it = PinGroup {
                d: n("d"),
                pin_d: n("pin_d"),
                n: values.count("n"),
                rows: values.count("rows"),
                end: n("end"),
                spacing: n("spacing"),
                row_spacing: n("row_spacing"),
                uplift: n("T"),
                shear: n("H"),
            };
            pin_group(&it, body(values.units), 360.0, values.units)
        },
    },
    Figure {
        name: "anchor-plan",
        inputs: &[
            ("diameter", Length),
            ("c_x1", Length),
            ("c_x2", Length),
            ("c_y1", Length),
            ("c_y2", Length),
            ("n_x", Count),
            ("n_y", Count),
            ("s_x", Length),
            ("s_y", Length),
            ("anchor_d", Length),
            ("plate_x", Length),
            ("plate_y", Length),
            ("reach", Length),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let it = AnchorPlan {
                diameter: n("diameter"),
                c_x1: n("c_x1"),
                c_x2: n("c_x2"),
                c_y1: n("c_y1"),
                c_y2: n("c_y2"),
                n_x: values.count("n_x"),
                n_y: values.count("n_y"),
                s_x: n("s_x"),
                s_y: n("s_y"),
                anchor_d: n("anchor_d"),
                plate_x: n("plate_x"),
                plate_y: n("plate_y"),
                reach: n("reach"),
            };
            anchor_plan(&it, body(values.units), 360.0, values.units)
        },
    },
    Figure {
        name: "pier",
        inputs: &[
            ("shape", Choice(&["round", "square"])),
            ("width", Length),
            ("above_ground", Length),
            ("depth", Length),
            ("frost", Length),
            ("pad", Length),
            ("pad_t", Length),
            ("bars", Count),
            ("bar_d", Length),
            ("bar_in", Length),
            ("tie_s", Length),
            ("n_x", Count),
            ("n_y", Count),
            ("s_x", Length),
            ("s_y", Length),
            ("anchor_d", Length),
            ("embedment", Length),
            ("S_1", Stress),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let it = Pier {
                round: values.choice("shape") == "round",
                width: n("width"),
                above_ground: n("above_ground"),
                depth: n("depth"),
                frost: n("frost"),
                pad: n("pad"),
                pad_t: n("pad_t"),
                bars: values.count("bars"),
                bar_d: n("bar_d"),
                bar_in: n("bar_in"),
                tie_s: n("tie_s"),
                n_x: values.count("n_x"),
                n_y: values.count("n_y"),
                s_x: n("s_x"),
                s_y: n("s_y"),
                anchor_d: n("anchor_d"),
                embedment: n("embedment"),
                soil: n("S_1"),
            };
            pier(&it, page(values.units), 560.0, values.units)
        },
    },
    Figure {
        name: "roof-wind",
        inputs: &[
            ("roof", Choice(&["monoslope", "pitched", "troughed"])),
            ("high", Choice(&["plus", "minus"])),
            ("slope", Angle),
            ("span", Length),
            ("mean_height", Length),
            ("p_minus", Stress),
            ("p_plus", Stress),
            ("wind", Choice(&["across", "along"])),
            ("toward", Choice(&["plus", "minus"])),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let shape = match (values.choice("roof"), values.choice("high")) {
                ("pitched", _) => RoofShape::Pitched,
                ("troughed", _) => RoofShape::Troughed,
                (_, "plus") => RoofShape::HighRight,
                _ => RoofShape::HighLeft,
            };
            let it = RoofWind {
                shape,
                slope: n("slope"),
                span: n("span"),
                mean_height: n("mean_height"),
                left: n("p_minus"),
                right: n("p_plus"),
                wind: (values.choice("wind") == "across").then(|| values.choice("toward") == "plus"),
            };
            roof_wind(&it, body(values.units), 190.0, values.units)
        },
    },
    Figure {
        name: "free-body",
        inputs: &[
            ("height", Length),
            ("a", Length),
            ("P", Force),
            ("H", Force),
            ("F_brace", Force),
            ("F_top", Force),
            ("M", Moment),
        ],
        draw: |values| {
            let n = |name| values.number(name);
            let it = FreeBody {
                height: n("height"),
                brace: n("a"),
                axial: n("P"),
                base: n("H"),
                brace_force: n("F_brace"),
                top: n("F_top"),
                moment: n("M"),
            };
            free_body(&it, body(values.units), 240.0, values.units)
        },
    },
];

/// What both kinds of foot have.
fn foot(values: &Values, fixing: Fixing) -> PostFoot {
    let n = |name| values.number(name);
    PostFoot {
        along_x: values.choice("along") == "x",
        b: n("b"),
        d: n("d"),
        fixing,
        n: values.count("n"),
        rows: values.count("rows"),
        end: n("end"),
        spacing: n("spacing"),
        row_spacing: n("row_spacing"),
        seat_b: n("seat_b"),
        seat_t: n("seat_t"),
        standoff: n("standoff"),
        foot_b: n("foot_b"),
        foot_t: n("foot_t"),
        leg_t: n("leg_t"),
    }
}

/// What both kinds of base have.
fn steel(values: &Values, holder: Holder) -> SteelBase {
    let n = |name| values.number(name);
    SteelBase {
        along_x: values.choice("along") == "x",
        holder,
        hole: n("hole"),
        n: values.count("n"),
        rows: values.count("rows"),
        end: n("end"),
        spacing: n("spacing"),
        row_spacing: n("row_spacing"),
        // A blade is drawn from its side alone.
        seat_b: values.numbers.get("seat_b").copied().unwrap_or(0.0),
        seat_d: n("seat_d"),
        seat_t: n("seat_t"),
        standoff: n("standoff"),
        leg: leg(values),
        leg_w: n("leg"),
        leg_t: n("leg_t"),
        foot_b: values.numbers.get("foot_b").copied().unwrap_or(0.0),
        foot_d: n("foot_d"),
        foot_t: n("foot_t"),
        weld: n("weld"),
    }
}

fn leg(values: &Values) -> Leg {
    match values.choice("leg_shape") {
        "bar" => Leg::Bar,
        "round" => Leg::Round,
        _ => Leg::Pipe,
    }
}
