//! The roof over the posts as the sheets for loads have it: what a plan and a
//! section of it show.

use super::Made;
use super::schedule::feet;
use crate::formula::Value;
use crate::sheet::{Step, Worked};

/// The roof, and the part of it that each post carries.
#[derive(Debug, Default)]
pub struct Overhead {
    /// Posts, and from and to along x, from and to along y, in feet.
    pub areas: Vec<(Vec<usize>, [f64; 4])>,
    pub roof: Option<RoofOver>,
}

/// Lengths in feet, the slope in degrees.
#[derive(Clone, Debug)]
pub struct RoofOver {
    /// `pitched`, `troughed`, `monoslope` or `slats`.
    pub shape: String,
    /// From and to along x, from and to along y.
    pub outline: [f64; 4],
    /// The axis along which the ridge, or the high side, runs, and its place on the other.
    pub ridge: usize,
    pub ridge_at: f64,
    /// The high side of a monoslope is that toward plus.
    pub high_plus: bool,
    pub slope: f64,
    pub mean_height: f64,
    /// Axis of the beams that carry the roof.
    pub carried_by: String,
    pub winds: Vec<RoofWind>,
}

/// What a wind does to the halves of the roof, short of the ridge and beyond it:
/// least and greatest net pressure over all posts, in pounds on a square inch.
#[derive(Clone, Debug)]
pub struct RoofWind {
    pub case: String,
    /// Along the ridge, and toward plus.
    pub along: bool,
    pub plus: bool,
    pub halves: [[f64; 2]; 2],
}

/// The sheet for a wind on the roof, and that which makes a load case of it.
const WIND: &str = "roof-wind";
const CASE: &str = "load-case";

impl Overhead {
    /// What the sheet for loads of some posts, which are alike, says of it.
    pub fn add(&mut self, posts: &[usize], worked: &Made) {
        self.areas.extend(area(worked).map(|area| (posts.to_vec(), area)));
        let Some(found) = over(worked) else { return };
        let Some(known) = &mut self.roof else {
            self.roof = Some(found);
            return;
        };
        for (known, found) in known.winds.iter_mut().zip(&found.winds) {
            for (known, found) in known.halves.iter_mut().zip(found.halves) {
                *known = [known[0].min(found[0]), known[1].max(found[1])];
            }
        }
    }
}

fn area(worked: &Made) -> Option<[f64; 4]> {
    let edge = |name: &str| feet(worked, &format!("area.{name}"));
    Some([edge("x_1")?, edge("x_2")?, edge("y_1")?, edge("y_2")?])
}

fn text(worked: &Worked, name: &str) -> Option<String> {
    match &worked.bound.get(name)?.value {
        Value::Text(text) => Some(text.clone()),
        _ => None,
    }
}

fn number(worked: &Worked, name: &str) -> Option<f64> {
    match &worked.bound.get(name)?.value {
        Value::Quantity(quantity) => Some(quantity.value),
        _ => None,
    }
}

fn over(worked: &Made) -> Option<RoofOver> {
    let edge = |name: &str| feet(worked, name);
    Some(RoofOver {
        shape: text(worked, "roof")?,
        outline: [edge("x_end1")?, edge("x_end2")?, edge("y_end1")?, edge("y_end2")?],
        ridge: usize::from(text(worked, "ridge")? == "y"),
        ridge_at: edge("v_r")?,
        high_plus: text(worked, "high_side")? == "plus",
        slope: number(worked, "slope")?.to_degrees(),
        mean_height: edge("mean_height")?,
        carried_by: text(worked, "carrying-beam.carried_by").unwrap_or_default(),
        winds: winds(&worked.steps),
    })
}

/// Each wind with the load case that is made of it next.
fn winds(steps: &[Step]) -> Vec<RoofWind> {
    let mut found = Vec::new();
    let mut wind: Option<RoofWind> = None;
    for step in steps {
        let Step::Use(used) = step else { continue };
        match used.sheet.name.as_str() {
            WIND => wind = of(used),
            CASE => found.extend(wind.take().map(|wind| RoofWind { case: used.name.clone(), ..wind })),
            _ => {}
        }
    }
    found
}

fn of(worked: &Worked) -> Option<RoofWind> {
    let along = text(worked, "wind")? == "along";
    let plus = text(worked, "toward")? == "plus";
    let (windward, leeward) = (number(worked, "pressure.p_W")?, number(worked, "pressure.p_L")?);
    let halves = if along || plus { [windward, leeward] } else { [leeward, windward] };
    Some(RoofWind { case: String::new(), along, plus, halves: halves.map(|pressure| [pressure; 2]) })
}
