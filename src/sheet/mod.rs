//! Sheets: text files in which structural design is written. A sheet is a
//! pure function from named inputs to named outputs; here it is parsed,
//! checked against the sheets and tables it names, and worked to steps.
//! Knows nothing of jobs or load cases.

mod check;
mod house;
mod library;
mod lines;
mod own;
mod parse;
mod rests;
mod table;
mod texts;
mod tree;
mod work;
mod worked;

pub use check::FigureKind;
pub use library::{Library, Text};
pub use own::{Own, Used, What};
pub use rests::Rests;
pub use table::{Hit, OwnRow, Published, Table};
pub use texts::Texts;
pub use tree::{
    Case, Decide, From, Give, Hand, Input, Let, Method, Methods, Must, Note, NoteKind, OpenPlace, Page, PageKind, Part,
    Piece, Prose, Raw, Sheet, Stands, Stmt, Take, Use, When,
};
pub use work::{Context, Facts, Missing, Unread, Work, work};
pub use worked::{Bound, Given, Origin, Side, Step, Taken, Verdict, Worked, ratio};
