//! What `check --json` says against what stands on paper: demands, capacities and
//! ratios, counts, the verdict, forces handed on, nominal reactions.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use serde_json::Value;
use socle::package::{Line, Package, Pages, Span, Worked};

use crate::jobs::package_in;
use crate::lines::derived_in;
use crate::paper::{Page, Paper, Word};
use crate::support::{JOBS, root, socle, stderr};

/// A number as it is printed, with half of its last digit.
#[derive(Debug)]
struct Number {
    value: f64,
    half: f64,
}

impl Number {
    fn read(word: &str) -> Option<Number> {
        let bare = word.trim_matches(|c: char| "()[];:=".contains(c)).trim_end_matches([',', '.']);
        let plain = bare.replace(',', "").replace('−', "-");
        let plain = plain.strip_prefix('+').unwrap_or(&plain);
        if let Some((top, below)) = plain.split_once(['/', '⁄']) {
            let (top, below): (f64, f64) = (top.parse().ok()?, below.parse().ok()?);
            return Some(Number { value: top / below, half: 0.0 });
        }
        let decimals = plain.split_once('.').map_or(0, |(_, decimals)| decimals.len());
        if !plain.starts_with(|c: char| c == '-' || c.is_ascii_digit()) {
            return None;
        }
        let value: f64 = plain.parse().ok()?;
        // A result has four digits: 20,202 is printed 20,200.
        let digits = plain.bytes().filter(u8::is_ascii_digit).count();
        let beyond = if decimals == 0 && plain.ends_with('0') { digits.saturating_sub(4) } else { 0 };
        let last = i32::try_from(beyond).ok()? - i32::try_from(decimals).ok()?;
        Some(Number { value, half: 0.5 * 10f64.powi(last) })
    }

    /// It is this value, rounded as it is printed.
    fn rounds(&self, value: f64) -> bool {
        (self.value - value).abs() <= self.half * (1.0 + 1e-6) + 1e-9 * value.abs()
    }

    /// The same, and to three digits at least.
    fn is(&self, value: f64) -> bool {
        self.rounds(value) && ((self.value - value).abs() <= 0.006 * value.abs() || value.abs() < 1e-9)
    }

    /// Demand or capacity, or a ratio with its three decimals.
    fn shows(&self, name: &str, value: f64) -> bool {
        if name == "ratio" { (self.half - 0.0005).abs() < 1e-12 && self.rounds(value) } else { self.is(value) }
    }
}

/// The numbers of some words; a fraction goes with the whole number before it.
fn numbers(words: &[&Word]) -> Vec<Number> {
    let mut found: Vec<Number> = Vec::new();
    let mut whole: Option<f64> = None;
    for word in words {
        let Some(number) = Number::read(&word.text) else {
            whole = None;
            continue;
        };
        let fraction = word.text.contains(['/', '⁄']);
        if let (true, Some(whole)) = (fraction, whole) {
            found.push(Number { value: whole + number.value, half: 0.0 });
        }
        whole = (!fraction).then_some(number.value);
        found.push(number);
    }
    found
}

struct Read {
    job: String,
    json: Value,
    paper: Paper,
    package: Package,
    pages: Pages,
}

fn read(folder: &Path, full: bool) -> Read {
    let output = socle(&["check".as_ref(), folder.as_os_str(), "--json".as_ref()]);
    assert!(matches!(output.status.code(), Some(0 | 1)), "{}", stderr(&output));
    let json = serde_json::from_slice(&output.stdout).expect("JSON");
    let args: &[&str] = if full { &["--full"] } else { &[] };
    let (package, pages) = package_in(folder);
    let job = folder.file_name().expect("a name").to_string_lossy().into_owned();
    Read { job, json, paper: Paper::with(folder, args), package, pages }
}

fn jobs() -> Vec<PathBuf> {
    let fixtures = JOBS.iter().map(|name| root().join("fixtures").join(name));
    fixtures.chain([root().join("tests/carport")]).collect()
}

fn list<'a>(value: &'a Value, name: &str) -> &'a [Value] {
    value[name].as_array().map_or(&[], Vec::as_slice)
}

fn is_line(word: &str) -> bool {
    word.strip_prefix("B.").is_some_and(|rest| !rest.is_empty() && rest.bytes().all(|byte| byte.is_ascii_digit()))
}

