//! A CSV file as cells that know where they stand. Takes real spreadsheet
//! exports: a byte-order mark, CRLF, semicolons or tabs, decimal commas, quoted cells,
//! title rows above the headings, a row of units below them, blank rows at the end,
//! Windows-1252 text.

use std::ops::Range;
use std::sync::Arc;

use crate::diag::{Checked, Diagnostic, Diagnostics, count};
use crate::legible;
use crate::names::{same_name, visible};
use crate::quantity::{Decimals, Unit, shown_decimals};
use crate::source::{Form, Place, Source};

#[derive(Clone, Debug)]
pub struct Cell {
    pub text: String,
    pub span: Range<usize>,
}

/// A column's heading: `height [ft]`.
#[derive(Clone, Debug)]
pub struct Column {
    /// Without the unit: as typed, or the one name of a column that is known.
    pub name: String,
    pub unit: Option<Unit>,
    pub cell: Cell,
    /// Whether anybody reads it.
    pub read: bool,
    /// Its numbers are here with the other sign.
    pub turned: bool,
}

#[derive(Debug)]
pub struct Grid {
    pub source: Arc<Source>,
    pub columns: Vec<Column>,
    /// Every row has as many cells as there are columns.
    pub rows: Vec<Vec<Cell>>,
    /// Lines that start with `#`, without it.
    pub comments: Vec<String>,
    /// What its numbers show of their decimals.
    pub decimals: Decimals,
    /// Lines that stand in the file and are not read.
    pub notes: Diagnostics,
}

/// As many rows and columns a file may have.
const ROWS: usize = 20_000;
const COLUMNS: usize = 1_000;

/// So many rows from the top, the headings of an export are looked for.
const TITLES: usize = 10;

/// Bytes to text: by the byte-order mark if there is one, else UTF-8, else
/// Windows-1252, in which every byte means something.
pub fn decode(bytes: &[u8]) -> String {
    if let Some((encoding, mark)) = encoding_rs::Encoding::for_bom(bytes) {
        return encoding.decode_without_bom_handling(&bytes[mark..]).0.into_owned();
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => text.into(),
        Err(_) => encoding_rs::WINDOWS_1252.decode(bytes).0.into_owned(),
    }
}

impl Grid {
    /// The first row holds the headings.
    ///
    /// # Errors
    /// An empty file, a doubled or nameless column, a unit that is not known,
    /// a row with more cells than there are columns.
    pub fn read(source: &Arc<Source>) -> Checked<Grid> {
        Grid::read_below(source, &[])
    }

