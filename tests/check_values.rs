//! Published, recalled and independent numbers: each file of
//! `tests/check-values` is a test, `cargo test column__worked_examples` runs one.
//! What works and compares them is `src/validate`, which users run too. Here they are listed, so that none vanishes,
//! and looked at for what would let one pass. `tests/turned_round.rs` shows that the verdicts among them hold.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::LazyLock;

use sha2::{Digest, Sha256};
use socle::diag::Diagnostic;
use socle::grid::{Column, Grid};
use socle::sheet::Library;
use socle::templates::Templates;
use socle::validate::{self, Against, File, Value, Wanted};

use crate::support::root;

static LIBRARY: LazyLock<Library> = LazyLock::new(crate::jobs::library);

/// A test for each file: `column__worked_examples` is `column--worked-examples.csv`, hyphens and all.
macro_rules! files {
    ($($name:ident $rows:literal $values:literal $digest:literal,)*) => {
        const FILES: &[(&str, Listed)] = &[$((stringify!($name), Listed { rows: $rows, values: $values, digest: $digest })),*];
        $(#[test] #[allow(non_snake_case)] fn $name() { hold(stringify!($name)) })*
    };
}

/// What the list says of a file, so that no case of it vanishes unseen.
#[derive(Debug, PartialEq)]
struct Listed<'a> {
    rows: usize,
    /// Cells that expect something.
    values: usize,
    /// Of the name of each case with what it expects.
    digest: &'a str,
}

include!("check-values/files.rs");

/// Nothing that a file expects is missed, and no cell is passed over.
fn hold(test: &str) {
    let name = test.replace('_', "-");
    let (asserted, wrong) = wrong_in(&read(&name), &LIBRARY);
    assert!(wrong.is_empty(), "{name}:\n{}", wrong.join("\n"));
    let listed = FILES.iter().find(|(known, _)| *known == test).expect("it is listed");
    assert_eq!(asserted, listed.1.values, "{name}: cells that were compared, and cells that are listed");
}

