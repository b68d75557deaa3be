//! The drawings that a sheet may ask for by name, with what each has to be given.

use std::collections::BTreeMap;

use super::{
    AnchorPlan, Drawing, Fixing, FreeBody, Kerf, Pier, PinGroup, PostFoot, RoofShape, RoofWind, anchor_plan, free_body,
    kerf, pier, pin_group, post_foot, roof_wind,
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

use Input::{Angle, Choice, Count, Force, Length, Moment, Stress};

pub const FIGURES: &[Figure] = &[
    Figure {
        name: "blade-foot",
        inputs: &[
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
            ("seat_b", Length),
            ("seat_d", Length),
            ("seat_t", Length),
            ("standoff", Length),
            ("leg", Length),
            ("leg_t", Length),
            ("foot_b", Length),
            ("foot_d", Length),
            ("foot_t", Length),
            ("anchor_b", Length),
            ("anchor_d", Length),
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
            };
            post_foot(&foot(values, blade), page(values.units), 560.0, values.units)
        },
    },
    Figure {
        name: "plate-foot",
        inputs: &[
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
            ("seat_d", Length),
            ("seat_t", Length),
            ("standoff", Length),
            ("leg", Length),
            ("leg_t", Length),
            ("foot_b", Length),
            ("foot_d", Length),
            ("foot_t", Length),
            ("anchor_b", Length),
            ("anchor_d", Length),
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
            post_foot(&foot(values, plates), page(values.units), 560.0, values.units)
        },
    },
    Figure {
        name: "kerf",
        inputs: &[("radius", Length), ("cut", Length), ("d", Length), ("slot_depth", Length)],
        draw: |values| {
            let n = |name| values.number(name);
            let it = Kerf { radius: n("radius"), cut: n("cut"), d: n("d"), slot_depth: n("slot_depth") };
            kerf(&it, body(values.units), 360.0, values.units)
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
        b: n("b"),
        d: n("d"),
        fixing,
        n: values.count("n"),
        rows: values.count("rows"),
        end: n("end"),
        spacing: n("spacing"),
        row_spacing: n("row_spacing"),
        seat_b: n("seat_b"),
        seat_d: n("seat_d"),
        seat_t: n("seat_t"),
        standoff: n("standoff"),
        foot_b: n("foot_b"),
        foot_d: n("foot_d"),
        foot_t: n("foot_t"),
        leg: n("leg"),
        leg_t: n("leg_t"),
        anchor_b: n("anchor_b"),
        anchor_d: n("anchor_d"),
    }
}
