//! What a symbol can hold, and what kind of thing it may hold.

use std::fmt;

use jiff::civil::Date;

use crate::diag::list;
use crate::quantity::{Dim, Quantity, with_article};

/// Limits compare with this relative tolerance, so that a value that meets a
/// limit exactly is not failed by the last bit.
pub const TOLERANCE: f64 = 1e-9;

#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    Quantity(Quantity),
    Text(String),
    Date(Date),
}

impl Value {
    pub fn number(value: f64) -> Value {
        Value::Quantity(Quantity::number(value))
    }
}

#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    Quantity(Dim),
    /// A whole number, not negative.
    Count,
    /// One of these names.
    Choice(Vec<String>),
    /// Any name.
    Text,
    Date,
}

impl Kind {
    pub const NUMBER: Kind = Kind::Quantity(Dim::NONE);

    /// The dimension, where there is one.
    pub fn dim(&self) -> Option<Dim> {
        match self {
            Kind::Quantity(dim) => Some(*dim),
            Kind::Count => Some(Dim::NONE),
            Kind::Choice(_) | Kind::Text | Kind::Date => None,
        }
    }

    /// As it is spoken of: `a length`, `an angle`, `a plain number`.
    pub fn named(&self) -> String {
        match self {
            Kind::Quantity(dim) if dim.is_none() => "a plain number".into(),
            Kind::Choice(_) => self.to_string(),
            _ => with_article(&self.to_string()),
        }
    }

    /// Whether a value of kind `other` can stand where this kind is wanted.
    pub fn accepts(&self, other: &Kind) -> bool {
        match (self, other) {
            (Kind::Text, Kind::Text | Kind::Choice(_)) => true,
            (Kind::Choice(wanted), Kind::Choice(found)) => found.iter().all(|name| wanted.contains(name)),
            (Kind::Date, Kind::Date) => true,
            _ => self.dim().is_some() && self.dim() == other.dim(),
        }
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Kind::Quantity(dim) => write!(f, "{dim}"),
            Kind::Count => f.write_str("count"),
            Kind::Choice(names) => write!(f, "one of {}", list(names, "or")),
            Kind::Text => f.write_str("text"),
            Kind::Date => f.write_str("date"),
        }
    }
}
