//! Results to the model that templates read: order, numbering, rounding. No
//! arithmetic.

mod figure;
mod front;
mod ledger;
mod lines;
mod model;
mod open;
mod own;
mod plain;
mod values;
mod worked;

pub use figure::figure_kinds;
pub use front::build;
pub use model::{Group, Line, Package, PlainSheet, Section, Span};
