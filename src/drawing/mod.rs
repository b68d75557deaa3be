//! Worked values to shapes at true scale. Positions are laid out here, where
//! overlaps can be tested; the templates only stroke them.

mod plan;

pub use plan::{PlanPost, feet_and_inches, plan};

use serde::Serialize;

/// A drawing in points, y downwards, with its alternative text.
#[derive(Clone, Debug, Serialize)]
pub struct Drawing {
    pub width: f64,
    pub height: f64,
    pub alt: String,
    /// e.g. `"1/8 in = 1 ft"`; empty for a sketch not to scale.
    pub scale: String,
    pub shapes: Vec<Shape>,
}

#[derive(Clone, Debug, Serialize)]
#[serde(tag = "shape", rename_all = "lowercase")]
pub enum Shape {
    /// `dash`: a construction or grid line.
    Line {
        from: [f64; 2],
        to: [f64; 2],
        weight: f64,
        dash: bool,
    },
    Rect {
        at: [f64; 2],
        size: [f64; 2],
        weight: f64,
        filled: bool,
    },
    Circle {
        at: [f64; 2],
        radius: f64,
        weight: f64,
        filled: bool,
    },
    Polygon {
        points: Vec<[f64; 2]>,
        weight: f64,
        filled: bool,
    },
    /// Text is data: never markup. `anchor` is `"start"`, `"middle"` or `"end"`,
    /// `at` is on the baseline.
    Text {
        at: [f64; 2],
        anchor: String,
        size: f64,
        bold: bool,
        text: String,
    },
}
