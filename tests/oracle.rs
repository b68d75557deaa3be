//! The scripts in `tests/oracle` derive their check values again: each is run,
//! and what it writes is compared with what is committed.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Command;

use rayon::prelude::*;
use socle::grid::Grid;
use socle::source::Source;

use crate::check_values::{names, rows_of};
use crate::support::root;

/// What other scripts are made of; they write nothing themselves.
const PARTS: [&str; 14] = [
    "braced_line",
    "csvout",
    "job_anchors",
    "job_piers",
    "job_plates",
    "job_rated",
    "job_roof",
    "job_steel",
    "job_wood",
    "plane_frame",
    "plates",
    "soil_plane",
    "verdicts",
    "whole_job",
];

#[test]
fn scripts_derive_their_values_again() {
    let python = root().join("venv/bin/python");
    assert!(
        python.exists(),
        "{} is not there: `tests/oracle/install` makes it, with Python 3.11 or later and the packages of \
         tests/oracle/requirements.txt; `.ci/run` does so first",
        python.display()
    );
    let scripts = scripts();
    let out = tempfile::tempdir().expect("a folder");
    let ran: Vec<Result<Vec<String>, String>> =
        scripts.par_iter().with_max_len(1).map(|script| derive(&python, script, &out.path().join(script))).collect();
    let mut wrong = Vec::new();
    let mut writers: BTreeMap<String, &str> = BTreeMap::new();
    for (script, ran) in scripts.iter().zip(ran) {
        match ran {
            Err(fault) => wrong.push(fault),
            Ok(files) if files.is_empty() => wrong.push(format!("{script}.py wrote nothing")),
            Ok(files) => {
                for file in files {
                    wrong.extend(differences(&out.path().join(script), script, &file));
                    if let Some(other) = writers.insert(file.clone(), script) {
                        wrong.push(format!("{file}: written by {other}.py and by {script}.py"));
                    }
                }
            }
        }
    }
    // A value that was worked another way is worked by a script that runs, or by hand.
    for file in names().iter().filter(|file| !writers.contains_key(*file)) {
        let grid = rows_of(file);
        let cell = |row: usize, name: &str| grid.column(name).map_or("", |at| grid.rows[row][at].text.as_str());
        for row in 0..grid.rows.len() {
            let (id, source) = (cell(row, "id"), cell(row, "source"));
            if cell(row, "kind") == "independent" && !source.contains("by hand") {
                wrong.push(format!("{file}, {id}: `{source}`: no script writes this file"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Nothing that is installed is left to chance.
#[test]
fn packages_of_the_scripts_are_pinned() {
    let text = std::fs::read_to_string(root().join("tests/oracle/requirements.txt")).expect("the packages");
    let lines = text.replace("\\\n", " ");
    let lines: Vec<&str> = lines.lines().filter(|line| !line.trim().is_empty() && !line.starts_with('#')).collect();
    assert!(!lines.is_empty(), "no package is named");
    for line in &lines {
        assert!(line.contains("==") && line.contains("--hash=sha256:"), "not at one version with its digests: {line}");
    }
    let pinned: BTreeSet<&str> = lines.iter().filter_map(|line| line.split("==").next()).collect();
    for script in scripts().iter().map(String::as_str).chain(PARTS) {
        let text = std::fs::read_to_string(root().join(format!("tests/oracle/{script}.py"))).expect("a script");
        for package in ["numpy", "scipy", "shapely"] {
            let used = text.contains(&format!("import {package}")) || text.contains(&format!("from {package}"));
            assert!(!used || pinned.contains(package), "{script}.py needs {package}, which is not pinned");
        }
    }
}

/// The scripts that write check values, by name; parts have to be of use to one.
fn scripts() -> Vec<String> {
    let folder = std::fs::read_dir(root().join("tests/oracle")).expect("the scripts");
    let paths = folder.map(|entry| entry.expect("an entry").path());
    let all: BTreeMap<String, String> = paths
        .filter(|path| path.extension().is_some_and(|ext| ext == "py"))
        .map(|path| {
            let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
            (name, std::fs::read_to_string(&path).expect("a script"))
        })
        .collect();
    for part in PARTS {
        let used = all.values().any(|text| text.contains(&format!("from {part} import")));
        assert!(all.contains_key(part) && used, "no script is made of {part}.py");
    }
    // The longest are the last of the alphabet.
    all.into_keys().rev().filter(|name| !PARTS.contains(&name.as_str())).collect()
}

/// Runs a script; the names of the files that it wrote.
fn derive(python: &Path, script: &str, folder: &Path) -> Result<Vec<String>, String> {
    std::fs::create_dir_all(folder).expect("a folder");
    let output = Command::new(python)
        .arg(root().join(format!("tests/oracle/{script}.py")))
        .env("CHECK_VALUES", folder)
        .env("SOCLE", env!("CARGO_BIN_EXE_socle"))
        .envs([("PYTHONDONTWRITEBYTECODE", "1"), ("OPENBLAS_NUM_THREADS", "1"), ("OMP_NUM_THREADS", "1")])
        .current_dir(folder)
        .output()
        .map_err(|error| format!("{script}.py: {error}"))?;
    if !output.status.success() {
        return Err(format!("{script}.py: {}", String::from_utf8_lossy(&output.stderr)));
    }
    let files = std::fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path());
    Ok(files.map(|path| path.file_stem().expect("a name").to_string_lossy().into_owned()).collect())
}

/// Where a file that was written anew says something else than the one that is committed: another text, or a number
/// that is off by a tenth of what the row allows. The last digits of a number are the machine's.
fn differences(folder: &Path, script: &str, file: &str) -> Vec<String> {
    let path = |folder: PathBuf| folder.join(format!("{file}.csv"));
    // What a sheet alone comes to is a check value; whole lines of posts and whole jobs stand beside them.
    let committed = ["check-values", "lines", "whole"].map(|folder| root().join("tests").join(folder));
    let committed = committed.iter().find(|folder| path(folder.to_path_buf()).exists()).unwrap_or(&committed[0]);
    let read = |path: PathBuf| {
        let text = std::fs::read_to_string(&path).map_err(|error| format!("{file}, by {script}.py: {error}"))?;
        Grid::read(&Source::new(file, text)).map_err(|wrong| socle::report::diagnostics(&wrong, false))
    };
    let (new, old) = match (read(path(folder.into())), read(path(committed.clone()))) {
        (Ok(new), Ok(old)) => (new, old),
        (new, old) => return [new.err(), old.err()].into_iter().flatten().collect(),
    };
    let headings = |grid: &Grid| grid.columns.iter().map(|column| column.cell.text.clone()).collect::<Vec<_>>();
    if headings(&new) != headings(&old) || new.comments != old.comments || new.rows.len() != old.rows.len() {
        return vec![format!("{file}: {script}.py writes other columns, comments or rows")];
    }
    let mut wrong = Vec::new();
    for (row, (new, committed)) in new.rows.iter().zip(&old.rows).enumerate() {
        let text = |name: &str| old.column(name).map_or("", |at| committed[at].text.as_str());
        for (column, (new, committed)) in old.columns.iter().zip(new.iter().zip(committed)) {
            let numbers = new.text.parse::<f64>().ok().zip(committed.text.parse::<f64>().ok());
            let same = match numbers {
                Some((new, committed)) if column.name.starts_with("expect ") => {
                    let tolerance = text("tolerance").parse().unwrap_or(0.0) / 10.0;
                    let allowed = if text("tolerance_kind") == "abs" { tolerance } else { tolerance * committed.abs() };
                    (new - committed).abs() <= allowed.max(1e-12 * committed.abs())
                }
                // Loads at which a limit is reached are worked, too.
                Some((new, committed)) => (new - committed).abs() <= 1e-6 * committed.abs(),
                None => new.text == committed.text,
            };
            if !same {
                let (name, at) = (&column.name, text("id"));
                let what = format!("`{}` is committed, {script}.py says `{}`", committed.text, new.text);
                wrong.push(format!("{file}, row {}, {at}, `{name}`: {what}", row + 1));
            }
        }
    }
    wrong
}
