//! What a post chooses from: the job's bases, foundations and anchors, each a
//! table whose rows have a name, in one CSV file or in several.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::fact::{Facts, is_demo};
use super::rows::{Rows, need_column};
use crate::diag::{Diagnostic, Diagnostics};
use crate::grid::Grid;
use crate::names::plain;
use crate::source::Place;

#[derive(Debug)]
pub struct Catalogue {
    /// As sheets name it: `needs … from bases`.
    pub name: &'static str,
    /// The column of `posts.csv` that names a row.
    pub column: &'static str,
    /// Every job has it.
    pub required: bool,
}

pub const CATALOGUES: [Catalogue; 3] = [
    Catalogue { name: "bases", column: "base", required: true },
    Catalogue { name: "foundations", column: "foundation", required: false },
    Catalogue { name: "anchors", column: "anchor", required: false },
];

impl Catalogue {
    pub fn file(&self) -> String {
        format!("{}.csv", self.name)
    }

    /// Whether a file of the job, by its path in the folder, holds rows of it: `bases.csv`
    /// and `bases/made.csv` do.
    pub fn holds(&self, path: &str) -> bool {
        match path.split_once('/') {
            Some((folder, name)) => folder == self.name && is_part(name),
            None => path == self.file(),
        }
    }

    pub fn named(name: &str) -> Option<&'static Catalogue> {
        CATALOGUES.iter().find(|catalogue| catalogue.name == name)
    }
}

/// Whether a file in the folder of a catalogue is read.
pub fn is_part(name: &str) -> bool {
    !name.starts_with(['.', '~']) && name.to_lowercase().ends_with(".csv")
}

/// A row of a catalogue.
#[derive(Debug)]
pub struct Entry {
    pub name: String,
    /// The file that it stands in.
    pub file: String,
    pub facts: Facts,
    /// Cells under headings that nobody reads, such as a cost.
    pub others: Facts,
    pub demo: bool,
    /// The headings of its file.
    pub header: Place,
    pub place: Place,
}

/// The rows of a catalogue, shared by the posts that choose them.
#[derive(Debug)]
pub struct Entries {
    /// By the plain name: posts name a row in capitals or small letters as they
    /// like.
    by_name: BTreeMap<String, Arc<Entry>>,
    /// No row of it is wrong, so that what is not here is nowhere.
    pub whole: bool,
}

impl Entries {
    /// What can be read of its files, and what is wrong: no column `name` or `source`, a
    /// row without a name, a name that appears twice. Pages call all of them `called`. Not
    /// `whole` are files of which one could not be read at all.
    pub fn read<'a>(
        catalogue: &Catalogue,
        called: &str,
        files: impl Iterator<Item = (&'a str, &'a Grid)>,
        whole: bool,
    ) -> (Entries, Diagnostics) {
        let (mut by_name, mut diagnostics) = (BTreeMap::new(), Diagnostics::new());
        for (file, grid) in files {
            diagnostics.extend(add(&mut by_name, catalogue, called, file, grid));
        }
        let whole = whole && diagnostics.is_empty();
        (Entries { by_name, whole }, diagnostics)
    }

    pub fn find(&self, name: &str) -> Option<&Arc<Entry>> {
        self.by_name.get(&plain(name))
    }

    pub fn rows(&self) -> impl Iterator<Item = &Arc<Entry>> {
        self.by_name.values()
    }

    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.by_name.values().map(|entry| entry.name.as_str())
    }
}

/// Adds the rows of one file.
fn add(
    by_name: &mut BTreeMap<String, Arc<Entry>>,
    catalogue: &Catalogue,
    called: &str,
    file: &str,
    grid: &Grid,
) -> Diagnostics {
    let thing = catalogue.column;
    let name = match need_column(grid, "name", &format!("which a post's `{thing}` refers to")) {
        Ok(name) => name,
        Err(diagnostic) => return diagnostic.into(),
    };
    let source = format!("which says where a {thing}'s values come from (`demo` for invented ones)");
    let mut diagnostics: Diagnostics = need_column(grid, "source", &source).err().into_iter().collect();
    let rows = Rows::new(grid, called);
    for (at, row) in grid.rows.iter().enumerate() {
        let cell = &row[name];
        if cell.text.is_empty() {
            diagnostics.push(Diagnostic::new(format!("the {thing} in this row has no name")).at(grid.place(&row[0])));
            continue;
        }
        let facts = rows.facts(at, |_| true);
        let entry = Entry {
            name: cell.text.clone(),
            file: file.into(),
            demo: is_demo(&facts),
            facts,
            others: rows.others(at),
            place: grid.place(cell),
            header: grid.header(),
        };
        if let Some(first) = by_name.insert(plain(&cell.text), Arc::new(entry)) {
            let twice = match first.name == cell.text {
                true => Diagnostic::new(format!("the {thing} `{}` appears twice", cell.text)),
                false => {
                    Diagnostic::new(format!("the {thing}s `{}` and `{}` have the same name", first.name, cell.text))
                        .hint("names that differ only in capitals, spaces, hyphens or underscores are the same")
                }
            };
            diagnostics.push(twice.at(grid.place(cell)).hint(format!("the first is at {}", first.place.describe())));
        }
    }
    diagnostics
}
