//! The load combinations of the example jobs: each that is listed has to be there once, and no other.

use std::collections::{BTreeMap, BTreeSet};

use include_dir::{Dir, include_dir};

use super::file::{About, Wanted, cell, expected};
use super::value::{Answer, Value, What};
use crate::diag::Checked;
use crate::engine::{Combination, combinations, derive_loads, known_names};
use crate::grid::Grid;
use crate::job::Job;
use crate::quantity::Unit;
use crate::sheet::Library;

static JOBS: Dir = include_dir!("$CARGO_MANIFEST_DIR/fixtures");

pub(super) fn compare(grid: &Grid, library: &Library) -> Checked<Vec<Value>> {
    let of = |row: usize| (cell(grid, row, "job"), cell(grid, row, "seismic"));
    let jobs: BTreeSet<(&str, &str)> = (0..grid.rows.len()).map(of).collect();
    let mut values = Vec::new();
    for (job, seismic) in jobs {
        let found = combinations_of(job, seismic, library)?;
        let rows: Vec<usize> = (0..grid.rows.len()).filter(|row| of(*row) == (job, seismic)).collect();
        for row in &rows {
            let about = About::of(grid, *row)?;
            let mut wanted: Vec<(&str, Answer)> = Vec::new();
            for (_, cell) in expected(grid, *row)? {
                if let Wanted::Value(name, number) = cell {
                    wanted.push((name, Answer::Number(number)));
                }
            }
            let value = |name: &str, wanted: Answer, found: Option<f64>| {
                Value::new(&about, What::Symbol(name.into()), Unit::none(), wanted, found.map(Answer::Number))
            };
            let alike = |combination: &&Combination| {
                let factors = factors(combination);
                let same =
                    |(name, wanted): &(&str, Answer)| value(name, wanted.clone(), factors.get(name).copied()).holds();
                let method = format!("{:?}", combination.method) == cell(grid, *row, "method");
                method && factors.len() == wanted.len() && wanted.iter().all(same)
            };
            let alike: Vec<BTreeMap<&str, f64>> = found.iter().filter(alike).map(factors).collect();
            let one = if let [one] = alike.as_slice() { Some(one) } else { None };
            values.extend(
                wanted
                    .iter()
                    .map(|(name, wanted)| value(name, wanted.clone(), one.and_then(|one| one.get(name).copied()))),
            );
        }
        if let (Some(first), true) = (rows.first(), found.len() != rows.len()) {
            let about = About { id: job, ..About::of(grid, *first)? };
            let number = |number: usize| Answer::Number(number as f64);
            let what = What::Symbol("number of combinations".into());
            values.push(Value::new(&about, what, Unit::none(), number(rows.len()), Some(number(found.len()))));
        }
    }
    Ok(values)
}

/// The factors of the load cases by their names, and `C_D`.
fn factors(combination: &Combination) -> BTreeMap<&str, f64> {
    let cases = combination.factors.iter().map(|(case, factor)| (case.as_str(), *factor));
    cases.chain(combination.c_d.map(|c_d| ("C_D", c_d))).collect()
}

/// Those of an example job, with a line more under `[seismic]`.
///
/// # Errors
/// There is no such job; it cannot be read, or its loads cannot be worked out.
pub fn combinations_of(job: &str, seismic: &str, library: &Library) -> Checked<Vec<Combination>> {
    let files = JOBS.get_dir(job).into_iter().flat_map(Dir::files);
    let named =
        |file: &include_dir::File| Some((file.path().file_name()?.to_str()?.to_string(), file.contents().to_vec()));
    let mut files: BTreeMap<String, Vec<u8>> = files.filter_map(named).collect();
    if let (Some(head), false) = (files.get_mut("job.toml"), seismic.is_empty()) {
        let text = String::from_utf8_lossy(head).replacen("[seismic]\n", &format!("[seismic]\n{seismic}\n"), 1);
        *head = text.into_bytes();
    }
    let mut job = Job::read(job, &files, &known_names(library))?;
    derive_loads(&mut job, library)?;
    combinations(&job, library)
}
