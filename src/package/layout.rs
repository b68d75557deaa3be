//! How rows of numbers are set, by the widths that they come to: the templates
//! measure nothing.

use super::model::{Math, Printed, Row};
use crate::typeset::{Face, formula_width, text_width};

/// The body of a page and its type, in points, as in `look.typ`; the narrower paper.
const BODY: f64 = 376.0;
const TYPE: f64 = 9.0;
const MONO: f64 = 6.8;
/// Between two rows that stand side by side.
const GAP: f64 = 14.0;

/// A row of numbers under a formula.
pub fn row(tag: String, substituted: Option<Math>, value: Printed, at: Vec<String>) -> Row {
    let formula = substituted.as_ref().map_or(0.0, |math| formula_width(&math.src).whole + 1.3);
    let words = text_width(&value.number, Face::Regular) + text_width(&value.unit, Face::Regular) + 1.4;
    // The letters of tags stand in a face in which all are equally wide.
    let tagged = if tag.is_empty() { 0.0 } else { 0.61 * MONO * tag.chars().count() as f64 + 5.0 };
    let half = TYPE * (formula + words) + tagged <= (BODY - GAP) / 2.0;
    Row { tag, substituted, value, half, at, changed: false }
}
