//! Rows for a spreadsheet.

use super::json::LimitRow;
use crate::alone::{Limit, limits};
use crate::engine::{Results, Schedule};
use crate::formula::Value;
use crate::grid::Grid;
use crate::job::Job;
use crate::names::file_name;
use crate::quantity::Unit;
use crate::sheet::{Bound, Step, Verdict, Worked};
use crate::typeset::value_text;

/// One row a limit of a post.
pub fn check_csv(job: &Job, results: &Results) -> String {
    let mut rows = vec![LIMIT_COLUMNS.map(String::from).to_vec()];
    let number = |number: Option<f64>| number.map_or(String::new(), |number| number.to_string());
    rows.extend(limit_rows(job, results).map(|(mark, group, limit)| {
        let (low, high, close) = (limit.low(), limit.high(), limit.close());
        vec![
            mark.to_string(),
            group.to_string(),
            limit.sheet,
            limit.limit,
            limit.cite,
            number(limit.demand),
            number(limit.capacity),
            limit.unit,
            number(limit.ratio),
            limit.combination,
            if limit.ok { "met" } else { "not met" }.into(),
            number(low),
            number(high),
            close.into(),
        ]
    }));
    write(&rows)
}

pub(super) const LIMIT_COLUMNS: [&str; 14] = [
    "mark",
    "group",
    "sheet",
    "limit",
    "cite",
    "demand",
    "capacity",
    "unit",
    "ratio",
    "combination",
    "verdict",
    "low",
    "high",
    "close",
];

/// Every limit of every post, and the fits that are not met: the post's mark, the number of its group, the limit.
pub(super) fn limit_rows<'a>(job: &'a Job, results: &'a Results) -> impl Iterator<Item = (&'a str, usize, LimitRow)> {
    job.posts.iter().zip(&results.group_of).flat_map(|(post, group)| {
        let group = &results.groups[*group];
        let limits = group.limits.iter().filter(|limit| !limit.is_fit() || !limit.ok());
        limits.map(|limit| (post.mark.as_str(), group.no, LimitRow::of(results, limit)))
    })
}

/// Each schedule as a file: its name, and its rows under their headings.
pub fn schedule_files(schedules: &[Schedule]) -> Vec<(String, String)> {
    let file = |table: &Schedule| {
        let name = format!("{}.csv", file_name(&table.title.to_lowercase()));
        let rows: Vec<Vec<String>> = std::iter::once(&table.header).chain(&table.rows).cloned().collect();
        (name, write(&rows))
    };
    schedules.iter().map(file).collect()
}

/// The rows of a file with every symbol of a sheet worked for each appended,
/// then `ok`, then ratio and verdict of each limit. A cell of a limit that was
/// not worked is empty; a limit that is no ratio has a verdict alone.
pub fn rows_csv(grid: &Grid, worked: &[Worked]) -> String {
    let mut symbols: Vec<(String, Unit)> = Vec::new();
    let all: Vec<Vec<(String, &Bound)>> = worked
        .iter()
        .map(|worked| {
            let mut found = Vec::new();
            collect(worked, "", &mut found);
            // Exactly: `f_c` is another symbol than `F_c`.
            found.retain(|(name, _)| grid.columns.iter().all(|column| column.name != *name));
            found
        })
        .collect();
    for (name, bound) in all.iter().flatten() {
        if !symbols.iter().any(|(known, _)| known == name) {
            symbols.push((name.clone(), bound.unit.clone()));
        }
    }
    let mut header: Vec<String> = grid.columns.iter().map(|column| column.cell.text.clone()).collect();
    header.extend(
        symbols.iter().map(
            |(name, unit)| if unit.name().is_empty() { name.clone() } else { format!("{name} [{}]", unit.name()) },
        ),
    );
    let verdicts: Vec<Vec<Limit>> = worked.iter().map(limits).collect();
    let mut names: Vec<(&str, bool)> = Vec::new();
    for Limit { name, verdict, .. } in verdicts.iter().flatten() {
        match names.iter_mut().find(|(known, _)| known == name) {
            Some((_, ratio)) => *ratio |= verdict.ratio.is_some(),
            None => names.push((name, verdict.ratio.is_some())),
        }
    }
    header.push(OK.into());
    for (name, ratio) in &names {
        header.extend(ratio.then(|| format!("{RATIO}{name}")));
        header.push(format!("{VERDICT}{name}"));
    }
    let mut rows = vec![header];
    for ((row, found), verdicts) in grid.rows.iter().zip(&all).zip(&verdicts) {
        let mut cells: Vec<String> = row.iter().map(|cell| cell.text.clone()).collect();
        for (name, unit) in &symbols {
            let bound = found.iter().find(|(known, _)| known == name).map(|(_, bound)| *bound);
            cells.push(bound.map_or(String::new(), |bound| match &bound.value {
                Value::Quantity(quantity) => quantity.in_unit(unit).to_string(),
                value => value_text(value),
            }));
        }
        cells.push(if verdicts.iter().all(|limit| limit.verdict.ok) { "yes" } else { "no" }.into());
        for (name, ratio) in &names {
            let verdict = verdicts.iter().find(|limit| limit.name == *name).map(|limit| limit.verdict);
            let number = verdict.and_then(|verdict| verdict.ratio).filter(|ratio| ratio.is_finite());
            cells.extend(ratio.then(|| number.map_or(String::new(), |ratio| ratio.to_string())));
            cells.push(verdict.map_or("", met).into());
        }
        rows.push(cells);
    }
    write(&rows)
}

/// What `rows_csv` says of a row as a whole, and begins the columns of a limit with.
const OK: &str = "ok";
const RATIO: &str = "ratio: ";
const VERDICT: &str = "verdict: ";

/// Whether a column is one that `rows_csv` adds for limits.
pub fn is_verdict(column: &str) -> bool {
    column == OK || column.starts_with(RATIO) || column.starts_with(VERDICT)
}

fn met(verdict: &Verdict) -> &'static str {
    if verdict.ok { "met" } else { "not met" }
}

/// Symbols in the order in which they are bound, the sheet's own first.
fn collect<'a>(worked: &'a Worked, prefix: &str, found: &mut Vec<(String, &'a Bound)>) {
    let mut add = |name: &str| {
        if let Some(bound) = worked.bound.get(name) {
            found.push((format!("{prefix}{name}"), bound));
        }
    };
    worked.given.iter().for_each(|given| add(&given.input.name));
    for step in &worked.steps {
        match step {
            Step::Let { rule, .. } | Step::Rename(rule) => add(&rule.name),
            Step::Take { rule, .. } => rule.names.iter().for_each(|(name, ..)| add(name)),
            _ => {}
        }
    }
    for step in &worked.steps {
        if let Step::Use(inner) = step {
            collect(inner, &format!("{prefix}{}.", inner.name), found);
        }
    }
}

/// A text that a spreadsheet does not take for a formula.
fn as_text(text: &str) -> String {
    let begins = text.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let number = text.parse::<f64>().is_ok() || text == "-";
    if begins && !number { format!("'{text}") } else { text.into() }
}

pub(super) fn write(rows: &[Vec<String>]) -> String {
    let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
    for row in rows {
        // Writing to memory does not fail.
        let _ = writer.write_record(row.iter().map(|text| as_text(text)));
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}