/// Files that are being written, listed or not: `VALUES=anchor cargo test -- --ignored those_that_are_there` works those whose
/// names begin so.
#[test]
#[ignore = "each file is a test of its own once it is listed"]
fn those_that_are_there() {
    let begin = std::env::var("VALUES").unwrap_or_default();
    let mut wrong = Vec::new();
    for name in names().into_iter().filter(|name| name.starts_with(&begin)) {
        let file = read(&name);
        wrong.extend(
            faults(&file.grid).into_iter().chain(wrong_in(&file, &LIBRARY).1).map(|fault| format!("{name}: {fault}")),
        );
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The files and the list of them say the same, both ways: a file or a case
/// that is new, gone or renamed is seen. `UPDATE_EXPECT=1 cargo test
/// check_values_are_listed` writes the list anew.
#[test]
fn check_values_are_listed() {
    let mut lines =
        vec!["// Written by `UPDATE_EXPECT=1 cargo test check_values_are_listed`: name, rows, values, digest.".into()];
    let mut wrong = Vec::new();
    let names = names();
    lines.push("files! {".to_string());
    for name in &names {
        let grid = rows_of(name);
        wrong.extend(faults(&grid).into_iter().map(|fault| format!("{name}: {fault}")));
        let (values, digest) = digest(&grid);
        let found = Listed { rows: grid.rows.len(), values, digest: &digest };
        let test = name.replace('-', "_");
        lines.push(format!("    {test} {} {} \"{}\",", found.rows, found.values, found.digest));
        match FILES.iter().find(|(known, _)| *known == test) {
            None => wrong.push(format!("{name}: a file that is not listed, so nothing compares it")),
            Some((_, listed)) if *listed != found => {
                wrong.push(format!("{name}: {listed:?} are listed, {found:?} are there"))
            }
            Some(_) => {}
        }
    }
    for (listed, _) in FILES.iter().filter(|(listed, _)| names.iter().all(|name| name.replace('-', "_") != *listed)) {
        wrong.push(format!("{listed}: listed, but the file is gone"));
    }
    lines.push("}\n".to_string());
    if std::env::var_os("UPDATE_EXPECT").is_some() {
        std::fs::write(folder().join("files.rs"), lines.join("\n")).expect("the list");
        wrong.retain(|fault| !fault.contains(" listed"));
    }
    let hint = "`UPDATE_EXPECT=1 cargo test check_values_are_listed` writes the list anew; read the difference";
    assert!(wrong.is_empty(), "{}\n{hint}", wrong.join("\n"));
}

/// What would let a case pass without being looked at.
fn faults(grid: &Grid) -> Vec<String> {
    let mut faults = Vec::new();
    let mut ids = BTreeSet::new();
    for row in 0..grid.rows.len() {
        let of = |column: &str| cell(grid, row, column);
        let mut fault = |what: String| faults.push(format!("row {}, `{}`: {what}", row + 2, of("id")));
        if of("id").is_empty() || !ids.insert(of("id")) {
            fault("a case needs a name of its own".into());
        }
        if of("source").is_empty() {
            fault("it names no source".into());
        }
        if !["published", "recalled", "independent"].contains(&of("kind")) {
            fault(format!("`{}` is no kind of value", of("kind")));
        }
        if expected(grid, row).is_empty() {
            fault("it expects nothing".into());
        }
        for (column, wanted) in expected(grid, row) {
            let (Wanted::Value(_, number) | Wanted::Ratio(_, number)) = wanted else { continue };
            let tolerance = of("tolerance").parse().unwrap_or(f64::INFINITY);
            // What rounds to nothing is compared in the unit of its column.
            let share = match of("tolerance_kind") {
                "rel" => tolerance,
                _ if number == 0.0 => tolerance / 10.0,
                _ => tolerance / number.abs(),
            };
            if share > 0.15 {
                fault(format!("`{}`: a tolerance of {share} of it holds nothing", column.name));
            }
        }
    }
    for (at, column) in grid.columns.iter().enumerate() {
        if column.name.starts_with("expect ") && grid.rows.iter().all(|row| row[at].text.is_empty()) {
            faults.push(format!("`{}` is empty in every row", column.name));
        }
        // A limit that is called something else is not asked either.
        if column.name.starts_with("expect verdict: ")
            && grid.rows.iter().all(|row| ["", "not asked"].contains(&row[at].text.as_str()))
        {
            faults.push(format!("`{}` is asked in no row", column.name));
        }
    }
    faults
}

/// The guard and the runner themselves: what would let a case pass without being looked at is complained of.
#[test]
fn a_case_that_nothing_looks_at_is_found() {
    let file = |text: &str| File::read("anchor-pryout--planted", text.as_bytes()).expect("rows");
    let grid = |text: &str| file(text).grid;
    let faulty = grid(
        "id,h_ef [in],N_cp,expect V_cp [lbf],expect phi,tolerance,tolerance_kind,source,kind\n\
         a,3,1000,2000,,0.01,rel,somebody,published\n\
         a,3,1000,2000,,0.01,rel,somebody,published\n\
         b,3,1000,2000,,0.5,rel,,hearsay\n\
         c,3,1000,,,0.01,rel,somebody,published\n",
    );
    let found = faults(&faulty);
    let has = |words: &str| found.iter().filter(|fault| fault.contains(words)).count();
    for words in ["a name of its own", "no source", "no kind of value", "expects nothing", "holds nothing"] {
        assert_eq!(has(words), 1, "{words}: {found:#?}");
    }
    assert_eq!(has("`expect phi` is empty in every row"), 1, "{found:#?}");
    let about = "tolerance,tolerance_kind,source,kind";
    let wrong = |columns: &str, cells: &str| {
        let text = format!(
            "id,h_ef [in],N_cp [lbf],V_ua [lbf],{columns},{about}\na,3,1000,700,{cells},0.001,rel,me,recalled\n"
        );
        wrong_in(&file(&text), &LIBRARY)
    };
    let right = [("expect V_cp [lbf]", "2000"), ("expect ratio: pryout", "0.5"), ("expect verdict: pryout", "met")];
    for (column, cell) in right {
        assert_eq!(wrong(column, cell), (1, Vec::new()), "{column}");
    }
    let off = [
        ("expect V_cp [lbf]", "2010"),
        ("expect V_cq [lbf]", "2000"),
        ("expct V_cp [lbf]", "2000"),
        ("expect ratio: pryout", "0.6"),
        ("expect ratio: pryouts", "0.5"),
        ("expect verdict: pryout", "not met"),
        ("expect verdict: pryouts", "met"),
    ];
    for (column, cell) in off {
        assert_eq!(wrong(column, cell).1.len(), 1, "{column}");
    }
    let row = |id: &str, h_ef: &str, cell: &str| format!("{id},{h_ef},1000,700,{cell},,,me,recalled\n");
    let head = |column: &str| format!("id,h_ef [in],N_cp [lbf],V_ua [lbf],{column},{about}\n");
    let refusals = "expect refused";
    assert_eq!(wrong_in(&file(&(head(refusals) + &row("a", "-3", "h_ef"))), &LIBRARY), (1, Vec::new()));
    for (h_ef, words) in [("3", "h_ef"), ("-3", "no such words")] {
        assert_eq!(wrong_in(&file(&(head(refusals) + &row("a", h_ef, words))), &LIBRARY).1.len(), 1, "{h_ef}, {words}");
    }
    let both = head("expect refused,expect phi") + &row("a", "-3", "h_ef,0.7");
    assert!(wrong_in(&file(&both), &LIBRARY).1[0].contains("expects no more than that"));
    let rod = |column: &str, cell: &str| {
        let head =
            format!("id,d_a [in],h_ef [in],rod_grade,head,e_h [in],finish,n,plate_t [in],room [in],{column},{about}");
        let text = format!("{head}\na,0.75,12,F1554-36,hex,0,painted,4,0.5,0,{cell},0.001,rel,me,recalled\n");
        wrong_in(&File::read("rod-order--planted", text.as_bytes()).expect("rows"), &LIBRARY).1.len()
    };
    let (nuts, coat) = ("expect pieces: anchors: nut", "expect name: field.coat");
    let rods = [
        (nuts, "\"4 of 0.75 in, painted\"", 0),
        (nuts, "\"3 of 0.75 in, painted\"", 1),
        ("expect pieces: anchors: hooked rod", "none", 0),
        (nuts, "none", 1),
        (coat, "painted", 0),
        (coat, "bare", 1),
        ("expect name: field.n", "4", 1),
        ("expect name: shop.coat", "painted", 1),
        ("expect field.low [in]", "1.4375", 0),
        ("expect field.low [in]", "1.25", 1),
    ];
    for (column, cell, wrong) in rods {
        assert_eq!(rod(column, cell), wrong, "{column}: {cell}");
    }
    let asked = head("expect verdict: pryout") + &row("a", "3", "not asked");
    assert_eq!(wrong_in(&file(&asked), &LIBRARY).1.len(), 1);
    assert!(faults(&file(&asked).grid).iter().any(|fault| fault.contains("asked in no row")));
    let one = grid("id,expect phi,source\na,0.7,me\n");
    let other = grid("id,expect phi,source\nb,0.7,me\n");
    assert_eq!(digest(&one).0, 1);
    assert_ne!(digest(&one), digest(&other), "a case under another name is another case");
}

/// How many cells of a file expect something, and a digest of which.
fn digest(grid: &Grid) -> (usize, String) {
    let mut hash = Sha256::new();
    let mut values = 0;
    for row in 0..grid.rows.len() {
        for (column, _) in expected(grid, row) {
            hash.update(format!("{}\0{}\0", cell(grid, row, "id"), column.name));
            values += 1;
        }
    }
    (values, hash.finalize().iter().take(6).map(|byte| format!("{byte:02x}")).collect())
}

/// `CHECK_VALUES=DIR` has others read than those that are committed, as the scripts of `tests/oracle` write them.
fn folder() -> PathBuf {
    std::env::var_os("CHECK_VALUES").map_or_else(|| root().join("tests/check-values"), PathBuf::from)
}

/// The files by name, in order, without their ending.
pub fn names() -> Vec<String> {
    let paths = std::fs::read_dir(folder()).expect("check values").map(|entry| entry.expect("an entry").path());
    let csv = paths.filter(|path| path.extension().is_some_and(|ext| ext == "csv"));
    let mut names: Vec<String> = csv.map(|path| path.file_stem().expect("a name").to_string_lossy().into()).collect();
    names.sort();
    names
}

/// The sheet that a file is about, or `tables`, or `combinations`.
pub fn sheet_of(file: &str) -> &str {
    file.split("--").next().expect("a sheet")
}

/// Its rows.
pub fn rows_of(file: &str) -> Grid {
    read(file).grid
}

/// A file by its name.
pub fn read(file: &str) -> File {
    let bytes = std::fs::read(folder().join(format!("{file}.csv"))).expect("a file");
    File::read(file, &bytes).unwrap_or_else(|wrong| panic!("{}", said(&wrong)))
}

fn said(wrong: &[Diagnostic]) -> String {
    socle::report::diagnostics(wrong, false)
}

/// Nothing in a column that the file does not have.
fn cell<'a>(grid: &'a Grid, row: usize, column: &str) -> &'a str {
    grid.column(column).map_or("", |column| &grid.rows[row][column].text)
}

/// What a row expects, cell by cell.
pub fn expected(grid: &Grid, row: usize) -> Vec<(&Column, Wanted<'_>)> {
    validate::expected(grid, row).unwrap_or_else(|wrong| panic!("{}", said(&wrong)))
}

/// How many cells were compared, and what the program comes to where a file says something else.
pub fn wrong_in(file: &File, library: &Library) -> (usize, Vec<String>) {
    match (Against { library, table: &Templates::table }).compare(file) {
        Ok(values) => {
            let off = values.iter().filter(|value| !value.holds());
            let say = |value: &Value| {
                let (id, what, source) = (&value.id, value.what(), &value.source);
                format!("{id}: {what} is {:?}, {source} says {:?}", value.found, value.wanted)
            };
            (values.len(), off.map(say).collect())
        }
        Err(wrong) => (0, wrong.iter().map(|wrong| said(std::slice::from_ref(wrong))).collect()),
    }
}