impl Read {
    fn posts(&self) -> impl Iterator<Item = (&str, &Value)> {
        list(&self.json, "posts").iter().map(|post| (post["mark"].as_str().expect("a mark"), post))
    }

    /// The words of each line of the worked limits, by its number: those from its
    /// height to that of the next.
    fn lines(&self) -> BTreeMap<String, Vec<&Word>> {
        let mut lines: BTreeMap<String, Vec<&Word>> = BTreeMap::new();
        for page in self.paper.pages.iter().filter(|page| page.part() == "Worked limits") {
            let mut heads: Vec<&Word> = page.body().filter(|word| is_line(&word.text)).collect();
            heads.sort_by(|a, b| a.y.total_cmp(&b.y));
            for word in page.body() {
                // What is raised over the line of the number still belongs to it.
                let Some(head) = heads.iter().rev().find(|head| head.y <= word.y + 6.0) else { continue };
                lines.entry(head.text.clone()).or_default().push(word);
            }
        }
        lines
    }

    fn text(&self, pages: impl Fn(&&Page) -> bool) -> String {
        let pages = self.paper.pages.iter().filter(pages);
        let words: Vec<&str> = pages.flat_map(Page::body).map(|word| word.text.as_str()).collect();
        words.join(" ")
    }
}

/// Whether words on a page are those of a limit: a page adds which use of its sheet it is,
/// where there are several.
fn says(printed: &str, limit: &Value) -> bool {
    let words = worded(limit["limit"].as_str().expect("words"));
    printed.strip_prefix(&words).is_some_and(|rest| rest.is_empty() || rest.starts_with(" (") && rest.ends_with(')'))
}

/// Words as the JSON has them: symbols between backticks are printed as symbols.
fn worded(text: &str) -> String {
    let parts = text.split('`').enumerate();
    parts.map(|(at, part)| if at % 2 == 1 { "…" } else { part }).collect()
}

fn worded_spans(spans: &[Span]) -> String {
    let one = |span: &Span| match span {
        Span::Markup(text) | Span::Text(text) => text.clone(),
        Span::Math(_) => "…".into(),
    };
    spans.iter().map(one).collect()
}

/// A limit as it is worked: which, where, in which posts and combination.
struct Printed<'a> {
    no: &'a str,
    say: String,
    sheet: String,
    marks: &'a [String],
    combination: &'a str,
}

fn worked(chapter: &Worked) -> Vec<Printed<'_>> {
    let mut found = Vec::new();
    for line in chapter.sections.iter().flat_map(|section| &section.lines) {
        let Line::Limit { no, say, rows, .. } = line else { continue };
        for at in rows.iter().flat_map(|row| &row.at) {
            let (path, letter) = at.rsplit_once('@').expect("a column");
            let column = chapter.columns.iter().find(|column| column.letter == letter).expect("the column");
            let sheet = path.rsplit('/').next().expect("a sheet").to_string();
            let (marks, combination) = (column.marks.as_slice(), column.what.as_str());
            found.push(Printed { no, say: worded_spans(say), sheet, marks, combination });
        }
    }
    found
}

