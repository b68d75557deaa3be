//! Tables as others write them: exports of a frame analysis, spreadsheets of other countries.

use expect_test::{Expect, expect};
use rust_xlsxwriter::Workbook;
use serde_json::Value;
use socle::grid::Grid;
use socle::quantity::{Decimals, Unit, read, shown_decimals};
use socle::source::Source;

use crate::jobs::package_in;
use crate::since::since;
use crate::support::{Job, one_line, socle, stderr, stdout};
use crate::workbooks::{ods, ods_rows};

/// Names of the analysis for the columns and load cases of the barn.
const COLUMNS: [(&str, &str); 7] = [
    ("Nœud", "post"),
    ("Cas de charge", "case"),
    ("FZ", "P"),
    ("FX", "H_x"),
    ("FY", "H_y"),
    ("qx", "w_x"),
    ("qy", "w_y"),
];
const CASES: [(&str, &str); 8] = [
    ("Poids propre", "D"),
    ("Exploitation", "L"),
    ("Entretien", "Lr"),
    ("Neige", "S"),
    ("Vent +X", "W1"),
    ("Vent -X", "W2"),
    ("Séisme X", "E_x"),
    ("Séisme Y", "E_y"),
];

/// A table of `job.toml`.
fn mapped(table: &str, lines: &[(&str, &str)]) -> String {
    let lines: String = lines.iter().map(|(typed, name)| format!("\"{typed}\" = \"{name}\"\n")).collect();
    format!("\n[loads.{table}]\n{lines}")
}

/// Adds tables to `job.toml`, behind `[loads]`.
fn map(job: &Job, tables: &str) {
    job.write("job.toml", job.read("job.toml") + tables);
}

/// The rows of the barn's reactions, headings first.
fn reactions() -> Vec<Vec<String>> {
    let text = Job::copy("cart-barn").read("reactions.csv");
    text.lines().map(|line| line.split(',').map(String::from).collect()).collect()
}

/// The same as a French analysis exports them: forces as `force` writes them, line loads
/// in lbf/ft.
fn french(unit: &str, force: impl Fn(f64) -> String) -> Vec<Vec<String>> {
    let title = |text: &str| vec![text.to_string(), String::new()];
    let headings = COLUMNS.iter().map(|(typed, _)| typed.to_string()).collect();
    let units = ["", "", unit, unit, unit, "lbf/ft", "lbf/ft"].map(String::from).to_vec();
    let case = |ours: &String| CASES.iter().find(|(_, name)| name == ours).expect("a case").0.to_string();
    let row = |cells: &Vec<String>| {
        let number = |(at, cell): (usize, &String)| match at {
            0 => cell.clone(),
            1 => case(cell),
            2..5 => force(cell.parse().expect("a number")),
            _ => cell.clone(),
        };
        cells.iter().enumerate().map(number).collect()
    };
    let rows: Vec<Vec<String>> = reactions()[1..].iter().map(row).collect();
    [title("Réactions d'appui"), title("Modèle : grange, calcul 3"), Vec::new(), headings, units]
        .into_iter()
        .chain(rows)
        .collect()
}

fn joined(rows: &[Vec<String>], by: &str) -> String {
    rows.iter().map(|row| row.join(by) + "\n").collect()
}

/// The barn with such an export in the place of its reactions.
fn barn(file: &str, bytes: impl AsRef<[u8]>) -> Job {
    let job = Job::copy("cart-barn");
    std::fs::remove_file(job.path().join("reactions.csv")).expect("the file");
    job.write(file, bytes);
    map(&job, &(mapped("columns", &COLUMNS) + &mapped("cases", &CASES)));
    job
}

/// In thousands of pounds, to three decimals behind a comma: as exact as the pounds.
fn kips(pounds: f64) -> String {
    format!("{:.3}", pounds / 1000.0).replace('.', ",")
}

/// What a job comes to, without what rests on how many digits were typed.
fn numbers(job: &Job) -> Value {
    let mut json = job.check_json();
    json.as_object_mut().expect("an object").remove("digest");
    for post in json["posts"].as_array_mut().expect("posts") {
        for limit in post["limits"].as_array_mut().expect("limits") {
            let limit = limit.as_object_mut().expect("a limit");
            assert!(limit.remove("interval").is_some() && limit.remove("close").is_some());
        }
    }
    json
}

