//! Typesetting of packages against a plain document of the same formulas, by the
//! same typesetter; size and memory. `benches/README.md` says how to run it.

mod machine;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use machine::{machine, median, peak};
use serde_json::{Value, json};
use socle::pdf::{Document, Pdf, forget, render};
use socle::run::{MAIN, Sources, sources};

const ROUNDS: usize = 3;

/// The formulas one under another, each an equation, with no word beside them.
const PLAIN: &str = r#"
#import "/templates/package/page.typ": document-style
#import "/templates/package/parts.typ": source
#set document(title: "Formulas alone")
#set page(paper: "us-letter", margin: 54pt)
#show: document-style
#for it in json("/formulas.json") {
  block(above: 6pt, below: 6pt, math.equation(alt: it.alt, math.display(source(it))))
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
        "{:<20} {:>6} {:>9} {:>8} {:>8} {:>8} {:>10} {:>6} {:>8}",
        "job", "pages", "formulas", "seconds", "pages/s", "plain/s", "ratio a page", "MB", "peak MB"
    );
    for job in jobs {
        let Ok(found) = sources(&job, None, false, None) else { panic!("{} does not work out", job.display()) };
        let list = formulas(&found);
        let mut plain = found.files.clone();
        plain.insert("/formulas.json".into(), serde_json::to_vec(&list).expect("JSON"));
        plain.insert("/plain.typ".into(), PLAIN.into());
        let (mut whole, mut alone) = (Vec::new(), Vec::new());
        let mut pdfs = None;
        // Side by side, so that a machine that slows down slows both.
        for _ in 0..ROUNDS {
            let (first, seconds) = timed(&found, found.files.clone(), MAIN);
            whole.push(seconds);
            let (second, seconds) = timed(&found, plain.clone(), "/plain.typ");
            alone.push(seconds);
            pdfs = Some((first, second));
        }
        let Some((package, formulas_alone)) = pdfs else { continue };
        let (whole, alone) = (median(whole), median(alone));
        let rates = (package.pages as f64 / whole, formulas_alone.pages as f64 / alone);
        println!(
            "{:<20} {:>6} {:>9} {:>8.2} {:>8.1} {:>8.1} {:>12.2} {:>6.2} {:>8.0}",
            job.file_name().map_or(String::new(), |name| name.to_string_lossy().into_owned()),
            package.pages,
            list.len(),
            whole,
            rates.0,
            rates.1,
            rates.1 / rates.0,
            package.bytes.len() as f64 / 1e6,
            memory(&job),
        );
        println!(
            "{:<20} the formulas alone: {} pages, {alone:.3} s; a formula takes {:.1} times as long in the package",
            "",
            formulas_alone.pages,
            whole / alone
        );
        if let Ok(folder) = std::env::var("FORMULAS") {
            let file = Path::new(&folder).join(format!("{}.json", job.file_name().expect("a name").to_string_lossy()));
            let text = json!({ "seconds": alone, "pages": formulas_alone.pages, "formulas": list });
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

/// All formulas of a package in its order, as often as they are printed.
fn formulas(sources: &Sources) -> Vec<Value> {
    fn walk(value: &Value, found: &mut Vec<Value>) {
        match value {
            Value::Object(fields) if fields.contains_key("src") && fields.contains_key("alt") => {
                found.push(value.clone());
            }
            Value::Object(fields) => fields.values().for_each(|value| walk(value, found)),
            Value::Array(items) => items.iter().for_each(|value| walk(value, found)),
            _ => {}
        }
    }
    let mut found = Vec::new();
    for bytes in sources.files.iter().filter(|(path, _)| path.ends_with(".json")).map(|(_, bytes)| bytes) {
        walk(&serde_json::from_slice(bytes).expect("JSON"), &mut found);
    }
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
