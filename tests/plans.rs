//! Key plan, load path and sketch of forces: nothing overlaps, whatever the job.

use std::sync::atomic::{AtomicUsize, Ordering};

use proptest::prelude::*;
use socle::drawing::*;
use socle::quantity::{Units, number_fixed};

use crate::drawings::{any_units, struck_out, svg, texts, unreadable};

/// Twenty random drawings, each read, and written out for eyes where
/// `SOCLE_DRAWINGS` names a folder.
fn can_be_read(name: &str, drawing: &Drawing) -> Result<(), TestCaseError> {
    static WRITTEN: AtomicUsize = AtomicUsize::new(0);
    if let Ok(folder) = std::env::var("SOCLE_DRAWINGS") {
        let no = WRITTEN.fetch_add(1, Ordering::Relaxed) % 20;
        std::fs::write(format!("{folder}/{name}-{no}.svg"), svg(drawing)).expect("written");
    }
    prop_assert_eq!(unreadable(drawing), None);
    prop_assert_eq!(struck_out(drawing), None);
    Ok(())
}

fn any_push() -> impl Strategy<Value = Force> {
    prop_oneof![Just(0.0), -99999.0f64..99999.0, -999.0f64..999.0]
        .prop_map(|value| Force { value, text: number_fixed(value, 0) })
}

prop_compose! {
    fn any_acting()(
        p in any_push(),
        h in [any_push(), any_push()],
        w in prop_oneof![Just([Force::default(), Force::default()]), [any_push(), any_push()]],
        m in prop_oneof![Just([Force::default(), Force::default()]), [any_push(), any_push()]],
        combination in prop_oneof![Just("0.6D + 0.6W3"), Just("D + 0.75L + 0.75(0.6W_up) + 0.75S"),
            Just("(1 + 0.105S_DS)D + 0.525ρQ_E_x + 0.75L + 0.75S")],
    ) -> Acting {
        let text = |force: Force| if force.text.is_empty() { Force { value: 0.0, text: "0".into() } } else { force };
        Acting { combination: combination.into(), p, h, w: w.map(text), m: m.map(text) }
    }
}

