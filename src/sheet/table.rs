//! Tables of published values: a CSV file whose first columns are keys, whose
//! rows each name their source.
//!
//! Three columns are about the row itself: `source`, `kind` (`published` or
//! `recalled`) and `doubt`, a remark that is printed where the row is used.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::diag::{Checked, Diagnostic, Diagnostics, Kind::NoRow, list};
use crate::formula::{Kind, TOLERANCE, Value};
use crate::grid::{Cell, Grid};
use crate::names::{in_common, same_name, words};
use crate::quantity::{Decimals, INPUT_DIGITS, Quantity, Unit, given_digits, measured, number, read_any};
use crate::source::{Place, Source};

use super::Texts;

/// As many entries of a table as a message lists.
const LISTED: usize = 8;

#[derive(Debug)]
pub struct Table {
    pub name: String,
    /// What is printed for it: publication, edition, table.
    pub title: String,
    pub columns: Vec<Column>,
    rows: Vec<Row>,
    /// The same cells as numbers, for programs.
    packed: Vec<Vec<Packed>>,
}

/// A cell as a program reads it: base units, and names as numbers.
#[derive(Clone, Copy, Debug)]
enum Packed {
    Empty,
    Number(f64),
    Range(f64, f64),
    Name(u32),
}

/// The row of some keys, or the two that a key lies between.
#[derive(Clone, Copy, Debug)]
pub enum Hit {
    Row(usize),
    /// Lower and higher row, and the share of the way from one to the other.
    Between(usize, usize, f64),
}

#[derive(Debug)]
pub struct Column {
    pub name: String,
    pub kind: Kind,
    /// As it is published.
    pub unit: Unit,
    pub print: Unit,
}

#[derive(Debug)]
struct Row {
    cells: Vec<Entry>,
    /// The units of cells that are published in another one than their column.
    units: Vec<Option<Unit>>,
    source: String,
    kind: String,
    doubt: String,
    /// It comes from the job and not from the program.
    own: bool,
    place: Place,
}

/// A row of the job's own that was looked up.
#[derive(Clone, Copy, Debug)]
pub struct OwnRow {
    /// Its place in the table.
    pub row: usize,
    /// The program has a row of these keys too, which is not read.
    pub instead: bool,
}

#[derive(Clone, Debug)]
enum Entry {
    Empty,
    Value(Value),
    /// `0.1..0.3`, in base units.
    Range(f64, f64),
}

/// A row, or two with a value between them.
#[derive(Clone, Debug)]
pub struct Found {
    pub values: Vec<(Value, Unit)>,
    pub source: String,
    pub doubt: String,
    pub recalled: bool,
    /// The places of the rows.
    pub rows: Vec<usize>,
    /// The job's own rows that a value comes from.
    pub own: Vec<OwnRow>,
    /// The two rows that a value lies between: the key, and the values there.
    pub ends: Vec<(Value, Vec<Value>)>,
}

impl Row {
    /// A row counts as published where it says so, and not where it says nothing.
    fn recalled(&self) -> bool {
        self.kind != "published"
    }
}

/// A row of a table, in words.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Published {
    /// Its keys.
    pub name: String,
    /// The other columns, each with its value.
    pub values: String,
    pub source: String,
    pub doubt: String,
    /// It was written down from memory, and nobody has held it against the publication.
    pub recalled: bool,
}

