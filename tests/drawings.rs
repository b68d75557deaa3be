//! Drawings: what is on them can be read, and is what was given.

use proptest::prelude::*;
use socle::drawing::*;
use socle::quantity::Units;

use crate::support::cases;

/// Two texts that touch, a text that leaves the paper, or one too small to be
/// read on a half-size copy.
pub fn unreadable(drawing: &Drawing) -> Option<String> {
    let texts: Vec<(&Shape, [f64; 4])> =
        drawing.shapes.iter().filter_map(|shape| Some((shape, shape.text_box()?))).collect();
    for (at, (shape, a)) in texts.iter().enumerate() {
        if a[0] < -1e-6 || a[1] < -1e-6 || a[2] > drawing.width + 1e-6 || a[3] > drawing.height + 1e-6 {
            return Some(format!("{shape:?} outside {} × {}", drawing.width, drawing.height));
        }
        if !matches!(shape, Shape::Text { size, .. } if *size >= 7.0) {
            return Some(format!("{shape:?} is too small"));
        }
        for (other, b) in &texts[at + 1..] {
            // Letters side by side share an edge, to the last bits.
            let over = |low: usize| a[low] + 1e-6 < b[low + 2] && b[low] + 1e-6 < a[low + 2];
            if over(0) && over(1) {
                return Some(format!("{shape:?} over {other:?}"));
            }
        }
    }
    None
}

/// A line through the letters of a text.
pub fn struck_out(drawing: &Drawing) -> Option<String> {
    for shape in &drawing.shapes {
        let (Some([left, top, right, bottom]), Shape::Text { size, text, .. }) = (shape.text_box(), shape) else {
            continue;
        };
        // From the tops of the capitals to the line the letters stand on.
        let letters = [left + 1.0, top + 0.3 * size, right - 1.0, bottom - 0.3 * size];
        for other in &drawing.shapes {
            let Shape::Line { from, to, .. } = other else { continue };
            let inside = |part: f64| {
                let at = [0, 1].map(|axis| from[axis] + part * (to[axis] - from[axis]));
                letters[0] < at[0] && at[0] < letters[2] && letters[1] < at[1] && at[1] < letters[3]
            };
            if (0..=400).any(|step| inside(f64::from(step) / 400.0)) {
                return Some(format!("{other:?} through {text}"));
            }
        }
    }
    None
}

pub fn texts(drawing: &Drawing) -> Vec<&str> {
    let mut all = Vec::new();
    for shape in &drawing.shapes {
        if let Shape::Text { text, .. } = shape {
            all.push(text.as_str());
        }
    }
    all
}

const BODY: [f64; 2] = [394.0, 360.0];
const PAGE: [f64; 2] = [524.0, 560.0];

/// Like `knife 8`, `knife 6` and `strap 8` of the example jobs.
fn feet() -> [PostFoot; 3] {
    let knife_8 = PostFoot {
        along_x: false,
        b: 7.5,
        d: 7.5,
        fixing: Fixing::Blade {
            slot: 0.4375,
            slot_depth: 8.25,
            pin_d: 0.5,
            pin_length: 6.5,
            bore: 7.0,
            blade_t: 0.375,
            blade_w: 4.0,
            blade_h: 8.0,
            saw: Some(kerfs()[1]),
        },
        n: 2,
        rows: 1,
        end: 4.0,
        spacing: 2.5,
        row_spacing: 0.0,
        seat_b: 6.0,
        seat_t: 0.5,
        standoff: 2.0,
        foot_b: 6.0,
        foot_t: 0.5,
        leg_t: 2.375,
    };
    let knife_6 = PostFoot {
        b: 5.5,
        d: 5.5,
        fixing: Fixing::Blade {
            slot: 0.375,
            slot_depth: 5.0,
            pin_d: 0.4375,
            pin_length: 4.75,
            bore: 5.0,
            blade_t: 0.3125,
            blade_w: 3.0,
            blade_h: 4.75,
            saw: None,
        },
        n: 1,
        end: 3.5,
        spacing: 0.0,
        seat_b: 4.5,
        seat_t: 0.375,
        leg_t: 1.9,
        ..knife_8.clone()
    };
    let strap_8 = PostFoot {
        along_x: true,
        fixing: Fixing::Plates { plate_t: 0.375, plate_w: 4.0, plate_h: 8.0, screw_d: 0.5, screw_length: 4.0 },
        seat_b: 7.5,
        seat_t: 0.625,
        standoff: 2.5,
        foot_b: 8.0,
        foot_t: 0.625,
        leg_t: 3.5,
        ..knife_8.clone()
    };
    [knife_8, knife_6, strap_8]
}

/// One pass, both faces, a core that stays.
fn kerfs() -> [Kerf; 3] {
    let both = Kerf { radius: 8.125, cut: 6.25, d: 7.5, slot_depth: 8.25 };
    [Kerf { d: 5.5, slot_depth: 5.0, ..both }, both, Kerf { radius: 3.625, cut: 2.4375, ..both }]
}

/// The uplift and shear of `A2` in the orchard, of `B1`, and none across.
fn pin_groups() -> [PinGroup; 3] {
    let knife_8 = PinGroup {
        d: 7.5,
        pin_d: 0.5,
        n: 2,
        rows: 1,
        end: 4.0,
        spacing: 2.5,
        row_spacing: 0.0,
        uplift: 2310.0,
        shear: 870.0,
    };
    let knife_6 =
        PinGroup { d: 5.5, pin_d: 0.4375, n: 1, end: 3.5, spacing: 0.0, uplift: 900.0, shear: -760.0, ..knife_8 };
    let four = PinGroup { rows: 2, row_spacing: 2.5, n: 3, shear: 0.0, ..knife_8 };
    [knife_8, knife_6, four]
}

