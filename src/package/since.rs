//! The revision page: what changed, in words and in lists that a page has room for.

use super::build::Pages;
use super::marks::mark;
use super::model::{InputFile, Package, Revision, Since, SinceInput, SinceLimit, SinceSheet};
use crate::job::some_marks;
use crate::revision::{Comparison, InputChange, LimitChange, Outcome, OwnChange};

/// Rows that a list has room for on one page with the others.
const INPUTS: usize = 18;
const SHEETS: usize = 8;
const LIMITS: usize = 20;
/// Letters of a cell.
const CELL: usize = 64;

/// Marks in a package what differs from an older one, and fills its revision page.
pub fn since(package: &mut Package, pages: &mut Pages, old: &mut (Package, Pages), found: &Comparison) {
    mark(package, pages, old);
    found.inputs.iter().for_each(|change| as_read(&mut package.inputs, change));
    package.since = Some(page(found));
}

/// Marks a change where the file is printed as it was read, by the names of rows and
/// columns: where they stand there is no change.
fn as_read(files: &mut [InputFile], change: &InputChange) {
    let Some(file) = files.iter_mut().find(|file| file.name == change.file) else { return };
    let is_column = |heading: &str| {
        let name = heading.split(['[', '(']).next().unwrap_or(heading).trim();
        change.column.as_ref().is_none_or(|column| column == name)
    };
    let is_row = |cells: &[String]| {
        let has = |name: &str| cells.iter().any(|cell| cell == name);
        has(&change.row) || change.row.split(", ").all(has)
    };
    for line in &mut file.lines {
        let named = format!("[{}]", line.table) == change.row;
        line.changed |= named || line.table.is_empty() && line.keys.iter().any(|(key, _)| *key == change.row);
    }
    let headings = file.shared.iter().map(|(heading, _)| heading);
    file.changed.extend(headings.filter(|heading| change.column.is_some() && is_column(heading)).cloned());
    for table in &mut file.tables {
        let here = table.header.iter().any(|heading| is_column(heading));
        let rows = table.rows.iter().enumerate().filter(|(_, row)| match table.on_side {
            true => is_column(&row[0]) && is_row(&table.header),
            false => here && is_row(row),
        });
        table.changed.extend(rows.map(|(at, _)| at));
    }
}

/// What does not go together in the revisions of a job; empty where nothing is wrong.
pub fn warning(found: &Comparison) -> String {
    let from = named(&found.from);
    let entered: Vec<&str> = found.entered.iter().map(|revision| revision.no.as_str()).collect();
    match (found.changed(), entered.is_empty()) {
        (true, true) => format!("Changed since {from}, no revision entered."),
        (false, false) => {
            let what = if entered.len() == 1 { "Revision" } else { "Revisions" };
            let verb = if entered.len() == 1 { "is" } else { "are" };
            let list = entered.join(", ");
            format!("{what} {list} {verb} entered, but no input, sheet or result has changed since {from}.")
        }
        _ => String::new(),
    }
}

/// `revision A of 2026-09-14`.
fn named([revision, date]: &[String; 2]) -> String {
    if revision.is_empty() { format!("the issue of {date}") } else { format!("revision {revision} of {date}") }
}

fn page(found: &Comparison) -> Since {
    let from = named(&found.from);
    let (inputs, more_inputs) = cut(inputs(&found.inputs), INPUTS);
    let program = found.program.iter().map(|[old, new]| SinceSheet { file: new.clone(), how: format!("was {old}") });
    let (sheets, more_sheets) =
        cut(program.chain(found.own.iter().chain(&found.built_in).map(sheet)).collect(), SHEETS);
    let (limits, more_limits) = cut(limits(&found.limits), LIMITS);
    let entered = found.entered.iter();
    Since {
        title: format!(
            "Changes since {}",
            from.split(" of ").next().filter(|_| !found.from[0].is_empty()).unwrap_or(&from)
        ),
        from: found.from.clone(),
        issued: found.changed() || !found.entered.is_empty(),
        what: format!("This is {}; it is compared with {from}.", named(&found.to)),
        warning: warning(found),
        entered: entered
            .map(|it| Revision { no: it.no.clone(), date: it.date.clone(), what: it.what.clone() })
            .collect(),
        nothing: !found.changed(),
        inputs,
        more_inputs,
        sheets,
        more_sheets,
        limits,
        more_limits,
    }
}

