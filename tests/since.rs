//! What changed since an earlier state of a job: its inputs, its own sheets, its
//! limits, and the lines of a package that rest on them.

use std::collections::BTreeSet;
use std::path::Path;

use serde_json::Value;
use socle::package::{Package, Pages, Worked};
use socle::revision::{Comparison, OwnHow};

use crate::extend::{RULE, porch};
use crate::jobs::{chapters, drafted};
use crate::paper::{Page, Paper};
use crate::support::{JOBS, Job, root, socle, stderr};

/// The package of a job with marks, and what was found.
pub fn since(old: &Path, new: &Path) -> (Package, Pages, Comparison) {
    let (mut package, mut pages, edition) = drafted(new, &[]);
    let marks: Vec<String> = edition.stands.iter().flat_map(|group| group.posts.clone()).collect();
    let rows = edition.inputs.iter().filter(|row| row.file == "posts.csv");
    let order: Vec<String> = rows.map(|row| row.name.clone()).collect();
    assert_eq!(marks.iter().collect::<BTreeSet<_>>(), order.iter().collect());
    let (old_package, old_pages, old_edition) = drafted(old, &order);
    let found = socle::revision::compare(&old_edition, &edition);
    socle::package::since(&mut package, &mut pages, &mut (old_package, old_pages), &found);
    (package, pages, found)
}

fn fixture(name: &str) -> std::path::PathBuf {
    root().join("fixtures").join(name)
}

/// A printed row that is marked: its sheet, what it is, and the posts of its columns.
#[derive(Debug)]
pub struct Marked {
    sheet: String,
    what: String,
    posts: BTreeSet<String>,
    limit: bool,
}

fn array<'a>(value: &'a Value, name: &str) -> &'a [Value] {
    value[name].as_array().map_or(&[], Vec::as_slice)
}

/// All rows of the worked pages, those that are marked or those that are not.
pub fn rows(pages: &Pages, marked: bool) -> Vec<Marked> {
    let mut found = Vec::new();
    for chapter in chapters(pages) {
        let chapter = serde_json::to_value(chapter).expect("JSON");
        let posts_of = |at: &Value| {
            let letter = at.as_str().expect("a place").rsplit('@').next().expect("a column").to_string();
            let column = array(&chapter, "columns").iter().find(|column| column["letter"] == letter.as_str());
            array(column.expect("the column"), "marks")
                .iter()
                .map(|mark| mark.as_str().expect("a mark").to_string())
                .collect::<Vec<_>>()
        };
        for section in array(&chapter, "sections") {
            for line in array(section, "lines") {
                for item in std::iter::once(line).chain(array(line, "items")) {
                    for row in array(item, "rows").iter().filter(|row| row["changed"] == marked) {
                        let say = array(item, "say").iter().map(|span| span["text"].as_str().unwrap_or("").to_string());
                        let symbol = item["symbol"]["alt"].as_str().unwrap_or("").to_string();
                        found.push(Marked {
                            sheet: section["sheet"].as_str().expect("a sheet").into(),
                            what: format!("{symbol} {}", say.collect::<String>()).trim().into(),
                            posts: array(row, "at").iter().flat_map(posts_of).collect(),
                            limit: line["kind"] == "limit",
                        });
                    }
                }
            }
        }
    }
    found
}

/// Whatever carries a mark outside of the worked lines.
pub fn other_marks(package: &Package, pages: &Pages) -> usize {
    let rest = |chapter: &Worked| {
        let mut chapter = serde_json::to_value(chapter).expect("JSON");
        chapter.as_object_mut().expect("a chapter").remove("sections");
        marks_in(&chapter)
    };
    let chapters: usize = chapters(pages).map(rest).sum();
    let of = |value: serde_json::Result<Value>| marks_in(&value.expect("JSON"));
    of(serde_json::to_value(package)) + of(serde_json::to_value(&pages.sheets)) + chapters
}

/// What is marked, or lists which of its parts are, by any name that says so.
fn marks_in(value: &Value) -> usize {
    let marked = |value: &Value| match value {
        Value::Bool(marked) => usize::from(*marked),
        Value::Array(parts) => parts.len(),
        other => marks_in(other),
    };
    match value {
        Value::Array(all) => all.iter().map(marks_in).sum(),
        Value::Object(all) => {
            let of = |(name, value): (&String, &Value)| match name.starts_with("changed") {
                true => marked(value),
                false => marks_in(value),
            };
            all.iter().map(of).sum()
        }
        _ => 0,
    }
}

