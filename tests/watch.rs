//! `socle watch`: the program runs beside the test, which changes files and waits for what is said. Nothing is timed: each
//! wait has an end only so that a test which fails does.

use std::collections::BTreeMap;
use std::fs;
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::Duration;

use proptest::prelude::*;
use socle::command::{Kept, MAIN, sources};
use socle::files::{Failure, unwritten};
use socle::pdf::{Document, Typesetter};
use socle::report;
use socle::verdict::Verdict;

use crate::extend::{RULE, porch};
use crate::support::{Job, cases, one_line, socle, stderr, stdout};
use crate::workbooks::moved;

/// Far longer than anything takes.
const END: Duration = Duration::from_secs(180);

/// A watch that runs, and what it has said.
struct Watch {
    child: Child,
    lines: Receiver<String>,
}

impl Watch {
    fn of(job: &Path, args: &[&str]) -> Watch {
        let mut command = Command::new(env!("CARGO_BIN_EXE_socle"));
        command.arg("watch").arg(job).args(args);
        let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("the program starts");
        let (said, lines) = channel();
        forward(child.stdout.take().expect("its output"), said.clone());
        forward(child.stderr.take().expect("its errors"), said);
        Watch { child, lines }
    }

    /// One that only checks, and has begun.
    fn checking(job: &Job) -> Watch {
        let mut watch = Watch::of(&job.path(), &["--no-pdf"]);
        watch.until("Watching");
        watch
    }

    /// All that is said up to a line with these words, as one line.
    fn until(&mut self, words: &str) -> String {
        let mut said = String::new();
        while !one_line(&said).contains(words) {
            let line = self.lines.recv_timeout(END);
            said += &line.unwrap_or_else(|_| panic!("`{words}` is not said, but:\n{said}"));
            said.push('\n');
        }
        one_line(&said)
    }
}

fn forward(stream: impl Read + Send + 'static, said: Sender<String>) {
    std::thread::spawn(move || {
        for line in BufReader::new(stream).lines() {
            if said.send(line.expect("UTF-8")).is_err() {
                return;
            }
        }
    });
}

