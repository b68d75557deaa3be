//! Drawings: what is on them can be read.

use proptest::prelude::*;
use socle::drawing::{PlanPost, Shape, plan};

fn overlapping(shapes: &[Shape]) -> Option<String> {
    let texts: Vec<(&Shape, [f64; 4])> = shapes.iter().filter_map(|shape| Some((shape, shape.text_box()?))).collect();
    for (at, (shape, a)) in texts.iter().enumerate() {
        for (other, b) in &texts[at + 1..] {
            // A mark and the note under it touch.
            let slack = 0.3 * 9.0;
            let apart = a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] + slack || b[3] <= a[1] + slack;
            if !apart {
                return Some(format!("{shape:?} over {other:?}"));
            }
        }
    }
    None
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
        if let Some(pair) = overlapping(&drawing.shapes) {
            prop_assert!(false, "{}", pair);
        }
    }
}
