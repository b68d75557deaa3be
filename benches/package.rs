//! Typesetting of packages against plain documents of the same formulas, alone and with
//! the words of their lines, by the same typesetter; size and memory. `benches/README.md` says how to run it.

mod machine;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use machine::{machine, median, peak};
use serde_json::{Value, json};
use socle::command::{MAIN, Sources, sources};
use socle::pdf::{Document, Pdf, forget, render};

const ROUNDS: usize = 3;

/// One paragraph after another: a formula alone, or a worked line with all its words.
const PLAIN: &str = r#"
#import "/templates/package/page.typ": document-style
#import "/templates/package/parts.typ": source
#set document(title: "Formulas alone")
#set page(paper: "us-letter", margin: 54pt)
#show: document-style
#for line in json("/lines.json") {
  block(above: 6pt, below: 6pt, for it in line {
    if type(it) == str { it + " " } else { math.equation(alt: it.alt, math.display(source(it))) }
  })
}
"#;

fn main() {
    let args: Vec<String> = std::env::args().skip(1).filter(|arg| arg != "--bench").collect();
    let jobs: Vec<PathBuf> = if args.is_empty() {
        let fixtures = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures");
        ["orchard-pergola", "cart-barn", "creek-porch"].iter().map(|job| fixtures.join(job)).collect()
    } else {
        args.iter().map(PathBuf::from).collect()
    };
    println!("{}; medians of {ROUNDS}", machine());
    println!(
        "{:<20} {:>6} {:>9} {:>8} {:>8} {:>6} {:>8}",
        "job", "pages", "formulas", "seconds", "pages/s", "MB", "peak MB"
    );
    for job in jobs {
        let Ok(found) = sources(&job, None, false) else { panic!("{} does not work out", job.display()) };
        let list = formulas(&found);
        let alone = list.iter().map(|formula| json!([formula])).collect();
        let mut plain = [("the formulas alone", alone), ("with their words", lines(&found))].map(|(name, lines)| {
            let mut files = found.files.clone();
            files.insert("/lines.json".into(), Value::Array(lines).to_string().into());
            files.insert("/plain.typ".into(), PLAIN.into());
            (name, files, Vec::new(), 0)
        });
        let (mut whole, mut package) = (Vec::new(), None);
        // Side by side, so that a machine that slows down slows all.
        for _ in 0..ROUNDS {
            let (pdf, seconds) = timed(&found, found.files.clone(), MAIN);
            whole.push(seconds);
            package = Some(pdf);
            for (_, files, times, pages) in &mut plain {
                let (pdf, seconds) = timed(&found, files.clone(), "/plain.typ");
                times.push(seconds);
                *pages = pdf.pages;
            }
        }
        let Some(package) = package else { continue };
        let whole = median(whole);
        let rate = package.pages as f64 / whole;
        println!(
            "{:<20} {:>6} {:>9} {whole:>8.2} {rate:>8.1} {:>6.2} {:>8.0}",
            job.file_name().map_or(String::new(), |name| name.to_string_lossy().into_owned()),
            package.pages,
            list.len(),
            package.bytes.len() as f64 / 1e6,
            memory(&job),
        );
        let [(alone, of_alone), _] = plain.map(|(name, _, times, pages)| {
            let seconds = median(times);
            let ratio = pages as f64 / seconds / rate;
            println!(
                "{:<20} {name}: {pages} pages, {seconds:.3} s; a page of the package takes {ratio:.2} times as long",
                ""
            );
            (seconds, pages)
        });
        if let Ok(folder) = std::env::var("FORMULAS") {
            let file = Path::new(&folder).join(format!("{}.json", job.file_name().expect("a name").to_string_lossy()));
            let text = json!({ "seconds": alone, "pages": of_alone, "formulas": list });
            std::fs::write(&file, text.to_string()).expect("the formulas are written");
        }
    }
}

/// Typesets once, with nothing in memory of what was typeset before.
fn timed(sources: &Sources, files: BTreeMap<String, Vec<u8>>, main: &str) -> (Pdf, f64) {
    forget();
    let start = Instant::now();
    let rendered = render(Document { files, main, date: sources.date, ident: &sources.digest });
    (rendered.unwrap_or_else(|said| panic!("{said:#?}")), start.elapsed().as_secs_f64())
}

/// The formulas and the words that are printed, in their order.
fn pieces(key: &str, value: &Value, found: &mut Vec<Value>) {
    match value {
        Value::Object(fields) if fields.contains_key("src") && fields.contains_key("alt") => {
            found.push(value.clone());
        }
        Value::Object(fields) => fields.iter().for_each(|(key, value)| pieces(key, value, found)),
        Value::Array(items) => items.iter().for_each(|value| pieces(key, value, found)),
        Value::String(text) if !text.is_empty() && !["kind", "at", "link"].contains(&key) => {
            found.push(value.clone());
        }
        _ => {}
    }
}

/// The worked lines of a package, each as the formulas and the words that it prints.
fn lines(sources: &Sources) -> Vec<Value> {
    let chapters = sources.files.iter().filter(|(path, _)| path.starts_with("/worked") || path.starts_with("/loads"));
    let chapters = chapters.map(|(_, bytes)| serde_json::from_slice::<Value>(bytes).expect("JSON"));
    let sections = chapters.flat_map(|chapter| chapter["sections"].as_array().cloned().unwrap_or_default());
    let lines = sections.flat_map(|section| section["lines"].as_array().cloned().unwrap_or_default());
    let pieces = lines.filter(|line| line["kind"] != "figure").map(|line| {
        let mut found = Vec::new();
        pieces("", &line, &mut found);
        Value::Array(found)
    });
    pieces.collect()
}

/// All formulas of a package in its order, as often as they are printed.
fn formulas(sources: &Sources) -> Vec<Value> {
    let mut found = Vec::new();
    for bytes in sources.files.iter().filter(|(path, _)| path.ends_with(".json")).map(|(_, bytes)| bytes) {
        pieces("", &serde_json::from_slice(bytes).expect("JSON"), &mut found);
    }
    found.retain(Value::is_object);
    found
}

/// The peak of `socle package`, in megabytes.
fn memory(job: &Path) -> f64 {
    let folder = tempfile::tempdir().expect("a folder");
    let mut child = Command::new(env!("CARGO_BIN_EXE_socle"))
        .arg("package")
        .arg(job)
        .arg("-o")
        .arg(folder.path().join("package.pdf"))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts");
    let status = format!("/proc/{}/status", child.id());
    let mut kilobytes = 0.0;
    while child.try_wait().expect("the program is waited for").is_none() {
        kilobytes = peak(&status).unwrap_or(kilobytes);
        std::thread::sleep(Duration::from_millis(1));
    }
    kilobytes / 1000.0
}
