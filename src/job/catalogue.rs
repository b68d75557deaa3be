//! What a post chooses from: the job's bases, foundations and anchors, each a
//! CSV file whose rows have a name.

use std::collections::BTreeMap;

use super::Facts;
use super::read::{need_column, row_facts};
use crate::diag::{Checked, Complaint, Complaints};
use crate::grid::Grid;
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
#[derive(Clone, Debug)]
pub struct Entry {
    pub name: String,
    pub facts: Facts,
    pub place: Place,
}

/// # Errors
/// No column `name` or `source`; a row without a name, a name that stands twice.
pub fn entries(catalogue: &Catalogue, grid: &Grid) -> Checked<BTreeMap<String, Entry>> {
    let thing = catalogue.column;
    let name = need_column(grid, "name", &format!("which a post's `{thing}` refers to"))?;
    need_column(grid, "source", &format!("which says where a {thing}'s values come from (`demo` for invented ones)"))?;
    let mut entries: BTreeMap<String, Entry> = BTreeMap::new();
    let mut complaints = Complaints::new();
    for (at, row) in grid.rows.iter().enumerate() {
        let cell = &row[name];
        let entry =
            Entry { name: cell.text.clone(), facts: row_facts(grid, at, &catalogue.file()), place: grid.place(cell) };
        if cell.text.is_empty() {
            complaints.push(Complaint::new(format!("the {thing} in this row has no name")).at(grid.place(&row[0])));
        } else if entries.insert(cell.text.clone(), entry).is_some() {
            complaints.push(Complaint::new(format!("the {thing} `{}` stands twice", cell.text)).at(grid.place(cell)));
        }
    }
    if complaints.is_empty() { Ok(entries) } else { Err(complaints) }
}
