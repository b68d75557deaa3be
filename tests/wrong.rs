//! Wrong input, a file each below `tests/wrong`: what is done, and every message as the user
//! sees it. `DEVELOPERS.md` says how a file is written. A message that changes on purpose is
//! written anew by `UPDATE_EXPECT=1 cargo test wrong` and read again.

use std::collections::{BTreeMap, BTreeSet};
use std::panic::catch_unwind;
use std::path::{Path, PathBuf};

use expect_test::expect_file;
use rayon::prelude::*;

use crate::support::{Job, root, socle, socle_in, stderr, stdout};

#[path = "fuzz/src/quoted.rs"]
mod quoted;

use quoted::words;

/// Stands between what is done and the message.
const RULE: &str = "---\n";

/// A folder in which something is wrong, and what is typed there.
struct Case {
    job: Job,
    /// The example that it is a copy of, if it is one.
    example: Option<String>,
    typed: Option<Vec<String>>,
    status: i32,
}

impl Case {
    /// Does what the lines of a file say.
    fn new(steps: &str) -> Case {
        let mut case = Case { job: Job::empty(), example: None, typed: None, status: 2 };
        let mut lines = steps.lines().peekable();
        while let Some(line) = lines.next() {
            let mut block = String::new();
            while let Some(more) = lines.next_if(|line| line.starts_with('|')) {
                block.push_str(more.strip_prefix("| ").unwrap_or(&more[1..]));
                block.push('\n');
            }
            case.step(line, &block);
        }
        case
    }

    fn step(&mut self, line: &str, block: &str) {
        let (verb, rest) = line.split_once(' ').unwrap_or((line, ""));
        let words = words(rest);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let job = &self.job;
        match (verb, words.as_slice()) {
            ("#" | "why:", _) => {}
            ("job", [name]) => (self.job, self.example) = (Job::copy(name), Some((*name).into())),
            ("set", [file, row, column, "=", ..]) => {
                job.set(file, row, column, rest.split_once(" =").expect("a value").1.trim_start());
            }
            ("replace", ["all", file, from, "with", to]) => {
                let text = job.read(file);
                assert!(text.contains(from), "{file} has no `{from}`");
                job.write(file, text.replace(from, to));
            }
            ("replace", [file, from, "with", to]) => drop(job.edit(file, from, &characters(to))),
            ("replace", [file, from, "with"]) => drop(job.edit(file, from, block.trim_end_matches('\n'))),
            ("drop", [file, start]) => {
                let text = job.read(file);
                let kept: Vec<&str> = text.split_inclusive('\n').filter(|line| !line.starts_with(start)).collect();
                assert!(kept.concat() != text, "{file} has no line that begins with `{start}`");
                job.write(file, kept.concat());
            }
            ("cut", [file, column]) => drop(job.cut(file, column)),
            ("append", [file]) => drop(job.write(file, job.read(file) + block)),
            ("write", [file]) => drop(job.write(file, block)),
            // Many of something.
            ("long", [file, row, column, many]) => {
                job.set(file, row, column, &"x".repeat(many.parse().expect("how many characters")));
            }
            ("wide", [file, many, heading]) => {
                let many: usize = many.parse().expect("how many columns");
                let add = |(at, line): (usize, &str)| {
                    let cells =
                        (1..=many).map(|no| if at == 0 { heading.replace("{}", &no.to_string()) } else { "1".into() });
                    [line.to_string(), cells.collect::<Vec<String>>().join(",")].join(",") + "\n"
                };
                job.write(file, job.read(file).lines().enumerate().map(add).collect::<String>());
            }
            ("many", [file, many]) => {
                let many: usize = many.parse().expect("how many times");
                let more = (0..many).map(|no| block.replace("{}", &no.to_string()));
                job.write(file, job.read(file) + &more.collect::<String>());
            }
            // What stands elsewhere is not a file of the job, and nobody reads of it.
            ("link", [file]) => {
                let (there, here) = (job.folder().join("elsewhere"), job.path().join(file));
                let _ = std::fs::remove_file(&here);
                std::fs::create_dir_all(here.parent().expect("a folder")).expect("a folder");
                if *file == "templates" {
                    std::fs::create_dir_all(there.join("sheets")).expect("a folder");
                    std::fs::write(there.join("sheets/elsewhere.sheet"), SECRET).expect("a file");
                } else {
                    std::fs::write(&there, SECRET).expect("a file");
                }
                #[cfg(unix)]
                std::os::unix::fs::symlink(there, here).expect("a link");
            }
            ("pipe", [file]) => {
                let here = job.path().join(file);
                std::fs::remove_file(&here).expect("the file");
                assert!(std::process::Command::new("mkfifo").arg(here).status().expect("mkfifo").success());
            }
            ("remove", [file]) => std::fs::remove_file(job.path().join(file)).expect("the file"),
            ("run", args) => self.typed = Some(args.iter().map(|arg| (*arg).into()).collect()),
            ("exit", [status]) => self.status = status.parse().expect("an exit status"),
            _ => panic!("what does `{line}` do?"),
        }
    }

