//! Worked values to shapes at true scale. Positions are laid out here, where
//! overlaps can be tested; the templates only stroke them.

mod anchor_plan;
mod bar_ring;
mod base_plan;
mod dimension;
mod dxf;
mod export;
mod figures;
mod fit;
mod floor_foot;
mod foundation;
mod free_body;
mod geometry;
mod hatch;
mod kerf;
mod load_path;
mod measure;
mod outline;
mod pier;
mod pin_group;
mod plan;
mod post_end;
mod post_foot;
mod rated_foot;
mod roof;
mod roof_section;
mod rows;
mod sketch;
mod steel_base;
mod svg;
mod template;
mod view;

pub use anchor_plan::{AnchorPlan, anchor_plan};
pub use bar_ring::{BarRing, bar_ring};
pub use base_plan::{BasePlan, base_plan};
pub use dxf::dxf;
pub use export::Caption;
pub use figures::{FIGURES, Figure, Input, Values, across, figure};
pub use floor_foot::{FloorFoot, floor_foot};
pub use foundation::{Foundation, foundation};
pub use free_body::{FreeBody, free_body};
pub use kerf::{Kerf, Passes};
pub use load_path::{Above, Bay, Holds, LoadPath, load_path};
pub use measure::degrees;
pub use pier::{Pier, pier};
pub use pin_group::{PinGroup, pin_group};
pub use plan::{Plan, PlanPost, PlanRoof, Planned, plan};
pub use post_end::{Opening, PostEnd, post_end};
pub use post_foot::{Fixing, PostFoot, post_foot};
pub use rated_foot::{RatedFoot, rated_foot};
pub use roof::{RoofShape, RoofWind, roof_wind};
pub use roof_section::{RoofSection, roof_section};
pub use sketch::{Acting, Force, Sketch, SketchBase, SketchGround, sketch};
pub use steel_base::{Holder, Leg, SteelBase, steel_base};
pub use svg::svg;
pub use template::{Blade, Template, template};

use serde::Serialize;

/// A drawing in points, y downwards, with its alternative text.
#[derive(Clone, Debug, Serialize)]
pub struct Drawing {
    pub width: f64,
    pub height: f64,
    pub alt: String,
    /// e.g. `"1/8 in = 1 ft"`; empty for a sketch not to scale.
    pub scale: String,
    /// Points of paper to an inch of the thing; zero for a sketch not to scale.
    #[serde(skip)]
    pub points: f64,
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
        let Shape::Text { at, anchor, size, bold, text } = self else { return None };
        let wide = text_width(text, *size, *bold);
        let left = match anchor.as_str() {
            "middle" => at[0] - wide / 2.0,
            "end" => at[0] - wide,
            _ => at[0],
        };
        Some([left, at[1] - size, left + wide, at[1] + 0.25 * size])
    }
}

/// How wide a text comes out in the package's serif face, rather more than less.
fn text_width(text: &str, size: f64, bold: bool) -> f64 {
    let em = |letter: char| match letter {
        ' ' | '.' | ',' | ':' | ';' | '′' | '|' | '(' | ')' | 'i' | 'j' | 'l' => 0.33,
        '″' | '/' | '-' | 'f' | 'r' | 's' | 't' => 0.4,
        '0'..='9' | 'a' | 'c' | 'e' | 'z' => 0.48,
        'm' | 'w' | 'A'..='L' | 'N'..='V' | 'X'..='Z' => 0.78,
        'M' | 'W' => 1.0,
        'b'..='y' | '+' | '=' | '±' | '×' | '−' | '–' | '°' => 0.58,
        _ => 1.0,
    };
    text.chars().map(em).sum::<f64>() * size * if bold { 1.13 } else { 1.0 }
}

fn text_at(at: [f64; 2], anchor: &str, size: f64, bold: bool, text: String) -> Shape {
    Shape::Text { at, anchor: anchor.into(), size, bold, text }
}

/// Whether two boxes, each left, top, right, bottom, leave each other alone.
fn apart(a: &[f64; 4], b: &[f64; 4]) -> bool {
    a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1]
}
