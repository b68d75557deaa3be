//! Key plan, load path and sketch of forces: nothing overlaps, whatever the job.

use std::sync::atomic::{AtomicUsize, Ordering};

use proptest::prelude::*;
use socle::drawing::*;
use socle::quantity::Units;

use crate::drawings::{any_units, struck_out, svg, texts, unreadable};
use crate::jobs::{package_in, package_of};
use crate::support::{Job, cases};
use crate::wind::{pressure, roofed};

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
    #![proptest_config(cases(200))]

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
    #![proptest_config(cases(60))]

    #[test]
    fn labels_of_a_key_plan_do_not_overlap((it, units) in any_plan()) {
        let Planned { drawing, bare, unmarked } = plan(&it, 524.0, 500.0, units);
        can_be_read("plan", &drawing)?;
        prop_assert!(drawing.width <= 524.0 && drawing.height <= 500.0, "{} × {}", drawing.width, drawing.height);
        let texts = texts(&drawing);
        // Each mark, or it is counted among those without room.
        let missing = it.posts.iter().filter(|post| !texts.contains(&post.mark.as_str())).count();
        prop_assert_eq!(missing, unmarked);
        prop_assert!(unmarked == 0 || bare && 4 * unmarked <= it.posts.len(), "{} of {}", unmarked, it.posts.len());
        for post in &it.posts {
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
                // Alike ones stand as one where posts are dots.
                let several = format!(" × {text}");
                let said = texts.iter().any(|it| *it == text || bare && it.ends_with(&several));
                prop_assert!(said, "no {text}");
            }
        }
    }
}

prop_compose! {
    fn any_roof()(
        shape in prop_oneof![Just(RoofShape::Pitched), Just(RoofShape::Troughed), Just(RoofShape::HighRight), Just(RoofShape::HighLeft)],
        (slope, span, mean_height, part) in (0.0f64..30.0, 8.0f64..40.0, 8.0f64..24.0, 0.2f64..0.8),
        posts in proptest::collection::vec(0.05f64..0.95, 1..5),
        (axis, units) in (any::<bool>(), any_units()),
        winds in proptest::collection::vec(0u8..4, 4),
    ) -> (RoofSection, Units) {
        let span = 12.0 * span;
        let names = |way: usize| (0..winds[way]).map(|no| format!("W{}", 4 * way + usize::from(no))).collect::<Vec<_>>();
        // A roof stands above the ground.
        let mean_height = 12.0 * mean_height + if slope > 20.0 { span / 4.0 } else { 0.0 };
        let it = RoofSection {
            shape, slope, span, mean_height,
            ridge: part * span,
            posts: posts.iter().map(|post| post * span).collect(),
            axes: if axis { ["x", "y"] } else { ["y", "x"] },
            across: [names(0), names(1)],
            along: [names(2), names(3)],
        };
        (it, units)
    }
}

prop_compose! {
    fn any_load_path()(
        (roof, floor, pad) in any::<(bool, bool, bool)>(),
        bays in proptest::collection::vec((0usize..6, 0usize..5), 2),
    ) -> LoadPath {
        let holds = [Holds::Braces, Holds::Walls, Holds::Frame, Holds::Cantilever, Holds::Nothing, Holds::Other];
        let above = [Above::Gable, Above::Valley, Above::Level, Above::Right, Above::Left];
        let bays = bays.iter().zip(["x", "y"]).map(|((own, over), axis)| Bay {
            title: format!("Along {axis}: cantilevered posts, knee braces"),
            holds: holds[*own],
            above: above[*over],
        });
        LoadPath { roof, floor, pad, bays: bays.collect() }
    }
}

proptest! {
    #![proptest_config(cases(40))]

    #[test]
    fn a_section_of_a_roof_names_its_winds((it, units) in any_roof()) {
        let drawing = roof_section(&it, 507.0, 150.0, units);
        can_be_read("roof", &drawing)?;
        prop_assert!(drawing.width <= 507.0 && drawing.height <= 150.0, "{} × {}", drawing.width, drawing.height);
        let texts = texts(&drawing);
        for names in it.across.iter().chain(&it.along).filter(|names| !names.is_empty()) {
            prop_assert!(texts.contains(&names.join(", ").as_str()), "no {names:?} in {texts:?}");
        }
    }

    #[test]
    fn a_load_path_can_be_read(it in any_load_path()) {
        let drawing = load_path(&it);
        can_be_read("path", &drawing)?;
        prop_assert!(drawing.width <= 507.0 && drawing.height <= 200.0, "{} × {}", drawing.width, drawing.height);
    }
}

