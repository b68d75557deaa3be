//! The sketch of a calculation sheet: the foot of the post on what its sheets put
//! it on, with what the combinations that govern bring to it.

use std::collections::BTreeSet;

use crate::drawing::{Acting, Drawing, Force, Sketch, SketchBase, SketchGround, sketch};
use crate::engine::{Combination, Made};
use crate::formula::Value;
use crate::job::Post;
use crate::quantity::Units;
use crate::sheet::{Step, Worked};

/// As many combinations as the sketch has room for.
const MOST: usize = 3;

/// The foot of a post in the combinations that govern it, each with its letter.
pub fn foot(units: Units, post: &Post, made: &Made, combinations: &[(String, &Combination)]) -> Drawing {
    let names = sheets(made);
    let has = |name: &str| names.contains(name);
    let base = match () {
        _ if has("sleeve-base") => SketchBase::Sleeve,
        _ if has("plate-connection") => SketchBase::SidePlates,
        _ if has("blade-connection") => SketchBase::Blade,
        _ => SketchBase::Rated,
    };
    let text = |column: &str| {
        post.entries.get("foundations").and_then(|entry| entry.facts.get(column)).map(|fact| fact.text.as_str())
    };
    let ground = match () {
        _ if has("wood-floor") => SketchGround::Floor,
        _ if !has("pier-foundation") => SketchGround::Pad,
        _ if text("pier_shape") == Some("square") => SketchGround::SquarePier,
        _ => SketchGround::RoundPier,
    };
    let acting = combinations.iter().take(MOST).map(|(letter, combination)| {
        let effect = combination.effect(&post.reactions);
        let force = |value: f64| Force { value, text: units.force_number(value) };
        let wind = |value: f64| Force { value, text: units.line_load_number(value) };
        Acting {
            letter: letter.clone(),
            combination: combination.name.clone(),
            p: force(effect.p),
            h: [force(effect.h_x), force(effect.h_y)],
            w: [wind(effect.w_x), wind(effect.w_y)],
            m: Default::default(),
        }
    });
    let positive = |name: &str| match made.bound.get(name).map(|bound| &bound.value) {
        Some(Value::Quantity(length)) if length.value > 0.0 => Some(length.value),
        _ => None,
    };
    let fixed = has("moment-base");
    let top = if fixed { "end grain" } else { "hinge" };
    let notes = positive("base.y_top").map(|height| format!("{top} {} above what it stands on", units.length(height)));
    sketch(&Sketch {
        base,
        ground,
        standoff: positive("standoff").is_some(),
        pad: ground != SketchGround::Floor && text("pad") == Some("yes"),
        hinge: !fixed,
        units: [units.force_unit().into(), units.line_load_unit().into(), String::new()],
        acting: acting.collect(),
        notes: notes.into_iter().collect(),
    })
}

/// The names of all sheets that a post is worked by.
fn sheets(made: &Made) -> BTreeSet<String> {
    fn walk(worked: &Worked, found: &mut BTreeSet<String>) {
        found.insert(worked.sheet.name.clone());
        for step in &worked.steps {
            if let Step::Use(inner) = step {
                walk(inner, found);
            }
        }
    }
    let mut found = BTreeSet::new();
    walk(made, &mut found);
    found
}
