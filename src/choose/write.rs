//! Other cells in a CSV file, and every other byte as it was.

use std::ops::Range;

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

use crate::diag::{Checked, Diagnostic, Diagnostics};
use crate::grid::{Grid, decode};
use crate::job::unmarked;
use crate::names::{plain, same_name};
use crate::source::{Form, Source};

/// A cell that is to hold another text.
#[derive(Clone, Debug)]
pub struct Change {
    pub mark: String,
    pub column: &'static str,
    pub old: String,
    pub new: String,
}

/// The file with these cells changed, and nothing else.
///
/// # Errors
/// A column that is not there; text that the file's encoding does not have.
pub fn changed(name: &str, bytes: &[u8], changes: &[Change]) -> Checked<Vec<u8>> {
    let text = decode(bytes);
    let encoded = |text: &str| encode(bytes, text);
    let safe = |why: String| {
        Diagnostic::new(format!("`{name}` cannot be changed safely: {why}"))
            .hint("save it as UTF-8, or write the names into it yourself")
    };
    if encoded(&text).as_deref() != Some(bytes) {
        return Err(safe("its text would not be written back as the same bytes".into()).into());
    }
    let source = Source::new(name, text.clone());
    let grid = Grid::read_below(&source, &[vec!["mark"]])?;
    let separator = match grid.source.form {
        Form::Csv(separator) => separator,
        Form::Lines | Form::Sheet => ',',
    };
    let mut edits: Vec<(Range<usize>, usize, String)> = Vec::new();
    let mut diagnostics = Diagnostics::new();
    for change in changes {
        match edit(&grid, &text, separator, change) {
            Ok(edit) => edits.push(edit),
            Err(diagnostic) => diagnostics.push(diagnostic),
        }
    }
    if !diagnostics.is_empty() {
        crate::diag::once(&mut diagnostics);
        return Err(diagnostics);
    }
    edits.sort_by_key(|(span, column, _)| (span.start, *column));
    // Of cells that a row ends before, each brings the separators since the one before it.
    let mut out = String::new();
    let mut at = 0;
    let mut padded: Option<(usize, usize)> = None;
    for (span, column, new) in &edits {
        out.push_str(&text[at..span.start]);
        let row = grid.rows.iter().find(|row| row.get(*column).is_some_and(|cell| cell.span == *span));
        let lacking = row.map_or(0, |row| lacking(row, &text, separator, *column));
        let done = padded.filter(|(start, _)| *start == span.start).map_or(0, |(_, done)| done);
        if lacking > 0 {
            out.extend(std::iter::repeat_n(separator, lacking - done));
            padded = Some((span.start, lacking));
        }
        out.push_str(new);
        at = span.end;
    }
    out.push_str(&text[at..]);
    // Read again, before anything is written.
    let again = Grid::read_below(&Source::new(name, out.clone()), &[vec!["mark"]])?;
    if !as_wanted(&grid, &again, changes) {
        return Err(safe("it would not be read back as it was meant".into()).into());
    }
    encoded(&out).ok_or_else(|| safe("its encoding lacks letters of one of the names".into()).into())
}

/// Text as the bytes of a file that was read; none where its encoding lacks a letter.
fn encode(file: &[u8], text: &str) -> Option<Vec<u8>> {
    let (encoding, mark) = match Encoding::for_bom(file) {
        Some((encoding, mark)) => (encoding, mark),
        None if std::str::from_utf8(file).is_ok() => (UTF_8, 0),
        None => (WINDOWS_1252, 0),
    };
    let mut out = file[..mark].to_vec();
    if encoding == UTF_16LE {
        out.extend(text.encode_utf16().flat_map(u16::to_le_bytes));
    } else if encoding == UTF_16BE {
        out.extend(text.encode_utf16().flat_map(u16::to_be_bytes));
    } else {
        let (bytes, _, lost) = encoding.encode(text);
        if lost {
            return None;
        }
        out.extend_from_slice(&bytes);
    }
    Some(out)
}

/// Whether a cell holds the mark of a post, be it a starter value or not.
fn is_mark(cell: &str, mark: &str) -> bool {
    plain(&unmarked(cell).0) == plain(mark)
}

fn edit(
    grid: &Grid,
    text: &str,
    separator: char,
    change: &Change,
) -> Result<(Range<usize>, usize, String), Diagnostic> {
    let column_of = |name: &str| grid.columns.iter().position(|column| same_name(&column.name, name));
    let column = column_of(change.column).ok_or_else(|| {
        Diagnostic::new(format!("there is no column `{}` to write `{}` into", change.column, change.new))
            .at(grid.header())
            .hint(format!("add the heading `{}` and an empty cell in each row", change.column))
    })?;
    let mark = column_of("mark").unwrap_or(0);
    let row = grid.rows.iter().find(|row| is_mark(&row[mark].text, &change.mark));
    let row =
        row.ok_or_else(|| Diagnostic::new(format!("there is no row for post {}", change.mark)).at(grid.header()))?;
    let span = row[column].span.clone();
    let new = &change.new;
    let quoted = text[span.clone()].starts_with('"')
        || new.contains([separator, '"', '\n', '\r'])
        || new.trim() != new
        || new.starts_with('#') && column == 0;
    let new = if quoted && !new.is_empty() { format!("\"{}\"", new.replace('"', "\"\"")) } else { new.clone() };
    Ok((span, column, new))
}

/// Separators that a row lacks before a cell which it ends before.
fn lacking(row: &[crate::grid::Cell], text: &str, separator: char, column: usize) -> usize {
    let real =
        (1..row.len()).take_while(|at| text[row[at - 1].span.end..row[*at].span.start].contains(separator)).count();
    column.saturating_sub(real)
}

/// Whether a grid is another one with these cells changed.
fn as_wanted(old: &Grid, new: &Grid, changes: &[Change]) -> bool {
    let mark = old.columns.iter().position(|column| same_name(&column.name, "mark")).unwrap_or(0);
    let same_columns = old.columns.iter().map(|it| &it.cell.text).eq(new.columns.iter().map(|it| &it.cell.text));
    let cell = |row: &[crate::grid::Cell], at: usize| {
        let of = |change: &&Change| {
            is_mark(&row[mark].text, &change.mark) && same_name(change.column, &old.columns[at].name)
        };
        changes.iter().find(of).map_or(row[at].text.clone(), |change| change.new.clone())
    };
    same_columns
        && old.rows.len() == new.rows.len()
        && old.rows.iter().zip(&new.rows).all(|(old, new)| (0..old.len()).all(|at| cell(old, at) == new[at].text))
}
