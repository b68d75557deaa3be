//! `socle work`: one sheet alone, once or for every row of a file.

use std::path::Path;

use super::page::{Dated, typeset};
use super::{Run, note, outcome};
use crate::alone::{self, Alone};
use crate::archive::PROGRAM;
use crate::cli::WorkArgs;
use crate::diag::{Diagnostic, count};
use crate::files::{say, say_of, write};
use crate::grid::{self, Grid};
use crate::load::{named_sheet, source};
use crate::quantity::Units;
use crate::sheet::{Library, Worked};
use crate::templates::Templates;
use crate::{package, report};

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
    let dated = Dated::typed(args.date.as_deref())?;
    let ok = alone::all_met(&worked);
    let notebook = package::notebook(library, library.units(), worked, PROGRAM, &dated.printed);
    let ident = format!("{} {}", args.sheet, args.inputs.join(" "));
    let pdf = typeset("notebook", &notebook, library.units(), &dated, &ident)?;
    write(output, &pdf.bytes)?;
    say_of(output, &format!("{} written, {}. {}\n", output.display(), count(pdf.pages, "page"), notebook.headline))?;
    Ok(outcome(ok))
}
