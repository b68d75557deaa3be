//! Sheets for the shop and the site: their drawings, their sizes rounded into what is allowed, and lists to order.

use std::collections::BTreeMap;

use proptest::prelude::*;
use socle::drawing::*;
use socle::package::{PlainItem, PlainSheet};
use socle::quantity::Units;

use crate::drawings::{any_units, circles, inches, near, on_tape, shows, texts};
use crate::extend::spans;
use crate::jobs::{package_in, package_of};
use crate::support::{Job, cases, root, socle, stderr, stdout};

const SHEET: [f64; 2] = [507.0, 400.0];

/// What a number of the page is worth: `7/32″`, `1′-2 1/2″`, `3.5 mm`.
fn worth(text: &str) -> f64 {
    if let Some(millimetres) = text.strip_suffix(" mm") {
        return millimetres.replace(',', "").parse::<f64>().expect("a number") / 25.4;
    }
    let (feet, rest) = text.split_once("′-").unwrap_or(("0", text));
    let inches = rest.trim_end_matches('″').split(' ').map(|part| match part.split_once('/') {
        Some((over, under)) => over.parse::<f64>().expect("a number") / under.parse::<f64>().expect("a number"),
        None => part.parse().expect("a number"),
    });
    12.0 * feet.parse::<f64>().expect("feet") + inches.sum::<f64>()
}

proptest! {
    #![proptest_config(cases(2000))]

    /// What is printed is inside the tolerance, wherever its ends fall, and leaves something of it.
    #[test]
    fn what_is_printed_stays_in_its_tolerance(least in 0.02f64..3.0, wide in 0.0f64..0.5, units in any_units()) {
        let (from, to) = units.between(least, least + wide);
        let (low, high) = (worth(&from), worth(&to));
        if wide >= 0.003 {
            prop_assert!(low >= least - 1e-6 && high <= least + wide + 1e-6 && low <= high, "{from} to {to} of {least} to {}", least + wide);
            prop_assert!(high - low >= 0.2 * wide, "{from} to {to} leaves little of {least} to {}", least + wide);
        }
        prop_assert!(worth(&units.at_least(least)) >= least - 1e-6);
        prop_assert!(worth(&units.at_most(least)) <= least + 1e-6);
        prop_assert!((worth(&units.at_least(least)) - least).abs() <= 1.0 / 16.0);
        prop_assert!((worth(&units.at_most(least)) - least).abs() <= 1.0 / 16.0);
    }

    /// Lead holes of lag screws of every diameter and density (NDS 2018 12.1.4.2): 0.40 to 0.70 D, 0.60 to 0.75, 0.65 to 0.85.
    #[test]
    fn lead_holes_are_drilled_inside_the_limits(eighths in 2u8..=8, class in 0usize..3, units in any_units()) {
        let d = f64::from(eighths) / 8.0;
        let [least, greatest] = [[0.4, 0.7], [0.6, 0.75], [0.65, 0.85]][class];
        let (from, to) = units.between(least * d, greatest * d);
        prop_assert!(worth(&from) >= least * d - 1e-6 && worth(&to) <= greatest * d + 1e-6, "{d}: {from} to {to}");
        prop_assert!(!from.contains('.') || units == Units::Metric, "{d}: {from}, and a drill comes in 1/64");
    }
}

#[test]
fn sizes_worked_by_hand_round_inward() {
    let unit = Units::Imperial;
    // 0.40 and 0.70 of 1/2 in; 3/16 and 3/8 would leave them.
    assert_eq!(unit.between(0.2, 0.35), ("7/32″".into(), "11/32″".into()));
    assert_eq!(unit.between(0.46875, 0.5), ("15/32″".into(), "1/2″".into()));
    assert_eq!(Units::Metric.between(0.2, 0.35), ("5.5 mm".into(), "8.5 mm".into()));
    assert_eq!((unit.at_least(0.51675), unit.at_most(0.51675)), ("9/16″".into(), "1/2″".into()));
    assert_eq!((unit.at_least(7.125), unit.at_most(30.0)), ("7 1/8″".into(), "2′-6″".into()));
}

fn knife() -> SteelBase {
    SteelBase {
        along_x: false,
        holder: Holder::Blade { t: 0.5, w: 4.5, h: 8.0 },
        hole: 0.5625,
        n: 2,
        rows: 1,
        end: 4.0,
        spacing: 2.5,
        row_spacing: 0.0,
        seat_b: 6.0,
        seat_d: 6.0,
        seat_t: 0.625,
        standoff: 2.0,
        leg: Leg::Pipe,
        leg_w: 2.375,
        leg_t: 0.154,
        foot_b: 6.0,
        foot_d: 6.0,
        foot_t: 0.5,
        weld: 0.1875,
    }
}

fn foundation_16() -> Foundation {
    let pier = Pier {
        round: true,
        width: 16.0,
        above_ground: 6.0,
        depth: 57.0,
        frost: 36.0,
        pad: 30.0,
        pad_t: 10.0,
        bars: 6,
        bar_d: 0.5,
        bar_in: 3.25,
        tie_s: 6.0,
        n_x: 2,
        n_y: 2,
        s_x: 4.0,
        s_y: 0.0,
        anchor_d: 0.5,
        embedment: 8.0,
        soil: 0.0,
    };
    Foundation { pier, pad_y: 28.0, bar: "No. 4".into() }
}

