//! What is a firm's own, and no part of the program: its name and logo, its title block, a
//! sheet that the program begins for it; and what leaves a package by itself: one worked
//! sheet, the drawings for the fabricator.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use socle::drawing::{Drawing, Shape};

use crate::jobs::package_in;
use crate::support::{JOBS, Job, socle, stderr, stdout};

const LOGO: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" width="120" height="60"><path d="M20 50 L60 10 L100 50 Z" fill="#a52"/></svg>"##;

const FIRM: &str = "\n[firm]\nname = \"Ash and Oak Framing\"\naddress = [\"12 Mill Road\", \"Nowhere, NY 10000\"]\n\
                    licence = \"Licence 000-DEMO\"\nlogo = \"logo.svg\"\n";

/// An example job with a firm and its logo.
fn firm(name: &str) -> Job {
    let job = Job::copy(name);
    let toml = job.read("job.toml");
    job.write("job.toml", toml + FIRM).write("logo.svg", LOGO);
    job
}

fn packaged(job: &Job, more: &[&str]) -> (PathBuf, String) {
    let path = job.path().with_extension("pdf");
    let (folder, file) = (job.path().display().to_string(), path.display().to_string());
    let output = socle(&[&["package", &folder, "-o", &file], more].concat());
    assert!(matches!(output.status.code(), Some(0 | 1)), "{}", stderr(&output));
    (path, stderr(&output))
}

/// What `package` says of a job that it does not set.
fn refused(job: &Job) -> String {
    let path = job.path().with_extension("pdf");
    let output = socle(&["package".as_ref(), job.path().as_os_str(), "-o".as_ref(), path.as_os_str()]);
    assert_eq!(output.status.code(), Some(2), "{}{}", stdout(&output), stderr(&output));
    assert!(!path.exists(), "nothing is written");
    let folder = job.path();
    let above = folder.parent().expect("a folder").display().to_string();
    stderr(&output).replace(&above, "JOBS")
}

/// The text of each page without blanks, as it is drawn.
fn pages(path: &Path) -> Vec<String> {
    let pdf = lopdf::Document::load(path).expect("a PDF");
    let page = |no: &u32| {
        let text = pdf.extract_text(&[*no]).expect("its text");
        text.chars().filter(|c| !c.is_whitespace()).collect()
    };
    pdf.get_pages().keys().map(page).collect()
}

/// What is read out in place of pictures.
fn read_out(path: &Path) -> Vec<String> {
    let pdf = lopdf::Document::load(path).expect("a PDF");
    let said = pdf.objects.values().filter_map(|object| {
        let alt = object.as_dict().ok()?.get(b"Alt").ok()?;
        lopdf::decode_text_string(alt).ok()
    });
    said.collect()
}

/// Cover and head of every sheet have the firm; no page more; the file is still what the archive and whoever is
/// read to ask for.
#[test]
fn the_firm_stands_on_every_sheet() {
    for name in JOBS {
        let bare = Job::copy(name);
        let (plain, _) = packaged(&bare, &[]);
        let job = firm(name);
        let (path, _) = packaged(&job, &[]);
        let (before, after) = (pages(&plain), pages(&path));
        assert_eq!(before.len(), after.len(), "{name}");
        assert!(before.iter().all(|page| !page.contains("AshandOak")));
        assert!(after.iter().all(|page| page.contains("AshandOakFraming")), "{name}");
        for words in ["12MillRoad", "Nowhere,NY10000", "Licence000-DEMO", "Seal,signatureanddate", "Reviewstamp"] {
            assert!(after[0].contains(words), "{name}: the cover has no {words}: {}", after[0]);
        }
        assert_eq!(read_out(&path).iter().filter(|alt| *alt == "logo of Ash and Oak Framing").count(), 1, "{name}");
        let metadata = String::from_utf8_lossy(&std::fs::read(&path).expect("the package")).into_owned();
        for mark in ["<pdfaid:part>3</pdfaid:part>", "<pdfuaid:part>1</pdfuaid:part>"] {
            assert!(metadata.contains(mark), "{name}: {mark}");
        }
    }
}

