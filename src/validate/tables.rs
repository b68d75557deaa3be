//! Rows that are looked up in the built-in tables, as these are printed.

use super::file::{About, Wanted, cell, expected};
use super::value::{Answer, Value, What};
use crate::diag::{Checked, Diagnostic};
use crate::grid::Grid;
use crate::quantity::Unit;

/// Columns of a file of table rows that are no key of the table.
const ABOUT: [&str; 7] = ["id", "table", "tolerance", "tolerance_kind", "source", "kind", "note"];

pub(super) fn compare(grid: &Grid, table: &dyn Fn(&str) -> Checked<Grid>) -> Checked<Vec<Value>> {
    let mut values = Vec::new();
    for row in 0..grid.rows.len() {
        let about = About::of(grid, row)?;
        let table = table(cell(grid, row, "table"))?;
        let is_key = |name: &str| !ABOUT.contains(&name) && !name.starts_with("expect ");
        let keys: Vec<(&str, &str)> = grid
            .columns
            .iter()
            .zip(&grid.rows[row])
            .filter(|(column, cell)| is_key(&column.name) && !cell.text.is_empty())
            .map(|(column, cell)| (column.name.as_str(), cell.text.as_str()))
            .collect();
        let entry = (0..table.rows.len()).find(|entry| keys.iter().all(|(key, is)| cell(&table, *entry, key) == *is));
        let number = |name: &str| cell(&table, entry?, name).parse::<f64>().ok();
        for (column, wanted) in expected(grid, row)? {
            let Wanted::Value(name, wanted) = wanted else {
                return Err(Diagnostic::new(format!("`{}`: a table has no limits", column.name))
                    .at(grid.place(&column.cell))
                    .into());
            };
            // Section properties follow from the sizes in the table.
            let power = ["A", "S", "I"].iter().position(|known| *known == name).filter(|_| number(name).is_none());
            let found = match power {
                Some(power) => {
                    number("b").zip(number("d")).map(|(b, d)| b * d.powi(power as i32 + 1) / [1.0, 6.0, 12.0][power])
                }
                None => number(name),
            };
            let unit = column.unit.clone().unwrap_or_else(Unit::none);
            let what = What::Symbol(name.into());
            values.push(Value::new(&about, what, unit, Answer::Number(wanted), found.map(Answer::Number)));
        }
    }
    Ok(values)
}
