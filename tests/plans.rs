//! Key plan, load path and sketch of forces: nothing overlaps, whatever the job.

use std::sync::atomic::{AtomicUsize, Ordering};

use proptest::prelude::*;
use socle::drawing::*;
use socle::quantity::Units;

use crate::drawings::{struck_out, svg, texts, unreadable};

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
        .prop_map(|value| Force { value, text: Units::Imperial.force_number(value) })
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
        Acting { letter: String::new(), combination: combination.into(), p, h, w: w.map(text), m: m.map(text) }
    }
}

prop_compose! {
    fn any_sketch()(
        base in prop_oneof![Just(SketchBase::Blade), Just(SketchBase::SidePlates), Just(SketchBase::Sleeve), Just(SketchBase::Rated)],
        ground in prop_oneof![Just(SketchGround::RoundPier), Just(SketchGround::SquarePier), Just(SketchGround::Pad), Just(SketchGround::Floor)],
        (standoff, pad, hinge, metric) in any::<(bool, bool, bool, bool)>(),
        acting in proptest::collection::vec(any_acting(), 1..=3),
        letters in prop_oneof![Just(["a", "b", "c"]), Just(["k", "aa", "3"])],
    ) -> Sketch {
        let named = |(acting, letter): (Acting, &str)| Acting { letter: letter.into(), ..acting };
        let acting = acting.into_iter().zip(letters).map(named).collect();
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
    let force = |value: f64| Force { value, text: Units::Imperial.force_number(value) };
    let acting = |letter: &str, p, h_x| {
        let (letter, combination) = (letter.into(), "D + S".into());
        Acting { letter, combination, p: force(p), h: [force(h_x), force(0.0)], ..Acting::default() }
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
    let one = sketch(&it(vec![acting("a", 100.0, 20.0)]));
    assert_eq!(heads(&one).len(), 4);
    // P up in the second, H_x to the left in it, and none in the third.
    let three = sketch(&it(vec![acting("a", 100.0, 20.0), acting("b", -50.0, -20.0), acting("c", 100.0, 0.0)]));
    assert_eq!(heads(&three).len(), 6);
    let texts = texts(&three);
    let named = |letters: &str| texts.iter().filter(|text| **text == letters).count();
    // P down in a and c; P up and H_x to the left in b, over its column and its name.
    assert_eq!([named("a, c"), named("a"), named("b")], [1, 2, 3], "{texts:?}");
    assert!(three.alt.contains("P −50 lbf, H_x −20 lbf"), "{}", three.alt);
}