/// 35 ft by 15 ft, 22.5 degrees, clear flow: 1.1 and 0.1 on the windward and leeward half in case A, -0.1 and -0.8 in
/// case B (ASCE 7-16 Fig. 27.3-5), times q_h and G of 0.85.
#[test]
fn the_winds_on_a_roof_are_named_and_valued() {
    let (package, _) = package_in(&roofed("pitched", true).path());
    let roof = package.roof.expect("a roof");
    let psf = |coefficient: f64| format!("{:.1} psf", pressure() * 0.85 * coefficient).replace('-', "−");
    let row = |case: &str| roof.rows.iter().find(|row| row.case == case).unwrap_or_else(|| panic!("{case}"));
    assert_eq!(roof.halves, ["Half toward −y", "Half toward +y"]);
    assert_eq!(row("W1").toward, "+y, across the ridge");
    assert_eq!(row("W1").pressures, [psf(1.1), psf(0.1)]);
    assert_eq!(row("W2").pressures, [psf(-0.1), psf(-0.8)]);
    assert_eq!(row("W3").toward, "−y, across the ridge");
    assert_eq!(row("W3").pressures, [psf(0.1), psf(1.1)]);
    assert_eq!(row("W8").toward, "−x, along the ridge");
    // Along the ridge the pressure falls off from the windward edge: -0.8 within one height, then -0.6 or -0.3.
    assert!(
        row("W5").pressures[0].starts_with(&psf(-0.8)) && row("W5").pressures[0].contains(" to "),
        "{:?}",
        row("W5")
    );
    // The ridge, and the ways of all winds, stand on the plan too.
    let plan = package.plan.drawing.expect("a key plan");
    let texts = texts(&plan);
    for text in ["ridge", "W1, W2", "W3, W4", "W5, W6", "W7, W8"] {
        assert!(texts.contains(&text), "{text} is not in {texts:?}");
    }
    // Slats have no such figure.
    assert!(package_of("orchard-pergola").0.roof.is_none());
}

/// Winds that are given push the way that their shears do, reversed ones the other way.
#[test]
fn winds_that_are_given_have_a_way() {
    let (package, _) = package_of("creek-porch");
    let plan = package.plan.drawing.expect("a key plan");
    assert!(plan.alt.contains("Wind toward +x: W. Wind toward −x: −W."), "{}", plan.alt);
    assert!(package.plan.notes.iter().any(|note| note.contains("reversed")));
    let barn = package_of("cart-barn").0.plan.drawing.expect("a key plan");
    assert!(barn.alt.contains("toward +x: W1") && barn.alt.contains("toward +y: W2"), "{}", barn.alt);
}

#[test]
fn north_is_drawn_where_the_job_says_it() {
    let job = Job::copy("creek-porch");
    let north = |job: &Job| {
        let plan = package_in(&job.path()).0.plan.drawing.expect("a key plan");
        (texts(&plan).contains(&"N"), plan.alt)
    };
    job.edit("job.toml", "north = \"0 deg\"", "north = \"-35 deg\"");
    let (drawn, alt) = north(&job);
    assert!(drawn && alt.contains("North is -35 degrees clockwise from +y"), "{alt}");
    job.edit("job.toml", "north = \"-35 deg\"\n", "");
    assert!(!north(&job).0);
    // It changes no ratio and opens nothing.
    job.edit("job.toml", "[site]\n", "[site]\nnorth = \"up\"\n");
    assert!(job.diagnostic().contains("north"), "{}", job.diagnostic());
}

