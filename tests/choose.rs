//! `choose` against the plain way: `posts.csv` written with each choice in turn, and checked.

use std::collections::BTreeMap;
use std::path::Path;

use proptest::prelude::*;
use socle::choose::{Change, changed};
use socle::engine::{self, ROOT, Root};
use socle::load::load;

use crate::support::{JOBS, Job, cases, one_line, socle, stderr, stdout};

const COLUMNS: [&str; 3] = ["base", "foundation", "anchor"];

fn run(job: &Job, args: &[&str]) -> std::process::Output {
    let path = job.path().display().to_string();
    socle(&[&["choose", &path], args].concat())
}

/// What `choose --csv` prints, a map a row.
fn tried(job: &Job, args: &[&str]) -> Vec<BTreeMap<String, String>> {
    let output = run(job, &[&["--csv"], args].concat());
    assert!(matches!(output.status.code(), Some(0 | 1)), "{}", stderr(&output));
    let text = stdout(&output);
    csv::Reader::from_reader(text.as_bytes()).deserialize().map(|row| row.expect("a row")).collect()
}

/// The cells of a file, by whatever separates them.
fn cells(text: &str) -> (u8, Vec<Vec<String>>) {
    let text = text.trim_start_matches('\u{feff}');
    let separator = if text.lines().next().expect("headings").contains(';') { b';' } else { b',' };
    let mut reader =
        csv::ReaderBuilder::new().has_headers(false).flexible(true).delimiter(separator).from_reader(text.as_bytes());
    (separator, reader.records().map(|row| row.expect("a row").iter().map(String::from).collect()).collect())
}

/// `posts.csv` in which a post has another choice.
fn with(text: &str, mark: &str, chosen: [&str; 3]) -> Vec<u8> {
    let (separator, mut rows) = cells(text);
    for (column, name) in COLUMNS.iter().zip(chosen) {
        let Some(at) = rows[0].iter().position(|heading| heading == column) else {
            assert!(name.is_empty(), "no column {column}");
            continue;
        };
        rows.iter_mut().filter(|row| row[0] == mark).for_each(|row| row[at] = name.into());
    }
    let mut writer = csv::WriterBuilder::new().delimiter(separator).from_writer(Vec::new());
    rows.iter().for_each(|row| writer.write_record(row).expect("memory"));
    writer.into_inner().expect("memory")
}

/// Verdict and ratio of what governs a post; none where the job cannot be worked.
fn checked(folder: &Path, mark: &str) -> Option<(bool, Option<f64>)> {
    let loaded = load(folder, None, true).ok()?;
    let root = Root::new(&loaded.job, &loaded.library, ROOT, None).expect("a root");
    let results = engine::work_job(&root, &|_, _| {}).ok()?;
    let at = loaded.job.posts.iter().position(|post| post.mark == mark).expect("the post");
    let group = &results.groups[results.group_of[at]];
    let ratio = group.governing().and_then(|limit| limit.ratio()).filter(|ratio| ratio.is_finite());
    Some((group.ok(), ratio))
}

/// Holds all that was tried to what comes of it when it is written.
fn compare(job: &Job) -> [usize; 3] {
    let posts = job.read("posts.csv");
    let mut seen = [0; 3];
    for row in tried(job, &[]) {
        let chosen = COLUMNS.map(|column| row[column].as_str());
        job.write("posts.csv", with(&posts, &row["mark"], chosen));
        let wanted = match row["verdict"].as_str() {
            "not worked" => None,
            verdict => Some((verdict == "met", row["ratio"].parse::<f64>().ok())),
        };
        let found = checked(&job.path(), &row["mark"]);
        let close = match (wanted, found) {
            (Some((ok, Some(a))), Some((other, Some(b)))) => ok == other && (a - b).abs() <= 1e-9 * a.abs().max(1.0),
            (wanted, found) => wanted == found,
        };
        assert!(close, "{row:?}: {found:?}");
        seen[wanted.map_or(2, |(ok, _)| usize::from(!ok))] += 1;
    }
    job.write("posts.csv", &posts);
    seen
}

