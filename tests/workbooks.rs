//! Tables of a job that stand in a workbook: `.xlsx` and `.ods`.

use std::io::{Cursor, Read, Write};

use rust_xlsxwriter::{Format, Formula, Workbook, Worksheet};

use crate::support::{Job, socle, stderr, stdout};

/// The tables of a job as rows of cells.
fn rows(job: &Job, file: &str) -> Vec<Vec<String>> {
    let text = job.read(file);
    let text = text.trim_start_matches('\u{feff}');
    let semicolons = text.lines().next().is_some_and(|line| line.contains(';'));
    let separator = if semicolons { b';' } else { b',' };
    let mut reader = csv::ReaderBuilder::new();
    let reader = reader.has_headers(false).flexible(true).delimiter(separator).comment(Some(b'#'));
    let mut reader = reader.from_reader(text.as_bytes());
    // A comma between digits goes before decimals there.
    let number = |text: &str| text.replace(',', ".").parse::<f64>().is_ok();
    let cell = |text: &str| if semicolons && number(text) { text.replace(',', ".") } else { text.to_string() };
    reader.records().map(|row| row.expect("a row").iter().map(cell).collect()).collect()
}

/// Writes a table on a sheet as people type it: numbers as numbers.
fn fill(sheet: &mut Worksheet, rows: &[Vec<String>], top: u32) {
    for (row, cells) in (top..).zip(rows) {
        for (column, text) in (0..).zip(cells) {
            match text.parse::<f64>() {
                Ok(number) => sheet.write_number(row, column, number),
                Err(_) => sheet.write_string(row, column, text),
            }
            .expect("a cell");
        }
    }
}

fn save(job: &Job, name: &str, mut book: Workbook) {
    job.write(name, book.save_to_buffer().expect("a workbook"));
}

/// The tables of an example job in one workbook, its CSV files taken away.
pub fn moved(name: &str, change: impl Fn(&str, &mut Worksheet)) -> Job {
    let job = Job::copy(name);
    let mut book = Workbook::new();
    for table in ["posts", "reactions", "bases", "foundations", "anchors"] {
        let file = format!("{table}.csv");
        if !job.path().join(&file).exists() {
            continue;
        }
        let sheet = book.add_worksheet();
        sheet.set_name(table).expect("a name");
        fill(sheet, &rows(&job, &file), 0);
        change(table, sheet);
        std::fs::remove_file(job.path().join(&file)).expect("the file");
    }
    save(&job, "job.xlsx", book);
    job
}

/// What is said of a job that is read: notes on standard error.
fn notes(job: &Job) -> String {
    let output = socle(&["check".as_ref(), job.path().as_os_str()]);
    assert_ne!(output.status.code(), Some(2), "{}", stderr(&output));
    stderr(&output)
}

/// Where a note of the cell stands, and what a message says, in one line.
fn says(job: &Job, parts: &[&str]) {
    let message = job.diagnostic();
    for part in parts {
        assert!(message.contains(part), "no `{part}` in:\n{message}");
    }
}

#[test]
fn a_workbook_reads_like_the_files_it_is_made_of() {
    for name in ["orchard-pergola", "cart-barn", "creek-porch"] {
        let (files, book) = (Job::copy(name), moved(name, |_, _| {}));
        assert!(files.posts_however_typed() == book.posts_however_typed(), "{name}");
    }
}

#[test]
fn a_table_may_have_a_workbook_of_its_own() {
    let job = Job::copy("orchard-pergola");
    let mut book = Workbook::new();
    fill(book.add_worksheet(), &rows(&job, "posts.csv"), 0);
    let before = job.posts_however_typed();
    std::fs::remove_file(job.path().join("posts.csv")).expect("the file");
    save(&job, "posts.xlsx", book);
    assert!(before == job.posts_however_typed());
}

