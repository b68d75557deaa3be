//! What a terminal, another program or a spreadsheet reads. The only place
//! with colour.

mod diagnostics;
mod json;
mod open;
mod own;
mod rows;
mod table;

pub use diagnostics::{diagnostics, notes, warnings};
pub use json::{check_json, not_worked_json, work_json};
pub use open::open_questions;
pub use own::own_list;
pub use rows::{check_csv, is_verdict, limits, rows_csv, schedule_files};
pub use table::{check_table, column_list, sheet_list, work_steps};
