//! The arc that a round saw blade leaves at the end of a slot.

use super::Drawing;
use super::dimension::{Side, caption, chains, note};
use super::hatch::break_line;
use super::measure::HAIR;
use super::view::{HEAVY, MEDIUM, Point, Scale, View, fit};
use crate::quantity::Units;

/// In inches. The saw runs up the post from the end grain, its shoe on a face.
#[derive(Clone, Copy, Debug)]
pub struct Kerf {
    /// Of the blade.
    pub radius: f64,
    /// How far the blade reaches below the shoe.
    pub cut: f64,
    /// Of the post, from the face under the shoe to the far one.
    pub d: f64,
    pub slot_depth: f64,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Passes {
    /// From one face, through to the far one.
    One,
    /// From both faces, to the middle.
    Both,
    /// From both faces, and so much wood stays between the cuts.
    Core(f64),
}

impl Kerf {
    pub fn passes(&self) -> Passes {
        if self.cut >= self.d - HAIR {
            Passes::One
        } else if 2.0 * self.cut >= self.d - HAIR {
            Passes::Both
        } else {
            Passes::Core(self.d - 2.0 * self.cut)
        }
    }

    /// How far the kerf runs beyond the depth to which the slot is full.
    ///
    /// The arbor is `radius - cut` above the face. At a depth `y` below the face
    /// the blade is a chord of the circle, and reaches beyond the arbor by half
    /// of it, `sqrt(radius² - (radius - cut + y)²)`. That is least where the cut
    /// has to be deepest: at the far face, in the middle, or at the tip of the
    /// blade. The overcut is the difference between there and the face. A saw
    /// that stops on the line at the face leaves as much wood inside.
    pub fn overcut(&self) -> f64 {
        self.reach(0.0) - self.reach(self.deepest())
    }

    /// Where the cut has to be deepest, from the face.
    fn deepest(&self) -> f64 {
        match self.passes() {
            Passes::One => self.d,
            Passes::Both => self.d / 2.0,
            Passes::Core(_) => self.cut,
        }
    }

    /// How far the blade cuts beyond its arbor at a depth below the face.
    fn reach(&self, depth: f64) -> f64 {
        // An arbor below the face is the widest place; above it the kerf cannot
        // be shorter, as the blade came in over the end grain.
        let chord = (self.radius - self.cut + depth).max(0.0);
        libm::sqrt((self.radius * self.radius - chord * chord).max(0.0))
    }

    /// The end of the kerf from a face inwards: depth below it, height above the
    /// end grain.
    fn arc(&self) -> Vec<Point> {
        let full = self.reach(self.deepest());
        let steps = 120;
        let depth = |step: i32| self.deepest() * f64::from(step) / f64::from(steps);
        (0..=steps).map(|step| [depth(step), self.slot_depth + self.reach(depth(step)) - full]).collect()
    }
}

/// Lays the cut out in a frame of so many points, in the plane of the slot.
pub fn kerf(it: &Kerf, width: f64, height: f64, units: Units) -> Drawing {
    let over = it.overcut();
    let high = it.slot_depth + over;
    let top = high + 0.25 * it.d;
    let (cut, finish) = match it.passes() {
        Passes::One => ("one pass", String::new()),
        Passes::Both => ("both faces are cut", String::new()),
        Passes::Core(core) => ("both faces are cut", format!("; {} stays between the cuts", units.length(core))),
    };
    let draw = |scale: Scale| {
        let mut view = View::new(scale);
        for x in [0.0, it.d] {
            view.line([x, 0.0], [x, top], HEAVY);
        }
        view.line([0.0, 0.0], [it.d, 0.0], HEAVY);
        break_line(&mut view, 0.0, it.d, top);
        view.line([0.0, it.slot_depth], [it.d, it.slot_depth], MEDIUM);
        let left = it.arc();
        let right: Vec<Point> = left.iter().map(|[x, y]| [it.d - x, *y]).collect();
        view.dashed_curve(&left);
        if it.passes() != Passes::One {
            view.dashed_curve(&right);
        }
        if let Passes::Core(core) = it.passes() {
            for x in [it.cut, it.cut + core] {
                view.dashed([x, 0.0], [x, it.slot_depth]);
            }
        }
        let slot = vec![([0.0, 0.0], "slot"), ([0.0, it.slot_depth], "overcut"), ([0.0, high], "")];
        let post = vec![([0.0, 0.0], "post"), ([it.d, 0.0], "")];
        let mut reach = vec![([0.0, 0.0], "cut"), ([it.cut, 0.0], "")];
        if let Passes::Core(core) = it.passes() {
            reach[1].1 = "left";
            reach.push(([it.cut + core, 0.0], ""));
        }
        chains(&mut view, Side::Left, &[slot]);
        chains(&mut view, Side::Bottom, &[reach, post]);
        let middle = view.paper([it.d / 2.0, it.slot_depth * 0.4]);
        let lines: &[&str] = match it.passes() {
            Passes::One => &["one pass from", "the left face"],
            Passes::Both => &["one pass from", "each face"],
            Passes::Core(_) => &["the saw leaves", "the middle"],
        };
        caption(&mut view, middle, 90.0, lines);
        let on_arc = left[left.len() / 3];
        let blade = format!("radius {}", units.length(it.radius));
        note(&mut view, on_arc, 60.0, &["blade", &blade]);
        note(&mut view, [it.d, it.slot_depth], 0.0, &["full depth of", "the slot"]);
        view.settle()
    };
    let alt = format!(
        "Slot {} deep in a post {} wide, sawn by a blade of {} radius with {} depth of cut: {cut}{finish}. \
         On the face the kerf runs {} beyond the full depth.",
        units.length(it.slot_depth),
        units.length(it.d),
        units.length(it.radius),
        units.length(it.cut),
        units.length(over)
    );
    fit([width, height], units, &alt, &[&draw])
}
