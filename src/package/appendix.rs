//! The appendix: the files as they were read, reports that are cited, rows of
//! tables, the index of clauses.

use std::collections::BTreeMap;

use super::ledger::Ledger;
use super::model::{Cited, Clause, InputFile, InputLine, InputTable, Report, TableSource};
use crate::job::{self, CATALOGUES, Catalogue, Entry, Job, Post};

/// The width of a page for a table of small type, and about what a character and
/// a column take of it, in points.
const PAGE: f64 = 524.0;
const CHARACTER: f64 = 3.3;
const GUTTER: f64 = 7.0;

/// As many tables stand beside one another, and so many rows below: such a band is
/// not torn, and leaves little of a page free.
const BESIDE: usize = 4;
const ROWS: usize = 30;

/// The files of the job, each in the layout that takes the least of a page.
pub(super) fn inputs(job: &Job) -> Vec<InputFile> {
    let of =
        |file: &job::InputFile| InputFile { idle: idle(job, file), ..input(&file.shown, &file.header, &file.rows) };
    job.files.iter().map(of).collect()
}

/// The rows of a catalogue that no post has.
fn idle(job: &Job, file: &job::InputFile) -> Vec<String> {
    let rows = CATALOGUES.iter().filter_map(|catalogue| Some((catalogue, job.catalogues.get(catalogue.name)?)));
    let rows = rows.flat_map(|(catalogue, entries)| entries.rows().map(move |entry| (catalogue, entry)));
    let has = |post: &Post, catalogue: &Catalogue, entry: &Entry| {
        post.entries.get(catalogue.name).is_some_and(|known| known.name == entry.name)
    };
    let of_file = rows.filter(|(_, entry)| entry.file == file.shown);
    let mut idle: Vec<&Entry> = of_file
        .filter(|(catalogue, entry)| !job.posts.iter().any(|post| has(post, catalogue, entry)))
        .map(|(_, entry)| entry.as_ref())
        .collect();
    idle.sort_by_key(|entry| entry.place.span.start);
    idle.into_iter().map(|entry| entry.name.clone()).collect()
}

fn input(name: &str, header: &[String], rows: &[Vec<String>]) -> InputFile {
    let mut file = InputFile {
        name: name.into(),
        records: rows.len(),
        idle: Vec::new(),
        shared: Vec::new(),
        empty: Vec::new(),
        tables: Vec::new(),
        changed: Vec::new(),
        lines: Vec::new(),
    };
    if name == "job.toml" {
        file.lines = lines(rows);
        return file;
    }
    let cell = |row: &[String], at: usize| row.get(at).cloned().unwrap_or_default();
    let mut varied: Vec<Vec<String>> = Vec::new();
    for (at, heading) in header.iter().enumerate() {
        let cells: Vec<String> = rows.iter().map(|row| cell(row, at)).collect();
        match cells.first() {
            Some(first) if cells.len() > 1 && cells.iter().all(|cell| cell == first) => match first.is_empty() {
                true => file.empty.push(heading.clone()),
                false => file.shared.push((heading.clone(), first.clone())),
            },
            _ => varied.push(std::iter::once(heading.clone()).chain(cells).collect()),
        }
    }
    if rows.len() == 1 {
        // One record is a run of words and values.
        let (empty, shared): (Vec<_>, Vec<_>) = varied.into_iter().partition(|column| column[1].is_empty());
        file.empty = empty.into_iter().map(|column| column[0].clone()).collect();
        file.shared = shared.into_iter().map(|column| (column[0].clone(), column[1].clone())).collect();
    } else if !varied.is_empty() {
        file.tables = tables(varied);
    }
    file
}

fn width(texts: &[String]) -> f64 {
    let longest = texts.iter().map(|text| text.chars().count()).max().unwrap_or(0);
    CHARACTER * longest as f64 + GUTTER
}

/// Columns, heading first, as tables: upright where a page is wide enough, a few
/// of them beside one another where it is wider; else on their side, a column a
/// record, with the later fields beside the first or below.
fn tables(columns: Vec<Vec<String>>) -> Vec<InputTable> {
    let records = columns[0].len() - 1;
    let whole: f64 = columns.iter().map(|column| width(column)).sum();
    if whole <= PAGE {
        let beside = ((PAGE / (whole + GUTTER)) as usize).clamp(1, BESIDE);
        let each = records.div_ceil(beside).clamp(3, ROWS);
        let rows: Vec<Vec<String>> =
            (1..=records).map(|at| columns.iter().map(|column| column[at].clone()).collect()).collect();
        let header: Vec<String> = columns.iter().map(|column| column[0].clone()).collect();
        return rows.chunks(each).map(|rows| table_of(&header, rows, false)).collect();
    }
    let names: Vec<String> = columns.iter().map(|column| column[0].clone()).collect();
    let one = columns.iter().map(|column| width(&column[1..])).fold(0.0, f64::max);
    let most = (((PAGE - width(&names)) / one) as usize).max(1);
    // Blocks of about equal size: no last one with a single record.
    let each = records.div_ceil(records.div_ceil(most));
    let mut tables = Vec::new();
    for start in (1..=records).step_by(each) {
        let end = (start + each - 1).min(records);
        let part = |column: &Vec<String>| {
            std::iter::once(column[0].clone()).chain(column[start..=end].iter().cloned()).collect::<Vec<String>>()
        };
        let (head, fields) = (part(&columns[0]), columns[1..].iter().map(part).collect::<Vec<_>>());
        let taken = width(&names) + (end - start + 1) as f64 * one + GUTTER;
        let beside = ((PAGE / taken) as usize).clamp(1, BESIDE - 1);
        let rows = fields.len().div_ceil(beside).max(1);
        tables.extend(fields.chunks(rows).map(|rows| table_of(&head, rows, true)));
    }
    tables
}

