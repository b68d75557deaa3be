//! A formula's tree to what is printed: in symbols, with numbers in it, and
//! as words for a screen reader. Brackets come from the parser's precedence.

mod advance;
mod line;
mod math;
mod part;
mod piece;
mod pocket;
mod source;
mod sum;
mod symbol;
mod width;

pub use advance::{Face, advance};
pub use line::Stand;
pub use math::{Math, symbolic, symbolic_inline, symbolic_part};
pub use pocket::{Shown, given_text, printed, substituted, two_sides, value_text};
pub use sum::factored;
pub use symbol::{symbol, twin_symbol};
pub use width::text_width;