    /// What is complained of; nothing else comes of it.
    fn message(&self, args: &[&str]) -> String {
        let output = socle_in(self.job.folder(), args);
        assert_eq!(output.status.code(), Some(self.status), "{}{}", stdout(&output), stderr(&output));
        assert!(output.stdout.is_empty(), "nothing is printed from wrong input: {}", stdout(&output));
        let message = stderr(&output);
        assert!(!message.contains("secret"), "what stands elsewhere is not printed: {message}");
        let shifty = |c: char| c.is_control() && c != '\n' && c != '\t';
        assert!(!message.contains(shifty), "nothing moves the cursor: {message:?}");
        assert!(message.len() < 10_000, "a message is short: {} bytes", message.len());
        message
    }

    /// The message; of a job, it is what `package` says, and what it proposes is obeyed too.
    fn told(&self) -> String {
        let before = files(self.job.folder());
        let message = match (&self.typed, &self.example) {
            (Some(typed), _) => self.message(&typed.iter().map(String::as_str).collect::<Vec<_>>()),
            (None, Some(name)) => self.message(&["package", name, "-o", "out.pdf"]),
            (None, None) => panic!("neither a job nor what is typed"),
        };
        assert_eq!(files(self.job.folder()), before, "nothing is written from wrong input");
        if let Some(name) = self.example.as_ref().filter(|_| self.typed.is_none()) {
            crate::hints::names_the_units_of(name, &message);
            crate::hints::obeying_gives_no_nonsense(name, &self.job, &message);
        }
        message
    }
}

/// What a link leads to.
const SECRET: &str = "secret = yes\n";

/// A text in which `\u{1b}` stands for a character.
fn characters(text: &str) -> String {
    let mut parts = text.split("\\u{");
    let mut found = parts.next().unwrap_or_default().to_string();
    for part in parts {
        let (code, rest) = part.split_once('}').expect("a code");
        found.push(u32::from_str_radix(code, 16).ok().and_then(char::from_u32).expect("a character"));
        found.push_str(rest);
    }
    found
}

/// Every file below a folder, in order.
fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() { found.extend(files(&path)) } else { found.push(path) }
    }
    found.sort();
    found
}

/// Each file by its path below `tests/wrong`, with what is done and what is expected.
pub fn cases() -> BTreeMap<String, (String, String)> {
    let folder = root().join("tests/wrong");
    let case = |path: PathBuf| {
        let text = std::fs::read_to_string(&path).expect("a text");
        let (steps, message) = text.split_once(RULE).unwrap_or((&text, ""));
        let name = path.strip_prefix(&folder).expect("below").with_extension("").display().to_string();
        (name, (steps.to_string(), message.to_string()))
    };
    files(&folder).into_iter().map(case).collect()
}