#[test]
fn another_logo_is_another_job() {
    let digest = |job: &Job| job.check_json()["digest"].as_str().expect("a digest").to_string();
    let (job, other) = (firm("creek-porch"), firm("creek-porch"));
    assert_eq!(digest(&job), digest(&other));
    other.write("logo.svg", LOGO.replace("#a52", "#2a5"));
    assert_ne!(digest(&job), digest(&other));
    // What is compared with the job as it was says so, of name and logo.
    other.edit("job.toml", "Ash and Oak Framing", "Ash and Elm Framing");
    let was = job.path().display().to_string();
    let (path, warned) = packaged(&other, &["--since", &was]);
    assert!(warned.contains("no revision entered"), "{warned}");
    let pages = pages(&path);
    assert!(pages[0].contains('Δ'), "{}", pages[0]);
    for words in ["AshandOakFraming", "AshandElmFraming", "sha256"] {
        assert!(pages[1].contains(words), "{words}: {}", pages[1]);
    }
    let same = firm("creek-porch");
    let (path, _) = packaged(&same, &["--since", &was]);
    assert!(self::pages(&path)[1].contains("Noinput,sheetorresulthaschanged"));
}

#[test]
fn logos_that_cannot_be_set_are_refused() {
    let svg = |body: &str| {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" width=\"10\" height=\"10\">\n{body}\n</svg>"
        )
    };
    let many = format!("<g id=\"a\">{}</g>", "<path d=\"M0 0h1\"/>".repeat(300));
    let again = (0..4).fold(many, |inner, at| {
        let uses = format!("<use xlink:href=\"#{}\"/>", if at == 0 { "a".into() } else { format!("b{}", at - 1) });
        format!("{inner}<g id=\"b{at}\">{}</g>", uses.repeat(10))
    });
    let mut wide = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
    wide.extend([0, 0, 0x75, 0x30, 0, 0, 0, 10, 8, 2, 0, 0, 0]);
    let cases: [(&str, Vec<u8>, &str); 12] = [
        ("words", b"a logo".to_vec(), "neither an SVG nor a PNG"),
        ("a page", b"<html><body/></html>".to_vec(), "neither an SVG nor a PNG"),
        ("a broken drawing", b"<svg><g></svg>".to_vec(), "an SVG that cannot be read"),
        (
            "letters",
            svg("<text x=\"1\" y=\"5\">A</text>").into_bytes(),
            "text in a font that it does not embed, in its line 2",
        ),
        ("a picture", svg("<image xlink:href=\"data:image/png;base64,AA\"/>").into_bytes(), "another picture in it"),
        ("a file", svg("<use xlink:href=\"other.svg#a\"/>").into_bytes(), "refers to another file"),
        (
            "a fill from afar",
            svg("<path d=\"M0 0h1\" fill=\"url(http://example.org/a#b)\"/>").into_bytes(),
            "refers to another file",
        ),
        ("a script", svg("<script>alert()</script>").into_bytes(), "a `script` in it"),
        ("entities", format!("<!DOCTYPE svg [<!ENTITY a \"b\">]>{}", svg("")).into_bytes(), "defines entities"),
        ("copies of copies", svg(&again).into_bytes(), "again and again"),
        ("a broken PNG", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x0a\0\0\0\x0a".to_vec(), "cannot be read"),
        ("a wide PNG", wide, "30000 by 10 pixels"),
    ];
    let job = firm("creek-porch");
    for (what, bytes, message) in cases {
        job.write("logo.svg", bytes);
        let said = job.diagnostic();
        assert!(said.contains(message), "{what}: {said}");
        assert!(said.contains("JOBS/creek-porch/job.toml:") && said.contains("logo = \"logo.svg\""), "{what}: {said}");
    }
    job.write("logo.svg", format!("{}{}", svg(""), " ".repeat(2_000_001)));
    assert!(job.diagnostic().contains("has more than 2 MB"));
    for (path, message) in [
        ("lost.svg", "there is no file"),
        ("../logo.svg", "is not in the folder of the job"),
        ("/etc/hostname", "is not in the folder of the job"),
    ] {
        let job = firm("creek-porch");
        job.edit("job.toml", "logo = \"logo.svg\"", &format!("logo = \"{path}\""));
        let said = job.diagnostic();
        assert!(said.contains(message), "{path}: {said}");
    }
    #[cfg(unix)]
    {
        let job = firm("creek-porch");
        let outside = job.path().parent().expect("a folder").join("outside.svg");
        std::fs::write(&outside, LOGO).expect("a file");
        std::fs::remove_file(job.path().join("logo.svg")).expect("a file");
        std::os::unix::fs::symlink(&outside, job.path().join("logo.svg")).expect("a link");
        assert!(job.diagnostic().contains("leads out of the folder"));
    }
}

