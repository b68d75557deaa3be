//! What the program said before its engine was redesigned, of fifty drawn jobs
//! and the three examples: every limit and every value stays what it was.
//! `tests/unmoved/README.md` says where it comes from; the tables beside it say
//! what may stand elsewhere.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use rayon::prelude::*;
use serde_json::Value as Json;
use socle::quantity::Unit;

use crate::support::{JOBS, root, socle, stderr};

/// As many differences as a failure lists.
const LISTED: usize = 30;

/// What is compared is more than this, or something went wrong with the files.
const LIMITS: usize = 9000;
const VALUES: usize = 100_000;

#[test]
fn nothing_moves() {
    let tables = Tables::read();
    let stored = stored();
    assert_eq!(stored.len(), 53, "fifty jobs and three examples");
    let found: Vec<Found> = stored.par_iter().map(|job| compare(job, &tables)).collect();
    let mut whole = Found::default();
    for found in found {
        whole.limits += found.limits;
        whole.values += found.values;
        whole.elsewhere += found.elsewhere;
        whole.used.extend(found.used);
        whole.differences.extend(found.differences);
    }
    println!("{} limits, {} values, {} of them for another combination", whole.limits, whole.values, whole.elsewhere);
    assert!(whole.elsewhere * 50 < whole.values, "{} values are shown for another combination", whole.elsewhere);
    assert!(whole.limits > LIMITS && whole.values > VALUES, "{} limits, {} values", whole.limits, whole.values);
    whole.differences.extend(tables.rows().difference(&whole.used).map(|row| format!("never needed: {row}")));
    let all = whole.differences.len();
    let listed = whole.differences.iter().take(LISTED).map(String::as_str).collect::<Vec<_>>().join("\n");
    assert!(all == 0, "{all} differences, of which the first:\n{listed}");
}

/// A line of `results.jsonl.gz` for each job.
fn stored() -> Vec<Json> {
    let packed = std::fs::File::open(folder().join("results.jsonl.gz")).expect("the results");
    let text = std::io::read_to_string(flate2::read::GzDecoder::new(packed)).expect("gzipped text");
    text.lines().map(|line| serde_json::from_str(line).expect("a line of JSON")).collect()
}

fn folder() -> PathBuf {
    root().join("tests/unmoved")
}

/// What may stand elsewhere than it did.
struct Tables {
    /// `(sheet, words)` of limits that are fits now.
    fits: BTreeSet<(String, String)>,
    /// The new names of a value (`post.P_a`) or of all of a sheet (`post`); any
    /// of them will do. An empty one: it is gone.
    renamed: BTreeMap<String, Vec<String>>,
    /// Sheets, and single values, that are shown for another combination.
    shown: BTreeSet<String>,
}

impl Tables {
    fn read() -> Tables {
        let rows = |name: &str| -> Vec<(String, String)> {
            let path = folder().join(name);
            let mut reader = csv::ReaderBuilder::new();
            let reader = reader.comment(Some(b'#')).from_path(&path);
            let mut reader = reader.unwrap_or_else(|error| panic!("{name}: {error}"));
            reader.records().map(|row| row.expect("a row")).map(|row| (row[0].into(), row[1].into())).collect()
        };
        let mut renamed: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for (old, new) in rows("renamed.csv") {
            renamed.entry(old).or_default().push(new);
        }
        let shown = rows("shown.csv").into_iter().map(|(sheet, _)| sheet).collect();
        Tables { fits: rows("fits.csv").into_iter().collect(), renamed, shown }
    }

    /// Every row, as it is marked when it is needed.
    fn rows(&self) -> BTreeSet<String> {
        let fits = self.fits.iter().map(|(sheet, words)| fit_row(sheet, words));
        let renamed = self.renamed.iter().flat_map(|(old, news)| news.iter().map(|new| rename_row(old, new)));
        fits.chain(renamed).chain(self.shown.iter().map(|sheet| format!("shown.csv: {sheet}"))).collect()
    }