/// The list beside the drawing says `at least 4 1/4″` of an embedment of 4.2 in: the
/// drawing asks for no less.
#[test]
fn anchors_are_drawn_no_less_deep_than_they_have_to_be() {
    let mut it = foundation_16();
    it.pier.embedment = 4.2;
    let drawing = foundation(&it, SHEET[0], SHEET[1], Units::Imperial);
    assert!(texts(&drawing).contains(&"anchors 4 1/4″"), "{:?}", texts(&drawing));
}

/// At 1 1/2 in = 1 ft an inch is 9 points: holes 4 and 6 1/2 in over the seat, in the middle of a blade 4 1/2 in wide.
#[test]
fn the_shop_drills_the_blade_from_the_seat() {
    let drawing = steel_base(&knife(), 325.0, 240.0, Units::Imperial);
    assert_eq!(drawing.scale, "1 1/2 in = 1 ft");
    let holes = circles(&drawing, 0.5625 / 2.0 * 9.0);
    assert_eq!(holes.len(), 2);
    near((holes[0][1] - holes[1][1]).abs(), 22.5);
    for text in [
        "4″",
        "6 1/2″",
        "top 8″",
        "2 1/4″",
        "2 holes",
        "9/16″",
        "3/16″",
        "5/8″ × 6″ × 6″",
        "2 3/8″ × 0.154″",
        "7/8″ long",
    ] {
        assert!(texts(&drawing).contains(&text), "{text} in {:?}", texts(&drawing));
    }
    // A weld all round at each end of the pipe has a ring; the one along both faces of the blade says its size twice.
    assert_eq!(circles(&drawing, 2.6).len(), 2);
    assert_eq!(texts(&drawing).iter().filter(|text| **text == "3/16″").count(), 4);
    let bar = SteelBase { leg: Leg::Bar, leg_t: 0.5, ..knife() };
    assert!(circles(&steel_base(&bar, 325.0, 240.0, Units::Imperial), 2.6).is_empty());
}

/// A tube from the plate below, 2 in less 1/2 in to the top of the seat and 8 in on, is 9 1/2 in long. At 1 1/2 in = 1 ft
/// its holes are 36 and 58.5 points over the top of the seat, where the end grain stands.
#[test]
fn the_shop_drills_the_tube_from_the_seat() {
    let tube = SteelBase { holder: Holder::Tube { h: 8.0, drain: 0.25 }, leg_t: 0.218, ..knife() };
    let drawing = steel_base(&tube, 325.0, 240.0, Units::Imperial);
    assert_eq!(drawing.scale, "1 1/2 in = 1 ft");
    let holes = circles(&drawing, 0.5625 / 2.0 * 9.0);
    assert_eq!(holes.len(), 2);
    let seat = drawing.shapes.iter().find_map(|shape| match shape {
        Shape::Rect { at, size, .. } if size.map(f64::round) == [54.0, 6.0] => Some(*at),
        _ => None,
    });
    let seat = seat.expect("a seat 6 in wide and 5/8 in thick");
    near(seat[1] - holes[0][1], 36.0);
    near(seat[1] - holes[1][1], 58.5);
    near(holes[0][0], seat[0] + 27.0);
    for text in [
        "4″",
        "6 1/2″",
        "top 8″",
        "2 holes 9/16″",
        "through both walls",
        "tube",
        "2 3/8″ × 0.218″",
        "9 1/2″ long",
        "drain",
        "1/4″",
        "5/8″ × 6″ × 6″",
        "1/2″ × 6″ × 6″",
    ] {
        assert!(texts(&drawing).contains(&text), "{text} in {:?}", texts(&drawing));
    }
    // All round under the seat and all round on the plate below, and no weld in the post.
    assert_eq!(circles(&drawing, 2.6).len(), 2);
    assert_eq!(texts(&drawing).iter().filter(|text| **text == "3/16″").count(), 2);
}

/// Three anchors along the blade and two across it are six holes, 2 3/4 in and 4 in apart; the vent is beside the blade, half way
/// to the wall of a pipe of 1.0335 in inside radius.
#[test]
fn every_hole_of_the_plate_is_drawn() {
    let plan = BasePlan {
        along_x: true,
        plate_w: 4.5,
        apart: 0.0,
        seat_b: 6.0,
        seat_d: 6.0,
        leg: Leg::Pipe,
        leg_w: 2.375,
        leg_t: 0.154,
        foot_b: 6.0,
        foot_d: 8.0,
        n_b: 2,
        n_d: 3,
        holes_b: 4.0,
        holes_d: 5.5,
        anchor_hole: 0.5625,
        vent: 0.516,
    };
    let drawing = base_plan(&plan, 400.0, 300.0, Units::Imperial);
    let points = 18.0;
    assert_eq!(drawing.scale, "3 in = 1 ft");
    let holes = circles(&drawing, 0.5625 / 2.0 * points);
    assert_eq!(holes.len(), 6);
    near(holes[2][0] - holes[0][0], 2.75 * points);
    near(holes[0][1] - holes[1][1], 4.0 * points);
    let vent = circles(&drawing, 0.516 / 2.0 * points)[0];
    near(vent[0], holes[2][0]);
    near(vent[1] - (holes[2][1] + holes[3][1]) / 2.0, 1.0335 / 2.0 * points);
    for text in ["6 holes", "9/16″", "vent", "4″", "2 3/4″", "8″", "blade"] {
        assert!(texts(&drawing).contains(&text), "{text} in {:?}", texts(&drawing));
    }
}

