//! Catalogues that stand in several files: `bases.csv`, `bases/made.csv`.

use std::collections::BTreeMap;

use expect_test::{Expect, expect};
use proptest::prelude::*;
use socle::package::Package;

use crate::jobs::package_in;
use crate::since::{other_marks, rows as marked_rows, since};
use crate::support::{JOBS, Job, cases, one_line, socle, stderr, stdout};

const CATALOGUES: [&str; 3] = ["bases", "foundations", "anchors"];

fn cells(text: &str) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(text.as_bytes());
    reader.records().map(|row| row.expect("a row").iter().map(String::from).collect()).collect()
}

/// Writes rows below the columns that they need and no others.
fn put(job: &Job, file: &str, table: &[Vec<String>], rows: &[usize]) {
    let needed = |at: &usize| {
        ["name", "source"].contains(&table[0][*at].as_str()) || rows.iter().any(|row| !table[*row][*at].is_empty())
    };
    let columns: Vec<usize> = (0..table[0].len()).filter(needed).collect();
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in std::iter::once(&0).chain(rows) {
        writer.write_record(columns.iter().map(|at| &table[*row][*at])).expect("memory");
    }
    job.write(file, writer.into_inner().expect("memory"));
}

/// Puts each row of a catalogue into a file of its own choice; without rows there is none.
fn split(job: &Job, catalogue: &str, files: &[&str], chosen: impl Fn(usize) -> usize) {
    let file = format!("{catalogue}.csv");
    let table = cells(&job.read(&file));
    std::fs::remove_file(job.path().join(&file)).expect("the file");
    for (at, file) in files.iter().enumerate() {
        let rows: Vec<usize> = (1..table.len()).filter(|row| chosen(*row) % files.len() == at).collect();
        if !rows.is_empty() {
            put(job, file, &table, &rows);
        }
    }
}

/// The bases of a job in the folder `bases`, a file for each of two kinds of name.
fn in_folder(name: &str) -> Job {
    let job = Job::copy(name);
    split(&job, "bases", &["bases/rated.csv", "bases/made.csv"], |row| row + 1);
    job
}

proptest! {
    #![proptest_config(cases(5))]

    /// However the rows are spread over files, the job is the same.
    #[test]
    fn splitting_changes_no_number(chosen in proptest::collection::vec(0..4_usize, 24)) {
        for name in JOBS {
            let job = Job::copy(name);
            let before = job.posts_however_typed();
            for (no, catalogue) in CATALOGUES.iter().enumerate() {
                let whole = format!("{catalogue}.csv");
                if !job.path().join(&whole).exists() {
                    continue;
                }
                let [first, second, third] =
                    ["a first.csv", "Second.CSV", "z.csv"].map(|part| format!("{catalogue}/{part}"));
                split(&job, catalogue, &[&whole, &first, &second, &third], |row| chosen[(row + 8 * no) % 24]);
            }
            prop_assert!(before == job.posts_however_typed(), "{name}: {chosen:?}");
        }
    }
}

/// All files count in the digest, by name and by what is in them.
#[test]
fn the_digest_holds_every_file() {
    let digest = |job: &Job| job.check_json()["digest"].as_str().expect("a digest").to_string();
    let job = in_folder("cart-barn");
    let mut seen = vec![digest(&Job::copy("cart-barn")), digest(&job)];
    job.write("bases/made.csv", job.read("bases/made.csv") + "\n");
    seen.push(digest(&job));
    std::fs::rename(job.path().join("bases/made.csv"), job.path().join("bases/steel.csv")).expect("another name");
    seen.push(digest(&job));
    let before = seen.len();
    seen.sort();
    seen.dedup();
    assert_eq!(seen.len(), before);
}

/// A row that moves to another file is no change, and no line of the package carries a mark.
#[test]
fn a_row_that_moves_is_no_change() {
    for name in ["cart-barn", "orchard-pergola"] {
        let (whole, job) = (Job::copy(name), in_folder(name));
        for (old, new) in [(&whole, &job), (&job, &whole)] {
            let (package, pages, found) = since(&old.path(), &new.path());
            assert!(!found.changed(), "{name}: {:#?}", found.inputs);
            let marked = marked_rows(&pages, true);
            assert!(marked.is_empty(), "{name}: {marked:#?}");
            assert_eq!(other_marks(&package, &pages), 0, "{name}");
        }
    }
    // A cell that differs says in which file it stands now.
    let job = in_folder("cart-barn");
    job.set("bases/made.csv", "side plate 8, one anchor", "uplift", "4,300");
    let (_, _, found) = since(&Job::copy("cart-barn").path(), &job.path());
    let [change] = found.inputs.as_slice() else { panic!("{:#?}", found.inputs) };
    assert_eq!((change.file.as_str(), change.row.as_str()), ("bases/made.csv", "side plate 8, one anchor"));
}

