//! What a terminal gives to print on: how wide it is, and whether in colour. Tables
//! and paragraphs break at blanks, never in a word; not at a no-break space, which is printed as a blank.

use crate::engine::Limit;
use comfy_table::{Attribute, Cell, CellAlignment, Color, ColumnConstraint, ContentArrangement, Table, Width, presets};

/// Where no terminal says how wide it is, and the most that is easily read.
const WIDTHS: [u16; 2] = [80, 110];

/// A word longer than this does not make its column wider.
const LONGEST: usize = 30;

#[derive(Clone, Copy, Debug)]
pub struct Paper {
    width: u16,
    colour: bool,
}

impl Paper {
    /// Standard output, for whoever reads it.
    pub fn new(terminal: bool, colour: bool) -> Paper {
        let known = if terminal { Table::new().width() } else { None };
        Paper { width: known.map_or(WIDTHS[0], |width| width.clamp(WIDTHS[0], WIDTHS[1])), colour }
    }

    /// A table of words without frame. `right`: columns of numbers.
    pub fn table(self, indent: u16, head: &[&str], rows: Vec<Vec<String>>, right: &[usize]) -> String {
        let mut table = Table::new();
        table.load_style(presets::NOTHING).set_content_arrangement(ContentArrangement::Dynamic);
        match self.colour {
            true => table.enforce_styling(),
            false => table.force_no_tty(),
        };
        table.set_width(self.width - indent);
        if head.iter().any(|name| !name.is_empty()) {
            let names = head.iter().enumerate().map(|(at, name)| {
                Cell::new(name).add_attribute(Attribute::Bold).set_alignment(alignment(right.contains(&at)))
            });
            table.set_header(names);
        }
        let words = |text: &str| text.split([' ', '\n']).map(|word| word.chars().count()).max().unwrap_or(0);
        let mut longest: Vec<usize> = head.iter().map(|name| words(name)).collect();
        for row in rows {
            for (longest, text) in longest.iter_mut().zip(&row) {
                *longest = words(text).max(*longest).min(LONGEST);
            }
            let cells = row.iter().enumerate().map(|(at, text)| {
                let cell = Cell::new(text).set_alignment(alignment(right.contains(&at)));
                let wrong = text.starts_with(NOT_MET) || text == OFF;
                if wrong { cell.add_attribute(Attribute::Bold).fg(Color::Red) } else { cell }
            });
            table.add_row(cells);
        }
        let last = longest.len().saturating_sub(1);
        for (at, column) in table.column_iter_mut().enumerate() {
            let gap = if at == last { 0 } else { GAP };
            column.set_padding((0, gap));
            column.set_constraint(ColumnConstraint::LowerBoundary(Width::Fixed(longest[at] as u16 + gap)));
        }
        let indent = " ".repeat(indent.into());
        table
            .lines()
            .map(|line| format!("{indent}{}", line.replace('\u{a0}', " ").trim_end()).trim_end().to_string() + "\n")
            .collect()
    }

    /// A paragraph, whose further lines stand under the first.
    pub fn paragraph(self, text: &str) -> String {
        self.table(0, &[""], vec![vec![text.into()]], &[])
    }
}

/// Between columns.
const GAP: u16 = 2;

const NOT_MET: &str = "NOT MET";
/// Of a value that is not as expected.
pub const OFF: &str = "OFF";

pub fn met(ok: bool) -> String {
    if ok { "met" } else { NOT_MET }.into()
}

/// The verdict of a limit, and that it may turn within what typed values may be off.
pub fn verdict(limit: &Limit) -> String {
    met(limit.ok()) + if limit.close() { ", close" } else { "" }
}

/// What `close` says, where something is.
pub fn closeness(any: bool, paper: Paper) -> String {
    match any {
        true => paper.paragraph(
            "close: the verdict may turn within what typed values may be off, such as 1/64 in; `--json` has each interval",
        ),
        false => String::new(),
    }
}

fn alignment(right: bool) -> CellAlignment {
    if right { CellAlignment::Right } else { CellAlignment::Left }
}
