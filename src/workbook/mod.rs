//! A workbook of a spreadsheet program as texts: each sheet as the CSV file that
//! would be saved from it, a line for each of its rows, so that lines have the
//! numbers of rows.

mod archive;
mod ods;
mod sheet;
mod tags;
mod xlsx;

pub use sheet::Sheet;

use crate::diag::Diagnostic;
use crate::source::{Form, Source};

/// How the name of a file that is read as a workbook ends.
pub const ENDS: [&str; 2] = [".xlsx", ".ods"];

/// So large may a file be, in bytes, and so large unpacked.
const PACKED: usize = 32 << 20;
const UNPACKED: u64 = 256 << 20;

/// So many rows, columns and cells may a sheet have.
const ROWS: u32 = 20_000;
const COLUMNS: u32 = 1_000;
const CELLS: usize = 1_000_000;

/// Whether a file is read as a workbook.
pub fn is_workbook(name: &str) -> bool {
    ENDS.iter().any(|end| name.to_lowercase().ends_with(end))
}

/// The sheets of a workbook in their order; those that are not wanted come without
/// their cells.
///
/// # Errors
/// It cannot be read, or is larger than a job's tables are.
pub fn read(name: &str, bytes: &[u8], wanted: &dyn Fn(&str) -> bool) -> Result<Vec<Sheet>, Diagnostic> {
    let wrong = |why: Wrong| why.of(name);
    if bytes.len() > PACKED {
        return Err(wrong(Wrong::Large(format!("the file has over {} MB", PACKED >> 20))));
    }
    let parts = archive::open(bytes).map_err(wrong)?;
    let sheets = match parts.text("content.xml") {
        Some(content) => ods::sheets(bytes, &content, wanted),
        None => xlsx::sheets(bytes, &parts, wanted),
    };
    sheets.map_err(wrong)
}

/// Why a workbook is not read.
enum Wrong {
    Damaged(String),
    Encrypted,
    /// The format of before 2007.
    Old,
    /// No workbook at all.
    Other,
    Large(String),
}

impl Wrong {
    fn of(self, name: &str) -> Diagnostic {
        let wrong = |what: &str| Diagnostic::new(format!("`{name}` {what}"));
        match self {
            Wrong::Damaged(how) => wrong(&format!("is damaged: {how}"))
                .hint("open it in the spreadsheet program and save it again, or save each sheet as a CSV file"),
            Wrong::Encrypted => wrong("is locked with a password")
                .hint("take the password off in the spreadsheet program, and save it again"),
            Wrong::Old => wrong("is a workbook in the old format `.xls`, whatever its name")
                .hint("save it as `.xlsx` or `.ods` in the spreadsheet program"),
            Wrong::Other => wrong("is not a workbook, whatever its name")
                .hint("save it as `.xlsx` or `.ods` in the spreadsheet program; a text with separators is called `.csv`"),
            Wrong::Large(how) => wrong(&format!("is larger than is read: {how}")).hint(format!(
                "a workbook has at most {} MB, {} MB unpacked, and each sheet {ROWS} rows and {COLUMNS} columns: remove what is not a table of the job, and stray cells far below and to the right of it",
                PACKED >> 20,
                UNPACKED >> 20,
            )),
        }
    }
}

/// What a cell holds that is no value, as it reads in a spreadsheet or in a CSV
/// file that was saved from one, and what to do.
pub fn no_value(text: &str) -> Option<(String, &'static str)> {
    const ERRORS: [(&str, &str); 8] = [
        ("#REF!", "its formula refers to a cell that is gone"),
        ("#DIV/0!", "its formula divides by zero or by an empty cell"),
        ("#VALUE!", "its formula calculates with a text"),
        ("#NAME?", "its formula has a name that the spreadsheet does not know"),
        ("#N/A", "its formula looks up something that is not there"),
        ("#NUM!", "its formula does not give a number"),
        ("#NULL!", "its formula asks for cells that two ranges do not share"),
        ("#SPILL!", "its formula has no room for its result"),
    ];
    const MEND: &str = "fix the formula in the spreadsheet, or type the value in its place, and save again";
    if let Some((error, why)) = ERRORS.iter().find(|(error, _)| text.starts_with(error)) {
        return Some((format!("the cell holds `{error}`: {why}"), MEND));
    }
    let code = text.strip_prefix("Err:").filter(|code| code.len() == 3 && code.bytes().all(|b| b.is_ascii_digit()));
    if code.is_some() || text == "#DATA!" {
        return Some((format!("the cell holds `{text}`: its formula cannot be calculated"), MEND));
    }
    let narrow = text.len() > 2 && text.bytes().all(|byte| byte == b'#');
    if narrow {
        return Some((
            format!("the cell holds `{text}`: its column was too narrow to show the value when the file was written"),
            "make the column wider, and save again",
        ));
    }
    let formula = text.strip_prefix('=').is_some_and(|rest| !rest.trim().is_empty());
    formula.then(|| {
        (
            format!("the cell holds the formula `{}`, and the file does not have its result", text.trim()),
            "open the file in the spreadsheet program, which calculates its formulas, and save it; or type the value in its place",
        )
    })
}

/// The text of a sheet as a source that tells its cells as the spreadsheet does.
pub fn source(name: impl Into<String>, sheet: &Sheet) -> std::sync::Arc<Source> {
    Source::with(name, sheet.text.as_str(), Form::Sheet)
}
