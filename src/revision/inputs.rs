//! Inputs by what they are about: posts by mark, rows of catalogues by name,
//! reactions by mark and case, `job.toml` by table and key. Where a row or a
//! column stands is no input.

use std::collections::BTreeMap;

use crate::job::{Answer, InputFile, Job, REACTIONS};
use crate::names::{joined, plain, same_name};
use crate::quantity::Unit;

/// A row of a file, or a table of `job.toml`.
#[derive(Debug)]
pub struct InputRow {
    pub file: String,
    /// The table that it belongs to, wherever that stands.
    pub table: String,
    /// As it is written: `A1`, `A1, W1`, `[site]`.
    pub name: String,
    /// What it is known by: names are one whatever their capitals.
    pub key: String,
    pub cells: Vec<InputCell>,
}

/// A cell or key that is not empty.
#[derive(Debug)]
pub struct InputCell {
    pub name: String,
    pub key: String,
    /// As typed, with the unit of its column if it has none itself.
    pub value: String,
}

/// A cell or key that differs, or a row or table that only one edition has.
#[derive(Debug)]
pub struct InputChange {
    pub file: String,
    pub row: String,
    /// Nothing for a whole row.
    pub column: Option<String>,
    pub old: Option<String>,
    pub new: Option<String>,
}

const REVISIONS: &str = "[[revisions]]";

/// All that the files of a job say, but what every revision changes: its number
/// and its date.
pub fn rows(job: &Job) -> Vec<InputRow> {
    let mut rows = Vec::new();
    for file in &job.files {
        match file.name.as_str() {
            "job.toml" => settings(file, &mut rows),
            REACTIONS => records(job, file, &["mark", "case"], &mut rows),
            "posts.csv" => records(job, file, &["mark"], &mut rows),
            _ => records(job, file, &["name"], &mut rows),
        }
    }
    let answers = [
        ("decisions", &job.answers.decisions, &["what"][..]),
        ("confirmed", &job.answers.confirmed, &["table", "row"]),
    ];
    for (list, answers, named_by) in answers {
        rows.extend(answers.iter().map(|answer| answered(list, answer, named_by)));
    }
    rows
}

fn settings(file: &InputFile, rows: &mut Vec<InputRow>) {
    for row in &file.rows {
        let [table, key, value] = row.as_slice() else { continue };
        let (name, of, cell) = match (table.as_str(), key.as_str()) {
            ("job", "revision" | "date") => continue,
            // A text of a list is known by itself.
            ("", list) => (list.to_string(), value.as_str(), ""),
            ("revisions", _) => (REVISIONS.into(), value.split(", ").next().unwrap_or(value), ""),
            (table, key) => (format!("[{table}]"), "", key),
        };
        let key = format!("{name} {of}");
        let cell = InputCell { name: cell.into(), key: cell.into(), value: value.clone() };
        match rows.iter_mut().find(|row| row.key == key) {
            Some(row) => row.cells.push(cell),
            None => {
                rows.push(InputRow { file: file.shown.clone(), table: file.name.clone(), name, key, cells: vec![cell] })
            }
        }
    }
}

fn records(job: &Job, file: &InputFile, named_by: &[&str], rows: &mut Vec<InputRow>) {
    let headings: Vec<(String, String)> = file.header.iter().map(|heading| named(heading)).collect();
    let names: Vec<Option<usize>> =
        named_by.iter().map(|name| file.names.iter().position(|known| same_name(known, name))).collect();
    // A load case is the same under any of its names.
    let key = |(at, part): (usize, &&str)| match named_by[at] {
        "case" => job.mapping.case(part).unwrap_or_else(|| plain(part)),
        _ => plain(part),
    };
    for row in &file.rows {
        let parts: Vec<&str> = names.iter().flatten().filter_map(|at| row.get(*at)).map(String::as_str).collect();
        let cells = headings.iter().zip(row).enumerate();
        let cells = cells.filter(|(at, (_, text))| !text.is_empty() && !names.contains(&Some(*at)));
        let cells = cells.map(|(at, ((name, unit), text))| InputCell {
            name: name.clone(),
            key: joined(&file.names[at]).to_lowercase(),
            value: {
                let (value, mark) = text.strip_suffix(" ?").map_or((text.as_str(), ""), |value| (value, " ?"));
                let unit = if value.ends_with(|c: char| c.is_ascii_digit()) { unit.as_str() } else { "" };
                format!("{}{mark}", format!("{value} {unit}").trim_end())
            },
        });
        rows.push(InputRow {
            file: file.shown.clone(),
            table: file.name.clone(),
            name: parts.join(", "),
            key: parts.iter().enumerate().map(key).collect::<Vec<_>>().join(", "),
            cells: cells.collect(),
        });
    }
}

