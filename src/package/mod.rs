//! Results to the model that templates read: order, numbering, rounding. No
//! arithmetic.

mod appendix;
mod awaited;
mod basis;
mod build;
mod calculation;
mod chain;
mod chapter;
mod chapters;
mod chosen;
mod cover;
mod design_loads;
mod draft;
mod figure;
mod foot;
mod frames;
mod given;
mod guess;
mod inspections;
mod layout;
mod ledger;
mod lines;
mod load_path;
mod marks;
mod model;
mod open;
mod own;
mod plain;
mod plan;
mod reactions;
mod roof;
mod schedules;
mod sheet_layout;
mod since;
mod skipped;
mod summary;
mod sums;
mod worked;

pub use build::{Pages, build};
pub use figure::figure_kinds;
pub use guess::guess;
pub use model::{Calculation, HandedForce, Line, Package, PlainItem, PlainSheet, RankedLimit, Section, Span, Worked};
pub use since::{since, warning};
