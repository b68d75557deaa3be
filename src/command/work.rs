//! `socle work`: one sheet alone, once or for every row of a file.

use std::collections::BTreeMap;
use std::path::Path;

use jiff::civil::Date;

use super::package::json;
use super::{Run, note, outcome};
use crate::alone::{self, Alone};
use crate::cli::WorkArgs;
use crate::diag::{Diagnostic, count};
use crate::files::{Failure, say, write};
use crate::grid::{self, Grid};
use crate::load::{named_sheet, source};
use crate::quantity::Units;
use crate::sheet::{Library, Worked};
use crate::templates::{TITLE_BLOCK, Templates};
use crate::{package, pdf, report};

pub(super) fn work(args: &WorkArgs) -> Run {
    let library = Templates::of(args.job.as_deref())?.library()?;
    let units = args.units.as_deref().and_then(Units::named);
    let library = if let Some(units) = units { library.printed_in(units) } else { library };
    let alone = Alone::new(named_sheet(&library, &args.sheet)?, &library)?;
    let typed = alone::typed(&args.inputs)?;
    let Some(path) = &args.rows else {
        let worked = alone.work(typed)?;
        if let Some(output) = &args.output {
            return page(args, output, &library, worked);
        }
        say(&if args.json { report::work_json(&worked) } else { report::work_steps(&worked) })?;
        return Ok(outcome(alone::all_met(&worked)));
    };
    let grid = Grid::read(&source(path)?)?;
    let added = |column: &&grid::Column| report::is_verdict(&column.name);
    if let Some(column) = grid.columns.iter().find(added) {
        return Err(Diagnostic::new(format!("`{}` is a column that `--rows` adds", column.name))
            .at(grid.place(&column.cell))
            .hint("remove it, or give it another name, so that it is clear which verdict is which")
            .into());
    }
    let worked = alone.rows(&grid, &typed)?;
    note(&alone.unread(&grid));
    say(&report::rows_csv(&grid, &worked))?;
    Ok(outcome(worked.iter().all(alone::all_met)))
}

/// The worked sheet as a page of a notebook.
fn page(args: &WorkArgs, output: &Path, library: &Library, worked: Worked) -> Run {
    let date = match &args.date {
        Some(text) => text.parse::<Date>().map_err(|_| {
            Failure::from(Diagnostic::new(format!("found `--date {text}`; expected a date such as `2026-11-02`")))
        })?,
        // A file has to have one; none is printed, and the same numbers make the same file.
        None => Date::constant(2000, 1, 1),
    };
    let printed = args.date.as_ref().map_or(String::new(), |_| date.to_string());
    let ok = alone::all_met(&worked);
    let program = concat!("socle ", env!("CARGO_PKG_VERSION"));
    let notebook = package::notebook(library, library.units(), worked, program, &printed);
    let mut files: BTreeMap<String, Vec<u8>> = BTreeMap::new();
    let pages = |path: &str| path.starts_with("package/") || path == TITLE_BLOCK;
    for (path, bytes) in Templates::built_in().files.into_iter().filter(|(path, _)| pages(path)) {
        files.insert(format!("/templates/{path}"), bytes);
    }
    files.insert("/notebook.json".into(), json(&notebook)?);
    files.insert("/guess.json".into(), b"{}".to_vec());
    let (paper, width) = library.units().paper();
    files.insert("/paper.json".into(), json(&serde_json::json!({ "name": paper, "width": width }))?);
    let date = (date.year().into(), date.month() as u8, date.day() as u8);
    let ident = format!("{} {}", args.sheet, args.inputs.join(" "));
    let document = pdf::Document { files, main: "/templates/package/notebook.typ", date, ident: &ident };
    let pdf = pdf::render(document).map_err(|lines| {
        let said = lines.into_iter().map(|line| Diagnostic::new(format!("the page could not be typeset: {line}")));
        Failure::Wrong(said.collect())
    })?;
    write(output, &pdf.bytes)?;
    say(&format!("{} written, {}. {}\n", output.display(), count(pdf.pages, "page"), notebook.headline))?;
    Ok(outcome(ok))
}