fn as_read(package: &Package) -> Vec<(&str, usize)> {
    package.inputs.iter().map(|file| (file.name.as_str(), file.records)).collect()
}

#[test]
fn the_appendix_prints_each_file_as_it_was_read() {
    let job = Job::copy("cart-barn");
    split(&job, "bases", &["bases.csv", "bases/made.csv"], |row| row);
    let (package, _) = package_in(&job.path());
    let bases: Vec<(&str, usize)> =
        as_read(&package).into_iter().filter(|(name, _)| name.starts_with("bases")).collect();
    assert_eq!(bases, [("bases.csv", 1), ("bases/made.csv", 2)]);
    let target = job.path().join("out.pdf");
    let output = socle(&["package".as_ref(), job.path().as_os_str(), "-o".as_ref(), target.as_os_str()]);
    assert!(target.exists(), "{}", stderr(&output));
    // A sheet for each in the workbook of results.
    let book = job.path().join("out.xlsx");
    let output = socle(&["check".as_ref(), job.path().as_os_str(), "--xlsx".as_ref(), book.as_os_str()]);
    assert!(book.exists(), "{}", stderr(&output));
    let sheets: calamine::Xlsx<_> = calamine::open_workbook(&book).expect("a workbook");
    let names = calamine::Reader::sheet_names(&sheets);
    assert!(names.contains(&"bases.csv".into()) && names.contains(&"bases-made.csv".into()), "{names:?}");
}

/// Every file below a folder, with its bytes.
fn all_files(job: &Job) -> BTreeMap<String, Vec<u8>> {
    socle::folder::Folder::from(job.path().as_path()).read_all("").ok().expect("the files").into_iter().collect()
}

#[test]
fn choose_tries_the_rows_of_all_files_and_writes_posts_alone() {
    let run = |job: &Job, args: &[&str]| {
        let path = job.path().display().to_string();
        socle(&[&["choose", &path], args].concat())
    };
    let (whole, job) = (Job::copy("cart-barn"), in_folder("cart-barn"));
    let rows = |job: &Job| {
        let mut rows: Vec<String> = stdout(&run(job, &["--csv"])).lines().map(String::from).collect();
        rows.sort();
        rows
    };
    assert!(rows(&whole).len() > 20 && rows(&whole) == rows(&job));
    let before = all_files(&job);
    let output = run(&job, &["--write", "--post", "D2"]);
    assert_eq!(output.status.code(), Some(0), "{}{}", stdout(&output), stderr(&output));
    let after = all_files(&job);
    let changed: Vec<&String> = before.keys().filter(|name| before[*name] != after[*name]).collect();
    assert_eq!(changed, ["posts.csv"]);
    assert!(before.len() == after.len());
    // A column is summed over all files, and asked for in each.
    let (rated, made) = ("bases/rated.csv", "bases/made.csv");
    let priced = |text: String| {
        let line = |(at, line): (usize, &str)| format!("{line},{}\n", if at == 0 { "my cost" } else { "10" });
        text.lines().enumerate().map(line).collect::<String>()
    };
    for file in [rated, "foundations.csv", "anchors.csv"] {
        job.write(file, priced(job.read(file)));
    }
    let said = stderr(&run(&job, &["--by", "my cost"]));
    assert!(said.contains("`bases/made.csv` has no column `my cost`") && !said.contains("rated"), "{said}");
    job.write(made, priced(job.read(made)));
    let output = run(&job, &["--by", "my cost"]);
    assert_ne!(output.status.code(), Some(2), "{}", stderr(&output));
}

fn wrong(change: impl for<'a> Fn(&'a Job) -> &'a Job, expected: Expect) {
    let job = in_folder("cart-barn");
    change(&job);
    expected.assert_eq(&job.diagnostic());
    let target = job.path().join("out.pdf");
    socle(&["package".as_ref(), job.path().as_os_str(), "-o".as_ref(), target.as_os_str()]);
    assert!(!target.exists(), "nothing is written from wrong input");
}