impl Table {
    /// # Errors
    /// A file that is no table: without a title, without sources, with cells
    /// that do not fit their column.
    pub fn read(name: &str, source: &Arc<Source>) -> Checked<Table> {
        let grid = Grid::read(source)?;
        let title =
            grid.comments.iter().find_map(|line| line.strip_prefix("title:")).map(|title| title.trim().to_string());
        let Some(title) = title else {
            return Err(Diagnostic::new(format!("the table `{name}` has no title"))
                .hint(format!(
                    "begin `{}` with a line such as `# title: NDS 2018 Table 2.3.2, load duration factors`",
                    source.name
                ))
                .into());
        };
        let Some(of_source) = grid.column("source") else {
            return Err(Diagnostic::new(format!("the table `{name}` has no column `source`"))
                .hint("each row says where its values are published")
                .into());
        };
        let mut diagnostics = Diagnostics::new();
        let about = ["source", "kind", "doubt"];
        let used: Vec<usize> =
            (0..grid.columns.len()).filter(|at| !about.contains(&grid.columns[*at].name.as_str())).collect();
        let columns: Vec<Column> = used.iter().map(|at| column(&grid, *at)).collect();
        let mut rows = Vec::new();
        for row in &grid.rows {
            let about = |name: &str| grid.column(name).map_or(String::new(), |at| row[at].text.clone());
            if row[of_source].text.is_empty() {
                diagnostics.push(
                    Diagnostic::new(format!("this row of `{name}` does not say where it is published"))
                        .at(grid.place(&row[0]))
                        .label("its column `source` is empty"),
                );
            }
            let (mut cells, mut units) = (Vec::new(), Vec::new());
            for (column, at) in columns.iter().zip(&used) {
                match entry(&row[*at], column) {
                    Ok((entry, unit)) => {
                        cells.push(entry);
                        units.push(unit);
                    }
                    Err(message) => diagnostics.push(
                        Diagnostic::new(format!("in the column `{}`: {message}", column.name))
                            .at(grid.place(&row[*at])),
                    ),
                }
            }
            rows.push(Row {
                cells,
                units,
                source: about("source"),
                kind: about("kind"),
                doubt: about("doubt"),
                own: false,
                place: grid.place(&row[0]),
            });
        }
        if diagnostics.is_empty() {
            Ok(Table { name: name.into(), title, columns, rows, packed: Vec::new() })
        } else {
            Err(diagnostics)
        }
    }

    /// Says of all its rows that they come from the job.
    pub(super) fn of_the_job(mut self) -> Table {
        self.rows.iter_mut().for_each(|row| row.own = true);
        self
    }

    /// The places of the job's own rows.
    pub fn own_rows(&self) -> impl Iterator<Item = usize> {
        (0..self.rows.len()).filter(|at| self.rows[*at].own)
    }

    pub fn height(&self) -> usize {
        self.rows.len()
    }

    /// A row as one reads it in the publication. `keys` tells how many of the
    /// first columns name it.
    pub fn published(&self, row: usize, keys: usize) -> Published {
        let row = &self.rows[row];
        let text = |at: usize| {
            let column = &self.columns[at];
            let unit = row.units[at].as_ref().unwrap_or(&column.unit);
            match &row.cells[at] {
                Entry::Empty => None,
                Entry::Value(value) => Some(column.say(value, unit)),
                Entry::Range(low, high) => Some(column.range(*low, *high, unit)),
            }
        };
        let named: Vec<String> = (0..keys).filter_map(text).collect();
        let values =
            (keys..self.columns.len()).filter_map(|at| Some(format!("{} {}", self.columns[at].name, text(at)?)));
        Published {
            name: named.join(", "),
            values: values.collect::<Vec<_>>().join("; "),
            source: row.source.clone(),
            doubt: row.doubt.clone(),
            recalled: row.recalled(),
        }
    }

    /// Puts the rows of a job's own table before these; its rows are found first.
    ///
    /// # Errors
    /// A table with other columns.
    pub fn put_first(&mut self, own: Table, source: &Arc<Source>) -> Checked<()> {
        let same = own.columns.len() == self.columns.len()
            && own
                .columns
                .iter()
                .zip(&self.columns)
                .all(|(own, known)| own.name == known.name && own.kind.dim() == known.kind.dim());
        if !same {
            let names: Vec<&str> = self.columns.iter().map(|column| column.name.as_str()).collect();
            return Err(Diagnostic::new(format!(
                "`{}` has other columns than the table `{}` that it adds to",
                source.name, self.name
            ))
            .hint(format!("the columns are, in this order: {}", names.join(", ")))
            .into());
        }
        for (known, column) in self.columns.iter_mut().zip(own.columns) {
            if let (Kind::Choice(names), Kind::Choice(more)) = (&mut known.kind, column.kind) {
                names.extend(more.into_iter().filter(|name| !names.contains(name)).collect::<Vec<_>>());
            }
        }
        self.rows.splice(0..0, own.rows);
        Ok(())
    }