#[test]
fn every_choice_comes_out_as_it_does_when_it_is_written() {
    let mut all = [0; 3];
    for name in JOBS {
        let job = Job::copy(name);
        if name == "creek-porch" {
            // A row that lacks a value.
            more_rows(&job, "bases.csv", "foot 6", &[("uplift", vec![String::new()])]);
        }
        let seen = compare(&job);
        println!("{name}: {seen:?}");
        all.iter_mut().zip(seen).for_each(|(all, seen)| *all += seen);
    }
    assert!(all.iter().all(|many| *many > 0), "some pass, some fail, some cannot be worked: {all:?}");
}

/// A catalogue with more rows, each like one that is there but for a few sizes.
fn more_rows(job: &Job, file: &str, like: &str, changes: &[(&str, Vec<String>)]) {
    let text = job.read(file);
    let (_, mut rows) = cells(&text);
    let model = rows.iter().find(|row| row[0] == like).expect("the row").clone();
    let many = changes[0].1.len();
    for no in 0..many {
        let mut row = model.clone();
        row[0] = format!("{like}, more {no}");
        for (column, values) in changes {
            let at = rows[0].iter().position(|heading| heading.split(" [").next() == Some(column)).expect("a column");
            row[at] = values[no].clone();
        }
        rows.push(row);
    }
    let mut writer = csv::Writer::from_writer(Vec::new());
    rows.iter().for_each(|row| writer.write_record(row).expect("memory"));
    job.write(file, writer.into_inner().expect("memory"));
}

proptest! {
    #![proptest_config(cases(3))]

    /// Bases of a random catalogue: sizes of pins, plates and standoffs, on which loads depend too.
    #[test]
    fn random_catalogues(
        pins in proptest::collection::vec(3..7_u32, 3),
        tops in proptest::collection::vec(4..9_u32, 3),
        standoffs in proptest::collection::vec(4..10_u32, 3),
    ) {
        let job = Job::copy("orchard-pergola");
        let eighths = |sizes: &[u32], of: f64| sizes.iter().map(|size| format!("{}", f64::from(*size) / of)).collect();
        more_rows(&job, "bases.csv", "knife 8", &[
            ("blade_width", eighths(&pins, 1.0)),
            ("blade_top", eighths(&tops, 4.0)),
            ("standoff", eighths(&standoffs, 4.0)),
        ]);
        let seen = compare(&job);
        prop_assert!(seen[0] + seen[1] > 20, "{seen:?}");
    }
}

/// What the post has now is among what was tried, and comes out as `check` says.
#[test]
fn what_is_chosen_now_is_as_in_check() {
    for name in JOBS {
        let job = Job::copy(name);
        let rows = tried(&job, &[]);
        for post in job.check_json()["posts"].as_array().expect("posts") {
            let mark = post["mark"].as_str().expect("a mark");
            let now: Vec<_> = rows.iter().filter(|row| row["mark"] == mark && row["now"] == "yes").collect();
            assert_eq!(now.len(), 1, "{mark}");
            assert_eq!(now[0]["verdict"] == "met", post["ok"] == true);
            assert_eq!(checked(&job.path(), mark).expect("worked").1, now[0]["ratio"].parse().ok());
        }
    }
}

#[test]
fn the_table_fits_and_says_what_stops_the_rest() {
    let job = Job::copy("cart-barn");
    for args in [&[][..], &["--all"], &["--by", "kinds"], &["--post", "D2", "--most", "1"]] {
        let output = run(&job, args);
        assert_eq!(output.status.code(), Some(0), "{}{}", stdout(&output), stderr(&output));
        for line in stdout(&output).lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
    }
    let text = one_line(&stdout(&run(&job, &["--post", "D2"])));
    assert!(text.contains("NOT MET, now") && text.contains("number of anchors"), "{text}");
}

