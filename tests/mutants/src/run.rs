//! The tests against each error: first alone, to see how long each takes and which sites it reaches, then against each site those
//! that reach it, the quick ones first.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::os::unix::process::{CommandExt, ExitStatusExt};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::time::{Duration, Instant};

/// A part of the work, of so many.
#[derive(Clone, Copy)]
pub struct Shard {
    pub no: usize,
    pub of: usize,
}

impl Shard {
    fn has(self, at: usize) -> bool {
        at % self.of == self.no - 1
    }
}

/// They take long, and look at pages or at the machine, or run no Rust.
const APART: [&str; 5] = ["looks::", "watch::", "archive::", "choose::", "oracle::"];

/// Tests that take long as they stand, and by which variable they do what is enough here; each runs alone.
const FEWER: [(&str, &str, &str); 2] =
    [("random_jobs::", "PROPTEST_CASES", "3"), ("wrong::every_wrong_input", "WRONG", "sheets/,own/")];

/// More than a test may take that is run at all.
const LONGEST: f64 = 120.0;

/// A test as it goes without an error.
pub struct Timed {
    pub name: String,
    pub seconds: f64,
    pub reached: BTreeSet<u32>,
}

/// How a run of tests ended.
#[derive(PartialEq)]
enum End {
    Passed,
    /// By this test.
    Failed(String),
    Hung(String),
}

/// What builds the copy; it tells in JSON. All of it builds alike, so that nothing is built twice.
pub fn cargo(into: &Path, what: &[&str]) -> Command {
    let mut cargo = Command::new("cargo");
    // Quick to build, and only the tests again when only these have changed.
    cargo.env("CARGO_INCREMENTAL", "1").args(["--config", "profile.release.package.socle.opt-level=1"]);
    cargo.args(what).args(["--release", "--message-format=json"]).current_dir(into);
    cargo
}

/// The binary of the tests, which is built where it is not.
pub fn binary(into: &Path) -> PathBuf {
    let mut cargo = cargo(into, &["test", "--test", "tests", "--no-run"]);
    let output = cargo.stderr(Stdio::inherit()).output().expect("cargo");
    assert!(output.status.success(), "the copy does not compile");
    let lines = String::from_utf8(output.stdout).expect("JSON is UTF-8");
    let found = lines.lines().filter_map(|line| {
        let json: serde_json::Value = serde_json::from_str(line).ok()?;
        (json["target"]["name"] == "tests").then(|| json["executable"].as_str().map(PathBuf::from))?
    });
    found.last().expect("the binary of the tests")
}

fn listed(binary: &Path, more: &[&str]) -> BTreeSet<String> {
    let output = Command::new(binary).args(["--list", "--format", "terse"]).args(more).output().expect("the tests");
    let lines = String::from_utf8(output.stdout).expect("names are UTF-8");
    lines.lines().filter_map(|line| Some(line.strip_suffix(": test")?.to_string())).collect()
}

