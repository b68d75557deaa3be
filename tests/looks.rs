//! Every page as a tired reader sees it, on jobs of other kinds than the examples: no
//! page that is nearly empty, no heading at the foot of one, no count with decimals, no
//! number that runs away, nothing said twice.

use std::collections::BTreeSet;
use std::path::PathBuf;

use serde_json::Value;
use socle::package::{Line, Pages};

use crate::jobs::{self, package_in, package_of};
use crate::paper::{Page, Paper};
use crate::support::{JOBS, Job, root};

/// The jobs that a second method works: slabs, pads, floors, cantilevers, given reactions.
fn others() -> Vec<PathBuf> {
    ["cantilevers", "knife-pier", "plates-slab", "porch-floor", "rated-pad", "reinforced-pier"]
        .iter()
        .map(|name| root().join("tests/whole").join(name))
        .collect()
}

fn all() -> Vec<PathBuf> {
    let fixtures = JOBS.iter().map(|name| root().join("fixtures").join(name));
    fixtures.chain(others()).chain([root().join("tests/carport")]).collect()
}

/// The carport with faults of many kinds.
fn failing() -> Job {
    let job = Job::copy_from("tests", "carport");
    job.edit("job.toml", "frost = \"36 in\"", "frost = \"80 in\"");
    job.set("bases.csv", "knife 8", "weld", "1/8").set("bases.csv", "strap 8", "weld", "1/8");
    job.set("bases.csv", "strap 8", "screw_length", "2").set("bases.csv", "knife 8", "pin_end", "2");
    job.set("foundations.csv", "pier 18", "n_bars", "4").set("foundations.csv", "pier 18", "tie_spacing", "14");
    job
}

/// The part of the space between header and footer that words stand in.
fn filled(page: &Page) -> f64 {
    const STEP: f64 = 12.0;
    let (top, foot) = (62.0, page.height - 48.0);
    let steps = ((foot - top) / STEP) as usize;
    let used = |at: &usize| {
        let here = top + *at as f64 * STEP;
        page.body().any(|word| word.y - word.size < here + STEP && word.y > here)
    };
    (0..steps).filter(used).count() as f64 / steps as f64
}

#[test]
fn no_page_of_another_job_is_nearly_empty() {
    let failing = failing();
    let mut empty = Vec::new();
    for job in all().into_iter().chain([failing.path()]) {
        for page in &Paper::of(&job).pages {
            let part = filled(page);
            if part < 0.2 {
                empty.push(format!("{}, sheet {}: {:.0} percent", job.display(), page.number, 100.0 * part));
            }
        }
    }
    assert!(empty.is_empty(), "{empty:#?}");
}

/// Below each heading stands something on its page.
#[test]
fn no_heading_is_the_last_on_its_page() {
    let mut stranded = Vec::new();
    for job in others() {
        let paper = Paper::of(&job);
        let pdf = lopdf::Document::load(&paper.path).expect("a PDF");
        for mark in pdf.get_toc().expect("bookmarks").toc {
            let page = paper.page(mark.page);
            let last: String = mark.title.split_whitespace().last().unwrap_or("").into();
            let heads = page.body().filter(|word| word.size > 9.4 && word.text.ends_with(&last));
            let title = heads.map(|word| word.y).fold(0.0, f64::max);
            if title > 0.0 && !page.body().any(|word| word.y > title + 4.0) {
                stranded.push(format!("{}, sheet {}: {}", job.display(), mark.page, mark.title));
            }
        }
    }
    assert!(stranded.is_empty(), "{stranded:#?}");
}

fn array<'a>(value: &'a Value, name: &str) -> &'a [Value] {
    value[name].as_array().map_or(&[], Vec::as_slice)
}

/// The lines of the worked pages of a job, as a template reads them.
fn lines(pages: &Pages) -> Vec<Value> {
    jobs::lines(pages).map(|line| serde_json::to_value(line).expect("JSON")).collect()
}

