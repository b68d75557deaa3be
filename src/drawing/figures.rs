//! The drawings that a sheet may ask for by name, with what each has to be given.

use std::collections::BTreeMap;

use super::{
    AnchorPlan, BarRing, BasePlan, Blade, Drawing, Fixing, FloorFoot, Foundation, FreeBody, Holder, Kerf, Leg, Opening,
    Pier, PinGroup, PostEnd, PostFoot, RatedFoot, RoofShape, RoofWind, SteelBase, Template, anchor_plan, bar_ring,
    base_plan, floor_foot, foundation, free_body, pier, pin_group, post_end, post_foot, rated_foot, roof_wind,
    steel_base, template,
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
    LineLoad,
    Angle,
    Count,
    /// Printed as it is.
    Text,
    Choice(&'static [&'static str]),
}

/// What a figure was given: in inches, pounds and degrees, stresses in pounds on
/// a square inch, moments in inch-pounds, line loads in pounds on an inch.
#[derive(Clone, Debug, Default)]
pub struct Values {
    pub numbers: BTreeMap<String, f64>,
    /// What the figure says sizes in.
    pub units: Units,
    /// What the base holds its post with, as it stands on the plan.
    pub blade: Option<Blade>,
    /// Texts and choices.
    pub texts: BTreeMap<String, String>,
}

impl Values {
    /// # Panics
    ///
    /// Where the figure was not given what its list of inputs asks for.
    fn number(&self, name: &str) -> f64 {
        *self.numbers.get(name).unwrap_or_else(|| panic!("the figure was given no `{name}`"))
    }

    fn text(&self, name: &str) -> &str {
        self.texts.get(name).unwrap_or_else(|| panic!("the figure was given no `{name}`"))
    }
}

/// What a drawing takes a value of a figure as.
trait Given {
    fn given(values: &Values, name: &str) -> Self;
}

impl Given for f64 {
    fn given(values: &Values, name: &str) -> f64 {
        values.number(name)
    }
}

/// More than can be drawn is not drawn.
impl Given for usize {
    fn given(values: &Values, name: &str) -> usize {
        values.number(name).round().clamp(0.0, 20.0) as usize
    }
}

/// What is only told.
impl Given for u32 {
    fn given(values: &Values, name: &str) -> u32 {
        values.number(name).round() as u32
    }
}

impl Given for String {
    fn given(values: &Values, name: &str) -> String {
        values.text(name).into()
    }
}

/// A figure by its name: its choices with the names that can stand there, its other inputs by their kinds, and how it
/// is drawn from all of them, each a variable of its name.
macro_rules! figure {
    ($name:literal, $given:ident, $([$choice:ident: $($one:literal)+])* $($kind:ident: $($input:ident)+;)* => $draw:expr) => {
        Figure {
            name: $name,
            inputs: &[
                $((stringify!($choice), Input::Choice(&[$($one),+])),)*
                $($((stringify!($input), Input::$kind),)+)*
            ],
            #[allow(non_snake_case, reason = "a sheet writes symbols as the code does")]
            draw: |$given| {
                $(let $choice = $given.text(stringify!($choice));)*
                $($(let $input = Given::given($given, stringify!($input));)+)*
                $draw
            },
        }
    };
}

pub fn figure(name: &str) -> Option<&'static Figure> {
    FIGURES.iter().find(|figure| figure.name == name)
}

/// Points that a figure may take within the body of a page, which is narrower on
/// A4 paper than on a letter page.
fn body(units: Units) -> f64 {
    units.either(394.0, 377.0)
}

/// How high one may be among lines of work, and one that shows a whole foundation or pattern: no higher than it takes to
/// read it, for what is reduced to fit cannot be read.
const WORKED: f64 = 150.0;
const WORKED_WHOLE: f64 = 230.0;

/// And across a page.
pub fn across(units: Units) -> f64 {
    units.either(524.0, 507.0)
}