/// What holds the tops along each axis, what the posts stand on, and what is handed to others.
#[test]
fn the_load_path_is_that_of_the_job() {
    let of = |job: &Job| package_in(&job.path()).0;
    let held = |package: &socle::package::Package| -> Vec<(String, String, String)> {
        let path = package.load_path.as_ref().expect("a load path");
        path.sideways.iter().map(|row| (row.axis.clone(), row.marks.clone(), row.by.clone())).collect()
    };
    let row = |axis: &str, marks: &str, by: &str| (axis.to_string(), marks.to_string(), by.to_string());
    let barn = Job::copy("cart-barn");
    let package = of(&barn);
    assert_eq!(held(&package), [row("x", "all", "knee braces"), row("y", "all", "shear walls")]);
    let path = package.load_path.as_ref().expect("a load path");
    assert!(path.down[3].contains("A2, A3 strap 8: down by the end grain"), "{:?}", path.down);
    assert!(path.down[3].contains("D2 side plate 8, one anchor: down, up and sideways within the values"));
    assert!(path.down[5].contains("block 38: down by the soil under it"), "{:?}", path.down);
    let pergola = of(&Job::copy("orchard-pergola"));
    assert_eq!(held(&pergola), [row("x and y", "all", "knee braces")]);
    let down = &pergola.load_path.as_ref().expect("a load path").down;
    assert!(down[0].contains("slats") && down[1].starts_with("Beams along x carry it"), "{down:?}");
    let porch = Job::copy("creek-porch");
    let down = &of(&porch).load_path.expect("a load path").down;
    assert!(down[4].contains("screws into the floor") && down[5].contains("designed by others"), "{down:?}");
    // A post that differs stands by itself; nothing at the top of a hinge is said to be nothing.
    porch.edit("job.toml", "brace_x = \"other\"", "brace_x = \"none\"");
    assert_eq!(held(&of(&porch))[0], row("x", "all", "nothing"));
}

/// Posts that stand too close for their marks are dots that can be told apart. A mark stands only
/// where there is room beside its post; the others are counted. Distances that are the same are one.
#[test]
fn a_plan_of_a_thousand_posts_can_be_read() {
    let post = |no: usize| PlanPost {
        mark: format!("P{}", no + 1),
        at: [8.0 * (no % 40) as f64, 8.0 * (no / 40) as f64],
        size: [0.5, 0.5],
        ok: no != 502,
        blade: Some(0),
        area: Some([0.0, 8.0, 0.0, 8.0]),
        notes: vec!["a1 0.904 met".into()],
    };
    let it = Plan { posts: (0..1000).map(post).collect(), ..Plan::default() };
    for units in [Units::Imperial, Units::Metric] {
        let Planned { drawing, bare, unmarked } = plan(&it, 507.0, 500.0, units);
        assert!(bare && drawing.width <= 507.0 && drawing.height <= 500.0);
        assert_eq!(unreadable(&drawing), None);
        assert_eq!(struck_out(&drawing), None);
        let dots = drawing.shapes.iter().filter_map(|shape| match shape {
            Shape::Rect { at, size, weight, filled } => Some((*at, size.map(|side| side + weight), *filled)),
            _ => None,
        });
        let dots: Vec<_> = dots.collect();
        assert_eq!(dots.iter().filter(|(.., filled)| *filled).count(), 999);
        for (at, (a, size, _)) in dots.iter().enumerate() {
            let touch = |(b, ..): &&(Point2, Point2, bool)| {
                [0, 1].iter().all(|axis| (a[*axis] - b[*axis]).abs() < size[*axis] + 0.5)
            };
            assert_eq!(dots[at + 1..].iter().find(touch), None, "a smear");
        }
        let texts = texts(&drawing);
        let marks: Vec<&&str> = texts.iter().filter(|text| text.starts_with('P')).collect();
        assert_eq!(marks.len() + unmarked, 1000);
        assert!(["P1", "P40", "P961", "P1000"].iter().all(|corner| marks.contains(&corner)), "{marks:?}");
        assert!(marks.len() >= 20, "{marks:?}");
        assert!(["39 × ", "24 × "].iter().all(|spans| texts.iter().any(|text| text.starts_with(spans))), "{texts:?}");
    }
}

type Point2 = [f64; 2];
