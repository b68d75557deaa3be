//! Where the tables of a job stand: each in a CSV file, a catalogue also in the CSV files
//! of a folder, or in a sheet of a workbook.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::catalogue::{CATALOGUES, Catalogue};
use super::reactions::REACTIONS;
use crate::diag::{Diagnostic, Diagnostics, list};
use crate::names::{nearest, same_name, words};
use crate::source::{Place, Source};
use crate::workbook::{self, Sheet, is_workbook};

/// The files that each table is read from.
#[derive(Debug, Default)]
pub struct Tables {
    /// The CSV files of each, by the one that holds all of a table.
    parts: BTreeMap<String, Vec<String>>,
    /// Sheets, by the file that each is in place of.
    found: BTreeMap<String, Arc<Source>>,
    /// Workbooks of which nothing is read.
    unread: Vec<String>,
    /// Workbooks, and how they call their sheets.
    books: Vec<(String, Vec<String>)>,
}

/// The files that a sheet may stand in place of.
fn files() -> Vec<String> {
    let catalogues = CATALOGUES.iter().map(Catalogue::file);
    ["posts.csv", REACTIONS].map(String::from).into_iter().chain(catalogues).collect()
}

fn stem(file: &str) -> &str {
    file.rsplit_once('.').map_or(file, |(stem, _)| stem)
}

/// The file that a sheet or a workbook has the name of.
fn named(name: &str) -> Option<String> {
    files().into_iter().find(|file| same_name(stem(file), name))
}

/// A sheet as a message calls it.
fn called(book: &str, sheet: &str) -> String {
    format!("sheet `{sheet}` of `{book}`")
}

impl Tables {
    /// What the workbooks among a job's files hold; what is wrong with them, and what
    /// is worth a look.
    pub fn of(folder: &str, all: &BTreeMap<String, Vec<u8>>) -> (Tables, Diagnostics, Diagnostics) {
        let mut tables = Tables::default();
        let (mut wrong, mut notes) = (Diagnostics::new(), Diagnostics::new());
        let mut unreadable: Vec<(&str, Diagnostic)> = Vec::new();
        // What gives each table, as messages call it.
        let mut given: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for file in files() {
            let holds = |name: &&String| match Catalogue::named(stem(&file)) {
                Some(catalogue) => catalogue.holds(name),
                None => **name == file,
            };
            tables.parts.insert(file.clone(), all.keys().filter(holds).cloned().collect());
            let there =
                tables.in_files(&file).iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(" with ");
            let there = Some(there).filter(|_| !tables.parts(&file).is_empty());
            given.insert(file, there.into_iter().collect());
        }
        let mut own: Vec<(String, Vec<String>)> = Vec::new();
        for (book, bytes) in all.iter().filter(|(name, _)| is_workbook(name)) {
            let of_book = named(stem(book));
            let sheets = match workbook::read(book, bytes, &|sheet| of_book.is_some() || named(sheet).is_some()) {
                Ok(sheets) => sheets,
                Err(diagnostic) => {
                    unreadable.push((book, diagnostic));
                    continue;
                }
            };
            tables.books.push((book.clone(), sheets.iter().map(|sheet| sheet.name.clone()).collect()));
            let (read, others) = assign(sheets, of_book);
            if read.is_empty() {
                tables.unread.push(book.clone());
            }
            own.push((book.clone(), others));
            for (file, sheet) in read {
                let name = called(book, &sheet.name);
                let note = |remark: &String| Diagnostic::new(format!("{name}: {remark}"));
                notes.extend(sheet.remarks.iter().map(note));
                given.entry(file.clone()).or_default().push(name);
                let source = workbook::source(format!("{folder}/{book}, sheet {}", sheet.name), &sheet);
                tables.found.entry(file).or_insert(source);
            }
        }
        for (file, givers) in given.iter().filter(|(_, givers)| givers.len() > 1) {
            let what = format!("the {} are in {} places: {}", stem(file), givers.len(), givers.join(" and "));
            wrong.push(Diagnostic::new(what).hint("remove all but one, or move them out of the job's folder"));
            if !tables.parts(file).is_empty() {
                tables.found.remove(file);
            }
        }
        let lacks = |file: &str| given.get(file).is_none_or(Vec::is_empty);
        for (book, others) in own {
            let (unread, nothing) = (tables.unread.contains(&book), others.is_empty());
            let mut kept = Vec::new();
            for name in others.into_iter().filter(|name| words(name).first().is_none_or(|word| word != "my")) {
                let known = files();
                let near = nearest(&name, known.iter().filter(|file| lacks(file)).map(|file| stem(file)));
                match near {
                    Some(near) => wrong.push(
                        Diagnostic::new(format!("the {} is not read", called(&book, &name)))
                            .hint(format!("did you mean `{near}`?")),
                    ),
                    None => kept.push(name),
                }
            }
            if !kept.is_empty() || unread && nothing {
                let note = match unread {
                    true => Diagnostic::new(format!("`{book}` is not read: none of its sheets is a table of the job")),
                    false => Diagnostic::new(format!("not read in `{book}`: {}", list(&kept, "and"))),
                };
                notes.push(note.hint(format!("the sheets of a job are {}", sheet_names())));
            }
        }
        for (book, diagnostic) in unreadable {
            tables.unread.push(book.into());
            let meant = named(stem(book)).is_some() || same_name(stem(book), "job");
            let missed = lacks("posts.csv") || CATALOGUES.iter().any(|it| it.required && lacks(&it.file()));
            if meant || missed { wrong.push(diagnostic) } else { notes.push(diagnostic) }
        }
        (tables, wrong, notes)
    }