/// Rods 5 1/2 in apart stand 2 3/4 in off the grid lines, which run through the middle of the concrete, drawn or only told.
#[test]
fn rods_are_set_from_the_grid_lines() {
    let wide = Template {
        round: false,
        width_x: 38.0,
        width_y: 40.0,
        n_x: 2,
        n_y: 2,
        s_x: 5.5,
        s_y: 4.0,
        anchor_d: 0.75,
        plate_x: 8.0,
        plate_y: 7.0,
        blade: Some(Blade { axis: 1, plates: Some([4.0, 6.5]) }),
    };
    for it in [wide, Template { width_x: 14.0, width_y: 15.0, ..wide }, Template { round: true, width_x: 18.0, ..wide }]
    {
        let drawing = template(&it, 300.0, 300.0, Units::Imperial);
        let told = texts(&drawing);
        for text in ["2 3/4″", "2″", "4 anchors 3/4″", "5 1/2″ × 4″ apart", "grid line", "8″ × 7″", "side plates"]
        {
            assert!(told.contains(&text), "{text} in {told:?}");
        }
        let size = if it.round {
            Units::Imperial.length(it.width_x)
        } else {
            [it.width_x, it.width_y].map(|side| Units::Imperial.length(side)).join(" × ")
        };
        assert!(told.contains(&size.as_str()), "{size} in {told:?}");
        // Both plates run along y, each at its side of the grid line.
        let heavy = |blade: Option<Blade>| {
            let drawing = template(&Template { blade, ..it }, 300.0, 300.0, Units::Imperial);
            let lines = drawing.shapes.iter().filter_map(|shape| match shape {
                Shape::Line { from, to, weight: 1.6, .. } => Some([*from, *to]),
                _ => None,
            });
            lines.collect::<Vec<_>>()
        };
        let plates = heavy(it.blade);
        assert_eq!(plates.len(), 2, "{plates:?}");
        let [one, other] = [plates[0], plates[1]];
        let long = (one[0][1] - one[1][1]).abs();
        near(one[0][0], one[1][0]);
        near((one[0][0] - other[0][0]).abs() / long, 6.5 / 4.0);
        let blade = it.blade.map(|blade| Blade { plates: None, ..blade });
        assert_eq!(heavy(blade).len(), 1);
        assert!(texts(&template(&Template { blade, ..it }, 300.0, 300.0, Units::Imperial)).contains(&"blade"));
    }
}

/// Six bars in a ring 8 3/4 in across: their middles are 4 3/8 in from the middle of the pier.
#[test]
fn bars_stand_in_their_ring() {
    let ring = BarRing {
        round: true,
        width: 16.0,
        bars: 6,
        bar: "No. 4".into(),
        bar_d: 0.5,
        tie: "No. 3".into(),
        tie_d: 0.375,
        ring: 8.75,
    };
    let drawing = bar_ring(&ring, 300.0, 300.0, Units::Imperial);
    let points = 9.0;
    assert_eq!(drawing.scale, "1 1/2 in = 1 ft");
    let middle = circles(&drawing, 8.0 * points)[0];
    let bars = circles(&drawing, 0.25 * points);
    assert_eq!(bars.len(), 6);
    assert!(bars.iter().all(|at| ((at[0] - middle[0]).hypot(at[1] - middle[1]) - 4.375 * points).abs() < 0.01));
    // 3 in of cover, and ties 10 in across their outside.
    for text in ["cover 3″", "tie 10″", "6 bars No. 4"] {
        assert!(texts(&drawing).contains(&text), "{text} in {:?}", texts(&drawing));
    }
}

#[test]
fn one_anchor_is_not_called_anchors() {
    let one = Template {
        round: false,
        width_x: 20.0,
        width_y: 20.0,
        n_x: 1,
        n_y: 1,
        s_x: 0.0,
        s_y: 0.0,
        anchor_d: 0.5,
        plate_x: 6.0,
        plate_y: 6.0,
        blade: None,
    };
    let drawing = template(&one, 220.0, 220.0, Units::Imperial);
    assert!(texts(&drawing).contains(&"1 anchor 1/2″"), "{:?}", texts(&drawing));
    // A round pier has its diameter, and no square that stands for it.
    let round = template(&Template { round: true, width_x: 16.0, ..one }, 220.0, 220.0, Units::Imperial);
    assert!(texts(&round).contains(&"center of the pier,") && texts(&round).contains(&"16″"), "{:?}", texts(&round));
    assert!(!round.shapes.iter().any(|shape| matches!(shape, Shape::Rect { weight: 0.3, .. })));
}