    /// The headings stand in the first row, or in the first near the top that has
    /// these columns, each under one of its names: exports write titles above them.
    ///
    /// # Errors
    /// As for `read`.
    pub fn read_below(source: &Arc<Source>, sought: &[Vec<&str>]) -> Checked<Grid> {
        if let Some(large) = legible::too_large(source) {
            return Err(large.into());
        }
        let text = &source.text;
        let comments = text.lines().filter_map(|line| line.strip_prefix('#')).map(|line| line.trim().into()).collect();
        let lines = || text.lines().filter(|line| !line.trim().is_empty() && !line.starts_with('#'));
        let headed = |line: &&str| {
            let cells = records(line, separator_of(line));
            !sought.is_empty() && cells.first().is_some_and(|cells| has(cells, sought))
        };
        let separator = match source.form {
            Form::Sheet => b',',
            _ => separator_of(lines().take(TITLES).find(headed).or_else(|| below_titles(lines())).unwrap_or("")),
        };
        let source = &source.separated(char::from(separator));
        let illegible = legible::faults(source);
        if !illegible.is_empty() {
            return Err(illegible);
        }
        let mut records = records(text, separator);
        if let Some(more) = too_much(source, &records) {
            return Err(more.into());
        }
        while records.last().is_some_and(|row| row.iter().all(|cell| cell.text.is_empty())) {
            records.pop();
        }
        let titles = match sought {
            [] => 0,
            _ => {
                let headed = records.iter().take(TITLES).position(|cells| has(cells, sought));
                headed.unwrap_or_else(|| titles_above(&records))
            }
        };
        let mut notes = Diagnostics::new();
        if let Some(first) = records.get(titles).and_then(|row| row.first()).filter(|_| titles > 0) {
            let (line, _) = source.line_column(first.span.start);
            let (rows, file) = (count(titles, "row"), source.file());
            notes.push(Diagnostic::new(format!(
                "{file} has {rows} above the headings: not read; the headings are row {line}"
            )));
        }
        let filled = |row: &Vec<Cell>| row.iter().any(|cell| !cell.text.is_empty());
        let mut records = records.into_iter().skip(titles).filter(filled).peekable();
        let Some(header) = records.next() else {
            return Err(Diagnostic::new(format!("`{}` is empty", source.name))
                .hint("the first row holds the names of the columns, the other rows one item each")
                .into());
        };
        let mut diagnostics = Vec::new();
        let mut columns: Vec<Column> = Vec::new();
        for cell in trim_end(header) {
            match column(source, cell) {
                Ok(column) if columns.iter().any(|known| known.name == column.name) => diagnostics.push(
                    Diagnostic::new(format!("the column `{}` appears twice", column.name))
                        .at(Place::new(source, column.cell.span))
                        .hint(match column.name.starts_with(|c: char| c.is_ascii_digit()) {
                            true => "the first row holds the names of the columns; this one reads like a row of values",
                            false => "leave one of them out",
                        }),
                ),
                Ok(column) => columns.push(column),
                Err(diagnostic) => diagnostics.push(diagnostic),
            }
        }
        if let Some(row) = records.next_if(|row| !sought.is_empty() && is_units(row, &columns, sought)) {
            diagnostics.extend(take_units(source, &row, &mut columns));
        }
        // With a wrong heading, every row would seem wrong too.
        if !diagnostics.is_empty() {
            return Err(diagnostics);
        }
        let mut rows = Vec::new();
        for mut row in records {
            if let Some(extra) = row.iter().skip(columns.len()).find(|cell| !cell.text.is_empty()) {
                diagnostics.push(
                    Diagnostic::new(format!(
                        "this row has more cells than the {} columns of the first row",
                        columns.len()
                    ))
                    .at(Place::new(source, extra.span.clone()))
                    .label(format!("`{}` is not under any column", extra.text))
                    .hint("a cell that contains the separator, such as \"3,600 lb\", goes in quotes"),
                );
            }
            // A quote that is not closed takes in all that follows.
            if let Some(open) =
                row.iter().find(|cell| cell.text.contains('\n') && !source.text[cell.span.clone()].ends_with('"'))
            {
                let end = open.span.start + source.text[open.span.clone()].find('\n').unwrap_or(0);
                diagnostics.push(
                    Diagnostic::new("a quote opens here and is not closed")
                        .at(Place::new(source, open.span.start..end)),
                );
                continue;
            }
            let end = row.last().map_or(0, |cell| cell.span.end);
            row.resize(columns.len(), Cell { text: String::new(), span: end..end });
            rows.push(row);
        }
        if !diagnostics.is_empty() {
            return Err(diagnostics);
        }
        if !sought.is_empty() {
            notes.extend(hidden_rows(source, separator, columns.len()));
        }
        let decimals = match separator {
            b',' => Decimals::Point,
            _ => decimals_of(&columns, &rows, sought),
        };
        Ok(Grid { source: source.clone(), columns, rows, comments, decimals, notes })
    }

    pub fn column(&self, name: &str) -> Option<usize> {
        self.columns.iter().position(|column| column.name == name)
    }

    /// The line of the file in which a row stands, from 1: blank lines, comments
    /// and titles count.
    pub fn line(&self, row: usize) -> usize {
        self.rows[row].first().map_or(1, |cell| self.source.line_column(cell.span.start).0)
    }