prop_compose! {
    fn any_sketch()(
        base in prop_oneof![Just(SketchBase::Blade), Just(SketchBase::SidePlates), Just(SketchBase::Sleeve), Just(SketchBase::Rated)],
        ground in prop_oneof![Just(SketchGround::RoundPier), Just(SketchGround::SquarePier), Just(SketchGround::Pad), Just(SketchGround::Floor)],
        (standoff, pad, hinge, metric) in any::<(bool, bool, bool, bool)>(),
        acting in proptest::collection::vec(any_acting(), 1..=3),
    ) -> Sketch {
        let units = if metric { ["kN", "kN/m", "kN m"] } else { ["lbf", "lbf/ft", "lbf ft"] };
        let notes = vec!["hinge 5 1/4″ above the concrete".into(), "standoff 2″".into(), "knife 8 on pier 16".into()];
        Sketch { base, ground, standoff, pad, hinge, units: units.map(String::from), acting, notes }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn a_sketch_of_forces_has_its_values_and_no_overlaps(it in any_sketch()) {
        let drawing = sketch(&it);
        can_be_read("sketch", &drawing)?;
        prop_assert!(drawing.width <= 275.0 && drawing.height <= 215.0, "{} × {}", drawing.width, drawing.height);
        let texts = texts(&drawing);
        for acting in &it.acting {
            for force in [&acting.p, &acting.h[0], &acting.h[1]] {
                prop_assert!(texts.contains(&force.text.as_str()), "no {} in {:?}", force.text, texts);
            }
        }
    }
}

/// An arrow for each way a force goes: the letters say in which combination.
#[test]
fn the_arrows_of_a_sketch_follow_the_signs() {
    let force = |value: f64| Force { value, text: number_fixed(value, 0) };
    let acting = |p, h_x| {
        let combination = "D + S".into();
        Acting { combination, p: force(p), h: [force(h_x), force(0.0)], ..Acting::default() }
    };
    let it = |acting| Sketch {
        base: SketchBase::Blade,
        ground: SketchGround::RoundPier,
        standoff: true,
        pad: false,
        hinge: true,
        units: ["lbf", "lbf/ft", "lbf ft"].map(String::from),
        acting,
        notes: vec![],
    };
    let heads = |drawing: &Drawing| {
        let tip = |shape: &Shape| match shape {
            Shape::Polygon { points, .. } => Some(points[0]),
            _ => None,
        };
        drawing.shapes.iter().filter_map(tip).collect::<Vec<_>>()
    };
    // Two of the axes; P down, H_x to the right.
    let one = sketch(&it(vec![acting(100.0, 20.0)]));
    assert_eq!(heads(&one).len(), 4);
    // P up in the second, H_x to the left in it, and none in the third.
    let three = sketch(&it(vec![acting(100.0, 20.0), acting(-50.0, -20.0), acting(100.0, 0.0)]));
    assert_eq!(heads(&three).len(), 6);
    let texts = texts(&three);
    let named = |letters: &str| texts.iter().filter(|text| **text == letters).count();
    // P down in a and c; P up and H_x to the left in b, over its column and its name.
    assert_eq!([named("a, c"), named("a"), named("b")], [1, 3, 4], "{texts:?}");
    assert!(three.alt.contains("P −50 lbf, H_x −20 lbf"), "{}", three.alt);
}

prop_compose! {
    /// Up to forty posts on a grid or off it, with all that a plan may show.
    fn any_plan()(
        places in proptest::collection::btree_set((0u8..10, 0u8..6), 1..=40),
        (bay, off, units) in ([3.0f64..16.0, 3.0f64..16.0], proptest::collection::vec((0u8..6, 0.1f64..2.0), 40), any_units()),
        ok in proptest::collection::vec(any::<bool>(), 40),
        (levels, blades) in (any::<bool>(), any::<bool>()),
        roof in proptest::option::of((0usize..2, 0.2f64..0.8, 0u8..4, 0.0f64..4.0)),
        north in proptest::option::of(-180.0f64..180.0),
        winds in proptest::collection::vec(0u8..6, 4),
    ) -> (Plan, Units) {
        let posts: Vec<PlanPost> = places.iter().enumerate().map(|(at, (x, y))| {
            let aside = if off[at].0 == 0 { off[at].1 } else { 0.0 };
            let mut notes = vec![format!("{}{} 0.{:03} {}", ["a", "b", "aa"][at % 3], at % 4, 17 * at + 100, if ok[at] { "met" } else { "not met" })];
            if levels {
                notes.push(format!("level {}", units.level(-1.0 - f64::from(*x) / 3.0)));
            }
            PlanPost {
                mark: format!("{}{}", (b'A' + y) as char, x + 1),
                at: [f64::from(*x) * bay[0] + aside, f64::from(*y) * bay[1]],
                size: [0.625, 0.458],
                ok: ok[at],
                area: None,
                blade: blades.then_some(at % 2),
                notes,
            }
        }).collect();
        let span = |axis: usize| {
            let values = posts.iter().map(|post| post.at[axis]);
            (values.clone().fold(f64::INFINITY, f64::min), values.fold(f64::NEG_INFINITY, f64::max))
        };
        let roof = roof.map(|(axis, part, kind, overhang)| {
            let ((x_1, x_2), (y_1, y_2)) = (span(0), span(1));
            let outline = [x_1 - overhang, x_2 + overhang, y_1 - overhang, y_2 + overhang];
            let across = 2 - 2 * axis;
            let at = outline[across] + part * (outline[across + 1] - outline[across]);
            PlanRoof {
                outline,
                ridge: (kind < 2).then_some((axis, at, if kind == 0 { "ridge" } else { "valley" })),
                rises: (kind == 2).then_some((1 - axis, part > 0.5)),
            }
        });
        let winds = [0, 1, 2, 3].map(|way: usize| (0..winds[way]).map(|no| format!("W{}", 6 * way + usize::from(no))).collect());
        (Plan { posts, roof, north, winds }, units)
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(20))]

    #[test]
    fn labels_of_a_key_plan_do_not_overlap((it, units) in any_plan()) {
        let Planned { drawing, bare } = plan(&it, 524.0, 500.0, units);
        can_be_read("plan", &drawing)?;
        prop_assert!(drawing.width <= 524.0 && drawing.height <= 500.0, "{} × {}", drawing.width, drawing.height);
        let texts = texts(&drawing);
        for post in &it.posts {
            prop_assert!(texts.contains(&post.mark.as_str()), "no {}", post.mark);
            for note in post.notes.iter().filter(|_| !bare) {
                prop_assert!(texts.contains(&note.as_str()), "no {note}");
            }
        }
        let all = texts.join(" ");
        for name in it.winds.iter().flatten() {
            prop_assert!(all.contains(name.as_str()), "no {name}");
        }
        prop_assert!(texts.contains(&"x") && texts.contains(&"y"));
        prop_assert_eq!(texts.contains(&"N"), it.north.is_some());
        // Every distance between neighbouring grid lines.
        for axis in 0..2 {
            let mut lines: Vec<f64> = it.posts.iter().map(|post| post.at[axis]).collect();
            lines.sort_by(f64::total_cmp);
            lines.dedup_by(|a, b| (*a - *b).abs() < 0.02);
            for pair in lines.windows(2) {
                let text = units.run(pair[1] - pair[0]);
                prop_assert!(texts.contains(&text.as_str()), "no {text}");
            }
        }
    }
}