/// What a line says, without its symbols.
fn words(line: &Value) -> String {
    array(line, "say").iter().filter_map(|span| span["markup"].as_str().or(span["text"].as_str())).collect()
}

/// What is counted: a number of these is whole, and is printed so.
const COUNTED: [&str; 10] =
    ["anchors", "cut faces", "bars", "screws", "bolts", "pins", "fasteners", "rows", "bays", "ties"];

#[test]
fn a_number_of_things_is_whole() {
    let (mut seen, mut broken) = (0, BTreeSet::new());
    for job in all() {
        let (_, pages) = package_in(&job);
        for line in lines(&pages) {
            let words = words(&line);
            let counts = COUNTED.iter().any(|it| words.starts_with(&format!("{it} ")) || words == *it);
            for row in array(&line, "rows").iter().filter(|_| counts) {
                let number = row["value"]["number"].as_str().unwrap_or("");
                if row["value"]["unit"] == "" && number.parse::<f64>().is_ok_and(|number| number.fract() == 0.0) {
                    seen += 1;
                    if number.contains('.') {
                        broken.insert(format!("{words}: {number}"));
                    }
                }
            }
        }
    }
    assert!(broken.is_empty() && seen > 10, "{seen} counts; {broken:#?}");
}

/// What comes out of a line has four digits, or as many as a file says; what was read
/// between two rows of a table, worked out in other lines or converted is no exception.
#[test]
fn a_result_has_four_digits() {
    let (mut seen, mut long) = (0, BTreeSet::new());
    for job in all().into_iter().chain([root().join("tests/metric")]) {
        let (_, pages) = package_in(&job);
        for line in lines(&pages).iter().filter(|line| line["kind"] != "facts") {
            // A row of a table that is read as it stands has the digits of its file.
            let read = |row: &&Value| row["ends"].as_array().is_some_and(Vec::is_empty);
            for row in array(line, "rows").iter().filter(|row| !read(row)) {
                let values = array(row, "values").iter().chain([row]);
                for number in values.filter_map(|it| it["value"]["number"].as_str()).filter(|it| it.contains('.')) {
                    let digits = number.trim_start_matches(['−', '0', '.']).chars().filter(char::is_ascii_digit);
                    seen += 1;
                    if digits.count() > 5 {
                        long.insert(format!("{}: {number}", words(line)));
                    }
                }
            }
        }
    }
    assert!(long.is_empty() && seen > 1000, "{seen} numbers; {long:#?}");
}

/// A limit, or a line of a table of them, does not stand alone at the head of a page.
#[test]
fn no_row_of_the_limits_under_half_is_alone_on_its_page() {
    let (mut tables, mut alone) = (0, Vec::new());
    for job in all() {
        for page in &Paper::of(&job).pages {
            let head = page.body().find(|word| word.text == "Governs").map(|word| word.y);
            let Some(head) = head else { continue };
            let end = page.body().filter(|word| word.text == "goes" && word.y > head).map(|word| word.y);
            let end = end.fold(f64::INFINITY, f64::min);
            let rows = page.body().filter(|word| word.y > head && word.y < end && word.text.starts_with("B."));
            tables += 1;
            if rows.count() < 3 {
                alone.push(format!("{}, sheet {}", job.display(), page.number));
            }
        }
    }
    assert!(alone.is_empty() && tables > 10, "{tables} tables; {alone:#?}");
}

