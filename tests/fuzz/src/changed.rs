//! An input as changes to a job, in the lines of `tests/wrong`, so that whatever is found reads like a test and
//! becomes one. What a line names and is not there is found all the same, by its bytes: so each change of an input
//! changes a job.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::OnceLock;

use crate::quoted::words;

/// Files by their path in the folder of a job.
pub type Files = BTreeMap<String, Vec<u8>>;

/// The jobs to begin with, below the repository.
const JOBS: [&str; 11] = [
    "fixtures/orchard-pergola",
    "fixtures/cart-barn",
    "fixtures/creek-porch",
    "tests/carport",
    "tests/metric",
    "tests/whole/cantilevers",
    "tests/whole/knife-pier",
    "tests/whole/plates-slab",
    "tests/whole/porch-floor",
    "tests/whole/rated-pad",
    "tests/whole/reinforced-pier",
];

/// The jobs by name.
pub fn jobs() -> &'static BTreeMap<String, Files> {
    static JOBS_READ: OnceLock<BTreeMap<String, Files>> = OnceLock::new();
    JOBS_READ.get_or_init(|| {
        let read = |path: &&str| {
            let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").join(path);
            let entries = std::fs::read_dir(folder).expect("the folder of a job");
            let file = |entry: std::io::Result<std::fs::DirEntry>| {
                let path = entry.expect("an entry").path();
                let name = path.file_name()?.to_str()?.to_string();
                Some((name, std::fs::read(path).ok()?))
            };
            (path.rsplit('/').next().unwrap_or(path).to_string(), entries.filter_map(file).collect())
        };
        JOBS.iter().map(read).collect()
    })
}

/// A job after the changes, and the lines that do not change it.
pub struct Changed<'a> {
    pub name: String,
    pub files: Files,
    pub others: Vec<(&'a str, String)>,
}

impl Changed<'_> {
    /// Whether such a line is there.
    pub fn asks(&self, verb: &str) -> bool {
        self.others.iter().any(|(line, _)| line.trim_end() == verb)
    }
}

/// Does what the lines say to the files of a job.
pub fn changed(steps: &str) -> Changed<'_> {
    changed_from(Files::clone, steps)
}

/// Does what the lines say to what is made of the files of a job.
pub fn changed_from(made: impl Fn(&Files) -> Files, steps: &str) -> Changed<'_> {
    let (name, files) = jobs().first_key_value().expect("jobs");
    let mut changed = Changed { name: name.clone(), files: made(files), others: Vec::new() };
    let mut lines = steps.split('\n').peekable();
    while let Some(line) = lines.next() {
        let mut block = String::new();
        while let Some(more) = lines.next_if(|line| line.starts_with('|')) {
            block.push_str(more.strip_prefix("| ").unwrap_or(&more[1..]));
            block.push('\n');
        }
        if step(&mut changed, &made, line, &block).is_none() {
            changed.others.push((line, block));
        }
    }
    changed
}