impl Drop for Watch {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The last line of what `check` says: the verdict.
fn headline(job: &Job) -> String {
    let said = stdout(&socle(&["check".as_ref(), job.path().as_os_str()]));
    let json = job.check_json();
    let headline = json["headline"].as_str().expect("a headline").to_string();
    assert!(one_line(&said).ends_with(&headline), "{said}");
    headline
}

/// Sets a snow load of post P1; on no limit of another does it bear.
fn snow(job: &Job, kip: &str) {
    job.set("posts.csv", "P1", "P_S", kip);
}

#[test]
fn a_save_is_told_and_wrong_input_keeps_the_package() {
    let job = Job::copy("creek-porch");
    let out = tempfile::tempdir().expect("a folder");
    let pdf = out.path().join("porch.pdf");
    let mut watch = Watch::of(&job.path(), &["-o", &pdf.display().to_string()]);
    let said = watch.until("Watching");
    assert!(said.contains("governing limit") && said.contains(&headline(&job)), "{said}");
    assert!(said.contains("a preview without tags; `socle package` writes the file for the office."), "{said}");
    let first = fs::read(&pdf).expect("the package");

    snow(&job, "1.30");
    let said = watch.until("written");
    assert!(said.contains("posts.csv saved") && said.contains(&headline(&job)), "{said}");
    assert!(!said.contains("P4"), "nothing is said of what did not change: {said}");
    let second = fs::read(&pdf).expect("the package");
    assert_ne!(first, second);

    snow(&job, "a lot");
    let said = watch.until("The last good package stands");
    assert!(said.contains("found `a lot`") && said.contains("1 thing to fix; nothing was written"), "{said}");
    assert_eq!(fs::read(&pdf).expect("the package"), second);

    // It goes on from the last good state.
    snow(&job, "9");
    let said = watch.until("written");
    assert!(said.contains("Not met now:") && said.contains("P1") && said.contains("NOT MET"), "{said}");
    assert!(said.contains("It was: ") && said.contains(&headline(&job)), "{said}");
    let third = fs::read(&pdf).expect("the package");
    assert_ne!(second, third);

    snow(&job, "1.30");
    let said = watch.until("written");
    assert!(said.contains("Met now:") && said.contains(&headline(&job)), "{said}");
}

/// The typesetter of a title block that is the job's own can come to any end: the watch goes on.
#[test]
fn a_title_block_that_ends_the_typesetter_does_not_end_the_watch() {
    let job = Job::copy("creek-porch");
    let block = |body: &str| {
        job.write("templates/title-block.typ", format!("#let title-block(firm, job, sheet) = [{body}]\n"));
    };
    block("Ash and Oak");
    let output = job.folder().join("package.pdf");
    let mut watch = Watch::of(&job.path(), &["-o", &output.display().to_string()]);
    watch.until("without tags");
    watch.until("Watching");
    block("#(\"a\" * 100000000000)");
    watch.until("runs out of memory or of stack");
    watch.until("The last good package stands");
    block("Ash and Elm");
    watch.until("without tags");
    assert!(output.is_file());
}

#[test]
fn editors_save_in_ways_of_their_own() {
    let job = Job::copy("creek-porch");
    let mut watch = Watch::checking(&job);
    let path = job.path().join("posts.csv");

    // The same bytes again are no save, nor is what an editor leaves beside.
    fs::write(&path, job.read("posts.csv")).expect("the same");
    job.write(".posts.csv.swp", "swap").write("posts.csv~", "a copy").write("4913", "").write("#posts.csv#", "x");

    // Another file takes its place.
    job.write("posts.csv.tmp", job.read("posts.csv").replace("1.10,-1.05", "1.40,-1.05"));
    fs::rename(job.path().join("posts.csv.tmp"), &path).expect("a new name");
    let said = watch.until("All ");
    assert_eq!(said.matches(" saved").count(), 1, "{said}");
    assert!(said.contains("posts.csv saved") && said.contains("P1"), "{said}");

    // It is emptied and then written.
    let text = job.read("posts.csv").replace("1.40,-1.05", "1.45,-1.05");
    fs::write(&path, "").expect("nothing");
    fs::write(&path, text).expect("the text");
    let said = watch.until("All ");
    assert!(said.contains("P1"), "{said}");

    // The old file is put aside, the new one written, the old one taken away.
    let text = job.read("posts.csv").replace("1.45,-1.05", "1.50,-1.05");
    fs::rename(&path, job.path().join("posts.csv~")).expect("put aside");
    fs::write(&path, text).expect("the text");
    fs::remove_file(job.path().join("posts.csv~")).expect("taken away");
    let said = watch.until("All ");
    assert!(said.contains("P1"), "{said}");

    // Line ends are no change of the job.
    fs::write(&path, job.read("posts.csv").replace('\n', "\r\n")).expect("the text");
    let said = watch.until(&headline(&job));
    assert!(said.contains("posts.csv saved") && !said.contains("P1"), "{said}");
}

#[test]
fn sheets_tables_and_workbooks_count() {
    let job = porch();
    let sheet = format!("templates/sheets/own/{RULE}.sheet");
    let mut watch = Watch::checking(&job);
    let text = job.read(&sheet);
    fs::remove_file(job.path().join(&sheet)).expect("the rule");
    let said = watch.until(&headline(&job));
    assert!(said.contains(&format!("{sheet} saved")) && said.contains("It was: All 188 limits"), "{said}");
    assert!(said.contains("Open no longer: assumed value posts.csv furring (0.75 in)"), "{said}");
    job.write(&sheet, text.replace("must ", "mutter "));
    watch.until("The last good state stands");
    job.write(&sheet, &text);
    let said = watch.until(&headline(&job));
    assert!(said.contains(&sheet), "{said}");
    drop(watch);

    let book = moved("creek-porch", |_, _| {});
    let other = moved("creek-porch", |table, sheet| {
        if table == "posts" {
            sheet.write_number(1, 13, 9.0).expect("a cell");
        }
    });
    let mut watch = Watch::checking(&book);
    fs::copy(other.path().join("job.xlsx"), book.path().join("job.xlsx")).expect("a copy");
    let said = watch.until("NOT MET. ");
    assert!(said.contains("job.xlsx saved") && said.contains("Not met now:"), "{said}");
}

#[test]
fn posts_come_and_go() {
    let job = Job::copy("creek-porch");
    let mut watch = Watch::checking(&job);
    let text = job.read("posts.csv");
    let last = text.lines().last().expect("a row");
    job.write("posts.csv", text.replace(last, &last.replace("P4,22,2", "P5,22,2")));
    let said = watch.until(&headline(&job));
    assert!(said.contains("Gone: P4.") && said.contains("P5") && said.contains("new -> "), "{said}");
}

#[test]
fn a_folder_that_tells_nothing_is_looked_at() {
    let job = Job::copy("creek-porch");
    let mut watch = Watch::of(&job.path(), &["--no-pdf", "--poll"]);
    watch.until("Watching");
    snow(&job, "1.30");
    let said = watch.until(&headline(&job));
    assert!(said.contains("posts.csv saved"), "{said}");
}

#[test]
fn confirmed_values_that_stand_elsewhere_count() {
    let job = Job::copy("creek-porch");
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("confirmed.toml");
    fs::write(&file, "").expect("a file");
    let mut watch = Watch::of(&job.path(), &["--no-pdf", "--confirmed", &file.display().to_string()]);
    watch.until("Watching");
    fs::write(&file, "confirmed = 1\n").expect("a file");
    watch.until("The last good state stands");
    fs::write(&file, "\n").expect("a file");
    let said = watch.until(&headline(&job));
    assert!(said.contains("confirmed.toml saved"), "{said}");
}

/// What stands in the way is a link in a circle here, since whoever runs the tests may write anywhere.
#[cfg(unix)]
#[test]
fn a_package_that_cannot_be_written_is_written_later() {
    let job = Job::copy("creek-porch");
    let out = tempfile::tempdir().expect("a folder");
    let folder = out.path().join("packages");
    std::os::unix::fs::symlink(&folder, &folder).expect("a link");
    let pdf = folder.join("porch.pdf");
    let mut watch = Watch::of(&job.path(), &["-o", &pdf.display().to_string()]);
    let said = watch.until("the watch goes on");
    assert!(said.contains("could not be written"), "{said}");
    fs::remove_file(&folder).expect("out of its way");
    watch.until("written");
    assert!(fs::read(&pdf).expect("the package").starts_with(b"%PDF"));
}

#[test]
fn a_file_that_is_held_is_told_from_one_that_cannot_be_made() {
    use std::io::{Error, ErrorKind};
    let here = crate::support::root().join("Cargo.toml");
    let said = |path: &Path, kind: ErrorKind| unwritten(path, &Error::from(kind));
    let held = said(&here, ErrorKind::PermissionDenied);
    assert!(held.contains("Cargo.toml` could not be replaced") && held.contains("close it there"), "{held}");
    assert!(!said(&here.with_file_name("none.pdf"), ErrorKind::PermissionDenied).contains("close it there"));
    assert!(!said(&here, ErrorKind::StorageFull).contains("close it there"));
}

/// Ctrl-C ends it with the status that `check` had for the last state, 2 if that was wrong.
#[cfg(unix)]
#[test]
fn it_ends_with_the_status_of_the_last_state() {
    for (kip, words, status) in [("1.30", "All ", 0), ("9", "NOT MET. ", 1), ("a lot", "The last good state stands", 2)]
    {
        let job = Job::copy("creek-porch");
        let mut watch = Watch::checking(&job);
        snow(&job, kip);
        watch.until(words);
        let id = watch.child.id().to_string();
        assert!(Command::new("kill").args(["-INT", &id]).status().expect("kill").success());
        assert_eq!(watch.child.wait().expect("its end").code(), Some(status), "{kip}");
    }
}

/// A state of a job: the JSON of its check, and the files that its package is typeset from.
fn state(kept: &mut Kept, job: &Path) -> Result<(String, BTreeMap<String, Vec<u8>>), usize> {
    let mut worked = || -> Result<_, Failure> {
        let loaded = kept.load(job, None)?;
        let (root, results) = kept.work_out(&loaded)?;
        let verdict = Verdict::new(&loaded.job, &loaded.library, &results, &loaded.loads.groups);
        let json = report::check_json(&root, &results, &verdict, &loaded.digest).collect();
        Ok((json, kept.sources(&loaded, &root, &results, &verdict)?.files))
    };
    worked().map_err(|failure| match failure {
        Failure::Wrong(wrong) => wrong.len(),
        Failure::Machine(said) => panic!("{said}"),
    })
}

/// A file, a row and a column of it, and what is written there.
type Change = (&'static str, &'static str, &'static str, &'static str);

const CHANGES: [Change; 12] = [
    ("posts.csv", "P1", "P_S", "1.4"),
    ("posts.csv", "P2", "P_W", "-2.2"),
    ("posts.csv", "P3", "height", "9 ft"),
    ("posts.csv", "P4", "species", "Southern Pine"),
    ("posts.csv", "P4", "source", "demo, by hand"),
    ("posts.csv", "P2", "width", "no number"),
    ("posts.csv", "P3", "base", "foot 4"),
    ("bases.csv", "foot 6", "uplift", "1.3"),
    ("bases.csv", "foot 6", "floor_spacing_along", "3 1/2"),
    ("bases.csv", "foot 4", "finish", "zinc"),
    ("foundations.csv", "rim beam", "floor_thick", "9"),
    ("foundations.csv", "rim beam", "floor_along", "y"),
];

/// Of a job with a roof, and with bases and piers that are drawn.
const ROOF_CHANGES: [Change; 11] = [
    ("posts.csv", "A1", "timbers", "120"),
    ("posts.csv", "A2", "height", "9.5"),
    ("posts.csv", "A2", "base_level", "0.5"),
    ("posts.csv", "A1", "width", "7"),
    ("posts.csv", "A1", "source", "demo, by hand"),
    ("posts.csv", "A2", "x", "no number"),
    ("bases.csv", "knife 8", "foot_width", "7"),
    ("bases.csv", "knife 8", "blade_along", "x"),
    ("bases.csv", "knife 6", "standoff", "1 1/2"),
    ("foundations.csv", "pier 16", "pad_t", "12"),
    ("foundations.csv", "pier 16", "pier_shape", "square"),
];

/// Changes a job again and again, and holds each of its states to what it comes to by itself. Past the changes it goes back
/// to where it began.
fn kept_and_alone(name: &str, changes: &[Change], picks: &[usize]) -> Result<(), TestCaseError> {
    let job = Job::copy(name);
    let begun = ["posts.csv", "bases.csv", "foundations.csv"].map(|file| (file, job.read(file)));
    let mut kept = Kept::default();
    prop_assert!(state(&mut kept, &job.path()).is_ok());
    for pick in picks {
        match changes.get(*pick) {
            Some((file, row, column, value)) => _ = job.set(file, row, column, value),
            None => begun.iter().for_each(|(file, text)| _ = job.write(file, text)),
        }
        let (again, alone) = (state(&mut kept, &job.path()), state(&mut Kept::default(), &job.path()));
        prop_assert!(again == alone, "{name} after {pick}");
    }
    Ok(())
}

proptest! {
    #![proptest_config(cases(4))]

    /// Whatever was worked before, a state comes to what it would come to by itself: its results, and each file
    /// that its pages are set from.
    #[test]
    fn what_is_kept_changes_no_state(picks in prop::collection::vec(0..CHANGES.len() + 1, 6)) {
        kept_and_alone("creek-porch", &CHANGES, &picks)?;
    }

    #[test]
    fn what_is_kept_under_a_roof_changes_no_state(picks in prop::collection::vec(0..ROOF_CHANGES.len() + 1, 6)) {
        kept_and_alone("orchard-pergola", &ROOF_CHANGES, &picks)?;
    }
}

/// The same where a key changes that all posts share, and the units that a job is printed in.
#[test]
fn what_is_kept_of_roofs_and_metric_jobs_changes_no_state() {
    let job = Job::copy("orchard-pergola");
    let mut kept = Kept::default();
    for (from, to) in [
        ("p_g = \"30 psf\"", "p_g = \"32 psf\""),
        ("[job]\n", "[job]\nunits = \"metric\"\n"),
        ("frost = \"36 in\"", "frost = \"30 in\""),
        ("units = \"metric\"\n", ""),
    ] {
        assert!(state(&mut kept, &job.path()).is_ok());
        job.edit("job.toml", from, to);
        let (again, alone) = (state(&mut kept, &job.path()), state(&mut Kept::default(), &job.path()));
        assert!(again.is_ok() && again == alone, "{to}");
    }
}

/// Pages that are set after others are those that are set alone, as long as no part ends on a thin page that it would be set
/// otherwise for.
#[test]
fn pages_set_again_are_those_set_alone() {
    let job = Job::copy("creek-porch");
    let mut typesetter = Typesetter::default();
    let set = |typesetter: &mut Typesetter| {
        let Ok(found) = sources(&job.path(), None, false) else { panic!("the job works out") };
        let document = Document { files: found.files, main: MAIN, date: found.date, ident: &found.digest };
        let pages = typesetter.set(document).unwrap_or_else(|said| panic!("{said:#?}"));
        pages.export(false).unwrap_or_else(|said| panic!("{said:#?}"))
    };
    set(&mut typesetter);
    for kip in ["1.4", "1.5", "1.1"] {
        job.set("posts.csv", "P2", "P_S", kip);
        let (again, alone) = (set(&mut typesetter), set(&mut Typesetter::default()));
        assert_eq!(again.pages, alone.pages, "{kip}");
        assert!(again.bytes == alone.bytes, "{kip}");
    }
}

/// Every text file of a job reads the same with the line ends of Windows.
#[test]
fn line_ends_of_windows_read_the_same() {
    for job in [porch(), Job::copy("cart-barn")] {
        let mut before = job.check_json();
        let mut waiting: Vec<PathBuf> = vec![job.path()];
        while let Some(path) = waiting.pop() {
            if path.is_dir() {
                waiting.extend(fs::read_dir(path).expect("a folder").map(|entry| entry.expect("an entry").path()));
                continue;
            }
            let text = fs::read_to_string(&path).expect("a text").replace("\r\n", "\n");
            fs::write(&path, text.replace('\n', "\r\n")).expect("a file");
        }
        let mut after = job.check_json();
        before["digest"].take();
        after["digest"].take();
        assert_eq!(before, after);
    }
}

#[test]
fn a_job_that_is_not_there_is_not_watched() {
    let output = socle(&["watch", "no-such-job"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(stderr(&output).contains("there is no folder `no-such-job`"), "{}", stderr(&output));
}

#[test]
fn names_of_files_are_legal_everywhere() {
    for (text, name) in [
        ("timber to order", "timber-to-order"),
        ("A/1: \"rods\" <1/2> | *?\\ .", "A-1-rods-1-2"),
        ("con", "con_"),
        ("LPT1", "LPT1_"),
        ("Con.text", "Con-text"),
        ("../..", "_"),
        ("Ständer 3. ", "Ständer-3"),
    ] {
        assert_eq!(socle::names::file_name(text), name);
    }
}

proptest! {
    #![proptest_config(cases(400))]

    #[test]
    fn no_text_makes_an_illegal_name(text in ".{0,20}") {
        let name = socle::names::file_name(&text);
        prop_assert!(!name.is_empty() && !name.contains(['<', '>', ':', '"', '/', '\\', '|', '?', '*', '.', ' ']));
        prop_assert!(!name.contains(char::is_control));
    }
}
