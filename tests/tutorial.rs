//! The tutorial from an empty folder: its commands run, its edits are made, and each prints what stands there.
//! `UPDATE_EXPECT=1 cargo test tutorial` writes anew what they print; then read it again.

use std::path::Path;
use std::process::Command;

use expect_test::expect_file;

use crate::readme::words;
use crate::support::root;

/// What the tutorial asks of its reader, in order; `Prints` holds what the last command printed.
enum Step<'a> {
    Run(&'a str),
    Prints,
    Replace { file: &'a str, old: &'a str, new: &'a str },
    Append { file: &'a str, text: &'a str },
    Unmark { file: &'a str },
}

/// A piece of the tutorial: as it is written, or where a command's print stands.
fn steps(text: &str) -> Vec<(&str, Step<'_>)> {
    let mut steps = Vec::new();
    let mut rest = text;
    let mut replaced: Option<(&str, &str)> = None;
    while let Some((before, after)) = rest.split_once("\n```") {
        let (kind, after) = after.split_once('\n').expect("a block");
        let (body, after) = after.split_once("```\n").expect("the end of a block");
        unmarks(before, &mut steps);
        let asked = before.trim_end().lines().last().unwrap_or_default();
        let file = || asked.split('`').nth(1).unwrap_or_else(|| panic!("a file in: {asked}"));
        let step = match (kind, asked) {
            ("sh", _) => Some(Step::Run(body)),
            ("text", _) => Some(Step::Prints),
            (_, "with") => {
                let (file, old) = replaced.take().expect("what is replaced");
                Some(Step::Replace { file, old, new: body })
            }
            (_, asked) if asked.ends_with("replace") => {
                replaced = Some((file(), body));
                None
            }
            (_, asked) if asked.starts_with("At the end of") => Some(Step::Append { file: file(), text: body }),
            _ => panic!("what is this block for? {asked}\n{body}"),
        };
        steps.extend(step.map(|step| (body, step)));
        rest = after;
    }
    unmarks(rest, &mut steps);
    steps
}

/// "In `FILE`, take away every ` ?`" is a step in words.
fn unmarks<'a>(words: &'a str, steps: &mut Vec<(&'a str, Step<'a>)>) {
    for line in words.lines().filter(|line| line.contains("take away every mark")) {
        steps.extend(
            line.split('`').skip(1).step_by(2).filter(|it| it.contains('.')).map(|file| ("", Step::Unmark { file })),
        );
    }
}

fn change(folder: &Path, file: &str, by: impl Fn(&str) -> String) {
    let path = folder.join(file);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|_| panic!("{file}"));
    std::fs::write(path, by(&text)).expect("a file");
}

/// What a command prints, on either stream, with its exit status where that is not 0.
fn run(folder: &Path, command: &str) -> String {
    let mut printed = String::new();
    for line in command.lines().filter(|line| !line.is_empty()) {
        let mut args = words(line);
        assert_eq!(args.remove(0), "socle", "{line}");
        let output =
            Command::new(env!("CARGO_BIN_EXE_socle")).args(args).current_dir(folder).output().expect("it runs");
        assert!(matches!(output.status.code(), Some(0 | 1)), "{line}: {}", String::from_utf8_lossy(&output.stderr));
        printed += &String::from_utf8_lossy(&output.stderr);
        printed += &String::from_utf8_lossy(&output.stdout);
    }
    printed
}

#[test]
fn the_tutorial_leads_from_an_empty_folder_to_a_package() {
    let path = root().join("guide/tutorial.md");
    let text = std::fs::read_to_string(&path).expect("guide/tutorial.md");
    let folder = tempfile::tempdir().expect("a folder");
    let (mut written, mut rest, mut printed) = (String::new(), text.as_str(), String::new());
    let mut ran = 0;
    for (body, step) in steps(&text) {
        match step {
            Step::Run(command) => {
                printed = run(folder.path(), command);
                ran += 1;
            }
            Step::Prints => {
                let (before, after) = rest.split_once(&format!("```text\n{body}```\n")).expect("the block, in order");
                written += &format!("{before}```text\n{printed}```\n");
                rest = after;
            }
            Step::Replace { file, old, new } => change(folder.path(), file, |text| {
                assert_eq!(text.matches(old).count(), 1, "once in {file}:\n{old}\nin\n{text}");
                text.replace(old, new)
            }),
            Step::Append { file, text } => change(folder.path(), file, |old| format!("{}\n\n{text}", old.trim_end())),
            Step::Unmark { file } => change(folder.path(), file, |text| {
                assert!(text.contains(" ?"), "{file} has no mark");
                text.replace(" ?", "")
            }),
        }
    }
    assert!(ran >= 8);
    expect_file![path].assert_eq(&(written + rest));
    let pdf = folder.path().join("out/shed.pdf");
    assert!(std::fs::metadata(pdf).is_ok_and(|file| file.len() > 100_000), "the package");
}