prop_compose! {
    fn any_steel()(
        (w, h, t, hole) in (inches(2.0, 7.0), inches(4.0, 14.0), inches(0.25, 0.75), inches(0.25, 1.0)),
        (n, rows, end, spacing, row_spacing) in (1usize..4, 1usize..3, inches(1.5, 6.0), inches(1.0, 3.0), inches(0.75, 2.0)),
        (seat_b, seat_d, seat_t, gap) in (inches(3.0, 10.0), inches(3.0, 10.0), inches(0.25, 1.0), inches(0.5, 8.0)),
        (leg, leg_w, leg_t) in (0u8..3, inches(1.0, 4.0), inches(0.125, 0.75)),
        (foot_b, foot_d, foot_t, weld) in (inches(4.0, 12.0), inches(4.0, 12.0), inches(0.25, 1.0), inches(0.125, 0.375)),
        (holds, along_x) in (0u8..3, any::<bool>()),
    ) -> SteelBase {
        let holder = match holds {
            0 => Holder::Plates { t, w, h, apart: seat_b },
            1 => Holder::Blade { t, w, h },
            _ => Holder::Tube { h, drain: hole / 2.0 },
        };
        let leg = if holds == 2 { Leg::Pipe } else { [Leg::Bar, Leg::Round, Leg::Pipe][usize::from(leg)] };
        SteelBase {
            along_x, holder, hole, n, rows, end, spacing, row_spacing, seat_b, seat_d, seat_t, standoff: seat_t + gap + foot_t,
            leg, leg_w, leg_t, foot_b, foot_d, foot_t, weld,
        }
    }
}

prop_compose! {
    fn any_rated()(
        (b, d, seat_x, seat_y) in (inches(3.5, 11.5), inches(3.5, 11.5), inches(3.5, 11.5), inches(3.5, 11.5)),
        (standoff, over, fasteners, on_wood) in (inches(0.5, 3.0), inches(1.0, 6.0), 2u32..30, any::<bool>()),
        (n_x, n_y, s_x, s_y, anchor_d) in (1usize..4, 1usize..4, inches(1.5, 4.0), inches(1.5, 4.0), inches(0.25, 1.0)),
        alike in any::<bool>(),
    ) -> RatedFoot {
        let (d, seat_y) = if alike { (b, seat_x) } else { (d, seat_y) };
        RatedFoot { b, d, seat_x, seat_y, standoff, fastener_h: standoff + over, fasteners, on_wood, n_x, n_y, s_x, s_y, anchor_d }
    }
}

