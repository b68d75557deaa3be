//! A file of check values: a CSV file whose name begins with what it is about, `column--worked-examples`. Its columns
//! `expect …` say what is expected, and five more say how near, by whom and on what ground; others are given.

use include_dir::{Dir, include_dir};

use super::value::{Kind, Tolerance};
use crate::diag::{Checked, Diagnostic};
use crate::grid::{Column, Grid, decode};
use crate::source::Source;

/// The same files as those of the tests.
static BUILT_IN: Dir = include_dir!("$CARGO_MANIFEST_DIR/tests/check-values");

pub struct File {
    /// Without its ending.
    pub name: String,
    pub grid: Grid,
}

impl File {
    /// # Errors
    /// It is no table of cells.
    pub fn read(name: &str, bytes: &[u8]) -> Checked<File> {
        let grid = Grid::read(&Source::new(format!("check-values/{name}.csv"), decode(bytes)))?;
        Ok(File { name: name.into(), grid })
    }

    /// By name.
    ///
    /// # Errors
    /// One of them is no table of cells.
    pub fn built_in() -> Checked<Vec<File>> {
        File::texts().map(|(name, bytes)| File::read(name, bytes)).collect()
    }

    /// The names and texts of those that are built in.
    pub fn texts() -> impl Iterator<Item = (&'static str, &'static [u8])> {
        let name = |file: &include_dir::File<'static>| file.path().file_name()?.to_str()?.strip_suffix(".csv");
        let mut texts: Vec<_> = BUILT_IN.files().filter_map(|file| Some((name(file)?, file.contents()))).collect();
        texts.sort();
        texts.into_iter()
    }

    /// The sheet that it is about, or `tables`, or `combinations`.
    pub fn about(&self) -> &str {
        self.name.split("--").next().unwrap_or(&self.name)
    }

    /// What it says of itself; how it came to be is for who changes it.
    pub fn words(&self) -> String {
        let lines = self.grid.comments.iter().map(|line| line.trim()).filter(|line| !line.contains("do not edit"));
        lines.collect::<Vec<_>>().join(" ")
    }
}

/// What a cell expects.
pub enum Wanted<'a> {
    /// `expect Z [lbf]`: what a symbol, or a cell of a table, comes to.
    Value(&'a str, f64),
    /// `expect name: pattern`: the name that a symbol comes to.
    Name(&'a str, &'a str),
    /// `expect pieces: WORDS`: how many are to be ordered, and of what, `2 of 0.75 in, painted`; or none.
    Pieces(&'a str, &'a str),
    /// `expect ratio: WORDS`: demand over capacity of a limit.
    Ratio(&'a str, f64),
    /// `expect verdict: WORDS`: met or not; none where the sheet is not to come to that limit.
    Verdict(&'a str, Option<bool>),
    /// `expect refused`: words of the message.
    Refusal(&'a str),
}

/// What a row expects, cell by cell.
///
/// # Errors
/// A cell that is no number, or no verdict.
pub fn expected(grid: &Grid, row: usize) -> Checked<Vec<(&Column, Wanted<'_>)>> {
    let mut all = Vec::new();
    for (column, cell) in grid.columns.iter().zip(&grid.rows[row]).filter(|(_, cell)| !cell.text.is_empty()) {
        let Some(name) = column.name.strip_prefix("expect ") else { continue };
        let wrong =
            |what: &str| Diagnostic::new(format!("found `{}`; expected {what}", cell.text)).at(grid.place(cell));
        let number = || cell.text.parse::<f64>().map_err(|_| wrong("a number"));
        all.push((
            column,
            if let Some(words) = name.strip_prefix("ratio: ") {
                Wanted::Ratio(words, number()?)
            } else if let Some(words) = name.strip_prefix("verdict: ") {
                match cell.text.as_str() {
                    "met" => Wanted::Verdict(words, Some(true)),
                    "not met" => Wanted::Verdict(words, Some(false)),
                    "not asked" => Wanted::Verdict(words, None),
                    _ => return Err(wrong("`met`, `not met` or `not asked`").into()),
                }
            } else if let Some(name) = name.strip_prefix("name: ") {
                Wanted::Name(name, &cell.text)
            } else if let Some(words) = name.strip_prefix("pieces: ") {
                Wanted::Pieces(words, &cell.text)
            } else if name == "refused" {
                Wanted::Refusal(&cell.text)
            } else {
                Wanted::Value(name, number()?)
            },
        ));
    }
    Ok(all)
}

/// Nothing in a column that the file does not have.
pub(super) fn cell<'a>(grid: &'a Grid, row: usize, column: &str) -> &'a str {
    grid.column(column).map_or("", |column| &grid.rows[row][column].text)
}

/// What a row says of its values.
pub(super) struct About<'a> {
    pub id: &'a str,
    pub source: &'a str,
    pub kind: Kind,
    pub tolerance: Tolerance,
}

impl<'a> About<'a> {
    pub fn of(grid: &'a Grid, row: usize) -> Checked<About<'a>> {
        let of = |column: &str| cell(grid, row, column);
        let wrong = |column: &str, what: &str| {
            let diagnostic = Diagnostic::new(format!("found `{}`; expected {what}", of(column)));
            match grid.column(column) {
                Some(at) => diagnostic.at(grid.place(&grid.rows[row][at])),
                None => diagnostic.at(grid.header()),
            }
        };
        let kind = Kind::named(of("kind")).ok_or_else(|| wrong("kind", "`published`, `independent` or `recalled`"))?;
        // A verdict has none.
        let amount = match of("tolerance") {
            "" => 0.0,
            text => text.parse().map_err(|_| wrong("tolerance", "a number"))?,
        };
        let tolerance = match of("tolerance_kind") {
            "rel" => Tolerance::Relative(amount),
            "abs" => Tolerance::Absolute(amount),
            "" => Tolerance::Relative(0.0),
            _ => return Err(wrong("tolerance_kind", "`rel` or `abs`").into()),
        };
        Ok(About { id: of("id"), source: of("source"), kind, tolerance })
    }
}
