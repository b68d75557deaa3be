//! The figures that sheets can ask for: their inputs as sheets know them, and
//! a worked value as a drawing takes it.

use std::sync::Arc;

use crate::drawing::{Blade, Drawing, FIGURES, Input, Values, figure};
use crate::formula::{Kind, Value};
use crate::kept::Kept;
use crate::quantity::{Dim, Units};
use crate::sheet::FigureKind;

/// What the check of a sheet has to know of every figure.
pub fn figure_kinds() -> Vec<FigureKind> {
    let kind = |input: &Input| match input {
        Input::Length => Kind::Quantity(Dim::LENGTH),
        Input::Force => Kind::Quantity(Dim::FORCE),
        Input::Moment => Kind::Quantity(Dim::of(1, 1)),
        Input::Stress => Kind::Quantity(Dim::of(-2, 1)),
        Input::LineLoad => Kind::Quantity(Dim::of(-1, 1)),
        Input::Angle => Kind::Quantity(Dim::ANGLE),
        Input::Count => Kind::NUMBER,
        Input::Text => Kind::Text,
        Input::Choice(names) => Kind::Choice(names.iter().map(|name| name.to_string()).collect()),
    };
    FIGURES
        .iter()
        .map(|figure| FigureKind {
            name: figure.name.into(),
            inputs: figure.inputs.iter().map(|(name, input)| (name.to_string(), kind(input))).collect(),
        })
        .collect()
}

/// Figures by all that each is drawn from: several posts ask for the same.
#[derive(Default)]
pub struct Figures(Kept<String, Arc<Drawing>>);

impl Figures {
    /// Begins with another state of the job.
    pub fn begin(&self) {
        self.0.begin();
    }

    /// As `draw`.
    pub(super) fn draw(
        &self,
        name: &str,
        values: &[(String, Value)],
        units: Units,
        blade: Option<Blade>,
    ) -> Option<Arc<Drawing>> {
        let key = format!("{name} {values:?} {units:?} {blade:?}");
        self.0.get(&key).or_else(|| {
            let drawing = Arc::new(draw(name, values, units, blade)?);
            self.0.put(key, drawing.clone());
            Some(drawing)
        })
    }
}

/// A figure from worked values, in inches, pounds and degrees, for a base with such a blade or side plates.
pub(super) fn draw(name: &str, values: &[(String, Value)], units: Units, blade: Option<Blade>) -> Option<Drawing> {
    let figure = figure(name)?;
    let mut known = Values { units, blade, ..Values::default() };
    for (name, value) in values {
        match value {
            Value::Quantity(quantity) => {
                let angle = quantity.dim == Dim::ANGLE;
                let number = if angle { quantity.value.to_degrees() } else { quantity.value };
                known.numbers.insert(name.clone(), number);
            }
            Value::Text(text) => drop(known.texts.insert(name.clone(), text.clone())),
            Value::Date(_) => {}
        }
    }
    Some((figure.draw)(&known))
}