    /// The row of headings.
    pub fn header(&self) -> Place {
        let start = self.columns.first().map_or(0, |column| column.cell.span.start);
        Place::new(&self.source, start..self.columns.last().map_or(0, |column| column.cell.span.end))
    }

    pub fn place(&self, cell: &Cell) -> Place {
        Place::new(&self.source, cell.span.clone())
    }
}

/// What is more than anybody types: rows, columns, characters of a cell.
fn too_much(source: &Arc<Source>, records: &[Vec<Cell>]) -> Option<Diagnostic> {
    let name = source.file();
    if records.len() > ROWS {
        return Some(
            Diagnostic::new(format!("`{name}` has {} rows; expected at most {ROWS}", records.len()))
                .at(Place::new(source, records[ROWS].first()?.span.clone()))
                .hint("a job of so many rows is worked in parts, each in a folder of its own"),
        );
    }
    let wide = records.iter().find(|row| row.len() > COLUMNS);
    if let Some(row) = wide {
        return Some(
            Diagnostic::new(format!("a row of `{name}` has {} cells; expected at most {COLUMNS}", row.len()))
                .hint("columns that nobody reads are left out"),
        );
    }
    let long = records.iter().flatten().find(|cell| legible::is_longer(&cell.text, legible::CELL))?;
    let (length, most) = (long.text.chars().count(), legible::CELL);
    let start = long.span.start;
    Some(
        Diagnostic::new(format!("this cell has {length} characters; expected at most {most}"))
            .at(Place::new(source, start..start))
            .hint("a quote that opens and is not closed takes in what follows it"),
    )
}

/// A note of lines that are comments and have the cells of a row: put away for
/// a while, or a mark that begins like a comment.
fn hidden_rows(source: &Arc<Source>, separator: u8, columns: usize) -> Option<Diagnostic> {
    let mut start = 0;
    let mut found: Vec<Range<usize>> = Vec::new();
    for line in source.text.split_inclusive('\n') {
        if line.starts_with('#') && columns > 1 && unquoted(line, separator) + 1 >= columns {
            found.push(start..start + line.trim_end().len());
        }
        start += line.len();
    }
    let first = found.first()?;
    let what = match found.len() {
        1 => "a row begins with `#`: it is a comment and is not read".to_string(),
        many => format!("{many} rows begin with `#`: they are comments and are not read"),
    };
    Some(Diagnostic::new(what).at(Place::new(source, first.clone())))
}

/// Whether a row has these columns among its cells.
fn has(cells: &[Cell], sought: &[Vec<&str>]) -> bool {
    sought.iter().all(|names| cells.iter().any(|cell| is_headed(&cell.text, names)))
}

fn is_headed(heading: &str, names: &[&str]) -> bool {
    let name = heading.split(['[', '(']).next().unwrap_or_default();
    names.iter().any(|known| same_name(name, known) || same_name(heading, known))
}

/// So many cells make a row of headings, where a title stands above it.
const HEADINGS: usize = 3;

/// The line of headings that are not known: the first, or below titles the first of several
/// cells.
fn below_titles<'a>(lines: impl Iterator<Item = &'a str> + Clone) -> Option<&'a str> {
    let cells = |line: &&str| unquoted(line, separator_of(line)) + 1;
    let first = lines.clone().next()?;
    let below = lines.take(TITLES).find(|line| cells(line) >= HEADINGS);
    below.filter(|_| cells(&first) == 1).or(Some(first))
}

/// So many rows stand above headings that are not known.
fn titles_above(records: &[Vec<Cell>]) -> usize {
    let cells = |row: &Vec<Cell>| row.iter().filter(|cell| !cell.text.is_empty()).count();
    match records.first() {
        Some(first) if cells(first) == 1 => {
            records.iter().take(TITLES).position(|row| cells(row) >= HEADINGS).unwrap_or(0)
        }
        _ => 0,
    }
}

