//! The roof in section, and what its winds do to it.

use super::model::{RoofPage, RoofRow};
use super::plan::MARGINS;
use crate::drawing::{RoofSection, RoofShape, roof_section};
use crate::engine::RoofOver;
use crate::job::Job;

const HIGH: f64 = 150.0;
const AXES: [&str; 2] = ["x", "y"];

/// None for an open top of slats, on which no wind has a figure.
pub(super) fn roof_page(job: &Job, roof: &RoofOver) -> Option<RoofPage> {
    let shape = match (roof.shape.as_str(), roof.high_plus) {
        ("pitched", _) => RoofShape::Pitched,
        ("troughed", _) => RoofShape::Troughed,
        ("monoslope", true) => RoofShape::HighRight,
        ("monoslope", false) => RoofShape::HighLeft,
        _ => return None,
    };
    let across = 1 - roof.ridge;
    let [from, to] = [roof.outline[2 * across], roof.outline[2 * across + 1]];
    let inches = |feet: f64| 12.0 * (feet - from);
    let mut posts: Vec<f64> = job.posts.iter().map(|post| inches(post.at[across])).collect();
    posts.sort_by(f64::total_cmp);
    posts.dedup_by(|a, b| (*a - *b).abs() < 12.0);
    let names = |along: bool| {
        [true, false].map(|plus| {
            let winds = roof.winds.iter().filter(|wind| wind.along == along && wind.plus == plus);
            winds.map(|wind| wind.case.clone()).collect()
        })
    };
    let it = RoofSection {
        shape,
        slope: roof.slope,
        span: inches(to),
        mean_height: 12.0 * roof.mean_height,
        ridge: inches(roof.ridge_at),
        posts,
        axes: [AXES[across], AXES[roof.ridge]],
        across: names(false),
        along: names(true),
    };
    let rows = roof.winds.iter().map(|wind| {
        let axis = AXES[if wind.along { roof.ridge } else { across }];
        let sign = if wind.plus { "+" } else { "−" };
        let how = if wind.along { "along" } else { "across" };
        let pressures = wind.halves.map(|[least, most]| {
            let [least, most] = [least, most].map(|pressure| job.units.pressure(pressure));
            if least == most { most } else { format!("{least} to {most}") }
        });
        RoofRow { case: wind.case.clone(), toward: format!("{sign}{axis}, {how} the ridge"), pressures, changed: false }
    });
    let halves = ["−", "+"].map(|sign| format!("Half toward {sign}{}", AXES[across]));
    Some(RoofPage {
        drawing: roof_section(&it, job.units.paper().1 - MARGINS, HIGH, job.units),
        halves,
        rows: rows.collect(),
        changed: false,
    })
}
