//! Errors that were planted in sheets and tables, one at a time: how many of them check values and whole jobs noticed, and which
//! they did not. `tests/planted.rs` plants them and writes both files; the reasons are written by hand.

use crate::diag::Checked;
use crate::grid::Grid;
use crate::source::Source;

const COUNTS: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/planted/counts.csv"));
const ESCAPES: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/planted/escapes.csv"));

/// The errors of one sheet or table. What the language refuses is not counted.
pub struct Planted {
    pub name: String,
    pub found: usize,
    /// As many as the run missed.
    pub escapes: Vec<Escape>,
}

pub struct Escape {
    /// The line of the sheet as it was planted; of a table, its row.
    pub line: String,
    pub was: String,
    pub now: String,
    pub reason: String,
}

/// What was planted, by name; and what the first lines of the counts say of the run.
///
/// # Errors
/// One of the files is no table.
pub fn planted() -> Checked<(Vec<Planted>, String)> {
    let read = |name: &str, text: &str| Grid::read(&Source::new(format!("tests/planted/{name}.csv"), text));
    let (counts, escapes) = (read("counts", COUNTS)?, read("escapes", ESCAPES)?);
    let cell = |grid: &Grid, row: usize, column: &str| super::file::cell(grid, row, column).to_string();
    let mut all: Vec<Planted> = (0..counts.rows.len())
        .map(|row| Planted {
            name: cell(&counts, row, "name"),
            found: cell(&counts, row, "found").parse().unwrap_or_default(),
            escapes: Vec::new(),
        })
        .collect();
    for row in 0..escapes.rows.len() {
        let of = |column: &str| cell(&escapes, row, column);
        let escape = Escape { line: of("line"), was: of("was"), now: of("now"), reason: of("reason") };
        if let Some(planted) = all.iter_mut().find(|planted| planted.name == of("name")) {
            planted.escapes.push(escape);
        }
    }
    Ok((all, counts.comments.iter().map(|line| line.trim()).collect::<Vec<_>>().join(" ")))
}
