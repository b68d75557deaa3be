//! Seconds and memory of `socle check` over jobs of many posts, no two alike,
//! and how both grow with the posts; and those of a full package, with its pages and
//! its size. `benches/README.md` says how to run it.

mod machine;
mod made;

use std::ffi::OsStr;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use machine::{machine, median, peak};
use made::{Loads, make};

const ROUNDS: usize = 3;

fn main() {
    let args: Vec<String> = std::env::args().skip(1).filter(|arg| arg != "--bench").collect();
    if args.first().is_some_and(|arg| arg == "--make") {
        return make_jobs(&args[1..]);
    }
    // Another build can be measured by the same jobs.
    let program = std::env::var("SOCLE").unwrap_or_else(|_| env!("CARGO_BIN_EXE_socle").into());
    if args.first().is_some_and(|arg| arg == "--package") {
        return packages(&program, &args[1..]);
    }
    let mut sizes: Vec<usize> = args.iter().filter_map(|arg| arg.parse().ok()).collect();
    if sizes.is_empty() {
        sizes = vec![100, 1_000, 10_000];
    }
    sizes.sort_unstable();
    println!("{}", machine());
    for (loads, what) in [(Loads::Given, "loads in columns"), (Loads::Roof, "loads from [roof]")] {
        let folder = tempfile::tempdir().expect("a folder");
        let jobs: Vec<PathBuf> = sizes.iter().map(|posts| make(folder.path(), *posts, loads)).collect();
        let mut runs: Vec<Vec<Ran>> = sizes.iter().map(|_| Vec::new()).collect();
        for _ in 0..ROUNDS {
            for (job, runs) in jobs.iter().zip(&mut runs) {
                let reference = reference();
                runs.push(Ran { reference, ..check(&program, job) });
            }
        }
        println!(
            "\n{what}: medians of {ROUNDS}; the reference is {POWERS} powers of libm in one thread, beside each run"
        );
        println!(
            "{:>8} {:>10} {:>12} {:>10} {:>10} {:>12}",
            "posts", "seconds", "/ reference", "MB", "kB a post", "exit status"
        );
        let shown: Vec<Shown> = sizes.iter().zip(&runs).map(|(posts, runs)| Shown::of(*posts, runs)).collect();
        for shown in &shown {
            println!(
                "{:>8} {:>10.3} {:>12.2} {:>10.1} {:>10.1} {:>12}",
                shown.posts,
                shown.seconds,
                shown.seconds / shown.reference,
                shown.megabytes,
                1000.0 * shown.megabytes / shown.posts as f64,
                shown.status,
            );
        }
        for pair in shown.windows(2) {
            let slope = |of: fn(&Shown) -> f64| {
                (of(&pair[1]) / of(&pair[0])).ln() / (pair[1].posts as f64 / pair[0].posts as f64).ln()
            };
            println!(
                "from {} to {} posts: time grows as posts^{:.2}, memory as posts^{:.2}",
                pair[0].posts,
                pair[1].posts,
                slope(|shown| shown.seconds / shown.reference),
                slope(|shown| shown.megabytes),
            );
        }
    }
}

/// One run of the program, and the reference beside it.
struct Ran {
    seconds: f64,
    reference: f64,
    megabytes: f64,
    status: i32,
}

struct Shown {
    posts: usize,
    seconds: f64,
    reference: f64,
    megabytes: f64,
    status: i32,
}

impl Shown {
    fn of(posts: usize, runs: &[Ran]) -> Shown {
        let middle = |of: fn(&Ran) -> f64| median(runs.iter().map(of).collect());
        Shown {
            posts,
            seconds: middle(|run| run.seconds),
            reference: middle(|run| run.reference),
            megabytes: middle(|run| run.megabytes),
            status: runs[0].status,
        }
    }
}

const POWERS: u32 = 5_000_000;