/// A short catalogue, so that messages show short lines.
const SHORT: &str = "name,kind,source\n";

#[test]
fn a_name_that_stands_in_two_files() {
    wrong(
        |job| job.write("bases.csv", format!("{SHORT}Strap 8,made,demo\n")),
        expect![[r#"
            error: the bases `Strap 8` and `strap 8` have the same name
              ┌─ JOBS/cart-barn/bases/rated.csv:3:1 (cell A3)
              │
            3 │ strap 8,made,side plates,2 1/2,hot-dip galvanized,7 1/2,7 1/2,,,,,,,,,,,,,,,,,,A36,x,3/8,4,1 1/2,9/16,2,1,4,2 1/2,0,lag,1/2,4,1/4,5/8,pipe,3 1/2,0.216,A53 Gr B,8,8,5/8,2,2,5 1/2,5 1/2,demo
              │ ^^^^^^^
              │
              = hint: names that differ only in capitals, spaces, hyphens or underscores are the same
              = hint: the first is at JOBS/cart-barn/bases.csv:2:1 (cell A2)

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_cell_that_cannot_be_read() {
    wrong(
        |job| job.write("bases/more.csv", format!("{SHORT},made,demo\n")),
        expect![[r#"
            error: the base in this row has no name
              ┌─ JOBS/cart-barn/bases/more.csv:2:1 (cell A2)
              │
            2 │ ,made,demo
              │ ^

            1 thing to fix; nothing was written
        "#]],
    );
    let told = {
        let job = in_folder("cart-barn");
        job.set("bases/rated.csv", "strap 8", "standoff", "high");
        job.diagnostic()
    };
    assert!(told.contains("JOBS/cart-barn/bases/rated.csv:") && told.contains("found `high`"), "{told}");
}

#[test]
fn a_row_that_no_file_has() {
    wrong(
        |job| job.edit("posts.csv", "side plate 8", "strp 8"),
        expect![[r#"
            error: post A1: there is no base `strp 8` in `bases/`
              ┌─ JOBS/cart-barn/posts.csv:2:8 (cell D2)
              │
            2 │ A1;0;0;strp 8;block 38;screw 5/8;7 1/2 in;7 1/2 in;10 ft;Douglas Fir-Larch;No.1;one;12;demo
              │        ^^^^^^
              │
              = hint: did you mean `strap 8`?

            1 thing to fix; nothing was written
        "#]],
    );
    // Both the file and the folder are named; one file in a folder by its own name.
    let job = in_folder("cart-barn");
    job.edit("posts.csv", "side plate 8", "no such");
    std::fs::rename(job.path().join("bases/made.csv"), job.path().join("bases.csv")).expect("another name");
    let told = job.diagnostic();
    assert!(told.contains("there is no base `no such` in `bases.csv` or `bases/rated.csv`"), "{told}");
}

#[test]
fn a_column_that_one_file_lacks() {
    wrong(
        |job| job.edit("bases/made.csv", "standoff [in]", "my standoff"),
        expect![[r#"
            error: `bases/made.csv` has no `standoff` (end grain above what the base stands on)
              ┌─ JOBS/cart-barn/bases/made.csv:1:1 (row 1)
              │
            1 │ name,kind,my standoff,finish,seat_width [in],seat_depth [in],download [lbf],uplift [lbf],lateral_x [lbf],lateral_y [lbf],C_D_down,C_D_up,G_report,wet_factor,seat_min [in],seat_max [in],fasteners_report,fastener_height [in],anchors_report,anchor_d_report [in],report,report_date,report_expires,anchors_x,anchors_y,anchor_s_x [in],anchor_s_y [in],source
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
              │
              = hint: add a column `standoff [in]`; expected a length
              = hint: the base `side plate 8, one anchor` needs it

            1 thing to fix; nothing was written
        "#]],
    );
    wrong(
        |job| job.edit("bases/made.csv", ",source", ",my source"),
        expect![[r#"
            error: there is no column `source`, which says where a base's values come from (`demo` for invented ones)
              ┌─ JOBS/cart-barn/bases/made.csv:1:1 (row 1)
              │
            1 │ name,kind,standoff [in],finish,seat_width [in],seat_depth [in],download [lbf],uplift [lbf],lateral_x [lbf],lateral_y [lbf],C_D_down,C_D_up,G_report,wet_factor,seat_min [in],seat_max [in],fasteners_report,fastener_height [in],anchors_report,anchor_d_report [in],report,report_date,report_expires,anchors_x,anchors_y,anchor_s_x [in],anchor_s_y [in],my source
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn two_kinds_of_place_for_one_table() {
    let job = in_folder("cart-barn");
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    for (column, heading) in ["name", "kind", "source"].iter().enumerate() {
        sheet.write_string(0, column as u16, *heading).expect("a cell");
        sheet.write_string(1, column as u16, "x").expect("a cell");
    }
    let bytes = book.save_to_buffer().expect("a workbook");
    job.write("bases.xlsx", &bytes);
    let told = job.diagnostic();
    assert!(told.contains("the bases are in 2 places: `bases/` and sheet `Sheet1` of `bases.xlsx`"), "{told}");
    // A workbook in the folder is not read, and may hold rows that are missed.
    std::fs::rename(job.path().join("bases.xlsx"), job.path().join("bases/more.xlsx")).expect("another place");
    let told = job.diagnostic();
    assert!(told.contains("`JOBS/cart-barn/bases/more.xlsx` is not read"), "{told}");
    assert!(told.contains("save its sheet as a CSV file in this folder"), "{told}");
}

#[test]
fn a_folder_under_nearly_the_right_name() {
    let job = in_folder("cart-barn");
    for (name, near) in [("base", "bases"), ("Anchors", "anchors"), ("foundation", "foundations")] {
        job.write(&format!("{name}/more.csv"), SHORT);
        let told = job.diagnostic();
        assert!(told.contains(&format!("the folder `JOBS/cart-barn/{name}` is not read")), "{told}");
        assert!(told.contains(&format!("did you mean `{near}`?")), "{told}");
        std::fs::remove_dir_all(job.path().join(name)).expect("the folder");
    }
    // One without tables is somebody's own.
    job.write("base/photo.jpg", "");
    assert_ne!(socle(&["check".as_ref(), job.path().as_os_str()]).status.code(), Some(2));
}

#[test]
fn a_folder_without_a_file() {
    let notes = |job: &Job| stderr(&socle(&["check".as_ref(), job.path().as_os_str()]));
    let job = Job::copy("creek-porch");
    let before = job.posts_however_typed();
    std::fs::create_dir(job.path().join("anchors")).expect("a folder");
    assert!(before == job.posts_however_typed());
    assert!(one_line(&notes(&job)).contains("creek-porch/anchors` holds no CSV file"), "{}", notes(&job));
    // What every job has is missed.
    std::fs::create_dir(job.path().join("bases")).expect("a folder");
    std::fs::remove_file(job.path().join("bases.csv")).expect("the file");
    let told = job.diagnostic();
    assert!(told.contains("there is no `bases.csv` in"), "{told}");
}

#[test]
fn what_else_stands_in_the_folder_is_named() {
    let job = in_folder("cart-barn");
    let before = job.posts_however_typed();
    job.write("bases/old/2024.csv", SHORT).write("bases/notes.txt", "").write("bases/.made.csv.swp", "");
    job.write("bases/~made.csv", "").write("bases/report.pdf", "");
    assert!(before == job.posts_however_typed());
    let notes = stderr(&socle(&["check".as_ref(), job.path().as_os_str()]));
    assert!(notes.contains("cart-barn/bases`: `notes.txt`, `old/`, `report.pdf`\n"), "{notes}");
    assert!(notes.contains("the CSV files that stand in `bases` itself are read, whatever their names"), "{notes}");
}

/// What is open says in which file it stands.
#[test]
fn a_starter_value_in_one_of_the_files() {
    let job = in_folder("cart-barn");
    job.set("bases/rated.csv", "strap 8", "weld", "1/4 ?");
    let open = stdout(&socle(&["check".as_ref(), job.path().as_os_str(), "--open".as_ref()]));
    assert!(open.contains("# bases/rated.csv, strap 8:\n#   weld = \"1/4 in\""), "{open}");
    let listed = stdout(&socle(&["sheets", "--columns", "bases/rated.csv"]));
    assert_eq!(listed, stdout(&socle(&["sheets", "--columns", "bases"])));
    // A column that nobody reads is named with its file.
    let mut table = cells(&job.read("bases/made.csv"));
    table[0].push("colour".into());
    table[1].push("red".into());
    put(&job, "bases/made.csv", &table, &[1]);
    let notes = stderr(&socle(&["check".as_ref(), job.path().as_os_str()]));
    assert!(notes.contains("the column `colour` of `bases/made.csv` is not read"), "{notes}");
}
