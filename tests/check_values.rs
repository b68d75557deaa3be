//! Published, recalled and independent numbers: each file of
//! `tests/check-values` is a test, `cargo test column__worked_examples` runs one.
//! A file whose name begins with a sheet's name is worked row by row, one that
//! begins with `tables` is looked up, one of `combinations` lists those of a job; all are compared within each row's own
//! tolerance. `tests/turned_round.rs` shows that the verdicts among them hold.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::LazyLock;

use sha2::{Digest, Sha256};
use socle::alone::Alone;
use socle::diag::Diagnostic;
use socle::formula::Value;
use socle::grid::{Column, Grid};
use socle::job::Facts;
use socle::quantity::Unit;
use socle::report::limits;
use socle::sheet::{Library, Step, Worked};
use socle::source::Source;

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
    let grid = read(&folder().join(format!("{name}.csv")));
    let (asserted, wrong) = match sheet_of(&name) {
        "tables" => wrong_in_tables(&grid),
        "combinations" => wrong_in_combinations(&grid),
        sheet => wrong_in_sheet(&grid, sheet, &LIBRARY),
    };
    assert!(wrong.is_empty(), "{name}:\n{}", wrong.join("\n"));
    let listed = FILES.iter().find(|(known, _)| *known == test).expect("it is listed");
    assert_eq!(asserted, listed.1.values, "{name}: cells that were compared, and cells that are listed");
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
        let grid = read(&folder().join(format!("{name}.csv")));
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
        if expected(grid, row).next().is_none() {
            fault("it expects nothing".into());
        }
        for (column, wanted) in expected(grid, row) {
            let Some(number) = wanted.number() else { continue };
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
    }
    faults
}

/// The guard and the runner themselves: what would let a case pass without being looked at is complained of.
#[test]
fn a_case_that_nothing_looks_at_is_found() {
    let grid = |text: &str| Grid::read(&Source::new("rows.csv", text)).expect("rows");
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
        wrong_in_sheet(&grid(&text), "anchor-pryout", &LIBRARY)
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

/// How many cells were compared, and where the combinations of a job are others than those listed.
fn wrong_in_combinations(grid: &Grid) -> (usize, Vec<String>) {
    let (mut asserted, mut wrong) = (0, Vec::new());
    let jobs: BTreeSet<&str> = (0..grid.rows.len()).map(|row| cell(grid, row, "job")).collect();
    for job in jobs {
        let found = crate::seismic::combinations_of(job);
        let rows: Vec<usize> = (0..grid.rows.len()).filter(|row| cell(grid, *row, "job") == job).collect();
        if found.len() != rows.len() {
            wrong.push(format!("{job}: {} combinations, {} are listed", found.len(), rows.len()));
        }
        for row in rows {
            let wanted: Vec<(&str, f64)> = expected(grid, row)
                .map(|(column, wanted)| (&column.name["expect ".len()..], wanted.number().expect("a number")))
                .collect();
            let tolerance: f64 = cell(grid, row, "tolerance").parse().expect("a tolerance");
            let alike = |combination: &&socle::engine::Combination| {
                let factors = combination.factors.iter().map(|(case, factor)| (case.as_str(), *factor));
                let all: Vec<(&str, f64)> = factors.chain(combination.c_d.map(|c_d| ("C_D", c_d))).collect();
                let same = |(case, factor): &(&str, f64)| {
                    all.iter().any(|(other, found)| other == case && (found - factor).abs() <= tolerance)
                };
                let method = format!("{:?}", combination.method) == cell(grid, row, "method");
                method && all.len() == wanted.len() && wanted.iter().all(same)
            };
            asserted += wanted.len();
            if found.iter().filter(alike).count() != 1 {
                wrong.push(format!("{}: not once among the combinations: {wanted:?}", cell(grid, row, "id")));
            }
        }
    }
    (asserted, wrong)
}

fn folder() -> PathBuf {
    root().join("tests/check-values")
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

/// The rows of a file by its name.
pub fn rows_of(file: &str) -> Grid {
    read(&folder().join(format!("{file}.csv")))
}

fn read(path: &std::path::Path) -> Grid {
    let text = std::fs::read_to_string(path).expect("a file");
    Grid::read(&Source::new(path.display().to_string(), text))
        .unwrap_or_else(|wrong| panic!("{}", socle::report::diagnostics(&wrong, false)))
}

/// Nothing in a column that the file does not have.
fn cell<'a>(grid: &'a Grid, row: usize, column: &str) -> &'a str {
    grid.column(column).map_or("", |column| &grid.rows[row][column].text)
}

