//! One formula: its tokens, its tree, the check of its units, its value.
//! Knows nothing of sheets; where a symbol comes from is the caller's affair.

mod check;
mod eval;
mod function;
mod lexer;
mod parser;
mod tree;
mod value;

pub use check::{Kinds, check, check_as, check_condition};
pub use eval::{Stop, Values, compare, eval, holds};
pub use function::Function;
pub use lexer::{Lexer, Token};
pub use parser::Parser;
pub use tree::{Assoc, BinOp, Expr, Node, PREFIX_PRECEDENCE};
pub use value::{Kind, TOLERANCE, Value};