proptest! {
    #![proptest_config(cases(20))]

    #[test]
    fn any_steel_base_shows_its_values(it in any_steel(), units in any_units()) {
        let (Holder::Blade { h, .. } | Holder::Plates { h, .. } | Holder::Tube { h, .. }) = it.holder;
        let seat = [it.seat_t, it.seat_d, it.seat_b].map(|side| units.size(side)).join(" × ");
        let mut wanted = vec![format!("top {}", on_tape(units, h)), on_tape(units, it.standoff), units.size(it.weld), seat];
        wanted.extend((0..it.n).map(|at| on_tape(units, it.end + at as f64 * it.spacing)));
        shows(&steel_base(&it, SHEET[0], SHEET[1], units), SHEET, &wanted)?;
    }

    #[test]
    fn any_plate_below_shows_its_values(it in any_steel(), a in inches(2.0, 8.0), (n_b, n_d) in (1usize..4, 1usize..3), units in any_units()) {
        let apart = if matches!(it.holder, Holder::Plates { .. }) { it.seat_b } else { 0.0 };
        let plan = BasePlan {
            along_x: it.along_x, plate_w: it.seat_d / 2.0, apart, seat_b: it.seat_b, seat_d: it.seat_d, leg: it.leg, leg_w: it.leg_w,
            leg_t: it.leg_t, foot_b: a + 3.0, foot_d: a + 2.0, n_b, n_d, holes_b: a, holes_d: a, anchor_hole: it.hole, vent: it.hole / 2.0,
        };
        let mut wanted = vec![on_tape(units, a + 3.0), on_tape(units, a + 2.0), units.at_most(it.hole), units.at_least(it.hole / 2.0)];
        if n_d == 2 {
            wanted.push(on_tape(units, a));
        }
        shows(&base_plan(&plan, SHEET[0], SHEET[1], units), SHEET, &wanted)?;
    }

    #[test]
    fn any_end_grain_shows_its_values(b in inches(3.5, 12.0), d in inches(3.5, 12.0), slot in inches(0.25, 1.0), along_x in any::<bool>(), units in any_units()) {
        let it = PostEnd { along_x, b, d, opening: Opening::Slot(slot), seat_b: b - 1.0, seat_d: d - 1.0 };
        let faces = format!("it looks along {}", if along_x { "y" } else { "x" });
        let wanted = [format!("slot {}", on_tape(units, slot)), format!("cheek {}", on_tape(units, (b - slot) / 2.0)), on_tape(units, d), faces];
        shows(&post_end(&it, SHEET[0], SHEET[1], units), SHEET, &wanted)?;
        let bored = PostEnd { opening: Opening::Bore(2.0 * slot + 1.0), ..it };
        let wanted = [units.size(2.0 * slot + 1.0), on_tape(units, b / 2.0), on_tape(units, d / 2.0)];
        shows(&post_end(&bored, SHEET[0], SHEET[1], units), SHEET, &wanted)?;
    }

    #[test]
    fn any_rated_foot_shows_its_values(it in any_rated(), units in any_units()) {
        let mut wanted = vec![
            format!("post {}", on_tape(units, it.b)),
            format!("seat {}", on_tape(units, it.seat_x)),
            format!("end grain {}", on_tape(units, it.standoff)),
            format!("fasteners {}", on_tape(units, it.fastener_h)),
            format!("{} fasteners", it.fasteners),
        ];
        if it.b != it.d {
            wanted.push(format!("post {}", on_tape(units, it.d)));
        }
        shows(&rated_foot(&it, SHEET[0], SHEET[1], units), SHEET, &wanted)?;
        // Where the fasteners of a base that is cast in are, only its report says.
        wanted.remove(3);
        shows(&rated_foot(&RatedFoot { fastener_h: 0.0, ..it }, SHEET[0], SHEET[1], units), SHEET, &wanted)?;
    }

    #[test]
    fn any_floor_foot_shows_its_values(
        (beam_t, beam_w, end) in (inches(3.0, 12.0), inches(3.5, 12.0), inches(1.0, 60.0)),
        (base_run, base_across) in (inches(3.5, 9.0), inches(3.0, 9.0)),
        (n, rows, s, s_row) in (1usize..4, 1usize..4, inches(1.0, 3.0), inches(0.75, 3.0)),
        (screw_d, screw_l, along_x) in (inches(0.25, 0.5), inches(2.0, 6.0), any::<bool>()),
        units in any_units(),
    ) {
        let it = FloorFoot { along_x, beam_t, beam_w, end, base_run, base_across, n, rows, s, s_row, screw_d, screw_l };
        let mut wanted = vec![format!("beam {}", on_tape(units, beam_t)), format!("beam {}", on_tape(units, beam_w)), format!("screws {}", on_tape(units, screw_l))];
        if n > 1 {
            wanted.push(on_tape(units, s));
        }
        if end <= 24.0 {
            wanted.push(format!("end {}", on_tape(units, end)));
        }
        shows(&floor_foot(&it, SHEET[0], SHEET[1], units), SHEET, &wanted)?;
    }

    #[test]
    fn any_foundation_shows_its_values(
        (round, width, above, depth) in (any::<bool>(), prop_oneof![Just(0.0), inches(10.0, 30.0)], inches(1.0, 20.0), inches(20.0, 90.0)),
        (frost, pad, pad_y, pad_t) in (prop_oneof![Just(0.0), inches(6.0, 50.0)], inches(34.0, 60.0), inches(34.0, 60.0), inches(6.0, 16.0)),
        (bars, bar_d, tie_s) in (prop_oneof![Just(0usize), 4usize..13], inches(0.375, 1.0), prop_oneof![Just(0.0), inches(3.0, 12.0)]),
        (n_x, s_x, anchor_d, embedment, has_pad) in (1usize..3, inches(2.0, 5.0), inches(0.375, 1.0), inches(4.0, 14.0), any::<bool>()),
        units in any_units(),
    ) {
        let has_pad = has_pad || width == 0.0;
        let bars = if width == 0.0 { 0 } else { bars };
        let pier = Pier {
            round, width, above_ground: above, depth, frost, pad: if has_pad { pad } else { 0.0 }, pad_t, bars, bar_d, bar_in: 3.0 + bar_d / 2.0,
            tie_s, n_x, n_y: n_x, s_x, anchor_d, embedment, ..foundation_16().pier
        };
        let mut wanted = vec![format!("above ground {}", on_tape(units, above)), format!("anchors {}", on_tape(units, units.measured_at_least(embedment)))];
        if has_pad {
            wanted.push([pad, pad_y].map(|side| units.length(side)).join(" × "));
        }
        if width > 0.0 {
            let high = above + depth - if has_pad { pad_t } else { 0.0 };
            wanted.push(format!("{}, {} high", units.length(width), units.length(high)));
        }
        if has_pad && width > 0.0 {
            wanted.push(format!("pad {}", on_tape(units, pad_t)));
        }
        if frost > 0.0 {
            wanted.push(format!("frost {}", units.length(frost)));
        }
        shows(&foundation(&Foundation { pier, pad_y, bar: "No. 5".into() }, SHEET[0], SHEET[1], units), SHEET, &wanted)?;
    }

    #[test]
    fn any_template_and_ring_show_their_values(
        (round, width_x, width_y) in (any::<bool>(), inches(14.0, 40.0), inches(14.0, 40.0)),
        (n_x, n_y, s_x, s_y) in (1usize..4, 1usize..4, inches(2.0, 4.0), inches(2.0, 4.0)),
        (anchor_d, plate, bars, bar_d, tie_d) in (inches(0.375, 1.0), inches(5.0, 12.0), 4usize..11, inches(0.375, 1.0), inches(0.375, 0.5)),
        units in any_units(),
    ) {
        let blade = |axis| Blade { axis, plates: (bars % 2 == 0).then_some([0.6 * plate, 0.8 * plate]) };
        let it = Template { round, width_x, width_y, n_x, n_y, s_x, s_y, anchor_d, plate_x: plate, plate_y: plate, blade: [None, Some(blade(0)), Some(blade(1))][n_y % 3] };
        let mut wanted = vec![];
        match n_x {
            1 => {}
            // About the grid line, on which the middle one of three stands.
            2 => wanted.push(on_tape(units, s_x / 2.0)),
            _ => wanted.push(on_tape(units, s_x)),
        }
        wanted.push(if round { units.length(width_x) } else { [width_x, width_y].map(|side| units.length(side)).join(" × ") });
        shows(&template(&it, SHEET[0], SHEET[1], units), SHEET, &wanted)?;
        let ring = width_x - 6.0 - 2.0 * tie_d - bar_d;
        let it = BarRing { round, width: width_x, bars, bar: "No. 4".into(), bar_d, tie: "No. 3".into(), tie_d, ring };
        // In whole millimetres, and no less cover than 3 in.
        let out = units.either(width_x - 6.0, ((width_x - 6.0) * 25.4 + 1e-6).floor() / 25.4);
        let wanted = [format!("cover {}", on_tape(units, (width_x - out) / 2.0)), format!("tie {}", on_tape(units, out))];
        shows(&bar_ring(&it, SHEET[0], SHEET[1], units), SHEET, &wanted)?;
    }
}

