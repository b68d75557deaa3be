//! Errors planted in sheets and tables, one at a time: a check value, a whole job that was worked by a second method or a job
//! with x and y changed has to notice. In the suite a few are planted, the same in every run;
//!
//!     PLANTED=frost,clearance cargo test --release -- --ignored --nocapture every_error
//!
//! plants all that there are in some sheets and tables, or in all without `PLANTED`, and prints each that nothing notices. `KINDS`
//! takes some kinds alone, `EVERY=3` each third; with `EYES=values` check values alone look, which is quicker while some are
//! written. `WRITE=1` writes what came out for the verification report, with the reasons that stood there before.

mod found;
mod sites;

use std::collections::BTreeMap;

use rayon::prelude::*;
use socle::grid::Grid;
use socle::source::Source;
use socle::templates::Templates;

use crate::support::root;
use found::{Eyes, Outcome};
use sites::Planted;

/// Bounds guard inputs against slips in units, and defaults are counted as open: neither is a rule of a code.
const APART: [&str; 2] = ["bound", "default"];

/// All that can be planted.
fn all() -> Vec<Planted> {
    let templates = Templates::built_in();
    let library = templates.library().expect("the built-in sheets");
    let mut all = Vec::new();
    for sheet in library.sheets() {
        let path = sheet.source.name.strip_prefix("templates/").expect("a built-in sheet");
        all.extend(sites::of_sheet(sheet, path));
    }
    for table in library.tables() {
        let path = format!("tables/{}.csv", table.name);
        let text = text_of(&templates, &path);
        let grid = Grid::read(&Source::new(path.clone(), text.clone())).expect("a table");
        all.extend(sites::of_table(&grid, &text, &path, &table.name));
    }
    all
}

fn text_of(templates: &Templates, path: &str) -> String {
    String::from_utf8(templates.files[path].clone()).expect("a text")
}

/// What errors come to, each as it was planted.
fn looked_at(all: &[Planted]) -> Vec<(Outcome, String)> {
    let library = Templates::built_in().library().expect("the built-in sheets");
    let eyes = Eyes::new(&library, std::env::var("EYES").is_ok_and(|eyes| eyes == "values"));
    all.par_iter().map(|planted| eyes.look(planted)).collect()
}

/// Of a fixed sample. Of all errors 12,497 were found and 244 were not, when they were last planted.
#[test]
fn most_errors_in_sheets_are_found() {
    let all: Vec<Planted> = all().into_iter().filter(|planted| !APART.contains(&planted.kind)).collect();
    assert!(all.len() > 5000, "{}", all.len());
    let sample: Vec<Planted> = all.iter().step_by(all.len() / 60).cloned().collect();
    let outcomes = looked_at(&sample);
    let templates = Templates::built_in();
    let count = |outcome: fn(&Outcome) -> bool| outcomes.iter().filter(|(found, _)| outcome(found)).count();
    let (found, escaped) = (count(|outcome| *outcome == Outcome::Found), count(|outcome| *outcome == Outcome::Escaped));
    let missed: Vec<String> = sample
        .iter()
        .zip(&outcomes)
        .filter(|(_, (outcome, _))| *outcome == Outcome::Escaped)
        .map(|(planted, (_, now))| {
            format!("{}: {}", planted.name, planted.line(&text_of(&templates, &planted.path), now))
        })
        .collect();
    assert!(found * 100 >= 95 * (found + escaped), "{found} found, {escaped} missed:\n{}", missed.join("\n"));
}

