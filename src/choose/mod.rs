//! What else could hold each post: every base, foundation and anchor of the job's
//! catalogues together, worked for the post with all the others as they are.

mod kinds;
mod order;
mod trial;
mod write;

pub use kinds::fewest;
pub use order::{Order, Sums, sums};
pub use trial::{Choice, Found, Outcome, Trial, Tried, try_all};
pub use write::{Change, changed};
