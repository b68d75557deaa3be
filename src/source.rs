//! Texts that were read, and places in them.

use std::ops::Range;
use std::sync::Arc;

/// A text and the name that the user knows it by.
#[derive(Debug)]
pub struct Source {
    pub name: String,
    pub text: String,
    pub form: Form,
}

/// What a text is to who looks for a place in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Form {
    Lines,
    /// Cells apart by a separator, which a spreadsheet shows with letters for its
    /// columns.
    Csv(char),
    /// The sheet of a workbook, a line for each row and commas between its cells.
    Sheet,
}

impl Source {
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Arc<Source> {
        Source::with(name, text, Form::Lines)
    }

    pub fn with(name: impl Into<String>, text: impl Into<String>, form: Form) -> Arc<Source> {
        Arc::new(Source { name: name.into(), text: text.into(), form })
    }

    /// The same text, known to hold cells.
    pub fn separated(&self, separator: char) -> Arc<Source> {
        let form = if self.form == Form::Lines { Form::Csv(separator) } else { self.form };
        Source::with(self.name.as_str(), self.text.as_str(), form)
    }

    /// Without its folder.
    pub fn file(&self) -> &str {
        self.name.rsplit('/').next().unwrap_or(&self.name)
    }

    /// Line and column of a byte offset, both from 1, columns in characters.
    pub fn line_column(&self, offset: usize) -> (usize, usize) {
        let before = self.before(offset);
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
    }

    /// What stands before the character that an offset stands in.
    fn before(&self, offset: usize) -> &str {
        let mut end = offset.min(self.text.len());
        while !self.text.is_char_boundary(end) {
            end -= 1;
        }
        &self.text[..end]
    }

    /// The row, from 1, and the column, from 0, of the cell that an offset stands in.
    fn cell(&self, offset: usize, separator: char) -> (usize, usize) {
        let (mut row, mut column) = (1, 0);
        // A quote means something where a cell begins, and behind one that closed.
        let (mut begins, mut closed, mut quoted, mut comment) = (true, false, false, false);
        for c in self.before(offset).chars() {
            let closes = quoted && c == '"';
            match c {
                '\n' if !quoted => (row, column, begins, comment) = (row + 1, 0, true, false),
                _ if comment => {}
                _ if quoted => quoted = !closes,
                '"' if begins || closed => (quoted, begins) = (true, false),
                '#' if begins && column == 0 => comment = true,
                c if c == separator => (column, begins) = (column + 1, true),
                _ => begins = false,
            }
            closed = closes;
        }
        (row, column)
    }
}

/// The letters of a column of a spreadsheet, from 0: A, B, … Z, AA.
pub fn letters(column: usize) -> String {
    let last = char::from(b'A' + (column % 26) as u8);
    match column / 26 {
        0 => last.into(),
        more => format!("{}{last}", letters(more - 1)),
    }
}

/// A stretch of a source.
#[derive(Clone, Debug)]
pub struct Place {
    pub source: Arc<Source>,
    pub span: Range<usize>,
}

impl Place {
    pub fn new(source: &Arc<Source>, span: Range<usize>) -> Place {
        Place { source: source.clone(), span }
    }

    /// `job.toml:4:12`, `posts.csv:4:12 (cell C4)`, `job.xlsx, sheet posts, cell C4`.
    pub fn describe(&self) -> String {
        let Place { source, span } = self;
        let (line, column) = source.line_column(span.start);
        let plain = format!("{}:{line}:{column}", source.name);
        match source.form {
            Form::Lines => plain,
            Form::Csv(separator) => format!("{plain} ({})", self.cells(separator)),
            Form::Sheet => format!("{}, {}", source.name, self.cells(',')),
        }
    }

    /// `cell C4`, or `row 4` of what is more than a cell.
    fn cells(&self, separator: char) -> String {
        let first = self.source.cell(self.span.start, separator);
        let last = self.source.cell(self.span.end.max(self.span.start + 1) - 1, separator);
        match first.1 == last.1 || self.span.is_empty() {
            true => format!("cell {}{}", letters(first.1), first.0),
            false => format!("row {}", first.0),
        }
    }
}
