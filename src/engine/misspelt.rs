//! Columns that no sheet reads. A job may keep what it likes in them, but a
//! name that is nearly one that a sheet reads is a slip, and would leave a load
//! or a size out without a word.

use std::collections::{BTreeMap, BTreeSet};

use crate::diag::{Diagnostic, Diagnostics, Kind, nearest};
use crate::grid::same_name;
use crate::job::{CATALOGUES, Facts, Job, load_column};
use crate::sheet::Library;
use crate::source::Place;

/// What is read of every row without a sheet.
const PLAIN: [&str; 8] = ["mark", "name", "source", "report", "report_date", "base", "w_x", "w_y"];

/// Diagnostics of columns that are nearly one that is read and stands nowhere.
pub fn misspelt(job: &Job, library: &Library) -> Diagnostics {
    let inputs = |catalogue: Option<&str>| -> BTreeSet<&str> {
        let read = |from: &str| match catalogue {
            Some(name) => from == name,
            // A post may say for itself what the job says of all.
            None => !CATALOGUES.iter().any(|catalogue| catalogue.name == from),
        };
        let columns = library.columns().filter_map(|(_, input)| input.from.as_ref());
        columns.filter(|from| read(&from.source)).map(|from| from.name.as_str()).chain(PLAIN).collect()
    };
    let mut diagnostics = Diagnostics::new();
    if let Some(post) = job.posts.first() {
        diagnostics.extend(slips(&post.facts, &inputs(None)));
    }
    for catalogue in &CATALOGUES {
        let known = inputs(Some(catalogue.name));
        if let Some(entry) = job.posts.iter().find_map(|post| post.entries.get(catalogue.name)) {
            diagnostics.extend(slips(&entry.facts, &known));
        }
    }
    diagnostics.extend(halves(job));
    diagnostics
}

fn slips(facts: &Facts, known: &BTreeSet<&str>) -> Diagnostics {
    let there = |name: &str| facts.keys().any(|column| same_name(column, name));
    let unread = facts
        .iter()
        .filter(|(column, _)| load_column(column).is_none() && !known.iter().any(|name| same_name(name, column)));
    let slip = |(column, fact): (&String, &crate::job::Fact)| {
        let near = nearest(column, known.iter().copied().filter(|name| !there(name)))?;
        let source = &fact.place.source;
        let at = source.text.find(column.as_str())?;
        Some(
            Diagnostic::new(format!("no sheet reads a column `{column}`"))
                .at(Place::new(source, at..at + column.len()))
                .of(Kind::Meant, near)
                .hint(format!(
                    "did you mean `{near}`? For a column of your own, choose a name that is not so close to it"
                )),
        )
    };
    unread.filter_map(slip).collect()
}

/// A wind case with columns for uplift alone beside one with columns for shear
/// alone is one case under two names: its parts would never act together.
fn halves(job: &Job) -> Diagnostics {
    let Some(posts) = job.files.iter().find(|file| file.name == "posts.csv") else { return Diagnostics::new() };
    let mut cases: BTreeMap<String, [bool; 2]> = BTreeMap::new();
    for heading in &posts.header {
        let name = heading.split('[').next().unwrap_or(heading).trim();
        let forces = |(part, case): &(usize, String)| *part < 3 && case.starts_with('W');
        if let Some((part, case)) = load_column(name).filter(forces) {
            cases.entry(case).or_default()[usize::from(part > 0)] = true;
        }
    }
    let only = |parts: [bool; 2]| cases.iter().find(|(_, known)| **known == parts).map(|(case, _)| case);
    let (Some(up), Some(side)) = (only([true, false]), only([false, true])) else { return Diagnostics::new() };
    let source = &job.posts[0].place.source;
    Diagnostic::new(format!("case {up} has no shear and case {side} has no axial load: they would never act together"))
        .at(Place::new(source, 0..source.text.find(['\r', '\n']).unwrap_or(0)))
        .hint(format!("if they are one wind, name them alike: `P_{up}`, `H_x_{up}`, `H_y_{up}`"))
        .hint("if they are two, give each the columns that it lacks, with zeros")
        .into()
}