    /// The sheet in place of a file.
    pub fn sheet(&self, file: &str) -> Option<&Arc<Source>> {
        self.found.get(file)
    }

    /// The CSV files that a table is read from, by the one that would hold all of it.
    pub fn parts(&self, file: &str) -> &[String] {
        self.parts.get(file).map_or(&[], Vec::as_slice)
    }

    /// Whether the job has this table.
    pub fn has(&self, file: &str) -> bool {
        self.found.contains_key(file) || !self.parts(file).is_empty()
    }

    /// A file by the name of what is read in its place.
    pub fn name(&self, file: &str) -> String {
        match self.found.get(file) {
            Some(source) => source.file().into(),
            None => self.in_files(file).join(" and "),
        }
    }

    /// The file that holds a table, or the folder that does, or both.
    fn in_files(&self, file: &str) -> Vec<String> {
        let folder = || format!("{}/", stem(file));
        match self.parts(file) {
            [one] => vec![one.clone()],
            [first, second] if first == file => vec![file.into(), second.clone()],
            [first, ..] if first == file => vec![file.into(), folder()],
            [_, ..] => vec![folder()],
            [] => vec![file.into()],
        }
    }

    /// The same as a message calls it.
    pub fn called(&self, file: &str) -> String {
        let sheet = self.found.get(file).and_then(|source| source.file().split_once(", sheet "));
        sheet.map_or_else(|| list(&self.in_files(file), "or"), |(book, sheet)| called(book, sheet))
    }

    /// Whether a workbook is no part of the job.
    pub fn leaves(&self, name: &str) -> bool {
        self.unread.iter().any(|unread| unread == name)
    }

    /// What to say besides of a file that is not there.
    pub fn hints(&self, file: &str) -> Vec<String> {
        let hint = |(book, sheets): &(String, Vec<String>)| {
            format!("or, in `{book}`, a sheet called `{}`: it has {}", stem(file), list(sheets, "and"))
        };
        self.books.iter().map(hint).collect()
    }

    /// Calls the tables by the names that they have in this job: messages know them
    /// by the names of CSV files. What is about one file of several names it itself.
    pub fn in_words(&self, diagnostics: &mut [Diagnostic]) {
        for file in files() {
            let (quoted, called) = (format!("`{file}`"), self.called(&file));
            let parts: Vec<String> = self.parts(&file).iter().map(|part| format!("/{part}")).collect();
            let own = |place: &Place| parts.iter().any(|part| place.source.name.ends_with(part));
            for diagnostic in diagnostics.iter_mut().filter(|_| called != quoted) {
                if !diagnostic.place.as_ref().is_some_and(own) {
                    let texts = std::iter::once(&mut diagnostic.message).chain(&mut diagnostic.hints);
                    // What was said before is not said again.
                    let said = texts.filter(|text| !text.contains(&called));
                    said.for_each(|text| *text = text.replace(&quoted, &called));
                }
            }
        }
    }
}

/// The tables among the sheets of a workbook, with the files that they are in place
/// of, and the names of the others. A workbook with the name of a table has it on
/// its only sheet.
fn assign(sheets: Vec<Sheet>, of_book: Option<String>) -> (Vec<(String, Sheet)>, Vec<String>) {
    let filled = |sheet: &&Sheet| !sheet.text.trim().is_empty();
    let alone = of_book.is_some() && sheets.iter().filter(filled).count() == 1;
    let (mut read, mut others) = (Vec::new(), Vec::new());
    for sheet in sheets {
        let only = alone && filled(&&sheet);
        let file = named(&sheet.name).or_else(|| of_book.clone().filter(|_| only));
        match file {
            // An optional table without a row is none.
            Some(file) if filled(&&sheet) || file == "posts.csv" => read.push((file, sheet)),
            Some(_) => {}
            None if alone && !only => {}
            None => others.push(sheet.name),
        }
    }
    (read, others)
}

fn sheet_names() -> String {
    list(&files().iter().map(|file| stem(file)).collect::<Vec<_>>(), "and")
}