    /// Rows of one file whose first columns, those that a row is looked up with, are the same: only the first would ever be found.
    pub fn rows_twice(&self, keys: usize) -> Diagnostics {
        // A sheet may ask for more of them than there are, which is told where it does.
        let keys = keys.min(self.columns.len());
        if keys == 0 {
            return Diagnostics::new();
        }
        let mut first: BTreeMap<(bool, Vec<String>), &Row> = BTreeMap::new();
        let mut wrong = Diagnostics::new();
        for row in &self.rows {
            // As far as numbers are told apart where a row is looked up.
            let plain = |value: f64| format!("{value:.9e}");
            let key = row.cells.iter().take(keys).map(|cell| match cell {
                Entry::Empty => None,
                Entry::Value(Value::Text(name)) => Some(words(name).concat()),
                Entry::Value(Value::Quantity(quantity)) => Some(plain(quantity.value)),
                Entry::Value(Value::Date(date)) => Some(date.to_string()),
                Entry::Range(low, high) => Some(format!("{}..{}", plain(*low), plain(*high))),
            });
            let Some(key) = key.collect() else { continue };
            let known = *first.entry((row.own, key)).or_insert(row);
            if !std::ptr::eq(known, row) {
                let names: Vec<&str> = self.columns[..keys].iter().map(|column| column.name.as_str()).collect();
                let message =
                    format!("a row above this one of `{}` is for the same {}", self.name, list(&names, "and"));
                let hint =
                    format!("it is at {}, and it alone would be read: take one of them out", known.place.describe());
                wrong.push(Diagnostic::new(message).at(row.place.clone()).hint(hint));
            }
        }
        wrong
    }

    /// Readies the table for programs.
    pub(super) fn pack(&mut self, texts: &mut Texts) {
        let mut pack = |entry: &Entry| match entry {
            Entry::Value(Value::Quantity(quantity)) => Packed::Number(quantity.value),
            Entry::Value(Value::Text(name)) => Packed::Name(texts.number(name)),
            Entry::Range(low, high) => Packed::Range(*low, *high),
            Entry::Value(Value::Date(_)) | Entry::Empty => Packed::Empty,
        };
        self.packed = self.rows.iter().map(|row| row.cells.iter().map(&mut pack).collect()).collect();
    }

    /// The row whose first columns match `keys`, each with whether it may lie
    /// between rows: base units, names as numbers.
    pub fn locate(&self, keys: &[(f64, bool)]) -> Option<Hit> {
        let matches = |row: &[Packed]| {
            let pairs = keys.iter().zip(row).filter(|((_, between), _)| !between);
            let mut pairs = pairs.map(|((key, _), cell)| match *cell {
                Packed::Number(value) => (value - key).abs() <= TOLERANCE * key.abs(),
                Packed::Range(low, high) => {
                    let slack = TOLERANCE * key.abs();
                    low - slack <= *key && *key <= high + slack
                }
                Packed::Name(name) => name == *key as u32,
                Packed::Empty => false,
            });
            pairs.all(|same| same)
        };
        let rows = self.packed.iter().enumerate().filter(|(_, row)| matches(row));
        let Some(at) = keys.iter().position(|(_, between)| *between) else {
            return rows.map(|(row, _)| Hit::Row(row)).next();
        };
        let key = keys[at].0;
        let tolerance = TOLERANCE * key.abs();
        let mut lower: Option<(f64, usize)> = None;
        let mut upper: Option<(f64, usize)> = None;
        for (row, cells) in rows {
            let Packed::Number(value) = cells[at] else { continue };
            if value >= key - tolerance && upper.is_none_or(|(best, _)| value < best) {
                upper = Some((value, row));
            }
            if value <= key + tolerance && lower.is_none_or(|(best, _)| value > best) {
                lower = Some((value, row));
            }
        }
        let ((low, a), (high, b)) = (lower?, upper?);
        Some(if (high - low).abs() <= tolerance { Hit::Row(b) } else { Hit::Between(a, b, (key - low) / (high - low)) })
    }

    /// What a column holds at a place: a value in base units or the number of a
    /// name; not a number for an empty cell.
    pub fn read_at(&self, hit: Hit, column: usize) -> f64 {
        let cell = |row: usize| match self.packed[row][column] {
            Packed::Number(value) => value,
            Packed::Name(number) => number.into(),
            Packed::Range(..) | Packed::Empty => f64::NAN,
        };
        match hit {
            Hit::Row(row) => cell(row),
            Hit::Between(a, b, share) => match (self.packed[a][column], self.packed[b][column]) {
                (Packed::Number(low), Packed::Number(high)) => low + share * (high - low),
                // Neither stands in for one that is empty.
                (Packed::Name(..), Packed::Name(..)) => cell(a),
                _ => f64::NAN,
            },
        }
    }

