//! The index of messages, `guide/messages.md`, written from the cases of wrong input.

use std::collections::BTreeMap;

use expect_test::expect_file;

use crate::support::root;
use crate::wrong::cases;

/// The folders of `tests/wrong` in the order of the index, each with its heading.
const SECTIONS: [(&str, &str); 15] = [
    ("files", "The folder of a job and its files"),
    ("workbook", "Workbooks"),
    ("job", "job.toml"),
    ("firm", "job.toml: the firm and its logo"),
    ("answers", "job.toml: decisions and confirmed values"),
    ("posts", "posts.csv"),
    ("bases", "bases.csv"),
    ("foundations", "foundations.csv"),
    ("anchors", "anchors.csv"),
    ("loads", "Loads in posts.csv"),
    ("reactions", "reactions.csv"),
    ("roof", "Loads from a roof"),
    ("seismic", "Earthquake"),
    ("own", "A job's own sheets, tables and title block"),
    ("sheets", "The language of sheets"),
];

/// After them, what is said of a command.
const TYPED: [(&str, &str); 2] = [("work", "socle work"), ("commands", "What is typed")];

const VALUES: &str = "Any cell or key";

/// What to do about a value beyond a bound.
const BEYOND: &str = "look at its unit first; what lies beyond is not covered, and is refused";

const INTRO: &str = "\
# Messages

What the program says of wrong input, and what to do about it. Look a message up by its first words, below the file
that it is about. The names and numbers in it are those of an example. A message about a value names the file and the
column or key before it, `posts.csv, width: …`: look for what follows.

Every message names the place, as row and cell where a spreadsheet would show it, and all that is wrong is said in one
run. Nothing is written until all of it is put right.
";

/// One message: its first line, and what to do.
#[derive(Clone)]
struct Entry {
    said: String,
    advice: String,
}

/// What a message is apart from names and numbers: two that differ in these alone are one.
fn literal(said: &str) -> String {
    let mut text = String::new();
    for (at, part) in said.split('`').enumerate() {
        text.push_str(if at % 2 == 0 { part } else { "`" });
    }
    // What a column is for, in brackets behind it.
    while let Some((open, close)) = text.find("` (").and_then(|open| Some((open, open + text[open..].find(')')?))) {
        text.replace_range(open + 1..=close, "");
    }
    let name = |word: &&str| !word.contains(|c: char| c.is_ascii_digit());
    text.replace("`, `", "`").replace("` or `", "`").replace("` and `", "`").split_whitespace().filter(name).collect()
}

/// Hints that say where a fault comes from and not what to do.
fn is_advice(hint: &str) -> bool {
    let whence =
        ["for post", "the rule is in", "so it is in", "the first is at", "this is about", "in line", "in the sheet"];
    !whence.iter().any(|start| hint.starts_with(start)) && !hint.ends_with("has no value")
}

/// The messages of a case.
fn entries(steps: &str, message: &str) -> Vec<Entry> {
    let why = steps.lines().find_map(|line| line.strip_prefix("why: "));
    let mut entries = Vec::new();
    for (at, block) in message.split("error: ").skip(1).enumerate() {
        let said = block.lines().next().unwrap_or_default().to_string();
        let mut hints = block.lines().filter_map(|line| line.split_once("= hint: ")).map(|(_, hint)| hint.trim());
        let hint = hints.find(|hint| is_advice(hint));
        let advice = why.filter(|_| at == 0).or(hint).or(why).unwrap_or_default();
        entries.push(Entry { said, advice: advice.into() });
    }
    entries
}

/// A message about a value, without the file and the column before it.
fn of_a_value(said: &str) -> Option<&str> {
    let rest = said.split_once(": ").map_or(said, |(_, rest)| rest);
    (rest.starts_with("found ") && !rest.contains("; expected ")).then_some(rest)
}

/// Whether a message says itself what would be right.
fn is_plain(said: &str) -> bool {
    ["; ", ": ", "expected", " wants ", " needs "].iter().any(|part| said.contains(part))
}

/// The messages of a section in the order of their words, each once.
fn section(title: &str, entries: &[Entry]) -> String {
    let mut known: BTreeMap<String, Entry> = BTreeMap::new();
    for entry in entries {
        let seen = known.entry(literal(&entry.said)).or_insert_with(|| entry.clone());
        if seen.advice.is_empty() {
            seen.clone_from(entry);
        }
    }
    let mut known: Vec<Entry> = known.into_values().collect();
    known.sort_by_key(|entry| entry.said.replace(['`', '[', '('], "").to_lowercase());
    let line = |Entry { said, advice }: &Entry| match advice.as_str() {
        "" => format!("- **{said}**\n"),
        advice => format!("- **{said}**  \n  {advice}\n"),
    };
    format!("\n## {title}\n\n{}", known.iter().map(line).collect::<String>())
}

#[test]
fn the_index_of_messages_is_of_this_program() {
    let mut of: BTreeMap<&str, Vec<Entry>> = BTreeMap::new();
    let (mut values, mut silent) = (Vec::new(), Vec::new());
    let cases = cases();
    // What is typed in no known form is told of by what reads it, with its help.
    for (name, (steps, message)) in cases.iter().filter(|(_, (_, message))| !message.contains("try '--help'")) {
        let folder = name.split('/').next().expect("a folder");
        for entry in entries(steps, message) {
            if entry.advice.is_empty() && !is_plain(&entry.said) {
                silent.push(format!("{name}: {}", entry.said));
            }
            match of_a_value(&entry.said) {
                Some(rest) => values.push(Entry { said: rest.into(), ..entry }),
                None if entry.said.contains("; the sheet `") => values.push(Entry { advice: BEYOND.into(), ..entry }),
                None => of.entry(folder).or_default().push(entry),
            }
        }
    }
    let mut text = INTRO.to_string() + &section(VALUES, &values);
    for (folder, title) in SECTIONS.iter().chain(&TYPED) {
        text.push_str(&section(title, &of.remove(folder).expect("cases")));
    }
    assert!(of.is_empty(), "no section for {:?}", of.keys());
    assert!(silent.is_empty(), "neither a hint nor a line `why:` says what to do: {silent:#?}");
    expect_file![root().join("guide/messages.md")].assert_eq(&text);
}