/// A fixed piece of work, so that figures of two machines can be compared.
fn reference() -> f64 {
    let start = Instant::now();
    let mut sum = 0.0;
    for at in 0..POWERS {
        sum += libm::pow(1.0 + f64::from(at) / f64::from(POWERS), 1.45);
    }
    std::hint::black_box(sum);
    start.elapsed().as_secs_f64()
}

/// `--package POSTS…`: a package with every limit worked, once for each number of posts.
fn packages(program: &str, sizes: &[String]) {
    println!("{}\n\nfull packages; the reference is {POWERS} powers of libm in one thread", machine());
    let head = ["posts", "seconds", "/ reference", "MB", "pages", "MB of file", "exit status"];
    println!(
        "{:>12} {:>10} {:>12} {:>10} {:>10} {:>12} {:>12}",
        head[0], head[1], head[2], head[3], head[4], head[5], head[6]
    );
    let folder = tempfile::tempdir().expect("a folder");
    for posts in sizes.iter().map(|size| size.parse().expect("a number of posts")) {
        for loads in [Loads::Given, Loads::Roof] {
            let job = make(folder.path(), posts, loads);
            let pdf = job.with_extension("pdf");
            let reference = reference();
            let (ran, said) =
                run(program, &["package".as_ref(), job.as_ref(), "--full".as_ref(), "-o".as_ref(), pdf.as_ref()]);
            let pages = said.split(" written, ").nth(1).and_then(|after| after.split(' ').next()).unwrap_or("none");
            let size = std::fs::metadata(&pdf).map_or(0, |file| file.len());
            println!(
                "{:>12} {:>10.1} {:>12.1} {:>10.0} {:>10} {:>12.1} {:>12}",
                job.file_name().map(|name| name.to_string_lossy()).unwrap_or_default(),
                ran.seconds,
                ran.seconds / reference,
                ran.megabytes,
                pages,
                size as f64 / 1e6,
                ran.status,
            );
        }
    }
}

fn check(program: &str, job: &Path) -> Ran {
    run(program, &["check".as_ref(), job.as_ref()]).0
}

/// Runs a command as a person would with the output in a file; gives what it said, too.
fn run(program: &str, args: &[&OsStr]) -> (Ran, String) {
    let start = Instant::now();
    let mut child = Command::new(program)
        .args(args)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut output = child.stdout.take().expect("its output");
    // The end of the output is the end of the run, to less than a poll.
    let reader = std::thread::spawn(move || {
        let mut said = String::new();
        let _ = output.read_to_string(&mut said);
        (said, start.elapsed().as_secs_f64())
    });
    let status_file = format!("/proc/{}/status", child.id());
    let mut kilobytes = 0.0;
    let status = loop {
        // The kernel keeps the peak; the last reading misses what the last millisecond adds to it.
        kilobytes = peak(&status_file).unwrap_or(kilobytes);
        match child.try_wait().expect("the program is waited for") {
            Some(status) => break status,
            None => std::thread::sleep(Duration::from_millis(1)),
        }
    };
    let (said, seconds) = reader.join().expect("the output is read");
    let code = status.code().unwrap_or(-1);
    if !matches!(code, 0 | 1) {
        let mut wrong = String::new();
        let _ = child.stderr.take().map(|mut stderr| stderr.read_to_string(&mut wrong));
        panic!("{args:?} ends with {code}:\n{wrong}");
    }
    (Ran { seconds, reference: 0.0, megabytes: kilobytes / 1000.0, status: code }, said)
}

/// `--make FOLDER POSTS…` leaves the jobs in a folder, to be run by hand.
fn make_jobs(args: &[String]) {
    let Some((folder, sizes)) = args.split_first() else { panic!("--make FOLDER POSTS…") };
    for posts in sizes.iter().filter_map(|size| size.parse().ok()) {
        for loads in [Loads::Given, Loads::Roof] {
            println!("{}", make(Path::new(folder), posts, loads).display());
        }
    }
}
