//! The table of values: what each symbol and limit came to for every group,
//! beside the line that holds the formula. A formula is printed once; here the
//! eye runs across the groups that are worked by it.

use std::collections::BTreeMap;

use super::model::{Math, Printed, Span, ValueBlock, ValueCell, ValueRow, ValueTable};
use crate::sheet::Sheet;

/// Groups side by side on a letter page.
const ACROSS: usize = 6;

#[derive(Default)]
pub struct Values {
    /// The groups, by number, with what their column is headed.
    columns: Vec<(usize, String)>,
    blocks: Vec<Block>,
}

/// One use of a sheet.
struct Block {
    path: String,
    title: String,
    own: bool,
    combinations: BTreeMap<usize, String>,
    rows: Vec<Row>,
    /// Where the group that is being entered stands in the rows.
    cursor: usize,
}

struct Row {
    key: (usize, String),
    name: Name,
    cells: BTreeMap<usize, Cell>,
}

/// What stands at the head of a row.
#[derive(Clone)]
pub enum Name {
    Symbol(Math),
    /// What a limit says.
    Limit(Vec<Span>),
}

/// What one group has in a row.
#[derive(Clone)]
pub struct Cell {
    pub value: Printed,
    /// More words, below the value.
    pub note: String,
    /// The line of the formula; empty for what only enters a sheet.
    pub line: String,
    /// Printed on a page of this group, for this use of the sheet.
    pub own: bool,
    pub failed: bool,
}

impl Cell {
    fn text(&self) -> (&str, &str, &str) {
        (&self.value.number, &self.value.unit, &self.note)
    }
}

impl Values {
    pub fn column(&mut self, group: usize, title: String) {
        self.columns.push((group, title));
        self.blocks.iter_mut().for_each(|block| block.cursor = 0);
    }

    /// Opens a use of a sheet, or goes back to it.
    pub fn block(&mut self, path: &str, sheet: &Sheet, combination: String) {
        let Some((group, _)) = self.columns.last() else { return };
        let at = self.blocks.iter().position(|block| block.path == path).unwrap_or_else(|| {
            self.blocks.push(Block {
                path: path.into(),
                title: sheet.title.clone(),
                own: sheet.own,
                combinations: BTreeMap::new(),
                rows: Vec::new(),
                cursor: 0,
            });
            self.blocks.len() - 1
        });
        self.blocks[at].combinations.insert(*group, combination);
    }

    /// Enters a value of the last column. `place` and `what` make two values
    /// one row; rows keep the order in which a sheet has them.
    pub fn enter(&mut self, path: &str, place: usize, what: &str, name: Name, cell: Cell) {
        let Some((group, _)) = self.columns.last() else { return };
        let Some(block) = self.blocks.iter_mut().find(|block| block.path == path) else { return };
        let key = (place, what.to_string());
        let at = block.rows.iter().position(|row| row.key == key).unwrap_or_else(|| {
            block.rows.insert(block.cursor, Row { key, name, cells: BTreeMap::new() });
            block.cursor
        });
        block.cursor = at + 1;
        block.rows[at].cells.insert(*group, cell);
    }

    /// The tables, six groups across. Values that need no row are left out.
    pub fn tables(&self) -> Vec<ValueTable> {
        let blocks: Vec<(&Block, Vec<&Row>)> = self
            .blocks
            .iter()
            .map(|block| (block, block.rows.iter().filter(|row| row.says_more()).collect::<Vec<_>>()))
            .filter(|(_, rows)| !rows.is_empty())
            .collect();
        if blocks.is_empty() {
            return Vec::new();
        }
        self.columns.chunks(ACROSS).map(|columns| table(columns, &blocks)).collect()
    }
}

impl Row {
    /// A value that is the same in all groups and stands on a page of one of
    /// them needs no row.
    fn says_more(&self) -> bool {
        let mut cells = self.cells.values();
        let Some(first) = cells.next() else { return false };
        cells.any(|cell| cell.text() != first.text()) || !self.cells.values().any(|cell| cell.own)
    }

    /// The line that most groups are worked by.
    fn line(&self) -> String {
        let mut lines: BTreeMap<&str, usize> = BTreeMap::new();
        self.cells.values().for_each(|cell| *lines.entry(&cell.line).or_default() += 1);
        lines.into_iter().max_by_key(|(_, count)| *count).map_or(String::new(), |(line, _)| line.to_string())
    }
}

fn table(columns: &[(usize, String)], blocks: &[(&Block, Vec<&Row>)]) -> ValueTable {
    let blocks = blocks.iter().map(|(block, rows)| {
        let combinations: Vec<String> =
            columns.iter().map(|(group, _)| block.combinations.get(group).cloned().unwrap_or_default()).collect();
        let use_path = block.path.split_once('/').map_or(block.path.as_str(), |(_, rest)| rest);
        ValueBlock {
            title: block.title.clone(),
            own: block.own,
            path: use_path.into(),
            combinations: if combinations.iter().all(String::is_empty) { Vec::new() } else { combinations },
            rows: rows.iter().map(|row| value_row(columns, row)).collect(),
        }
    });
    ValueTable { columns: columns.iter().map(|(_, title)| title.clone()).collect(), blocks: blocks.collect() }
}

fn value_row(columns: &[(usize, String)], row: &Row) -> ValueRow {
    let line = row.line();
    let mut units = row.cells.values().map(|cell| &cell.value.unit);
    let unit = units.next().filter(|first| units.all(|unit| unit == *first)).cloned();
    let cell = |(group, _): &(usize, String)| match row.cells.get(group) {
        None => ValueCell::default(),
        Some(cell) => ValueCell {
            value: match &unit {
                Some(_) => cell.value.number.clone(),
                None => format!("{} {}", cell.value.number, cell.value.unit).trim().to_string(),
            },
            note: cell.note.clone(),
            line: if cell.line == line { String::new() } else { cell.line.clone() },
            failed: cell.failed,
        },
    };
    let (symbol, say) = match &row.name {
        Name::Symbol(math) => (Some(math.clone()), Vec::new()),
        Name::Limit(say) => (None, say.clone()),
    };
    ValueRow {
        line: line.clone(),
        symbol,
        say,
        unit: unit.clone().unwrap_or_default(),
        cells: columns.iter().map(cell).collect(),
    }
}