/// Of a sheet for the shop or the site, which is full but one page: beside what is narrow.
fn wide(units: Units) -> f64 {
    across(units) - 187.0
}

/// Across it, and what stands beside each other there.
const SHEET: [f64; 2] = [507.0, 190.0];
const NARROW: [f64; 2] = [170.0, 180.0];
const SECTION: [f64; 2] = [280.0, 330.0];
const BESIDE: [f64; 2] = [216.0, 152.0];
const RING: [f64; 2] = [216.0, 140.0];

pub const FIGURES: &[Figure] = &[
    figure!("blade-foot", given,
    [along: "x" "y"]
    Length: b d slot slot_depth pin_d pin_length bore end spacing row_spacing blade_t blade_w blade_h saw_radius
        saw_cut seat_b seat_t standoff leg_t foot_b foot_t;
    Count: n rows;
    => {
        let saw = (saw_radius > 0.0 && saw_cut > 0.0).then_some(Kerf { radius: saw_radius, cut: saw_cut, d, slot_depth });
        let fixing = Fixing::Blade { slot, slot_depth, pin_d, pin_length, bore, blade_t, blade_w, blade_h, saw };
        let it = PostFoot {
            along_x: along == "x", b, d, fixing, n, rows, end, spacing, row_spacing, seat_b, seat_t, standoff, foot_b,
            foot_t, leg_t,
        };
        post_foot(&it, wide(given.units), given.units.either(165.0, 200.0), given.units)
    }),
    figure!("plate-foot", given,
    [along: "x" "y"]
    Length: b d screw_d screw_length end spacing row_spacing plate_t plate_w plate_h seat_b seat_t standoff leg_t
        foot_b foot_t;
    Count: n rows;
    => {
        let fixing = Fixing::Plates { plate_t, plate_w, plate_h, screw_d, screw_length };
        let it = PostFoot {
            along_x: along == "x", b, d, fixing, n, rows, end, spacing, row_spacing, seat_b, seat_t, standoff, foot_b,
            foot_t, leg_t,
        };
        post_foot(&it, wide(given.units) - 20.0, 195.0, given.units)
    }),
    figure!("tube-foot", given,
    [along: "x" "y"]
    Length: b d bolt_d bore bore_deep tube tube_t tube_h end spacing seat_b seat_t standoff foot_b foot_t;
    Count: n;
    => {
        let fixing = Fixing::Tube { bolt_d, bore, bore_deep, tube, tube_t, tube_h };
        let it = PostFoot {
            along_x: along == "x", b, d, fixing, n, rows: 1, end, spacing, row_spacing: 0.0, seat_b, seat_t, standoff,
            foot_b, foot_t, leg_t: tube,
        };
        post_foot(&it, wide(given.units), 185.0, given.units)
    }),
    figure!("blade-steel", given,
    [along: "x" "y"] [leg_shape: "bar" "round" "pipe"]
    Length: blade_t blade_w blade_h end spacing row_spacing hole seat_b seat_d seat_t standoff leg leg_t foot_b
        foot_d foot_t weld;
    Count: n rows;
    => {
        let holder = Holder::Blade { t: blade_t, w: blade_w, h: blade_h };
        let it = SteelBase {
            along_x: along == "x", holder, hole, n, rows, end, spacing, row_spacing, seat_b, seat_d, seat_t, standoff,
            leg: leg_of(leg_shape), leg_w: leg, leg_t, foot_b, foot_d, foot_t, weld,
        };
        steel_base(&it, wide(given.units), given.units.either(190.0, 262.0), given.units)
    }),
    figure!("plate-steel", given,
    [along: "x" "y"] [leg_shape: "bar" "round" "pipe"]
    Length: b plate_t plate_w plate_h end spacing row_spacing hole seat_b seat_d seat_t standoff leg leg_t foot_b
        foot_d foot_t weld;
    Count: n rows;
    => {
        let holder = Holder::Plates { t: plate_t, w: plate_w, h: plate_h, apart: b };
        let it = SteelBase {
            along_x: along == "x", holder, hole, n, rows, end, spacing, row_spacing, seat_b, seat_d, seat_t, standoff,
            leg: leg_of(leg_shape), leg_w: leg, leg_t, foot_b, foot_d, foot_t, weld,
        };
        steel_base(&it, across(given.units), 195.0, given.units)
    }),
    figure!("tube-steel", given,
    [along: "x" "y"]
    Length: tube tube_t tube_h drain end spacing hole seat_b seat_d seat_t standoff foot_b foot_d foot_t weld;
    Count: n;
    => {
        let it = SteelBase {
            along_x: along == "x", holder: Holder::Tube { h: tube_h, drain }, hole, n, rows: 1, end, spacing,
            row_spacing: 0.0, seat_b, seat_d, seat_t, standoff, leg: Leg::Pipe, leg_w: tube, leg_t: tube_t, foot_b,
            foot_d, foot_t, weld,
        };
        steel_base(&it, wide(given.units), 225.0, given.units)
    }),
    figure!("post-end", given,
    [along: "x" "y"]
    Length: b d slot seat_b seat_d;
    => {
        end_of(along, [b, d], Opening::Slot(slot), [seat_b, seat_d], given.units)
    }),
    figure!("bored-end", given,
    [along: "x" "y"]
    Length: b d bore seat_b seat_d;
    => {
        end_of(along, [b, d], Opening::Bore(bore), [seat_b, seat_d], given.units)
    }),
    figure!("base-plan", given,
    [along: "x" "y"] [leg_shape: "bar" "round" "pipe"]
    Length: plate_w apart seat_b seat_d leg leg_t foot_b foot_d holes_b holes_d anchor_hole vent;
    Count: n_b n_d;
    => {
        let it = BasePlan {
            along_x: along == "x", plate_w, apart, seat_b, seat_d, leg: leg_of(leg_shape), leg_w: leg, leg_t, foot_b,
            foot_d, n_b, n_d, holes_b, holes_d, anchor_hole, vent,
        };
        // Side plates leave room beside the foot of the post; a blade, beside its steel.
        let room = if apart > 0.0 { 225.0 } else { 250.0 };
        base_plan(&it, room, NARROW[1], given.units)
    }),
    figure!("rated-foot", given,
    [ground: "concrete" "wood"]
    Length: b d seat_x seat_y standoff fastener_h s_x s_y anchor_d;
    Count: fasteners n_x n_y;
    => {
        let it = RatedFoot {
            b, d, seat_x, seat_y, standoff, fastener_h, fasteners, on_wood: ground == "wood", n_x, n_y, s_x, s_y,
            anchor_d,
        };
        rated_foot(&it, SHEET[0], SHEET[1], given.units)
    }),
    figure!("floor-foot", given,
    [along: "x" "y"]
    Length: beam_t beam_w end_d base_run base_across s s_row screw_d screw_l;
    Count: n rows;
    => {
        let it = FloorFoot {
            along_x: along == "x", beam_t, beam_w, end: end_d, base_run, base_across, n, rows, s, s_row, screw_d,
            screw_l,
        };
        floor_foot(&it, SHEET[0], SHEET[1], given.units)
    }),
    figure!("template", given,
    [plan: "rectangular" "round"]
    Length: width_x width_y s_x s_y anchor_d plate_x plate_y;
    Count: n_x n_y;
    => {
        let round = plan == "round";
        let it = Template { round, width_x, width_y, n_x, n_y, s_x, s_y, anchor_d, plate_x, plate_y, blade: given.blade };
        template(&it, BESIDE[0], BESIDE[1], given.units)
    }),
    figure!("bar-ring", given,
    [shape: "round" "square"]
    Length: width bar_d tie_d ring;
    Count: bars;
    Text: bar tie;
    => {
        let it = BarRing { round: shape == "round", width, bars, bar, bar_d, tie, tie_d, ring };
        bar_ring(&it, RING[0], RING[1], given.units)
    }),
    figure!("foundation", given,
    [shape: "round" "square"]
    Length: width above_ground depth frost pad_x pad_y pad_t bar_in tie_s s_x anchor_d embedment;
    Count: bars n_x n_y;
    Text: bar;
    => {
        let pier = Pier {
            round: shape == "round", width, above_ground, depth, frost, pad: pad_x, pad_t, bars, bar_d: 0.0, bar_in, tie_s,
            n_x, n_y, s_x, s_y: 0.0, anchor_d, embedment, soil: 0.0,
        };
        foundation(&Foundation { pier, pad_y, bar }, SECTION[0], SECTION[1], given.units)
    }),
    figure!("pin-group", given,
    Length: d pin_d end spacing row_spacing;
    Count: n rows;
    Force: T H;
    => {
        let it = PinGroup { d, pin_d, n, rows, end, spacing, row_spacing, uplift: T, shear: H };
        pin_group(&it, body(given.units), WORKED, given.units)
    }),
    figure!("anchor-plan", given,
    Length: diameter c_x1 c_x2 c_y1 c_y2 s_x s_y anchor_d plate_x plate_y reach;
    Count: n_x n_y;
    => {
        let it = AnchorPlan {
            diameter, c_x1, c_x2, c_y1, c_y2, n_x, n_y, s_x, s_y, anchor_d, plate_x, plate_y, reach,
        };
        anchor_plan(&it, body(given.units), WORKED_WHOLE, given.units)
    }),
    figure!("pier", given,
    [shape: "round" "square"]
    Length: width above_ground depth frost pad pad_t bar_d bar_in tie_s s_x s_y anchor_d embedment;
    Count: bars n_x n_y;
    Stress: S_1;
    => {
        let it = Pier {
            round: shape == "round", width, above_ground, depth, frost, pad, pad_t, bars, bar_d, bar_in, tie_s, n_x,
            n_y, s_x, s_y, anchor_d, embedment, soil: S_1,
        };
        pier(&it, body(given.units), WORKED_WHOLE, given.units)
    }),
    figure!("roof-wind", given,
    [roof: "monoslope" "pitched" "troughed"] [high: "plus" "minus"] [wind: "across" "along"]
    [toward: "plus" "minus"]
    Length: span mean_height;
    Stress: p_minus p_plus;
    Angle: slope;
    => {
        let shape = match (roof, high) {
            ("pitched", _) => RoofShape::Pitched,
            ("troughed", _) => RoofShape::Troughed,
            (_, "plus") => RoofShape::HighRight,
            _ => RoofShape::HighLeft,
        };
        let wind = (wind == "across").then(|| toward == "plus");
        let it = RoofWind { shape, slope, span, mean_height, left: p_minus, right: p_plus, wind };
        roof_wind(&it, body(given.units), WORKED, given.units)
    }),
    figure!("free-body", given,
    Length: height a;
    Force: P H F_brace F_top;
    LineLoad: w;
    Moment: M;
    => {
        let it =
            FreeBody { height, brace: a, axial: P, base: H, wind: w, brace_force: F_brace, top: F_top, moment: M };
        free_body(&it, body(given.units), WORKED, given.units)
    }),
];

/// The end grain of a post with what is cut into it.
fn end_of(along: &str, [b, d]: [f64; 2], opening: Opening, [seat_b, seat_d]: [f64; 2], units: Units) -> Drawing {
    let it = PostEnd { along_x: along == "x", b, d, opening, seat_b, seat_d };
    post_end(&it, NARROW[0], NARROW[1], units)
}

fn leg_of(shape: &str) -> Leg {
    match shape {
        "bar" => Leg::Bar,
        "round" => Leg::Round,
        _ => Leg::Pipe,
    }
}