/// What calamine does not read by itself: an `.ods` made by hand.
pub fn ods(sheets: &[(&str, String)]) -> Vec<u8> {
    let tables: String =
        sheets.iter().map(|(name, rows)| format!("<table:table table:name=\"{name}\">{rows}</table:table>")).collect();
    let content = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?><office:document-content xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"><office:body><office:spreadsheet>{tables}</office:spreadsheet></office:body></office:document-content>"
    );
    let manifest = "<?xml version=\"1.0\"?><manifest:manifest xmlns:manifest=\"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0\"><manifest:file-entry manifest:full-path=\"/\" manifest:media-type=\"application/vnd.oasis.opendocument.spreadsheet\"/></manifest:manifest>";
    zipped(&[
        ("mimetype", "application/vnd.oasis.opendocument.spreadsheet"),
        ("META-INF/manifest.xml", manifest),
        ("content.xml", &content),
    ])
}

fn zipped(parts: &[(&str, &str)]) -> Vec<u8> {
    let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in parts {
        writer.start_file(*name, zip::write::SimpleFileOptions::default()).expect("a part");
        writer.write_all(text.as_bytes()).expect("memory");
    }
    writer.finish().expect("an archive").into_inner()
}

pub fn ods_rows(rows: &[Vec<String>]) -> String {
    let cell = |text: &String| match text.parse::<f64>() {
        Ok(_) => format!("<table:table-cell office:value-type=\"float\" office:value=\"{text}\"/>"),
        Err(_) if text.is_empty() => "<table:table-cell/>".into(),
        Err(_) => {
            let text = text.replace('&', "&amp;").replace('<', "&lt;");
            format!("<table:table-cell office:value-type=\"string\"><text:p>{text}</text:p></table:table-cell>")
        }
    };
    let row = |cells: &Vec<String>| {
        let cells: String = cells.iter().map(cell).collect();
        format!("<table:table-row>{cells}<table:table-cell table:number-columns-repeated=\"16000\"/></table:table-row>")
    };
    let rows: String = rows.iter().map(row).collect();
    // As they are saved: all the rest of the sheet is one empty row, repeated.
    format!(
        "{rows}<table:table-row table:number-rows-repeated=\"1048000\"><table:table-cell table:number-columns-repeated=\"16384\"/></table:table-row>"
    )
}

#[test]
fn an_ods_reads_like_the_files_it_is_made_of() {
    let job = Job::copy("orchard-pergola");
    let before = job.posts_however_typed();
    let tables = ["posts", "bases", "foundations", "anchors"];
    let sheets = tables.map(|table| (table, ods_rows(&rows(&job, &format!("{table}.csv")))));
    tables.iter().for_each(|table| std::fs::remove_file(job.path().join(format!("{table}.csv"))).expect("the file"));
    job.write("job.ods", ods(&sheets));
    assert!(before == job.posts_however_typed());
}

#[test]
fn cells_of_an_ods_that_are_repeated_hidden_merged_or_wrong() {
    let job = Job::copy("orchard-pergola");
    let mut anchors = rows(&job, "anchors.csv");
    std::fs::remove_file(job.path().join("anchors.csv")).expect("the file");
    let text = ods_rows(&std::mem::take(&mut anchors));
    let hidden = text.replacen("<table:table-row>", "<table:table-row table:visibility=\"filter\">", 2);
    job.write("anchors.ods", ods(&[("Sheet1", hidden)]));
    assert!(notes(&job).contains("sheet `Sheet1` of `anchors.ods`: 2 rows are hidden, and read like the others: 1, 2"));
    let broken = text.replacen(
        "</table:table-row><table:table-row>",
        "</table:table-row><table:table-row table:number-rows-repeated=\"3\"><table:table-cell/></table:table-row><table:table-row>",
        1,
    );
    let broken = broken.replacen(
        "<table:table-cell office:value-type=\"float\"",
        "<table:table-cell table:formula=\"of:=1/0\" office:value-type=\"string\" office:string-value=\"\" calcext:value-type=\"error\" office:v=\"\"><text:p>#DIV/0!</text:p></table:table-cell><table:table-cell office:value-type=\"float\"",
        1,
    );
    job.write("anchors.ods", ods(&[("Sheet1", broken)]));
    // Three empty rows stand above the first anchor.
    says(&job, &["#DIV/0!", "anchors.ods, sheet Sheet1, cell ", "5"]);
}