/// Runs tests one after another until one fails or takes longer than it may.
fn tests(binary: &Path, into: &Path, names: &[&str], allowed: impl Fn(&str) -> f64, env: &[(&str, &str)]) -> End {
    let folder = into.join(format!("tmp-{}", std::process::id()));
    fs::create_dir_all(&folder).expect("a folder");
    // An error may ask for all the memory that there is.
    let mut command = Command::new("sh");
    command.args(["-c", "ulimit -v 8000000; exec \"$0\" \"$@\""]).arg(binary);
    command.args(["--exact", "--test-threads=1"]).args(names).current_dir(into);
    command.env_remove("UPDATE_EXPECT").env("TMPDIR", &folder).envs(env.iter().copied());
    command.env("PROPTEST_DISABLE_FAILURE_PERSISTENCE", "1").env("PROPTEST_MAX_SHRINK_ITERS", "0");
    if let Some((_, variable, value)) = FEWER.into_iter().find(|(of, ..)| names.iter().all(|name| name.starts_with(of)))
    {
        command.env(variable, value);
    }
    let mut child = command.process_group(0).stdout(Stdio::piped()).stderr(Stdio::null()).spawn().expect("the tests");
    let (send, lines) = channel();
    let out = BufReader::new(child.stdout.take().expect("a pipe"));
    std::thread::spawn(move || out.lines().map_while(Result::ok).try_for_each(|line| send.send(line)));
    let mut waiting = names.iter().copied().collect::<BTreeSet<&str>>();
    let end = loop {
        // They run in the order of their names.
        let next = waiting.first().copied();
        match lines.recv_timeout(Duration::from_secs_f64(next.map_or(60.0, &allowed))) {
            Ok(line) => {
                let Some((name, how)) = line.strip_prefix("test ").and_then(|line| line.rsplit_once(" ... ")) else {
                    continue;
                };
                // A test of something that panics says so beside its name.
                waiting.remove(name.split(' ').next().unwrap_or_default());
                if how == "FAILED" {
                    break End::Failed(name.into());
                }
            }
            Err(RecvTimeoutError::Timeout) => break End::Hung(next.unwrap_or_default().into()),
            Err(RecvTimeoutError::Disconnected) => {
                let status = child.wait().expect("the tests");
                let crashed = !status.success() || status.signal().is_some();
                break if crashed { End::Failed(next.unwrap_or_default().into()) } else { End::Passed };
            }
        }
    };
    if end != End::Passed {
        let group = format!("-{}", child.id());
        let _ = Command::new("kill").args(["-KILL", "--", &group]).stderr(Stdio::null()).status();
        let _ = child.wait();
    }
    let _ = fs::remove_dir_all(&folder);
    end
}

/// Whether a test is one of those that were asked for by a part of their names.
fn among(only: Option<&str>, name: &str) -> bool {
    only.is_none_or(|only| only.split(',').any(|part| name.contains(part)))
}

/// How long each test takes alone, and what it reaches; what is known already stays.
pub fn time(into: &Path, shard: Shard, only: Option<&str>) {
    let binary = binary(into);
    let ignored = listed(&binary, &["--ignored"]);
    let known: BTreeSet<String> = timed(into).into_iter().map(|timed| timed.name).collect();
    let names: Vec<String> = listed(&binary, &[]).difference(&ignored).cloned().collect();
    let mut out = appended(into, "tests", shard);
    for (at, name) in names.iter().enumerate() {
        let apart = APART.iter().any(|apart| name.starts_with(apart)) || !among(only, name);
        if !shard.has(at) || known.contains(name) || apart {
            continue;
        }
        let folder = into.join(format!("reached-{}", shard.no));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).expect("a folder");
        let reached = [("PLANTED_REACHED", folder.to_str().expect("a path in UTF-8"))];
        let start = Instant::now();
        let end = tests(&binary, into, &[name], |_| LONGEST, &reached);
        let seconds = start.elapsed().as_secs_f64();
        let mut sites: BTreeSet<u32> = BTreeSet::new();
        for entry in fs::read_dir(&folder).expect("a folder") {
            let name = entry.expect("an entry").file_name();
            sites.insert(name.to_string_lossy().parse().expect("a number"));
        }
        let sites: Vec<String> = sites.iter().map(u32::to_string).collect();
        // One that fails by itself tells nothing.
        let seconds = if end == End::Passed { seconds } else { f64::INFINITY };
        writeln!(out, "{name}\t{seconds:.3}\t{}", sites.join(",")).expect("the copy can be written");
    }
}

fn appended(into: &Path, name: &str, shard: Shard) -> fs::File {
    let path = into.join(format!("{name}.{}", shard.no));
    fs::File::options().append(true).create(true).open(path).expect("the copy can be written")
}

fn lines_of(into: &Path, name: &str) -> Vec<String> {
    let files = fs::read_dir(into).expect("the copy").map(|entry| entry.expect("an entry"));
    let files = files.filter(|entry| entry.file_name().to_string_lossy().starts_with(&format!("{name}.")));
    let mut files: Vec<PathBuf> = files.map(|entry| entry.path()).filter(|path| path.is_file()).collect();
    files.sort();
    files
        .iter()
        .flat_map(|path| fs::read_to_string(path).expect("a text").lines().map(String::from).collect::<Vec<String>>())
        .collect()
}

