//! The arc that a round saw blade leaves at the end of a slot.

use super::geometry::Point;
use super::measure::HAIR;

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
    pub fn arc(&self) -> Vec<Point> {
        let full = self.reach(self.deepest());
        let steps = 120;
        let depth = |step: i32| self.deepest() * f64::from(step) / f64::from(steps);
        (0..=steps).map(|step| [depth(step), self.slot_depth + self.reach(depth(step)) - full]).collect()
    }
}