/// The values of a sheet by their words.
fn values(sheet: &PlainSheet) -> BTreeMap<String, String> {
    sheet
        .values()
        .map(|it| (spans(&it.say), format!("{} {}", it.value.number, it.value.unit).trim().to_string()))
        .collect()
}

/// By hand, for `knife 8` on `pier 16`: 9 ft, a tenon of 3 in and 3 in more; a blade of 4 + 2 1/2 + 1 1/2 in; a pin hole from
/// 15/32 to 1/2 in; holes of 1/2 + 1/16 in; a quarter of 2.067 in for the zinc; rods from 1/2 + 3/16 + 1/2 in, up to the seat,
/// 1/2 + 7/8 in; 8 in + 1.28 in + 1/2 in + 1/4 in of rod, in quarters; bars of 6 + 57 - 2 - 3 in; ties of 16 - 6 in.
#[test]
fn values_for_shop_and_site_are_those_worked_by_hand() {
    let (package, _) = package_of("orchard-pergola");
    let shop = package.shop.iter().find(|sheet| sheet.title.contains("A1")).expect("a sheet of A1");
    let found = values(shop);
    for (say, value) in [
        ("tenon beyond the shoulder", "3″"),
        ("depth of the slot, at least: the blade and 1/2 in of clearance", "8 1/2″"),
        ("lead hole for a pin in the wood", "15/32″ to 1/2″"),
        ("length of the pins, at most", "6 3/4″"),
        ("plates", "A36"),
        ("standoff", "A53 Gr B"),
        ("finish, after welding", "hot-dip galvanized"),
        ("electrode, matching", "E70"),
        ("leg of the fillet welds, at least", "3/16″"),
        ("blade or side plates run along", "y"),
        ("holes in the plate on the concrete, at most", "9/16″"),
        ("vent and drain: a hole at each end of the pipe, at least", "9/16″"),
    ] {
        assert_eq!(found.get(say).map(String::as_str), Some(value), "{say} in {found:#?}");
    }
    // What differs between posts stands in a table over the drawings.
    let kinds: Vec<String> = shop.kinds.iter().map(|row| row.join(" | ")).collect();
    assert_eq!(kinds[0], "A1, A3 | knife 8 | pier 16 | rod 1/2 | 9′-0″ | 9′-6″ | one", "{kinds:#?}");
    assert!(kinds.contains(&"B2 | knife 8 | pier 16 | rod 1/2 | 9′-6″ | 10′-0″ | both".to_string()), "{kinds:#?}");
    let [field] = package.field.as_slice() else { panic!("{:#?}", package.field) };
    let found = values(field);
    for (say, value) in [
        ("strength of the concrete at 28 days", "4,500 psi"),
        ("water-cementitious materials ratio, at most", "0.45"),
        ("grade", "F1554 Grade 36"),
        ("length of a rod, end to end", "10 1/4″"),
        ("bars, evenly spaced", "6"),
        ("their size", "No. 4"),
        ("height of a bar, to the outside of hooks", "4′-10″"),
        ("90-degree hook, outside to tip, at least", "8″"),
        ("size of the ties", "No. 3"),
        ("their outside dimension, at most", "10″"),
        ("their spacing, at most, over the full height", "6″"),
        ("of them in the top 5 in, around the rods and the vertical bars", "3"),
        ("concrete of one foundation, without waste", "11.38 ft³"),
    ] {
        assert_eq!(found.get(say).map(String::as_str), Some(value), "{say} in {found:#?}");
    }
    let kinds: Vec<String> = field.kinds.iter().map(|row| row.join(" | ")).collect();
    assert!(
        kinds.contains(&"B2 | knife 8 | pier 16 | rod 1/2 | −6″ | −4″ | −5′-9″ | 1 3/16″ to 1 3/8″".to_string()),
        "{kinds:#?}"
    );
    let words: Vec<String> = field.words().map(spans).collect();
    let words = words.join("\n");
    assert!(words.contains("before the concrete is placed") && words.contains("AISC 303-16 7.5.1"), "{words}");
}