pub fn timed(into: &Path) -> Vec<Timed> {
    let read = |line: String| {
        let cells: Vec<&str> = line.split('\t').collect();
        let reached = cells[2].split(',').filter_map(|no| no.parse().ok()).collect();
        Timed { name: cells[0].into(), seconds: cells[1].parse().expect("seconds"), reached }
    };
    lines_of(into, "tests").into_iter().map(read).collect()
}

/// What each site came to: `caught`, `hangs`, `escaped` or `unreached`, and by which test. A later run counts.
pub fn found(into: &Path) -> BTreeMap<u32, (String, String)> {
    let read = |line: String| {
        let cells: Vec<&str> = line.split('\t').collect();
        (cells[0].parse().expect("a number"), (cells[1].to_string(), cells[2].to_string()))
    };
    let mut found: BTreeMap<u32, (String, String)> = BTreeMap::new();
    for (no, how) in lines_of(into, "found").into_iter().map(read) {
        let caught = |how: &(String, String)| how.0 == "caught" || how.0 == "hangs";
        if !found.get(&no).is_some_and(caught) {
            found.insert(no, how);
        }
    }
    found
}

/// The tests that reach each site, until one fails. Those that have taken `budget` seconds together are enough.
pub fn run(into: &Path, shard: Shard, sites: Option<BTreeSet<u32>>, only: Option<&str>, budget: f64) {
    let binary = binary(into);
    let mut timed = timed(into);
    timed.retain(|timed| timed.seconds.is_finite() && among(only, &timed.name));
    timed.sort_by(|one, two| one.seconds.total_cmp(&two.seconds));
    let seconds: BTreeMap<&str, f64> = timed.iter().map(|timed| (timed.name.as_str(), timed.seconds)).collect();
    let known = found(into);
    let mut out = appended(into, "found", shard);
    for (at, line) in fs::read_to_string(into.join("sites.tsv")).expect("`plant` comes first").lines().enumerate() {
        let no: u32 = line.split('\t').next().and_then(|no| no.parse().ok()).expect("a number");
        let asked = sites.as_ref().map_or(!known.contains_key(&no), |sites| sites.contains(&no));
        if !shard.has(at) || !asked {
            continue;
        }
        // The quickest of each module first: of one module they are much alike.
        let mut ranks: BTreeMap<&str, usize> = BTreeMap::new();
        let reaching = timed.iter().filter(|timed| timed.reached.contains(&no)).map(|timed| {
            let rank = ranks.entry(timed.name.split("::").next().unwrap_or_default()).or_default();
            *rank += 1;
            (*rank, timed)
        });
        let mut reaching: Vec<(usize, &Timed)> = reaching.collect();
        reaching.sort_by_key(|(rank, _)| *rank);
        let mut batches: Vec<Vec<&str>> = vec![Vec::new(); 4];
        let mut spent = 0.0;
        for (_, timed) in reaching {
            spent += timed.seconds;
            if spent > budget {
                break;
            }
            if FEWER.iter().any(|(of, ..)| timed.name.starts_with(of)) {
                batches.push(vec![&timed.name]);
            } else {
                let at = [2.0, 6.0, 15.0].iter().filter(|up_to| spent > **up_to).count();
                batches[at].push(&timed.name);
            }
        }
        let env = [("PLANTED_SITE", no.to_string())];
        let env = env.each_ref().map(|(name, no)| (*name, no.as_str()));
        let start = Instant::now();
        let mut how = if spent == 0.0 { ("unreached", String::new()) } else { ("escaped", String::new()) };
        for batch in batches.iter().filter(|batch| !batch.is_empty()) {
            match tests(&binary, into, batch, |name| 10.0 * seconds[name] + 10.0, &env) {
                End::Passed => continue,
                End::Failed(name) => how = ("caught", name),
                End::Hung(name) => how = ("hangs", name),
            }
            break;
        }
        let took = start.elapsed().as_secs_f64();
        writeln!(out, "{no}\t{}\t{}\t{took:.1}", how.0, how.1).expect("the copy can be written");
    }
}
