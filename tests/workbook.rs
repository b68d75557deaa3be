//! The workbook of `check --xlsx`, read back by a crate that did not write it.

use std::io::Cursor;

use calamine::{Data, Range, Reader, Xlsx};

use crate::support::{JOBS, Job, socle, stderr, stdout};

fn write(job: &Job) -> Vec<u8> {
    let path = job.path().join("out.xlsx");
    let output = socle(&["check".as_ref(), job.path().as_os_str(), "--xlsx".as_ref(), path.as_os_str()]);
    assert!(matches!(output.status.code(), Some(0 | 1)), "{}", stderr(&output));
    let bytes = std::fs::read(&path).expect("a workbook");
    std::fs::remove_file(path).expect("a file");
    bytes
}

fn read(bytes: &[u8]) -> Xlsx<Cursor<&[u8]>> {
    Xlsx::new(Cursor::new(bytes)).expect("a workbook")
}

fn sheet(bytes: &[u8], name: &str) -> Range<Data> {
    read(bytes).worksheet_range(name).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// As CSV has it.
fn text(cell: &Data) -> String {
    match cell {
        Data::Empty => String::new(),
        Data::Float(number) => number.to_string(),
        Data::String(text) => text.clone(),
        other => panic!("{other:?}"),
    }
}

fn csv(text: &str) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
    reader.records().map(|row| row.expect("a row").iter().map(String::from).collect()).collect()
}

/// The sheet of limits holds what `--csv` prints, numbers as numbers.
#[test]
fn limits_are_as_in_csv() {
    for name in JOBS {
        let job = Job::copy(name);
        let limits = sheet(&write(&job), "Limits");
        let rows = csv(&stdout(&socle(&["check".as_ref(), job.path().as_os_str(), "--csv".as_ref()])));
        assert_eq!(limits.height(), rows.len());
        for (cells, row) in limits.rows().zip(&rows) {
            let words: Vec<String> = cells.iter().map(|cell| text(cell).replace("NOT MET", "not met")).collect();
            assert_eq!(&words, row);
            for at in [5, 6, 8] {
                assert!(row[5] == "demand" || !matches!(cells[at], Data::String(_)), "{cells:?}");
            }
        }
    }
}

/// Each schedule and each input has a sheet, and what is in it is what is in the files.
#[test]
fn schedules_and_inputs_are_sheets() {
    let job = Job::copy("cart-barn");
    let bytes = write(&job);
    let folder = tempfile::tempdir().expect("a folder");
    socle(&["check".as_ref(), job.path().as_os_str(), "--schedules".as_ref(), folder.path().as_os_str()]);
    let names = read(&bytes).sheet_names();
    let mut schedules = 0;
    for entry in std::fs::read_dir(folder.path()).expect("a folder") {
        let path = entry.expect("a file").path();
        let stem = path.file_stem().expect("a name").to_string_lossy().replace('-', " ");
        let name = names.iter().find(|name| name.to_lowercase() == stem).expect("a sheet");
        let rows = csv(&std::fs::read_to_string(&path).expect("a schedule"));
        let sheet = sheet(&bytes, name);
        for (cells, row) in sheet.rows().zip(&rows) {
            assert_eq!(&cells.iter().map(text).collect::<Vec<_>>(), row, "{name}");
        }
        assert_eq!(sheet.height(), rows.len(), "{name}");
        schedules += 1;
    }
    assert!(schedules > 3, "{names:?}");
    for name in ["Summary", "Limits", "Open", "job.toml", "posts.csv", "reactions.csv", "bases.csv"] {
        assert!(names.iter().any(|known| known == name), "{name}: {names:?}");
    }
    let posts = sheet(&bytes, "posts.csv");
    assert_eq!(posts[(1, 0)], Data::String("A1".into()));
    assert_eq!(posts[(2, 1)], Data::Float(14.0));
    assert_eq!(posts[(1, 6)], Data::String("7 1/2 in".into()));
}

/// A row a post, with its verdict as JSON has it.
#[test]
fn the_summary_has_a_row_for_each_post() {
    let job = Job::copy("cart-barn");
    let summary = sheet(&write(&job), "Summary");
    let json = job.check_json();
    let posts = json["posts"].as_array().expect("posts");
    assert_eq!(summary.height(), posts.len() + 1);
    for (cells, post) in summary.rows().skip(1).zip(posts) {
        assert_eq!(text(&cells[0]), post["mark"].as_str().expect("a mark"));
        assert_eq!(text(&cells[1]) == "met", post["ok"] == true);
        assert!(matches!(cells[2], Data::Float(ratio) if ratio > 0.3), "{cells:?}");
    }
}

/// What begins like a formula stays the text that it is.
#[test]
fn a_text_is_never_a_formula() {
    let job = Job::copy("creek-porch");
    let texts = ["=1+1", "+cmd", "-2+3", "@SUM(A1)"];
    let posts = job.read("posts.csv");
    let mut next = texts.iter();
    let with: String = posts
        .lines()
        .map(|line| match line.split(',').next() {
            Some("mark") => format!("{line},my note\n"),
            _ => format!("{line},{}\n", next.next().expect("a text")),
        })
        .collect();
    job.write("posts.csv", with);
    let bytes = write(&job);
    let posts = sheet(&bytes, "posts.csv");
    let last = posts.width() - 1;
    for (at, wanted) in texts.iter().enumerate() {
        assert_eq!(posts[(at + 1, last)], Data::String((*wanted).into()));
    }
    let mut book = read(&bytes);
    for name in book.sheet_names() {
        assert!(book.worksheet_formula(&name).expect("formulas").is_empty(), "{name}");
    }
}

/// The same job gives the same bytes, whatever time it is.
#[test]
fn the_same_bytes_on_every_run() {
    let job = Job::copy("creek-porch");
    let first = write(&job);
    // A clock in the file would have gone on by two seconds, as archives count them.
    std::thread::sleep(std::time::Duration::from_millis(2100));
    assert!(first == write(&job));
}

/// A workbook that cannot be written is not begun.
#[test]
fn a_workbook_is_whole_or_absent() {
    let job = Job::copy("creek-porch");
    let taken = job.path().join("taken.xlsx");
    std::fs::create_dir(&taken).expect("a folder");
    let output = socle(&["check".as_ref(), job.path().as_os_str(), "--xlsx".as_ref(), taken.as_os_str()]);
    assert_eq!(output.status.code(), Some(2), "{}", stderr(&output));
    let left: Vec<_> =
        std::fs::read_dir(job.path()).expect("a folder").map(|it| it.expect("a file").file_name()).collect();
    assert_eq!(left.len(), 5, "{left:?}");
}
