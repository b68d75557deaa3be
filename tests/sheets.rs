//! How many sheets a package has, how full they are, and that programs that read
//! them aloud or turn them find what is there.

use std::collections::BTreeMap;
use std::path::PathBuf;

use hayro_interpret::hayro_syntax::Pdf;
use hayro_interpret::hayro_syntax::object::{Array, Dict, Name, Object};
use socle::package::Package;

use crate::jobs::{package_in, package_of};
use crate::paper::{Page, Paper};
use crate::support::{JOBS, Job, root};

/// The example jobs, and a carport of eight posts on two kinds of base, with the
/// sheets that each may have.
fn jobs() -> [(PathBuf, usize); 4] {
    let fixture = |name: &str| root().join("fixtures").join(name);
    [
        (fixture("orchard-pergola"), 45),
        (fixture("cart-barn"), 45),
        (fixture("creek-porch"), 25),
        (root().join("tests/carport"), 50),
    ]
}

#[test]
fn packages_keep_to_their_number_of_sheets() {
    let mut long = Vec::new();
    for (job, most) in jobs() {
        let sheets = Paper::of(&job).pages.len();
        println!("{}: {sheets} of {most} sheets", job.display());
        if sheets > most {
            long.push(format!("{}: {sheets} sheets, {most} are allowed", job.display()));
        }
    }
    assert!(long.is_empty(), "{long:#?}");
}

/// The part of the space between header and footer that something stands in.
fn filled(page: &Page) -> f64 {
    const STEP: f64 = 12.0;
    let (top, foot) = (62.0, page.height - 48.0);
    let steps = ((foot - top) / STEP) as usize;
    let mut used = vec![false; steps];
    let words = page.body().map(|word| (word.y - word.size, word.y));
    let shapes = page.shapes.iter().copied().filter(|(from, to)| to - from < foot - top);
    for (from, to) in words.chain(shapes) {
        for (at, used) in used.iter_mut().enumerate() {
            let here = top + at as f64 * STEP;
            *used |= from < here + STEP && to > here;
        }
    }
    used.iter().filter(|used| **used).count() as f64 / steps as f64
}

/// No sheet is nearly empty but the last of a part, which ends where it ends.
#[test]
fn no_sheet_is_nearly_empty() {
    let mut empty = Vec::new();
    for (job, _) in jobs() {
        let paper = Paper::of(&job);
        for pair in paper.pages.windows(2) {
            let (page, next) = (&pair[0], &pair[1]);
            let part = filled(page);
            if part < 1.0 / 3.0 && page.part() == next.part() {
                empty.push(format!("{}, sheet {}: {:.0} percent", job.display(), page.number, 100.0 * part));
            }
        }
    }
    assert!(empty.is_empty(), "{empty:#?}");
}

/// Bookmarks lead to each part and each calculation sheet, under their titles.
#[test]
fn bookmarks_reach_each_sheet() {
    for job in JOBS {
        let paper = Paper::of(&root().join("fixtures").join(job));
        let pdf = lopdf::Document::load(&paper.path).expect("a PDF");
        let marks = pdf.get_toc().expect("bookmarks").toc;
        let marks: BTreeMap<&str, usize> = marks.iter().map(|mark| (mark.title.as_str(), mark.page)).collect();
        let (_, pages) = package_of(job);
        for sheet in &pages.sheets {
            let (title, page) =
                marks.iter().find(|(title, _)| title.starts_with(&sheet.title)).expect("a bookmark of the sheet");
            assert!(paper.page(*page).part().starts_with(&sheet.title), "{job}: {title} leads to sheet {page}");
        }
        for title in
            pages.worked.iter().map(|it| it.title.as_str()).chain(["Summary", "Loads", "Schedules", "Appendix"])
        {
            assert!(marks.contains_key(title), "{job}: no bookmark {title}: {marks:?}");
        }
        // The numbers that a reader shows are those at the foot.
        let catalog = pdf.catalog().expect("a catalog");
        assert!(catalog.has(b"PageLabels"), "{job}: no page labels");
    }
}

/// How many of each kind of element, and of those of which a picture is made, with what is
/// read aloud in its place.
type Tags = BTreeMap<String, (usize, usize)>;

fn tags_by_one(paper: &Paper) -> Tags {
    fn walk(pdf: &lopdf::Document, object: &lopdf::Object, tags: &mut Tags) {
        let Ok((_, object)) = pdf.dereference(object) else { return };
        match object {
            lopdf::Object::Array(all) => all.iter().for_each(|one| walk(pdf, one, tags)),
            lopdf::Object::Dictionary(element) => {
                if let Ok(kind) = element.get(b"S").and_then(lopdf::Object::as_name) {
                    let count = tags.entry(String::from_utf8_lossy(kind).into()).or_default();
                    count.0 += 1;
                    let said = element.get(b"Alt").and_then(|alt| alt.as_str());
                    count.1 += usize::from(said.is_ok_and(|alt| !alt.is_empty()));
                }
                if let Ok(kids) = element.get(b"K") {
                    walk(pdf, kids, tags);
                }
            }
            _ => {}
        }
    }
    let pdf = lopdf::Document::load(&paper.path).expect("a PDF");
    let mut tags = Tags::new();
    walk(&pdf, pdf.catalog().and_then(|it| it.get(b"StructTreeRoot")).expect("a tree of tags"), &mut tags);
    tags
}