/// Numbers to as many digits as a conversion of units keeps.
fn close(a: &Value, b: &Value, at: &str) {
    match (a, b) {
        (Value::Number(x), Value::Number(y)) => {
            let (x, y) = (x.as_f64().expect("a number"), y.as_f64().expect("a number"));
            assert!((x - y).abs() <= 1e-9 * x.abs().max(y.abs()).max(1e-6), "{at}: {x} {y}");
        }
        (Value::Array(x), Value::Array(y)) => {
            assert_eq!(x.len(), y.len(), "{at}");
            x.iter().zip(y).enumerate().for_each(|(no, (x, y))| close(x, y, &format!("{at}/{no}")));
        }
        (Value::Object(x), Value::Object(y)) => {
            assert!(x.keys().eq(y.keys()), "{at}");
            x.iter().for_each(|(key, value)| close(value, &y[key], &format!("{at}/{key}")));
        }
        _ => assert_eq!(a, b, "{at}"),
    }
}

fn check(job: &Job) -> String {
    let output = socle(&["check".as_ref(), job.path().as_os_str()]);
    assert_ne!(output.status.code(), Some(2), "{}", stderr(&output));
    stderr(&output)
}

/// Title rows, a row of units, semicolons or tabs, decimal commas, and names of its own.
#[test]
fn a_french_export_is_the_job_in_our_own_form() {
    let ours = numbers(&Job::copy("cart-barn"));
    for (by, unit) in [(";", "kip"), ("\t", "kip")] {
        let job = barn("reactions.csv", joined(&french(unit, kips), by));
        close(&ours, &numbers(&job), by);
        assert!(check(&job).contains("above the headings: not read"), "{}", check(&job));
    }
    // Windows text, and kilonewtons to all their digits.
    let newtons = |pounds: f64| format!("{:?}", pounds * 4.4482216152605e-3).replace('.', ",");
    let text = joined(&french("kN", newtons), ";");
    let (bytes, _, lost) = encoding_rs::WINDOWS_1252.encode(&text);
    assert!(!lost);
    close(&ours, &numbers(&barn("reactions.csv", bytes)), "kN");
    let deca = |pounds: f64| format!("{:?}", pounds * 0.44482216152605).replace('.', ",");
    close(&ours, &numbers(&barn("reactions.csv", joined(&french("daN", deca), ";"))), "daN");
}

/// The same in a workbook: numbers typed as numbers, and as text; a unit in round brackets.
#[test]
fn an_export_in_a_workbook() {
    let ours = numbers(&Job::copy("cart-barn"));
    for typed in [true, false] {
        for row_of_units in [true, false] {
            let mut rows = french("daN", |pounds| format!("{:?}", pounds * 0.44482216152605));
            if !row_of_units {
                rows.remove(4);
                rows[3][2..5].iter_mut().for_each(|heading| *heading += " (daN)");
                rows[3][5..].iter_mut().for_each(|heading| *heading += " (lbf/ft)");
            }
            let mut book = Workbook::new();
            let sheet = book.add_worksheet();
            for (at, cells) in (0..).zip(&rows) {
                for (column, text) in (0..).zip(cells) {
                    match text.parse::<f64>().ok().filter(|_| typed) {
                        Some(number) => sheet.write_number(at, column, number),
                        None => sheet.write_string(at, column, text),
                    }
                    .expect("a cell");
                }
            }
            let bytes = book.save_to_buffer().expect("a workbook");
            close(&ours, &numbers(&barn("reactions.xlsx", bytes)), "xlsx");
            if typed {
                close(&ours, &numbers(&barn("reactions.ods", ods(&[("reactions", ods_rows(&rows))]))), "ods");
            }
        }
    }
}