#[test]
fn a_firm_has_a_name_and_room_for_it() {
    let job = firm("creek-porch");
    job.edit("job.toml", "name = \"Ash and Oak Framing\"\n", "");
    let said = job.diagnostic();
    assert!(said.contains("`[firm]` has no `name`"), "{said}");
    let job = firm("creek-porch");
    job.edit("job.toml", "Ash and Oak Framing", &"Ash and Oak ".repeat(6));
    assert!(
        job.diagnostic().contains("has a line of 71 characters; the title block has room for 60"),
        "{}",
        job.diagnostic()
    );
    let job = firm("creek-porch");
    job.edit("job.toml", "[\"12 Mill Road\", \"Nowhere, NY 10000\"]", "\"\"\"a\nb\nc\nd\ne\nf\"\"\"");
    assert!(job.diagnostic().contains("`address` of `[firm]` has 6 lines"), "{}", job.diagnostic());
    let job = firm("creek-porch");
    job.edit("job.toml", "licence =", "license =");
    assert!(job.diagnostic().contains("did you mean `licence`?"), "{}", job.diagnostic());
}

const BLOCK: &str = "templates/title-block.typ";

/// The built-in title block, copied into a job, sets the same words; and the cover says whose it is.
#[test]
fn a_title_block_of_the_jobs_own_is_named_on_the_cover() {
    let job = firm("creek-porch");
    let folder = job.path().display().to_string();
    let output = socle(&["sheets", "new", "title-block", "--job", &folder]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    let (path, _) = packaged(&job, &[]);
    let cover = &pages(&path)[0];
    for words in ["AshandOakFraming", "12MillRoad", "templates/title-block.typ:atitleblockinplaceofthebuilt-inone"] {
        assert!(cover.contains(words), "{words}: {cover}");
    }
    assert_eq!(job.check_json()["own"]["templates/title-block.typ"], "a title block in place of the built-in one");
    assert_eq!(read_out(&path).iter().filter(|alt| *alt == "logo of Ash and Oak Framing").count(), 1);
    // It is not written over.
    let output = socle(&["sheets", "new", "title-block", "--job", &folder]);
    assert!(stderr(&output).contains("already exists"), "{}", stderr(&output));
}

/// A title block that sets nothing, or covers its whole box, takes nothing from what a package has to say.
#[test]
fn a_title_block_leaves_out_nothing_that_has_to_be_said() {
    // Its file is listed among the job's own, which may take a line more: a modest one is what others are held to.
    let modest = firm("creek-porch");
    modest.write(BLOCK, "#let title-block(firm, job, sheet) = [A]\n");
    let plain = pages(&packaged(&modest, &[]).0);
    for body in ["[]", "rect(width: sheet.width, height: sheet.height, fill: white)"] {
        let job = firm("creek-porch");
        job.write(BLOCK, format!("#let title-block(firm, job, sheet) = {body}\n"));
        let (path, _) = packaged(&job, &[]);
        let own = pages(&path);
        assert_eq!(plain.len(), own.len());
        for (no, page) in own.iter().enumerate() {
            let sheet = format!("sheet{}of{}", no + 1, own.len());
            for words in ["DEMONSTRATIONDATA–NOTFORCONSTRUCTION", "Rev.A", &sheet] {
                assert!(page.contains(words), "sheet {}: {words}: {page}", no + 1);
            }
            // The lines of a sheet are said at its foot.
            let lines = |page: &str| page.rsplit_once("Checkedby").map(|(_, foot)| foot.to_string());
            assert_eq!(lines(page), lines(&plain[no]));
        }
        for words in ["subjectto", "notforconstructionuntil", "title-block.typ"] {
            assert!(own[0].contains(words), "{words}: {}", own[0]);
        }
    }
}

/// What a title block cannot do, each with its place in the file and with a way out.
#[test]
fn faults_of_a_title_block_are_shown_in_its_lines() {
    let cases = [
        (
            "#import \"other.typ\": *\n#let title-block(firm, job, sheet) = []",
            "a title block cannot import a file",
            "1:2",
        ),
        (
            "#import \"@preview/cetz:0.3.0\"\n#let title-block(firm, job, sheet) = []",
            "a title block cannot import a file",
            "1:2",
        ),
        ("#let title-block(firm, job, sheet) = [#read(\"/package.json\")]", "a title block cannot use `read`", "1:40"),
        ("#let title-block(firm, job, sheet) = image(\"x.png\")", "a title block cannot use `image`", "1:38"),
        ("#let f = eval\n#let title-block(firm, job, sheet) = []", "a title block cannot use `eval`", "1:10"),
        (
            "#let title-block(firm, job, sheet) = { std.counter(std.page).update(1) }",
            "a title block cannot use `std`",
            "1:40",
        ),
        (
            "#let title-block(firm, job, sheet) = [\n  #counter(\"a\").step()\n]",
            "a title block cannot use `counter`",
            "2:4",
        ),
        ("#let title-block(firm, job, sheet) = [\n= Loud\n]", "a title block cannot have a heading", "2:1"),
        ("#let title-block(firm, job, sheet) = [www <a>]", "a title block cannot have labels or references", "1:43"),
        ("#let title-block(firm, job, sheet) = context [a]", "a title block cannot ask for its position", "1:38"),
        (
            "#let title-block(firm, job, sheet) = { while true { } }",
            "a title block cannot loop without a known end",
            "1:40",
        ),
        (
            "#let title-block(firm, job, sheet) = {\n  1 + \"a\"\n}",
            "the title block cannot be set: cannot add integer and string",
            "2:3",
        ),
        ("#let title-block(firm, job, sheet) = {\n  firm.telephone\n}", "does not contain key \"telephone\"", "2:8"),
        ("#let title-block(firm, job) = []", "unexpected argument", "1:6"),
        ("#let other(firm, job, sheet) = []", "the title block does not define `title-block`", "1:1"),
        ("#let title-block(firm, job, sheet) = [", "unclosed delimiter", "1:38"),
        (
            "#let title-block(firm, job, sheet) = rect(width: 40pt, height: 100pt)",
            "beyond the bottom edge of its box, which is 524 pt wide and 74 pt high",
            "1:6",
        ),
        (
            "#let title-block(firm, job, sheet) = place(dx: -30pt, dy: 4pt, line(length: 20pt))",
            "extends 30 pt beyond the left edge",
            "1:6",
        ),
        ("#let title-block(firm, job, sheet) = text(font: \"No Such Face\")[a]", "unknown font family", "1:49"),
    ];
    let job = firm("creek-porch");
    for (text, message, place) in cases {
        job.write(BLOCK, text);
        let said = refused(&job);
        assert!(said.contains(message), "{text}\n{said}");
        assert!(said.contains(&format!("title-block.typ:{place}")), "{text}\nnot at {place}: {said}");
        assert!(said.starts_with("error: "), "{said}");
    }
    job.write("templates/front.typ", "");
    std::fs::remove_file(job.path().join(BLOCK)).expect("the title block");
    let said = refused(&job);
    assert!(
        said.contains("`templates/front.typ` is neither a sheet nor a table") && said.contains("title-block.typ"),
        "{said}"
    );
}

/// `sheets new` writes a sheet that is worked at once, and `sheets JOB` lists it with what uses it.
#[test]
fn a_new_sheet_works_as_it_is_written() {
    for name in JOBS {
        let job = Job::copy(name);
        let folder = job.path().display().to_string();
        let before = job.check_json()["posts"][0]["limits"].as_array().expect("limits").len();
        let output = socle(&["sheets", &folder]);
        assert!(stdout(&output).contains("has no sheets or tables of its own"), "{}", stdout(&output));
        let output = socle(&["sheets", "new", "narrow-side", "--job", &folder]);
        assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
        assert!(stdout(&output).contains("socle check"), "{}", stdout(&output));
        let json = job.check_json();
        assert_eq!(json["posts"][0]["limits"].as_array().expect("limits").len(), before + 1);
        assert_eq!(
            crate::support::limit(
                &json,
                json["posts"][0]["mark"].as_str().expect("a mark"),
                "smallest side of the post"
            )["sheet"],
            "narrow-side"
        );
        let output = socle(&["sheets", &folder]);
        let said = stdout(&output);
        for words in [
            "templates/sheets/own/narrow-side.sheet",
            "Smallest side of a post",
            "used by `post`",
            "posts.narrow_side_min",
        ] {
            assert!(said.contains(words), "{words}: {said}");
        }
        // The file alone is in order, too, and every word of the language that it has is said.
        let file = job.path().join("templates/sheets/own/narrow-side.sheet");
        let output = socle(&["sheets".as_ref(), file.as_os_str()]);
        assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
        let again = socle(&["sheets", "new", "narrow-side", "--job", &folder]);
        assert_eq!(again.status.code(), Some(2));
        assert!(stderr(&again).contains("already exists"), "{}", stderr(&again));
    }
    let job = Job::copy("creek-porch");
    let folder = job.path().display().to_string();
    for (args, message) in [
        (vec!["sheets", "new"], "does not say what the new sheet is called"),
        (vec!["sheets", "new", "mine"], "does not say for which job"),
        (vec!["sheets", "new", "Mine", "--job", &folder], "cannot be the name of a sheet"),
        (vec!["sheets", "new", "../mine", "--job", &folder], "cannot be the name of a sheet"),
        (vec!["sheets", "new", "pin-yield", "--job", &folder], "there is a built-in sheet `pin-yield`"),
        (vec!["sheets", "new", "mine", "--job", "fixtures"], "there is no job in `fixtures`"),
        (vec!["sheets", "pin-yield", "bolt-yield"], "ask for one sheet, file or folder at a time"),
        (vec!["sheets", "fixtures"], "did you mean `fixtures/cart-barn`?"),
        (vec!["sheets", &folder, "--job", &folder], "is a folder, and `--job` names one too"),
    ] {
        let output = socle(&args);
        assert_eq!(output.status.code(), Some(2), "{args:?}");
        assert!(stderr(&output).contains(message), "{args:?}: {}", stderr(&output));
    }
    assert!(!job.path().join("templates").exists(), "nothing was written");
}

/// What is not used is listed, though no job is worked with it.
#[test]
fn what_is_not_used_is_listed_too() {
    let job = Job::copy("creek-porch");
    job.write(
        "templates/tables/spare.csv",
        "# title: Spare values\nname,value [in],source,kind,doubt\na,1,the shop,own,\n",
    );
    let output = socle(&["sheets".as_ref(), job.path().as_os_str()]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    assert!(stdout(&output).contains("NOT USED"), "{}", stdout(&output));
}

const YIELD: [&str; 8] =
    ["pin-yield", "D=3/4 in", "l_m=3/8 in", "l_s=3 in", "F_em=87 ksi", "F_es=5600 psi", "F_yb=45 ksi", "theta=0 deg"];

/// One worked sheet as a page: what was given, the lines with formula and clause, the result, and that it is not sealed.
#[test]
fn a_sheet_worked_alone_is_a_page() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = |name: &str| folder.path().join(name).display().to_string();
    let work = |more: &[&str]| {
        let output = socle(&[&["work"], &YIELD[..], more].concat());
        assert!(matches!(output.status.code(), Some(0 | 1)), "{}", stderr(&output));
    };
    let (one, two) = (file("one.pdf"), file("two.pdf"));
    work(&["-o", &one]);
    work(&["-o", &two]);
    assert_eq!(std::fs::read(&one).expect("a page"), std::fs::read(&two).expect("a page"));
    let text = pages(Path::new(&one)).concat();
    for words in ["pin-yield", "Given", "87,000psi", "NDS2018", "Notforconstructionuntil", "socle0.1.0", "sheet1of"] {
        assert!(text.contains(words), "{words}: {text}");
    }
    assert!(!text.contains("2026"), "no date that nobody gave");
    let metric = file("metric.pdf");
    work(&["-o", &metric, "--units", "metric", "--date", "2026-11-02"]);
    let text = pages(Path::new(&metric)).concat();
    for words in ["2026-11-02", "MPa", "mm"] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let size = |path: &str| {
        let pdf = lopdf::Document::load(path).expect("a PDF");
        let page = *pdf.get_pages().values().next().expect("a page");
        let page = pdf.get_dictionary(page).expect("a page");
        let media = page.get(b"MediaBox").and_then(|it| it.as_array()).expect("its size").clone();
        media[2].as_float().expect("a number").round()
    };
    assert_eq!((size(&one), size(&metric)), (612.0, 595.0));
    let output = socle(&[&["work"], &YIELD[..], &["-o", &one, "--date", "tomorrow"]].concat());
    assert!(stderr(&output).contains("a date such as `2026-11-02`"), "{}", stderr(&output));
}

/// Limits, figures, and what a sheet uses stand on the page, whatever the sheet; one that is not met says so.
#[test]
fn any_sheet_worked_alone_is_a_page() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut worked = 0;
    for file in std::fs::read_dir(crate::support::root().join("tests/check-values")).expect("check values") {
        let path = file.expect("an entry").path();
        let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
        let Some((sheet, "verdicts")) = name.split_once("--") else { continue };
        let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(&path).expect("a table");
        let headings = reader.headers().expect("headings").clone();
        // A few rows: typesetting takes its time.
        for row in reader.records().map(|row| row.expect("a row")).step_by(40).take(2) {
            let typed = headings.iter().zip(&row).filter(|(heading, cell)| {
                !cell.is_empty()
                    && !heading.starts_with("expect ")
                    && !["id", "source", "kind", "note", "tolerance", "tolerance_kind"].contains(heading)
            });
            let typed: Vec<String> = typed
                .map(|(heading, cell)| match heading.split_once(" [") {
                    Some((name, unit)) => format!("{name}={cell} {}", unit.trim_end_matches(']')),
                    None => format!("{heading}={cell}"),
                })
                .collect();
            let out = folder.path().join("page.pdf").display().to_string();
            let mut args = vec!["work", sheet, "-o", &out];
            args.extend(typed.iter().map(String::as_str));
            let output = socle(&args);
            assert!(matches!(output.status.code(), Some(0 | 1)), "{args:?}: {}", stderr(&output));
            let text = pages(Path::new(&out)).concat();
            assert_eq!(text.contains("NOTMET:"), output.status.code() == Some(1), "{args:?}");
            worked += 1;
        }
        if worked >= 24 {
            break;
        }
    }
    assert!(worked >= 20, "{worked}");
}

