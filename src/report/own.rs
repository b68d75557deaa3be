//! The job's own sheets and tables, with what uses them.

use crate::diag::{count, list};
use crate::sheet::{Library, Own, Used, What};

/// A file of the job's own in two lines: where it is and what it is; what uses it.
pub fn own_list(folder: &str, library: &Library, used: &Used, title_block: bool) -> String {
    let files = library.own().len() + usize::from(title_block);
    let mut out = match files {
        0 => format!("{folder} has no sheets or tables of its own.\n"),
        files => format!("The job's own in {folder}, {}:\n", count(files, "file")),
    };
    if title_block {
        out += "\ntemplates/title-block.typ\n  a title block in place of the built-in one, set on the cover and in the head of every sheet\n";
    }
    for own in library.own() {
        let by: Vec<&String> = used.by(own).into_iter().flatten().collect();
        let uses = match (used.by(own).is_some(), by.is_empty(), own.what) {
            (false, ..) => "NOT USED: `socle check` says why, and stops".into(),
            (true, true, _) => "read as a whole for every post".into(),
            (true, false, What::Sheet) => format!("used by {}", list(&by, "and")),
            (true, false, What::Table) => format!("read by {}", list(&by, "and")),
        };
        out +=
            &format!("\ntemplates/{}\n  {}: {}\n  {}{uses}\n", own.path, own.title, own.stands(), extent(library, own));
    }
    out + "\n`socle sheets` lists the built-in sheets, `socle sheets NAME` prints one, `socle sheets FILE` checks one of your own.\n\
           `socle sheets new NAME --job JOB` begins a sheet, `socle sheets new title-block --job JOB` a title block.\n"
}

/// How much is in it: the columns that it reads, the rows that it has.
fn extent(library: &Library, own: &Own) -> String {
    match own.what {
        What::Table => library
            .table(&own.name)
            .map_or(String::new(), |table| format!("{}; ", count(table.own_rows().count(), "row"))),
        What::Sheet => {
            let Some(sheet) = library.sheet(&own.name) else { return String::new() };
            let columns = sheet.inputs.iter().filter_map(|input| {
                let from = input.from.as_ref()?;
                Some(format!("{}.{}", from.source, from.name)).filter(|_| library.sheet(&from.source).is_none())
            });
            let columns: Vec<String> = columns.collect();
            if columns.is_empty() { String::new() } else { format!("reads {}; ", list(&columns, "and")) }
        }
    }
}