fn anchor_plans() -> [AnchorPlan; 3] {
    let square = AnchorPlan {
        diameter: 0.0,
        c_x1: 7.0,
        c_x2: 7.0,
        c_y1: 7.0,
        c_y2: 7.0,
        n_x: 2,
        n_y: 2,
        s_x: 4.0,
        s_y: 4.0,
        anchor_d: 0.625,
        plate_x: 6.0,
        plate_y: 6.0,
        reach: 4.67,
    };
    let edge = AnchorPlan { c_x1: 4.0, c_x2: 30.0, c_y1: 30.0, c_y2: 30.0, reach: 10.5, n_y: 1, ..square };
    let round = AnchorPlan { diameter: 16.0, c_x1: 5.09, c_x2: 5.09, c_y1: 5.09, c_y2: 5.09, reach: 5.09, ..square };
    [square, edge, round]
}

fn piers() -> [Pier; 3] {
    let round = Pier {
        round: true,
        width: 16.0,
        above_ground: 6.0,
        depth: 48.0,
        frost: 36.0,
        pad: 0.0,
        pad_t: 0.0,
        bars: 6,
        bar_d: 0.5,
        bar_in: 3.25,
        tie_s: 6.0,
        n_x: 2,
        n_y: 2,
        s_x: 4.0,
        s_y: 4.0,
        anchor_d: 0.625,
        embedment: 10.0,
        soil: 200.0 / 144.0,
    };
    let on_pad = Pier { round: false, width: 14.0, pad: 30.0, pad_t: 10.0, bars: 4, soil: 0.0, ..round };
    let block = Pier {
        depth: 12.0,
        frost: 0.0,
        bars: 0,
        width: 18.0,
        n_y: 1,
        above_ground: 4.0,
        round: false,
        soil: 1.0,
        ..round
    };
    [round, on_pad, block]
}

/// A knee brace 3 ft below the top of a 9 ft post, the same pushed the other
/// way, and a post without a brace.
fn free_bodies() -> [FreeBody; 3] {
    let braced = FreeBody {
        height: 108.0,
        brace: 36.0,
        axial: 3630.0,
        base: 640.0,
        wind: 0.0,
        brace_force: 1920.0,
        top: 1280.0,
        moment: 46080.0,
    };
    let other = FreeBody { axial: -2480.0, base: -640.0, brace_force: -1920.0, top: -1280.0, ..braced };
    [braced, other, FreeBody { brace: 0.0, brace_force: 0.0, moment: 0.0, top: -640.0, ..braced }]
}

/// Each drawing for configurations made by hand.
fn samples() -> Vec<(String, Drawing)> {
    let mut all = Vec::new();
    for (at, foot) in feet().iter().enumerate() {
        all.push((format!("post-foot-{at}"), post_foot(foot, PAGE[0], PAGE[1], Units::Imperial)));
        all.push((format!("post-foot-body-{at}"), post_foot(foot, 394.0, 400.0, Units::Imperial)));
    }
    let four = PostFoot { rows: 2, row_spacing: 2.5, n: 2, ..feet()[0].clone() };
    all.push(("post-foot-four".into(), post_foot(&four, PAGE[0], PAGE[1], Units::Imperial)));
    let [w, h] = BODY;
    for (at, group) in pin_groups().iter().enumerate() {
        all.push((format!("pin-group-{at}"), pin_group(group, w, h, Units::Imperial)));
    }
    for (at, plan) in anchor_plans().iter().enumerate() {
        all.push((format!("anchor-plan-{at}"), anchor_plan(plan, w, h, Units::Imperial)));
    }
    for (at, it) in piers().iter().enumerate() {
        all.push((format!("pier-{at}"), pier(it, PAGE[0], PAGE[1], Units::Imperial)));
        all.push((format!("pier-body-{at}"), pier(it, w, h, Units::Imperial)));
    }
    for (at, body) in free_bodies().iter().enumerate() {
        all.push((format!("free-body-{at}"), free_body(body, w, h, Units::Imperial)));
    }
    all
}

#[test]
fn drawings_made_by_hand_can_be_read() {
    for (name, drawing) in samples() {
        assert_eq!(unreadable(&drawing), None, "{name}");
        assert_eq!(struck_out(&drawing), None, "{name}");
    }
}

/// `SOCLE_DRAWINGS=/tmp/out cargo test look_at -- --ignored` writes them as SVG.
#[test]
#[ignore = "for eyes"]
fn look_at_them() {
    let folder = std::env::var("SOCLE_DRAWINGS").expect("SOCLE_DRAWINGS names a folder");
    for (name, drawing) in samples() {
        println!("{name}: {:.0} × {:.0}. {}", drawing.width, drawing.height, drawing.alt);
        std::fs::write(format!("{folder}/{name}.svg"), svg(&drawing)).expect("written");
    }
}