/// A number that fails to go together says in which unit it was found, and what would.
#[test]
fn what_does_not_go_together_has_its_unit_and_one_line() {
    let job = Job::copy_from("tests/whole", "porch-floor");
    let (package, pages) = package_in(&job.path());
    let fails = &package.verdict.failures[0];
    let all = lines(&pages);
    let worked = all.iter().find(|line| line["no"] == fails.line.as_str()).expect("the line that the cover names");
    let row = &worked["rows"][0];
    for side in ["demand", "capacity"] {
        let said = row[side]["value"]["number"].as_str().expect("a number");
        assert!(said.ends_with(" in"), "{side}: {said}");
    }
    let listed = pages.worked.iter().flat_map(|chapter| &chapter.fits).any(|fit| !fit.fails.is_empty());
    assert!(!listed, "what is worked is listed again");
    let row = package.summary.iter().find(|row| !row.ok).expect("a post that is not met");
    assert!(row.met < row.limits, "{} of {}", row.met, row.limits);
}

/// Of metric drawings, ISO 5455 has 1, 2 and 5 by tens.
#[test]
fn a_metric_rule_has_the_scales() {
    let (package, _) = package_in(&root().join("tests/metric"));
    let text = serde_json::to_string(&package).expect("JSON");
    let scales: BTreeSet<&str> = text.split("\"1:").skip(1).filter_map(|rest| rest.split([',', '"']).next()).collect();
    let usual = |scale: &&str| ["1", "2", "5"].contains(&scale.trim_end_matches('0'));
    assert!(scales.len() > 1 && scales.iter().all(usual), "{scales:?}");
}

/// What is left where two forces cancel is nothing, and no number has more digits than
/// a calculator takes.
#[test]
fn no_number_runs_away() {
    let mut long = BTreeSet::new();
    for job in all() {
        let (_, pages) = package_in(&job);
        let text: String = lines(&pages).iter().map(Value::to_string).collect();
        let numbers = text.split(|letter: char| !letter.is_ascii_digit() && letter != '.');
        long.extend(numbers.filter(|it| it.starts_with("0.000000000")).map(String::from));
    }
    assert!(long.is_empty(), "{long:#?}");
}

/// A limit that many posts do not meet stands once, with all of them.
#[test]
fn what_is_not_met_is_said_once() {
    let job = failing();
    let failures = package_in(&job.path()).0.verdict.failures;
    let said: BTreeSet<_> = failures.iter().map(|it| (&it.line, &it.limit, &it.remedy)).collect();
    assert_eq!(said.len(), failures.len());
    let several = failures.iter().filter(|it| it.marks.contains(", ")).count();
    assert!(several > 2, "{:?}", failures.iter().map(|it| (&it.limit, &it.marks)).collect::<Vec<_>>());
}

/// However many they are: each stands on the sheet of its post, on the cover's list and
/// on hold, and what a post fails twice is counted twice.
#[test]
fn all_that_is_not_met_stands_on_the_sheet_of_its_post() {
    let job = failing();
    job.edit("job.toml", "V = \"115 mph\"", "V = \"190 mph\"");
    let (package, pages) = package_in(&job.path());
    let mut most = 0;
    for sheet in &pages.sheets {
        let (limits, fits) = (sheet.all - sheet.met, sheet.fits - sheet.fits_met);
        assert_eq!(sheet.limits.iter().filter(|it| !it.row.ok).count(), limits, "{}", sheet.title);
        assert_eq!(sheet.unfit.len(), fits, "{}", sheet.title);
        for limit in sheet.limits.iter().filter(|it| !it.combination.is_empty()) {
            assert!(sheet.forces.iter().any(|it| it.head.what == limit.combination), "{}", limit.combination);
        }
        most = most.max(limits + fits);
        let hold = package.shop.iter().find(|page| page.kinds.iter().flatten().any(|it| it.contains(&sheet.marks[0])));
        if let Some(page) = hold {
            assert!(page.hold.len() >= limits + fits, "{}: {}", sheet.title, page.hold.len());
        }
    }
    assert!(most > 10, "{most}");
    assert!(package.verdict.failures.len() >= most);
}

