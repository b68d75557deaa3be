//! A copy of the program that holds every error of a sample at once, each asleep until `PLANTED_SITE` names it: so it is
//! built once.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::ops::Range;
use std::path::Path;
use std::process::Command;

use crate::sites::{self, Site};

/// What is looked into.
pub const FOLDERS: [&str; 4] = ["src/quantity", "src/formula", "src/sheet", "src/engine"];

/// A site of the sample, by its number from 1.
pub struct Planted {
    pub no: u32,
    pub file: String,
    pub site: Site,
}

/// The sources by their paths, and the sites that were drawn of each, in proportion to how many it has.
pub struct Sample {
    pub texts: BTreeMap<String, String>,
    pub planted: Vec<Planted>,
    pub of: usize,
}

pub fn sample(root: &Path, number: usize, seed: u64) -> Sample {
    let mut texts = BTreeMap::new();
    for folder in FOLDERS {
        read_all(root, folder, &mut texts);
    }
    let all: Vec<(String, Site)> =
        texts.iter().flat_map(|(file, text)| sites::of(text).into_iter().map(|site| (file.clone(), site))).collect();
    let mut dice = seed;
    let mut per_file: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (at, (file, _)) in all.iter().enumerate() {
        per_file.entry(file).or_default().push(at);
    }
    // As many as are due up to the end of each file, so that the shares come to the number.
    let (mut drawn, mut passed) = (BTreeSet::new(), 0);
    for sites in per_file.values_mut() {
        passed += sites.len();
        let due = (number * passed).div_ceil(all.len()).min(number) - drawn.len();
        for _ in 0..due {
            drawn.insert(sites.swap_remove((next(&mut dice) % sites.len() as u64) as usize));
        }
    }
    let planted = drawn.into_iter().zip(1..).map(|(at, no)| {
        let (file, site) = all[at].clone();
        Planted { no, file, site }
    });
    Sample { planted: planted.collect(), of: all.len(), texts }
}

