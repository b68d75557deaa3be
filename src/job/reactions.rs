//! Reads the reactions that are given: in columns of `posts.csv`, or in a file
//! of their own.

use std::collections::BTreeMap;

use super::fact::Fact;
use super::loads::{CASE, PARTS, Reaction, WIND, case_names, column_of, kind, load_column, no_case};
use super::mapping::{Mapping, NAMING, likely, likely_line, line};
use super::rows::{Rows, need_column};
use crate::diag::Kind::{Meant, Missing, Unitless};
use crate::diag::{Diagnostic, Diagnostics, list};
use crate::formula;
use crate::grid::{Column, Grid};
use crate::names::{plain, same_name};
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
        let of = |heading: &Column| load_column(&heading.name).filter(|_| heading.read);
        LoadColumns { columns: grid.columns.iter().map(of).collect() }
    }

    /// Whether a column holds reactions.
    pub fn hold(&self, column: usize) -> bool {
        self.columns[column].is_some()
    }

    /// The reactions of one row, how far each may be off, and what is wrong with others: a cell that is
    /// empty, or no force that a post can have.
    pub fn reactions(&self, rows: &Rows, row: usize, mark: &str) -> (Cases, Cases, Diagnostics) {
        let (mut reactions, mut slack) = (Cases::new(), Cases::new());
        let mut diagnostics = Diagnostics::new();
        let mut empty: Vec<usize> = Vec::new();
        for (at, (part, case)) in self.columns.iter().enumerate().filter_map(|(at, of)| Some((at, of.as_ref()?))) {
            let reaction = reactions.entry(case.clone()).or_insert(Reaction::unsaid());
            if rows.cell(row, at).text.is_empty() {
                empty.push(at);
                continue;
            }
            match read(rows, &format!("post {mark}"), row, at, *part, case) {
                Ok((value, off)) => {
                    reaction.set(*part, value);
                    slack.entry(case.clone()).or_default().set(*part, off);
                }
                Err(diagnostic) => diagnostics.push(diagnostic),
            }
        }
        if let Some(first) = empty.first() {
            let names: Vec<&str> = empty.iter().map(|at| rows.grid.columns[*at].name.as_str()).collect();
            diagnostics.push(
                Diagnostic::new(format!("post {mark} has nothing under {}", list(&names, "and")))
                    .at(rows.grid.place(rows.cell(row, *first)))
                    .hint("write 0 where there is none"),
            );
        }
        (reactions, slack, diagnostics)
    }
}

/// A part of the reaction of a case, and how far it may be off as it was typed.
fn read(
    rows: &Rows,
    whose: &str,
    row: usize,
    column: usize,
    part: usize,
    case: &str,
) -> Result<(f64, f64), Diagnostic> {
    let fact = rows.fact_of(whose, row, column);
    let slack = fact.slack(&formula::Kind::Quantity(PARTS[part].1));
    if part < WIND {
        return Ok((force(&fact, part, case)?, slack));
    }
    let value = wind_size(&fact)?;
    match kind(case) {
        Some("W") => Ok((value, slack)),
        _ if value == 0.0 => Ok((value, slack)),
        _ => Err(Diagnostic::new(format!("{whose}: wind on the post goes with wind cases, and {case} is not one"))
            .at(fact.place)
            .hint("leave it out here")),
    }
}

/// No part of a reaction is larger, and no dead load on a base is smaller, in
/// pounds: a guard against a slip in units. A post of 4x4, 8 ft long, weighs 20 lbf.
const LARGEST: f64 = 500_000.0;
const LIGHTEST: f64 = 20.0;

fn force(fact: &Fact, part: usize, case: &str) -> Result<f64, Diagnostic> {
    let force = fact.number(PARTS[part].1, &Unit::all(&["lbf", "kip"]))?;
    // A slip in the unit of a column is one, in however many rows it shows.
    let wrong = |what: &str| {
        let message = format!("{}: {} {what}", fact.whence, fact.as_typed());
        Diagnostic::new(message).of(Unitless, &fact.whence.name).at(fact.place.clone())
    };
    if force.abs() > LARGEST {
        return Err(wrong("is more than a timber post can take, 500 kip").hint("check the unit of the column"));
    }
    if (part, case) == (0, "D") && force.abs() < LIGHTEST {
        return Err(wrong("of dead load is less than a post weighs")
            .hint("give the weight of the post and of what it carries, 20 lbf or more")
            .hint("check the unit of the column: kip, or lbf?"));
    }
    Ok(force)
}