    /// What rows beside that of some keys have under one of these, the others being the same:
    /// the next smaller and larger number, the names of the rows before and after.
    pub fn beside(&self, keys: &[f64], at: usize) -> [Option<f64>; 2] {
        let same = |cell: Packed, key: f64| match cell {
            Packed::Number(value) => (value - key).abs() <= TOLERANCE * key.abs(),
            Packed::Range(low, high) => low <= key && key <= high,
            Packed::Name(name) => name == key as u32,
            Packed::Empty => false,
        };
        let alike = |row: &&Vec<Packed>| {
            keys.iter().zip(*row).enumerate().all(|(column, (key, cell))| column == at || same(*cell, *key))
        };
        let mut found: Vec<Packed> = Vec::new();
        for row in self.packed.iter().filter(alike) {
            let new = |known: &Packed| match (known, row[at]) {
                (Packed::Number(known), Packed::Number(value)) => *known != value,
                (Packed::Name(known), Packed::Name(name)) => *known != name,
                _ => true,
            };
            if found.iter().all(new) {
                found.push(row[at]);
            }
        }
        let number = |cell: &Packed| match *cell {
            Packed::Number(value) => Some(value),
            Packed::Name(name) => Some(name.into()),
            Packed::Range(..) | Packed::Empty => None,
        };
        if found.iter().all(|cell| matches!(cell, Packed::Number(_))) {
            found.sort_by(|a, b| number(a).partial_cmp(&number(b)).unwrap_or(std::cmp::Ordering::Equal));
        }
        let Some(own) = found.iter().position(|cell| same(*cell, keys[at])) else { return [None; 2] };
        let beside = [own.checked_sub(1), Some(own + 1)];
        beside.map(|at| found.get(at?).and_then(number))
    }

    /// Whether rows hold for a range of a key and not for one value alone.
    pub fn ranges(&self, column: usize) -> bool {
        self.packed.iter().any(|row| matches!(row[column], Packed::Range(..)))
    }

    /// Every row, as values by the name of their column.
    pub fn each(&self) -> impl Iterator<Item = BTreeMap<&str, &Value>> {
        self.rows.iter().map(|row| {
            let pairs = self.columns.iter().zip(&row.cells);
            pairs
                .filter_map(|(column, cell)| match cell {
                    Entry::Value(value) => Some((column.name.as_str(), value)),
                    Entry::Empty | Entry::Range(..) => None,
                })
                .collect()
        })
    }

    pub fn column(&self, name: &str) -> Option<&Column> {
        self.columns.iter().find(|column| column.name == name)
    }

    /// The named columns of the row whose first columns match `keys`, each
    /// with whether it may lie between rows.
    ///
    /// # Errors
    /// No such row, with the keys that there are; a value beyond the ends; an
    /// empty cell.
    pub fn find(&self, keys: &[(Value, bool)], wanted: &[&str]) -> Result<Found, Diagnostic> {
        let mut rows: Vec<&Row> = self.rows.iter().collect();
        for (at, (key, between)) in keys.iter().enumerate() {
            if *between {
                continue;
            }
            let before = rows.clone();
            rows.retain(|row| matches(&row.cells[at], key));
            if rows.is_empty() {
                return Err(self.no_row(at, key, &before));
            }
        }
        let Some(at) = keys.iter().position(|(_, between)| *between) else {
            return self.entries(&rows, rows[0], wanted);
        };
        let Value::Quantity(key) = &keys[at].0 else { return self.entries(&rows, rows[0], wanted) };
        let mut points: Vec<(f64, &Row)> =
            rows.iter().filter_map(|row| Some((number_of(&row.cells[at])?, *row))).collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        // Of rows at one point the first is read, as where nothing lies between.
        points.dedup_by(|next, first| next.0 == first.0);
        let same = |point: f64| -> Vec<&Row> {
            rows.iter().copied().filter(|row| number_of(&row.cells[at]) == Some(point)).collect()
        };
        let tolerance = TOLERANCE * key.value.abs();
        let upper = points.iter().find(|(value, _)| *value >= key.value - tolerance);
        let lower = points.iter().rev().find(|(value, _)| *value <= key.value + tolerance);
        match (lower, upper) {
            (Some((low, _)), Some((high, row))) if (high - low).abs() <= tolerance => {
                self.entries(&same(*high), row, wanted)
            }
            (Some((low, a)), Some((high, b))) => {
                let share = (key.value - low) / (high - low);
                let (a, b) = (self.entries(&same(*low), a, wanted)?, self.entries(&same(*high), b, wanted)?);
                let end = |at: f64, found: &Found| {
                    let values = found.values.iter().map(|(value, _)| value.clone()).collect();
                    (Value::Quantity(Quantity::new(at, key.dim)), values)
                };
                let ends = vec![end(*low, &a), end(*high, &b)];
                Ok(Found { ends, ..between(a, b, share) })
            }
            _ => {
                let column = &self.columns[at];
                let ends = [points.first(), points.last()]
                    .map(|end| end.map_or(String::new(), |(value, _)| print(*value, &column.print)));
                Err(Diagnostic::new(format!(
                    "`{}` is {}; {} covers {} to {} and is not extended past its ends",
                    column.name,
                    print(key.value, &column.print),
                    self.title,
                    ends[0],
                    ends[1]
                ))
                .of(NoRow(at), &column.name))
            }
        }
    }

