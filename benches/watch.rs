//! What a save takes while `socle watch` runs, against a first working of the same job: a job of posts that are all
//! different, in which one cell or key changes. `benches/README.md` says how to run it.

mod machine;
mod made;

use std::path::Path;
use std::time::Instant;

use machine::{machine, median, peak};
use made::{Loads, make};
use socle::command::{Kept, MAIN};
use socle::files::Failure;
use socle::pdf::{Document, Typesetter, forget};
use socle::verdict::Verdict;

const ROUNDS: usize = 3;

/// Seconds of the parts of a state.
#[derive(Clone, Copy, Default)]
struct Took {
    check: f64,
    model: f64,
    layout: f64,
    export: f64,
}

impl Took {
    fn set(self) -> f64 {
        self.check + self.model + self.layout
    }
}

/// Works a state of a job to its pages.
fn work(job: &Path, kept: &mut Kept, typesetter: &mut Typesetter) -> Took {
    let start = Instant::now();
    let mut worked = || -> Result<Took, Failure> {
        let loaded = kept.load(job, None)?;
        let (root, results) = kept.work_out(&loaded)?;
        let verdict = Verdict::new(&loaded.job, &loaded.library, &results, &loaded.loads.groups);
        let check = start.elapsed().as_secs_f64();
        let found = kept.sources(&loaded, &root, &results, &verdict)?;
        let model = start.elapsed().as_secs_f64();
        let document = Document { files: found.files, main: MAIN, date: found.date, ident: &found.digest };
        let pages = typesetter.set(document).unwrap_or_else(|said| panic!("{said:#?}"));
        let layout = start.elapsed().as_secs_f64();
        let pdf = pages.export(false).unwrap_or_else(|said| panic!("{said:#?}"));
        let export = start.elapsed().as_secs_f64();
        std::hint::black_box(pdf.bytes.len());
        if std::env::var_os("PAGES").is_some() {
            println!("{} pages", pdf.pages);
        }
        Ok(Took { check, model: model - check, layout: layout - model, export: export - layout })
    };
    match worked() {
        Ok(took) => took,
        Err(Failure::Machine(said)) => panic!("{said}"),
        Err(Failure::Wrong(wrong)) => panic!("{wrong:#?}"),
    }
}

/// What is changed: its name, the file, and the text of it with another value in every round.
type Change = (&'static str, &'static str, fn(&str, usize) -> String);

/// Another number in the middle row, in the column that begins so.
fn cell(text: &str, heading: &str, change: impl Fn(&str) -> String) -> String {
    let mut lines: Vec<String> = text.lines().map(String::from).collect();
    let at = lines[0].split(',').position(|name| name.starts_with(heading)).expect("the column");
    let middle = lines.len() / 2;
    let mut cells: Vec<String> = lines[middle].split(',').map(String::from).collect();
    cells[at] = change(&cells[at]);
    lines[middle] = cells.join(",");
    lines.join("\n") + "\n"
}

fn more(text: &str, by: f64) -> String {
    format!("{:.3}", text.parse::<f64>().expect("a number") + by)
}

const GIVEN: [Change; 3] = [
    ("a load of one post", "posts.csv", |text, round| cell(text, "P_S", |it| more(it, 7.0 * (1 + round) as f64))),
    ("the height of one post", "posts.csv", |text, round| {
        cell(text, "height", |it| more(it, 0.01 * (1 + round) as f64))
    }),
    ("the source of one post", "posts.csv", |text, round| cell(text, "source", |it| format!("{it} {round}"))),
];

const ROOF: [Change; 3] = [
    ("the timbers of one post", "posts.csv", |text, round| {
        cell(text, "timbers", |it| more(it, 3.0 * (1 + round) as f64))
    }),
    ("the source of one post", "posts.csv", |text, round| cell(text, "source", |it| format!("{it} {round}"))),
    ("the snow on the ground", "job.toml", |text, round| {
        text.replace("p_g = \"30 psf\"", &format!("p_g = \"{} psf\"", 31 + round))
    }),
];

fn main() {
    let posts: usize = std::env::args().skip(1).find_map(|arg| arg.parse().ok()).unwrap_or(100);
    println!("{}; {posts} posts, medians of {ROUNDS}, seconds", machine());
    println!("{:<34} {:>7} {:>7} {:>7} {:>7} {:>8} {:>7}", "", "check", "model", "layout", "sum", "/ first", "export");
    for (loads, what, changes) in [(Loads::Given, "loads in columns", GIVEN), (Loads::Roof, "loads from [roof]", ROOF)]
    {
        let folder = tempfile::tempdir().expect("a folder");
        let job = make(folder.path(), posts, loads);
        let mut first = Vec::new();
        let mut again: Vec<Vec<Took>> = vec![Vec::new(); changes.len()];
        for round in 0..ROUNDS {
            forget();
            let (mut kept, mut typesetter) = (Kept::default(), Typesetter::default());
            first.push(work(&job, &mut kept, &mut typesetter));
            for ((_, file, change), again) in changes.iter().zip(&mut again) {
                let path = job.join(file);
                let text = std::fs::read_to_string(&path).expect("a file of the job");
                let other = change(&text, round);
                assert_ne!(text, other, "{file} changes");
                std::fs::write(&path, other).expect("a file of the job");
                again.push(work(&job, &mut kept, &mut typesetter));
                std::fs::write(&path, text).expect("a file of the job");
                work(&job, &mut kept, &mut typesetter);
            }
        }
        let cold = median(first.iter().map(|took| took.set()).collect());
        row(&format!("{what}, first"), &first, cold);
        for ((name, ..), again) in changes.iter().zip(&again) {
            row(&format!("  {name}"), again, cold);
        }
    }
    println!("{:.0} MB at most", peak("/proc/self/status").unwrap_or(0.0) / 1000.0);
}

fn row(name: &str, took: &[Took], cold: f64) {
    let of = |part: fn(&Took) -> f64| median(took.iter().map(part).collect());
    println!(
        "{name:<34} {:>7.2} {:>7.2} {:>7.2} {:>7.2} {:>8.2} {:>7.2}",
        of(|it| it.check),
        of(|it| it.model),
        of(|it| it.layout),
        of(|it| it.set()),
        of(|it| it.set()) / cold,
        of(|it| it.export),
    );
}
