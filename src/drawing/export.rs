//! What files of drawings have in common: the size of the thing itself, and what is
//! written under it.

use super::sketch::wrapped;
use super::{Drawing, text_width};
use crate::quantity::Units;

/// What is written under a drawing that leaves its package.
#[derive(Clone, Debug)]
pub struct Caption {
    pub title: String,
    /// A line each.
    pub lines: Vec<String>,
    /// Its posts do not meet a limit.
    pub hold: bool,
    pub units: Units,
}

impl Caption {
    pub const HOLD: &str = "NOT MET – HOLD";
}

/// Points of paper: letters of the caption, and from one line to the next.
const TEXT: f64 = 8.0;
const LINE: f64 = 11.0;

/// A narrow drawing has wider lines under it.
const NARROW: f64 = 260.0;

/// A drawing in inches or millimetres of what it shows.
pub(super) struct Export<'a> {
    drawing: &'a Drawing,
    caption: &'a Caption,
    /// Inches or millimetres of the thing in a point of paper.
    scale: f64,
    foot: Vec<String>,
    pub size: [f64; 2],
}

impl<'a> Export<'a> {
    pub fn new(drawing: &'a Drawing, caption: &'a Caption) -> Export<'a> {
        // What has no scale is as large as on paper.
        let points = if drawing.points > 0.0 { drawing.points } else { 72.0 };
        let scale = caption.units.either(1.0, 25.4) / points;
        let room = drawing.width.max(NARROW) - 8.0;
        let foot: Vec<String> = caption.lines.iter().flat_map(|line| wrapped(line, room)).collect();
        let width = foot.iter().map(|line| text_width(line, TEXT, false) + 8.0).fold(drawing.width, f64::max);
        let height = drawing.height + LINE * (foot.len() as f64 + 1.0);
        Export { drawing, caption, scale, foot, size: [width * scale, height * scale] }
    }

    pub fn unit(&self) -> &'static str {
        self.caption.units.either("in", "mm")
    }

    /// A length of paper, of the thing.
    pub fn long(&self, points: f64) -> f64 {
        points * self.scale
    }

    /// A place from the top left corner, y downwards.
    pub fn down(&self, at: [f64; 2]) -> [f64; 2] {
        at.map(|part| self.long(part))
    }

    /// The same from the bottom left corner, y upwards.
    pub fn up(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [self.long(x), self.size[1] - self.long(y)]
    }

    /// The lines under the drawing, each with its place, y downwards, and its size.
    pub fn foot(&self) -> impl Iterator<Item = ([f64; 2], f64, &str)> {
        let place = |at: usize| self.down([4.0, self.drawing.height + LINE * (at as f64 + 1.0)]);
        self.foot.iter().enumerate().map(move |(at, line)| (place(at), self.long(TEXT), line.as_str()))
    }

    /// Where the word of a drawing on hold stands, its middle, y downwards, and how large:
    /// it reaches across.
    pub fn hold(&self) -> Option<([f64; 2], f64)> {
        let across = self.drawing.width.min(1.8 * self.drawing.height);
        let size = across / (text_width(Caption::HOLD, 1.0, true) * 1.05);
        self.caption.hold.then(|| (self.down([self.drawing.width / 2.0, self.drawing.height / 2.0]), self.long(size)))
    }

    /// To a hundred-thousandth of an inch, as digits.
    pub fn number(&self, value: f64) -> String {
        let text = format!("{value:.5}");
        let text = text.trim_end_matches('0').trim_end_matches('.');
        if text == "-0" { "0".into() } else { text.into() }
    }
}