/// By hand, for the metric job: a blade of 100 + 65 + 40 mm and 12.7 of air; a pin hole from 12 - 0.8 mm; a rod through 12 + 4.8 +
/// 12 mm of plate, washer and nut, up to the seat, 12 + 22 mm; 200 + 31.4 + 12 + 6.4 mm of rod, in quarters of an inch; ties of 400
/// less 152.4 mm; a ring of that less 2 * 11.3 and 16 mm; bars of 150 + 1,450 - 50 - 76.2 mm; 1.29 m of pier and a pad.
#[test]
fn a_metric_shop_measures_in_millimetres() {
    let (package, _) = package_in(&root().join("tests/metric"));
    let [shop] = package.shop.as_slice() else { panic!("{:#?}", package.shop) };
    let found = values(shop);
    for (say, value) in [
        ("depth of the slot, at least: the blade and 13 mm of clearance", "218 mm"),
        ("lead hole for a pin in the wood", "11.5 mm to 12 mm"),
        ("leg of the fillet welds, at least", "5 mm"),
        ("blade or side plates run along", "y"),
        ("holes in the plate on the concrete, at most", "13.5 mm"),
        ("vent and drain: a hole at each end of the pipe, at least", "13.5 mm"),
    ] {
        assert_eq!(found.get(say).map(String::as_str), Some(value), "{say} in {found:#?}");
    }
    let [field] = package.field.as_slice() else { panic!("{:#?}", package.field) };
    let found = values(field);
    for (say, value) in [
        ("rods above the concrete", "29 mm to 34 mm"),
        ("length of a rod, end to end", "254 mm"),
        ("their outside dimension, at most", "247 mm"),
        ("ring through the bar centers", "209 mm"),
        ("height of a bar, to the outside of hooks", "1,474 mm"),
        ("concrete of one foundation, without waste", "0.3412 m³"),
        ("blade or side plates run along", "y"),
    ] {
        assert_eq!(found.get(say).map(String::as_str), Some(value), "{say} in {found:#?}");
    }
    // Within 1/8, 1/4 and 1/2 in, as a rule with millimetres shows them.
    let words: String = field.words().map(spans).collect();
    for text in ["spacing of the rods within 3 mm", "within 6 mm of the grid", "within 13 mm"] {
        assert!(words.contains(text), "{text} in {words}");
    }
    let told: Vec<&str> = shop.drawings().chain(field.drawings()).flat_map(texts).collect();
    for text in [
        "57.5",
        "top 205",
        "12 × 115 × 205",
        "60.3 × 3.9",
        "22 long",
        "16 × 150 × 150",
        "6 bars 15M",
        "50",
        "100 × 100 apart",
        "400",
    ] {
        assert!(told.contains(&text), "{text} in {told:?}");
    }
}

/// By hand, for the sleeve of 2 3/8 in: 4 + 2 1/2 + 1 1/2 in over the seat, 1 1/2 in more below; a quarter of 1.939 in for the zinc.
#[test]
fn the_sleeve_is_drawn_and_measured() {
    let (package, _) = package_in(&crate::extend::sleeves().path());
    fn of(sheets: &[PlainSheet]) -> &PlainSheet {
        sheets.iter().find(|sheet| sheet.title.contains("A2")).expect("a sheet of A2")
    }
    let shop = of(&package.shop);
    let found = values(shop);
    for (say, value) in [
        ("hole in the foot of the post, centered, along the post", "2 7/16″"),
        ("its depth", "9″"),
        ("end grain to the nearest bolt", "4″"),
        ("tube above the seat", "8″"),
        ("steel of the bolts", "A36"),
        ("standoff", "A53 Gr B"),
        ("finish, after welding", "hot-dip galvanized"),
        ("leg of the fillet welds, at least", "3/16″"),
        ("bolts run along", "x"),
        ("drain for the zinc: a hole in the base plate, inside the tube, at least", "1/2″"),
    ] {
        assert_eq!(found.get(say).map(String::as_str), Some(value), "{say} in {found:#?}");
    }
    assert_eq!(values(of(&package.field)).get("bolts run along").map(String::as_str), Some("x"));
    let told: Vec<&str> = shop.drawings().flat_map(texts).collect();
    // The foot of the post, its end grain, the steel, and the plate below.
    for text in [
        "bore 9″",
        "2 bolts 1/2″",
        "bolts go through",
        "9 1/2″ long",
        "2 holes 9/16″",
        "5/8″ × 6″ × 6″",
        "4 holes",
        "9/16″",
        "drain",
    ] {
        assert!(told.contains(&text), "{text} in {told:?}");
    }
    assert_eq!(shop.drawings().count(), 4);
}

/// A seat that is not higher over the plate than nut and washer leaves no room for them.
#[test]
fn nuts_under_the_seat_need_their_room() {
    let job = Job::copy("orchard-pergola");
    let fit = |job: &Job| {
        let json = job.check_json();
        let post =
            json["posts"].as_array().expect("posts").iter().find(|post| post["mark"] == "A1").expect("A1").clone();
        let fits = post["fits"].as_array().expect("fits").clone();
        fits.iter().find(|fit| fit["fit"] == "room for the nuts or screws under the seat").map(|fit| fit["ok"] == true)
    };
    assert_eq!(fit(&job), Some(true));
    job.set("bases.csv", "knife 8", "standoff", "1 3/4");
    assert_eq!(fit(&job), Some(false), "5/8 in, where 1/2 + 3/16 in are needed");
    // Beside the seat a wrench comes from above.
    job.set("bases.csv", "knife 8", "foot_width", "10");
    job.set("bases.csv", "knife 8", "anchor_s_x", "8");
    assert_eq!(fit(&job), None);
}