/// A heading's name and unit: `width [in]`, `P (kN)`.
fn named(heading: &str) -> (String, String) {
    let bracketed = heading.split_once('[').or_else(|| {
        let (name, unit) = heading.rsplit_once('(')?;
        Unit::parse(unit.trim_end().trim_end_matches(')')).is_ok().then_some((name, unit))
    });
    let (name, unit) = bracketed.unwrap_or((heading, ""));
    (name.trim().into(), unit.trim_end().trim_end_matches([']', ')']).trim().into())
}

fn answered(list: &str, answer: &Answer, named_by: &[&str]) -> InputRow {
    let name = named_by.iter().map(|key| answer.get(key)).collect::<Vec<_>>().join(", ");
    let cells = answer.keys().filter(|key| !named_by.contains(key) && !answer.get(key).is_empty());
    let cells =
        cells.map(|key| InputCell { name: key.into(), key: key.into(), value: answer.get(key).into() }).collect();
    let name = format!("[[{list}]] {name}");
    InputRow { file: "job.toml".into(), table: "job.toml".into(), key: plain(&name), name, cells }
}

/// What differs, in the order of the later edition; then what it no longer has.
pub fn compare(old: &[InputRow], new: &[InputRow]) -> Vec<InputChange> {
    let by_key = |rows: &[InputRow]| -> BTreeMap<(String, String), usize> {
        rows.iter().enumerate().map(|(at, row)| ((row.table.clone(), row.key.clone()), at)).collect()
    };
    let (before, after) = (by_key(old), by_key(new));
    let mut changes = Vec::new();
    for row in new {
        match before.get(&(row.table.clone(), row.key.clone())) {
            Some(at) => cells(&old[*at], row, &mut changes),
            // A new revision is told as one.
            None if row.name == REVISIONS => {}
            None => changes.push(whole(row, None, Some(said(row)))),
        }
    }
    let gone = old.iter().filter(|row| !after.contains_key(&(row.table.clone(), row.key.clone())));
    changes.extend(gone.map(|row| whole(row, Some(said(row)), None)));
    changes
}

fn whole(row: &InputRow, old: Option<String>, new: Option<String>) -> InputChange {
    InputChange { file: row.file.clone(), row: row.name.clone(), column: None, old, new }
}

/// A row in a line: `x 12 ft, width 8 in`.
fn said(row: &InputRow) -> String {
    let cells = row.cells.iter().map(|cell| format!("{} {}", cell.name, cell.value).trim().to_string());
    cells.collect::<Vec<_>>().join(", ")
}

fn cells(old: &InputRow, new: &InputRow, changes: &mut Vec<InputChange>) {
    let find = |row: &InputRow, key: &str| row.cells.iter().find(|cell| cell.key == key).map(|it| it.value.clone());
    let mut change = |cell: &InputCell, before: Option<String>, after: Option<String>| {
        changes.push(InputChange {
            file: new.file.clone(),
            row: new.name.clone(),
            column: Some(cell.name.clone()),
            old: before,
            new: after,
        });
    };
    for cell in &new.cells {
        let before = find(old, &cell.key);
        if before.as_ref() != Some(&cell.value) {
            change(cell, before, Some(cell.value.clone()));
        }
    }
    for cell in old.cells.iter().filter(|cell| find(new, &cell.key).is_none()) {
        change(cell, Some(cell.value.clone()), None);
    }
}
