//! Quantities: a number with a dimension, kept in inch, pound-force, second,
//! radian and degree Fahrenheit-difference so that common US values are exact.
//! Knows nothing of where a value was written.

mod dimension;
mod house;
mod print;
mod read;
mod slack;
mod unit;

pub use dimension::{Dim, with_article};
pub use house::Units;
pub use print::{INPUT_DIGITS, RESULT_DIGITS, given_digits, measured, number, number_fixed};
pub use read::{Decimals, Reading, Unread, is_size, read, read_any, shown_decimals};
pub use slack::slack;
pub use unit::{System, Unit};

/// A value in base units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    pub value: f64,
    pub dim: Dim,
}

impl Quantity {
    pub fn new(value: f64, dim: Dim) -> Quantity {
        Quantity { value, dim }
    }

    pub fn number(value: f64) -> Quantity {
        Quantity { value, dim: Dim::NONE }
    }

    /// The same value as a plain number in a unit of its dimension.
    pub fn in_unit(self, unit: &Unit) -> f64 {
        unit.from_base(self.value)
    }

    /// As it is printed. Forces and lengths that cancel leave the last bits of a sum,
    /// which are no value: a billionth of an inch, or of a pound, is nothing.
    pub fn shown_in(self, unit: &Unit) -> f64 {
        let (length, force) = (self.dim.length, self.dim.force);
        let size = force == 1 || (force == 0 && length > 0);
        if size && self.value.abs() < 1e-9 { 0.0 } else { self.in_unit(unit) }
    }
}
