//! Anchors, screws, bolts and holes in rows.

use super::dimension::counted;
use super::geometry::Point;
use super::view::View;

/// So many at a pitch, about the middle.
pub(super) fn places_of(count: usize, pitch: f64) -> Vec<f64> {
    (0..count).map(|at| (at as f64 - (count as f64 - 1.0) / 2.0) * pitch).collect()
}

/// On a face, row after row: across from the middle, up from the end grain.
pub(super) fn up_a_face([n, rows]: [usize; 2], end: f64, [spacing, row_spacing]: [f64; 2]) -> Vec<Point> {
    let rows = places_of(rows, row_spacing).into_iter();
    rows.flat_map(|x| (0..n).map(move |at| [x, end + at as f64 * spacing])).collect()
}

/// From above: across and up.
pub(super) struct Group {
    pub xs: Vec<f64>,
    pub ys: Vec<f64>,
}

impl Group {
    pub fn about_middle([n_x, n_y]: [usize; 2], [s_x, s_y]: [f64; 2]) -> Group {
        Group { xs: places_of(n_x, s_x), ys: places_of(n_y, s_y) }
    }

    pub fn draw(&self, view: &mut View, diameter: f64, weight: f64) {
        for at in self.xs.iter().flat_map(|x| self.ys.iter().map(move |y| [*x, *y])) {
            view.circle(at, diameter / 2.0, weight);
            view.dot(at, 0.9);
        }
    }

    /// The one at the upper right, of which a note speaks for all.
    pub fn last(&self) -> Option<Point> {
        Some([*self.xs.last()?, *self.ys.last()?])
    }

    /// `4 anchors 1/2″`
    pub fn told(&self, thing: &str, size: &str) -> String {
        counted(self.xs.len() * self.ys.len(), thing, size)
    }
}