/// A cell moves the rows that rest on it and no others: the leg of the welds of one
/// base, which two of eight posts stand on.
#[test]
fn a_cell_marks_what_rests_on_it() {
    let job = Job::copy("cart-barn");
    job.set("bases.csv", "strap 8", "weld", "5/16");
    let (package, pages, found) = since(&fixture("cart-barn"), &job.path());
    let [change] = found.inputs.as_slice() else { panic!("{:#?}", found.inputs) };
    assert_eq!((change.file.as_str(), change.row.as_str()), ("bases.csv", "strap 8"));
    assert_eq!(change.column.as_deref(), Some("weld"));
    assert_eq!((change.old.as_deref(), change.new.as_deref()), (Some("1/4 in"), Some("5/16 in")));
    // A leg of at least 3/16 in is asked for: 0.1875/0.25 and 0.1875/0.3125.
    let leg = found.limits.iter().find(|it| it.path.ends_with("plate-weld") && it.limit == "minimum leg of the weld");
    let leg = leg.expect("the leg of the weld");
    let printed = |it: &Option<socle::revision::Outcome>| it.as_ref().expect("a ratio").printed();
    assert_eq!((printed(&leg.old).as_str(), printed(&leg.new).as_str()), ("0.750", "0.600"));
    assert!(found.limits.iter().all(|it| it.path.ends_with("weld")), "{:#?}", found.limits);
    let posts: BTreeSet<&String> = found.limits.iter().flat_map(|it| &it.posts).collect();
    assert_eq!(posts.into_iter().collect::<Vec<_>>(), ["A2", "A3"]);

    let marked = rows(&pages, true);
    for row in &marked {
        assert!(row.sheet == "weld" || row.what.starts_with("weld leg"), "{row:?}");
        assert!(row.posts.iter().all(|post| post == "A2" || post == "A3"), "{row:?}");
    }
    let has = |rows: &[Marked], what: &str, limit: bool| rows.iter().any(|row| row.what == what && row.limit == limit);
    for what in ["minimum leg of the weld", "steel beside the welds"] {
        assert!(has(&marked, what, true), "{what}: {marked:#?}");
    }
    assert!(has(&marked, "S section modulus of both, per inch of throat", false), "{marked:#?}");
    let unmarked = rows(&pages, false);
    assert!(has(&unmarked, "pressure on the soil", true) && unmarked.iter().any(|row| row.sheet == "weld"));
    // Sheets of posts on other bases are as they were.
    for sheet in &pages.sheets {
        let changed = sheet.limits.iter().any(|it| it.row.changed) || sheet.sizes.iter().any(|it| it.changed);
        assert_eq!(changed, sheet.marks.iter().any(|mark| mark == "A2" || mark == "A3"), "{}", sheet.title);
    }
    let changed: Vec<&str> = package.shop.iter().filter(|it| it.changed).map(|it| it.title.as_str()).collect();
    assert!(!changed.is_empty() && changed.iter().all(|title| title.contains("A2")), "{changed:?}");
    let since = package.since.expect("the page");
    assert_eq!(since.warning, "Changed since revision B of 2026-11-02, no revision entered.");
    assert_eq!(since.inputs.len(), 1);
    let row = since.limits.iter().find(|row| row.limit == "steel beside the welds").expect("a limit");
    assert_eq!(row.marks, "A2, A3");
}

/// Of two posts that were alike only the one that carries more is marked:
/// (1.15 + 0.75 2.1 + 0.45 1.98)/4 kip was 0.904, with snow of 2.4 kip it is 0.960.
#[test]
fn a_load_marks_its_post_alone() {
    let job = Job::copy("creek-porch");
    job.set("posts.csv", "P2", "P_S", "2.4");
    let (package, pages, found) = since(&fixture("creek-porch"), &job.path());
    let marked = rows(&pages, true);
    assert!(marked.iter().any(|row| row.limit && row.what == "download on the base"), "{marked:#?}");
    assert!(marked.iter().all(|row| row.posts.iter().eq(["P2"])), "{marked:#?}");
    let changed: Vec<&[String]> = package
        .summary
        .iter()
        .filter(|row| row.changed && row.ratio == "0.960")
        .map(|row| row.marks.as_slice())
        .collect();
    assert_eq!(changed, [["P2"]]);
    for sheet in &pages.sheets {
        let changed = sheet.limits.iter().any(|it| it.row.changed) || sheet.forces.iter().any(|it| it.changed);
        assert_eq!(changed, sheet.marks == ["P2"], "{}", sheet.title);
    }
    let since = package.since.expect("the page");
    let row = since.limits.iter().find(|row| row.limit == "download on the base").expect("a limit");
    assert_eq!((row.old.as_str(), row.new.as_str(), row.marks.as_str()), ("0.904", "0.960", "P2"));
    assert!(found.limits.iter().all(|it| it.posts == ["P2"]), "{:#?}", found.limits);
}

