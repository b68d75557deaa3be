//! Drawings: what is on them can be read, and is what was given.

use proptest::prelude::*;
use socle::drawing::*;

/// Two texts that touch, a text that leaves the paper, or one too small to be
/// read on a half-size copy.
fn unreadable(drawing: &Drawing) -> Option<String> {
    let texts: Vec<(&Shape, [f64; 4])> =
        drawing.shapes.iter().filter_map(|shape| Some((shape, shape.text_box()?))).collect();
    for (at, (shape, a)) in texts.iter().enumerate() {
        if a[0] < 0.0 || a[1] < 0.0 || a[2] > drawing.width || a[3] > drawing.height {
            return Some(format!("{shape:?} outside {} × {}", drawing.width, drawing.height));
        }
        if !matches!(shape, Shape::Text { size, .. } if *size >= 7.0) {
            return Some(format!("{shape:?} is too small"));
        }
        for (other, b) in &texts[at + 1..] {
            if a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3] {
                return Some(format!("{shape:?} over {other:?}"));
            }
        }
    }
    None
}

fn texts(drawing: &Drawing) -> Vec<&str> {
    let text = |shape| if let &Shape::Text { ref text, .. } = shape { Some(text.as_str()) } else { None };
    drawing.shapes.iter().filter_map(text).collect()
}

const BODY: [f64; 2] = [394.0, 360.0];
const PAGE: [f64; 2] = [524.0, 560.0];

/// Like `knife 8`, `knife 6` and `strap 8` of the example jobs.
fn feet() -> [PostFoot; 3] {
    let knife_8 = PostFoot {
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
        },
        n: 2,
        rows: 1,
        end: 4.0,
        spacing: 2.5,
        row_spacing: 0.0,
        seat_b: 6.0,
        seat_d: 6.0,
        seat_t: 0.5,
        standoff: 2.0,
        foot_b: 6.0,
        foot_d: 6.0,
        foot_t: 0.5,
        leg: 2.375,
        leg_t: 2.375,
        anchor_b: 2.0,
        anchor_d: 2.0,
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
        },
        n: 1,
        end: 3.5,
        spacing: 0.0,
        seat_b: 4.5,
        seat_d: 4.5,
        seat_t: 0.375,
        leg: 1.9,
        leg_t: 1.9,
        ..knife_8.clone()
    };
    let strap_8 = PostFoot {
        fixing: Fixing::Plates { plate_t: 0.375, plate_w: 4.0, plate_h: 8.0, screw_d: 0.5, screw_length: 4.0 },
        seat_b: 7.5,
        seat_d: 7.5,
        seat_t: 0.625,
        standoff: 2.5,
        foot_b: 8.0,
        foot_d: 8.0,
        foot_t: 0.625,
        leg: 3.5,
        leg_t: 3.5,
        anchor_b: 2.75,
        anchor_d: 2.75,
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
        all.push((format!("post-foot-{at}"), post_foot(foot, PAGE[0], PAGE[1])));
        all.push((format!("post-foot-body-{at}"), post_foot(foot, 394.0, 400.0)));
    }
    let four = PostFoot { rows: 2, row_spacing: 2.5, n: 2, ..feet()[0].clone() };
    all.push(("post-foot-four".into(), post_foot(&four, PAGE[0], PAGE[1])));
    let [w, h] = BODY;
    for (at, cut) in kerfs().iter().enumerate() {
        all.push((format!("kerf-{at}"), kerf(cut, w, h)));
    }
    for (at, group) in pin_groups().iter().enumerate() {
        all.push((format!("pin-group-{at}"), pin_group(group, w, h)));
    }
    for (at, plan) in anchor_plans().iter().enumerate() {
        all.push((format!("anchor-plan-{at}"), anchor_plan(plan, w, h)));
    }
    for (at, it) in piers().iter().enumerate() {
        all.push((format!("pier-{at}"), pier(it, PAGE[0], PAGE[1])));
        all.push((format!("pier-body-{at}"), pier(it, w, h)));
    }
    for (at, body) in free_bodies().iter().enumerate() {
        all.push((format!("free-body-{at}"), free_body(body, w, h)));
    }
    all
}

#[test]
fn drawings_made_by_hand_can_be_read() {
    for (name, drawing) in samples() {
        assert_eq!(unreadable(&drawing), None, "{name}");
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

fn svg(drawing: &Drawing) -> String {
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

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]
    #[test]
    fn labels_of_a_key_plan_do_not_overlap(
        places in proptest::collection::btree_set((0u8..8, 0u8..6), 1..20),
        bay in 3.0f64..16.0,
        ok in proptest::collection::vec(any::<bool>(), 20),
    ) {
        let posts: Vec<PlanPost> = places.iter().enumerate().map(|(at, (x, y))| PlanPost {
            mark: format!("{}{}", (b'A' + y) as char, x + 1),
            at: [f64::from(*x) * bay, f64::from(*y) * bay],
            size: [0.625, 0.625],
            ok: ok[at],
            area: None,
            note: format!("0.{:03} {}", 17 * at + 100, if ok[at] { "met" } else { "not met" }),
        }).collect();
        let drawing = plan(&posts, 500.0, 560.0);
        prop_assert!(drawing.width <= 500.0 && drawing.height <= 560.0);
        let marks = drawing.shapes.iter().filter(|shape| matches!(shape, Shape::Text { bold: true, .. })).count();
        prop_assert_eq!(marks, posts.len());
        prop_assert_eq!(unreadable(&drawing), None);
    }
}