pub fn svg(drawing: &Drawing) -> String {
    let [w, h] = [drawing.width, drawing.height];
    let mut out = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{w}pt" height="{h}pt" viewBox="0 0 {w} {h}" stroke="black" fill="none"><rect width="{w}" height="{h}" fill="white" stroke="none"/>"#
    );
    let fill = |filled: &bool| if *filled { "black" } else { "none" };
    for shape in &drawing.shapes {
        out += &match shape {
            Shape::Line { from: [a, b], to: [c, d], weight, dash } => {
                let dash = if *dash { "3 3" } else { "none" };
                format!(r#"<path d="M{a} {b}L{c} {d}" stroke-width="{weight}" stroke-dasharray="{dash}"/>"#)
            }
            Shape::Rect { at: [x, y], size: [w, h], weight, filled } => {
                let fill = fill(filled);
                format!(r#"<rect x="{x}" y="{y}" width="{w}" height="{h}" stroke-width="{weight}" fill="{fill}"/>"#)
            }
            Shape::Circle { at: [x, y], radius, weight, filled } => {
                let fill = fill(filled);
                format!(r#"<circle cx="{x}" cy="{y}" r="{radius}" stroke-width="{weight}" fill="{fill}"/>"#)
            }
            Shape::Polygon { points, weight, filled } => {
                let points: String = points.iter().map(|[x, y]| format!("{x},{y} ")).collect();
                format!(r#"<polygon points="{points}" stroke-width="{weight}" fill="{}"/>"#, fill(filled))
            }
            Shape::Text { at: [x, y], anchor, size, bold, text } => {
                let weight = if *bold { "bold" } else { "normal" };
                let look = format!(r#"font-family="Libertinus Serif" font-size="{size}" font-weight="{weight}""#);
                format!(
                    r#"<text x="{x}" y="{y}" {look} text-anchor="{anchor}" stroke="none" fill="black">{text}</text>"#
                )
            }
        };
    }
    out + "</svg>"
}

/// Circles of so many points, from left to right, then from the bottom up.
pub fn circles(drawing: &Drawing, of: f64) -> Vec<[f64; 2]> {
    let circle = |shape: &Shape| match shape {
        Shape::Circle { at, radius, .. } if (radius - of).abs() < 1e-6 => Some(*at),
        _ => None,
    };
    let mut found: Vec<[f64; 2]> = drawing.shapes.iter().filter_map(circle).collect();
    found.sort_by(|a, b| a[0].total_cmp(&b[0]).then(b[1].total_cmp(&a[1])));
    found
}

/// Ends of level (`axis` 0) or upright (1) lines of a weight.
fn lines(drawing: &Drawing, axis: usize, of: f64) -> Vec<[[f64; 2]; 2]> {
    let line = |shape: &Shape| match shape {
        Shape::Line { from, to, weight, dash: false }
            if *weight == of && (from[1 - axis] - to[1 - axis]).abs() < 1e-6 =>
        {
            Some([*from, *to])
        }
        _ => None,
    };
    drawing.shapes.iter().filter_map(line).collect()
}

pub fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 0.01, "{a}, not {b}");
}

#[test]
fn lengths_as_a_tape_shows_them() {
    let told = [
        (0.0, "0″"),
        (0.4375, "7/16″"),
        (7.5, "7 1/2″"),
        (23.9375, "23 15/16″"),
        (23.99, "2′-0″ ±"),
        (24.0, "2′-0″"),
        (96.1875, "8′-0 3/16″"),
        (38.0, "3′-2″"),
        (3.53125, "3 9/16″ ±"),
        (-2.25, "−2 1/4″"),
    ];
    let (imperial, metric) = (Units::Imperial, Units::Metric);
    for (inches, text) in told {
        assert_eq!(imperial.length(inches), text);
    }
    assert_eq!(imperial.size(1.9), "1.9″");
    assert_eq!(imperial.size(0.4375), "7/16″");
    assert_eq!(imperial.force(1_234_567.4), "1,234,567 lbf");
    assert_eq!(imperial.force(-999.6), "−1,000 lbf");
    assert_eq!(imperial.force_number(-0.2), "0");
    let told = [
        (0.0, "0 mm"),
        (5.0, "127 mm"),
        (7.5, "191 mm ±"),
        (1703.0 / 25.4, "1,703 mm"),
        (-2.5, "−63.5 mm"),
        (0.3, "7.5 mm ±"),
    ];
    for (inches, text) in told {
        assert_eq!(metric.length(inches), text);
    }
    assert_eq!(metric.size(0.4375), "11.11 mm");
    assert_eq!(metric.size(0.5), "12.7 mm");
    assert_eq!(metric.run(12.5), "3,810 mm");
    assert_eq!(metric.level(-0.5), "−152 mm");
    assert_eq!(metric.force(2_310.0), "10.28 kN");
    assert_eq!(metric.moment(1_200.0), "0.14 kN·m");
    assert_eq!(metric.pressure(16.0 / 144.0), "0.766 kPa");
    assert_eq!(metric.soil_pressure(1_500.0 / 144.0), "71.8 kPa");
    assert_eq!(metric.volume(46_656.0), "0.76 m³");
    assert_eq!(degrees(53.130), "53.1°");
}

/// At 1 1/2 in = 1 ft an inch is 9 points.
#[test]
fn the_shop_measures_the_holes_from_the_end_grain() {
    let drawing = post_foot(&feet()[0], 400.0, 300.0, Units::Imperial);
    assert_eq!(drawing.scale, "1 1/2 in = 1 ft");
    let holes = circles(&drawing, 2.25);
    assert_eq!(holes.len(), 2, "pins 1/2 in across");
    let [x, y] = holes[0];
    // 4 in up to the first hole, 2 1/2 in on to the second.
    near(y - holes[1][1], 22.5);
    let end = lines(&drawing, 0, 0.9).into_iter().find(|[from, to]| from[0] < x && x < to[0]).expect("the end grain");
    near(end[0][1] - y, 36.0);
    // The post is 7 1/2 in wide, the hole in its middle.
    near(end[1][0] - end[0][0], 67.5);
    near(x - end[0][0], 33.75);
    // Up from the end grain, each from there: the holes, the slot, and the kerf of the saw.
    let kerf = Units::Imperial.length(8.25 + kerfs()[1].overcut());
    for text in ["4″", "6 1/2″", "slot 8 1/4″", &format!("kerf {kerf}")] {
        assert!(texts(&drawing).contains(&text), "{text} in {:?}", texts(&drawing));
    }
    // In the side view the slot is 7/16 in wide and 8 1/4 in deep, from the same end grain.
    let slot: Vec<_> = lines(&drawing, 1, 0.9)
        .into_iter()
        .filter(|[from, to]| ((from[1] - to[1]).abs() - 74.25).abs() < 0.01)
        .collect();
    assert_eq!(slot.len(), 2);
    near(slot[1][0][0] - slot[0][0][0], 3.9375);
    near(slot[0][0][1], end[0][1]);
}

#[test]
fn four_holes_are_two_rows_about_the_middle() {
    let foot = PostFoot { rows: 2, row_spacing: 2.5, ..feet()[0].clone() };
    assert_eq!(foot.holes(), [[-1.25, 4.0], [-1.25, 6.5], [1.25, 4.0], [1.25, 6.5]]);
}

#[test]
fn pins_are_plugged_to_the_face_they_are_bored_from() {
    let drawing = post_foot(&feet()[0], PAGE[0], PAGE[1], Units::Imperial);
    // 7 in of hole less 6 1/2 in of pin.
    for text in ["plug 1/2″", "pin 6 1/2″", "7″ deep", "plugged"] {
        assert!(texts(&drawing).contains(&text), "{text}");
    }
}

/// Circles with sides of 3-4-5 and 5-12-13.
#[test]
fn overcut_from_chords_worked_by_hand() {
    // Arbor 6 above the face, half chord 8; at 2 below it, 8 under the arbor, 6.
    let one = Kerf { radius: 10.0, cut: 4.0, d: 2.0, slot_depth: 9.0 };
    assert_eq!(one.passes(), Passes::One);
    near(one.overcut(), 2.0);
    // Arbor 5 above the face, half chord 12; in the middle, at 7, 12 under it, 5.
    let both = Kerf { radius: 13.0, cut: 8.0, d: 14.0, slot_depth: 9.0 };
    assert_eq!(both.passes(), Passes::Both);
    near(both.overcut(), 7.0);
    // Arbor 3 above the face, half chord 4; the tip is deepest, 3 of 7 in are left.
    let core = Kerf { radius: 5.0, cut: 2.0, d: 7.0, slot_depth: 9.0 };
    assert_eq!(core.passes(), Passes::Core(3.0));
    near(core.overcut(), 4.0);
    // As deep as half the post, and as deep as all of it, is enough.
    assert_eq!(Kerf { cut: 3.5, ..core }.passes(), Passes::Both);
    assert_eq!(Kerf { cut: 7.0, ..core }.passes(), Passes::One);
}

/// The arc starts at the face above the full depth by the overcut, and ends where the slot is as deep as it has to be.
#[test]
fn the_arc_stands_where_the_overcut_is() {
    let it = Kerf { radius: 10.0, cut: 4.0, d: 2.0, slot_depth: 3.0 };
    let arc = it.arc();
    let (first, last) = (arc[0], arc[arc.len() - 1]);
    near(first[0], 0.0);
    near(first[1], 3.0 + 2.0);
    near(last[0], 2.0);
    near(last[1], 3.0);
}

#[test]
fn the_resultant_of_three_and_four_is_five() {
    let group = PinGroup { uplift: 400.0, shear: 300.0, ..pin_groups()[0] };
    let drawing = pin_group(&group, BODY[0], BODY[1], Units::Imperial);
    for text in ["resultant 500 lbf", "at 36.9° to the grain", "uplift 400 lbf", "shear 300 lbf"] {
        assert!(texts(&drawing).contains(&text), "{text}");
    }
    let (middle, tip) = (circles(&drawing, 1.6)[0], arrow_tips(&drawing)[0]);
    near((tip[0] - middle[0]) / (middle[1] - tip[1]), 0.75);
    // Two pins 2 1/2 in apart: the middle is 5 1/4 in from the end grain.
    let end = lines(&drawing, 0, 0.9)[0];
    near(end[0][1] - middle[1], 94.5);
}

/// Tips of the black heads, and which way they point.
fn arrow_tips(drawing: &Drawing) -> Vec<[f64; 4]> {
    let tip = |shape: &Shape| match shape {
        Shape::Polygon { points, filled: true, .. } => {
            let back = [(points[1][0] + points[2][0]) / 2.0, (points[1][1] + points[2][1]) / 2.0];
            Some([points[0][0], points[0][1], points[0][0] - back[0], points[0][1] - back[1]])
        }
        _ => None,
    };
    drawing.shapes.iter().filter_map(tip).collect()
}

#[test]
fn concrete_breaks_out_to_the_nearer_of_edge_and_reach() {
    // Two anchors 4 in apart along x, an edge 4 in to the left, others far off.
    assert_eq!(anchor_plans()[1].breakout(), [-4.0, -10.5, 14.5, 10.5]);
    let plan = AnchorPlan { c_y1: 3.0, n_y: 2, s_y: 5.0, ..anchor_plans()[1] };
    assert_eq!(plan.breakout(), [-4.0, -3.0, 14.5, 15.5]);
}

#[test]
fn bars_stand_at_the_corners_first() {
    let pier = |bars| Pier { round: false, width: 14.0, bar_in: 3.0, bars, ..piers()[0] };
    let has = |bars, at: [f64; 2]| pier(bars).bar_places().contains(&at);
    for bars in 4..=12 {
        let places = pier(bars).bar_places();
        assert_eq!(places.len(), bars);
        assert!([-4.0, 4.0].iter().all(|x| [-4.0, 4.0].iter().all(|y| has(bars, [*x, *y]))), "{places:?}");
    }
    assert!(has(6, [0.0, -4.0]) && has(6, [0.0, 4.0]));
    assert!(has(8, [4.0, 0.0]) && has(8, [-4.0, 0.0]));
    let round = Pier { width: 16.0, bar_in: 3.0, bars: 8, ..piers()[0] };
    assert!(round.bar_places().iter().all(|[x, y]| (x.hypot(*y) - 5.0).abs() < 1e-9));
}

/// Forces across: two to the left, the brace to the right; along: against each other.
#[test]
fn a_free_body_is_in_balance() {
    let body = free_bodies()[0];
    let drawing = free_body(&body, BODY[0], BODY[1], Units::Imperial);
    let ways: Vec<[i8; 2]> =
        arrow_tips(&drawing).iter().map(|[_, _, x, y]| [x, y].map(|v| (v / 8.0).round() as i8)).collect();
    assert_eq!(ways, [[0, 1], [0, -1], [-1, 0], [-1, 0], [1, 0]]);
    let turned: Vec<[i8; 2]> = arrow_tips(&free_body(&free_bodies()[1], BODY[0], BODY[1], Units::Imperial))
        .iter()
        .map(|[_, _, x, y]| [x, y].map(|v| (v / 8.0).round() as i8))
        .collect();
    assert_eq!(turned, ways.iter().map(|way| way.map(|v| -v)).collect::<Vec<_>>());
    for text in
        ["3,630 lbf", "640 lbf", "1,920 lbf", "1,280 lbf", "3,840 lbf ft", "brace 3′-0″", "6′-0″", "height 9′-0″"]
    {
        assert!(texts(&drawing).contains(&text), "{text}");
    }
}

/// Wind of 20 lbf/ft on it: its moment is 780 x 6 - 20 x 6^2 / 2 lbf ft at the foot of the brace, and 0 at the beam.
#[test]
fn the_wind_on_a_post_is_in_its_balance() {
    let body = FreeBody {
        base: 780.0,
        wind: 20.0 / 12.0,
        brace_force: 2070.0,
        top: 1470.0,
        moment: 12.0 * 4320.0,
        ..free_bodies()[0]
    };
    near(body.base + body.top, body.brace_force + body.wind * body.height);
    let drawing = free_body(&body, BODY[0], BODY[1], Units::Imperial);
    for text in ["wind", "20.0 lbf/ft", "780 lbf", "4,320 lbf ft"] {
        assert!(texts(&drawing).contains(&text), "{text} in {:?}", texts(&drawing));
    }
    // Four more arrows, all to the right, and to the left where it blows against the shear.
    let across = |wind: f64| {
        let drawing = free_body(&FreeBody { wind, ..body }, BODY[0], BODY[1], Units::Imperial);
        arrow_tips(&drawing).iter().skip(5).map(|[_, _, x, _]| x.signum()).collect::<Vec<_>>()
    };
    assert_eq!((across(0.0), across(2.0), across(-2.0)), (vec![], vec![1.0; 4], vec![-1.0; 4]));
    assert_eq!(unreadable(&drawing), None);
}

/// Values of a figure made by hand: every length, count and force its own.
fn values(figure: &Figure) -> Values {
    let given = [
        ("b", 7.5),
        ("d", 7.25),
        ("slot", 0.4375),
        ("slot_depth", 8.25),
        ("pin_d", 0.5),
        ("pin_length", 6.5),
        ("bore", 7.0),
        ("n", 2.0),
        ("rows", 2.0),
        ("end", 4.0),
        ("spacing", 2.5),
        ("row_spacing", 2.0),
        ("blade_t", 0.375),
        ("blade_w", 4.5),
        ("blade_h", 8.0),
        ("plate_t", 0.375),
        ("plate_w", 4.5),
        ("plate_h", 8.0),
        ("screw_d", 0.5),
        ("screw_length", 3.75),
        ("seat_b", 6.0),
        ("seat_d", 5.75),
        ("seat_t", 0.5),
        ("standoff", 2.0),
        ("leg", 2.375),
        ("leg_t", 2.25),
        ("foot_b", 6.25),
        ("foot_d", 6.75),
        ("foot_t", 0.5),
        ("bolt_d", 0.5),
        ("bore_deep", 9.0),
        ("tube", 2.375),
        ("tube_t", 0.218),
        ("tube_h", 8.5),
        ("drain", 0.25),
        ("n_b", 2.0),
        ("n_d", 2.0),
        ("holes_b", 4.0),
        ("holes_d", 4.5),
        ("vent", 0.5),
        ("anchor_d", 0.625),
        ("anchor_hole", 0.5625),
        ("hole", 0.5625),
        ("weld", 0.1875),
        ("saw_radius", 8.125),
        ("saw_cut", 6.25),
        ("apart", 7.5),
        ("seat_x", 5.5),
        ("seat_y", 5.25),
        ("fastener_h", 4.5),
        ("fasteners", 8.0),
        ("beam_t", 7.5),
        ("beam_w", 5.5),
        ("end_d", 6.0),
        ("base_run", 5.5),
        ("base_across", 5.0),
        ("s", 3.0),
        ("s_row", 2.5),
        ("screw_l", 3.0),
        ("width_x", 20.0),
        ("width_y", 22.0),
        ("tie_d", 0.375),
        ("ring", 8.75),
        ("pad_x", 30.0),
        ("pad_y", 28.0),
        ("radius", 8.125),
        ("cut", 6.25),
        ("T", 2310.0),
        ("H", 870.0),
        ("diameter", 22.0),
        ("c_x1", 7.0),
        ("c_x2", 7.25),
        ("c_y1", 7.5),
        ("c_y2", 7.75),
        ("n_x", 2.0),
        ("n_y", 2.0),
        ("s_x", 4.0),
        ("s_y", 4.5),
        ("plate_x", 6.0),
        ("plate_y", 6.25),
        ("reach", 5.0),
        ("width", 16.0),
        ("above_ground", 6.0),
        ("depth", 48.0),
        ("frost", 36.0),
        ("pad", 30.0),
        ("pad_t", 10.0),
        ("bars", 4.0),
        ("bar_d", 0.5),
        ("bar_in", 3.0),
        ("tie_s", 8.0),
        ("embedment", 10.0),
        ("S_1", 1.5),
        ("height", 108.0),
        ("a", 36.0),
        ("P", 3630.0),
        ("F_brace", 1920.0),
        ("F_top", 1280.0),
        ("w", 0.9),
        ("M", 46080.0),
        ("slope", 18.0),
        ("span", 180.0),
        ("mean_height", 132.0),
        ("p_minus", 0.11),
        ("p_plus", -0.07),
    ];
    let mut values = Values::default();
    for (name, kind) in figure.inputs {
        match kind {
            Input::Choice(choices) => drop(values.texts.insert((*name).into(), choices[0].into())),
            Input::Text => drop(values.texts.insert((*name).into(), format!("No. {}", name.len()))),
            _ => {
                let (_, value) = given.iter().find(|(known, _)| known == name).unwrap_or_else(|| panic!("{name}"));
                values.numbers.insert((*name).into(), *value);
            }
        }
    }
    values
}

/// A figure asks for no more than its list says, and each input is seen.
#[test]
fn every_input_of_a_figure_is_on_it() {
    let print = |drawing: &Drawing| serde_json::to_string(drawing).expect("a drawing");
    for figure in FIGURES {
        let values = values(figure);
        let drawn = (figure.draw)(&values);
        assert_eq!(unreadable(&drawn), None, "{}", figure.name);
        for (name, kind) in figure.inputs {
            let mut other = values.clone();
            match kind {
                Input::Choice(choices) => {
                    other.texts.insert((*name).into(), choices[1].into());
                }
                Input::Text => drop(other.texts.insert((*name).into(), "15M".into())),
                Input::Count => *other.numbers.get_mut(*name).expect("given") += 1.0,
                _ => *other.numbers.get_mut(*name).expect("given") *= 1.25,
            }
            assert_ne!(print(&drawn), print(&(figure.draw)(&other)), "{} without {name}", figure.name);
        }
    }
}

#[test]
fn figures_are_found_by_name() {
    for own in FIGURES {
        assert_eq!(figure(own.name).map(|found| found.inputs), Some(own.inputs));
    }
    assert!(figure("rafter").is_none());
}

/// A job that is wrong is drawn as it is wrong.
#[test]
fn values_that_make_no_sense_are_drawn_all_the_same() {
    for figure in FIGURES {
        let sound = values(figure);
        let name_of = |(name, _): &(&'static str, Input)| *name;
        for odd in [0.0, -3.0, 1e4, f64::NAN] {
            for name in figure.inputs.iter().map(name_of).filter(|name| sound.numbers.contains_key(*name)) {
                let mut values = sound.clone();
                values.numbers.insert(name.into(), odd);
                let drawing = (figure.draw)(&values);
                assert!(!drawing.shapes.is_empty() && drawing.alt.len() > 40, "{} with {name} of {odd}", figure.name);
                let finite = drawing.width.is_finite() && drawing.height.is_finite();
                assert!(finite, "{} with {name} of {odd}: {} × {}", figure.name, drawing.width, drawing.height);
            }
        }
    }
}

/// A length in sixteenths.
pub fn inches(low: f64, high: f64) -> impl Strategy<Value = f64> {
    ((low * 16.0) as i64..=(high * 16.0) as i64).prop_map(|sixteenths| sixteenths as f64 / 16.0)
}

prop_compose! {
    fn any_kerf()(radius in inches(2.5, 10.0), part in 1u8..=20, d in inches(3.5, 16.0), slot_depth in inches(3.0, 16.0)) -> Kerf {
        Kerf { radius, cut: (radius * f64::from(part) / 20.0 * 16.0).ceil() / 16.0, d, slot_depth }
    }
}

prop_compose! {
    fn any_foot()(
        (b, d) in (inches(3.5, 11.5), inches(3.5, 11.5)),
        (slot, clear, slot_depth) in (inches(0.25, 0.75), inches(0.0, 0.25), inches(3.0, 14.0)),
        (pin_d, plug) in (inches(0.25, 1.0), inches(0.0, 1.0)),
        (n, rows, end, spacing, row_spacing) in (1usize..5, 1usize..4, inches(1.5, 7.0), inches(1.0, 4.0), inches(0.75, 3.0)),
        (seat_t, standoff, foot_t) in (inches(0.0, 0.75), inches(1.0, 6.0), inches(0.0, 0.75)),
        (foot_b, leg_t, saw, along_x) in (inches(4.0, 12.0), inches(0.5, 4.0), proptest::option::of(any_kerf()), any::<bool>()),
        holds in 0u8..3,
    ) -> PostFoot {
        let fixing = match holds {
            0 => Fixing::Plates { plate_t: slot, plate_w: d / 2.0, plate_h: slot_depth, screw_d: pin_d, screw_length: b / 2.0 },
            1 => Fixing::Tube {
                bore: leg_t + 0.0625, bore_deep: slot_depth, tube: leg_t, tube_t: leg_t / 12.0, tube_h: slot_depth - clear, bolt_d: pin_d,
            },
            _ => Fixing::Blade {
                slot,
                slot_depth,
                pin_d,
                pin_length: b - 2.0 * plug - 0.5,
                bore: b - plug - 0.5,
                blade_t: slot - clear.min(slot / 4.0),
                blade_w: d / 2.0,
                blade_h: slot_depth - clear,
                saw: saw.map(|saw| Kerf { d, slot_depth, ..saw }),
            },
        };
        PostFoot {
            along_x, b, d, fixing, n, rows, end, spacing, row_spacing, seat_b: b - 1.0, seat_t, standoff, foot_b, foot_t, leg_t,
        }
    }
}

prop_compose! {
    fn any_pin_group()(
        (d, pin_d, n, rows) in (inches(3.5, 11.5), inches(0.25, 1.0), 1usize..5, 1usize..4),
        (end, spacing, row_spacing) in (inches(1.5, 7.0), inches(1.0, 4.0), inches(0.75, 3.0)),
        (uplift, shear) in (1.0f64..20000.0, any_force()),
    ) -> PinGroup {
        PinGroup { d, pin_d, n, rows, end, spacing, row_spacing, uplift, shear }
    }
}

prop_compose! {
    fn any_anchor_plan()(
        edges in [inches(1.5, 40.0), inches(1.5, 40.0), inches(1.5, 40.0), inches(1.5, 40.0)],
        (n_x, n_y, s_x, s_y) in (1usize..4, 1usize..4, inches(2.0, 9.0), inches(2.0, 9.0)),
        (plate_x, plate_y) in (inches(3.0, 12.0), inches(3.0, 12.0)),
        (anchor_d, reach, round) in (inches(0.25, 1.0), inches(2.0, 20.0), any::<bool>()),
    ) -> AnchorPlan {
        let [c_x1, c_x2, c_y1, c_y2] = if round { [edges[0]; 4] } else { edges };
        let diameter = if round { 2.25 * edges[0] + s_x } else { 0.0 };
        AnchorPlan { diameter, c_x1, c_x2, c_y1, c_y2, n_x, n_y, s_x, s_y, anchor_d, plate_x, plate_y, reach }
    }
}

prop_compose! {
    fn any_pier()(
        (round, width, above_ground, depth) in (any::<bool>(), inches(8.0, 36.0), inches(0.0, 24.0), inches(8.0, 96.0)),
        (frost, pad, pad_t) in (prop_oneof![Just(0.0), inches(6.0, 60.0)], prop_oneof![Just(0.0), inches(38.0, 60.0)], inches(6.0, 16.0)),
        (bars, bar_d, bar_in, tie_s) in (prop_oneof![Just(0), 4usize..13], inches(0.375, 1.0), inches(2.0, 3.5), prop_oneof![Just(0.0), inches(3.0, 16.0)]),
        (n_x, n_y, s_x, s_y) in (1usize..4, 1usize..4, inches(2.0, 6.0), inches(2.0, 6.0)),
        (anchor_d, embedment, soil) in (inches(0.25, 1.0), inches(2.0, 16.0), prop_oneof![Just(0.0), 0.5f64..10.0]),
    ) -> Pier {
        Pier { round, width, above_ground, depth, frost, pad, pad_t, bars, bar_d, bar_in, tie_s, n_x, n_y, s_x, s_y, anchor_d, embedment, soil }
    }
}

/// Not nothing, either way.
fn any_force() -> impl Strategy<Value = f64> {
    prop_oneof![-20000.0f64..-1.0, 1.0f64..20000.0]
}

prop_compose! {
    fn any_free_body()(
        (height, part) in (inches(60.0, 240.0), 0u8..6),
        forces in [any_force(), any_force(), any_force(), any_force()],
        moment in any_force().prop_map(|force| 50.0 * force),
        wind in prop_oneof![Just(0.0), -8.0f64..-0.05, 0.05f64..8.0],
    ) -> FreeBody {
        let [axial, base, brace_force, top] = forces;
        FreeBody { height, brace: (height * f64::from(part) / 10.0).round(), axial, base, wind, brace_force, top, moment }
    }
}

/// As a chain of dimensions prints a length: a thirty-second stays one.
pub fn on_tape(units: Units, inches: f64) -> String {
    let size = units.size(inches);
    if size.contains("/32") { size } else { units.length(inches) }
}

/// Every text that is wanted is on the drawing, which fits its frame.
pub fn shows(drawing: &Drawing, frame: [f64; 2], wanted: &[String]) -> Result<(), TestCaseError> {
    prop_assert_eq!(unreadable(drawing), None);
    prop_assert_eq!(struck_out(drawing), None);
    prop_assert!(drawing.width <= frame[0] && drawing.height <= frame[1], "{} × {}", drawing.width, drawing.height);
    let texts = texts(drawing);
    for text in wanted {
        // A metric drawing says once, in its scale, that sizes are in mm.
        prop_assert!(texts.contains(&text.replace(" mm", "").as_str()), "no {} in {:?}", text, texts);
    }
    Ok(())
}

pub fn any_units() -> impl Strategy<Value = Units> {
    prop_oneof![Just(Units::Imperial), Just(Units::Metric)]
}

proptest! {
    #![proptest_config(cases(24))]

    #[test]
    fn any_foot_shows_its_values(it in any_foot(), units in any_units()) {
        let mut wanted = vec![format!("post {}", units.length(it.b)), format!("post {}", units.length(it.d))];
        // Heights of the holes, each from the end grain.
        wanted.extend((0..it.n).map(|at| units.length(it.end + at as f64 * it.spacing)));
        match it.fixing {
            Fixing::Blade { slot_depth, bore, pin_length, saw, .. } => {
                wanted.extend([
                    format!("slot {}", units.length(slot_depth)),
                    format!("{} deep", units.at_most(bore)),
                    format!("pin {}", units.length(pin_length)),
                ]);
                wanted.extend(saw.map(|saw| format!("kerf {}", on_tape(units, saw.slot_depth + saw.overcut()))));
            }
            Fixing::Plates { plate_h, .. } => wanted.push(format!("plate {}", units.length(plate_h))),
            Fixing::Tube { bore, bore_deep, .. } => wanted.extend([units.size(bore), format!("bore {}", on_tape(units, bore_deep))]),
        }
        shows(&post_foot(&it, PAGE[0], PAGE[1], units), PAGE, &wanted)?;
    }

    #[test]
    fn any_pin_group_shows_its_values(it in any_pin_group(), units in any_units()) {
        let mut wanted = vec![
            format!("end {}", units.length(it.end)),
            format!("post {}", units.length(it.d)),
            format!("resultant {}", units.force(it.resultant())),
            format!("uplift {}", units.force(it.uplift)),
            format!("shear {}", units.force(it.shear.abs())),
        ];
        if it.rows > 1 {
            wanted.push(format!("row {}", units.length(it.row_spacing)));
        }
        if it.n > 1 {
            wanted.push(units.length(it.spacing));
        }
        shows(&pin_group(&it, BODY[0], BODY[1], units), BODY, &wanted)?;
    }

    #[test]
    fn any_anchor_plan_shows_its_values(it in any_anchor_plan(), units in any_units()) {
        let mut wanted = [it.c_x1, it.c_x2, it.c_y1, it.c_y2].map(|side| units.length(side)).to_vec();
        if it.n_x > 1 {
            wanted.push(units.length(it.s_x));
        }
        if it.n_y > 1 {
            wanted.push(units.length(it.s_y));
        }
        if it.diameter > 0.0 {
            wanted.push(format!("round pier {}", on_tape(units, it.diameter)));
        }
        shows(&anchor_plan(&it, BODY[0], BODY[1], units), BODY, &wanted)?;
    }

    #[test]
    fn any_pier_shows_its_values(it in any_pier(), units in any_units()) {
        let mut wanted = vec![format!("depth {}", units.length(it.depth)), format!("embedment {}", units.length(it.embedment))];
        wanted.push(format!("{} {}", if it.round { "diameter" } else { "square" }, units.length(it.width)));
        if it.above_ground > 0.0 {
            wanted.push(format!("above ground {}", units.length(it.above_ground)));
        }
        if it.frost > 0.0 {
            wanted.push(format!("frost {}", units.length(it.frost)));
        }
        if it.pad > 0.0 {
            wanted.extend([it.pad, it.pad_t].map(|size| format!("pad {}", units.length(size))));
        }
        if it.bars > 0 {
            wanted.push(format!("{} bars {}", it.bars, units.size(it.bar_d)));
        }
        shows(&pier(&it, PAGE[0], PAGE[1], units), PAGE, &wanted)?;
    }

    #[test]
    fn any_free_body_shows_its_values(it in any_free_body(), units in any_units()) {
        let mut wanted = vec![format!("height {}", units.length(it.height))];
        wanted.extend([it.axial, it.base, it.top].map(|force| units.force(force.abs())));
        if it.brace > 0.0 {
            wanted.extend([format!("brace {}", units.length(it.brace)), units.force(it.brace_force.abs())]);
            wanted.push(units.moment(it.moment.abs()));
        }
        shows(&free_body(&it, BODY[0], BODY[1], units), BODY, &wanted)?;
    }
}

/// Every drawing of the example jobs can be read.
#[test]
fn drawings_of_the_jobs_are_readable() {
    let mut seen = 0;
    for job in crate::support::JOBS {
        let (package, _) = crate::jobs::package_of(job);
        let plain = package.shop.iter().chain(&package.field).flat_map(|sheet| sheet.drawings());
        for drawing in plain {
            assert_eq!(unreadable(drawing), None, "{job}: {}", drawing.alt);
            seen += 1;
        }
        let plan = package.plan.drawing.as_ref().expect("a key plan");
        assert_eq!(unreadable(plan), None, "{job}");
        assert_eq!(struck_out(plan), None, "{job}");
        let path = &package.load_path.as_ref().expect("a load path").drawing;
        assert_eq!(unreadable(path), None, "{job}");
        assert_eq!(struck_out(path), None, "{job}");
    }
    // The porch has rated bases on a floor, and none.
    assert!(seen > 20, "{seen} drawings");
}