/// Fewest kinds by trying every set of rows, the plain way.
#[test]
fn fewest_kinds_are_no_more_than_needed() {
    let job = Job::copy("orchard-pergola");
    more_rows(&job, "bases.csv", "knife 8", &[("seat_thick", vec!["3/4".into(), "7/8".into()])]);
    let rows = tried(&job, &["--by", "kinds"]);
    let mut posts: BTreeMap<&str, Vec<Vec<(usize, &str)>>> = BTreeMap::new();
    for row in rows.iter().filter(|row| row["verdict"] == "met") {
        let chosen = COLUMNS.iter().enumerate().map(|(at, column)| (at, row[*column].as_str()));
        posts.entry(&row["mark"]).or_default().push(chosen.filter(|(_, name)| !name.is_empty()).collect());
    }
    let mut known: Vec<(usize, &str)> = posts.values().flatten().flatten().copied().collect();
    known.sort_unstable();
    known.dedup();
    let holds = |set: u32| {
        let has = |row: &(usize, &str)| known.iter().position(|it| it == row).is_some_and(|at| set >> at & 1 == 1);
        posts.values().all(|choices| choices.iter().any(|rows| rows.iter().all(has)))
    };
    let least = (0..1_u32 << known.len()).filter(|set| holds(*set)).map(u32::count_ones).min().expect("a set");
    // The first of each post is its choice.
    let mut used: Vec<(usize, &str)> = posts.values().flat_map(|choices| choices[0].clone()).collect();
    used.sort_unstable();
    used.dedup();
    assert_eq!(used.len() as u32, least, "{used:?}");
    let text = one_line(&stdout(&run(&job, &["--by", "kinds"])));
    assert!(text.contains(&format!("{least} kinds: ")) && text.contains("no fewer rows"), "{text}");
}

/// A column of the user's own puts the cheapest first; a row without it is named with its place.
#[test]
fn a_column_puts_the_least_sum_first() {
    let job = Job::copy("creek-porch");
    for (file, costs) in [("bases.csv", ["41.50", "28"]), ("foundations.csv", ["0", "0"])] {
        let text = job.read(file);
        let mut next = costs.iter();
        let priced: String = text
            .lines()
            .enumerate()
            .map(|(at, line)| match at {
                0 => format!("{line},my cost\n"),
                _ => format!("{line},{}\n", next.next().expect("a cost")),
            })
            .collect();
        job.write(file, priced);
    }
    let rows = tried(&job, &["--by", "cost"]);
    for pair in rows.windows(2).filter(|pair| pair[0]["mark"] == pair[1]["mark"] && pair[1]["verdict"] == "met") {
        let cost = |row: &BTreeMap<String, String>| row["cost"].parse::<f64>().expect("a sum");
        assert!(cost(&pair[0]) <= cost(&pair[1]), "{pair:?}");
    }
    assert!(rows.iter().any(|row| row["cost"] == "41.5") && rows.iter().any(|row| row["cost"] == "28"), "{rows:?}");
    for (from, to, wanted) in [
        (",28\n", ",\n", "the base `foot 4` has nothing in the column `my cost` of `bases.csv`"),
        (",28\n", ",cheap\n", "`my cost` of the base `foot 4`: found `cheap`; expected a number"),
    ] {
        let text = job.read("bases.csv");
        job.write("bases.csv", text.replacen(from, to, 1));
        let output = run(&job, &["--by", "my cost"]);
        assert_eq!(output.status.code(), Some(2));
        let said = stderr(&output);
        assert!(said.contains(wanted) && said.contains("bases.csv:3:"), "{said}");
        job.write("bases.csv", text);
    }
    let said = stderr(&run(&job, &["--by", "weight"]));
    assert!(said.contains("`bases.csv` has no column `weight`"), "{said}");
}

/// The best of each post is written, and a post for which nothing passes writes nothing.
#[test]
fn the_best_is_written() {
    let job = Job::copy("cart-barn");
    let before = std::fs::read(job.path().join("posts.csv")).expect("a file");
    let output = run(&job, &["--write", "--post", "D2"]);
    assert_eq!(output.status.code(), Some(0), "{}{}", stdout(&output), stderr(&output));
    let said = stdout(&output);
    assert!(said.contains("D2: base \"side plate 8, one anchor\" → \""), "{said}");
    let after = std::fs::read(job.path().join("posts.csv")).expect("a file");
    let differ = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("UTF-8");
    for (old, new) in differ(&before).split_inclusive('\n').zip(differ(&after).split_inclusive('\n')) {
        assert!(old == new || old.starts_with("D2;"), "{old}{new}");
    }
    assert_eq!(job.check_json()["ok"], true);
    // Nothing holds a post whose base is too weak for it.
    let job = Job::copy("creek-porch");
    job.set("bases.csv", "foot 6", "uplift", "0.1").set("bases.csv", "foot 4", "uplift", "0.1");
    let before = job.read("posts.csv");
    let output = run(&job, &["--write"]);
    assert_eq!(output.status.code(), Some(1));
    let said = one_line(&stdout(&output));
    assert!(said.contains("nothing passes; nearest is foot 6 / rim beam (now), stopped by"), "{said}");
    assert!(said.contains("Nothing was written."), "{said}");
    assert_eq!(job.read("posts.csv"), before);
}