/// A minus before a heading, or before what it is here, turns the sign of its numbers, and nothing else.
#[test]
fn a_sign_is_turned() {
    let ours = numbers(&Job::copy("cart-barn"));
    let job = Job::copy("cart-barn");
    let mut rows = reactions();
    rows[0][2] = "FZ [lbf]".into();
    for row in &mut rows[1..] {
        let number: f64 = row[2].parse().expect("a number");
        row[2] = format!("{}", 0.0 - number);
    }
    job.write("reactions.csv", joined(&rows, ","));
    for line in [("FZ", "-P"), ("FZ", "− P"), ("-FZ", "P")] {
        job.write("job.toml", Job::copy("cart-barn").read("job.toml"));
        map(&job, &mapped("columns", &[line]));
        assert!(ours == numbers(&job), "{line:?}");
    }
    let (package, _) = package_in(&job.path());
    let said = "By the names of that analysis: FZ is P with the other sign.";
    assert!(serde_json::to_string(&package).expect("JSON").contains(said));
}

/// Load cases of the analysis stand in columns of `posts.csv` too.
#[test]
fn mapped_cases_in_columns_of_posts() {
    let ours = numbers(&Job::copy("creek-porch"));
    let job = Job::copy("creek-porch");
    job.edit("posts.csv", "P_S [kip]", "P_Neige [kip]").edit("posts.csv", "P_D [kip]", "P Poids propre [kip]");
    map(&job, &mapped("cases", &[("Neige", "S"), ("Poids propre", "D"), ("Vent +Y", "W7")]));
    assert!(ours == numbers(&job));
    let notes = check(&job);
    assert!(notes.contains("no load case is called `Vent +Y`, which is W7 here"), "{notes}");
    assert!(!notes.contains("Neige") || !notes.contains("called `Neige`"), "{notes}");
}

/// A post is known by its node.
#[test]
fn reactions_by_nodes() {
    let ours = numbers(&Job::copy("cart-barn"));
    let job = Job::copy("cart-barn");
    let posts = job.read("posts.csv");
    let marks: Vec<&str> = posts.lines().skip(1).map(|line| line.split(';').next().expect("a mark")).collect();
    let node = |mark: &str| marks.iter().position(|known| *known == mark).expect("a post") * 3 + 101;
    let with: String = posts
        .lines()
        .enumerate()
        .map(|(at, line)| match at {
            0 => format!("{line};node\n"),
            _ => format!("{line};{}\n", node(marks[at - 1])),
        })
        .collect();
    job.write("posts.csv", &with);
    let mut rows = reactions();
    rows[1..].iter_mut().for_each(|row| row[0] = node(&row[0]).to_string());
    job.write("reactions.csv", joined(&rows, ","));
    assert!(ours == numbers(&job));
    // One node under two posts, and one that is none.
    job.write("posts.csv", with.replacen(";104\n", ";101\n", 1));
    let told = job.diagnostic();
    assert!(told.contains("`101` is the node of post A2 and names post A1 too"), "{told}");
    job.write("posts.csv", with).edit("reactions.csv", "101,D", "999,D");
    let told = one_line(&job.diagnostic());
    assert!(told.contains("there is no post `999`") && told.contains("a column `node` of `posts.csv`"), "{told}");
}

/// The same loads under the names of the analysis are no change since.
#[test]
fn mapped_names_are_no_change() {
    let job = Job::copy("cart-barn");
    let mut rows = reactions();
    rows[0][1] = "Cas".into();
    rows[1..].iter_mut().filter(|row| row[1] == "S").for_each(|row| row[1] = "Neige".into());
    job.write("reactions.csv", joined(&rows, ","));
    map(&job, &(mapped("cases", &[("Neige", "S")]) + &mapped("columns", &[("Cas", "case")])));
    let (_, _, found) = since(&Job::copy("cart-barn").path(), &job.path());
    let files: Vec<&str> = found.inputs.iter().map(|change| change.file.as_str()).collect();
    assert!(files.iter().all(|file| *file == "job.toml"), "{:#?}", found.inputs);
}

// Decimals.