#[test]
#[ignore = "an hour: its own documentation says how to run it"]
fn every_error_in_sheets() {
    let given = |name: &str| std::env::var(name).unwrap_or_default();
    let among = |list: &str, name: &str| list.is_empty() || list.split(',').any(|known| known == name);
    let every = given("EVERY").parse().unwrap_or(1);
    let all: Vec<Planted> = all()
        .into_iter()
        .filter(|planted| among(&given("PLANTED"), &planted.name) && among(&given("KINDS"), planted.kind))
        .step_by(every)
        .collect();
    let templates = Templates::built_in();
    let mut counts: BTreeMap<(&str, &str), [usize; 3]> = BTreeMap::new();
    let mut escapes: Vec<[String; 5]> = Vec::new();
    for (planted, (outcome, now)) in all.iter().zip(looked_at(&all)) {
        let at = match &outcome {
            Outcome::Refused => 0,
            Outcome::Found => 1,
            Outcome::Escaped => 2,
        };
        counts.entry((&planted.name, "")).or_default()[at] += 1;
        counts.entry(("", planted.kind)).or_default()[at] += 1;
        if outcome == Outcome::Escaped {
            let text = text_of(&templates, &planted.path);
            let (was, line) = (planted.was(&text), planted.line(&text, &now));
            println!("{}\t{}\t{was}\t{now}\t{line}", planted.name, planted.kind);
            escapes.push([&planted.name, planted.kind, was, &now, &line].map(String::from));
        }
    }
    if !given("WRITE").is_empty() {
        written(&counts, &escapes, every, all.len());
    }
    println!("name\tkind\trefused by the language\tfound\tmissed");
    for ((name, kind), [refused, found, escaped]) in counts {
        println!("{name}\t{kind}\t{refused}\t{found}\t{escaped}");
    }
}

/// Below the folder of this test: what `src/validate/planted.rs` reads.
fn written(counts: &BTreeMap<(&str, &str), [usize; 3]>, escapes: &[[String; 5]], every: usize, planted: usize) {
    let path = |name: &str| root().join(format!("tests/planted/{name}.csv"));
    let known: BTreeMap<Vec<String>, String> =
        rows("escapes").into_iter().filter_map(|mut row| row.pop().map(|reason| (row, reason))).collect();
    let table = |head: &[&str], rows: &mut dyn Iterator<Item = Vec<String>>| {
        let mut writer = csv::Writer::from_writer(Vec::new());
        writer.write_record(head).expect("memory");
        rows.for_each(|row| writer.write_record(row).expect("memory"));
        String::from_utf8(writer.into_inner().expect("memory")).expect("a text")
    };
    let reason =
        |row: &[String; 5]| known.get(row.as_slice()).cloned().unwrap_or_else(|| "no value holds it yet".into());
    let head = ["name", "kind", "was", "now", "line", "reason"];
    let text = table(&head, &mut escapes.iter().map(|row| [row.to_vec(), vec![reason(row)]].concat()));
    std::fs::write(path("escapes"), text).expect("the escapes");
    let words = match every {
        1 => format!("# All {planted} errors of the tester were planted.\n"),
        _ => format!("# Of each {every} errors of the tester one was planted, {planted} in all.\n"),
    };
    let rows = counts.iter().filter(|((name, _), _)| !name.is_empty());
    let mut rows = rows.map(|((name, _), [refused, found, missed])| {
        [name.to_string(), refused.to_string(), found.to_string(), missed.to_string()].to_vec()
    });
    std::fs::write(path("counts"), words + &table(&["name", "refused", "found", "missed"], &mut rows))
        .expect("the counts");
}

/// What the verification report says of them goes together.
#[test]
fn each_error_that_escapes_is_listed_with_a_reason() {
    let library = Templates::built_in().library().expect("the built-in sheets");
    let counts = rows("counts");
    let missed: BTreeMap<String, usize> =
        counts.iter().map(|row| (row[0].clone(), row[3].parse().expect("a number"))).filter(|it| it.1 > 0).collect();
    let mut listed: BTreeMap<String, usize> = BTreeMap::new();
    for row in rows("escapes") {
        let known = library.sheet(&row[0]).is_some() || library.tables().any(|table| table.name == row[0]);
        assert!(known && row.iter().all(|cell| !cell.is_empty()), "{row:?}");
        *listed.entry(row[0].clone()).or_default() += 1;
    }
    assert_eq!(listed, missed);
}

fn rows(name: &str) -> Vec<Vec<String>> {
    let text = std::fs::read_to_string(root().join(format!("tests/planted/{name}.csv"))).expect("a file");
    let grid = Grid::read(&Source::new(name, text)).expect("a table");
    grid.rows.iter().map(|row| row.iter().map(|cell| cell.text.clone()).collect()).collect()
}
