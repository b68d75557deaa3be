//! What the program says of itself: help, completions, manual, colours.

use std::process::Command;

use crate::support::{Job, root, socle, stderr, stdout};

/// The commands, as the help lists them.
fn commands() -> Vec<String> {
    let help = stdout(&socle(&["--help"]));
    let list = help.split("Commands:\n").nth(1).expect("a list of commands");
    let names = list
        .lines()
        .take_while(|line| !line.is_empty())
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    names
        .map(|line| line.split_whitespace().next().expect("a name").to_string())
        .filter(|name| name != "help")
        .collect()
}

#[test]
fn shells_complete_every_command() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let output = socle(&["completions", shell]);
        assert!(output.status.success(), "{}", stderr(&output));
        let text = stdout(&output);
        let lacking: Vec<String> = commands().into_iter().filter(|name| !text.contains(name.as_str())).collect();
        assert!(lacking.is_empty(), "{shell}: {lacking:?}");
    }
}

#[test]
fn the_manual_has_a_page_for_every_command() {
    let folder = tempfile::tempdir().expect("a folder");
    let output = socle(&["man".as_ref(), folder.path().as_os_str()]);
    assert!(output.status.success(), "{}", stderr(&output));
    for name in commands() {
        let page = std::fs::read_to_string(folder.path().join(format!("socle-{name}.1"))).expect("a page");
        assert!(page.contains(".SH NAME"), "{name}");
    }
    let first = std::fs::read_to_string(folder.path().join("socle.1")).expect("the first page");
    assert!(first.contains("Exit status"), "{first}");
}

/// Help, of each command too, fits a terminal of 80 columns and ends its lines without a full stop.
#[test]
fn help_fits_a_terminal() {
    let all = commands();
    assert!(all.len() >= 6, "{all:?}");
    for name in all {
        for flag in ["--help", "-h"] {
            let text = stdout(&socle(&[name.as_str(), flag]));
            let long: Vec<&str> = text.lines().filter(|line| line.chars().count() > 100).collect();
            assert!(long.is_empty(), "{name}: {long:?}");
            let about = text.lines().next().expect("what it does");
            assert!(!about.ends_with('.') && about.starts_with(char::is_uppercase), "{name}: {about}");
        }
    }
}

/// Colours are for a terminal; a stream that `CLICOLOR_FORCE` has coloured is plain again by `NO_COLOR`.
#[test]
fn no_color_is_obeyed() {
    let job = Job::copy("creek-porch");
    job.edit("job.toml", "IBC 2021", "IBC 1887");
    let run = |set: &[(&str, &str)]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_socle"));
        command.current_dir(root()).arg("check").arg(job.path()).env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE");
        stderr(&command.envs(set.iter().copied()).output().expect("the program runs"))
    };
    let escape = '\u{1b}';
    assert!(!run(&[]).contains(escape), "no terminal, no colours");
    assert!(run(&[("CLICOLOR_FORCE", "1")]).contains(escape));
    assert!(!run(&[("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")]).contains(escape));
}