/// A DXF file as its groups, read by nothing of the program: entities with their codes and values, behind the layer.
struct Dxf {
    header: BTreeMap<String, String>,
    layers: Vec<String>,
    entities: Vec<(String, Vec<(i32, String)>)>,
}

impl Dxf {
    fn read(text: &str) -> Dxf {
        let lines: Vec<&str> = text.split("\r\n").collect();
        assert_eq!(lines.last(), Some(&""), "a last line ends");
        assert!(lines.len() % 2 == 1, "a value for every code");
        let groups: Vec<(i32, &str)> =
            lines.chunks_exact(2).map(|two| (two[0].trim().parse().expect("a code"), two[1])).collect();
        assert_eq!(groups.last(), Some(&(0, "EOF")));
        let (mut header, mut layers, mut entities) = (BTreeMap::new(), Vec::new(), Vec::new());
        let (mut section, mut variable) = ("", "");
        for (at, (code, value)) in groups.iter().enumerate() {
            assert!(value.is_ascii(), "{value}");
            let before = at.checked_sub(1).map(|at| groups[at]);
            match (code, section) {
                (2, _) if before == Some((0, "SECTION")) => section = value,
                (0, _) if *value == "ENDSEC" => section = "",
                (9, "HEADER") => variable = value,
                (_, "HEADER") => drop(header.entry(variable.to_string()).or_insert_with(|| value.to_string())),
                (2, "TABLES") if before == Some((0, "LAYER")) => layers.push(value.to_string()),
                (0, "ENTITIES") => entities.push((value.to_string(), Vec::new())),
                (_, "ENTITIES") => entities.last_mut().expect("an entity").1.push((*code, value.to_string())),
                _ => {}
            }
        }
        Dxf { header, layers, entities }
    }