    /// The row that lets a value be shown for another combination.
    fn other_combination(&self, name: &str) -> Option<String> {
        let sheet = name.rsplit_once('.').map_or(name, |(sheet, _)| sheet);
        [name, sheet].into_iter().find(|known| self.shown.contains(*known)).map(|known| format!("shown.csv: {known}"))
    }

    /// Where the limits of a sheet may stand, each with the row that says so.
    fn sheets(&self, old: &str) -> Vec<(String, Option<String>)> {
        let news = self.renamed.get(old).into_iter().flatten().filter(|new| !new.is_empty());
        std::iter::once((old.to_string(), None))
            .chain(news.map(|new| (new.clone(), Some(rename_row(old, new)))))
            .collect()
    }

    /// Where a value may stand, each with the row that says so; without a name
    /// it may be gone. A row for the value itself goes before one for its sheet,
    /// a longer path before a shorter one.
    fn names(&self, old: &str) -> Vec<(Option<String>, Option<String>)> {
        let mut heads = old.rmatch_indices('.').map(|(at, _)| at).collect::<Vec<_>>();
        if self.renamed.contains_key(old) {
            heads = vec![old.len()];
        }
        let (mut names, mut gone) = (Vec::new(), Vec::new());
        for at in heads {
            let (head, tail) = old.split_at(at);
            for new in self.renamed.get(head).into_iter().flatten() {
                let row = Some(rename_row(head, new));
                if new.is_empty() {
                    gone.push((None, row));
                } else {
                    names.push((Some(format!("{new}{tail}")), row));
                }
            }
        }
        names.push((Some(old.to_string()), None));
        names.extend(gone);
        names
    }
}

fn fit_row(sheet: &str, words: &str) -> String {
    format!("fits.csv: {sheet}, {words}")
}

fn rename_row(old: &str, new: &str) -> String {
    format!("renamed.csv: {old}, {new}")
}

#[derive(Default)]
struct Found {
    limits: usize,
    values: usize,
    /// Values that are shown for another combination.
    elsewhere: usize,
    used: BTreeSet<String>,
    differences: Vec<String>,
}

fn compare(job: &Json, tables: &Tables) -> Found {
    let name = job["job"].as_str().expect("a name");
    let at = if JOBS.contains(&name) { Path::new("fixtures").join(name) } else { folder().join("jobs").join(name) };
    let output = socle(&["check".as_ref(), at.as_os_str(), "--json".as_ref()]);
    let mut found = Found::default();
    if !matches!(output.status.code(), Some(0 | 1)) {
        found.differences.push(format!("{name} is not worked: {}", stderr(&output)));
        return found;
    }
    let now: Json = serde_json::from_slice(&output.stdout).expect("JSON");
    found.same(name, "ok", &job["ok"], &now["ok"]);
    for group in list(&job["posts"]) {
        for mark in list(&group["marks"]) {
            let place = format!("{name} {}", mark.as_str().expect("a mark"));
            let Some(post) = list(&now["posts"]).iter().find(|post| post["mark"] == *mark) else {
                found.differences.push(format!("{place}: the post is gone"));
                continue;
            };
            found.same(&place, "ok", &group["ok"], &post["ok"]);
            found.compare_limits(&place, group, post, tables);
            found.compare_values(&place, group, post, tables);
        }
    }
    found
}

fn list(json: &Json) -> &[Json] {
    json.as_array().map_or(&[], Vec::as_slice)
}

fn text(json: &Json) -> String {
    json.as_str().unwrap_or_default().to_string()
}

impl Found {
    fn same(&mut self, place: &str, what: &str, old: &Json, new: &Json) {
        if !equal(old, new) {
            self.differences.push(format!("{place}: {what}: {old} is now {new}"));
        }
    }

