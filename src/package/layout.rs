//! How rows of numbers are set, by the widths that they come to: the templates
//! measure nothing.

use super::ledger::spans_text;
use super::model::{LimitRow, Math, Printed, Row, Side, Span};
use crate::typeset::{Face, text_width};

/// The body of a page and its type, in points, as in `look.typ`; the narrower paper.
const BODY: f64 = 376.0;
const TYPE: f64 = 8.3;
const MONO: f64 = 6.8;
/// Between two rows that stand side by side.
const GAP: f64 = 14.0;

/// A row of numbers under a formula.
pub fn row(tag: String, substituted: Option<Math>, value: Printed, at: Vec<String>) -> Row {
    let formula = substituted.as_ref().map_or(0.0, |math| math.width + 1.3);
    let words = text_width(&value.number, Face::Regular) + text_width(&value.unit, Face::Regular) + 1.4;
    let half = TYPE * (formula + words) + tagged(&tag) <= (BODY - GAP) / 2.0;
    Row { tag, substituted, value, half, at, changed: false }
}

fn tagged(tag: &str) -> f64 {
    if tag.is_empty() { 0.0 } else { MONO * text_width(tag, Face::Bold) + 5.0 }
}

/// Whether a limit with its two sides, its bar and its ratio is one line.
pub fn limit_is_short(say: &[Span], symbolic: &Math, row: &LimitRow) -> bool {
    let words = |text: &str| text_width(text, Face::Regular);
    let side = |side: &Side| {
        let numbers = side.substituted.as_ref().map_or(0.0, |math| math.width + 1.3);
        numbers + words(&side.value.number) + words(&side.value.unit) + 5.0
    };
    let bar = 46.0 + 80.0;
    let title = text_width(&spans_text(say), Face::Bold) + symbolic.width + 2.0;
    TYPE * (title + side(&row.demand) + side(&row.capacity)) + tagged(&row.tag) + bar <= BODY
}