/// What a cell of a row of units says: `kN`, `[mm]`; nothing of `-`.
fn unit_of(text: &str) -> Option<Unit> {
    let inner = text.trim_start_matches(['[', '(']).trim_end_matches([']', ')']).trim();
    // A moment is exported as `kN.m`.
    Unit::parse(&inner.replace(['.', '⋅'], "·").replace(['–', '—', '−'], "-")).ok()
}

/// Whether a row below the headings holds their units: a unit or `-` in each cell that is
/// not empty, or, where nothing names the row, some that is a unit and no number.
fn is_units(row: &[Cell], columns: &[Column], sought: &[Vec<&str>]) -> bool {
    let cells = || row.iter().enumerate().filter(|(_, cell)| !cell.text.is_empty());
    let is_unit = |text: &str| unit_of(text).is_some_and(|unit| !unit.name().is_empty());
    let dash = |text: &str| unit_of(text).is_some_and(|unit| unit.name().is_empty());
    // A row of the table is named, by more than a dash.
    let names = |(at, cell): &(usize, &Cell)| {
        let heading = columns.get(*at).map_or("", |column| &column.cell.text);
        sought.iter().any(|names| is_headed(heading, names)) && !dash(&cell.text)
    };
    let number = |(_, cell): (usize, &Cell)| {
        cell.text.trim_start_matches(['-', '+', '−']).starts_with(|c: char| c.is_ascii_digit())
    };
    !cells().any(|cell| names(&cell)) && cells().any(|(_, cell)| is_unit(&cell.text)) && !cells().any(number)
}

/// Gives the columns the units of such a row.
fn take_units(source: &Arc<Source>, row: &[Cell], columns: &mut [Column]) -> Diagnostics {
    let mut wrong = Diagnostics::new();
    for (cell, column) in row.iter().zip(columns).filter(|(cell, _)| !cell.text.is_empty()) {
        let here = |message: String| Diagnostic::new(message).at(Place::new(source, cell.span.clone()));
        match (unit_of(&cell.text), column.unit.clone()) {
            (None, _) => wrong.push(
                here(format!("`{}` below the heading `{}` is not a known unit", cell.text, column.name)).hint(
                    "the row below the headings seems to hold their units: a unit in each cell, or nothing, or `-`",
                ),
            ),
            (Some(unit), _) if unit.name().is_empty() => {}
            (Some(unit), Some(known)) if unit.same_size(&known) && unit.dim == known.dim => {}
            (Some(unit), Some(known)) => wrong.push(
                here(format!(
                    "the heading of `{}` says {}, and the row of units below it says {}",
                    column.name,
                    known.name(),
                    unit.name()
                ))
                .hint("leave out one of them"),
            ),
            (Some(unit), None) => {
                column.cell.text = format!("{} [{}]", column.cell.text, unit.name());
                column.unit = Some(unit);
            }
        }
    }
    wrong
}

/// What the numbers of a file show: those of columns that hold nothing else, and name no row.
fn decimals_of(columns: &[Column], rows: &[Vec<Cell>], sought: &[Vec<&str>]) -> Decimals {
    let number = |text: &str| text.trim_start_matches(['-', '−', '+', ' ']).starts_with(|c: char| c.is_ascii_digit());
    let mut shown: Option<Decimals> = None;
    for (at, column) in columns.iter().enumerate() {
        let cells = || rows.iter().map(|row| row[at].text.as_str()).filter(|text| !text.is_empty());
        if sought.iter().any(|names| is_headed(&column.cell.text, names)) || !cells().all(number) {
            continue;
        }
        for found in cells().filter_map(shown_decimals) {
            match shown {
                Some(known) if known != found => return Decimals::Either,
                _ => shown = Some(found),
            }
        }
    }
    shown.unwrap_or(Decimals::Either)
}