fn change(mark: &str, column: &'static str, new: &str) -> Change {
    Change { mark: mark.into(), column, old: String::new(), new: new.into() }
}

/// Every byte outside the cells stays.
#[test]
fn other_bytes_stay() {
    let changes = [change("A1", "base", "new one"), change("A2", "anchor", "rod 5/8"), change("A2", "base", "x;y,z")];
    for (before, after) in [
        // Line ends, a comment, a blank line, blanks round cells, no line end at the end.
        (
            "mark,base , anchor\r\n# A1,no\r\n A1 , old ,\r\n\r\nA2,old,rod 1/2",
            "mark,base , anchor\r\n# A1,no\r\n A1 , new one ,\r\n\r\nA2,\"x;y,z\",rod 5/8",
        ),
        // Quotes, doubled ones too, stay; a cell in quotes is written in quotes.
        (
            "\"mark\",\"my \"\"note\"\"\",base,anchor\nA1,\"a, b\",\"old, one\",\"\"\nA2,\"c\"\"d\",\"old\",\n",
            "\"mark\",\"my \"\"note\"\"\",base,anchor\nA1,\"a, b\",\"new one\",\"\"\nA2,\"c\"\"d\",\"x;y,z\",rod 5/8\n",
        ),
        // Semicolons, a mark of the encoding, a title above the headings, blank rows below.
        (
            "\u{feff}Posts of the barn;;\nmark;base;anchor\nA1;old;\nA2;old;rod 1/2\n;;\n;;\n",
            "\u{feff}Posts of the barn;;\nmark;base;anchor\nA1;new one;\nA2;\"x;y,z\";rod 5/8\n;;\n;;\n",
        ),
        // Tabs, and a row that ends before its last cells.
        (
            "mark\tx\tbase\tanchor\nA1\t0\told\nA2\t1\n",
            "mark\tx\tbase\tanchor\nA1\t0\tnew one\nA2\t1\tx;y,z\trod 5/8\n",
        ),
    ] {
        let made =
            changed("posts.csv", before.as_bytes(), &changes).unwrap_or_else(|wrong| panic!("{before}: {wrong:?}"));
        assert_eq!(String::from_utf8(made).expect("UTF-8"), after);
    }
}

/// Files of other encodings come back in them, or are refused.
#[test]
fn encodings_stay() {
    let text = "mark,base,note\nA1,old,Müller\n";
    let new = text.replace("old", "neü");
    let windows = |text: &str| encoding(text, |c| vec![u8::try_from(u32::from(c)).expect("Latin")]);
    let wide = |text: &str| encoding(&format!("\u{feff}{text}"), |c| (u32::from(c) as u16).to_le_bytes().to_vec());
    let wide_big = |text: &str| encoding(&format!("\u{feff}{text}"), |c| (u32::from(c) as u16).to_be_bytes().to_vec());
    let to = [change("A1", "base", "neü")];
    for made in [&windows as &dyn Fn(&str) -> Vec<u8>, &wide, &wide_big] {
        assert_eq!(changed("posts.csv", &made(text), &to).expect("changed"), made(&new));
    }
    let refused = changed("posts.csv", &windows(text), &[change("A1", "base", "½ → 1")]).expect_err("no such letter");
    assert!(refused[0].message.contains("cannot be changed safely"), "{refused:?}");
    // Half a letter of two bytes is none.
    let mut broken = wide(text);
    broken.push(0);
    assert!(changed("posts.csv", &broken, &to).is_err());
    let no_column = changed("posts.csv", text.as_bytes(), &[change("A1", "anchor", "rod")]).expect_err("no column");
    assert!(no_column[0].message.contains("there is no column `anchor` to write `rod` into"), "{no_column:?}");
}

fn encoding(text: &str, bytes: impl Fn(char) -> Vec<u8>) -> Vec<u8> {
    text.chars().flat_map(bytes).collect()
}