/// Rows of any file in another order are the same job.
#[test]
fn the_order_of_rows_changes_nothing() {
    for name in JOBS {
        let job = Job::copy(name);
        let files = ["posts.csv", "bases.csv", "foundations.csv", "anchors.csv", "reactions.csv"];
        for file in files.into_iter().filter(|file| job.path().join(file).exists()) {
            let text = job.read(file);
            let mut lines: Vec<&str> = text.lines().collect();
            let header = lines.iter().position(|line| !line.starts_with('#')).expect("headings");
            lines[header + 1..].reverse();
            job.write(file, lines.join("\n") + "\n");
        }
        let (package, pages, found) = since(&fixture(name), &job.path());
        assert!(!found.changed(), "{name}: {found:#?}");
        let marked = rows(&pages, true);
        assert!(marked.is_empty(), "{name}: {marked:#?}");
        assert_eq!(other_marks(&package, &pages), 0, "{name}");
        assert!(package.since.expect("the page").nothing);
    }
}

/// Columns in another order, headings in capitals and units moved to the cells are
/// the same job too.
#[test]
fn the_order_of_columns_changes_nothing() {
    let job = Job::copy("creek-porch");
    let text = job.read("posts.csv");
    let turned = text.lines().enumerate().map(|(at, line)| {
        let mut cells: Vec<String> = line.split(',').map(String::from).collect();
        let width = cells.iter().position(|cell| cell == "width [in]");
        cells[4 + 1] = match at {
            0 => "Width".into(),
            _ => format!("{} in", cells[4 + 1]),
        };
        assert!(at > 0 || width == Some(5));
        cells.reverse();
        cells.join(",") + "\n"
    });
    job.write("posts.csv", turned.collect::<String>());
    let (package, pages, found) = since(&fixture("creek-porch"), &job.path());
    assert!(!found.changed(), "{found:#?}");
    assert!(rows(&pages, true).is_empty());
    assert_eq!(other_marks(&package, &pages), 0);
}

/// A post like others is one row of inputs; what is worked for them stays. Without
/// it again, it is told as gone.
#[test]
fn a_post_is_added_and_taken_away() {
    let job = Job::copy("creek-porch");
    let text = job.read("posts.csv");
    let row = text.lines().find(|line| line.starts_with("P2,8,")).expect("P2").replace("P2,8,", "P5,24,");
    job.write("posts.csv", format!("{text}{row}\n"));
    let (package, pages, found) = since(&fixture("creek-porch"), &job.path());
    let [change] = found.inputs.as_slice() else { panic!("{:#?}", found.inputs) };
    assert_eq!((change.row.as_str(), &change.column, &change.old), ("P5", &None, &None));
    assert!(change.new.as_ref().expect("its cells").starts_with("x 24 ft, y 0 ft, base foot 6"), "{change:?}");
    assert!(found.limits.is_empty(), "{:#?}", found.limits);
    let marked = rows(&pages, true);
    assert!(marked.is_empty(), "{marked:#?}");
    for row in &package.summary {
        assert_eq!(row.changed, row.marks.iter().any(|mark| mark == "P5"), "{row:?}");
    }
    for sheet in package.shop.iter().chain(&package.field) {
        assert_eq!(sheet.changed, sheet.title.contains("P5"), "{}", sheet.title);
    }
    let (.., found) = since(&job.path(), &fixture("creek-porch"));
    let [change] = found.inputs.as_slice() else { panic!("{:#?}", found.inputs) };
    assert_eq!((change.row.as_str(), &change.new), ("P5", &None));
}

