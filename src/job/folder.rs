//! What else stands in a job's folder: a file whose name is nearly one that is
//! read would be left out without a word.

use super::catalogue::{CATALOGUES, is_part};
use crate::diag::{Diagnostic, Diagnostics};
use crate::names::{nearest, same_name};
use crate::workbook::is_workbook;

/// Names in a folder that are slips of names that are read, and a note of tables
/// that nobody reads. `read` lists the files of a job.
pub fn strangers(folder: &str, names: &[String], read: &[String]) -> (Diagnostics, Diagnostics) {
    let (mut wrong, mut unread) = (Diagnostics::new(), Vec::new());
    for name in names.iter().filter(|name| *name != "templates" && !read.contains(name) && !name.starts_with('.')) {
        if same_name(name, "templates") {
            wrong.push(
                Diagnostic::new(format!("`{folder}/{name}` is not read"))
                    .hint("the folder of a job's own sheets and tables is called `templates`, in lowercase"),
            );
            continue;
        }
        let Some((stem, end)) = name.rsplit_once('.') else { continue };
        if is_foreign(end)
            && read.iter().filter_map(|known| known.split('.').next()).any(|known| same_name(known, stem))
        {
            wrong.push(
                Diagnostic::new(format!("`{folder}/{name}` is not read"))
                    .hint("save it as `.xlsx` or `.ods` in the spreadsheet program, or its sheets as CSV files"),
            );
            continue;
        }
        if !["csv", "toml"].iter().any(|known| end.eq_ignore_ascii_case(known)) {
            continue;
        }
        let near = read.iter().find(|known| same_name(known, name)).map(String::as_str);
        let stems =
            read.iter().map(String::as_str).filter(|known| known.rsplit('.').next() == Some(&end.to_lowercase()));
        // Beside the file that is read, one of nearly its name is a copy.
        let near = near.or_else(|| {
            let stem = nearest(stem, stems.clone().map(|known| known.split('.').next().unwrap_or(known)))?;
            stems
                .clone()
                .find(|known| known.split('.').next() == Some(stem))
                .filter(|near| !names.iter().any(|name| name == near))
        });
        match near {
            Some(near) => wrong.push(
                Diagnostic::new(format!("`{folder}/{name}` is not read")).hint(format!("did you mean `{near}`?")),
            ),
            None => unread.push(format!("`{name}`")),
        }
    }
    let notes = match unread[..] {
        [] => Diagnostics::new(),
        _ => vec![
            Diagnostic::new(format!("not read in `{folder}`: {}", unread.join(", ")))
                .hint(format!("the files of a job are {}", read.join(", "))),
        ],
    };
    (wrong, notes)
}

/// Whether a file name ends as those of workbooks do that are not read.
fn is_foreign(end: &str) -> bool {
    ["xls", "xlsm", "xlsb", "fods", "numbers"].iter().any(|known| end.eq_ignore_ascii_case(known))
}

/// What is wrong with a folder that has nearly the name of a catalogue and holds tables:
/// its rows would be left out without a word.
pub fn slip_of_folder(folder: &str, name: &str) -> Option<Diagnostic> {
    let known = CATALOGUES.iter().map(|catalogue| catalogue.name);
    let near = nearest(name, known).filter(|near| *near != name)?;
    let wrong = Diagnostic::new(format!("the folder `{folder}/{name}` is not read"));
    Some(wrong.hint(format!("did you mean `{near}`? a folder with files of {near} has just this name")))
}

/// What stands in the folder of a catalogue besides the CSV files that are read, and is
/// no part of the job; a workbook there may hold rows that are missed. `inside` lists the
/// names, of folders with a `/` at the end.
pub fn strangers_of_catalogue(folder: &str, name: &str, inside: &[String]) -> (Diagnostics, Diagnostics) {
    let (mut wrong, mut unread) = (Diagnostics::new(), Vec::new());
    for other in inside.iter().filter(|other| !is_part(other) && !other.starts_with(['.', '~'])) {
        if is_workbook(other) || is_foreign(other.rsplit('.').next().unwrap_or_default()) {
            wrong.push(
                Diagnostic::new(format!("`{folder}/{name}/{other}` is not read"))
                    .hint(format!("save its sheet as a CSV file in this folder; or have all of the {name} in one workbook, `{name}.xlsx` or `{name}.ods`, beside `job.toml`")),
            );
        } else {
            unread.push(format!("`{other}`"));
        }
    }
    let mut notes = Diagnostics::new();
    if !unread.is_empty() {
        notes.push(
            Diagnostic::new(format!("not read in `{folder}/{name}`: {}", unread.join(", ")))
                .hint(format!("the CSV files that stand in `{name}` itself are read, whatever their names")),
        );
    } else if wrong.is_empty() && !inside.iter().any(|name| is_part(name)) {
        notes.push(Diagnostic::new(format!("the folder `{folder}/{name}` holds no CSV file")));
    }
    (wrong, notes)
}
