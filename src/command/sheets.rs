//! `socle sheets`: what sheets there are, what they read, and whether one is in order.

use std::collections::BTreeSet;
use std::path::Path;

use super::{Outcome, Run};
use crate::cli::SheetsArgs;
use crate::diag::Diagnostic;
use crate::engine::{self, Column};
use crate::files::{Failure, say};
use crate::load::{named_sheet, source};
use crate::report;
use crate::sheet::Library;
use crate::templates::Templates;

pub(super) fn sheets(args: &SheetsArgs) -> Run {
    let templates = Templates::of(args.job.as_deref())?;
    if let Some(file) = &args.columns {
        say(&report::column_list(&columns_of(file, &templates.library()?)?))?;
        return Ok(Outcome::Met);
    }
    match &args.name {
        None => say(&report::sheet_list(&templates.library()?))?,
        // A name with a dot or a slash is a file of the user's own.
        Some(name) if name.contains(['/', '.', '\\']) => {
            let library = templates.library_with(&source(Path::new(name))?)?;
            say(&format!("{name} is in order; {} sheets were checked with it\n", library.sheets().count() - 1))?;
        }
        Some(name) => say(&named_sheet(&templates.library()?, name)?.source.text)?,
    }
    Ok(Outcome::Met)
}

/// The columns of a file or table; all of them without a name.
fn columns_of(file: &str, library: &Library) -> Result<Vec<Column>, Failure> {
    let mut columns = engine::columns(library);
    let wanted = file.trim_end_matches(".csv");
    let known: BTreeSet<String> = columns.iter().map(|column| column.source.clone()).collect();
    match wanted {
        "" => {}
        "job.toml" => columns.retain(|column| engine::is_setting(&column.source)),
        _ => columns.retain(|column| column.source == wanted),
    }
    if columns.is_empty() {
        return Err(Diagnostic::new(format!("there is no file or table `{file}`"))
            .nearest(wanted, known.iter().map(String::as_str))
            .hint("`socle sheets --columns` prints them all")
            .into());
    }
    Ok(columns)
}