/// Each limit that is worked or listed has the numbers of the calculation beside it, and
/// each limit of the calculation is worked or listed, at its highest ratio.
#[test]
fn limits_on_paper_are_those_of_the_calculation() {
    for folder in jobs() {
        let read = read(&folder, false);
        let job = &read.job;
        let lines = read.lines();
        let numbers_of = |no: &str| numbers(lines.get(no).unwrap_or_else(|| panic!("{job}: {no} stands nowhere")));
        let mut checked = 0;
        // What is printed of each limit, by sheet and words.
        let mut most: BTreeMap<(String, String), f64> = BTreeMap::new();
        for chapter in &read.pages.worked {
            for it in worked(chapter) {
                let here = numbers_of(it.no);
                for mark in it.marks {
                    let of = read.posts().find(|(known, _)| known == mark).expect("the post").1;
                    let is = |limit: &&Value| limit["sheet"] == it.sheet.as_str() && says(&it.say, limit);
                    let found: Vec<&Value> = list(of, "limits").iter().filter(is).collect();
                    assert!(!found.is_empty(), "{job}: {} {} {}", it.no, it.sheet, it.say);
                    let shows = |limit: &Value, name: &str| {
                        limit[name].as_f64().is_none_or(|value| here.iter().any(|number| number.shows(name, value)))
                    };
                    // Elsewhere a column shows it in which it does not govern, beside one in which it does.
                    let governs =
                        |limit: &&&Value| limit["combination"] == it.combination || limit["combination"] == "";
                    for limit in found.iter().filter(governs) {
                        for name in ["demand", "capacity", "ratio"] {
                            assert!(
                                shows(limit, name),
                                "{job}: {} of {mark} at {}: {name} of {limit:#} not in {here:?}",
                                it.say,
                                it.no
                            );
                        }
                        checked += 1;
                        let ratio = limit["ratio"].as_f64().unwrap_or(-1.0);
                        let words = worded(limit["limit"].as_str().expect("words"));
                        let known = most.entry((it.sheet.clone(), words)).or_insert(ratio);
                        *known = known.max(ratio);
                    }
                    if let [limit] = found.as_slice() {
                        let words = worded(limit["limit"].as_str().expect("words"));
                        let known = most.entry((it.sheet.clone(), words)).or_insert(-1.0);
                        // Alike to the printed digits is as good.
                        if shows(limit, "ratio") {
                            *known = known.max(limit["ratio"].as_f64().unwrap_or(-1.0));
                        }
                    }
                }
            }
            for it in &chapter.low {
                let here = numbers_of(&it.no);
                let say = worded_spans(&it.say);
                let first = it.post.split([',', ' ']).next().expect("a mark");
                let of = read.posts().find(|(mark, _)| *mark == first).expect("the post").1;
                let is = |limit: &&Value| {
                    says(&say, limit)
                        && limit["combination"] == it.combination.as_str()
                        && limit["ratio"]
                            .as_f64()
                            .is_none_or(|ratio| here.iter().any(|number| number.shows("ratio", ratio)))
                };
                let found: Vec<&Value> = list(of, "limits").iter().filter(is).collect();
                // Uses of one sheet may come to the same: then one line is as good as another.
                let printed = |limit: &&&Value| {
                    // What may come to one is printed as the ratio that it is.
                    let is_ratio = limit["capacity"] == 1.0 && limit["unit"] == "";
                    let name_of = |name: &'static str| if is_ratio && name == "demand" { "ratio" } else { name };
                    ["demand", "capacity"].into_iter().all(|name| {
                        let printed = |value| here.iter().any(|number| number.shows(name_of(name), value));
                        limit[name].as_f64().is_none_or(printed)
                    })
                };
                let shown: Vec<&&Value> = found.iter().filter(printed).collect();
                assert!(!shown.is_empty(), "{job}: {say} at {}: none of {found:#?} is {here:?}", it.no);
                checked += 1;
                for shown in shown {
                    let sheet = shown["sheet"].as_str().expect("a sheet").to_string();
                    let ratio = shown["ratio"].as_f64().unwrap_or(-1.0);
                    let words = worded(shown["limit"].as_str().expect("words"));
                    let known = most.entry((sheet, words)).or_insert(ratio);
                    *known = known.max(ratio);
                }
            }
        }
        assert!(checked > 40, "{job}: {checked}");
        let mut wanted = 0;
        for (mark, limit) in read.posts().flat_map(|(mark, post)| list(post, "limits").iter().map(move |it| (mark, it)))
        {
            let Some(ratio) = limit["ratio"].as_f64() else { continue };
            let key = (
                limit["sheet"].as_str().expect("a sheet").to_string(),
                worded(limit["limit"].as_str().expect("words")),
            );
            let printed = most.get(&key).unwrap_or_else(|| panic!("{job}: {key:?} of {mark} is not printed"));
            assert!(ratio <= printed + 0.0005, "{job}: {key:?} of {mark} has {ratio}, the pages show {printed}");
            wanted += 1;
        }
        assert!(wanted > 100, "{job}: {wanted}");
    }
}