#[test]
fn what_numbers_show_of_their_decimals() {
    for (text, shown) in [
        ("7,5", Some(Decimals::Comma)),
        ("0,250", Some(Decimals::Comma)),
        ("-12,0000 kN", Some(Decimals::Comma)),
        ("1.234,5", Some(Decimals::Comma)),
        ("1.234.567", Some(Decimals::Comma)),
        ("2.5 in", Some(Decimals::Point)),
        ("1,234.5", Some(Decimals::Point)),
        ("1,234,567", Some(Decimals::Point)),
        ("0.250", Some(Decimals::Point)),
        ("3,150", None),
        ("3.150", None),
        ("12", None),
        ("7-1/2", None),
    ] {
        assert_eq!(shown_decimals(text), shown, "{text}");
    }
    let pounds = |text: &str, decimals| {
        let found = read(text, &Unit::all(&["lbf"]), Unit::simple("lbf").as_ref(), decimals);
        found.map(|reading| reading.quantity.value).map_err(|unread| unread.message)
    };
    for (text, value) in
        [("7,5", 7.5), ("2.5", 2.5), ("1.234,5", 1234.5), ("1,234.5", 1234.5), ("1,234,567", 1_234_567.0)]
    {
        assert_eq!(pounds(text, Decimals::Either), Ok(value), "{text}");
    }
    for (text, told) in [
        ("3,150", "3.15 with a decimal comma and 3150 with a comma between thousands; write `3,1500` or `3150`"),
        ("14.012", "14.012 with a decimal point and 14012 with a point between thousands; write `14.0120` or `14012`"),
    ] {
        let wrong = pounds(text, Decimals::Either).expect_err(text);
        assert!(wrong.contains(told), "{wrong}");
        // Both of what is proposed is read.
        let (_, after) = told.split_once("write `").expect("advice");
        for advice in after.trim_end_matches('`').split("` or `") {
            assert!(pounds(advice, Decimals::Either).is_ok(), "{advice}");
        }
    }
}

/// What a file shows in one cell holds for all of it.
#[test]
fn a_file_shows_what_its_decimals_are() {
    let decimals = |text: &str| Grid::read(&Source::new("a.csv", text)).expect("a grid").decimals;
    for by in [";", "\t"] {
        let file = |cells: [&str; 3]| {
            let rows = format!("name;a;b\nA;{};x\nB;{};y\nC;{};z\n", cells[0], cells[1], cells[2]);
            decimals(&rows.replace(';', by))
        };
        assert_eq!(file(["14,012", "3,5", "2"]), Decimals::Comma, "{by:?}");
        assert_eq!(file(["14,012", "3.5", "2"]), Decimals::Point);
        assert_eq!(file(["14,012", "3.5", "2,5"]), Decimals::Either);
        assert_eq!(file(["14,012", "3", "2"]), Decimals::Either);
        // A column of words shows nothing.
        assert_eq!(file(["No.1", "3,5", "7.5"]), Decimals::Either);
    }
    assert_eq!(decimals("name,a\nA,\"7,5\"\n"), Decimals::Point);
    // In whole jobs: a number of three decimals beside one of one, and alone.
    let job = Job::copy("creek-porch");
    let tabs = |from: &str, to: &str| job.read("posts.csv").replace(from, to);
    let (before, text) = (numbers(&job), tabs(",", "\t").replace('.', ",").replace("No,1", "No.1"));
    job.write("posts.csv", &text);
    assert!(before == numbers(&job));
    job.write("posts.csv", text.replace("\t1,10\t", "\t1,100\t"));
    assert!(before == numbers(&job));
}

/// In a file of semicolons that shows nothing else, nobody knows.
#[test]
fn a_number_of_two_readings_is_refused() {
    let job = Job::copy("creek-porch");
    let text = job.read("posts.csv").replace(',', ";");
    let whole = |line: &str| {
        let cell = |cell: &str| match cell.parse::<f64>() {
            Ok(value) if value != 0.0 => format!("{}", value.abs().ceil()),
            _ => cell.to_string(),
        };
        line.split(';').map(cell).collect::<Vec<_>>().join(";") + "\n"
    };
    let text: String = text.lines().map(whole).collect();
    job.write("posts.csv", text).edit("posts.csv", "P1;0;0;foot 6;rim beam;6", "P1;0;0;foot 6;rim beam;5,500");
    let told = one_line(&job.diagnostic());
    assert!(
        told.contains("found `5,500`, which is 5.5 with a decimal comma and 5500 with a comma between thousands; write `5,5000` or `5500`"),
        "{told}"
    );
    assert!(told.contains("posts.csv:2:"), "{told}");
}

// A row of units.

