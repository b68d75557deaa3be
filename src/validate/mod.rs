//! The check values that ship with the program, worked and compared: what it comes to, and what others say.
//!
//! They are the files of the tests, built in. `file` reads one; `sheets`, `tables` and `combinations` work its rows, each
//! those of files about it; `evidence` says of each limit what stands behind it. Where of it what is printed is not known here.

mod file;

mod value;

mod sheets;

mod reached;

mod tables;

mod combinations;

mod evidence;

mod shown;

mod planted;

mod sources;

use std::collections::BTreeSet;

use rayon::prelude::*;

use crate::diag::{Checked, Diagnostics};
use crate::grid::Grid;
use crate::sheet::Library;

pub use combinations::combinations_of;
pub use evidence::{Backed, Counts};
pub use file::{File, Wanted, expected};
pub use planted::{Escape, Planted, Where, planted};
pub use shown::worst_shown;
pub use sources::sources;
pub use value::{Answer, Kind, Tolerance, Value, What};

/// What check values are compared with.
pub struct Against<'a> {
    pub library: &'a Library,
    /// The text of a table by its name.
    pub table: &'a (dyn Fn(&str) -> Checked<Grid> + Sync),
}

/// A file with all that was compared.
pub struct Compared {
    pub file: File,
    pub values: Vec<Value>,
}

pub struct Validation {
    /// By the subject and the name of the sheets, then tables, then combinations.
    pub files: Vec<Compared>,
    /// Every limit, sheet by sheet in the same order.
    pub limits: Vec<Backed>,
    /// The names of what these are about, in that order.
    about: Vec<String>,
}

impl Validation {
    /// Works the files of a sheet, or all.
    ///
    /// # Errors
    /// A file that cannot be read or worked.
    pub fn new(against: &Against, files: Vec<File>, sheet: Option<&str>) -> Checked<Validation> {
        let library = against.library;
        let place = |name: &str| (library.path(name).is_none(), library.subject(name).to_string(), name.to_string());
        let mut files: Vec<File> =
            files.into_iter().filter(|file| sheet.is_none_or(|sheet| file.about() == sheet)).collect();
        files.sort_by_cached_key(|file| (place(file.about()), file.name.clone()));
        let compared: Vec<Checked<Vec<Value>>> = files.par_iter().map(|file| against.compare(file)).collect();
        let mut wrong = Diagnostics::new();
        let mut all = Vec::new();
        for (file, values) in files.into_iter().zip(compared) {
            match values {
                Ok(values) => all.push(Compared { file, values }),
                Err(more) => wrong.extend(more),
            }
        }
        if !wrong.is_empty() {
            return Err(wrong);
        }
        let mut limits = evidence::limits(library, &all);
        limits.retain(|limit| sheet.is_none_or(|sheet| limit.sheet == sheet));
        limits.sort_by_cached_key(|limit| place(&limit.sheet));
        let about = all.iter().map(|compared| compared.file.about());
        let about: BTreeSet<&str> = about.chain(limits.iter().map(|limit| limit.sheet.as_str())).collect();
        let mut about: Vec<String> = about.into_iter().map(String::from).collect();
        about.sort_by_cached_key(|name| place(name));
        Ok(Validation { files: all, limits, about })
    }

    pub fn values(&self) -> impl Iterator<Item = &Value> {
        self.files.iter().flat_map(|compared| &compared.values)
    }

    pub fn holds(&self) -> bool {
        self.values().all(Value::holds)
    }

    /// Files and limits of one sheet after another, of the tables and of the combinations, by name.
    pub fn by_sheet(&self) -> impl Iterator<Item = (&str, Vec<&Compared>, Vec<&Backed>)> {
        self.about.iter().map(|name| {
            let files = self.files.iter().filter(|compared| compared.file.about() == name);
            (name.as_str(), files.collect(), self.limits.iter().filter(|limit| limit.sheet == *name).collect())
        })
    }
}

impl Against<'_> {
    /// Everything that a file expects, beside what the program comes to.
    ///
    /// # Errors
    /// Rows that cannot be read or worked; a column that nothing reads.
    pub fn compare(&self, file: &File) -> Checked<Vec<Value>> {
        match file.about() {
            TABLES => tables::compare(&file.grid, self.table),
            COMBINATIONS => combinations::compare(&file.grid, self.library),
            sheet => sheets::compare(&file.grid, sheet, self.library),
        }
    }
}

/// What a file is about that is about no sheet.
pub const TABLES: &str = "tables";
pub const COMBINATIONS: &str = "combinations";
