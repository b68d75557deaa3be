//! The appendix: reports that are cited, rows of tables, the index of clauses,
//! the files as they were read.

use super::ledger::Ledger;
use super::model::{Clause, InputFile, Report, TableSource};
use crate::job::Job;

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
        });
    }
    reports
}

pub(super) fn sources(ledger: &Ledger) -> Vec<TableSource> {
    let rows = ledger.rows.iter().map(|((table, row), used)| TableSource {
        table: table.clone(),
        row: row.clone(),
        source: used.source.clone(),
        kind: if used.recalled { "recalled".into() } else { "published".into() },
        caution: used.caution.clone(),
        lines: used.lines.clone(),
    });
    rows.collect()
}

pub(super) fn clauses(ledger: &Ledger) -> Vec<Clause> {
    let clauses = ledger.clauses.iter();
    clauses.map(|(cite, lines)| Clause { cite: cite.clone(), lines: lines.clone() }).collect()
}

pub(super) fn inputs(job: &Job) -> Vec<InputFile> {
    let files = job.files.iter();
    files
        .map(|file| InputFile { name: file.name.clone(), header: file.header.clone(), rows: file.rows.clone() })
        .collect()
}