    fn of<'a>(&'a self, kind: &'a str) -> impl Iterator<Item = &'a [(i32, String)]> {
        self.entities.iter().filter(move |(name, _)| name == kind).map(|(_, groups)| groups.as_slice())
    }
}

fn group(entity: &[(i32, String)], code: i32) -> &str {
    &entity.iter().find(|(known, _)| *known == code).unwrap_or_else(|| panic!("no {code} in {entity:?}")).1
}

fn value(entity: &[(i32, String)], code: i32) -> f64 {
    group(entity, code).parse().expect("a number")
}

/// The drawings of the shop and field sheets of a job, in the order in which their files are written.
fn drawn(job: &Job) -> Vec<(Drawing, bool)> {
    let (package, _) = package_in(&job.path());
    let sheets = package.shop.iter().chain(&package.field);
    sheets.flat_map(|sheet| sheet.drawings().map(|drawing| (drawing.clone(), !sheet.hold.is_empty()))).collect()
}

fn exported(job: &Job) -> (BTreeMap<String, String>, String) {
    let folder = job.path().with_extension("drawings");
    let (_, notes) = packaged(job, &["--drawings", &folder.display().to_string()]);
    let files = std::fs::read_dir(&folder).expect("a folder").map(|file| file.expect("an entry").path());
    let file = |path: PathBuf| {
        (
            path.file_name().expect("a name").to_string_lossy().into_owned(),
            std::fs::read_to_string(path).expect("a text"),
        )
    };
    (files.map(file).collect(), notes)
}

