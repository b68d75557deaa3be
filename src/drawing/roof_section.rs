//! An open roof in section across its ridge, with the ways in which its winds push.

use super::dimension::{Side, caption, chains};
use super::fit::fit;
use super::geometry::Point;
use super::measure::degrees;
use super::view::{HEAVY, MEDIUM, Scale, THIN, View};
use super::{Drawing, RoofShape};
use crate::quantity::Units;

/// Across the ridge, plus to the right; lengths in inches.
#[derive(Clone, Debug)]
pub struct RoofSection {
    pub shape: RoofShape,
    /// In degrees.
    pub slope: f64,
    pub span: f64,
    pub mean_height: f64,
    /// From the left edge: the ridge or valley, and the posts.
    pub ridge: f64,
    pub posts: Vec<f64>,
    /// The axis to the right, `x` or `y`, and the one along the ridge.
    pub axes: [&'static str; 2],
    /// Winds across, toward plus and toward minus; along the ridge, the same.
    pub across: [Vec<String>; 2],
    pub along: [Vec<String>; 2],
}

impl RoofSection {
    /// The roof from left to right: eave, ridge, eave.
    pub fn profile(&self) -> [Point; 3] {
        let rise = libm::tan(self.slope.to_radians());
        let (mean, half) = (self.mean_height, self.span / 4.0 * rise);
        let (left, right) = (self.ridge * rise, (self.span - self.ridge) * rise);
        let heights = match self.shape {
            RoofShape::Pitched => [mean + half - left, mean + half, mean + half - right],
            RoofShape::Troughed => [mean - half + left, mean - half, mean - half + right],
            RoofShape::HighRight => [mean - 2.0 * half, mean - 2.0 * half + left, mean + 2.0 * half],
            RoofShape::HighLeft => [mean + 2.0 * half, mean + 2.0 * half - left, mean - 2.0 * half],
        };
        [[0.0, heights[0]], [self.ridge, heights[1]], [self.span, heights[2]]]
    }

    fn top(&self, x: f64) -> f64 {
        let profile = self.profile();
        let (a, b) = if x < self.ridge { (profile[0], profile[1]) } else { (profile[1], profile[2]) };
        a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0]).max(1e-9)
    }
}

/// Lays the section out in a frame of so many points.
pub fn roof_section(it: &RoofSection, width: f64, height: f64, units: Units) -> Drawing {
    let draw = |scale: Scale| section(it, scale).settle();
    let mut alt = format!(
        "Section of the roof across its ridge, slope {}, {} across, mean height {}.",
        degrees(it.slope),
        units.run(it.span / 12.0),
        units.run(it.mean_height / 12.0),
    );
    for (axis, winds) in it.axes.iter().zip([&it.across, &it.along]) {
        for (sign, names) in ["+", "−"].iter().zip(winds).filter(|(_, names)| !names.is_empty()) {
            alt += &format!(" Wind toward {sign}{axis}: {}.", names.join(", "));
        }
    }
    fit([width, height], units, &alt, &[&draw])
}

fn section(it: &RoofSection, scale: Scale) -> View {
    const WIND: f64 = 30.0;
    let mut view = View::new(scale);
    let profile = it.profile();
    let (low, high) = (-0.06 * it.span, 1.06 * it.span);
    view.line([low, 0.0], [high, 0.0], MEDIUM);
    for x in &it.posts {
        for side in [-3.0, 3.0] {
            view.line([x + side, 0.0], [x + side, it.top(x + side)], MEDIUM);
        }
    }
    for ends in profile.windows(2) {
        view.line(ends[0], ends[1], 2.0 * HEAVY);
    }
    let middle = |a: Point, b: Point| [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0];
    let slope = view.paper(middle(profile[0], profile[1]));
    caption(&mut view, slope, 110.0, &[&format!("slope {}", degrees(it.slope))]);
    let name = match it.shape {
        RoofShape::Pitched => "ridge",
        RoofShape::Troughed => "valley",
        _ => "",
    };
    if !name.is_empty() {
        let at = view.paper(profile[1]);
        caption(&mut view, at, 80.0, &[name]);
    }
    // Winds across come from the sides, at the height of the roof.
    for (way, names) in it.across.iter().enumerate().filter(|(_, names)| !names.is_empty()) {
        let (x, sign) = if way == 0 { (low, 1.0) } else { (high, -1.0) };
        let edge = view.paper([x, it.mean_height]);
        let (tail, tip) = ([edge[0] - sign * (WIND + 8.0), edge[1]], [edge[0] - sign * 8.0, edge[1]]);
        view.arrow(tail, tip, HEAVY);
        caption(&mut view, [(tail[0] + tip[0]) / 2.0, tail[1]], 90.0, &[&names.join(", ")]);
    }
    // Along the ridge: out of the page a point, into it a cross. Looking so that
    // plus of the other axis is at the right, +x comes out of the page, +y goes in.
    // One over the other, so that each has its winds beside it.
    for (way, names) in it.along.iter().enumerate().filter(|(_, names)| !names.is_empty()) {
        let out = (way == 0) == (it.axes[1] == "x");
        let aside = if way == 0 { 7.5 } else { -7.5 } / view.scale;
        let at = [0.3 * it.span, 0.45 * it.mean_height + aside];
        let radius = 4.5 / view.scale;
        view.circle(at, radius, MEDIUM);
        if out {
            view.dot(at, 1.2);
        } else {
            let arm = radius * std::f64::consts::FRAC_1_SQRT_2;
            view.line([at[0] - arm, at[1] - arm], [at[0] + arm, at[1] + arm], THIN);
            view.line([at[0] - arm, at[1] + arm], [at[0] + arm, at[1] - arm], THIN);
        }
        let beside = view.paper([at[0] + radius, at[1]]);
        caption(&mut view, beside, 0.0, &[&names.join(", ")]);
    }
    let corner = view.paper([high, 0.0]);
    view.arrow([corner[0] + 8.0, corner[1]], [corner[0] + 30.0, corner[1]], MEDIUM);
    caption(&mut view, [corner[0] + 30.0, corner[1]], 0.0, &[it.axes[0]]);
    chains(&mut view, Side::Bottom, &[vec![([0.0, 0.0], ""), ([it.span, 0.0], "")]]);
    chains(&mut view, Side::Right, &[vec![([high, 0.0], "mean height"), ([high, it.mean_height], "")]]);
    view
}
