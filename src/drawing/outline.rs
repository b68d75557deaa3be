//! The outline of concrete from above, as it is drawn and said.

use super::geometry::Point;
use super::view::{HEAVY, View};
use crate::quantity::Units;

/// In inches.
#[derive(Clone, Copy)]
pub(super) enum Outline {
    /// So wide.
    Round(f64),
    /// Along x and y.
    Straight(Point),
}

impl Outline {
    pub fn draw(self, view: &mut View, middle: Point) {
        match self {
            Outline::Round(wide) => view.circle(middle, wide / 2.0, HEAVY),
            Outline::Straight(sides) => {
                let corner = |way: f64| [0, 1].map(|axis| middle[axis] + way * sides[axis] / 2.0);
                view.rect(corner(-1.0), corner(1.0), HEAVY);
            }
        }
    }

    /// `a round pier 16″ across`, `concrete 20″ by 22″`
    pub fn said(self, units: Units) -> String {
        match self {
            Outline::Round(wide) => format!("a round pier {} across", units.length(wide)),
            Outline::Straight([x, y]) => format!("concrete {} by {}", units.length(x), units.length(y)),
        }
    }

    /// `16″`, `20″ × 22″`
    pub fn size(self, units: Units) -> String {
        match self {
            Outline::Round(wide) => units.length(wide),
            Outline::Straight(sides) => sides.map(|side| units.length(side)).join(" × "),
        }
    }

    pub fn widest(self) -> f64 {
        match self {
            Outline::Round(wide) => wide,
            Outline::Straight([x, y]) => x.max(y),
        }
    }
}
