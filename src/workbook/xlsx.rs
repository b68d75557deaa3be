//! Workbooks of the kind `.xlsx`.

use std::io::Cursor;

use calamine::{Data, ExcelDateTime, Reader, SheetVisible, Xlsx, XlsxError};

use super::Wrong;
use super::archive::{Parts, damaged};
use super::sheet::{Cells, Region, Sheet, number, time};
use super::tags::{Tag, tags};

pub fn sheets(bytes: &[u8], parts: &Parts, wanted: &dyn Fn(&str) -> bool) -> Result<Vec<Sheet>, Wrong> {
    let Some(workbook) = parts.text("xl/workbook.xml") else {
        return Err(Wrong::Other);
    };
    // Written by a program that left its formulas to be worked by the spreadsheet.
    let unworked = tags(&workbook).any(|tag| tag.local() == "calcPr" && tag.is("fullCalcOnLoad"));
    let links = parts.text("xl/_rels/workbook.xml.rels").unwrap_or_default();
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(wrong)?;
    let listed: Vec<(String, bool)> = book
        .sheets_metadata()
        .iter()
        .map(|sheet| (sheet.name.clone(), sheet.visible != SheetVisible::Visible))
        .collect();
    let mut sheets = Vec::new();
    for (name, hidden) in listed {
        let mut cells = Cells::default();
        cells.hidden = hidden;
        if wanted(&name) {
            let path = path_of(&workbook, &links, &name);
            looks(&parts.text(&path).unwrap_or_default(), &mut cells);
            match values(&mut book, &name, unworked, &mut cells) {
                // A sheet of one chart has no cells.
                Err(XlsxError::NotAWorksheet(_)) => {}
                read => read.map_err(wrong)??,
            }
        }
        sheets.push(cells.finish(&name));
    }
    Ok(sheets)
}

fn values(
    book: &mut Xlsx<Cursor<&[u8]>>,
    name: &str,
    unworked: bool,
    cells: &mut Cells,
) -> Result<Result<(), Wrong>, XlsxError> {
    let mut reader = book.worksheet_cells_reader(name)?;
    while let Some(cell) = reader.next_cell_with_formula()? {
        let text = text(&Data::from(cell.value));
        let text = match cell.formula {
            Some(formula) if text.is_empty() || unworked && text == "0" => format!("={formula}"),
            _ => text,
        };
        if let Err(large) = cells.put(cell.pos, text) {
            return Ok(Err(large));
        }
    }
    Ok(Ok(()))
}

/// What stands in a cell, as it would be typed.
pub fn text(value: &Data) -> String {
    match value {
        Data::Empty => String::new(),
        Data::Int(value) => value.to_string(),
        Data::Float(value) => number(*value),
        Data::String(text) => text.clone(),
        Data::Bool(yes) => if *yes { "yes" } else { "no" }.into(),
        Data::DateTime(date) => date_time(date),
        Data::DateTimeIso(date) => date.strip_suffix("T00:00:00").unwrap_or(date).replace('T', " "),
        Data::DurationIso(duration) => iso_duration(duration),
        Data::Error(error) => error.to_string(),
    }
}

fn date_time(date: &ExcelDateTime) -> String {
    let value = date.as_f64();
    if date.is_duration() || (0.0..1.0).contains(&value) {
        return time(value * 86_400.0);
    }
    let (year, month, day, ..) = date.to_ymd_hms_milli();
    let seconds = (value.fract() * 86_400.0).round();
    let clock = if seconds > 0.0 { format!(" {}", time(seconds)) } else { String::new() };
    format!("{year}-{month:02}-{day:02}{clock}")
}

/// `PT03H12M00S`.
fn iso_duration(text: &str) -> String {
    let mut seconds = 0.0;
    let mut digits = String::new();
    for c in text.chars() {
        if c.is_ascii_digit() || c == '.' {
            digits.push(c);
            continue;
        }
        let unit = match c {
            'H' => 3600.0,
            'M' => 60.0,
            _ => 1.0,
        };
        seconds += std::mem::take(&mut digits).parse::<f64>().unwrap_or(0.0) * unit;
    }
    time(seconds)
}

/// Hidden rows and columns, and merged cells.
fn looks(xml: &str, cells: &mut Cells) {
    let mut row = 0;
    for tag in tags(xml) {
        match tag.local() {
            "row" => {
                row = tag.number("r").unwrap_or(row + 1);
                if tag.is("hidden") {
                    cells.hidden_rows.insert(row.saturating_sub(1));
                }
            }
            "col" if tag.is("hidden") => {
                let (first, last) = (tag.number("min").unwrap_or(1), tag.number("max").unwrap_or(1));
                let last = last.min(super::COLUMNS);
                cells.hidden_columns.extend(first.saturating_sub(1)..last);
            }
            "mergeCell" => cells.merged.extend(region(&tag)),
            _ => {}
        }
    }
}

/// `A2:B5`.
fn region(tag: &Tag) -> Option<Region> {
    let range = tag.get("ref")?;
    let (first, last) = range.split_once(':')?;
    Some(Region { first: position(first)?, last: position(last)? })
}

fn position(cell: &str) -> Option<(u32, u32)> {
    let digits = cell.find(|c: char| c.is_ascii_digit())?;
    let column = cell[..digits].bytes().try_fold(0_u32, |sum, letter| {
        let place = letter.to_ascii_uppercase().checked_sub(b'A' - 1)?;
        sum.checked_mul(26)?.checked_add(place.into())
    })?;
    Some((cell[digits..].parse::<u32>().ok()?.checked_sub(1)?, column.checked_sub(1)?))
}

/// The part that holds a sheet.
fn path_of(workbook: &str, links: &str, name: &str) -> String {
    let sheet = tags(workbook).find(|tag| tag.local() == "sheet" && tag.get("name").as_deref() == Some(name));
    let id = sheet.and_then(|tag| tag.get("id"));
    let link = tags(links).find(|tag| tag.local() == "Relationship" && tag.get("Id") == id && id.is_some());
    let target = link.and_then(|tag| tag.get("Target")).unwrap_or_default();
    if target.starts_with('/') { target } else { format!("xl/{target}") }
}

fn wrong(error: XlsxError) -> Wrong {
    match error {
        XlsxError::Password => Wrong::Encrypted,
        XlsxError::FileNotFound(path) => Wrong::Damaged(format!("it has no part `{path}`")),
        _ => damaged("a part of it is not a spreadsheet"),
    }
}