#[test]
fn numbers_dates_truths_and_what_formulas_come_to() {
    let job = Job::copy("orchard-pergola");
    let before = job.check_json();
    let table = rows(&job, "posts.csv");
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    fill(sheet, &table, 0);
    let at = |name: &str| {
        let named = |cell: &String| cell.split('[').next().map(str::trim) == Some(name);
        u16::try_from(table[0].iter().position(named).expect("a column")).expect("few columns")
    };
    // 7 1/2 as a fraction, as a sum, as an amount, and in words.
    sheet.write_number_with_format(1, at("width"), 7.5, &Format::new().set_num_format("# ?/?")).expect("a cell");
    sheet.write_formula(2, at("width"), Formula::new("=7.2+0.3").set_result("7.500000000000001")).expect("a cell");
    sheet
        .write_number_with_format(3, at("width"), 7.5, &Format::new().set_num_format("[$$-409]#,##0.00"))
        .expect("a cell");
    sheet.write_string(5, at("width"), "7 1/2 in").expect("a cell");
    sheet.write_string(1, at("height"), "9 ft 0 in").expect("a cell");
    sheet.write_boolean(1, at("incised"), table[1][usize::from(at("incised"))] == "yes").expect("a cell");
    std::fs::remove_file(job.path().join("posts.csv")).expect("the file");
    save(&job, "posts.xlsx", book);
    let after = job.check_json();
    let ratios = |json: &serde_json::Value| -> Vec<f64> {
        let posts = json["posts"].as_array().expect("posts").iter();
        posts
            .flat_map(|post| post["limits"].as_array().expect("limits").clone())
            .filter_map(|limit| limit["ratio"].as_f64())
            .collect()
    };
    assert!(ratios(&before) == ratios(&after));
    assert!(!ratios(&before).is_empty());
}

fn edited(change: impl Fn(&mut Worksheet)) -> Job {
    moved("orchard-pergola", |table, sheet| {
        if table == "posts" {
            change(sheet);
        }
    })
}

/// Row 2 of the sheet is post A1; its width stands in column G.
const WIDTH: (u32, u16) = (1, 6);

#[test]
fn a_wrong_cell_is_named_as_the_spreadsheet_names_it() {
    let job = edited(|sheet| {
        sheet.write_string(WIDTH.0, WIDTH.1, "wide").expect("a cell");
    });
    says(
        &job,
        &["job.xlsx, sheet posts, width: found `wide`", "JOBS/orchard-pergola/job.xlsx, sheet posts, cell G2\n"],
    );
    // Rows that are empty count.
    let job = Job::copy("orchard-pergola");
    let mut table = rows(&job, "posts.csv");
    std::fs::remove_file(job.path().join("posts.csv")).expect("the file");
    table[1][6] = "wide".into();
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write_string(0, 0, "Posts of the pergola").expect("a cell");
    fill(sheet, &table[..1], 3);
    fill(sheet, &table[1..], 6);
    save(&job, "posts.xlsx", book);
    says(&job, &["posts.xlsx, sheet Sheet1, cell G7", "posts.xlsx, sheet Sheet1, width"]);
}

#[test]
fn a_cell_of_a_csv_file_has_its_letter_too() {
    let job = Job::copy("orchard-pergola");
    job.set("posts.csv", "A1", "width", "wide");
    says(&job, &["JOBS/orchard-pergola/posts.csv:2:32 (cell G2)"]);
    job.set("posts.csv", "A1", "width", "");
    says(&job, &["JOBS/orchard-pergola/posts.csv:2:1 (row 2)"]);
}

#[test]
fn an_error_of_a_formula_is_an_error_of_the_job() {
    let formula = |text: &str, result: &str| {
        let formula = Formula::new(text).set_result(result);
        edited(move |sheet| {
            sheet.write_formula(WIDTH.0, WIDTH.1, formula.clone()).expect("a cell");
        })
    };
    says(
        &formula("=#REF!+1", "#REF!"),
        &["width: the cell holds `#REF!`: its formula refers to a cell that is gone", "cell G2"],
    );
    says(&formula("=1/0", "#DIV/0!"), &["width: the cell holds `#DIV/0!`", "cell G2"]);
    // A program wrote it and left it to the spreadsheet to be worked.
    says(&formula("=A9*2", "0"), &["width: the cell holds the formula `=A9*2`", "cell G2"]);
}

