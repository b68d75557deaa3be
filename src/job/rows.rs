//! The rows of a CSV file as facts. What all cells of a column have in common
//! is made once and shared.

use std::sync::Arc;

use super::fact::{Fact, Facts, Whence};
use crate::diag::{Diagnostic, Kind::Missing};
use crate::grid::{Cell, Column, Grid};
use crate::quantity::Unit;
use crate::source::Form;

pub struct Rows<'a> {
    pub grid: &'a Grid,
    columns: Vec<Shared>,
}

/// What the facts of one column share.
struct Shared {
    unit: Option<Arc<Unit>>,
    whence: Arc<Whence>,
}

impl<'a> Rows<'a> {
    /// `file` names the grid on a page.
    pub fn new(grid: &'a Grid, file: &str) -> Rows<'a> {
        let file = if grid.source.form == Form::Sheet { grid.source.file() } else { file };
        let share = |column: &Column| Shared {
            unit: column.unit.clone().map(Arc::new),
            whence: Whence::new(file, column.name.as_str()),
        };
        Rows { grid, columns: grid.columns.iter().map(share).collect() }
    }

    pub fn cell(&self, row: usize, column: usize) -> &'a Cell {
        &self.grid.rows[row][column]
    }

    /// The cells of a row that are not empty, by the names of their columns,
    /// without the columns that nobody reads or that are not to be kept.
    pub fn facts(&self, row: usize, keep: impl Fn(usize) -> bool) -> Facts {
        let columns = self.grid.columns.iter().zip(&self.columns).zip(&self.grid.rows[row]).enumerate();
        let kept = columns.filter(|(at, ((column, _), cell))| !cell.text.is_empty() && column.read && keep(*at));
        kept.map(|(_, ((column, shared), cell))| (column.name.clone(), self.fact(cell, shared, &shared.whence)))
            .collect()
    }

    /// The cells of a row that are not empty and that nobody reads.
    pub fn others(&self, row: usize) -> Facts {
        let columns = self.grid.columns.iter().zip(&self.columns).zip(&self.grid.rows[row]);
        let kept = columns.filter(|((column, _), cell)| !cell.text.is_empty() && !column.read);
        kept.map(|((column, shared), cell)| (column.name.clone(), self.fact(cell, shared, &shared.whence))).collect()
    }

    /// A cell as a fact of a thing that has a name.
    pub fn fact_of(&self, whose: &str, row: usize, column: usize) -> Fact {
        let whence = Whence::new(whose, self.grid.columns[column].name.as_str());
        self.fact(self.cell(row, column), &self.columns[column], &whence)
    }

    fn fact(&self, cell: &Cell, shared: &Shared, whence: &Arc<Whence>) -> Fact {
        Fact {
            text: cell.text.clone(),
            unit: shared.unit.clone(),
            place: self.grid.place(cell),
            whence: whence.clone(),
            decimals: self.grid.decimals,
        }
    }
}

/// The column of a name.
///
/// # Errors
/// There is none, and `what` it is for.
pub fn need_column(grid: &Grid, name: &str, what: &str) -> Result<usize, Diagnostic> {
    grid.column(name).ok_or_else(|| {
        Diagnostic::new(format!("there is no column `{name}`, {what}")).at(grid.header()).of(Missing, name)
    })
}
