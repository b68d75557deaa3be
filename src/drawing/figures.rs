//! The figures that sheets can ask for.

use std::collections::BTreeMap;

use super::Drawing;

/// A figure: its name, what it is drawn from, and how.
pub struct Figure {
    pub name: &'static str,
    pub inputs: &'static [(&'static str, Input)],
    pub draw: fn(&Values) -> Drawing,
}

/// What an input of a figure is.
pub enum Input {
    Length,
    Force,
    Moment,
    Angle,
    Number,
    Count,
    Choice(&'static [&'static str]),
}

/// Worked values by name: inches, pounds, degrees; choices by their word.
#[derive(Default)]
pub struct Values {
    numbers: BTreeMap<String, f64>,
    choices: BTreeMap<String, String>,
}

impl Values {
    pub fn number(&mut self, name: &str, value: f64) {
        self.numbers.insert(name.into(), value);
    }

    pub fn choice(&mut self, name: &str, value: &str) {
        self.choices.insert(name.into(), value.into());
    }
}

pub const FIGURES: &[Figure] = &[];