/// A rule of the shop that was not there: only its lines are new. A word of it that
/// changes is counted.
#[test]
fn a_sheet_of_the_job_is_added_and_changed() {
    let before = Job::copy("creek-porch");
    let job = porch();
    let (package, pages, found) = since(&before.path(), &job.path());
    let [own] = found.own.as_slice() else { panic!("{:#?}", found.own) };
    assert_eq!((own.file.as_str(), &own.how), (format!("sheets/own/{RULE}.sheet").as_str(), &OwnHow::Added));
    assert!(found.inputs.is_empty());
    let marked = rows(&pages, true);
    assert!(marked.iter().any(|row| row.sheet == RULE && row.limit), "{marked:#?}");
    assert!(marked.iter().all(|row| row.sheet == RULE || row.sheet.is_empty()), "{marked:#?}");
    let since_page = package.since.expect("the page");
    assert_eq!(since_page.sheets[0].how, "added");
    assert!(since_page.limits.iter().any(|row| row.old == "not checked" && row.verdict == "met"));

    let path = format!("templates/sheets/own/{RULE}.sheet");
    let text = job.read(&path);
    let title = text.lines().find(|line| line.starts_with("title ")).expect("a title").to_string();
    let changed = porch();
    changed.edit(&path, &title, &format!("{title}, as agreed"));
    let (.., found) = since(&job.path(), &changed.path());
    assert_eq!(found.own[0].how, OwnHow::Changed { added: 1, removed: 1 });
    // Blank lines say nothing.
    changed.write(&path, text.replace('\n', " \n\n"));
    let (.., found) = since(&job.path(), &changed.path());
    assert!(!found.changed(), "{found:#?}");
}

/// Tables and keys of `job.toml`, texts of its lists and answers.
#[test]
fn keys_texts_and_answers_are_inputs() {
    let job = Job::copy("creek-porch");
    let text = job.read("job.toml");
    let answer = "\n[[decisions]]\nwhat = \"a question\"\nvalue = \"x 1\"\nby = \"E. Engineer\"\nlicence = \"12\"\ndate = \"2026-11-03\"\n";
    job.write("job.toml", format!("{text}{answer}"));
    job.edit("job.toml", "assumptions = [", "assumptions = [\"the creek stays in its bed\", ");
    job.edit("job.toml", "prepared_by = \"R. Framer\"", "prepared_by = \"Q. Framer\"");
    let (.., found) = since(&fixture("creek-porch"), &job.path());
    let said: Vec<(&str, Option<&str>, Option<&str>)> =
        found.inputs.iter().map(|it| (it.row.as_str(), it.column.as_deref(), it.new.as_deref())).collect();
    assert!(said.contains(&("[job]", Some("prepared_by"), Some("Q. Framer"))), "{said:?}");
    assert!(
        said.iter().any(|(row, _, new)| *row == "assumptions" && *new == Some("the creek stays in its bed")),
        "{said:?}"
    );
    let decided = said.iter().find(|(row, ..)| *row == "[[decisions]] a question").expect("the decision");
    assert!(decided.2.expect("its cells").contains("by E. Engineer"), "{decided:?}");
    assert_eq!(said.len(), 3, "{said:?}");
}