/// The schedules of a job, by the name of their file.
pub fn schedules(job: &std::path::Path) -> BTreeMap<String, String> {
    let folder = tempfile::tempdir().expect("a folder");
    let output = socle(&["check".as_ref(), job.as_os_str(), "--schedules".as_ref(), folder.path().as_os_str()]);
    assert!(output.status.code().is_some_and(|code| code < 2), "{}", stderr(&output));
    let read = |entry: std::io::Result<std::fs::DirEntry>| {
        let path = entry.expect("an entry").path();
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        assert!(stdout(&output).contains(&name), "{}", stdout(&output));
        (name, std::fs::read_to_string(path).expect("a file"))
    };
    std::fs::read_dir(folder.path()).expect("the folder").map(read).collect()
}

/// One table a file, every row as wide as its headings.
#[test]
fn each_schedule_is_a_file_of_one_table() {
    for job in crate::support::JOBS {
        let files = schedules(&root().join("fixtures").join(job));
        assert!(
            files.contains_key("posts.csv") && files.contains_key("timber-to-order.csv"),
            "{job}: {:?}",
            files.keys()
        );
        for (name, text) in &files {
            let mut rows = csv::ReaderBuilder::new().flexible(true).has_headers(false).from_reader(text.as_bytes());
            let widths: Vec<usize> = rows.records().map(|row| row.expect("a row").len()).collect();
            assert!(widths.len() > 1 && widths.iter().all(|width| *width == widths[0]), "{job}: {name} {widths:?}");
        }
    }
}

/// Sizes by one another, then names; as many as all its posts need.
#[test]
fn what_is_ordered_is_told_by_its_sizes_and_names() {
    let files = schedules(&root().join("fixtures/orchard-pergola"));
    let row = |file: &str, start: &str| {
        let found = files[file].lines().find(|line| line.starts_with(start));
        found.unwrap_or_else(|| panic!("{file} has no {start}: {}", files[file])).to_string()
    };
    assert_eq!(
        row("posts.csv", "B1"),
        "B1,\"5 1/2 in by 5 1/2 in by 9 ft, Redwood, Select Structural\",knife 6,pier 16,rod 1/2,0 in"
    );
    assert_eq!(
        row("steel-to-order.csv", "seat,\"knife 6"),
        "seat,\"knife 6, 1/2 in by 4 1/2 in by 4 1/2 in, A36, hot-dip galvanized\",\"B1, B3\",2"
    );
    // Four at each of six posts.
    assert_eq!(
        row("anchors-to-order.csv", "nut below"),
        "nut below,\"1/2 in, hex, hot-dip galvanized\",\"A1, A2, A3, B1, B2, B3\",24"
    );
}

/// Two of the pages are shorter than the paper, so none is nearly empty.
#[test]
fn sheets_share_a_page_where_there_is_room() {
    let (package, _) = package_of("creek-porch");
    for sheets in [&package.shop, &package.field] {
        let follows: Vec<bool> = sheets.iter().map(|sheet| sheet.follows).collect();
        assert_eq!(follows, [false, true]);
    }
    // What can be made comes before what is on hold.
    let (package, _) = package_of("cart-barn");
    for sheets in [&package.shop, &package.field] {
        let held: Vec<bool> = sheets.iter().map(|sheet| !sheet.hold.is_empty()).collect();
        assert_eq!(held, [false, false, true]);
    }
    // A post on hold has a page of its own.
    let job = Job::copy("creek-porch");
    job.set("posts.csv", "P4", "P_W", "-24");
    let (package, _) = package_in(&job.path());
    assert!(
        package.shop.iter().all(|sheet| !sheet.follows),
        "{:#?}",
        package.shop.iter().map(|it| &it.title).collect::<Vec<_>>()
    );
}

/// Bars, rods, post, steel: each part of a page is read in one column. Only where sheets share a
/// page may one be torn.
#[test]
fn parts_of_a_sheet_are_not_torn() {
    for job in ["fixtures/orchard-pergola", "fixtures/cart-barn", "tests/carport", "tests/metric"] {
        let (package, _) = package_in(&root().join(job));
        let sheets: Vec<&PlainSheet> = package.shop.iter().chain(&package.field).collect();
        for (at, sheet) in sheets.iter().enumerate() {
            let shared = sheet.follows || sheets.get(at + 1).is_some_and(|next| next.follows);
            let headed = |column: &[PlainItem]| matches!(column.first(), None | Some(PlainItem::Heading(_)));
            assert!(shared || sheet.columns.iter().all(|column| headed(column)), "{job}: {}", sheet.title);
        }
    }
}

/// A plate under a base is drawn as large as its steel where there is room beside that.
#[test]
fn a_plate_from_above_is_not_small() {
    let (package, _) = package_in(&root().join("tests/metric"));
    let [shop] = package.shop.as_slice() else { panic!("{:#?}", package.shop) };
    let scales: Vec<&str> = shop.drawings().map(|drawing| drawing.scale.as_str()).collect();
    assert_eq!(scales[2..], ["1:5, sizes in mm", "1:5, sizes in mm"], "{scales:?}");
}