/// The index names pages on which a clause is printed, and the publication of each.
#[test]
fn the_index_of_clauses_leads_to_where_they_are_printed() {
    for job in JOBS {
        let (package, pages) = package_of(job);
        let given: BTreeSet<String> = jobs::lines(&pages)
            .filter_map(|line| if let Line::Facts { items, .. } = line { Some(items) } else { None })
            .flatten()
            .map(|item| item.no.clone())
            .collect();
        assert!(!given.is_empty());
        for of in &package.clauses {
            for clause in &of.clauses {
                assert!(clause.lines.iter().all(|no| !given.contains(no)), "{job}: {} {}", of.publication, clause.cite);
                let bare = clause.cite.starts_with(|c: char| c.is_ascii_digit()) || clause.cite.starts_with("App. ");
                assert!(of.publication != "Other sources" || !bare, "{job}: {}", clause.cite);
            }
        }
    }
}

/// Where a size that does not fit governs a post, what loads press on most is worked
/// as well: else nothing of the post would be.
#[test]
fn what_loads_press_on_most_is_worked_for_a_post_that_does_not_fit() {
    let job = Job::copy_from("tests/whole", "rated-pad");
    job.set("bases.csv", "shoe 8", "seat_max", "7.4");
    let (package, pages) = package_in(&job.path());
    let numbers: BTreeSet<String> =
        lines(&pages).iter().filter_map(|line| line["no"].as_str().map(String::from)).collect();
    for sheet in &pages.sheets {
        let driven = sheet.limits.iter().find(|limit| limit.row.ok).expect("a limit that is met");
        assert!(numbers.contains(&driven.line), "{}: {} is not worked", sheet.title, driven.line);
    }
    assert!(package.summary.iter().any(|row| !row.ok));
}

/// What does not apply is said in words, of what no load can change, and for the posts that
/// it does not apply to.
#[test]
fn what_does_not_apply_is_said_in_words() {
    let mut seen = 0;
    for job in all() {
        let (package, pages) = package_in(&job);
        let rows: Vec<_> = pages.worked.iter().flat_map(|chapter| &chapter.skipped).collect();
        for row in &rows {
            assert!(!row.sheets.is_empty(), "{}", job.display());
            let text = serde_json::to_string(&row.says).expect("JSON");
            assert!(!text.contains("= ") && !text.contains("not so"), "{}: {}: {text}", job.display(), row.sheets[0]);
            seen += 1;
        }
        // Several sheets ask for one thing: it is said once.
        let said: BTreeSet<_> =
            rows.iter().map(|row| (serde_json::to_string(&row.says).expect("JSON"), &row.posts)).collect();
        assert_eq!(said.len(), rows.len(), "{}", job.display());
        let posts: BTreeSet<&String> = package.groups.iter().flat_map(|group| &group.marks).collect();
        assert!(!posts.is_empty());
    }
    assert!(seen > 100, "{seen}");
    let (_, pages) = package_in(&root().join("fixtures/orchard-pergola"));
    let rows = &pages.worked[0].skipped;
    let says = |sheet: &str, what: &str| {
        let mut of = rows.iter().filter(|row| row.sheets.iter().any(|title| title == sheet));
        let found = of.find(|it| serde_json::to_string(&it.says).expect("JSON").contains(what));
        found.map(|it| it.posts.clone())
    };
    // Both kinds of wood: redwood is not incised.
    assert_eq!(says("Design values of the post", "incised"), Some("posts B1, B3".into()));
    assert_eq!(says("Design values of the post", "not beams"), Some(String::new()));
    // A force normal to the blade comes with some combinations: what it asks for is worked.
    assert_eq!(says("A blade in a slot, held by pins", ""), None);
}

/// What stands under a mark on the key plan is no other mark: `T1/F1`, and the key has both.
#[test]
fn the_key_of_the_plan_looks_like_no_post() {
    for job in all() {
        let (package, _) = package_in(&job);
        for (mark, _) in &package.plan.key {
            let number = mark.strip_prefix(['T', 'F']).and_then(|rest| rest.parse::<usize>().ok());
            assert!(number.is_some(), "{}: {mark}", job.display());
        }
    }
}