/// What a cell expects.
pub enum Wanted<'a> {
    /// `expect Z [lbf]`: what a symbol, or a cell of a table, comes to.
    Value(&'a str, f64),
    /// `expect ratio: WORDS`: demand over capacity of a limit.
    Ratio(&'a str, f64),
    /// `expect verdict: WORDS`: met or not.
    Verdict(&'a str, bool),
}

impl Wanted<'_> {
    fn number(&self) -> Option<f64> {
        match self {
            Wanted::Value(_, number) | Wanted::Ratio(_, number) => Some(*number),
            Wanted::Verdict(..) => None,
        }
    }
}

/// What a row expects, cell by cell.
pub fn expected(grid: &Grid, row: usize) -> impl Iterator<Item = (&Column, Wanted<'_>)> {
    let cells = grid.columns.iter().zip(&grid.rows[row]).filter(|(_, cell)| !cell.text.is_empty());
    cells.filter_map(|(column, cell)| {
        let number = || cell.text.parse().unwrap_or_else(|_| panic!("`{}` is no number", cell.text));
        let name = column.name.strip_prefix("expect ")?;
        let wanted = if let Some(words) = name.strip_prefix("ratio: ") {
            Wanted::Ratio(words, number())
        } else if let Some(words) = name.strip_prefix("verdict: ") {
            match cell.text.as_str() {
                "met" => Wanted::Verdict(words, true),
                "not met" => Wanted::Verdict(words, false),
                text => panic!("`{text}` is no verdict: `met` or `not met`"),
            }
        } else {
            Wanted::Value(name, number())
        };
        Some((column, wanted))
    })
}

/// How many cells were compared, and what a sheet comes to where a row says something else.
pub fn wrong_in_sheet(grid: &Grid, sheet: &str, library: &Library) -> (usize, Vec<String>) {
    let sheet = library.sheet(sheet).unwrap_or_else(|| panic!("there is no sheet `{sheet}`"));
    let say = |wrong: &[Diagnostic]| socle::report::diagnostics(wrong, false);
    let alone = Alone::new(sheet, library).unwrap_or_else(|wrong| panic!("{}", say(&wrong)));
    let worked = alone.rows(grid, &Facts::new()).unwrap_or_else(|wrong| panic!("{}", say(&wrong)));
    // A column that nothing reads is a slip: an input that is not given, or a value that is not compared.
    let mut wrong: Vec<String> = alone.unread(grid).iter().map(|note| note.message.clone()).collect();
    let mut asserted = 0;
    for (row, worked) in worked.iter().enumerate() {
        let limits = limits(worked);
        let limit = |words: &str| limits.iter().find(|(name, _)| name == words).map(|(_, verdict)| *verdict);
        for (column, wanted) in expected(grid, row) {
            asserted += 1;
            match wanted {
                Wanted::Value(name, wanted) => {
                    // A source may print another unit than the sheet.
                    let unit = column.unit.clone().unwrap_or_else(Unit::none);
                    let found = symbol(worked, name).map(|base| unit.from_base(base));
                    compare(grid, row, name, found, wanted, &mut wrong);
                }
                Wanted::Ratio(words, wanted) => {
                    let found = limit(words).and_then(|verdict| verdict.ratio);
                    compare(grid, row, &format!("the ratio of `{words}`"), found, wanted, &mut wrong);
                }
                Wanted::Verdict(words, wanted) => {
                    let say = |ok: Option<bool>| ok.map_or("not asked", |ok| if ok { "met" } else { "not met" });
                    let found = limit(words).map(|verdict| verdict.ok);
                    if found != Some(wanted) {
                        let (id, source) = (cell(grid, row, "id"), cell(grid, row, "source"));
                        wrong.push(format!("{id}: `{words}` is {}, {source}: {}", say(found), say(Some(wanted))));
                    }
                }
            }
        }
    }
    (asserted, wrong)
}

/// The value of `Z`, or of `pin-yield.Z` in a sheet that is used.
fn symbol(worked: &Worked, name: &str) -> Option<f64> {
    let (path, name) = name.rsplit_once('.').unwrap_or(("", name));
    let sheet = path.split('.').filter(|name| !name.is_empty()).try_fold(worked, |above, name| {
        above.steps.iter().find_map(|step| match step {
            Step::Use(inner) if inner.name == name => Some(&**inner),
            _ => None,
        })
    });
    match &sheet?.bound.get(name)?.value {
        Value::Quantity(quantity) => Some(quantity.value),
        _ => None,
    }
}

fn compare(grid: &Grid, row: usize, name: &str, found: Option<f64>, wanted: f64, wrong: &mut Vec<String>) {
    let of = |column: &str| cell(grid, row, column);
    let tolerance: f64 = of("tolerance").parse().expect("a tolerance");
    let far = found.map_or(f64::INFINITY, |found| (found - wanted).abs());
    let close = match of("tolerance_kind") {
        "abs" => far <= tolerance,
        "rel" => far <= tolerance * wanted.abs(),
        kind => panic!("unknown kind of tolerance `{kind}`"),
    };
    if !close {
        let found = found.map_or("nothing".into(), |found| found.to_string());
        wrong.push(format!("{}: {name} is {found}, {} says {wanted}", of("id"), of("source")));
    }
}

/// Columns of a file of table rows that are no key of the table.
const ABOUT: [&str; 7] = ["id", "table", "tolerance", "tolerance_kind", "source", "kind", "note"];

/// How many cells were compared, and what a built-in table holds where a row says something else.
fn wrong_in_tables(grid: &Grid) -> (usize, Vec<String>) {
    let (mut asserted, mut wrong) = (0, Vec::new());
    for row in 0..grid.rows.len() {
        let table = read(&root().join(format!("templates/tables/{}.csv", cell(grid, row, "table"))));
        let is_key = |name: &str| !ABOUT.contains(&name) && !name.starts_with("expect ");
        let keys: Vec<(&str, &str)> = grid
            .columns
            .iter()
            .zip(&grid.rows[row])
            .filter(|(column, cell)| is_key(&column.name) && !cell.text.is_empty())
            .map(|(column, cell)| (column.name.as_str(), cell.text.as_str()))
            .collect();
        let entry = (0..table.rows.len()).find(|entry| keys.iter().all(|(key, is)| cell(&table, *entry, key) == *is));
        let entry = entry.unwrap_or_else(|| panic!("{}: no row for {keys:?}", cell(grid, row, "id")));
        let number = |name: &str| cell(&table, entry, name).parse::<f64>().ok();
        for (column, wanted) in expected(grid, row) {
            let Wanted::Value(name, wanted) = wanted else { panic!("`{}` of a table", column.name) };
            asserted += 1;
            // Section properties follow from the sizes in the table.
            let power = ["A", "S", "I"].iter().position(|known| *known == name).filter(|_| number(name).is_none());
            let found = match power {
                Some(power) => {
                    number("b").zip(number("d")).map(|(b, d)| b * d.powi(power as i32 + 1) / [1.0, 6.0, 12.0][power])
                }
                None => number(name),
            };
            compare(grid, row, name, found, wanted, &mut wrong);
        }
    }
    (asserted, wrong)
}
