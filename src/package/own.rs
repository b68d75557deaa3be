//! What of a package is the job's own and no part of the program: its sheets and
//! tables, with what uses them, and the rows that it reads of them.

use std::collections::BTreeSet;

use super::ledger::Ledger;
use super::model::{OwnFile, OwnRow};
use crate::diag::{count, list};
use crate::engine::{ROOTS, TABLES};
use crate::job::Job;
use crate::sheet::{Library, Own, Used, What};
use crate::verdict::OWN_TITLE_BLOCK;

/// The job's own files: what takes the place of something built in comes first.
pub fn own(job: &Job, library: &Library, ledger: &Ledger) -> Vec<OwnFile> {
    let used = library.used(&ROOTS, &TABLES);
    let (instead, beside): (Vec<&Own>, Vec<&Own>) = library.own().iter().partition(|own| own.instead);
    let files = instead.into_iter().chain(beside);
    let title_block = job.title_block.iter().map(|_| OwnFile {
        file: OWN_TITLE_BLOCK.0.into(),
        title: "Title block".into(),
        stands: OWN_TITLE_BLOCK.1.into(),
        used: "set on the cover and in the head of every sheet".into(),
        rows: Vec::new(),
        changed: false,
    });
    let files = files.map(|own| {
        if own.what == What::Sheet { sheet(job, own, &used, ledger) } else { table(library, own, &used, ledger) }
    });
    title_block.chain(files).collect()
}

fn sheet(job: &Job, own: &Own, used: &Used, ledger: &Ledger) -> OwnFile {
    let worked = match ledger.own_sheets.get(&own.name) {
        None => "no post of this job uses it".into(),
        Some(posts) => format!("used for {}", marks(job, posts)),
    };
    let by: Vec<&String> = used.by(own).into_iter().flatten().collect();
    OwnFile {
        file: format!("templates/{}", own.path),
        title: own.title.clone(),
        stands: own.stands().into(),
        used: if by.is_empty() { worked } else { format!("used by {}; {worked}", list(&by, "and")) },
        rows: Vec::new(),
        changed: false,
    }
}

fn marks(job: &Job, posts: &BTreeSet<usize>) -> String {
    if posts.len() == job.posts.len() {
        return "every post".into();
    }
    let marks: Vec<&str> = posts.iter().map(|post| job.posts[*post].mark.as_str()).collect();
    format!("{} {}", if marks.len() == 1 { "post" } else { "posts" }, marks.join(", "))
}

fn table(library: &Library, own: &Own, used: &Used, ledger: &Ledger) -> OwnFile {
    let Some(table) = library.table(&own.name) else { unreachable!("it was loaded from this file") };
    let keys = library.keys(&own.name);
    // The tables that load combinations are made from are read whole, by no line.
    let of_combinations = TABLES.contains(&own.name.as_str());
    let mut all = 0;
    let mut rows = Vec::new();
    for at in table.own_rows() {
        all += 1;
        let published = table.published(at, keys);
        let read = ledger.own_rows.get(&(own.name.clone(), at));
        if read.is_none() && !of_combinations {
            continue;
        }
        rows.push(OwnRow {
            row: format!("{}: {}", published.name, published.values),
            source: published.source,
            stands: if read.is_some_and(|read| read.instead) {
                "in place of the built-in row".into()
            } else {
                String::new()
            },
            lines: read.map_or(Vec::new(), |read| read.lines.clone()),
        });
    }
    let by = match of_combinations {
        true => "the load combinations".into(),
        false => list(&used.by(own).into_iter().flatten().collect::<Vec<_>>(), "and"),
    };
    let read = match rows.len() {
        0 => "none read for this job".to_string(),
        some if some == all => "read for this job".into(),
        some => format!("{some} read for this job"),
    };
    OwnFile {
        file: format!("templates/{}", own.path),
        title: own.title.clone(),
        stands: own.stands().into(),
        used: format!("read by {by}; {}, {read}", count(all, "row")),
        rows,
        changed: false,
    }
}