fn separator_of(line: &str) -> u8 {
    let found = [b';', b'\t', b','].into_iter().max_by_key(|separator| unquoted(line, *separator));
    found.filter(|separator| unquoted(line, *separator) > 0).unwrap_or(b',')
}

fn unquoted(line: &str, separator: u8) -> usize {
    let mut quoted = false;
    line.bytes()
        .filter(|byte| {
            quoted ^= *byte == b'"';
            *byte == separator && !quoted
        })
        .count()
}

fn trim_end(mut row: Vec<Cell>) -> Vec<Cell> {
    while row.last().is_some_and(|cell| cell.text.is_empty()) {
        row.pop();
    }
    row
}

fn column(source: &Arc<Source>, cell: Cell) -> Result<Column, Diagnostic> {
    let here = |message: String| Diagnostic::new(message).at(Place::new(source, cell.span.clone()));
    let (name, unit) = match cell.text.split_once('[') {
        Some((name, rest)) => {
            let (unit, after) = rest.split_once(']').unwrap_or((rest, ""));
            if !after.trim().is_empty() {
                let after = after.trim();
                return Err(here(format!("in the heading `{}`: `{after}` follows the unit", cell.text))
                    .hint("a heading is the name and then its unit: `width [in]`"));
            }
            let unit = Unit::parse(unit).map_err(|message| {
                here(format!("in the heading `{}`: {message}", cell.text)).nearest(unit, Unit::names())
            })?;
            (name.trim(), Some(unit))
        }
        None => in_parentheses(&cell.text).map_or((cell.text.as_str(), None), |(name, unit)| (name, Some(unit))),
    };
    if name.is_empty() {
        return Err(here("a column without a name".into()));
    }
    Ok(Column { name: name.into(), unit, cell: cell.clone(), read: true, turned: false })
}

/// `P (kN)`: parentheses that hold a unit; others are part of the name.
fn in_parentheses(heading: &str) -> Option<(&str, Unit)> {
    let (name, unit) = heading.strip_suffix(')')?.rsplit_once('(')?;
    let unit = unit_of(unit).filter(|unit| !unit.name().is_empty())?;
    Some((name.trim(), unit))
}

/// All records with the span of each cell in the text.
fn records(text: &str, separator: u8) -> Vec<Vec<Cell>> {
    let mut reader = csv_core::ReaderBuilder::new().delimiter(separator).comment(Some(b'#')).build();
    let bytes = text.as_bytes();
    let mut field = vec![0; bytes.len() + 1];
    let (mut at, mut length) = (0, 0);
    let mut start = 0;
    let mut records = vec![Vec::new()];
    loop {
        let (result, read, written) = reader.read_field(&bytes[at..], &mut field[length..]);
        at += read;
        length += written;
        match result {
            csv_core::ReadFieldResult::InputEmpty | csv_core::ReadFieldResult::OutputFull => {}
            csv_core::ReadFieldResult::Field { record_end } => {
                let cell = Cell {
                    text: visible(&String::from_utf8_lossy(&field[..length])),
                    span: trimmed(text, start..at, separator),
                };
                if let Some(record) = records.last_mut() {
                    record.push(cell);
                }
                if record_end {
                    records.push(Vec::new());
                }
                (start, length) = (at, 0);
            }
            csv_core::ReadFieldResult::End => break,
        }
    }
    records.retain(|record| !record.is_empty());
    records
}

/// The span without the separator, line ends and blanks round the cell.
fn trimmed(text: &str, span: Range<usize>, separator: u8) -> Range<usize> {
    let raw = &text[span.clone()];
    // A comment line or a blank line before the cell is not part of it.
    let body = raw.trim_end_matches(['\r', '\n']);
    let body = body.strip_suffix(separator as char).unwrap_or(body);
    let skip = body.rfind('\n').filter(|at| !body[..*at].contains('"')).map_or(0, |at| at + 1);
    let body = &body[skip..];
    let inner = body.trim();
    let start = span.start + skip + (body.len() - body.trim_start().len());
    start..start + inner.len()
}
