//! The README's commands run, and the example of the grammar prints what stands there.

use crate::support::{root, socle, socle_in, stderr, stdout};

/// A command line as a shell splits it.
pub fn words(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    for (at, part) in line.split('"').enumerate() {
        if at % 2 == 1 {
            words.last_mut().expect("a word before a quote").push_str(part);
            continue;
        }
        for (at, word) in part.split(' ').enumerate() {
            if at == 0 { words.last_mut().expect("a word").push_str(word) } else { words.push(word.into()) }
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

#[test]
fn commands_of_the_readme_run() {
    let text = std::fs::read_to_string(root().join("README.md")).expect("README.md");
    let mut ran = 0;
    for line in text.lines().filter_map(|line| line.strip_prefix("    cargo run --release -- ")) {
        let mut args = words(line);
        let folder = tempfile::tempdir().expect("a folder");
        if args[0] == "package" {
            args.extend(["-o".into(), folder.path().join("out.pdf").display().to_string()]);
        }
        let output = socle(&args);
        assert!(output.status.success(), "{line}: {}", stderr(&output));
        ran += 1;
    }
    assert!(ran >= 2);
}

/// The first job of a reader, command after command in one folder.
#[test]
fn the_first_job_of_the_readme_is_made() {
    let text = std::fs::read_to_string(root().join("README.md")).expect("README.md");
    let (_, after) = text.split_once("## A first job\n").expect("the chapter");
    let (chapter, _) = after.split_once("\n## ").expect("its end");
    let folder = tempfile::tempdir().expect("a folder");
    let lines: Vec<&str> = chapter.lines().filter_map(|line| line.strip_prefix("    socle ")).collect();
    assert!(lines.len() >= 3, "{lines:?}");
    for line in lines {
        let output = socle_in(folder.path(), &words(line));
        assert!(output.status.success(), "{line}: {}", stderr(&output));
    }
    assert!(folder.path().join("out/shed.pdf").is_file());
}

/// The sheet is cut out, checked with the library, and worked by the command
/// that stands under it.
#[test]
fn the_example_of_the_grammar_is_worked_as_printed() {
    let text = std::fs::read_to_string(root().join("templates/sheets/GRAMMAR.md")).expect("GRAMMAR.md");
    let block = |name: &str| {
        let (_, after) = text.split_once(&format!("```{name}\n")).unwrap_or_else(|| panic!("a block `{name}`"));
        after.split_once("```").expect("its end").0
    };
    let job = tempfile::tempdir().expect("a folder");
    let path = job.path().join("templates/sheets/own/beam-seat.sheet");
    std::fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
    std::fs::write(&path, block("sheet")).expect("a file");
    let checked = socle(&["sheets".as_ref(), path.as_os_str()]);
    assert!(checked.status.success(), "{}", stderr(&checked));
    let command = text.lines().find_map(|line| line.strip_prefix("    socle work ")).expect("a command");
    let mut args = vec!["work".to_string()];
    args.extend(words(command));
    *args.iter_mut().find(|arg| *arg == "JOB").expect("the folder") = job.path().display().to_string();
    let worked = socle(&args);
    assert!(worked.status.success(), "{}", stderr(&worked));
    assert_eq!(stdout(&worked), block("text"));
}
