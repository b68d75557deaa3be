//! Seconds and memory of `socle check` over jobs of many posts, no two alike,
//! and how both grow with the posts; and those of a full package, with its pages and
//! its size. `benches/README.md` says how to run it.

mod machine;

use std::ffi::OsStr;
use std::fmt::Write as _;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use machine::{machine, median, peak};

/// How a job says what its posts carry.
#[derive(Clone, Copy)]
enum Loads {
    /// In columns of `posts.csv`.
    Given,
    /// Worked out from `[roof]` and the grid.
    Roof,
}

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

/// Makes a job of the example pergola's bases and piers, with posts on a full
/// grid that are all different; the same one each time.
fn make(folder: &Path, posts: usize, loads: Loads) -> PathBuf {
    let pergola = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/orchard-pergola");
    let name = match loads {
        Loads::Given => "given",
        Loads::Roof => "roof",
    };
    let job = folder.join(format!("{name}-{posts}"));
    std::fs::create_dir_all(&job).expect("the job's folder");
    for file in ["anchors.csv", "bases.csv", "foundations.csv"] {
        std::fs::copy(pergola.join(file), job.join(file)).expect("the example's catalogue");
    }
    let head = std::fs::read_to_string(pergola.join("job.toml")).expect("the example's job.toml");
    let head = match loads {
        Loads::Given => {
            let head = without_table(&head, "roof");
            let head = head.replace("[loads.none]\n", "[loads.none]\nLr = \"an open top of slats\"\n");
            head.replace("[bracing]\n", "[bracing]\ngravity_thrust = \"in the reactions\"\n")
        }
        Loads::Roof => head,
    };
    std::fs::write(job.join("job.toml"), head).expect("job.toml");
    std::fs::write(job.join("posts.csv"), posts_csv(posts, loads)).expect("posts.csv");
    job
}

fn without_table(text: &str, table: &str) -> String {
    let Some((before, rest)) = text.split_once(&format!("[{table}]")) else { return text.into() };
    let after = rest.find("\n[").map_or("", |at| &rest[at + 1..]);
    format!("{before}{after}")
}

/// Wood with a grade No.1 for posts, and what keeps it from rotting.
const WOODS: [(&str, &str, &str); 5] = [
    ("Douglas Fir-Larch", "treated", "yes"),
    ("Hem-Fir", "treated", "yes"),
    ("Southern Pine", "treated", "no"),
    ("Western Cedars", "natural", "no"),
    ("Redwood", "natural", "no"),
];

/// The cases that the sheets for loads work out for a pergola, so that both
/// kinds of job have the same combinations; axial load and shear in pounds.
const CASES: [(&str, [f64; 3]); 12] = [
    ("D", [1600.0, 0.0, 0.0]),
    ("S", [1800.0, 0.0, 0.0]),
    ("W1", [-900.0, 0.0, 300.0]),
    ("W2", [900.0, 0.0, 300.0]),
    ("W3", [-900.0, 0.0, -300.0]),
    ("W4", [900.0, 0.0, -300.0]),
    ("W5", [-900.0, 300.0, 0.0]),
    ("W6", [900.0, 300.0, 0.0]),
    ("W7", [-900.0, -300.0, 0.0]),
    ("W8", [900.0, -300.0, 0.0]),
    ("E_x", [120.0, 150.0, 0.0]),
    ("E_y", [120.0, 0.0, 150.0]),
];

fn posts_csv(posts: usize, loads: Loads) -> String {
    let mut text = String::from(
        "mark,x [ft],y [ft],base,foundation,anchor,width [in],depth [in],height [ft],base_level [in],species,grade,durable,incised,brace_faces_x,brace_faces_y,timbers [lbf],source",
    );
    if let Loads::Given = loads {
        for (case, _) in CASES {
            let _ = write!(text, ",P_{case} [lbf],H_x_{case} [lbf],H_y_{case} [lbf]");
        }
        text.push_str(",w_x [lbf/ft],w_y [lbf/ft]");
    }
    text.push('\n');
    // The sheets for loads want a grid without gaps: as square as the number allows.
    let across = (1..=posts).take_while(|side| side * side <= posts).filter(|side| posts.is_multiple_of(*side)).last();
    let across = across.unwrap_or(1);
    for post in 0..posts {
        let draw = |what: u64| draw(post as u64, what);
        // Bays that differ from line to line, in quarter inches.
        let line = |at: usize, bay: f64, axis: u64| -> f64 {
            (0..at).fold(0.0, |sum, line| sum + bay + (96.0 * crate::draw(line as u64, 100 + axis)).floor() / 48.0)
        };
        let (x, y) = (line(post % across, 13.0, 0), line(post / across, 11.0, 1));
        let sixteenths = |from: f64, to: f64, part: f64| from + ((to - from) * part * 16.0).floor() / 16.0;
        let (base, least) = if draw(0) < 0.5 { ("knife 8", 7.25) } else { ("knife 6", 5.25) };
        let (width, depth) = (sixteenths(least, least + 1.0, draw(1)), sixteenths(least, least + 1.0, draw(2)));
        let height = sixteenths(8.0, 9.5, draw(3));
        let (species, durable, incised) = WOODS[(WOODS.len() as f64 * draw(4)) as usize];
        // The beams are level.
        let level = 12.0 * (9.5 - height);
        // No two posts weigh the same.
        let timbers = 150.0 + (post as f64 / posts as f64) * 250.0;
        let _ = write!(
            text,
            "P{post},{x},{y},{base},pier 16,rod 1/2,{width},{depth},{height},{level},{species},No.1,{durable},{incised},both,both,{timbers:.3},demo"
        );
        if let Loads::Given = loads {
            for (at, (_, parts)) in CASES.iter().enumerate() {
                let share = 0.4 + draw(10 + at as u64);
                for part in parts {
                    let _ = write!(text, ",{:.2}", part * share);
                }
            }
            text.push_str(",20,20");
        }
        text.push('\n');
    }
    text
}

/// A number from 0 to 1 that belongs to a post and to what is drawn for it.
fn draw(post: u64, what: u64) -> f64 {
    // SplitMix64, after its published constants.
    let mut bits = (post * 1_000 + what).wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    ((bits ^ (bits >> 31)) >> 11) as f64 / (1u64 << 53) as f64
}