fn table_of(header: &[String], rows: &[Vec<String>], on_side: bool) -> InputTable {
    InputTable { header: header.to_vec(), rows: rows.to_vec(), on_side, changed: Vec::new() }
}

/// Table, key and value, a line for each table.
fn lines(rows: &[Vec<String>]) -> Vec<InputLine> {
    let mut lines: Vec<InputLine> = Vec::new();
    for row in rows {
        let [table, key, value] = row.as_slice() else { continue };
        let pair = (key.clone(), value.clone());
        match lines.iter_mut().find(|line| line.table == *table) {
            Some(line) => line.keys.push(pair),
            None => lines.push(InputLine { table: table.clone(), keys: vec![pair], changed: false }),
        }
    }
    lines
}

/// The evaluation reports that the job's hardware cites, each entry once.
pub(super) fn reports(job: &Job) -> Vec<Report> {
    let mut reports: Vec<Report> = Vec::new();
    for entry in job.posts.iter().flat_map(|post| post.entries.values()) {
        let part = |name: &str| entry.facts.get(name).map_or(String::new(), |fact| fact.text.clone());
        if part("report").is_empty() || reports.iter().any(|report| report.base == entry.name) {
            continue;
        }
        reports.push(Report {
            base: entry.name.clone(),
            number: part("report"),
            date: part("report_date"),
            source: part("source"),
            changed: false,
        });
    }
    reports
}

/// Rows that were read in their publication; the others are open questions.
pub(super) fn sources(ledger: &Ledger) -> Vec<TableSource> {
    let published = ledger.rows.iter().filter(|(_, used)| !used.recalled);
    let rows = published.map(|((table, row), used)| TableSource {
        table: table.clone(),
        row: row.clone(),
        source: used.source.clone(),
        caution: used.caution.clone(),
        lines: used.lines.clone(),
        changed: false,
    });
    rows.collect()
}

/// Publications whose clauses are cited by their names.
const PUBLICATIONS: [&str; 8] = [
    "IBC 2021",
    "IRC 2021",
    "ASCE 7-16",
    "NDS Supplement 2018",
    "NDS 2018",
    "AISC 360-16",
    "AISC Manual",
    "ACI 318-19",
];

/// Whether a citation is the bare number of a clause.
fn is_clause(cite: &str) -> bool {
    let first = cite.split([' ', '.']).next().unwrap_or("");
    cite.starts_with(|c: char| c.is_ascii_digit()) || ["App", "Appendix", "Table", "Eq", "Commentary"].contains(&first)
}

/// The index of clauses, publication by publication. What a line cites from two
/// publications stands under each of them.
pub(super) fn clauses(ledger: &Ledger) -> Vec<Cited> {
    let mut found: BTreeMap<(usize, &str), Vec<String>> = BTreeMap::new();
    for (cite, lines) in &ledger.clauses {
        let mut before = PUBLICATIONS.len();
        for part in cite.split(';').map(str::trim) {
            let named = PUBLICATIONS.iter().position(|name| part.starts_with(name));
            // `ACI 318-19 17.6.2.1; 17.6.3.2.1`: the second is of the same publication.
            let of = named.unwrap_or(if is_clause(part) { before } else { PUBLICATIONS.len() });
            before = of;
            let known = found.entry((of, part)).or_default();
            known.extend(lines.iter().filter(|line| !known.contains(line)).cloned().collect::<Vec<_>>());
        }
    }
    let mut cited: Vec<Cited> = Vec::new();
    for ((of, part), lines) in found {
        let publication = PUBLICATIONS.get(of).copied().unwrap_or("Other sources");
        let clause = part.strip_prefix(publication).map_or(part, str::trim_start);
        let clause = Clause { cite: clause.into(), lines };
        match cited.last_mut().filter(|known| known.publication == publication) {
            Some(known) => known.clauses.push(clause),
            None => cited.push(Cited { publication: publication.into(), clauses: vec![clause] }),
        }
    }
    cited
}
