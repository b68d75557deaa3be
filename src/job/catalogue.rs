//! What a post chooses from: the job's bases, foundations and anchors, each a
//! CSV file whose rows have a name.

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

    pub fn named(name: &str) -> Option<&'static Catalogue> {
        CATALOGUES.iter().find(|catalogue| catalogue.name == name)
    }
}

/// A row of a catalogue.
#[derive(Debug)]
pub struct Entry {
    pub name: String,
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
    /// What can be read, and what is wrong: no column `name` or `source`, a row
    /// without a name, a name that appears twice.
    pub fn read(catalogue: &Catalogue, grid: &Grid) -> (Option<Entries>, Diagnostics) {
        let thing = catalogue.column;
        let name = match need_column(grid, "name", &format!("which a post's `{thing}` refers to")) {
            Ok(name) => name,
            Err(diagnostic) => return (None, diagnostic.into()),
        };
        let source = format!("which says where a {thing}'s values come from (`demo` for invented ones)");
        let mut diagnostics: Diagnostics = need_column(grid, "source", &source).err().into_iter().collect();
        let rows = Rows::new(grid, &catalogue.file());
        let mut by_name: BTreeMap<String, Arc<Entry>> = BTreeMap::new();
        for (at, row) in grid.rows.iter().enumerate() {
            let cell = &row[name];
            if cell.text.is_empty() {
                diagnostics
                    .push(Diagnostic::new(format!("the {thing} in this row has no name")).at(grid.place(&row[0])));
                continue;
            }
            let facts = rows.facts(at, |_| true);
            let entry = Entry {
                name: cell.text.clone(),
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
                diagnostics
                    .push(twice.at(grid.place(cell)).hint(format!("the first is at {}", first.place.describe())));
            }
        }
        (Some(Entries { by_name, whole: diagnostics.is_empty() }), diagnostics)
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
