//! Worked values to shapes at true scale. Positions are laid out here, where
//! overlaps can be tested; the templates only stroke them.

mod figures;
mod plan;

pub use figures::{FIGURES, Figure, Input, Values};
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

impl Shape {
    /// Left, top, right and bottom of a text; none for what may be crossed.
    pub fn text_box(&self) -> Option<[f64; 4]> {
        let Shape::Text { at, anchor, size, text, .. } = self else { return None };
        let wide = text_width(text, *size);
        let left = match anchor.as_str() {
            "middle" => at[0] - wide / 2.0,
            "end" => at[0] - wide,
            _ => at[0],
        };
        Some([left, at[1] - size, left + wide, at[1] + 0.25 * size])
    }
}

/// About how wide a text comes out, rather more than less.
fn text_width(text: &str, size: f64) -> f64 {
    text.chars().count() as f64 * size * 0.56
}