fn tags_by_another(paper: &Paper) -> Tags {
    fn walk(object: Object, tags: &mut Tags) {
        match object {
            Object::Array(all) => Array::iter::<Object>(&all).for_each(|one| walk(one, tags)),
            Object::Dict(element) => {
                if let Some(kind) = element.get::<Name>("S") {
                    let count = tags.entry(kind.as_str().into()).or_default();
                    count.0 += 1;
                    let said = element.get::<hayro_interpret::hayro_syntax::object::String>("Alt");
                    count.1 += usize::from(said.is_some_and(|alt| !alt.as_bytes().is_empty()));
                }
                if let Some(kids) = element.get::<Object>("K") {
                    walk(kids, tags);
                }
            }
            _ => {}
        }
    }
    let pdf = Pdf::new(std::fs::read(&paper.path).expect("the package")).expect("a PDF");
    let catalog: Dict = pdf.xref().get(pdf.xref().root_id()).expect("a catalog");
    let mut tags = Tags::new();
    walk(catalog.get::<Object>("StructTreeRoot").expect("a tree of tags"), &mut tags);
    tags
}

/// Every formula and figure is read aloud as words; two readers of PDF find the same.
#[test]
fn formulas_and_figures_are_read_aloud() {
    for job in JOBS {
        let paper = Paper::of(&root().join("fixtures").join(job));
        let tags = tags_by_one(&paper);
        assert_eq!(tags, tags_by_another(&paper), "{job}");
        // What is one line of letters is set as words, which need no other ones.
        for (kind, least) in [("Formula", 40), ("Figure", 3)] {
            let (count, said) = tags[kind];
            assert_eq!(count, said, "{job}: {kind} without words");
            assert!(count >= least, "{job}: {count} of {kind}");
        }
        assert!(tags["H1"].0 > 5 && tags["Table"].0 > 5, "{job}: {tags:?}");
    }
}

/// A thousand posts that are alike take no more sheets than ten: they are worked once, drawn once,
/// and share a row of each table. One list has a row for each of them, `posts.csv` as it was read,
/// with two hundred or more on a sheet.
#[test]
fn posts_that_are_alike_take_no_more_sheets() {
    let job = Job::copy("creek-porch");
    let posts = job.read("posts.csv");
    let mut lines = posts.lines();
    let header = lines.next().expect("a header");
    let row = lines.find(|line| line.starts_with("P2,")).expect("the post");
    let at = header.split(',').position(|name| name.starts_with("x ")).expect("a column");
    let made = |count: usize| {
        let row = |post: usize| {
            let mut cells: Vec<String> = row.split(',').map(String::from).collect();
            cells[0] = format!("P{post}");
            cells[at] = (post as f64 * 1.9).to_string();
            cells.join(",")
        };
        let rows: Vec<String> = (1..=count).map(row).collect();
        job.write("posts.csv", format!("{header}\n{}\n", rows.join("\n")));
        (Paper::of(&job.path()).pages.len(), package_in(&job.path()).0)
    };
    let ((ten, few), (thousand, many)) = (made(10), made(1000));
    println!("{ten} sheets for ten posts, {thousand} for a thousand");
    assert!(thousand <= ten + 1000 / 200, "{thousand} sheets for a thousand posts, {ten} for ten");
    // Rows of each table, the list aside.
    let rows = |it: &Package| {
        let schedules = it.schedules.iter().map(|table| (table.title.clone(), table.rows.len()));
        let reactions = it.reactions.iter().map(|table| ("reactions".into(), table.columns.len()));
        let others = [("summary", it.summary.len()), ("key plan", it.plan.posts.len()), ("kinds", it.plan.key.len())];
        let inputs = it.inputs.iter().filter(|file| file.name != "posts.csv");
        let inputs = inputs.map(|file| (file.name.clone(), file.tables.iter().map(|table| table.rows.len()).sum()));
        let all = others.map(|(name, rows)| (name.to_string(), rows)).into_iter();
        all.chain(schedules).chain(reactions).chain(inputs).collect::<Vec<(String, usize)>>()
    };
    let (few, many) = (rows(&few), rows(&many));
    for ((name, few), (_, many)) in few.iter().zip(&many) {
        assert!(many <= &(*few).max(1), "{name}: {many} rows for a thousand posts, {few} for ten");
    }
    assert_eq!(few.len(), many.len());
}
