//! A braced post cut free: what pushes on it where, and the moment along it.

use super::Drawing;
use super::dimension::{Side, Station, caption, chains};
use super::fit::fit;
use super::measure::HAIR;
use super::view::{HEAVY, MEDIUM, Scale, THIN, View};
use crate::quantity::Units;

/// In inches, pounds and inch-pounds; positive as the arrows of the drawing go.
#[derive(Clone, Copy, Debug)]
pub struct FreeBody {
    /// From the hinge at the base to that at the top.
    pub height: f64,
    /// From the top down to the foot of the brace; zero without one.
    pub brace: f64,
    /// Down on the top, and up at the base.
    pub axial: f64,
    /// To the left at the base.
    pub base: f64,
    /// To the right all along the post, in pounds on an inch.
    pub wind: f64,
    /// To the right at the foot of the brace.
    pub brace_force: f64,
    /// To the left at the top.
    pub top: f64,
    /// At the foot of the brace.
    pub moment: f64,
}

impl FreeBody {
    /// The moment at a height: of all that pushes below it.
    fn moment_at(&self, y: f64) -> f64 {
        let above = (y - (self.height - self.brace)).max(0.0);
        self.base * y - self.wind * y * y / 2.0 - self.brace_force * above
    }

    fn has_wind(&self) -> bool {
        self.wind.abs() > HAIR * HAIR
    }
}

/// Lays the post out in a frame of so many points.
pub fn free_body(it: &FreeBody, width: f64, height: f64, units: Units) -> Drawing {
    let foot = it.height - it.brace;
    let braced = it.brace > HAIR;
    let draw = |scale: Scale| {
        let mut view = View::new(scale);
        let (base, knee, top) = ([0.0, 0.0], [0.0, foot], [0.0, it.height]);
        view.line(base, top, 2.0 * HEAVY);
        for hinge in [base, top] {
            let half = 2.2 / view.scale;
            view.circle(hinge, half, MEDIUM);
        }
        let paper = |view: &View, at, aside: f64, down: f64| {
            let [x, y]: [f64; 2] = view.paper(at);
            [x + aside, y + down]
        };
        const LONG: f64 = 22.0;
        const OFF: f64 = 5.0;
        // Each force: where, its tail from there on paper, its size.
        let mut forces = vec![
            (top, [0.0, -1.0], it.axial, 90.0),
            (base, [0.0, 1.0], it.axial, 270.0),
            (base, [1.0, 0.0], it.base, 0.0),
            (top, [1.0, 0.0], it.top, 0.0),
        ];
        if braced {
            forces.push((knee, [-1.0, 0.0], it.brace_force, 90.0));
        }
        for (at, [x, y], force, toward) in forces {
            if force == 0.0 {
                continue;
            }
            let (far, near) =
                (paper(&view, at, x * (LONG + OFF), y * (LONG + OFF)), paper(&view, at, x * OFF, y * OFF));
            // A force the other way has its head at the other end.
            let (tail, tip) = if force > 0.0 { (far, near) } else { (near, far) };
            view.arrow(tail, tip, HEAVY);
            // A level arrow from the left has its text over it, not in the way of the dimensions.
            let beside = if x < 0.0 { [(far[0] + near[0]) / 2.0, far[1]] } else { far };
            caption(&mut view, beside, toward, &[&units.force(force.abs())]);
        }
        if it.has_wind() {
            wind(&mut view, it);
        }
        let levels: Vec<Station> = match braced {
            // The line to the foot of the brace starts beyond its arrow.
            true => vec![(base, ""), ([-(LONG + 2.0 * OFF) / view.scale, foot], "brace"), (top, "")],
            false => vec![],
        };
        chains(&mut view, Side::Left, &[levels, vec![(base, "height"), (top, "")]]);
        if braced && it.moment != 0.0 {
            moment(&mut view, it);
        }
        view.settle()
    };
    let mut alt = format!(
        "Post cut free, {} high, with {} along it and {} across at the base.",
        units.length(it.height),
        units.force(it.axial),
        units.force(it.base)
    );
    if it.has_wind() {
        alt += &format!(" Wind of {} pushes all along it.", line_load(units, it.wind));
    }
    if braced {
        alt += &format!(
            " {} below the top the brace pushes with {}; the top holds {}. The moment there is {}.",
            units.length(it.brace),
            units.force(it.brace_force),
            units.force(it.top),
            units.moment(it.moment)
        );
    }
    fit([width, height], units, &alt, &[&draw])
}

fn line_load(units: Units, load: f64) -> String {
    format!("{} {}", units.line_load_number(load), units.line_load_unit())
}

/// What blows on the post, between the forces at its ends.
fn wind(view: &mut View, it: &FreeBody) {
    const LONG: f64 = 13.0;
    const OFF: f64 = 4.0;
    for part in [0.2, 0.4, 0.6, 0.8] {
        let [x, y] = view.paper([0.0, part * it.height]);
        let (far, near) = ([x + OFF + LONG, y], [x + OFF, y]);
        let (tail, tip) = if it.wind > 0.0 { (near, far) } else { (far, near) };
        view.arrow(tail, tip, THIN);
    }
    let [x, y] = view.paper([0.0, it.height / 2.0]);
    caption(view, [x + OFF + LONG, y], 0.0, &["wind", &line_load(view.units, it.wind.abs())]);
}

/// The moment along the post, beside it.
fn moment(view: &mut View, it: &FreeBody) {
    const WIDE: f64 = 34.0;
    /// Short enough for what is bent to look it.
    const STEPS: usize = 24;
    let [_, _, right, _] = view.extent();
    let axis = right + 14.0;
    let foot = it.height - it.brace;
    let mut heights: Vec<f64> = vec![0.0, foot, it.height];
    if it.has_wind() {
        heights.extend((1..STEPS).map(|step| it.height * step as f64 / STEPS as f64));
        heights.sort_by(f64::total_cmp);
    }
    let most = heights.iter().map(|y| it.moment_at(*y).abs()).fold(HAIR, f64::max);
    // To the right is what the moment at the foot of the brace is.
    let way = it.moment_at(foot).signum() * WIDE / most;
    let place = |view: &View, y: f64| [axis + way * it.moment_at(y), view.paper([0.0, y])[1]];
    let [base, knee, top] = [0.0, foot, it.height].map(|y| view.paper([0.0, y])[1]);
    let points: Vec<_> = heights.iter().map(|y| place(view, *y)).collect();
    view.stroke([axis, base], [axis, top], MEDIUM, false);
    for ends in points.windows(2) {
        view.stroke(ends[0], ends[1], MEDIUM, false);
    }
    let peak = place(view, foot);
    view.stroke([axis, knee], peak, THIN, false);
    caption(view, peak, 0.0, &["moment", &view.units.moment(it.moment.abs())]);
}