#[test]
fn a_date_where_a_number_is_wanted_says_what_happened() {
    let date = Format::new().set_num_format("d-mmm");
    let number = rust_xlsxwriter::ExcelDateTime::from_ymd(2026, 1, 7).expect("a date");
    let job = edited(|sheet| {
        sheet.write_datetime_with_format(WIDTH.0, WIDTH.1, &number, &date).expect("a cell");
    });
    says(&job, &["width: found the date `2026-01-07`; expected a length", "turns `1/2` and `7-1/2` into dates"]);
    let job = edited(|sheet| {
        sheet.write_datetime_with_format(1, 0, &number, &date).expect("a cell");
    });
    says(&job, &["mark: found the date `2026-01-07`; expected a name", "cell A2"]);
    let job = Job::copy("orchard-pergola");
    job.set("posts.csv", "A1", "width", "7-Jan");
    says(&job, &["width: found the date `7-Jan`; expected a length"]);
}

#[test]
fn merged_and_hidden_cells_are_read_and_named() {
    let job = edited(|sheet| {
        let named = Format::new();
        sheet.merge_range(1, 3, 3, 3, "knife 8", &named).expect("merged cells");
        sheet.set_row_hidden(2).expect("a row");
        sheet.set_column_hidden(7).expect("a column");
    });
    assert!(Job::copy("orchard-pergola").posts_however_typed() == job.posts_however_typed());
    let notes = notes(&job);
    for part in [
        "sheet `posts` of `job.xlsx`: every row of merged cells reads as what stands in them: D2:D4",
        "sheet `posts` of `job.xlsx`: 1 row is hidden, and reads like the others: 3",
        "sheet `posts` of `job.xlsx`: 1 column is hidden, and reads like the others: H",
    ] {
        assert!(notes.contains(part), "no `{part}` in:\n{notes}");
    }
}

#[test]
fn two_places_for_one_table_are_an_error_that_names_both() {
    let job = moved("orchard-pergola", |_, _| {});
    let fixture = Job::copy("orchard-pergola");
    job.write("anchors.csv", fixture.read("anchors.csv"));
    says(&job, &["the anchors are in 2 places: `anchors.csv` and sheet `anchors` of `job.xlsx`", "1 thing to fix"]);
}

#[test]
fn sheets_of_other_names_are_the_users_own() {
    let with = |name: &str| {
        let job = Job::copy("orchard-pergola");
        let mut book = Workbook::new();
        let sheet = book.add_worksheet();
        sheet.set_name("Posts").expect("a name");
        fill(sheet, &rows(&job, "posts.csv"), 0);
        book.add_worksheet().set_name(name).expect("a name").write_string(0, 0, "mine").expect("a cell");
        std::fs::remove_file(job.path().join("posts.csv")).expect("the file");
        save(&job, "job.xlsx", book);
        job
    };
    let prices = notes(&with("Prices"));
    assert!(prices.contains("not read in `job.xlsx`: `Prices`"), "{prices}");
    assert!(!notes(&with("my prices")).contains("not read in"));
    // The reactions are not given otherwise: this is a slip.
    says(&with("reaction"), &["the sheet `reaction` of `job.xlsx` is not read", "did you mean `reactions`?"]);
    // A workbook that has nothing to do with the job.
    let job = Job::copy("orchard-pergola");
    let digest = |job: &Job| job.check_json();
    let before = digest(&job);
    let mut book = Workbook::new();
    book.add_worksheet().set_name("Prices").expect("a name").write_number(0, 0, 12).expect("a cell");
    save(&job, "prices.xlsx", book);
    assert!(notes(&job).contains("`prices.xlsx` is not read: none of its sheets is a table of the job"));
    assert!(before == digest(&job));
}

