//! A sheet from its cells: what stands in each as text.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

use super::{CELLS, COLUMNS, ROWS, Wrong};
use crate::diag::count;
use crate::source::letters;

#[derive(Debug)]
pub struct Sheet {
    pub name: String,
    /// A line for each row, from the first of the sheet, its cells separated by
    /// commas.
    pub text: String,
    /// What a reader might not expect: hidden rows, merged cells.
    pub remarks: Vec<String>,
}

/// Cells by row and column, from 0.
#[derive(Default)]
pub struct Cells {
    cells: BTreeMap<(u32, u32), String>,
    pub merged: Vec<Region>,
    pub hidden_rows: BTreeSet<u32>,
    pub hidden_columns: BTreeSet<u32>,
    pub hidden: bool,
}

/// Cells that are merged to one, with the last of its rows and columns.
#[derive(Clone, Copy)]
pub struct Region {
    pub first: (u32, u32),
    pub last: (u32, u32),
}

impl Cells {
    /// # Errors
    /// It stands farther down or right than is read.
    pub fn put(&mut self, (row, column): (u32, u32), text: String) -> Result<(), Wrong> {
        let text: String = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if text.is_empty() {
            return Ok(());
        }
        let far = row >= ROWS || column >= COLUMNS;
        if far || self.cells.len() >= CELLS {
            let what = if far { "a cell at" } else { "more cells than are read, up to" };
            return Err(Wrong::Large(format!("there is {what} {}{}", letters(column as usize), row + 1)));
        }
        self.cells.insert((row, column), text);
        Ok(())
    }

    pub fn finish(mut self, name: &str) -> Sheet {
        let last_row = self.cells.keys().map(|(row, _)| *row).max().unwrap_or(0);
        let last_column = self.cells.keys().map(|(_, column)| *column).max().unwrap_or(0);
        let mut remarks = Vec::new();
        if self.hidden {
            remarks.push("the sheet is hidden, and read all the same".to_string());
        }
        // Each cell of a merged one reads as what is seen there.
        let mut tall = Vec::new();
        for Region { first, last } in &self.merged {
            let Some(text) = self.cells.get(first).cloned() else { continue };
            let last = (last.0.min(last_row), last.1.min(last_column));
            for row in first.0..=last.0 {
                for column in first.1..=last.1 {
                    self.cells.insert((row, column), text.clone());
                }
            }
            if last.0 > first.0 {
                tall.push(format!("{}:{}", cell(*first), cell(last)));
            }
        }
        if !tall.is_empty() {
            let more = tall.len().saturating_sub(6);
            tall.truncate(6);
            let more = if more > 0 { format!(" and {more} more") } else { String::new() };
            remarks.push(format!("every row of merged cells reads as what stands in them: {}{more}", tall.join(", ")));
        }
        let rows = self.hidden_rows.iter().filter(|row| self.cells.range((**row, 0)..(**row + 1, 0)).next().is_some());
        let rows: Vec<String> = rows.map(|row| (row + 1).to_string()).collect();
        let columns = self.hidden_columns.iter().filter(|column| self.cells.keys().any(|(_, at)| at == *column));
        let columns: Vec<String> = columns.map(|column| letters(*column as usize)).collect();
        for (names, noun) in [(rows, "row"), (columns, "column")] {
            if let [first, .., last] | [first @ last] = names.as_slice() {
                let which = match names.len() {
                    1..=6 => names.join(", "),
                    _ => format!("from {first} to {last}"),
                };
                let (are, verb) = if names.len() == 1 { ("is", "reads") } else { ("are", "read") };
                remarks.push(format!("{} {are} hidden, and {verb} like the others: {which}", count(names.len(), noun)));
            }
        }
        let mut text = String::new();
        let (mut row, mut column) = (0, 0);
        for ((at_row, at_column), value) in &self.cells {
            if *at_row > row {
                (row..*at_row).for_each(|_| text.push('\n'));
                (row, column) = (*at_row, 0);
            }
            (column..*at_column).for_each(|_| text.push(','));
            column = *at_column;
            match value.contains([',', '"']) {
                true => write!(text, "\"{}\"", value.replace('"', "\"\"")).unwrap_or_default(),
                false => text.push_str(value),
            }
        }
        text.push('\n');
        Sheet { name: name.into(), text, remarks }
    }
}

fn cell((row, column): (u32, u32)) -> String {
    format!("{}{}", letters(column as usize), row + 1)
}

/// A number to the fifteen digits that a spreadsheet holds, and no more of them
/// than it takes: 0.3 for what a formula adds up to 0.30000000000000004.
pub fn number(value: f64) -> String {
    let rounded: f64 = format!("{value:.14e}").parse().unwrap_or(value);
    format!("{}", rounded + 0.0)
}

/// Hours and minutes: what a spreadsheet makes of `3:12`.
pub fn time(seconds: f64) -> String {
    let seconds = seconds.round() as i64;
    let (hours, minutes, rest) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    match rest {
        0 => format!("{hours}:{minutes:02}"),
        rest => format!("{hours}:{minutes:02}:{rest:02}"),
    }
}