fn units(row: &str) -> Result<Job, String> {
    let job = Job::copy("cart-barn");
    let text = job.read("reactions.csv").replace(" [lbf/ft]", "").replace(" [lbf]", "");
    let (head, rows) = text.split_once('\n').expect("headings");
    job.write("reactions.csv", format!("{head}\n{row}\n{rows}"));
    let output = socle(&["check".as_ref(), job.path().as_os_str()]);
    if output.status.code() == Some(2) { Err(one_line(&stderr(&output))) } else { Ok(job) }
}

#[test]
fn a_row_of_units_below_the_headings() {
    let ours = numbers(&Job::copy("cart-barn"));
    for row in [",,lbf,lbf,lbf,lbf/ft,lbf/ft", "-,-,[lbf],[lbf],(lbf),lbf/ft,plf", "\n,,lbf,lbf,lbf,lbf/ft,lbf/ft"] {
        let job = units(row).unwrap_or_else(|told| panic!("{row}: {told}"));
        assert!(ours == numbers(&job), "{row}");
        let (package, _) = package_in(&job.path());
        let file = package.inputs.iter().find(|file| file.name == "reactions.csv").expect("the file");
        let shown = serde_json::to_string(file).expect("JSON");
        assert!(shown.contains("P [lbf]"), "{shown}");
    }
    let told = units(",,lbf,t,lbf,lbf/ft,lbf/ft").err().expect("no unit");
    assert!(told.contains("`t` below the heading `H_x` is not a known unit"), "{told}");
    let told = units(",,lbf,lbf,lbf,,lbf/ft").err().expect("no unit");
    assert!(told.contains("w_x: found `0` without a unit") || told.contains("without a unit"), "{told}");
    let told = units(",,in,lbf,lbf,lbf/ft,lbf/ft").err().expect("no force");
    assert!(told.contains("expected a force"), "{told}");
    let job = Job::copy("cart-barn");
    let text = job.read("reactions.csv");
    let (head, rows) = text.split_once('\n').expect("headings");
    let with = |row: &str| format!("{head}\n{row}\n{rows}");
    job.write("reactions.csv", with(",,lbf,lbf,-,,"));
    assert!(ours == numbers(&job));
    job.write("reactions.csv", with(",,kN,lbf,lbf,,"));
    let told = one_line(&job.diagnostic());
    assert!(told.contains("the heading of `P` says lbf, and the row of units below it says kN"), "{told}");
    // A moment of zeros, as analyses export it, needs no name here.
    let rows: String = text
        .lines()
        .enumerate()
        .map(|(at, line)| match at {
            0 => line.replace(" [lbf/ft]", "").replace(" [lbf]", "") + ",MX\n,,lbf,lbf,lbf,lbf/ft,lbf/ft,kN.m\n",
            _ => format!("{line},0\n"),
        })
        .collect();
    job.write("reactions.csv", rows);
    assert!(ours == numbers(&job));
}

// Wrong names.

fn wrong(change: impl Fn(&Job), expected: Expect) {
    let job = Job::copy("cart-barn");
    change(&job);
    expected.assert_eq(&job.diagnostic());
    let target = job.path().join("out.pdf");
    socle(&["package".as_ref(), job.path().as_os_str(), "-o".as_ref(), target.as_os_str()]);
    assert!(!target.exists(), "nothing is written from wrong input");
}

fn wrong_case(typed: &str, name: &str, expected: Expect) {
    wrong(|job| map(job, &mapped("cases", &[(typed, name)])), expected);
}

