//! Anchors in a pier or a pad from above, and the concrete that they would pull
//! out.

use super::Drawing;
use super::dimension::{Side, axes, chains, note};
use super::fit::fit;
use super::geometry::Point;
use super::measure::HAIR;
use super::outline::Outline;
use super::rows::Group;
use super::view::{MEDIUM, Scale, THIN, View};
use crate::quantity::Units;

/// In inches; x to the right, y up.
#[derive(Clone, Copy, Debug)]
pub struct AnchorPlan {
    /// Of a round pier, whose straight edges are those reckoned with; zero for
    /// one that has straight edges.
    pub diameter: f64,
    /// From the outermost anchors to the edges at the left and right, below and
    /// above.
    pub c_x1: f64,
    pub c_x2: f64,
    pub c_y1: f64,
    pub c_y2: f64,
    pub n_x: usize,
    pub n_y: usize,
    /// From one anchor to the next.
    pub s_x: f64,
    pub s_y: f64,
    pub anchor_d: f64,
    pub plate_x: f64,
    pub plate_y: f64,
    /// How far the concrete that comes out spreads beyond the outermost anchors,
    /// where no edge is nearer.
    pub reach: f64,
}

impl AnchorPlan {
    /// From the first anchor to the last, each way.
    fn group(&self) -> Point {
        [self.n_x.saturating_sub(1) as f64 * self.s_x, self.n_y.saturating_sub(1) as f64 * self.s_y]
    }

    /// Left, bottom, right and top of the concrete that comes out, from the
    /// anchor that is lowest at the left.
    pub fn breakout(&self) -> [f64; 4] {
        let [x, y] = self.group();
        let near = |edge: f64| edge.min(self.reach);
        [-near(self.c_x1), -near(self.c_y1), x + near(self.c_x2), y + near(self.c_y2)]
    }
}

/// Lays the plan out in a frame of so many points.
pub fn anchor_plan(it: &AnchorPlan, width: f64, height: f64, units: Units) -> Drawing {
    let [x, y] = it.group();
    let (low, high) = ([-it.c_x1, -it.c_y1], [x + it.c_x2, y + it.c_y2]);
    let middle = [x / 2.0, y / 2.0];
    let centre = [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0];
    let breakout = it.breakout();
    let outline = match it.diameter > HAIR {
        true => Outline::Round(it.diameter),
        false => Outline::Straight([high[0] - low[0], high[1] - low[1]]),
    };
    let draw = |scale: Scale| {
        let mut view = View::new(scale);
        outline.draw(&mut view, centre);
        if it.diameter > HAIR {
            view.rect(low, high, THIN);
        }
        view.rect(
            [middle[0] - it.plate_x / 2.0, middle[1] - it.plate_y / 2.0],
            [middle[0] + it.plate_x / 2.0, middle[1] + it.plate_y / 2.0],
            MEDIUM,
        );
        if it.reach > HAIR {
            view.dashed_rect([breakout[0], breakout[1]], [breakout[2], breakout[3]]);
        }
        let rows = |count: usize, pitch: f64| (0..count).map(|at| at as f64 * pitch).collect();
        let anchors = Group { xs: rows(it.n_x, it.s_x), ys: rows(it.n_y, it.s_y) };
        anchors.draw(&mut view, it.anchor_d, MEDIUM);
        let mut across = vec![([low[0], low[1]], ""), ([high[0], low[1]], "")];
        across.extend(anchors.xs.iter().map(|x| ([*x, low[1]], "")));
        let mut up = vec![([low[0], low[1]], ""), ([low[0], high[1]], "")];
        up.extend(anchors.ys.iter().map(|y| ([low[0], *y], "")));
        let name = if it.diameter > HAIR { "counted" } else { "" };
        let all_across = vec![(low, name), ([high[0], low[1]], "")];
        let all_up = vec![(low, name), ([low[0], high[1]], "")];
        chains(&mut view, Side::Bottom, &[across, all_across]);
        chains(&mut view, Side::Left, &[up, all_up]);
        if it.diameter > HAIR {
            let ends = [-0.5, 0.5].map(|way| ([centre[0] + way * it.diameter, centre[1]], "round pier"));
            chains(&mut view, Side::Top, &[ends.to_vec()]);
        }
        note(&mut view, [x, y], 35.0, &[&anchors.told("anchor", &units.size(it.anchor_d))]);
        let plate = format!("{} × {}", units.size(it.plate_x), units.size(it.plate_y));
        note(&mut view, [middle[0] + it.plate_x / 2.0, middle[1] - it.plate_y / 2.0], -20.0, &["plate", &plate]);
        if it.reach > HAIR {
            let area =
                format!("{} × {}", units.length(breakout[2] - breakout[0]), units.length(breakout[3] - breakout[1]));
            note(&mut view, [breakout[2], breakout[1]], -20.0, &["breakout", &area]);
        }
        axes(&mut view, "x", "y");
        view.settle()
    };
    let alt = format!(
        "Plan of {} with {} by {} anchors {}, {} and {} apart; edges {} and {} away along x, {} and {} along y.",
        outline.said(units),
        it.n_x,
        it.n_y,
        units.size(it.anchor_d),
        units.length(it.s_x),
        units.length(it.s_y),
        units.length(it.c_x1),
        units.length(it.c_x2),
        units.length(it.c_y1),
        units.length(it.c_y2),
    );
    let area = [breakout[2] - breakout[0], breakout[3] - breakout[1]].map(|side| units.length(side));
    let alt = match it.reach > HAIR {
        true => format!("{alt} The concrete that would break out is {} by {}.", area[0], area[1]),
        false => alt,
    };
    fit([width, height], units, &alt, &[&draw])
}