#[test]
fn what_is_no_workbook_says_so() {
    let job = Job::copy("orchard-pergola");
    let text = job.read("posts.csv");
    std::fs::remove_file(job.path().join("posts.csv")).expect("the file");
    let fixture = moved("orchard-pergola", |_, _| {});
    let mut whole = Vec::new();
    std::fs::File::open(fixture.path().join("job.xlsx")).expect("the workbook").read_to_end(&mut whole).expect("bytes");
    let old = [&[0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1][..], &[0; 600]].concat();
    let name: Vec<u8> = "EncryptedPackage".encode_utf16().flat_map(u16::to_le_bytes).collect();
    let locked = [&old[..], &name].concat();
    let mut flipped = whole.clone();
    let middle = flipped.len() / 3;
    flipped[middle..middle + 40].iter_mut().for_each(|byte| *byte ^= 0x5a);
    let cases: [(&[u8], &str); 7] = [
        (b"", "`posts.xlsx` is damaged: it is empty"),
        (text.as_bytes(), "`posts.xlsx` is not a workbook, whatever its name"),
        (&old, "`posts.xlsx` is a workbook in the old format `.xls`, whatever its name"),
        (&locked, "`posts.xlsx` is locked with a password"),
        (&whole[..whole.len() / 2], "`posts.xlsx` is damaged: "),
        (&flipped, "`posts.xlsx` is damaged: "),
        (&zipped(&[("word/document.xml", "<w/>")]), "`posts.xlsx` is not a workbook, whatever its name"),
    ];
    for (bytes, part) in cases {
        job.write("posts.xlsx", bytes);
        says(&job, &[part]);
    }
    std::fs::remove_file(job.path().join("posts.xlsx")).expect("the file");
    job.write("posts.xls", &old);
    says(&job, &["`JOBS/orchard-pergola/posts.xls` is not read", "save it as `.xlsx` or `.ods`"]);
}

/// Any bytes changed, any length cut: an answer, and no panic.
#[test]
fn damaged_workbooks_are_never_more_than_an_error() {
    let job = moved("orchard-pergola", |_, _| {});
    let whole = std::fs::read(job.path().join("job.xlsx")).expect("the workbook");
    for seed in 0..400_usize {
        let mut bytes = whole.clone();
        let at = (seed * 7919) % bytes.len();
        match seed % 3 {
            0 => bytes.truncate(at),
            1 => bytes[at] ^= 1 << (seed % 8),
            _ => drop(bytes.drain(at..(at + seed).min(whole.len()))),
        }
        drop(socle::workbook::read("job.xlsx", &bytes, &|_| true));
    }
}

#[test]
fn a_small_file_that_makes_a_large_table_is_refused() {
    let job = Job::copy("orchard-pergola");
    std::fs::remove_file(job.path().join("posts.csv")).expect("the file");
    let mut book = Workbook::new();
    book.add_worksheet().write_number(900_000, 3, 1).expect("a cell");
    save(&job, "posts.xlsx", book);
    says(&job, &["`posts.xlsx` is larger than is read: there is a cell at D900001", "20000 rows and 1000 columns"]);
    std::fs::remove_file(job.path().join("posts.xlsx")).expect("the file");
    let cell =
        "<table:table-cell office:value-type=\"float\" office:value=\"1\" table:number-columns-repeated=\"900\"/>";
    let rows = format!("<table:table-row table:number-rows-repeated=\"15000\">{cell}</table:table-row>");
    job.write("posts.ods", ods(&[("posts", rows)]));
    says(&job, &["`posts.ods` is larger than is read: there is a cell at"]);
    // An archive of one long run of blanks.
    let content = format!("<office:document-content>{}", " ".repeat(300 << 20));
    job.write("posts.ods", zipped(&[("content.xml", &content)]));
    says(&job, &["`posts.ods` is larger than is read: it unpacks to over 256 MB"]);
}

#[test]
fn a_change_is_told_whether_it_stands_in_a_file_or_in_a_workbook() {
    let (files, book) = (Job::copy("orchard-pergola"), moved("orchard-pergola", |_, _| {}));
    let since = |job: &Job, old: &Job| {
        let target = job.path().join("out.pdf");
        let output = socle(&[
            "package".as_ref(),
            job.path().as_os_str(),
            "--since".as_ref(),
            old.path().as_os_str(),
            "-o".as_ref(),
            target.as_os_str(),
        ]);
        assert_eq!(output.status.code(), Some(0), "{}{}", stdout(&output), stderr(&output));
        stdout(&output) + &stderr(&output)
    };
    let same = since(&book, &files);
    assert!(!same.contains("posts.csv"), "{same}");
}