/// Writes the package of a job with marks; what is said on standard error, and the
/// text of each page without blanks.
fn written(job: &Job, old: &Path) -> (String, Vec<String>) {
    let path = job.path().join("out.pdf");
    let (folder, out) = (job.path(), path.as_os_str());
    let output =
        socle(&["package".as_ref(), folder.as_os_str(), "--since".as_ref(), old.as_os_str(), "-o".as_ref(), out]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    let pdf = lopdf::Document::load(&path).expect("a PDF");
    let text =
        |page: &u32| pdf.extract_text(&[*page]).expect("its text").chars().filter(|c| !c.is_whitespace()).collect();
    (stderr(&output), pdf.get_pages().keys().map(text).collect())
}

/// `3to5,9` as numbers.
fn numbers(list: &str) -> BTreeSet<usize> {
    let number = |text: &str| text.parse::<usize>().expect("a page");
    let run = |run: &str| match run.split_once("to") {
        Some((first, last)) => number(first)..=number(last),
        None => number(run)..=number(run),
    };
    list.split(',').flat_map(run).collect()
}

/// The page of revisions lists the pages that hold a mark; the cover says that
/// nobody has entered a revision.
#[test]
fn pages_with_marks_are_listed() {
    let job = Job::copy("creek-porch");
    job.set("posts.csv", "P2", "P_S", "2.4");
    let (said, pages) = written(&job, &fixture("creek-porch"));
    assert!(said.contains("warning: changed since revision A of 2026-11-02, no revision entered"), "{said}");
    assert!(pages[0].contains("norevisionentered"), "{}", pages[0]);
    let page = pages.iter().position(|text| text.contains("ChangessincerevisionA")).expect("the page");
    let (_, list) = pages[page].split_once("Pageswithchanges:").expect("the list");
    let listed = numbers(list.split('.').next().expect("its end"));
    let marked = pages.iter().enumerate().filter(|(at, text)| *at != page && text.contains('Δ'));
    let marked: BTreeSet<usize> = marked.map(|(at, _)| at + 1).collect();
    assert!(marked.len() > 2, "{marked:?}");
    assert_eq!(listed.iter().filter(|no| **no != page + 1).copied().collect::<BTreeSet<_>>(), marked);
    for words in ["2.10kip", "2.4kip", "0.904", "0.960"] {
        assert!(pages[page].contains(words), "{words}: {}", pages[page]);
    }
}

/// The texts of a list that are marked, and those that are not.
fn split<'a, T>(list: &'a [T], changed: impl Fn(&T) -> bool, text: impl Fn(&'a T) -> String) -> [Vec<String>; 2] {
    let (marked, others): (Vec<&T>, Vec<&T>) = list.iter().partition(|it| changed(it));
    [marked, others].map(|part| part.into_iter().map(&text).collect())
}

/// What is marked, exactly, and that others of its kind are not.
#[track_caller]
fn marks([marked, others]: [Vec<String>; 2], wanted: &[&str]) {
    assert_eq!(marked, wanted, "beside {others:?}");
    assert!(!others.is_empty());
}

/// More snow on one post: what the key plan says of it, the sum of the snow, what is handed
/// to the floor below it, its cell among the inputs, and nothing else of these.
#[test]
fn a_load_marks_plan_sums_forces_and_inputs() {
    let job = Job::copy("creek-porch");
    job.set("posts.csv", "P2", "P_S", "2.4");
    let (package, ..) = since(&fixture("creek-porch"), &job.path());
    assert!(package.plan.changed.drawing && package.plan.changed.key.is_empty());
    assert_eq!(package.plan.changed.posts, ["P2"]);
    marks(split(&package.balance, |it| it.changed, |it| it.case.clone()), &["S"]);
    marks(split(&package.handed, |it| it.changed, |it| it.what.clone()), &["download on the floor"]);
    let [marked, others] = split(&package.governing, |it| it.changed, |it| it.name.clone());
    assert!(marked.contains(&"D + S".to_string()) && !others.is_empty(), "{marked:?} {others:?}");
    let posts = package.inputs.iter().find(|file| file.name == "posts.csv").expect("the file");
    let rows: Vec<&str> =
        posts.tables.iter().flat_map(|table| table.changed.iter().map(|at| table.rows[*at][0].as_str())).collect();
    assert!(rows == ["P2"] || rows.len() == 1 && rows[0].starts_with("P_S"), "{rows:?}");
    // What no load moves stays as it was.
    assert!(!package.equilibrium.changed && !package.load_model.changed);
    assert!(package.assumptions.iter().all(|it| !it.changed) && package.inspections.iter().all(|it| !it.changed));
    assert!(package.not_covered.iter().all(|it| !it.changed) && package.sources.iter().all(|it| !it.changed));
    let path = package.load_path.expect("the load path");
    assert!(!path.changed && path.changed_down.is_empty() && path.sideways.iter().all(|it| !it.changed));
}

/// Texts that the job states, what it declares absent, and what stands open.
#[test]
fn assumptions_and_open_questions_are_marked() {
    let job = Job::copy("orchard-pergola");
    let text = job.read("job.toml");
    job.edit("job.toml", "assumptions = [", "assumptions = [\"nobody climbs on the slats\", ");
    let reason = text.lines().find(|line| line.starts_with("L = ")).expect("a reason");
    job.edit("job.toml", reason, "L = \"nobody stands on it\"");
    let p_v = text.lines().find(|line| line.starts_with("p_v = ")).expect("the pressure");
    job.edit("job.toml", p_v, "p_v = \"13 psf\"");
    // Said now, and not taken any more.
    job.edit("job.toml", "[site]\n", "[site]\nK_zt = 1.0\n");
    let (package, ..) = since(&fixture("orchard-pergola"), &job.path());
    let said = |spans: &[socle::package::Span]| match spans {
        [socle::package::Span::Text(text)] => text.clone(),
        _ => "…".into(),
    };
    let [marked, others] = split(&package.assumptions, |it| it.changed, |it| said(&it.text));
    assert_eq!(marked, ["nobody climbs on the slats"]);
    assert!(others.len() > 10);
    marks(split(&package.open.declared, |it| it.changed, |it| it.reason.clone()), &["nobody stands on it"]);
    let decisions = split(&package.open.decisions, |it| it.changed, |it| format!("{}: {}", it.what, it.value));
    assert_eq!(decisions[0].len(), 1, "{decisions:?}");
    assert!(decisions[0][0].contains("13 psf") && decisions[1].len() == 4, "{decisions:?}");
    assert!(package.open.values.iter().all(|it| !it.changed));
    assert!(package.open.assumed.iter().all(|it| !it.changed && it.input != "site.K_zt"));
    // The other way: it is taken again.
    let (package, ..) = since(&job.path(), &fixture("orchard-pergola"));
    marks(split(&package.open.assumed, |it| it.changed, |it| it.input.clone()), &["site.K_zt"]);
}

/// Another wood is another row to confirm, and a stronger wind asks for an inspection
/// more: 143 mph are 110.8 mph for allowable stresses, 141 mph are 109.2.
#[test]
fn rows_to_confirm_and_inspections_are_marked() {
    let of = |speed: &str| {
        let job = Job::copy("orchard-pergola");
        job.edit("job.toml", "V = \"115 mph\"", &format!("V = \"{speed} mph\""));
        let (package, ..) = since(&fixture("orchard-pergola"), &job.path());
        split(&package.inspections, |it| it.changed, |it| it.cite.clone())
    };
    marks(of("143"), &["IBC 2021 1705.12, 1705.12.1; recalled"]);
    let [marked, others] = of("141");
    assert!(marked.is_empty() && others.iter().all(|cite| !cite.contains("1705.12")), "{marked:?} {others:?}");
    let job = Job::copy("creek-porch");
    let text = job.read("posts.csv");
    let grade = if text.contains("No.1") { ("No.1", "No.2") } else { ("No.2", "No.1") };
    job.write("posts.csv", text.replace(grade.0, grade.1));
    let (package, ..) = since(&fixture("creek-porch"), &job.path());
    let [marked, others] = split(&package.open.values, |it| it.changed, |it| it.row.clone());
    assert!(!marked.is_empty() && marked.iter().all(|row| row.contains(grade.1)), "{marked:?}");
    assert!(others.len() > 5, "{others:?}");
}

/// The footing of a sheet: its number, its revision, and whether it has a mark.
fn issued(paper: &Paper) -> Vec<(usize, String, bool)> {
    let of = |page: &Page| {
        let head: Vec<&str> = page.words.iter().filter(|word| word.y < 62.0).map(|word| word.text.as_str()).collect();
        let at = head.iter().position(|word| *word == "Rev.").expect("a revision at the head");
        (page.number, head[at + 1].to_string(), page.body().any(|word| word.text.contains('Δ')))
    };
    paper.pages.iter().map(of).collect()
}

/// The index of sheets: where a part begins, and its revision.
fn index(page: &Page) -> Vec<(usize, String)> {
    let words: Vec<&str> = page.body().map(|word| word.text.as_str()).collect();
    let from = words.windows(2).position(|pair| pair == ["Contents", "and"]).expect("the index");
    let rows = words[from..].windows(2).take_while(|pair| pair[0] != "Before");
    let rows = rows.filter_map(|pair| {
        let number = pair[0].parse().ok()?;
        (pair[1].len() == 1 && pair[1].chars().all(char::is_uppercase)).then(|| (number, pair[1].to_string()))
    });
    rows.collect()
}

/// Sheets that hold a change carry the new revision, others the one before; the index says
/// so of each part. Without anything to compare with there is one revision.
#[test]
fn each_sheet_has_its_revision() {
    let job = Job::copy("creek-porch");
    job.set("posts.csv", "P2", "P_S", "2.4");
    job.edit("job.toml", "[code]", ENTRY).edit("job.toml", "revision = \"A\"", "revision = \"B\"");
    let paper = Paper::with(&job.path(), &["--since".as_ref(), fixture("creek-porch").as_os_str()]);
    let sheets = issued(&paper);
    let last = sheets.len();
    // Cover, page of changes and the page of the digest print the revision itself.
    for (number, revision, marked) in &sheets {
        let prints = *number <= 2 || *number == last;
        assert_eq!(revision, if *marked || prints { "B" } else { "A" }, "sheet {number}");
    }
    assert!(sheets.iter().any(|(_, revision, _)| revision == "A"));
    let page = paper.pages.iter().find(|page| page.body().any(|word| word.text == "Contents")).expect("the index");
    let parts = index(page);
    assert!(parts.len() >= 8, "{parts:?}");
    for (at, (first, revision)) in parts.iter().enumerate() {
        let next = parts.get(at + 1).map_or(last + 1, |(next, _)| *next);
        let new = |from: usize, to: usize| sheets[from - 1..to].iter().any(|(_, revision, _)| revision == "B");
        let surely = new(*first, (next - 1).max(*first));
        let perhaps = new(*first, next.min(last));
        assert!(if revision == "B" { perhaps } else { !surely }, "{first} {revision}: {sheets:?}");
    }
    assert!(parts.iter().any(|(_, revision)| revision == "A") && parts.iter().any(|(_, revision)| revision == "B"));
    let paper = Paper::of(&job.path());
    assert!(issued(&paper).iter().all(|(_, revision, marked)| revision == "B" && !marked));
}

const ENTRY: &str = "[[revisions]]\nno = \"B\"\ndate = \"2026-11-20\"\nwhat = \"the client moved a post\"\n\n[code]";

/// A revision that changes nothing is said, and so is that nothing changed.
#[test]
fn a_revision_without_a_change_is_said() {
    let job = Job::copy("creek-porch");
    let (said, pages) = written(&job, &fixture("creek-porch"));
    assert_eq!(said, "");
    assert!(pages[1].contains("Noinput,sheetorresulthaschanged."), "{}", pages[1]);
    assert!(pages.iter().all(|text| !text.contains('Δ')));

    job.edit("job.toml", "[code]", ENTRY).edit("job.toml", "revision = \"A\"", "revision = \"B\"");
    let (said, pages) = written(&job, &fixture("creek-porch"));
    let message = "revision B is entered, but no input, sheet or result has changed since revision A of 2026-11-02";
    assert!(said.contains(message), "{said}");
    let spaceless = |text: &str| text[1..].replace(' ', "");
    assert!(pages[1].contains(&spaceless(message)) && pages[1].contains("theclientmovedapost"), "{}", pages[1]);

    job.set("posts.csv", "P2", "P_S", "2.4");
    let (said, pages) = written(&job, &fixture("creek-porch"));
    assert_eq!(said, "");
    assert!(pages[1].contains("ThisisrevisionBof2026-11-20"), "{}", pages[1]);
}

/// What is wrong with the earlier job is told as such.
#[test]
fn an_earlier_job_that_does_not_work_is_named() {
    let old = Job::copy("creek-porch");
    old.set("posts.csv", "P2", "P_S", "snow");
    let wrong = |path: &Path| {
        let job = fixture("creek-porch");
        let output = socle(&["package".as_ref(), job.as_os_str(), "--since".as_ref(), path.as_os_str()]);
        assert_eq!(output.status.code(), Some(2));
        stderr(&output)
    };
    let said = wrong(&old.path());
    let named = format!("this is about `{}`, the earlier job that `--since` names", old.path().display());
    assert!(said.contains("`snow`") && said.contains(&named), "{said}");
    let missing = old.path().join("nowhere");
    let said = wrong(&missing);
    assert!(said.contains("there is no folder") && said.contains("the earlier job that `--since` names"), "{said}");
    old.write("old.pdf", "%PDF-1.7");
    let said = wrong(&old.path().join("old.pdf"));
    assert!(said.contains("old.pdf` cannot be read"), "{said}");
    let said = wrong(&old.path().join("posts.csv"));
    assert!(said.contains("posts.csv` is not a PDF"), "{said}");
}