/// SplitMix64.
fn next(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mixed = (*state ^ (*state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    mixed ^ (mixed >> 31)
}

fn read_all(root: &Path, folder: &str, texts: &mut BTreeMap<String, String>) {
    for entry in fs::read_dir(root.join(folder)).expect("a folder of sources") {
        let entry = entry.expect("an entry");
        let path = format!("{folder}/{}", entry.file_name().to_string_lossy());
        if entry.path().is_dir() {
            read_all(root, &path, texts);
        } else if path.ends_with(".rs") {
            texts.insert(path.clone(), fs::read_to_string(entry.path()).expect("a source"));
        }
    }
}

/// A text with its sites planted, and where each came to stand.
fn rewritten(text: &str, planted: &[&Planted]) -> (String, Vec<(u32, Range<usize>)>) {
    let (mut out, mut places) = (String::new(), Vec::new());
    write(text, 0..text.len(), planted, &mut out, &mut places);
    (out, places)
}

fn write(
    text: &str,
    range: Range<usize>,
    mut planted: &[&Planted],
    out: &mut String,
    places: &mut Vec<(u32, Range<usize>)>,
) {
    let mut at = range.start;
    while let [outer, rest @ ..] = planted {
        let site = &outer.site;
        let (inner, after) = rest.split_at(rest.iter().take_while(|it| it.site.range.start < site.range.end).count());
        out.push_str(&text[at..site.range.start]);
        let start = out.len();
        let (open, close) = if site.statement { ("", "") } else { ("(", ")") };
        let (no, now) = (outer.no, &site.now);
        out.push_str(&format!("{open}if crate::planted::is({no}) {{ {now} }} else {{ "));
        write(text, site.range.clone(), inner, out, places);
        out.push_str(&format!(" }}{close}"));
        places.push((no, start..out.len()));
        (at, planted) = (site.range.end, after);
    }
    out.push_str(&text[at..range.end]);
}

const MODULE: &str = r#"//! Which error is at work; without `PLANTED_SITE`, none. `PLANTED_REACHED` is a folder that gets a file for each that was met.

use std::path::PathBuf;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering};

static RUN: OnceLock<(u32, Option<PathBuf>)> = OnceLock::new();
static REACHED: [AtomicBool; SITES] = [const { AtomicBool::new(false) }; SITES];

pub fn is(site: u32) -> bool {
    let (planted, reached) = RUN.get_or_init(|| {
        let planted = std::env::var("PLANTED_SITE").ok().and_then(|site| site.parse().ok());
        (planted.unwrap_or(0), std::env::var_os("PLANTED_REACHED").map(PathBuf::from))
    });
    if let Some(folder) = reached
        && !REACHED[site as usize].swap(true, Ordering::Relaxed)
    {
        let _ = std::fs::write(folder.join(site.to_string()), "");
    }
    *planted == site
}
"#;

/// Copies the tree, plants the sample there, and takes out what does not compile.
pub fn plant(root: &Path, into: &Path, number: usize, seed: u64) {
    let sample = sample(root, number, seed);
    println!("{} sites, {} drawn", sample.of, sample.planted.len());
    copy(root, into, &sample.texts);
    let lib = fs::read_to_string(root.join("src/lib.rs")).expect("src/lib.rs");
    // The first that is listed may be used by all.
    written(&into.join("src/lib.rs"), &lib.replacen("pub mod ", "pub mod planted;\n\npub mod ", 1));
    written(&into.join("src/planted.rs"), &MODULE.replace("SITES", &(sample.planted.len() + 1).to_string()));
    let known = fs::read_to_string(into.join("refused")).unwrap_or_default();
    let mut refused: BTreeSet<u32> = known.lines().filter_map(|line| line.parse().ok()).collect();
    loop {
        let mut places = BTreeMap::new();
        for (file, text) in &sample.texts {
            let here = sample.planted.iter().filter(|it| it.file == *file && !refused.contains(&it.no));
            let (text, own) = rewritten(text, &here.collect::<Vec<_>>());
            written(&into.join(file), &text);
            places.insert(file.clone(), own);
        }
        let wrong = wrong(into, &places);
        if wrong.is_empty() {
            break;
        }
        println!("{} do not compile", wrong.len());
        refused.extend(wrong);
    }
    written(&into.join("refused"), &refused.iter().map(|no| format!("{no}\n")).collect::<String>());
    let rows = sample.planted.iter().filter(|it| !refused.contains(&it.no)).map(|it| {
        let text = &sample.texts[&it.file];
        let line = text.lines().nth(it.site.line - 1).expect("the line").trim();
        let was = &text[it.site.range.clone()];
        let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        let (was, now) = (plain(was), plain(&it.site.now));
        format!("{}\t{}\t{}\t{}\t{was}\t{now}\t{line}\n", it.no, it.file, it.site.line, it.site.kind)
    });
    written(&into.join("sites.tsv"), &rows.collect::<String>());
    println!("{} planted, {} do not compile", sample.planted.len() - refused.len(), refused.len());
}

/// Writes a file only if that changes it: what is built stays built.
fn written(path: &Path, text: &str) {
    if fs::read(path).ok().as_deref() != Some(text.as_bytes()) {
        fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
        fs::write(path, text).expect("the copy can be written");
    }
}

/// All that is not ignored, but for the sources that are planted.
fn copy(root: &Path, into: &Path, planted: &BTreeMap<String, String>) {
    let mut git = Command::new("git");
    git.args(["ls-files", "-z", "--cached", "--others", "--exclude-standard"]).current_dir(root);
    let output = git.output().expect("git");
    for path in String::from_utf8(output.stdout).expect("paths are UTF-8").split('\0') {
        let from = root.join(path);
        if planted.contains_key(path) || path == "src/lib.rs" || !from.is_file() {
            continue;
        }
        let bytes = fs::read(&from).expect("a file of the tree");
        let to = into.join(path);
        if fs::read(&to).ok().as_ref() != Some(&bytes) {
            fs::create_dir_all(to.parent().expect("a folder")).expect("a folder");
            fs::copy(&from, &to).expect("the copy can be written");
        }
    }
}

/// The sites in which the compiler finds errors: of those that stand in each other, the innermost.
fn wrong(into: &Path, places: &BTreeMap<String, Vec<(u32, Range<usize>)>>) -> BTreeSet<u32> {
    let output = crate::run::cargo(into, &["build", "--lib"]).output().expect("cargo");
    let mut found = BTreeSet::new();
    for line in String::from_utf8_lossy(&output.stdout).lines() {
        let Ok(json) = serde_json::from_str::<serde_json::Value>(line) else { continue };
        let message = &json["message"];
        if json["reason"] != "compiler-message" || message["level"] != "error" {
            continue;
        }
        let spans = message["spans"].as_array().into_iter().flatten();
        let (primary, others): (Vec<_>, Vec<_>) = spans.partition(|span| span["is_primary"] == true);
        let innermost = |span: &serde_json::Value| {
            let own = places.get(span["file_name"].as_str()?)?;
            let at = span["byte_start"].as_u64()? as usize;
            let round = own.iter().filter(|(_, range)| range.contains(&at));
            round.min_by_key(|(_, range)| range.len()).map(|(no, _)| *no)
        };
        let sites: Vec<u32> = primary.iter().filter_map(|span| innermost(span)).collect();
        if sites.is_empty() {
            found.extend(others.iter().filter_map(|span| innermost(span)));
        }
        found.extend(sites);
    }
    let text = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success() || !found.is_empty(), "the copy does not compile, by no site:\n{text}");
    found
}
