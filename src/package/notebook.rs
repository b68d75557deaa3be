//! One sheet alone as a page of a notebook: what was given, each line with its formula and
//! its numbers, the limits, what is assumed and what is not covered.

use std::collections::BTreeMap;

use serde::Serialize;

use super::chain::{Chain, Place};
use super::chapter::{Chapter, Column};
use super::ledger::{Ledger, spans_text};
use super::model::{Assumption, Worked as Pages};
use super::worked::{register, write};
use crate::diag::count;
use crate::quantity::Units;
use crate::sheet::{Library, Origin, Step, Worked};

/// As its template reads it.
#[derive(Debug, Serialize)]
pub struct Notebook {
    pub title: String,
    /// The sheet by its name.
    pub sheet: String,
    /// Whether it is somebody's own, and no part of the program.
    pub own: bool,
    pub program: String,
    /// Empty where none was asked for.
    pub date: String,
    pub headline: String,
    pub ok: bool,
    /// Where the limits that are not met stand.
    pub failures: Vec<String>,
    pub worked: Pages,
    pub assumptions: Vec<Assumption>,
    pub not_covered: Vec<String>,
}

/// Its lines begin with this.
const CHAPTER: &str = "W";

/// The page of a sheet that was worked alone.
pub fn notebook(library: &Library, units: Units, mut worked: Worked, program: &str, date: &str) -> Notebook {
    given_by_hand(&mut worked);
    let mut limits = Vec::new();
    limits_of(&worked, &worked.name, &mut limits);
    let mut ledger = Ledger::default();
    register(&worked, &[], &mut ledger);
    let column =
        Column { marks: Vec::new(), what: String::new(), c_d: String::new(), chain: Chain::new(&worked), loads: None };
    let chapter = Chapter {
        name: CHAPTER.into(),
        title: worked.sheet.title.clone(),
        columns: vec![column],
        targets: limits.iter().map(|(path, start, _)| ((path.clone(), Place::Step(*start)), vec![0])).collect(),
        across: BTreeMap::new(),
        whole: vec![0],
    };
    let written = write(library, units, &chapter, &mut ledger);
    let failed = limits.iter().filter(|(.., ok)| !ok);
    let failures: Vec<String> =
        failed.map(|(path, start, _)| written.number_of(&(path.clone(), Place::Step(*start)), 0)).collect();
    let headline = match (limits.len(), failures.len()) {
        (0, _) => "No limit: the sheet works out values.".into(),
        (all, 0) => format!("Met: {}.", count(all, "limit")),
        (all, failed) => format!("NOT MET: {failed} of {}.", count(all, "limit")),
    };
    let assumptions = ledger.assumptions.iter().enumerate().map(|(at, (text, cite))| Assumption {
        no: format!("A{}", at + 1),
        text: text.clone(),
        cite: cite.clone(),
        changed: false,
    });
    Notebook {
        title: worked.sheet.title.clone(),
        sheet: worked.sheet.name.clone(),
        own: worked.sheet.own,
        program: program.into(),
        date: date.into(),
        headline,
        ok: failures.is_empty(),
        failures,
        worked: written.pages,
        assumptions: assumptions.collect(),
        not_covered: ledger.not_covered.iter().map(|spans| spans_text(spans)).collect(),
    }
}

/// What was typed is of one kind, whatever it is called.
fn given_by_hand(worked: &mut Worked) {
    for given in &mut worked.given {
        if let Origin::File(words) = &mut given.origin {
            *words = format!("typed, {}", given.input.name);
        }
    }
    for step in &mut worked.steps {
        if let Step::Use(inner) = step {
            given_by_hand(inner);
        }
    }
}

/// The limits of a sheet and of those it uses: path, where the rule begins, whether it is met.
fn limits_of(worked: &Worked, path: &str, found: &mut Vec<(String, usize, bool)>) {
    for step in &worked.steps {
        match step {
            Step::Must { rule, verdict } => found.push((path.into(), rule.span.start, verdict.ok)),
            Step::Use(inner) => limits_of(inner, &format!("{path}/{}", inner.name), found),
            _ => {}
        }
    }
}