fn cut<T>(mut list: Vec<T>, most: usize) -> (Vec<T>, usize) {
    // One that is left out takes as much room as to say so.
    let more = if list.len() > most + 1 { list.len() - most } else { 0 };
    list.truncate(list.len() - more);
    (list, more)
}

/// The same change in several rows is said once.
fn inputs(changes: &[InputChange]) -> Vec<SinceInput> {
    let mut found: Vec<(&InputChange, Vec<String>)> = Vec::new();
    for change in changes {
        let same = |(known, _): &&mut (&InputChange, Vec<String>)| {
            change.column.is_some()
                && (&known.file, &known.column, &known.old, &known.new)
                    == (&change.file, &change.column, &change.old, &change.new)
        };
        match found.iter_mut().find(same) {
            Some((_, rows)) => rows.push(change.row.clone()),
            None => found.push((change, vec![change.row.clone()])),
        }
    }
    let cell = |value: &Option<String>| value.as_deref().map_or("–".into(), shortened);
    let row = |(change, rows): (&InputChange, Vec<String>)| SinceInput {
        file: change.file.clone(),
        rows: shortened(&some_marks(&rows, 6)),
        column: change.column.clone().unwrap_or_default(),
        old: cell(&change.old),
        new: cell(&change.new),
    };
    found.into_iter().map(row).collect()
}

fn shortened(text: &str) -> String {
    if text.chars().count() <= CELL {
        return text.into();
    }
    let kept: String = text.chars().take(CELL - 1).collect();
    format!("{}…", kept.trim_end_matches([' ', ',']))
}

fn sheet(change: &OwnChange) -> SinceSheet {
    SinceSheet { file: change.file.clone(), how: change.how.said() }
}

/// Verdicts that changed first, then the highest ratio; posts in which a limit
/// changed alike together.
fn limits(changes: &[LimitChange]) -> Vec<SinceLimit> {
    let mut seen: Vec<&LimitChange> = changes.iter().filter(|change| change.is_seen()).collect();
    let turned = |change: &LimitChange| {
        let ok = |outcome: &Option<Outcome>| outcome.as_ref().is_none_or(|outcome| outcome.ok);
        ok(&change.old) != ok(&change.new)
    };
    let height = |change: &LimitChange| change.new.as_ref().and_then(|outcome| outcome.ratio).unwrap_or(-1.0);
    seen.sort_by(|a, b| turned(b).cmp(&turned(a)).then(height(b).total_cmp(&height(a))));
    let mut rows: Vec<(SinceLimit, Vec<String>)> = Vec::new();
    for change in seen {
        let row = limit(change);
        // Two uses of a sheet that come to the same are one to who reads it.
        let same = |(known, _): &&mut (SinceLimit, Vec<String>)| {
            (&known.limit, &known.sheet, &known.old, &known.new, &known.verdict)
                == (&row.limit, &row.sheet, &row.old, &row.new, &row.verdict)
        };
        match rows.iter_mut().find(same) {
            Some((_, marks)) => {
                marks.extend(change.posts.iter().filter(|post| !marks.contains(post)).cloned().collect::<Vec<_>>())
            }
            None => rows.push((row, change.posts.clone())),
        }
    }
    rows.into_iter().map(|(row, marks)| SinceLimit { marks: some_marks(&marks, 6), ..row }).collect()
}

fn limit(change: &LimitChange) -> SinceLimit {
    let either = change.new.as_ref().or(change.old.as_ref());
    let word = |outcome: &Outcome| if outcome.ok { "met" } else { "not met" };
    let ratio = |outcome: &Option<Outcome>| outcome.as_ref().map_or("not checked".into(), Outcome::printed);
    let verdict = match (&change.old, &change.new) {
        (Some(old), Some(new)) if old.ok != new.ok => format!("{}, was {}", word(new), word(old)),
        (None, Some(new)) => word(new).into(),
        _ => String::new(),
    };
    SinceLimit {
        limit: change.limit.clone(),
        sheet: either.map_or(String::new(), |outcome| outcome.sheet.clone()),
        marks: String::new(),
        old: ratio(&change.old),
        new: ratio(&change.new),
        verdict,
        combination: change.new.as_ref().map_or(String::new(), |outcome| outcome.combination.clone()),
    }
}
