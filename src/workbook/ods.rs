//! Workbooks of the kind `.ods`.

use std::io::Cursor;

use calamine::{Ods, OdsError, Reader, SheetVisible};

use super::archive::damaged;
use super::sheet::{Cells, Region, Sheet};
use super::tags::tags;
use super::xlsx::text;
use super::{CELLS, COLUMNS, ROWS, Wrong};
use crate::source::letters;

pub fn sheets(bytes: &[u8], content: &str, wanted: &dyn Fn(&str) -> bool) -> Result<Vec<Sheet>, Wrong> {
    let looks = looks(content)?;
    let mut book: Ods<_> = Ods::new(Cursor::new(bytes)).map_err(wrong)?;
    let listed: Vec<(String, bool)> = book
        .sheets_metadata()
        .iter()
        .map(|sheet| (sheet.name.clone(), sheet.visible != SheetVisible::Visible))
        .collect();
    let mut sheets = Vec::new();
    for ((name, hidden), mut cells) in listed.into_iter().zip(looks) {
        cells.hidden = hidden;
        if wanted(&name) {
            let values = book.worksheet_range(&name).map_err(wrong)?;
            let formulas = book.worksheet_formula(&name).map_err(wrong)?;
            let (top, left) = values.start().unwrap_or_default();
            for (row, column, value) in values.used_cells() {
                cells.put((top + row as u32, left + column as u32), text(value))?;
            }
            let (top, left) = formulas.start().unwrap_or_default();
            for (row, column, formula) in formulas.used_cells() {
                let at = (top + row as u32, left + column as u32);
                if values.get_value(at).is_none_or(|value| text(value).is_empty()) {
                    cells.put(at, format!("={}", formula.trim_start_matches("of:").trim_start_matches('=')))?;
                }
            }
        }
        sheets.push(cells.finish(&name));
    }
    Ok(sheets)
}

/// Of each sheet its hidden rows and columns and its merged cells.
///
/// # Errors
/// A sheet is larger than is read: here a cell or a row that is said to be repeated
/// makes a large sheet of a small file.
fn looks(content: &str) -> Result<Vec<Cells>, Wrong> {
    let mut sheets: Vec<Cells> = Vec::new();
    // Where a row stands and how often, where its next cell stands, and which was
    // the last that holds something.
    let (mut row, mut lines, mut column, mut filled) = (0_u32, 0_u32, 0_u32, 0_u32);
    // The cells that are made of these, and the sheet's size so far.
    let (mut cells, mut size) = (0_usize, (0_u32, 0_u32));
    let mut header = 0_u32;
    for tag in tags(content) {
        match tag.local() {
            "table" => {
                sheets.push(Cells::default());
                (row, lines, column, header, size) = (0, 0, 0, 0, (0, 0));
            }
            "s" if tag.number("c").is_some_and(|blanks| blanks > 10_000) => {
                return Err(Wrong::Large("a cell has thousands of spaces".into()));
            }
            _ => {}
        }
        let Some(sheet) = sheets.last_mut() else { continue };
        let hidden = || tag.get("visibility").is_some_and(|how| how != "visible");
        let again = |name: &str| tag.get(name).map_or(1, |times| times.parse::<u32>().unwrap_or(u32::MAX));
        match tag.local() {
            "table-column" => {
                let last = header.saturating_add(again("number-columns-repeated")).min(COLUMNS);
                if hidden() {
                    sheet.hidden_columns.extend(header..last);
                }
                header = last;
            }
            "table-row" => {
                row = row.saturating_add(lines);
                (lines, column, filled) = (again("number-rows-repeated"), 0, 0);
                if hidden() {
                    sheet.hidden_rows.extend(row..row.saturating_add(lines).min(ROWS));
                }
            }
            "table-cell" | "covered-table-cell" => {
                let last = (row.saturating_add(lines), column.saturating_add(again("number-columns-repeated")));
                if tag.get("value-type").is_some() || tag.get("formula").is_some() {
                    size = (size.0.max(last.0), size.1.max(last.1));
                    cells = cells.saturating_add((last.1 - filled) as usize * lines.min(ROWS) as usize);
                    filled = last.1;
                    let oblong = size.0 as usize * size.1 as usize;
                    if last.0 > ROWS || last.1 > COLUMNS || cells > CELLS || oblong > 4 * CELLS {
                        let at = format!("{}{}", letters(last.1.saturating_sub(1) as usize), last.0);
                        return Err(Wrong::Large(format!("there is a cell at {at}")));
                    }
                }
                let (columns, rows) = (again("number-columns-spanned"), again("number-rows-spanned"));
                if columns > 1 || rows > 1 {
                    let last = (row.saturating_add(rows - 1), column.saturating_add(columns - 1));
                    sheet.merged.push(Region { first: (row, column), last });
                }
                column = last.1;
            }
            _ => {}
        }
    }
    Ok(sheets)
}

fn wrong(error: OdsError) -> Wrong {
    match error {
        OdsError::Password => Wrong::Encrypted,
        OdsError::FileNotFound(path) => Wrong::Damaged(format!("it has no part `{path}`")),
        OdsError::CellLimitExceeded { .. } => Wrong::Large("a row is repeated too often".into()),
        _ => damaged("a part of it is not a spreadsheet"),
    }
}