/// Wind on the post itself, a size: it pushes the way that the shear of its
/// case does.
///
/// # Errors
/// It is no load on a length, is below zero, or more than a post can catch.
pub fn wind_size(fact: &Fact) -> Result<f64, Diagnostic> {
    let units = Unit::all(&["lbf/ft"]);
    match fact.number(PARTS[WIND].1, &units)? {
        // A yard of solid post in the strongest wind that a code maps comes to less.
        size if units.iter().any(|unit| size > unit.to_base(1000.0)) => Err(Diagnostic::new(format!(
            "{}: found `{}`; no post catches that much wind",
            fact.whence,
            fact.as_typed()
        ))
        .at(fact.place.clone())
        .hint("it is the wind per foot of one post, usually 10 to 60 lbf/ft: check the unit")),
        size if size >= 0.0 => Ok(size),
        // One convention of signs, in however many rows.
        _ => Err(Diagnostic::new(format!(
            "{}: found `{}`; wind on the post cannot be negative",
            fact.whence, fact.text
        ))
        .of(Unitless, &fact.whence.name)
        .at(fact.place.clone())
        .hint(
            "leave out the sign, in every row of the column: it acts in the direction of the shear of its wind case",
        )),
    }
}

/// `reactions.csv`, as a frame analysis exports it: a row for each post and
/// load case. Gives the reactions of each post, by its mark, how far each may be off, and what is wrong:
/// a mark that is no post, a post or a case that is missing, a row that appears
/// twice, a cell that is no force. `known` gives the mark of a post by the plain names
/// that a row may call it by.
pub fn table(
    grid: &Grid,
    marks: &[&str],
    known: &BTreeMap<String, &str>,
    mapping: &Mapping,
) -> (BTreeMap<String, Cases>, BTreeMap<String, Cases>, Diagnostics) {
    let mut lacking = Diagnostics::new();
    let mut column = |name: &str, what: &str| {
        need_column(grid, name, what).unwrap_or_else(|diagnostic| {
            lacking.push(no_column(diagnostic.of(Meant, CASE), grid, name, mapping));
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
        return (BTreeMap::new(), BTreeMap::new(), lacking);
    }
    let rows = Rows::new(grid, &grid.source.name);
    let mut diagnostics = Diagnostics::new();
    let mut found: BTreeMap<String, Cases> = BTreeMap::new();
    let mut slack: BTreeMap<String, Cases> = BTreeMap::new();
    let mut strange: Vec<(&str, Place, usize)> = Vec::new();
    for (at, row) in grid.rows.iter().enumerate() {
        let (mark_cell, case_cell) = (&row[mark_at], &row[case_at]);
        let Some(mark) = known.get(&plain(&mark_cell.text)).copied() else {
            let diagnostic = Diagnostic::new(match mark_cell.text.as_str() {
                "" => "this row names no post".into(),
                mark => format!("there is no post `{mark}` in `posts.csv`"),
            });
            let diagnostic = diagnostic.at(grid.place(mark_cell)).nearest(&mark_cell.text, marks.iter().copied());
            let node = !mark_cell.text.is_empty() && mark_cell.text.bytes().all(|byte| byte.is_ascii_digit());
            diagnostics.push(match node {
                true => diagnostic
                    .hint("a column `node` of `posts.csv` names the node of the analysis that a post stands on"),
                false => diagnostic,
            });
            continue;
        };
        let Some(case) = mapping.case(&case_cell.text) else {
            match strange.iter_mut().find(|(case, ..)| *case == case_cell.text) {
                Some((.., rows)) => *rows += 1,
                None => strange.push((&case_cell.text, grid.place(case_cell), 1)),
            }
            continue;
        };
        let whose = format!("post {mark}, case {case}");
        let (mut reaction, mut off) = (Reaction::unsaid(), Reaction::default());
        for &(part, column) in &parts {
            let cell = &row[column];
            if cell.text.is_empty() {
                if part >= WIND && kind(&case) != Some("W") {
                    continue;
                }
                let what = format!("{whose} has no {}", grid.columns[column].name);
                diagnostics.push(Diagnostic::new(what).at(grid.place(cell)).hint("write 0 where there is none"));
                continue;
            }
            match read(&rows, &whose, at, column, part, &case) {
                Ok((value, by)) => {
                    reaction.set(part, if grid.columns[column].turned { 0.0 - value } else { value });
                    off.set(part, by);
                }
                Err(diagnostic) => diagnostics.push(diagnostic),
            }
        }
        slack.entry(mark.into()).or_default().insert(case.clone(), off);
        if found.entry(mark.into()).or_default().insert(case.clone(), reaction).is_some() {
            let twice = Diagnostic::new(format!("case {case} of post {mark} appears twice")).at(grid.place(mark_cell));
            let mapped = mapping.cases.iter().find(|alias| alias.name == case);
            diagnostics.push(match mapped {
                Some(alias) => twice.hint(format!("`{}` is {case} too, by `[loads.cases]` of `job.toml`", alias.typed)),
                None => twice,
            });
        }
    }
    diagnostics.extend(strange.into_iter().map(|(case, place, rows)| strange_case(case, rows, mapping).at(place)));
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
                    .hint("give every post in every case, with zeros where a case has no effect"),
            );
        }
    }
    (found, slack, diagnostics)
}