/// Sentence, counts and governing ratios: the same on the first pages, and the ratio of
/// each of the limits on the calculation sheets.
#[test]
fn verdict_counts_and_ranks_are_those_of_the_calculation() {
    for folder in jobs() {
        let read = read(&folder, false);
        let job = &read.job;
        let headline = read.json["headline"].as_str().expect("a sentence");
        let cover = read.text(|page| page.number == 1);
        assert!(cover.contains(headline), "{job}: {headline} is not in {cover}");
        for (asks, what) in [
            ("decision", "decision"),
            ("confirmation", "unconfirmed value"),
            ("assumption", "assumed value"),
            ("starter", "starter value"),
        ] {
            let count = list(&read.json, "open").iter().filter(|open| open["asks"] == asks).count();
            let words = format!("{count} {what}{}", if count == 1 { "" } else { "s" });
            assert!(count == 0 || headline.contains(&words), "{job}: {words} is not in {headline}");
        }
        let front = read.text(|page| page.part().starts_with("Design loads"));
        // Questions have numbers from one on; those that are answered have one too.
        let open = list(&read.json, "open").len();
        for no in 1..=open {
            assert!(front.split(' ').any(|word| word == format!("Q{no}")), "{job}: Q{no}");
        }
        for (mark, post) in read.posts() {
            let limits = list(post, "limits");
            let met = limits.iter().filter(|limit| limit["ok"] == true).count();
            let stands = format!("{met} of {}", limits.len());
            assert!(front.contains(&stands), "{job}: {mark}: {stands}");
            let pressed = limits.iter().filter(|limit| limit["combination"] != "" || limit["ok"] == false);
            let key = |limit: &&Value| (limit["ok"] == false, limit["ratio"].as_f64().unwrap_or(-1.0));
            let highest = pressed.max_by(|a, b| key(a).partial_cmp(&key(b)).expect("numbers")).expect("a limit");
            let ratio = format!("{:.3}", highest["ratio"].as_f64().expect("a ratio"));
            assert!(front.split(' ').any(|word| word == ratio), "{job}: {mark}: {ratio}");
            // The calculation sheet of the post has the same ten, as far as they stand there.
            let sheet = read.pages.sheets.iter().find(|sheet| sheet.marks.iter().any(|known| known == mark));
            let Some(sheet) = sheet else { continue };
            let text = read.text(|page| page.part() == sheet.title);
            assert!(text.split(' ').any(|word| word == ratio), "{job}: {}: {ratio}", sheet.title);
            let counts = format!("{met} of {} limits and", limits.len());
            let fits = list(post, "fits");
            let fitting = fits.iter().filter(|fit| fit["ok"] == true).count();
            let counts = format!("{counts} {fitting} of {} fits are met", fits.len());
            assert!(text.contains(&counts), "{job}: {}: {counts}", sheet.title);
            for limit in &sheet.limits {
                let say = worded_spans(&limit.say);
                let is = |known: &&Value| says(&say, known);
                let ratios = limits.iter().filter(is).filter_map(|known| known["ratio"].as_f64());
                let printed = |ratio: f64| {
                    let ratio = format!("{ratio:.3}");
                    ratio == limit.row.ratio && text.split(' ').any(|word| word == ratio)
                };
                assert!(ratios.into_iter().any(printed), "{job}: {}: {say} {}", sheet.title, limit.row.ratio);
            }
        }
        // The ten highest of the job.
        let mut highest: BTreeMap<(&str, &str), f64> = BTreeMap::new();
        for limit in read.posts().flat_map(|(_, post)| list(post, "limits")) {
            let (Some(ratio), true) = (limit["ratio"].as_f64(), limit["combination"] != "") else { continue };
            let known =
                highest.entry((limit["sheet"].as_str().expect("a sheet"), limit["limit"].as_str().expect("words")));
            let known = known.or_insert(ratio);
            *known = known.max(ratio);
        }
        let mut ratios: Vec<f64> = highest.into_values().collect();
        ratios.sort_by(|a, b| b.total_cmp(a));
        let (_, ranks) = front.split_once("Limits of the job by rank").expect("the ranks");
        for ratio in &ratios[..10] {
            let ratio = format!("{ratio:.3}");
            assert!(ranks.split(' ').any(|word| word == ratio), "{job}: {ratio} is not among the ranks");
        }
    }
}