/// Does what a line says; none if that is no change of the files.
fn step(changed: &mut Changed, made: &dyn Fn(&Files) -> Files, line: &str, block: &str) -> Option<()> {
    let (verb, rest) = line.split_once(' ').unwrap_or((line, ""));
    let words = words(rest);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match (verb, words.as_slice()) {
        ("job", [name, ..]) => {
            let (name, files) = one_of(jobs(), name)?;
            (changed.name, changed.files) = (name.clone(), made(files));
        }
        ("set", [file, row, column, ..]) => {
            let value = rest.split_once(" =").map_or("", |(_, value)| value).trim_start();
            rows(changed, file, |rows| {
                let at = place(&rows.first()?.iter().map(|name| heading(name)).collect::<Vec<_>>(), column)?;
                let of =
                    place(&rows.iter().skip(1).map(|cells| cells.first().cloned()).collect::<Option<Vec<_>>>()?, row)?;
                *rows.get_mut(of + 1)?.get_mut(at)? = value.into();
                Some(())
            })?;
        }
        ("cut", [file, column, ..]) => rows(changed, file, |rows| {
            let at = place(&rows.first()?.iter().map(|name| heading(name)).collect::<Vec<_>>(), column)?;
            rows.iter_mut().filter(|cells| at < cells.len()).for_each(|cells| drop(cells.remove(at)));
            Some(())
        })?,
        // The value of a line `key = value`, the words between commas: what stands there by its number.
        ("at", [file, number, ..]) => {
            let value = rest.split_once(" =").map_or("", |(_, value)| value).trim_start();
            text(changed, file, |text| {
                let pieces = pieces(text);
                let piece = pieces.get(sum(number) % pieces.len().max(1))?.clone();
                text.replace_range(piece, value);
                Some(())
            })?;
        }
        ("replace", ["all", file, from, "with", to]) => text(changed, file, |text| {
            *text = text.replace(from, to);
            Some(())
        })?,
        ("replace", [file, from, "with", to @ ..]) => text(changed, file, |text| {
            let block = block.strip_suffix('\n').unwrap_or(block);
            *text = text.replacen(from, to.first().copied().unwrap_or(block), 1);
            Some(())
        })?,
        ("drop", [file, start]) => text(changed, file, |text| {
            *text = text.split_inclusive('\n').filter(|line| !line.starts_with(start)).collect();
            Some(())
        })?,
        ("append", [file]) => text(changed, file, |text| {
            text.push_str(block);
            Some(())
        })?,
        ("write", [file]) => drop(changed.files.insert(file.to_string(), block.into())),
        ("remove", [file]) => {
            let name = one_of(&changed.files, file)?.0.clone();
            changed.files.remove(&name);
        }
        _ => return None,
    }
    Some(())
}

/// The bytes of a name as a number; of a number, itself.
pub fn sum(name: &str) -> usize {
    name.parse().unwrap_or_else(|_| name.bytes().map(usize::from).sum())
}

/// What is called so, or else what the name's bytes come to.
fn one_of<'a, T>(all: &'a BTreeMap<String, T>, name: &str) -> Option<(&'a String, &'a T)> {
    all.get_key_value(name).or_else(|| all.iter().nth(sum(name) % all.len().max(1)))
}

fn place(names: &[String], name: &str) -> Option<usize> {
    let found = names.iter().position(|known| known == name);
    found.or_else(|| (!names.is_empty()).then(|| sum(name) % names.len()))
}

fn heading(cell: &str) -> String {
    cell.split('[').next().unwrap_or_default().trim().into()
}

fn text(changed: &mut Changed, file: &str, change: impl FnOnce(&mut String) -> Option<()>) -> Option<()> {
    let name = one_of(&changed.files, file)?.0.clone();
    let mut text = String::from_utf8(changed.files[&name].clone()).ok()?;
    change(&mut text)?;
    changed.files.insert(name, text.into_bytes());
    Some(())
}

fn rows(changed: &mut Changed, file: &str, change: impl FnOnce(&mut Vec<Vec<String>>) -> Option<()>) -> Option<()> {
    text(changed, file, |text| {
        let separator = if text.lines().next().is_some_and(|line| line.contains(';')) { b';' } else { b',' };
        let mut reader = csv::ReaderBuilder::new();
        let mut reader = reader.has_headers(false).flexible(true).delimiter(separator).from_reader(text.as_bytes());
        let rows = reader.records().map(|row| Some(row.ok()?.iter().map(String::from).collect()));
        let mut rows: Vec<Vec<String>> = rows.collect::<Option<_>>()?;
        change(&mut rows)?;
        let mut writer = csv::WriterBuilder::new().flexible(true).delimiter(separator).from_writer(Vec::new());
        rows.iter().try_for_each(|cells| writer.write_record(cells)).ok()?;
        *text = String::from_utf8(writer.into_inner().ok()?).ok()?;
        Some(())
    })
}

/// The stretches of a text between commas, semicolons, signs of equality and line ends.
fn pieces(text: &str) -> Vec<std::ops::Range<usize>> {
    let mut start = 0;
    let piece = |part: &str| {
        let body = part.trim_end_matches([',', ';', '=', '\n']);
        let blanks = body.len() - body.trim_start().len();
        let piece = start + blanks..start + body.trim_end().len().max(blanks);
        start += part.len();
        piece
    };
    text.split_inclusive([',', ';', '=', '\n']).map(piece).collect()
}