/// What to say of a case that stands in so many rows and is none.
fn strange_case(case: &str, rows: usize, mapping: &Mapping) -> Diagnostic {
    let wrong = no_case(case).hint_near(case, mapping.cases.iter().map(|alias| alias.typed.as_str()));
    let name = likely(case).filter(|name| !NAMING.contains(name));
    let wrong = match (case.is_empty(), name) {
        (true, _) => wrong,
        (_, Some(name)) => {
            wrong.hint(format!("if it is {name}, say so in `job.toml`, below `[loads.cases]`: `{}`", line(case, name)))
        }
        (_, None) => wrong.hint(format!(
            "say in `job.toml`, below `[loads.cases]`, which it is: `{}` if it is snow",
            line(case, "S")
        )),
    };
    if rows > 1 { wrong.hint(format!("the same in {rows} rows")) } else { wrong }
}

/// What to say besides of a column that is not there, and at which heading.
fn no_column(wrong: Diagnostic, grid: &Grid, name: &str, mapping: &Mapping) -> Diagnostic {
    if let Some(alias) = mapping.columns.iter().find(|alias| alias.name == name) {
        let said = format!("`[loads.columns]` of `job.toml` says that its heading is `{}`", alias.typed);
        return wrong.hint(format!("{said}, and there is no such heading"));
    }
    let meant =
        |column: &&Column| likely_line(&column.name).is_some_and(|line| line.ends_with(&format!(" = \"{name}\"")));
    let Some(column) = grid.columns.iter().filter(|column| !column.read).find(meant) else { return wrong };
    let line = line(&column.name, name);
    wrong
        .at(grid.place(&column.cell))
        .hint(format!("if it is this one, say so in `job.toml`, below `[loads.columns]`: `{line}`"))
}

/// Wind cases whose names look alike, and lateral cases in columns of
/// `posts.csv` that say nothing of one of their parts: a wind that lifts also
/// pushes, along one axis or the other.
pub fn lateral_cases(posts: &Grid, cases: &[String]) -> Diagnostics {
    let mut diagnostics = Diagnostics::new();
    for (at, case) in cases.iter().enumerate() {
        if let Some(other) = cases[..at].iter().find(|other| same_name(other, case)) {
            let alike = Diagnostic::new(format!("the load cases `{other}` and `{case}` cannot be told apart"))
                .hint("write a case the same way everywhere; number different winds: W1, W2");
            let of_case = |column: &&Column| load_column(&column.name).is_some_and(|(_, of)| of == *case);
            diagnostics.push(match posts.columns.iter().find(of_case) {
                Some(column) => alike.at(posts.place(&column.cell)),
                None => alike.hint(format!("they are in `{REACTIONS}`")),
            });
        }
    }
    let mut known: BTreeMap<String, [bool; WIND]> = BTreeMap::new();
    let forces = |(part, case): &(usize, String)| *part < WIND && case.starts_with(['W', 'E']);
    for (part, case) in LoadColumns::of(posts).columns.into_iter().flatten().filter(forces) {
        known.entry(case).or_default()[part] = true;
    }
    // One wind under two names, in one its axial load, in the other its shear.
    let wind = |axial: bool| {
        let alike = |parts: &[bool; WIND]| parts[0] == axial && (parts[1] || parts[2]) != axial;
        known.iter().find(|(case, parts)| case.starts_with('W') && alike(parts)).map(|(case, _)| case)
    };
    if let (Some(up), Some(side)) = (wind(true), wind(false)) {
        diagnostics.push(
            Diagnostic::new(format!(
                "case {up} has no shear and case {side} has no axial load: they would never act together"
            ))
            .at(posts.header())
            .hint(format!("if they are one wind, give them one name: `P_{up}`, `H_x_{up}`, `H_y_{up}`"))
            .hint("if they are two, give each the columns that it lacks, with zeros"),
        );
        return diagnostics;
    }
    for (case, parts) in &known {
        // An earthquake along one axis need not push along the other.
        let wanted = |part: &usize| !parts[*part] && !matches!((case.as_str(), part), ("E_x", 2) | ("E_y", 1));
        let missing: Vec<String> = (0..WIND).filter(wanted).map(|part| column_of(part, case)).collect();
        if let Some(first) = missing.first() {
            diagnostics.push(
                Diagnostic::new(format!("the case {case} has no column {}", list(&missing, "and")))
                    .of(Missing, first)
                    .at(posts.header())
                    .hint("add it, with zeros where the case has no such part: what is not given is not taken as zero"),
            );
        }
    }
    diagnostics
}