    /// What a row has, and whether it is read before others of its keys.
    fn entries(&self, same: &[&Row], row: &Row, wanted: &[&str]) -> Result<Found, Diagnostic> {
        let mut values = Vec::new();
        for name in wanted {
            let Some(at) = self.columns.iter().position(|column| column.name == *name) else { continue };
            match &row.cells[at] {
                Entry::Value(value) => values.push((value.clone(), self.columns[at].print.clone())),
                _ => return Err(Diagnostic::new(format!("{} gives no `{name}` for this row", self.title))),
            }
        }
        let recalled = row.recalled();
        let rows: Vec<usize> = self.rows.iter().position(|known| std::ptr::eq(known, row)).into_iter().collect();
        let own = rows.iter().filter(|_| row.own);
        let own = own.map(|row| OwnRow { row: *row, instead: same.iter().any(|other| !other.own) }).collect();
        let (source, doubt) = (row.source.clone(), row.doubt.clone());
        Ok(Found { values, source, doubt, recalled, rows, own, ends: Vec::new() })
    }

    fn no_row(&self, at: usize, key: &Value, rows: &[&Row]) -> Diagnostic {
        let column = &self.columns[at];
        let mut known: Vec<String> = Vec::new();
        for row in rows {
            let text = match &row.cells[at] {
                Entry::Empty => continue,
                Entry::Value(value) => column.say(value, row.units[at].as_ref().unwrap_or(&column.print)),
                Entry::Range(low, high) => column.range(*low, *high, &column.print),
            };
            if !known.contains(&text) {
                known.push(text);
            }
        }
        let wrong = column.say(key, &column.print);
        // A symbol such as `d_a` is no words.
        let name = if column.name.find('_') == Some(1) { column.name.clone() } else { column.name.replace('_', " ") };
        let diagnostic =
            Diagnostic::new(format!("{} has no row for {name} `{wrong}`", self.title)).of(NoRow(at), &column.name);
        if let Value::Quantity(key) = key {
            let near = beside(key.value, rows.iter().filter_map(|row| number_of(&row.cells[at])));
            let near: Vec<String> = near.into_iter().map(|value| print(value, &column.print)).collect();
            if !near.is_empty() {
                return diagnostic.hint(format!("the rows beside it are those of {}", list(&near, "and")));
            }
        }
        let diagnostic = diagnostic.hint_near(&wrong, known.iter().map(String::as_str));
        if !diagnostic.hints.is_empty() {
            return diagnostic;
        }
        let alike = in_common(&wrong, known.iter().map(String::as_str), 3);
        if !alike.is_empty() {
            return diagnostic.hint(format!("nearest are {}", list(&alike, "and")));
        }
        match known.len() {
            ..=LISTED => diagnostic.hint(format!("the table has {}", known.join(", "))),
            many => diagnostic.hint(format!("the table has {many}, among them {}", known[..LISTED].join(", "))),
        }
    }
}

impl Column {
    fn say(&self, value: &Value, unit: &Unit) -> String {
        match value {
            Value::Text(text) => text.clone(),
            Value::Quantity(quantity) => print(quantity.value, unit),
            Value::Date(date) => date.to_string(),
        }
    }

    fn range(&self, low: f64, high: f64, unit: &Unit) -> String {
        format!("{} to {}", number(unit.from_base(low), INPUT_DIGITS), print(high, unit))
    }
}

