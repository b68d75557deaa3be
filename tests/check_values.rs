//! Every file of `tests/check-values` whose name begins with a sheet's name,
//! worked row by row and compared within each row's own tolerance.

use std::collections::BTreeMap;
use std::path::PathBuf;

use socle::quantity::Unit;

use crate::support::{root, socle, stderr, stdout};

fn files() -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = std::fs::read_dir(root().join("tests/check-values"))
        .expect("check values")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ext| ext == "csv"))
        .collect();
    files.sort();
    files
}

fn rows(text: &str) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).flexible(true).from_reader(text.as_bytes());
    let header: Vec<String> = reader.headers().expect("a header").iter().map(String::from).collect();
    reader
        .records()
        .map(|row| header.iter().cloned().zip(row.expect("a row").iter().map(String::from)).collect())
        .collect()
}

/// Without its unit.
fn bare(heading: &str) -> &str {
    heading.split('[').next().unwrap_or(heading).trim()
}

/// The unit of a heading, `Z [lbf]`.
fn unit(heading: &str) -> Unit {
    let text = heading.split_once('[').map_or("", |(_, rest)| rest.trim_end_matches(']'));
    if text.is_empty() { Unit::none() } else { Unit::parse(text).expect("a unit") }
}

fn close(found: f64, wanted: f64, tolerance: f64, kind: &str) -> bool {
    match kind {
        "abs" => (found - wanted).abs() <= tolerance,
        "rel" => (found - wanted).abs() <= tolerance * wanted.abs(),
        kind => panic!("unknown kind of tolerance {kind}"),
    }
}

#[test]
fn published_and_independent_values() {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    let mut wrong = Vec::new();
    for path in files() {
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        let sheet = name.split("--").next().expect("a sheet").to_string();
        if sheet == "tables" {
            continue;
        }
        let output = socle(&["work".as_ref(), sheet.as_ref(), "--rows".as_ref(), path.as_os_str()]);
        assert!(output.status.success(), "{name}: {}", stderr(&output));
        for row in rows(&stdout(&output)) {
            let tolerance: f64 = row["tolerance"].parse().expect("a tolerance");
            assert!(!row["source"].is_empty(), "{name}: a row without a source");
            for (heading, cell) in row.iter().filter(|(_, cell)| !cell.is_empty()) {
                let Some(symbol) = heading.strip_prefix("expect ") else { continue };
                let worked = row.iter().find(|(known, _)| bare(known) == bare(symbol));
                // A source may print another unit than the sheet.
                let worked = worked.and_then(|(heading, cell)| Some(unit(heading).to_base(cell.parse().ok()?)));
                let worked = worked.map_or(f64::NAN, |base| unit(symbol).from_base(base));
                let wanted: f64 = cell.parse().expect("a number");
                if close(worked, wanted, tolerance, &row["tolerance_kind"]) {
                    *counts.entry(row["kind"].clone()).or_default() += 1;
                } else {
                    wrong.push(format!("{name} {}: {symbol} is {worked}, {} says {wanted}", row["id"], row["source"]));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let of = |kind: &str| counts.get(kind).copied().unwrap_or(0);
    println!("{counts:?}");
    // Guards the set itself: a file that is no longer read would pass in silence.
    assert!(of("published") >= 15 && of("recalled") >= 400 && of("independent") >= 100, "{counts:?}");
}

#[test]
fn published_table_rows() {
    let mut count = 0;
    for path in files() {
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        if !name.starts_with("tables--") {
            continue;
        }
        for row in rows(&std::fs::read_to_string(&path).expect("a file")) {
            let table = std::fs::read_to_string(root().join(format!("templates/tables/{}.csv", row["table"])))
                .expect("the table");
            let keys: Vec<(&String, &String)> = row
                .iter()
                .filter(|(heading, cell)| {
                    let about = ["id", "table", "tolerance", "tolerance_kind", "source", "kind", "note"];
                    !about.contains(&heading.as_str()) && !heading.starts_with("expect ") && !cell.is_empty()
                })
                .collect();
            let found = rows(&table).into_iter().find(|entry| {
                keys.iter().all(|(heading, cell)| {
                    entry.iter().any(|(known, value)| bare(known) == bare(heading) && value == *cell)
                })
            });
            let found = found.unwrap_or_else(|| panic!("{name} {}: no row for {keys:?}", row["id"]));
            for (heading, cell) in row.iter().filter(|(_, cell)| !cell.is_empty()) {
                let Some(column) = heading.strip_prefix("expect ") else { continue };
                let get =
                    |name: &str| found.iter().find(|(known, _)| bare(known) == name).map(|(_, value)| value.clone());
                let side = |name: &str| get(name).and_then(|cell| cell.parse::<f64>().ok()).expect("a side");
                // Section properties follow from the sizes in the table.
                let value = match bare(column) {
                    "A" => (side("b") * side("d")).to_string(),
                    "S" => (side("b") * side("d").powi(2) / 6.0).to_string(),
                    "I" => (side("b") * side("d").powi(3) / 12.0).to_string(),
                    name => get(name).unwrap_or_else(|| panic!("{name} {}: no column {name}", row["id"])),
                };
                let tolerance: f64 = row["tolerance"].parse().expect("a tolerance");
                let (value, wanted): (f64, f64) = (value.parse().expect("a number"), cell.parse().expect("a number"));
                assert!(
                    close(value, wanted, tolerance, &row["tolerance_kind"]),
                    "{name} {}: {column} {value} {wanted}",
                    row["id"]
                );
                count += 1;
            }
        }
    }
    assert!(count >= 20, "{count}");
}
