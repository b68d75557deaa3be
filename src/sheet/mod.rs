//! Sheets: text files in which structural design is written. A sheet is a
//! pure function from named inputs to named outputs; here it is parsed,
//! checked against the sheets and tables it names, and worked to steps.
//! Knows nothing of jobs or load cases.

mod check;
mod library;
mod lines;
mod parse;
mod table;
mod trace;
mod tree;
mod work;

pub use check::FigureKind;
pub use library::{Library, Text};
pub use table::Table;
pub use tree::{Case, Input, Let, Method, Must, Note, Part, Prose, Raw, Sheet, Stmt, Take, Use, When};
pub use work::{Bound, Context, Given, Missing, Origin, Side, Step, Taken, Verdict, Work, Worked, work};
