//! Starter values: what ends in ` ?` in a cell or a text of `job.toml` is a value
//! that nobody has answered for yet. It is read without the mark, and is open until
//! the mark is taken away. A question mark alone is no value at all.

use std::collections::{BTreeMap, BTreeSet};

use super::known::Known;
use super::rows::Rows;
use crate::diag::{Diagnostic, Diagnostics, Kind::Unreadable, count};
use crate::grid::Grid;
use crate::names::plain;
use crate::source::Place;

/// A value that a file has marked; a column of `posts.csv` or of the reactions is one.
#[derive(Clone, Debug)]
pub struct Starter {
    /// `posts`, `bases`, `site`; nothing for a list of texts.
    pub of: String,
    /// The row of a catalogue.
    pub row: String,
    /// The column or key.
    pub name: String,
    /// As it was typed, without the mark.
    pub value: String,
    /// The plain marks of the posts that rest on it; none where it holds for all.
    pub posts: Option<BTreeSet<String>>,
}

/// What a text says, and whether it is marked.
pub fn unmarked(text: &str) -> (String, bool) {
    match text.trim_end().strip_suffix('?') {
        Some(value) if value.is_empty() || value.ends_with(char::is_whitespace) => (value.trim_end().into(), true),
        _ => (text.into(), false),
    }
}

/// A text as it was typed.
pub fn as_typed(text: &str, marked: bool) -> String {
    if marked { format!("{text} ?").trim().into() } else { text.into() }
}

/// What to say of a question mark that has no value before it.
pub fn unanswered(of: &str, name: &str, known: &Known) -> Diagnostic {
    let diagnostic = Diagnostic::new(format!("`{name}` has a question mark and no value")).of(Unreadable, name);
    let diagnostic = match known.words(of, name) {
        Some([say, kind]) if kind.is_empty() => diagnostic.hint(format!("expected: {say}")),
        Some([say, kind]) => diagnostic.hint(format!("expected: {say} ({kind})")),
        None => diagnostic,
    };
    diagnostic.hint("a value that nobody has confirmed yet is written with the mark after it, such as `12 ft ?`: it is used, and counted as open")
}

/// The cells of a file that are marked, by row and column.
#[derive(Debug, Default)]
pub struct Marked(BTreeSet<(usize, usize)>);

impl Marked {
    /// Takes the marks off the cells of a file.
    pub fn take(grid: &mut Grid) -> Marked {
        let mut marked = BTreeSet::new();
        for (at, row) in grid.rows.iter_mut().enumerate() {
            for (column, cell) in row.iter_mut().enumerate() {
                let (text, is_marked) = unmarked(&cell.text);
                if is_marked {
                    cell.text = text;
                    marked.insert((at, column));
                }
            }
        }
        Marked(marked)
    }

    /// A cell as it was typed.
    pub fn as_typed(&self, text: &str, row: usize, column: usize) -> String {
        as_typed(text, self.0.contains(&(row, column)))
    }

    /// Marks without a value, once for each column that somebody reads.
    pub fn wrong(&self, grid: &Grid, file: &str, known: &Known) -> Diagnostics {
        let mut bare: BTreeMap<usize, Vec<Place>> = BTreeMap::new();
        for &(row, column) in &self.0 {
            let cell = &grid.rows[row][column];
            if cell.text.is_empty() && grid.columns[column].read {
                bare.entry(column).or_default().push(grid.place(cell));
            }
        }
        let wrong = bare.into_iter().map(|(column, places)| {
            let diagnostic = unanswered(file, &grid.columns[column].name, known).at(places[0].clone());
            match places.len() {
                1 => diagnostic,
                many => diagnostic.hint(format!("the same in {} of this column", count(many, "cell"))),
            }
        });
        wrong.collect()
    }

    /// The marked values of a file whose rows belong to posts: each column is one,
    /// with the posts in whose rows it is marked.
    pub fn by_column(&self, grid: &Grid, file: &str) -> Vec<Starter> {
        let Some(mark) = grid.column("mark") else { return Vec::new() };
        let rows = Rows::new(grid, file);
        let mut found: BTreeMap<usize, (Vec<String>, BTreeSet<String>)> = BTreeMap::new();
        for &(row, column) in self.0.iter().filter(|(_, column)| grid.columns[*column].read) {
            let (values, posts) = found.entry(column).or_default();
            let value = rows.fact_of("", row, column).as_typed();
            if !values.contains(&value) {
                values.push(value);
            }
            posts.insert(plain(&grid.rows[row][mark].text));
        }
        let starter = |(column, (values, posts)): (usize, (Vec<String>, BTreeSet<String>))| Starter {
            of: file.into(),
            row: String::new(),
            name: grid.columns[column].name.clone(),
            value: few(&values),
            posts: Some(posts),
        };
        found.into_iter().map(starter).collect()
    }

    /// The marked values of a catalogue. `chosen` gives the posts that name a row, by
    /// its plain name: nothing rests on a row that none does.
    pub fn by_row(&self, grid: &Grid, file: &str, chosen: &BTreeMap<String, BTreeSet<String>>) -> Vec<Starter> {
        let Some(name) = grid.column("name") else { return Vec::new() };
        let rows = Rows::new(grid, file);
        let read = self.0.iter().filter(|(_, column)| grid.columns[*column].read);
        let starter = |&(row, column): &(usize, usize)| {
            let row_name = &grid.rows[row][name].text;
            Some(Starter {
                of: file.into(),
                row: row_name.clone(),
                name: grid.columns[column].name.clone(),
                value: rows.fact_of("", row, column).as_typed(),
                posts: Some(chosen.get(&plain(row_name))?.clone()),
            })
        };
        read.filter_map(starter).collect()
    }
}

/// Values of a column that differ, as far as a line has room for them.
fn few(values: &[String]) -> String {
    const NAMED: usize = 3;
    match values.len() {
        many if many > NAMED + 1 => format!("{} and {} other values", values[..NAMED].join(", "), many - NAMED),
        _ => values.join(", "),
    }
}
