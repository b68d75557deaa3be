//! Which choice is the best.

use std::cmp::Ordering;
use std::collections::BTreeSet;

use super::trial::{Choice, Trial, Tried};
use crate::diag::{Checked, Diagnostic, Diagnostics};
use crate::job::{CATALOGUES, Entry, Job};
use crate::names::{plain, same_name};
use crate::quantity::{Unit, read_any};

/// What the best is.
#[derive(Clone, Debug)]
pub enum Order {
    /// The lowest of the highest ratios.
    Ratio,
    /// The fewest rows of catalogues over the job; these, by their plain names.
    Kinds(Vec<(usize, String)>),
    /// The least sum of a column over what is chosen; the rows' values and its unit.
    Column(Sums),
}

#[derive(Clone, Debug)]
pub struct Sums {
    pub column: String,
    pub unit: Unit,
    values: Vec<(usize, String, f64)>,
}

impl Sums {
    /// In the column's unit.
    pub fn of(&self, choice: &Choice) -> f64 {
        let value = |at: usize| {
            let of_row = self.values.iter().find(|(of, name, _)| *of == at && *name == plain(choice.name(at)));
            of_row.map_or(0.0, |(.., value)| *value)
        };
        self.unit.from_base((0..CATALOGUES.len()).filter(|at| choice.0[*at].is_some()).map(value).sum())
    }
}

impl Order {
    /// What passes, the best first.
    pub fn passing<'a>(&self, tried: &'a Tried) -> Vec<&'a Trial> {
        let mut found: Vec<&Trial> = tried.trials.iter().filter(|trial| trial.passes()).collect();
        found.sort_by(|a, b| self.compare(a, b));
        found
    }

    /// What is worked and does not pass: first what fails by ratios alone, by the least of them.
    pub fn misses<'a>(&self, tried: &'a Tried) -> Vec<&'a Trial> {
        let failed = tried.trials.iter().filter(|trial| trial.found().is_some_and(|found| !found.ok));
        let mut found: Vec<&Trial> = failed.collect();
        let lacks = |trial: &Trial| trial.found().map_or((0, 0.0), |found| (found.unfit, found.worst));
        found.sort_by(|a, b| lacks(a).0.cmp(&lacks(b).0).then(lacks(a).1.total_cmp(&lacks(b).1)));
        found
    }

    fn compare(&self, a: &Trial, b: &Trial) -> Ordering {
        let first = match self {
            Order::Ratio => Ordering::Equal,
            Order::Kinds(rows) => {
                let outside = |trial: &Trial| {
                    let chosen = (0..CATALOGUES.len()).filter(|at| trial.choice.0[*at].is_some());
                    chosen.filter(|at| !rows.contains(&(*at, plain(trial.choice.name(*at))))).count()
                };
                outside(a).cmp(&outside(b))
            }
            Order::Column(sums) => sums.of(&a.choice).total_cmp(&sums.of(&b.choice)),
        };
        // Of what is equally good, what changes the least.
        first.then(ratio(a).total_cmp(&ratio(b))).then(a.changes.cmp(&b.changes))
    }
}

pub(super) fn ratio(trial: &Trial) -> f64 {
    let found = trial.found();
    found.map_or(f64::INFINITY, |found| found.ratio.unwrap_or(if found.ok { 0.0 } else { f64::INFINITY }))
}

/// The values of a column in every catalogue that the job has.
///
/// # Errors
/// A catalogue without the column; a row in which it is empty or no number; units of two kinds.
pub fn sums(job: &Job, column: &str) -> Checked<Sums> {
    let mut diagnostics = Diagnostics::new();
    let mut values = Vec::new();
    let mut unit: Option<Unit> = None;
    for (at, catalogue) in CATALOGUES.iter().enumerate() {
        let Some(entries) = job.catalogues.get(catalogue.name) else { continue };
        let cell = |entry: &'_ Entry| {
            let named = entry.facts.iter().chain(&entry.others).find(|(name, _)| is_named(name, column));
            named.map(|(_, fact)| fact.clone())
        };
        let mut lacking = BTreeSet::new();
        for entry in entries.rows() {
            let (thing, name, file) = (catalogue.column, &entry.name, &entry.file);
            let beside = || entries.rows().filter(|other| other.file == *file);
            let Some(fact) = cell(entry) else {
                if beside().any(|other| cell(other).is_some()) {
                    diagnostics.push(
                        Diagnostic::new(format!(
                            "the {thing} `{name}` has nothing in the column `{column}` of `{file}`"
                        ))
                        .at(entry.place.clone())
                        .hint("give it, even if it is 0: choices are put in order by it"),
                    );
                } else if lacking.insert(file) {
                    diagnostics.push(
                        Diagnostic::new(format!("`{file}` has no column `{column}`, or nothing in it"))
                            .at(entry.header.clone())
                            .hint("choices are put in order by the sum of a base, a foundation and anchors: give it in each of their files, even if it is 0")
                            .hint("a column of your own begins with `my `, such as `my cost`"),
                    );
                }
                continue;
            };
            let none = Unit::none();
            let header = fact.unit.as_deref().unwrap_or(&none);
            match read_any(&fact.text, Some(header), fact.decimals) {
                Some(read) if unit.as_ref().is_none_or(|unit| unit.dim == read.unit.dim) => {
                    unit.get_or_insert(read.unit);
                    values.push((at, plain(name), read.quantity.value));
                }
                Some(read) => diagnostics.push(
                    Diagnostic::new(format!(
                        "`{column}` of the {thing} `{name}` is {}, and for others it is {}",
                        read.unit.noun(),
                        unit.as_ref().map_or(String::new(), Unit::noun)
                    ))
                    .at(fact.place.clone()),
                ),
                None => diagnostics.push(
                    Diagnostic::new(format!(
                        "`{column}` of the {thing} `{name}`: found `{}`; expected a number",
                        fact.text
                    ))
                    .at(fact.place.clone()),
                ),
            }
        }
    }
    if !diagnostics.is_empty() {
        return Err(diagnostics);
    }
    Ok(Sums { column: column.into(), unit: unit.unwrap_or_else(Unit::none), values })
}

/// `cost` and `my cost` are one.
fn is_named(name: &str, column: &str) -> bool {
    same_name(name, column) || same_name(name, &format!("my {column}"))
}