/// Every ratio of every post, where a package is full.
#[test]
fn a_full_package_has_every_ratio() {
    let read = read(&root().join("fixtures/creek-porch"), true);
    let lines: BTreeSet<String> = read
        .paper
        .pages
        .iter()
        .flat_map(Page::body)
        .map(|word| word.text.clone())
        .filter(|word| is_line(word))
        .collect();
    assert!(lines.len() > 100);
    let text = read.text(|page| page.part() == "Worked limits");
    let (_, all) = text.rsplit_once("All limits of all posts").expect("the list");
    let printed: BTreeSet<&str> = all.split(' ').collect();
    for (mark, limit) in read.posts().flat_map(|(mark, post)| list(post, "limits").iter().map(move |it| (mark, it))) {
        let Some(ratio) = limit["ratio"].as_f64() else { continue };
        let ratio = format!("{ratio:.3}");
        assert!(printed.contains(ratio.as_str()), "{mark}: {limit:#}: {ratio}");
    }
}

/// Nominal reactions, and forces handed on at both levels.
#[test]
fn reactions_and_forces_handed_on_are_those_of_the_calculation() {
    for folder in jobs() {
        let read = read(&folder, false);
        let (name, job) = (&read.job, derived_in(&folder).0);
        let text = read.text(|page| page.part().starts_with("Key plan"));
        let (_, table) = text.split_once("Nominal reactions").expect("the table");
        let (table, _) = table.split_once("Equilibrium").expect("its end");
        let words: Vec<&str> = table.split(' ').collect();
        let mut seen = 0;
        for post in &job.posts {
            let names = |column: &&String| column.split(", ").any(|mark| mark == post.mark);
            let found =
                read.package.reactions.iter().find_map(|it| Some((it, it.columns.iter().position(|c| names(&c))?)));
            let Some((of, at)) = found else { continue };
            for (case, reaction) in &post.reactions {
                for (what, unit, value) in [
                    ("P", "lbf", format!("{:.0}", reaction.p)),
                    ("Hx", "lbf", format!("{:.0}", reaction.h_x)),
                    ("Hy", "lbf", format!("{:.0}", reaction.h_y)),
                    ("wx", "lbf/ft", format!("{:.1}", 12.0 * reaction.w_x)),
                    ("wy", "lbf/ft", format!("{:.1}", 12.0 * reaction.w_y)),
                ] {
                    let value: f64 = value.parse().expect("a number");
                    if value == 0.0 {
                        continue;
                    }
                    // The row of its case: the case stands before its first row alone.
                    let mut here = "";
                    let row = (0..words.len() - 1).find(|no| {
                        if words[*no] == "P" || words[*no].starts_with(['H', 'w']) && words[*no + 1].starts_with("lbf")
                        {
                            let before = words[no - 1];
                            if job.cases().iter().any(|case| case.replace('_', "") == before) {
                                here = before;
                            }
                        }
                        here == case.replace('_', "") && words[*no] == what && words[*no + 1] == unit
                    });
                    let row = row.unwrap_or_else(|| panic!("{name}: {} has no row {case} {what}: {table}", post.mark));
                    let cell = Number::read(words[row + 2 + at]).expect("a number");
                    assert!(
                        (cell.value - value).abs() < 1e-6,
                        "{name}: {} {case} {what}: {} is not {value}",
                        post.mark,
                        cell.value
                    );
                    assert!(of.rows.len() > 1);
                    seen += 1;
                }
            }
        }
        assert!(seen > 20, "{name}: {seen}");
        let handed: Vec<(&Value, &str)> =
            read.posts().flat_map(|(mark, post)| list(post, "handed").iter().map(move |it| (it, mark))).collect();
        let mut levels: BTreeSet<&str> = BTreeSet::new();
        let Some((_, section)) = text.split_once("Forces handed to others") else {
            assert!(handed.is_empty(), "{name}: {handed:#?}");
            continue;
        };
        let section = section.split("Loads").next().expect("the section");
        let words: Vec<Word> =
            section.split(' ').map(|text| Word { text: text.into(), end: 0.0, y: 0.0, size: 0.0 }).collect();
        let printed = numbers(&words.iter().collect::<Vec<_>>());
        for (force, mark) in handed {
            let value = force["value"]["value"].as_f64().expect("a force");
            assert!(printed.iter().any(|number| number.is(value)), "{name}: {mark}: {force:#} is not in {section}");
            levels.insert(force["level"].as_str().expect("a level"));
        }
        assert_eq!(levels.into_iter().collect::<Vec<_>>(), ["ASD", "strength"], "{name}");
    }
}
