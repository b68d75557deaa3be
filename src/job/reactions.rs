//! Reads the reactions that are given: in columns of `posts.csv`, or in a file
//! of their own.

use std::collections::{BTreeMap, BTreeSet};

use super::fact::Fact;
use super::loads::{CASE, PARTS, Reaction, WIND, case_names, column, kind, no_case};
use super::rows::{Rows, need_column};
use crate::diag::{Diagnostic, Diagnostics, Kind::Meant, list};
use crate::grid::Grid;
use crate::quantity::Unit;
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
            let reaction = reactions.entry(case.clone()).or_insert(Reaction::unsaid());
            // An empty cell is no load: a frame analysis leaves zeros out.
            if rows.cell(row, at).text.is_empty() {
                continue;
            }
            match read(rows, &format!("post {mark}"), row, at, *part, case) {
                Ok(value) => reaction.set(*part, value),
                Err(diagnostic) => diagnostics.push(diagnostic),
            }
        }
        (reactions, diagnostics)
    }
}

/// A part of the reaction of a case.
fn read(rows: &Rows, whose: &str, row: usize, column: usize, part: usize, case: &str) -> Result<f64, Diagnostic> {
    let fact = rows.fact_of(whose, row, column);
    if part < WIND {
        return fact.number(PARTS[part].1, &Unit::all(&["lbf", "kip"]));
    }
    let value = wind_size(&fact)?;
    match kind(case) {
        Some("W") => Ok(value),
        _ if value == 0.0 => Ok(value),
        _ => Err(Diagnostic::new(format!("{whose}: wind blows on the post in wind cases, and {case} is none"))
            .at(fact.place)
            .hint("leave it out here")),
    }
}

/// Wind on the post itself, a size: it pushes the way that the shear of its
/// case does.
///
/// # Errors
/// It is no load on a length, or below zero.
pub fn wind_size(fact: &Fact) -> Result<f64, Diagnostic> {
    match fact.number(PARTS[WIND].1, &Unit::all(&["lbf/ft"]))? {
        size if size >= 0.0 => Ok(size),
        _ => {
            Err(Diagnostic::new(format!("{}: found `{}`; wind on the post is not below zero", fact.whence, fact.text))
                .at(fact.place.clone())
                .hint("leave out the sign: it pushes the way that the shear of its wind case does"))
        }
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
    let mut parts = Vec::new();
    for (part, (name, _)) in PARTS.into_iter().enumerate() {
        // The wind on the posts may stand in `posts.csv`.
        match (part < WIND, grid.column(name)) {
            (false, None) => {}
            (_, Some(column)) => parts.push((part, column)),
            (true, None) => parts.push((part, column(name, "a reaction of the post on its base"))),
        }
    }
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
        let mut reaction = Reaction::unsaid();
        for &(part, column) in &parts {
            let cell = &row[column];
            if cell.text.is_empty() {
                if part >= WIND && kind(&case.text) != Some("W") {
                    continue;
                }
                let what = format!("{whose} has no {}", grid.columns[column].name);
                diagnostics.push(Diagnostic::new(what).at(grid.place(cell)).hint("write 0 where it is nothing"));
                continue;
            }
            match read(&rows, &whose, at, column, part, &case.text) {
                Ok(value) => reaction.set(part, value),
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
