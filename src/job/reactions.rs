//! Reads the reactions that are given: in columns of `posts.csv`, or in a file
//! of their own.

use std::collections::{BTreeMap, BTreeSet};

use super::loads::{CASE, Reaction, case_names, column, kind, no_case};
use super::rows::{Rows, need_column};
use crate::diag::{Diagnostic, Diagnostics, Kind::Meant, list};
use crate::formula::{Kind, Value};
use crate::grid::Grid;
use crate::quantity::{Dim, Unit};
use crate::source::Place;

/// Reactions from a frame analysis, in a file of their own.
pub const REACTIONS: &str = "reactions.csv";

/// Reactions by their case.
pub type Cases = BTreeMap<String, Reaction>;

/// The columns of `posts.csv` that are named like reactions.
pub struct LoadColumns {
    /// For each column of the file, which part of which case it holds.
    columns: Vec<Option<(usize, String)>>,
}

impl LoadColumns {
    pub fn of(grid: &Grid) -> LoadColumns {
        LoadColumns { columns: grid.columns.iter().map(|heading| column(&heading.name)).collect() }
    }

    /// Whether a column holds reactions.
    pub fn hold(&self, column: usize) -> bool {
        self.columns[column].is_some()
    }

    /// The reactions of one row, and what is wrong with others: a case that is
    /// none, said in the first row; a cell that is no force.
    pub fn reactions(&self, rows: &Rows, row: usize, mark: &str) -> (Cases, Diagnostics) {
        let mut reactions = Cases::new();
        let mut diagnostics = Diagnostics::new();
        for (at, (part, case)) in self.columns.iter().enumerate().filter_map(|(at, of)| Some((at, of.as_ref()?))) {
            if kind(case).is_none() {
                if row == 0 {
                    diagnostics.push(no_case(case).at(rows.grid.place(&rows.grid.columns[at].cell)));
                }
                continue;
            }
            let reaction = reactions.entry(case.clone()).or_default();
            // An empty cell is no load: a frame analysis leaves zeros out.
            if rows.cell(row, at).text.is_empty() {
                continue;
            }
            match force(rows, &format!("post {mark}"), row, at) {
                Ok(force) => reaction.set(*part, force),
                Err(diagnostic) => diagnostics.push(diagnostic),
            }
        }
        (reactions, diagnostics)
    }
}

fn force(rows: &Rows, whose: &str, row: usize, column: usize) -> Result<f64, Diagnostic> {
    match rows.fact_of(whose, row, column).read(&Kind::Quantity(Dim::FORCE), &Unit::all(&["lbf", "kip"]))?.0 {
        Value::Quantity(force) => Ok(force.value),
        _ => unreachable!("a quantity was asked for"),
    }
}

/// `reactions.csv`, as a frame analysis exports it: a row for each post and
/// load case. Gives the reactions of each post, by its mark, and what is wrong:
/// a mark that is no post, a post or a case that is missing, a row that appears
/// twice, a cell that is no force.
pub fn table(grid: &Grid, marks: &[&str]) -> (BTreeMap<String, Cases>, Diagnostics) {
    let mut lacking = Diagnostics::new();
    let mut column = |name: &str, what: &str| {
        need_column(grid, name, what).unwrap_or_else(|diagnostic| {
            lacking.push(diagnostic.of(Meant, CASE));
            0
        })
    };
    let mark_at = column("mark", "which names a post");
    let case_at = column("case", "which names a load case, such as D, S or W1");
    let parts = ["P", "H_x", "H_y"].map(|name| column(name, "a reaction of the post on its base"));
    if !lacking.is_empty() {
        return (BTreeMap::new(), lacking);
    }
    let known: BTreeSet<&str> = marks.iter().copied().collect();
    let rows = Rows::new(grid, &grid.source.name);
    let mut diagnostics = Diagnostics::new();
    let mut found: BTreeMap<String, Cases> = BTreeMap::new();
    for (at, row) in grid.rows.iter().enumerate() {
        let (mark, case) = (&row[mark_at], &row[case_at]);
        if !known.contains(mark.text.as_str()) {
            let diagnostic = Diagnostic::new(format!("there is no post `{}` in `posts.csv`", mark.text));
            diagnostics.push(diagnostic.at(grid.place(mark)).nearest(&mark.text, marks.iter().copied()));
            continue;
        }
        if kind(&case.text).is_none() {
            diagnostics.push(no_case(&case.text).at(grid.place(case)));
            continue;
        }
        let whose = format!("post {}, case {}", mark.text, case.text);
        let mut reaction = Reaction::default();
        for (part, column) in parts.into_iter().enumerate() {
            let cell = &row[column];
            if cell.text.is_empty() {
                let what = format!("{whose} has no {}", grid.columns[column].name);
                diagnostics.push(Diagnostic::new(what).at(grid.place(cell)).hint("write 0 where it is nothing"));
                continue;
            }
            match force(&rows, &whose, at, column) {
                Ok(force) => reaction.set(part, force),
                Err(diagnostic) => diagnostics.push(diagnostic),
            }
        }
        if found.entry(mark.text.clone()).or_default().insert(case.text.clone(), reaction).is_some() {
            diagnostics.push(
                Diagnostic::new(format!("case {} of post {} appears twice", case.text, mark.text)).at(grid.place(mark)),
            );
        }
    }
    let cases = case_names(found.values().flat_map(BTreeMap::keys));
    for mark in marks {
        let of = found.get(*mark);
        let missing: Vec<&String> = cases.iter().filter(|case| !of.is_some_and(|of| of.contains_key(*case))).collect();
        if of.is_none() || !missing.is_empty() {
            let what = match of {
                None => format!("post {mark} is not in `{}`", grid.source.name),
                Some(_) => format!("post {mark} has no row for {}", list(&missing, "and")),
            };
            diagnostics.push(
                Diagnostic::new(what)
                    .of(Meant, CASE)
                    .at(Place::new(&grid.source, grid.columns[mark_at].cell.span.clone()))
                    .hint("write every post in every case, with zeros where a case does nothing"),
            );
        }
    }
    (found, diagnostics)
}
