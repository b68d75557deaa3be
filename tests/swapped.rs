//! A job whose x and y change places: every limit of every post comes to the same ratio.

use std::collections::BTreeMap;

use socle::sheet::Library;
use socle::templates::Templates;

use crate::support::{JOBS, files_of, root};
use crate::whole::{self, ratios};

/// What is measured along x, and the same along y.
const PAIRS: [(&str, &str); 5] = [
    ("width", "depth"),
    ("seat_width", "seat_depth"),
    ("foot_width", "foot_depth"),
    ("floor_screws_along", "floor_screws_across"),
    ("floor_spacing_along", "floor_spacing_across"),
];

/// The clauses name the sides of a post by which is larger, NDS 2018 3.9.1 and 3.9.2: of a square post x is the first, and the two
/// do not count alike. Which of them should be first is a question to who knows better.
const BY_SIDES: [&str; 4] = [
    "compression against buckling in the direction of d",
    "bending and compression against lateral buckling",
    "bending and compression together",
    "bending, less tension",
];

/// The name of a column or a key for the other direction.
fn name(name: &str) -> String {
    if let Some((one, other)) = PAIRS.iter().find(|(one, other)| [one, other].contains(&&name)) {
        return if name == *one { other } else { one }.to_string();
    }
    let part = |part| match part {
        "x" => "y",
        "y" => "x",
        _ => part,
    };
    name.split('_').map(part).collect::<Vec<_>>().join("_")
}

/// Words in which an axis may be named, and the name of a use: `edge-x`.
fn words(words: &str, between: char) -> String {
    let word = |word| match word {
        "x" => "y",
        "y" => "x",
        _ => word,
    };
    words.split(between).map(word).collect::<Vec<_>>().join(&between.to_string())
}

fn csv_swapped(text: &str) -> String {
    let separator = if text.lines().any(|line| line.contains(';') && !line.starts_with('#')) { b';' } else { b',' };
    let mut reader = csv::ReaderBuilder::new();
    let mut reader =
        reader.has_headers(false).comment(Some(b'#')).delimiter(separator).flexible(true).from_reader(text.as_bytes());
    let mut writer = csv::WriterBuilder::new().delimiter(separator).flexible(true).from_writer(Vec::new());
    for (row, record) in reader.records().enumerate() {
        let record = record.expect("a row");
        let cells = record.iter().map(|cell| match row {
            0 => {
                let bare = cell.trim_start_matches('\u{feff}');
                let (heading, unit) =
                    bare.split_once(" [").map_or((bare, String::new()), |(name, unit)| (name, format!(" [{unit}")));
                name(heading) + &unit
            }
            _ => words(cell, ' '),
        });
        writer.write_record(cells).expect("a row");
    }
    String::from_utf8(writer.into_inner().expect("a table")).expect("a text")
}

fn toml_swapped(text: &str) -> String {
    let line = |line: &str| match line.split_once(" = ") {
        Some((key, value)) if !key.contains(' ') => {
            let value = match value {
                "\"x\"" => "\"y\"",
                "\"y\"" => "\"x\"",
                _ => value,
            };
            format!("{} = {value}\n", name(key))
        }
        _ => format!("{line}\n"),
    };
    text.lines().map(line).collect()
}

/// The files of a job with x and y changed.
fn swapped(files: &BTreeMap<String, Vec<u8>>) -> BTreeMap<String, Vec<u8>> {
    let swap = |(file, bytes): (&String, &Vec<u8>)| {
        let text = String::from_utf8(bytes.clone()).expect("a text");
        let text = if file.ends_with(".csv") { csv_swapped(&text) } else { toml_swapped(&text) };
        (file.clone(), text.into_bytes())
    };
    files.iter().map(swap).collect()
}

/// The jobs that are turned: the examples and those that are worked by a second method.
fn jobs() -> impl Iterator<Item = (String, BTreeMap<String, Vec<u8>>)> {
    let examples = JOBS.map(|job| format!("fixtures/{job}")).into_iter();
    let whole = whole::LISTED.iter().map(|job| format!("tests/whole/{}", job.replace('_', "-")));
    examples.chain(whole).map(|path| (path.clone(), files_of(&root().join(path))))
}

/// How many ratios were compared, and where one way comes to something else than the other.
pub fn wrong_in(library: &Library) -> (usize, Vec<String>) {
    let (mut compared, mut wrong) = (0, Vec::new());
    for (job, files) in jobs() {
        let both = ratios(&files, library).and_then(|one| Ok((one, ratios(&swapped(&files), library)?)));
        let (one, other) = match both {
            Ok(both) => both,
            Err(diagnostics) => {
                wrong.push(format!("{job}: {}", socle::report::diagnostics(&diagnostics, false)));
                continue;
            }
        };
        for ([mark, sheet, limit], ratio) in one.iter().filter(|(of, _)| !BY_SIDES.contains(&of[2].as_str())) {
            compared += 1;
            match other.get(&[mark.clone(), words(sheet, '-'), words(limit, ' ')]) {
                Some(found) if (found - ratio).abs() <= 1e-9 * ratio.abs().max(1.0) => {}
                found => wrong.push(format!("{job}, {mark}, {sheet}, {limit}: {ratio}, the other way {found:?}")),
            }
        }
    }
    (compared, wrong)
}

#[test]
fn a_job_with_x_and_y_changed_comes_to_the_same() {
    let library = Templates::built_in().library().expect("the built-in sheets");
    let (compared, wrong) = wrong_in(&library);
    assert!(wrong.is_empty(), "{} of {compared}:\n{}", wrong.len(), wrong.join("\n"));
    assert!(compared > 1000, "{compared}");
}
