//! What a terminal, another program or a spreadsheet reads. The only place
//! with colour.

mod changes;
mod choices;
mod comparison;
mod diagnostics;
mod json;
mod limits;
mod open;
mod own;
mod paper;
mod rows;
mod summary;
mod table;
mod validation;
mod workbook;

pub use changes::changes;
pub use choices::{Shown, choices, choices_csv, misses};
pub use comparison::{comparison, comparison_json, is_nothing};
pub use diagnostics::{diagnostics, notes, warnings};
pub use json::{check_json, not_worked_json, pretty, work_json};
pub use limits::{all_limits, post_limits};
pub use open::open_questions;
pub use own::own_list;
pub use paper::Paper;
pub use rows::{check_csv, is_verdict, rows_csv, schedule_files};
pub use summary::{failures, summary};
pub use table::{column_list, sheet_list, work_steps};
pub use validation::{all_values, validation, validation_csv, validation_json};
pub use workbook::workbook;