    /// A limit is known by its sheet, words and clause; of several that are
    /// alike, the first is compared with the first.
    fn compare_limits(&mut self, place: &str, group: &Json, post: &Json, tables: &Tables) {
        let mut limits: BTreeMap<[String; 3], Vec<&Json>> = BTreeMap::new();
        for limit in list(&post["limits"]).iter().rev() {
            let key = ["sheet", "limit", "cite"].map(|key| text(&limit[key]));
            limits.entry(key).or_default().push(limit);
        }
        let mut fits: BTreeMap<[String; 2], Vec<&Json>> = BTreeMap::new();
        for fit in list(&post["fits"]).iter().rev() {
            fits.entry(["sheet", "fit"].map(|key| text(&fit[key]))).or_default().push(fit);
        }
        for old in list(&group["limits"]) {
            let [sheet, words, cite] = [0, 1, 2].map(|at| text(&old[at]));
            let is_fit = tables.fits.contains(&(sheet.clone(), words.clone()));
            if is_fit {
                self.used.insert(fit_row(&sheet, &words));
            }
            let mut at = |sheet: String| {
                let words = words.clone();
                if is_fit {
                    fits.get_mut(&[sheet, words])?.pop()
                } else {
                    limits.get_mut(&[sheet, words, cite.clone()])?.pop()
                }
            };
            let there = tables.sheets(&sheet).into_iter().find_map(|(sheet, row)| Some((at(sheet)?, row)));
            let what = format!("{sheet}: {words} [{cite}]");
            let Some((new, row)) = there else {
                self.differences.push(format!("{place}: {what}: the {} is gone", if is_fit { "fit" } else { "limit" }));
                continue;
            };
            self.limits += 1;
            self.used.extend(row);
            let parts: &[(usize, &str)] = if is_fit {
                &[(8, "ok")]
            } else {
                &[(3, "demand"), (4, "capacity"), (5, "unit"), (6, "ratio"), (8, "ok")]
            };
            for (at, key) in parts {
                self.same(place, &format!("{what} {key}"), &old[*at], &new[*key]);
            }
        }
        for (key, left) in limits.iter().filter(|(_, left)| !left.is_empty()) {
            self.differences.push(format!("{place}: {} of the limit {key:?} stood nowhere", left.len()));
        }
    }

    /// Values are compared in base units: a sheet may print another one than the
    /// file it comes from.
    fn compare_values(&mut self, place: &str, group: &Json, post: &Json, tables: &Tables) {
        let now = post["values"].as_object().expect("values");
        // A limit that was not met chose the combination of its sheet; a fit does not.
        let unfit = list(&post["fits"]).iter().any(|fit| fit["ok"] == false);
        for (name, old) in group["values"].as_object().expect("values") {
            let known = |new: &Option<String>| new.as_ref().is_none_or(|new| now.contains_key(new));
            let named = tables.names(name).into_iter().find(|(new, _)| known(new));
            // Sheets that go by their path have a longer one now.
            let deeper =
                || now.keys().find(|new| new.ends_with(&format!(".{name}"))).map(|new| (Some(new.clone()), None));
            let Some((new, row)) = named.or_else(deeper) else {
                self.differences.push(format!("{place}: {name} is gone"));
                continue;
            };
            self.used.extend(row);
            let Some(new) = new else { continue };
            self.values += 1;
            let (before, after) = (in_base(&old[0], &old[1]), in_base(&now[&new]["value"], &now[&new]["unit"]));
            if equal(&before, &after) {
                continue;
            }
            if unfit {
                self.elsewhere += 1;
                continue;
            }
            match tables.other_combination(name).or_else(|| tables.other_combination(&new)) {
                Some(row) => {
                    self.used.insert(row);
                    self.elsewhere += 1;
                }
                None => self.differences.push(format!("{place}: {name}: {before} is now {after} as {new}")),
            }
        }
    }
}

/// Numbers to 1e-12 of the larger, all else to the letter.
fn equal(old: &Json, new: &Json) -> bool {
    match (old.as_f64(), new.as_f64()) {
        (Some(old), Some(new)) => (old - new).abs() <= 1e-12 * old.abs().max(new.abs()),
        _ => old == new,
    }
}

fn in_base(value: &Json, unit: &Json) -> Json {
    let unit = Unit::parse(unit.as_str().unwrap_or_default()).expect("a unit");
    value.as_f64().map_or(value.clone(), |value| unit.to_base(value).into())
}
