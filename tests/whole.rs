//! Whole jobs against a second method: `tests/whole/NAME` is a job,
//! `tests/whole/NAME.csv` what a script of `tests/oracle` makes of it, the
//! demand/capacity ratio of each limit of each post.

use std::collections::BTreeMap;

use socle::diag::Checked;
use socle::engine::{ROOT, Root, derive_loads, known_names, work_job};
use socle::grid::Grid;
use socle::job::Job;
use socle::sheet::Library;
use socle::source::Source;
use socle::templates::Templates;

use crate::support::{files_of, root};

macro_rules! jobs {
    ($($name:ident)*) => {
        pub const LISTED: &[&str] = &[$(stringify!($name)),*];
        $(#[test] fn $name() { hold(&stringify!($name).replace('_', "-")) })*
    };
}

jobs! {
    cantilevers
    knife_pier
    plates_slab
    porch_floor
    rated_pad
    reinforced_pier
}

#[test]
fn every_whole_job_is_a_test() {
    let folder = std::fs::read_dir(root().join("tests/whole")).expect("the jobs").map(|entry| entry.expect("an entry"));
    let mut found: Vec<String> = folder
        .filter(|entry| entry.path().is_dir())
        .map(|entry| entry.file_name().to_string_lossy().replace('-', "_"))
        .collect();
    found.sort();
    assert_eq!(found, LISTED);
}

/// A limit that takes a twentieth of what it may is found by the script too,
/// or is named with the reason why not.
const COUNTS: f64 = 0.05;

fn hold(name: &str) {
    let library = Templates::built_in().library().expect("the built-in sheets");
    let wrong = wrong_in(name, &library);
    assert!(wrong.is_empty(), "{name}\n{}", wrong.join("\n"));
}

/// The greatest ratio of each limit of each post: mark, sheet, words.
pub fn ratios(files: &BTreeMap<String, Vec<u8>>, library: &Library) -> Checked<BTreeMap<[String; 3], f64>> {
    let mut job = Job::read("job", files, &known_names(library))?;
    derive_loads(&mut job, library)?;
    let root = Root::new(&job, library, ROOT, None)?;
    let results = work_job(&root, &|_, _| {})?;
    let mut found: BTreeMap<[String; 3], f64> = BTreeMap::new();
    for group in &results.groups {
        for limit in group.limits.iter().filter(|limit| !limit.is_fit()) {
            let Some(ratio) = limit.ratio() else { continue };
            for post in &group.posts {
                let key = [job.posts[*post].mark.clone(), limit.sheet().into(), limit.rule().say.clone()];
                let of = found.entry(key).or_insert(ratio);
                *of = of.max(ratio);
            }
        }
    }
    Ok(found)
}

/// Where a job comes to something else than its script says.
pub fn wrong_in(name: &str, library: &Library) -> Vec<String> {
    let mut found = match ratios(&files_of(&root().join("tests/whole").join(name)), library) {
        Ok(found) => found,
        Err(wrong) => return vec![socle::report::diagnostics(&wrong, false)],
    };
    let path = root().join(format!("tests/whole/{name}.csv"));
    let script = Source::new(name, std::fs::read_to_string(path).expect("what the script wrote"));
    let grid = Grid::read(&script).unwrap_or_else(|wrong| panic!("{}", socle::report::diagnostics(&wrong, false)));
    let column = |name: &str| grid.column(name).unwrap_or_else(|| panic!("no column {name}"));
    let [post, sheet, limit, expect, tolerance, note] =
        ["post", "sheet", "limit", "expect ratio", "tolerance", "note"].map(column);
    let mut wrong = Vec::new();
    let mut left = Vec::new();
    let mut worked = 0;
    for row in &grid.rows {
        let cell = |at: usize| row[at].text.clone();
        if cell(post).is_empty() {
            assert!(!cell(note).is_empty(), "{} is not worked, for no reason", cell(limit));
            left.push((cell(sheet), cell(limit)));
            continue;
        }
        let key = [cell(post), cell(sheet), cell(limit)];
        let wanted: f64 = cell(expect).parse().expect("a ratio");
        let allowed = cell(tolerance).parse::<f64>().expect("a tolerance") * wanted.abs();
        match found.remove(&key) {
            None => wrong.push(format!("{}: the program has no such limit", key.join(", "))),
            Some(ratio) if (ratio - wanted).abs() > allowed.max(1e-6) => {
                wrong.push(format!("{}: {ratio:.5}, the script says {wanted:.5}", key.join(", ")));
            }
            Some(_) => worked += 1,
        }
    }
    let is_left =
        |key: &[String; 3]| left.iter().any(|(sheet, limit)| *sheet == key[1] && (limit == "*" || *limit == key[2]));
    for (key, ratio) in &found {
        if *ratio > COUNTS && !is_left(key) {
            wrong.push(format!("{}: {ratio:.5}, not worked by the script", key.join(", ")));
        }
    }
    for (sheet, limit) in &left {
        let there = found.keys().any(|key| key[1] == *sheet && (limit == "*" || key[2] == *limit));
        if !there {
            wrong.push(format!("{sheet}, {limit}: left out, but the program has no such limit"));
        }
    }
    if worked == 0 {
        wrong.push(format!("{name}: nothing was compared"));
    }
    wrong
}
