//! `socle validate`: that it says what the files of the tests say, that it sees what is off, and the verification report.

use std::collections::BTreeMap;

use serde_json::Value as Json;
use socle::templates::Templates;
use socle::validate::{Against, File, Kind, Validation, Wanted};

use crate::check_values::{expected, names, read};
use crate::jobs::library;
use crate::support::{one_line, root, socle, stderr, stdout};

fn json(args: &[&str]) -> Json {
    let output = socle(&[&["validate", "--json"], args].concat());
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

fn validation(files: Vec<File>) -> Validation {
    let library = library();
    let against = Against { library: &library, table: &Templates::table };
    Validation::new(&against, files, None).unwrap_or_else(|wrong| panic!("{wrong:#?}"))
}

/// What is built in is what the tests read, file by file and byte by byte.
#[test]
fn the_files_of_the_tests_are_built_in() {
    let built_in: BTreeMap<&str, &[u8]> = File::texts().collect();
    assert_eq!(built_in.keys().copied().collect::<Vec<_>>(), names());
    for (name, bytes) in built_in {
        let file = std::fs::read(root().join(format!("tests/check-values/{name}.csv"))).expect("a file");
        assert!(file == bytes, "{name}: the program was built with another file");
    }
}

/// Each cell that a file expects is a value of the command, with its number, source and kind.
#[test]
fn every_value_of_the_files_is_worked() {
    let json = json(&[]);
    assert_eq!(json["ok"], true);
    let mut found: BTreeMap<&str, Vec<&Json>> = BTreeMap::new();
    for value in json["values"].as_array().expect("values") {
        assert_eq!(value["ok"], true, "{value}");
        found.entry(value["file"].as_str().expect("a file")).or_default().push(value);
    }
    assert_eq!(found.len(), names().len());
    for name in names() {
        let grid = read(&name).grid;
        let of = |row: usize, column: &str| grid.column(column).map_or("", |at| grid.rows[row][at].text.as_str());
        let mut wanted: Vec<[String; 4]> = Vec::new();
        for row in 0..grid.rows.len() {
            for (column, cell) in expected(&grid, row) {
                let what = match cell {
                    Wanted::Refusal(words) => format!("refused: {words}"),
                    Wanted::Name(name, _) => name.into(),
                    _ => column.name.trim_start_matches("expect ").into(),
                };
                wanted.push([of(row, "id"), &what, of(row, "source"), of(row, "kind")].map(String::from));
            }
        }
        let of = |value: &&Json| ["case", "what", "source", "kind"].map(|key| value[key].as_str().expect(key).into());
        let mut values: Vec<[String; 4]> = found[name.as_str()].iter().map(of).collect();
        wanted.sort();
        values.sort();
        assert_eq!(wanted, values, "{name}");
    }
}

/// A published value that is planted wrong is off, and the exit status says so; so is one that nothing comes to.
#[test]
fn a_wrong_expectation_is_off() {
    let file = |text: &str| File::read("anchor-pryout--planted", text.as_bytes()).expect("rows");
    let rows = |values: &str| {
        let head = "id,h_ef [in],N_cp [lbf],V_ua [lbf],expect V_cp [lbf],expect verdict: pryout";
        file(&format!(
            "{head},tolerance,tolerance_kind,source,kind\na,3,1000,700,{values},0.001,rel,a book,published\n"
        ))
    };
    let right = validation(vec![rows("2001,met")]);
    assert!(right.holds());
    assert_eq!(right.headline(), "All 2 check values agree within their tolerances.");
    let deviations: Vec<String> = right.values().map(|value| value.deviation_shown()).collect();
    assert_eq!(deviations, ["−0.05 %", ""]);
    let off = validation(vec![rows("2003,met")]);
    assert!(!off.holds());
    assert_eq!(off.headline(), "1 of 2 check values do NOT agree within their tolerances.");
    assert_eq!(off.values().filter(|value| !value.holds()).count(), 1);
    let text = socle::report::validation(&off, socle::report::Paper::new(false, false));
    let text = one_line(&text);
    for words in ["OFF", "published, within 0.1 %: a book", "2,003 2,000 −0.15 %"] {
        assert!(text.contains(words), "`{words}`:\n{text}");
    }
    assert!(!validation(vec![rows("2000,not met")]).holds());
}

/// The shares are of every limit of every built-in sheet, each counted once.
#[test]
fn shares_add_up() {
    let json = json(&[]);
    let mut limits: BTreeMap<(String, String), String> = BTreeMap::new();
    for limit in json["limits"].as_array().expect("limits") {
        let of = |key: &str| limit[key].as_str().expect(key).to_string();
        let again = limits.insert((of("sheet"), of("limit")), of("best"));
        assert!(again.is_none(), "{limit}");
        let any = |kind: &str| ["ratios_and_verdicts", "symbols"].iter().any(|way| limit[way][kind] != 0);
        let best = Kind::ALL.map(Kind::name).into_iter().find(|kind| any(kind)).unwrap_or("none");
        assert_eq!(limit["best"], best, "{limit}");
    }
    let mut expected = std::collections::BTreeSet::new();
    for sheet in library().sheets() {
        sheet.walk(&mut |stmt| {
            if let socle::sheet::Stmt::Must(rule) = stmt
                && !rule.fit
            {
                expected.insert((sheet.name.clone(), rule.say.clone()));
            }
        });
    }
    assert_eq!(limits.keys().cloned().collect::<std::collections::BTreeSet<_>>(), expected);
    let all = validation(File::built_in().expect("the files"));
    let shares: Vec<usize> = all.shares().iter().map(|(_, count, _)| *count).collect();
    assert_eq!(shares.iter().sum::<usize>(), limits.len());
    for (name, count, _) in all.shares() {
        assert_eq!(limits.values().filter(|best| *best == name).count(), count, "{name}");
    }
    // A limit has a value by its ratio, by what its words say, and by what a symbol that it names comes to.
    let best = |sheet: &str, words: &str| limits[&(sheet.to_string(), words.to_string())].as_str();
    assert_eq!(best("seat", "seat plate thick enough to spread the end bearing"), "published");
    assert_eq!(best("post-loads", "drift or sliding snow from the higher roof"), "independent");
}

/// One sheet alone has its own values and limits.
#[test]
fn one_sheet_is_validated_alone() {
    let alone = json(&["seat"]);
    let all = json(&[]);
    for list in ["values", "limits"] {
        let of_seat = all[list].as_array().expect(list).iter().filter(|one| one["sheet"] == "seat");
        let of_seat: Vec<&Json> = of_seat.collect();
        assert!(!of_seat.is_empty());
        let found: Vec<&Json> = alone[list].as_array().expect(list).iter().collect();
        if list == "values" {
            assert_eq!(found, of_seat);
        }
        assert_eq!(found.len(), of_seat.len());
    }
    let output = socle(&["validate", "saet"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(stderr(&output).contains("did you mean `seat`?"), "{}", stderr(&output));
}

/// The rows of `--csv` are the values of `--json`, and `--all` prints each with its source.
#[test]
fn all_outputs_say_the_same() {
    let json = json(&["column"]);
    let values = json["values"].as_array().expect("values");
    let text = stdout(&socle(&["validate", "column", "--csv"]));
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let head: Vec<String> = reader.headers().expect("headings").iter().map(String::from).collect();
    let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("a row")).collect();
    assert_eq!(rows.len(), values.len());
    for (row, value) in rows.iter().zip(values) {
        for (name, cell) in head.iter().zip(row) {
            let said = match &value[name.as_str()] {
                Json::Number(number) => {
                    let (a, b) = (cell.parse::<f64>().expect("a number"), number.as_f64().expect("a number"));
                    assert!((a - b).abs() <= 1e-12 * b.abs(), "{name} of {value}: {cell}");
                    continue;
                }
                Json::String(text) => text.clone(),
                Json::Null => String::new(),
                Json::Bool(ok) => if *ok { "yes" } else { "no" }.into(),
                other => panic!("{other}"),
            };
            assert_eq!(cell, said, "{name} of {value}");
        }
    }
    let all = one_line(&stdout(&socle(&["validate", "column", "--all"])));
    for value in values {
        let source = value["source"].as_str().expect("a source");
        let of = source.rsplit(" of ").next().expect("its end");
        assert!(all.contains(&one_line(of)), "{source}");
        assert!(all.contains(value["case"].as_str().expect("a case")), "{value}");
    }
}

/// What a firm's quality procedure asks for stands in the report, and the same state makes the same file.
#[test]
fn the_verification_report_is_complete_and_the_same_twice() {
    let folder = tempfile::tempdir().expect("a folder");
    let paths = ["a.pdf", "b.pdf"].map(|name| folder.path().join(name));
    for path in &paths {
        let args = ["validate".as_ref(), "-o".as_ref(), path.as_os_str(), "--date".as_ref(), "2026-11-02".as_ref()];
        let output = socle(&args);
        assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
        assert!(stdout(&output).contains("agree within their tolerances."), "{}", stdout(&output));
    }
    let [a, b] = paths.clone().map(|path| std::fs::read(path).expect("a report"));
    assert!(a == b, "two runs, two files");
    let pdf = lopdf::Document::load(&paths[0]).expect("a PDF");
    let pages: Vec<u32> = pdf.get_pages().keys().copied().collect();
    let text = |page: &u32| one_line(&pdf.extract_text(&[*page]).unwrap_or_default());
    let texts: Vec<String> = pages.iter().map(text).collect();
    let first = &texts[0];
    let program = concat!("socle ", env!("CARGO_PKG_VERSION"));
    for words in
        ["Verification report", program, "2026-11-02", "SHA-256", "Prepared", "Checked", "Approved", "Contents"]
    {
        assert!(first.contains(words), "`{words}`:\n{first}");
    }
    let whole = texts.join(" ");
    let chapters =
        ["Purpose and scope", "Method", "Known limits of the method", "Summary by sheet", "Sources", "Values"];
    for words in chapters {
        assert!(whole.contains(words), "{words}");
    }
    for (at, text) in texts.iter().enumerate() {
        let foot = format!("page {} of {}", at + 1, pages.len());
        assert!(text.contains(&foot), "`{foot}`:\n{text}");
    }
    // What is said of a limit in the program's own output is said on paper.
    let json = json(&[]);
    let bare = json["limits"].as_array().expect("limits").iter().filter(|limit| limit["best"] == "none");
    for limit in bare {
        assert!(whole.contains(limit["limit"].as_str().expect("words")), "{limit}");
    }
    let output = socle(&["validate", "-o", "x.pdf", "--date", "yesterday"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(stderr(&output).contains("found `--date yesterday`; expected a date"), "{}", stderr(&output));
}
