//! `socle sheets`: what sheets there are, what they read, and whether one is in order.

use std::collections::BTreeSet;
use std::path::Path;

use super::{Outcome, Run, new_sheet};
use crate::cli::SheetsArgs;
use crate::diag::Diagnostic;
use crate::engine::{self, Column, ROOTS, TABLES};
use crate::files::{Failure, say};
use crate::load::{named_sheet, source};
use crate::report;
use crate::sheet::Library;
use crate::templates::Templates;

pub(super) fn sheets(args: &SheetsArgs) -> Run {
    if let [first, name] = args.what.as_slice()
        && first == NEW
    {
        new_sheet::new(name, args.job.as_deref())?;
        return Ok(Outcome::Met);
    }
    let templates = Templates::of(args.job.as_deref())?;
    if let Some(file) = &args.columns {
        let library = templates.library()?.printed_in(args.units.units());
        say(&report::column_list(&columns_of(file, &library)?, &engine::keys_by_post(&library)))?;
        return Ok(Outcome::Met);
    }
    match args.what.as_slice() {
        [] => say(&report::sheet_list(&templates.library()?))?,
        [one] if one == NEW => {
            return Err(Diagnostic::new("`socle sheets new` does not say what the new sheet is called")
                .hint("write `socle sheets new NAME --job JOB`, such as `socle sheets new least-side --job JOB`; `new title-block` begins a title block")
                .into());
        }
        [one] if Path::new(one).is_dir() => own(one, args, &templates)?,
        // A name with a dot or a slash is a file of the user's own.
        [one] if one.contains(['/', '.', '\\']) => {
            let library = templates.library_with(&source(Path::new(one))?)?;
            say(&format!("{one} is in order; {} sheets were checked with it\n", library.sheets().count() - 1))?;
        }
        [one] => say(&named_sheet(&templates.library()?, one)?.source.text)?,
        [first, second, ..] => {
            return Err(Diagnostic::new(format!("found `{first} {second}`; ask for one sheet, file or folder at a time"))
                .hint(format!("`socle sheets {first}` and then `socle sheets {second}`; or `socle sheets new NAME --job JOB` begins a sheet"))
                .into());
        }
    }
    Ok(Outcome::Met)
}

const NEW: &str = "new";

/// What the job in a folder has of its own.
fn own(folder: &str, args: &SheetsArgs, templates: &Templates) -> Result<(), Failure> {
    if args.job.is_some() {
        return Err(Diagnostic::new(format!("`{folder}` is a folder, and `--job` names one too"))
            .hint(format!("`socle sheets {folder}` lists what the job in it has of its own"))
            .into());
    }
    if templates.library()?.sheet(folder).is_some() {
        return Err(Diagnostic::new(format!("`{folder}` is both a sheet and a folder here"))
            .hint(format!("write `./{folder}` for the folder; or ask for the sheet in another folder"))
            .into());
    }
    let templates = Templates::of(Some(Path::new(folder)))?;
    let library = templates.loaded()?;
    let used = library.used(&ROOTS, &TABLES);
    say(&report::own_list(folder, &library, &used, templates.title_block().is_some()))
}

/// The columns of a file or table; all of them without a name.
fn columns_of(file: &str, library: &Library) -> Result<Vec<Column>, Failure> {
    let mut columns = engine::columns(library);
    // `bases/made.csv` has the columns of `bases.csv`.
    let wanted = file.split('/').next().unwrap_or_default().trim_end_matches(".csv");
    let known: BTreeSet<String> = columns.iter().map(|column| column.source.clone()).collect();
    match wanted {
        "" => {}
        "job.toml" => columns.retain(Column::is_key),
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