/// Circles of a drawing, in inches of the thing: middle from the left and from the top, radius.
fn circles(drawing: &Drawing) -> Vec<[f64; 3]> {
    let circle = |shape: &Shape| match shape {
        Shape::Circle { at, radius, .. } => Some([at[0], at[1], *radius].map(|part| part / drawing.points)),
        _ => None,
    };
    drawing.shapes.iter().filter_map(circle).collect()
}

fn same(found: &[[f64; 3]], wanted: &[[f64; 3]], unit: f64) -> bool {
    let near = |a: &[f64; 3], b: &[f64; 3]| a.iter().zip(b).all(|(a, b)| (a - b * unit).abs() < 2e-4 * unit);
    found.len() == wanted.len() && wanted.iter().all(|wanted| found.iter().any(|found| near(found, wanted)))
}

/// Every drawing as SVG and DXF, as large as the thing: holes, their middles and the lengths of lines are those of the drawing.
#[test]
fn drawings_for_the_fabricator_are_as_large_as_the_thing() {
    for (name, unit) in [("orchard-pergola", 1.0), ("creek-porch", 1.0), ("cart-barn", 1.0), ("orchard-pergola", 25.4)]
    {
        let job = Job::copy(name);
        if unit != 1.0 {
            job.edit("job.toml", "[job]\n", "[job]\nunits = \"metric\"\n");
        }
        let drawn = drawn(&job);
        let (files, _) = exported(&job);
        assert_eq!(files.len(), 2 * drawn.len(), "{name}: {:?}", files.keys());
        assert!(
            files.keys().all(|file| file.chars().all(|c| c.is_ascii_alphanumeric() || ".-".contains(c))),
            "{:?}",
            files.keys()
        );
        let (mut found, mut holds) = (0, 0);
        for (file, text) in &files {
            let Some(base) = file.strip_suffix(".dxf") else { continue };
            let dxf = Dxf::read(text);
            assert_eq!(dxf.header["$ACADVER"], "AC1009");
            assert_eq!(dxf.header["$INSUNITS"], if unit == 1.0 { "1" } else { "4" });
            for (kind, groups) in &dxf.entities {
                if kind != "EOF" {
                    assert!(dxf.layers.contains(&group(groups, 8).to_string()), "{kind}: {groups:?}");
                }
            }
            let high = |text: &str| text.parse::<f64>().expect("a number");
            let svg = &files[&format!("{base}.svg")];
            let svg = roxmltree::Document::parse(svg).expect("an SVG");
            let root = svg.root_element();
            let ending = if unit == 1.0 { "in" } else { "mm" };
            let size = root.attribute("viewBox").expect("a size").split(' ').map(high).collect::<Vec<_>>();
            let width = root.attribute("width").and_then(|it| it.strip_suffix(ending)).map(high);
            assert_eq!(width, Some(size[2]), "one unit is one {ending}");
            let in_svg: Vec<[f64; 3]> = svg
                .descendants()
                .filter(|node| node.has_tag_name("circle"))
                .map(|node| ["cx", "cy", "r"].map(|name| high(node.attribute(name).expect("a number"))))
                .collect();
            let in_dxf: Vec<[f64; 3]> =
                dxf.of("CIRCLE").map(|it| [value(it, 10), size[3] - value(it, 20), value(it, 40)]).collect();
            let lines: Vec<f64> =
                dxf.of("LINE").map(|it| (value(it, 11) - value(it, 10)).hypot(value(it, 21) - value(it, 20))).collect();
            let title =
                svg.descendants().find(|node| node.has_tag_name("desc")).and_then(|node| node.text()).expect("words");
            let of: Vec<&(Drawing, bool)> =
                drawn.iter().filter(|(it, _)| it.alt == title && same(&in_svg, &circles(it), unit)).collect();
            assert!(!of.is_empty(), "{file} is none of the drawings");
            let (drawing, hold) =
                of.iter().find(|(_, hold)| *hold == text.contains("NOT MET - HOLD")).expect("on hold or not");
            assert!(same(&in_dxf, &circles(drawing), unit), "{file}");
            for shape in &drawing.shapes {
                let Shape::Line { from, to, .. } = shape else { continue };
                let long = (to[0] - from[0]).hypot(to[1] - from[1]) / drawing.points * unit;
                assert!(
                    lines.iter().any(|line| (line - long).abs() < 1e-4 * unit.max(long)),
                    "{file}: no line of {long}"
                );
            }
            let texts: Vec<&str> = dxf.of("TEXT").map(|it| group(it, 1)).collect();
            let wanted = drawing.shapes.iter().filter(|shape| matches!(shape, Shape::Text { .. })).count();
            assert!(texts.len() > wanted + 2, "{file}");
            assert!(texts.iter().any(|text| text.contains("DEMONSTRATION DATA")), "{file}: {texts:?}");
            assert!(texts.join(" ").contains("licensed design professional has reviewed"), "{file}");
            assert_eq!(dxf.of("TEXT").any(|it| group(it, 8) == "HOLD"), *hold, "{file}");
            assert_eq!(svg.descendants().any(|node| node.attribute("class") == Some("hold")), *hold, "{file}");
            found += 1;
            holds += usize::from(*hold);
        }
        assert_eq!(found, drawn.len());
        assert_eq!(holds > 0, name == "cart-barn", "{name}: post D2 is on hold");
        let (again, notes) = exported(&job);
        assert_eq!(files, again, "the same files each time");
        assert!(!notes.contains("did not write"), "{notes}");
    }
}

/// What an earlier run left is named: who cuts by it would cut what is no longer drawn.
#[test]
fn drawings_of_an_earlier_run_are_named() {
    let job = Job::copy("creek-porch");
    job.write("../creek-porch.drawings/shop-Z9-1-plate.dxf", "old");
    let (_, notes) = exported(&job);
    assert!(notes.contains("drawings that this run did not write: `shop-Z9-1-plate.dxf`"), "{notes}");
}
