//! `socle work`: one sheet alone, once or for every row of a file.

use super::{Run, note, outcome};
use crate::alone::{self, Alone};
use crate::cli::WorkArgs;
use crate::diag::Diagnostic;
use crate::files::say;
use crate::grid::{self, Grid};
use crate::load::{named_sheet, source};
use crate::report;
use crate::templates::Templates;

pub(super) fn work(args: &WorkArgs) -> Run {
    let library = Templates::of(args.job.as_deref())?.library()?;
    let alone = Alone::new(named_sheet(&library, &args.sheet)?, &library)?;
    let typed = alone::typed(&args.inputs)?;
    let Some(path) = &args.rows else {
        let worked = alone.work(typed)?;
        say(&if args.json { report::work_json(&worked) } else { report::work_steps(&worked) })?;
        return Ok(outcome(alone::all_met(&worked)));
    };
    let grid = Grid::read(&source(path)?)?;
    let added = |column: &&grid::Column| report::is_verdict(&column.name);
    if let Some(column) = grid.columns.iter().find(added) {
        return Err(Diagnostic::new(format!("`{}` is a column that `--rows` adds", column.name))
            .at(grid.place(&column.cell))
            .hint("take it out, or give it another name, so that it is plain which verdict is which")
            .into());
    }
    let worked = alone.rows(&grid, &typed)?;
    note(&alone.unread(&grid));
    say(&report::rows_csv(&grid, &worked))?;
    Ok(outcome(worked.iter().all(alone::all_met)))
}