/// `WRONG=posts/,own/` tries those whose names begin so.
#[test]
fn every_wrong_input_is_told() {
    let begin = std::env::var("WRONG").unwrap_or_default();
    let tried = |name: &str| begin.split(',').any(|begin| name.starts_with(begin));
    let cases: Vec<_> = cases().into_iter().filter(|(name, _)| tried(name)).collect();
    let differs = |(name, (steps, _)): &(String, (String, String))| {
        let path = root().join(format!("tests/wrong/{name}.txt"));
        catch_unwind(|| expect_file![path].assert_eq(&format!("{steps}{RULE}{}", Case::new(steps).told()))).is_err()
    };
    let different: Vec<&str> = cases.par_iter().filter(|case| differs(case)).map(|(name, _)| name.as_str()).collect();
    assert!(different.is_empty(), "{} of {} differ: {different:#?}", different.len(), cases.len());
}

/// Both work a job out in the same way: that they say the same is tried on the first case of each folder.
#[test]
fn check_says_what_package_says() {
    let mut tried = BTreeSet::new();
    for (name, (steps, message)) in cases() {
        let case = Case::new(&steps);
        let (Some(example), None) = (&case.example, &case.typed) else { continue };
        if tried.insert(name.split('/').next().map(String::from)) {
            assert_eq!(case.message(&["check", example]), message, "{name}");
        }
    }
    assert!(tried.len() > 8, "{tried:?}");
}

#[test]
fn no_two_wrong_inputs_are_alike() {
    let cases = cases();
    assert!(cases.len() > 400, "{}", cases.len());
    let mut seen = BTreeMap::new();
    for (name, (steps, message)) in &cases {
        let done: Vec<&str> =
            steps.lines().filter(|line| !line.starts_with(['#']) && !line.starts_with("why:")).collect();
        for what in [done.join("\n"), message.clone()] {
            if let Some(other) = seen.insert(what, name) {
                panic!("{name} is {other} again");
            }
        }
    }
}

/// What does not go together fails the job, with what to do about it.
fn unfit(job: &Job, part: &str) {
    let json = job.check_json();
    let posts = json["posts"].as_array().expect("posts");
    let fits = posts.iter().flat_map(|post| post["fits"].as_array().expect("fits"));
    let failed: Vec<&serde_json::Value> = fits.filter(|fit| fit["ok"] == false).collect();
    let named = |fit: &&serde_json::Value| fit["fit"].as_str().expect("words").contains(part);
    assert!(!failed.is_empty() && failed.iter().all(named), "{failed:?}");
    assert_eq!(json["ok"], false);
    let output = socle(&["check".as_ref(), job.path().as_os_str()]);
    assert_eq!(output.status.code(), Some(1));
    let words = failed[0]["fit"].as_str().expect("words");
    assert!(stdout(&output).contains(&format!("  {words}\n")), "{}", stdout(&output));
}

#[test]
fn heights_that_do_not_add_up() {
    let job = Job::copy("cart-barn");
    job.edit("foundations.csv", "38,38,30,22,", "38,38,30,30,");
    unfit(&job, "height");
}

#[test]
fn drill_of_another_anchor() {
    let job = Job::copy("cart-barn");
    job.edit("anchors.csv", "yes,5/8,5 1/2,", "yes,1,5 1/2,");
    unfit(&job, "drill");
}

/// Spreadsheets put quotes around a cell of several lines.
#[test]
fn a_cell_of_several_lines_is_no_fault() {
    let job = Job::copy("creek-porch");
    job.edit("posts.csv", "demo\nP2", "\"demo\nsecond line\"\nP2");
    assert!(!job.check_json()["posts"].as_array().expect("posts").is_empty());
}

/// A sheet that opens with a comment takes the place of the one of its name too.
#[test]
fn a_comment_before_a_sheet() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("tear-out.sheet");
    let text = std::fs::read_to_string(root().join("templates/sheets/wood/tear-out.sheet"));
    std::fs::write(&path, format!("-- the shop's own\n\n{}", text.expect("a sheet"))).expect("a file");
    let output = socle(&["sheets", &path.display().to_string()]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
}