/// The nearest number below a value and the nearest above it.
fn beside(value: f64, numbers: impl Iterator<Item = f64> + Clone) -> Vec<f64> {
    let below = numbers.clone().filter(|number| *number < value).max_by(f64::total_cmp);
    let above = numbers.filter(|number| *number > value).min_by(f64::total_cmp);
    below.into_iter().chain(above).collect()
}

/// A share of the way from one row to the other.
fn between(a: Found, b: Found, share: f64) -> Found {
    let values = a.values.iter().zip(&b.values).map(|((low, unit), (high, _))| match (low, high) {
        (Value::Quantity(low), Value::Quantity(high)) => {
            let value = low.value + share * (high.value - low.value);
            (Value::Quantity(Quantity::new(value, low.dim)), unit.clone())
        }
        _ => (low.clone(), unit.clone()),
    });
    let join = |a: &str, b: &str| {
        if a == b {
            a.to_string()
        } else {
            [a, b].iter().filter(|s| !s.is_empty()).copied().collect::<Vec<_>>().join("; ")
        }
    };
    let own = a.own.into_iter().chain(b.own).collect();
    let rows = a.rows.into_iter().chain(b.rows).collect();
    Found {
        values: values.collect(),
        source: join(&a.source, &b.source),
        doubt: join(&a.doubt, &b.doubt),
        recalled: a.recalled || b.recalled,
        rows,
        own,
        ends: Vec::new(),
    }
}

fn print(base: f64, unit: &Unit) -> String {
    let value = unit.from_base(base);
    measured(&number(value, given_digits(value)), &unit.pretty())
}

fn column(grid: &Grid, at: usize) -> Column {
    let heading = &grid.columns[at];
    let cells = || grid.rows.iter().map(|row| row[at].text.as_str()).filter(|text| !text.is_empty());
    let numeric = |text: &str| text.split("..").all(|part| part.trim().parse::<f64>().is_ok());
    let unit = heading.unit.clone().unwrap_or_else(Unit::none);
    let kind = if heading.unit.is_some() || (cells().next().is_some() && cells().all(numeric)) {
        Kind::Quantity(unit.dim)
    } else {
        let mut names: Vec<String> = Vec::new();
        for text in cells() {
            if !names.iter().any(|known| known == text) {
                names.push(text.into());
            }
        }
        Kind::Choice(names)
    };
    Column { name: heading.name.clone(), kind, print: unit.clone(), unit }
}

/// A cell, and its unit where that is not the column's: `12 mm`.
fn entry(cell: &Cell, column: &Column) -> Result<(Entry, Option<Unit>), String> {
    if cell.text.is_empty() {
        return Ok((Entry::Empty, None));
    }
    let Some(dim) = column.kind.dim() else { return Ok((Entry::Value(Value::Text(cell.text.clone())), None)) };
    if let Some(reading) =
        read_any(&cell.text, None, Decimals::Point).filter(|reading| reading.unit.dim == dim && !dim.is_none())
    {
        return Ok((Entry::Value(Value::Quantity(reading.quantity)), Some(reading.unit)));
    }
    let plain = |text: &str| {
        text.trim()
            .parse::<f64>()
            .ok()
            .filter(|value| value.is_finite())
            .map(|value| column.unit.to_base(value))
            .ok_or_else(|| format!("found `{text}`, expected a number"))
    };
    let entry = match cell.text.split_once("..") {
        Some((low, high)) => Entry::Range(plain(low)?, plain(high)?),
        None => Entry::Value(Value::Quantity(Quantity::new(plain(&cell.text)?, dim))),
    };
    Ok((entry, None))
}

fn number_of(entry: &Entry) -> Option<f64> {
    match entry {
        Entry::Value(Value::Quantity(quantity)) => Some(quantity.value),
        _ => None,
    }
}

fn matches(entry: &Entry, key: &Value) -> bool {
    match (entry, key) {
        (Entry::Value(Value::Text(name)), Value::Text(key)) => same_name(name, key),
        (Entry::Value(Value::Quantity(value)), Value::Quantity(key)) => {
            (value.value - key.value).abs() <= TOLERANCE * key.value.abs()
        }
        (Entry::Range(low, high), Value::Quantity(key)) => {
            let slack = TOLERANCE * key.value.abs();
            *low - slack <= key.value && key.value <= *high + slack
        }
        _ => false,
    }
}
