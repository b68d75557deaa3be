//! Results to the model that templates read: order, numbering, rounding. No
//! arithmetic.

mod front;
mod model;
mod worked;

pub use front::build;
pub use model::{Group, Package};
