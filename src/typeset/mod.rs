//! A formula's tree to what is printed: in symbols, with numbers in it, and
//! as words for a screen reader. Brackets come from the parser's precedence.

mod math;
mod pocket;
mod sum;
mod symbol;

pub use math::{Math, symbolic, symbolic_part};
pub use pocket::{Shown, given_text, printed, substituted, two_sides, value_text};
pub use sum::factored;
pub use symbol::symbol;
