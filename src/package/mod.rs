//! Results to the model that templates read: order, numbering, rounding. No
//! arithmetic.

mod appendix;
mod basis;
mod build;
mod cover;
mod figure;
mod ledger;
mod lines;
mod load_path;
mod model;
mod open;
mod own;
mod plain;
mod plan;
mod reactions;
mod summary;
mod values;
mod worked;

pub use build::build;
pub use figure::figure_kinds;
pub use model::{Group, Line, Package, PlainSheet, Section, Span};
