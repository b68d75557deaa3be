//! An open roof in section with the net pressures of one wind case on it.

use super::Drawing;
use super::dimension::{Side, caption, chains};
use super::fit::fit;
use super::geometry::Point;
use super::measure::degrees;
use super::view::{HEAVY, MEDIUM, Scale, THIN, View};
use crate::quantity::Units;

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RoofShape {
    Pitched,
    Troughed,
    /// The high side is at the right.
    HighRight,
    HighLeft,
}

/// Across the ridge; in inches and pounds on a square inch.
#[derive(Clone, Copy, Debug)]
pub struct RoofWind {
    pub shape: RoofShape,
    /// In degrees.
    pub slope: f64,
    pub span: f64,
    pub mean_height: f64,
    /// On the left and on the right half; plus presses on the top.
    pub left: f64,
    pub right: f64,
    /// The wind blows to the right, to the left, or into the page.
    pub wind: Option<bool>,
}

impl RoofWind {
    /// The roof from left to right: eave, middle, eave.
    pub fn profile(&self) -> [Point; 3] {
        let rise = self.span / 2.0 * libm::tan(self.slope.to_radians());
        let (middle, mean) = (self.span / 2.0, self.mean_height);
        let heights = match self.shape {
            RoofShape::Pitched => [mean - rise / 2.0, mean + rise / 2.0, mean - rise / 2.0],
            RoofShape::Troughed => [mean + rise / 2.0, mean - rise / 2.0, mean + rise / 2.0],
            RoofShape::HighRight => [mean - rise, mean, mean + rise],
            RoofShape::HighLeft => [mean + rise, mean, mean - rise],
        };
        [[0.0, heights[0]], [middle, heights[1]], [self.span, heights[2]]]
    }
}

/// Lays the section out in a frame of so many points.
pub fn roof_wind(it: &RoofWind, width: f64, height: f64, units: Units) -> Drawing {
    let profile = it.profile();
    let draw = |scale: Scale| {
        let mut view = View::new(scale);
        view.line([-0.08 * it.span, 0.0], [1.08 * it.span, 0.0], MEDIUM);
        for (from, to, pressure) in [(profile[0], profile[1], it.left), (profile[1], profile[2], it.right)] {
            view.line(from, to, HEAVY);
            pushes(&mut view, from, to, pressure);
        }
        for at in [0.12, 0.88] {
            let x = at * it.span;
            let (a, b) = if at < 0.5 { (profile[0], profile[1]) } else { (profile[1], profile[2]) };
            let top = a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0]);
            view.line([x, 0.0], [x, top], THIN);
        }
        if let Some(to_the_right) = it.wind {
            let x = if to_the_right { -0.2 * it.span } else { 1.2 * it.span };
            let start = view.paper([x, it.mean_height / 2.0]);
            let tip = [start[0] + if to_the_right { 40.0 } else { -40.0 }, start[1]];
            view.arrow(start, tip, HEAVY);
            caption(&mut view, [(start[0] + tip[0]) / 2.0, start[1]], 90.0, &["wind"]);
        }
        chains(&mut view, Side::Bottom, &[vec![([0.0, 0.0], ""), ([it.span, 0.0], "")]]);
        view.settle()
    };
    let wind = match it.wind {
        Some(true) => "to the right",
        Some(false) => "to the left",
        None => "along the ridge",
    };
    let alt = format!(
        "Section of an open roof, slope {}, {} across, mean height {}, wind {wind}: {} on the left half, {} on the right.",
        degrees(it.slope),
        units.run(it.span / 12.0),
        units.run(it.mean_height / 12.0),
        units.pressure(it.left),
        units.pressure(it.right),
    );
    fit([width, height], units, &alt, &[&draw])
}

/// Three arrows normal to a half of the roof, and the pressure beside them.
fn pushes(view: &mut View, from: Point, to: Point, pressure: f64) {
    const LONG: f64 = 22.0;
    let (a, b) = (view.paper(from), view.paper(to));
    let far = libm::hypot(b[0] - a[0], b[1] - a[1]);
    // Up and away from the roof on paper, where y goes down.
    let out = [(b[1] - a[1]) / far, -(b[0] - a[0]) / far];
    for part in [0.2, 0.5, 0.8] {
        let near = [a[0] + part * (b[0] - a[0]) + 2.0 * out[0], a[1] + part * (b[1] - a[1]) + 2.0 * out[1]];
        let away = [near[0] + LONG * out[0], near[1] + LONG * out[1]];
        if pressure >= 0.0 {
            view.arrow(away, near, MEDIUM);
        } else {
            view.arrow(near, away, MEDIUM);
        }
    }
    let middle = [(a[0] + b[0]) / 2.0 + (LONG + 6.0) * out[0], (a[1] + b[1]) / 2.0 + (LONG + 6.0) * out[1]];
    caption(view, middle, 90.0, &[&view.units.pressure(pressure)]);
}
