//! The README's commands run.

use crate::support::{root, socle, stderr};

#[test]
fn commands_of_the_readme_run() {
    let text = std::fs::read_to_string(root().join("README.md")).expect("README.md");
    let mut ran = 0;
    for line in text.lines().filter_map(|line| line.strip_prefix("    cargo run --release -- ")) {
        let mut args: Vec<String> = Vec::new();
        let mut quoted = false;
        for (at, part) in line.split('"').enumerate() {
            if at % 2 == 1 {
                args.last_mut().expect("a word before a quote").push_str(part);
                quoted = true;
                continue;
            }
            for (at, word) in part.split(' ').enumerate() {
                if at == 0 && quoted { args.last_mut().expect("a word").push_str(word) } else { args.push(word.into()) }
            }
        }
        args.retain(|arg| !arg.is_empty());
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