#[test]
fn a_case_that_is_none() {
    wrong_case(
        "Neige",
        "Q",
        expect![[r#"
        error: `Q` is not a load case
           ┌─ JOBS/cart-barn/job.toml:85:11
           │
        85 │ "Neige" = "Q"
           │           ^^^
           │
           = hint: the cases are D, L, Lr, S, R, E_x, E_y, and W with the name of the wind, such as W1 or W_up

        1 thing to fix; nothing was written
    "#]],
    );
}

#[test]
fn a_name_that_is_another_case_here() {
    wrong_case(
        "S",
        "E_x",
        expect![[r#"
        error: `S` is the load case S here, and cannot be E_x
           ┌─ JOBS/cart-barn/job.toml:85:1
           │
        85 │ "S" = "E_x"
           │ ^^^
           │
           = hint: give the case another name in the analysis, and map that

        1 thing to fix; nothing was written
    "#]],
    );
    // A wind is a wind under either name, and a case may be said to be itself.
    let job = Job::copy("cart-barn");
    let ours = numbers(&job);
    map(&job, &mapped("cases", &[("D", "D"), ("Wind 9", "W3")]));
    assert!(ours == numbers(&job));
    assert!(check(&job).contains("no load case is called `Wind 9`, which is W3 here"), "{}", check(&job));
}

#[test]
fn two_names_for_one_case() {
    wrong(
        |job| map(job, &mapped("cases", &[("Poids propre", "D"), ("Charges permanentes", "D")])),
        expect![[r#"
            error: `Charges permanentes` and `Poids propre` are both D in `[loads.cases]`
               ┌─ JOBS/cart-barn/job.toml:85:1
               │
            85 │ "Poids propre" = "D"
               │ ^^^^^^^^^^^^^^
               │
               = hint: load cases are not added up here: combine the two in the analysis, each with the factor 1, and export the combination

            1 thing to fix; nothing was written
        "#]],
    );
    wrong(
        |job| map(job, &mapped("cases", &[("Neige", "S"), ("NEIGE ", "S")])),
        expect![[r#"
            error: `Neige` appears twice in `[loads.cases]`
               ┌─ JOBS/cart-barn/job.toml:85:1
               │
            85 │ "Neige" = "S"
               │ ^^^^^^^
               │
               = hint: names that differ only in capitals or spaces are the same: leave one out

            1 thing to fix; nothing was written
        "#]],
    );
    wrong(
        |job| {
            map(job, &mapped("cases", &[("Neige", "S")]));
            job.edit("reactions.csv", "A1,W1", "A1,Neige");
        },
        expect![[r#"
            error: post A1, case S: wind on the post goes with wind cases, and S is not one
              ┌─ JOBS/cart-barn/reactions.csv:6:22 (cell F6)
              │
            6 │ A1,Neige,-3900,640,0,26,0
              │                      ^^
              │
              = hint: leave it out here

            error: case S of post A1 appears twice
              ┌─ JOBS/cart-barn/reactions.csv:6:1 (cell A6)
              │
            6 │ A1,Neige,-3900,640,0,26,0
              │ ^^
              │
              = hint: `Neige` is S too, by `[loads.cases]` of `job.toml`

            error: post A1 has no row for `W1`
              ┌─ JOBS/cart-barn/reactions.csv:1:1 (cell A1)
              │
            1 │ mark,case,P [lbf],H_x [lbf],H_y [lbf],w_x [lbf/ft],w_y [lbf/ft]
              │ ^^^^
              │
              = hint: give every post in every case, with zeros where a case has no effect

            3 things to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_case_that_nobody_knows() {
    wrong(
        |job| {
            job.write("reactions.csv", job.read("reactions.csv").replace(",S,", ",Neige 2,"));
        },
        expect![[r#"
            error: `Neige 2` is not a load case
              ┌─ JOBS/cart-barn/reactions.csv:5:4 (cell B5)
              │
            5 │ A1,Neige 2,3600,-200,0,0,0
              │    ^^^^^^^
              │
              = hint: the cases are D, L, Lr, S, R, E_x, E_y, and W with the name of the wind, such as W1 or W_up
              = hint: if it is S, say so in `job.toml`, below `[loads.cases]`: `"Neige 2" = "S"`
              = hint: the same in 8 rows

            1 thing to fix; nothing was written
        "#]],
    );
    wrong(
        |job| {
            map(job, &mapped("cases", &[("Vent +X", "W1")]));
            job.edit("reactions.csv", "A1,W1", "A1,Vent+X");
        },
        expect![[r#"
            error: `Vent+X` is not a load case
              ┌─ JOBS/cart-barn/reactions.csv:6:4 (cell B6)
              │
            6 │ A1,Vent+X,-3900,640,0,26,0
              │    ^^^^^^
              │
              = hint: the cases are D, L, Lr, S, R, E_x, E_y, and W with the name of the wind, such as W1 or W_up
              = hint: did you mean `Vent +X`?
              = hint: if it is W1, say so in `job.toml`, below `[loads.cases]`: `"Vent+X" = "W1"`

            error: post A1 has no row for `W1`
              ┌─ JOBS/cart-barn/reactions.csv:1:1 (cell A1)
              │
            1 │ mark,case,P [lbf],H_x [lbf],H_y [lbf],w_x [lbf/ft],w_y [lbf/ft]
              │ ^^^^
              │
              = hint: give every post in every case, with zeros where a case has no effect

            2 things to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_column_that_is_none() {
    let of = |typed: &'static str, name: &'static str| move |job: &Job| map(job, &mapped("columns", &[(typed, name)]));
    wrong(
        of("FZ", "N"),
        expect![[r#"
            error: `N` is not a column of `reactions.csv`
               ┌─ JOBS/cart-barn/job.toml:85:8
               │
            85 │ "FZ" = "N"
               │        ^^^
               │
               = hint: its columns are `mark`, `case`, `P`, `H_x`, `H_y`, `w_x` and `w_y`: the mark of the post, the load case and what it brings

            1 thing to fix; nothing was written
        "#]],
    );
    wrong(
        of("P", "H_x"),
        expect![[r#"
        error: `P` is the column `P` here, and cannot be `H_x`
           ┌─ JOBS/cart-barn/job.toml:85:1
           │
        85 │ "P" = "H_x"
           │ ^^^
           │
           = hint: give the column another heading, and map that

        1 thing to fix; nothing was written
    "#]],
    );
    wrong(
        of("-qx", "w_x"),
        expect![[r#"
            error: the minus of `-qx` would turn the sign of `w_x`, which has none
               ┌─ JOBS/cart-barn/job.toml:85:1
               │
            85 │ "-qx" = "w_x"
               │ ^^^^^
               │
               = hint: a minus goes with a heading that is P, H_x or H_y

            1 thing to fix; nothing was written
        "#]],
    );
    wrong(
        |job| map(job, &mapped("columns", &[("FZ", "P"), ("RZ", "P")])),
        expect![[r#"
        error: `FZ` and `RZ` are both P in `[loads.columns]`
           ┌─ JOBS/cart-barn/job.toml:86:1
           │
        86 │ "RZ" = "P"
           │ ^^^^
           │
           = hint: one column of the file holds it: leave the other line out

        1 thing to fix; nothing was written
    "#]],
    );
    wrong(
        |job| map(job, "\n[loads.columns]\n\"\" = \"P\"\n"),
        expect![[r#"
        error: a name in `[loads.columns]` is empty
           ┌─ JOBS/cart-barn/job.toml:85:1
           │
        85 │ "" = "P"
           │ ^^

        1 thing to fix; nothing was written
    "#]],
    );
    wrong(
        |job| {
            job.edit("job.toml", "[loads]\n", "[loads]\ncases = \"snow\"\n");
        },
        expect![[r#"
            error: `cases` of `[loads]` is a table
               ┌─ JOBS/cart-barn/job.toml:30:9
               │
            30 │ cases = "snow"
               │         ^^^^^^
               │
               = hint: write `[loads.cases]`, and below it a line for each name, such as `"Snow" = "S"`

            1 thing to fix; nothing was written
        "#]],
    );
    // What is mapped and is not there.
    let job = Job::copy("cart-barn");
    map(&job, &mapped("columns", &[("FZ", "P")]));
    assert!(check(&job).contains("no column of `reactions.csv` is called `FZ`, which is P here"), "{}", check(&job));
    job.edit("reactions.csv", "P [lbf]", "RZ [lbf]");
    let told = one_line(&job.diagnostic());
    assert!(told.contains("says that its heading is `FZ`, and there is no such heading"), "{told}");
}

/// The whole export without a line in `job.toml`: each line that it wants is proposed.
#[test]
fn an_export_without_names_says_which_lines_to_write() {
    let job = barn("reactions.csv", joined(&french("kip", kips), ";"));
    let toml = job.read("job.toml");
    let bare = toml.split("\n[loads.columns]").next().expect("the head").to_string();
    job.write("job.toml", &bare);
    let told = job.diagnostic();
    for line in [
        "\"Nœud\" = \"mark\"",
        "\"Cas de charge\" = \"case\"",
        "\"FZ\" = \"P\"",
        "\"FX\" = \"H_x\"",
        "\"FY\" = \"H_y\"",
    ] {
        assert!(told.contains(&format!("`{line}`")), "{line}: {told}");
    }
    // With these, the cases are what is wanted.
    job.write("job.toml", bare + &mapped("columns", &COLUMNS));
    let told = job.diagnostic();
    for line in ["\"Poids propre\" = \"D\"", "\"Exploitation\" = \"L\"", "\"Neige\" = \"S\"", "\"Vent +X\" = \"W1\""] {
        assert!(told.contains(&format!("`{line}`")), "{line}: {told}");
    }
    assert!(told.contains("the same in 8 rows"), "{told}");
}

/// Columns that nobody knows: where all are listed is said once.
#[test]
fn unknown_columns_say_where_all_are_listed() {
    let job = Job::copy("creek-porch");
    job.edit("bases.csv", "standoff [in]", "standof [in]").edit("bases.csv", "seat_width [in]", "seat_widht [in]");
    let told = one_line(&job.diagnostic());
    assert_eq!(told.matches("`socle sheets --columns bases` lists every column that there is").count(), 1, "{told}");
    let job = Job::copy("creek-porch");
    job.edit("posts.csv", ",source", ",lot,source");
    let text = job.read("posts.csv").replace(",demo", ",12,demo");
    job.write("posts.csv", text);
    assert!(check(&job).contains("`socle sheets --columns posts` lists every column that there is"), "{}", check(&job));
}

// `choose`.

#[test]
fn choose_writes_no_workbook() {
    let job = Job::copy("creek-porch");
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for (row, line) in (0..).zip(job.read("posts.csv").lines()) {
        for (column, cell) in (0..).zip(line.split(',')) {
            sheet.write_string(row, column, cell).expect("a cell");
        }
    }
    let bytes = book.save_to_buffer().expect("a workbook");
    std::fs::remove_file(job.path().join("posts.csv")).expect("the file");
    job.write("posts.xlsx", &bytes);
    let run = |args: &[&str]| socle(&[&["choose", &job.path().display().to_string()], args].concat());
    assert_ne!(run(&[]).status.code(), Some(2));
    let output = run(&["--write"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    let told = stderr(&output);
    assert!(told.contains("the posts of this job stand in sheet `Sheet1` of `posts.xlsx`"), "{told}");
    assert_eq!(std::fs::read(job.path().join("posts.xlsx")).expect("the file"), bytes);
}

/// A starter value that is chosen anew is answered; others keep their marks.
#[test]
fn choose_and_starter_values() {
    let job = Job::copy("cart-barn");
    let run = |args: &[&str]| socle(&[&["choose", &job.path().display().to_string()], args].concat());
    let plain = stdout(&run(&["--csv", "--post", "D2"]));
    let posts = job.read("posts.csv");
    let row = posts.lines().find(|line| line.starts_with("D2;")).expect("the post").to_string();
    let cells: Vec<&str> = row.split(';').collect();
    let marked: Vec<String> = cells
        .iter()
        .enumerate()
        .map(|(at, cell)| if at < 8 { format!("{cell} ?") } else { cell.to_string() })
        .collect();
    job.write("posts.csv", posts.replacen(&row, &marked.join(";"), 1));
    assert_eq!(stdout(&run(&["--csv", "--post", "D2"])), plain);
    let output = run(&["--write", "--post", "D2"]);
    assert_eq!(output.status.code(), Some(0), "{}{}", stdout(&output), stderr(&output));
    let after = job.read("posts.csv");
    let row = after.lines().find(|line| line.starts_with("D2 ?;")).expect("the post");
    let now: Vec<&str> = row.split(';').collect();
    for (at, cell) in now.iter().enumerate() {
        match (3..6).contains(&at) && *cell != marked[at] {
            true => assert!(!cell.ends_with('?'), "{row}"),
            false => assert_eq!(*cell, marked[at]),
        }
    }
    assert_ne!(now[3], marked[3]);
}

/// Marks that differ by a hyphen are two posts.
#[test]
fn a_mark_is_not_taken_for_another() {
    let change = socle::choose::Change { mark: "11".into(), column: "base", old: "a".into(), new: "b".into() };
    let made = socle::choose::changed("posts.csv", b"mark,base\n1-1,a\n11,a\n", &[change]).expect("changed");
    assert_eq!(String::from_utf8(made).expect("UTF-8"), "mark,base\n1-1,a\n11,b\n");
}
