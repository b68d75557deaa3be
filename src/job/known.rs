//! The names that somebody reads: the columns of each file, the keys of each
//! table of `job.toml`. Sheets declare them; a job is read by them.

use std::collections::BTreeMap;

use super::loads::{PARTS, load_column};
use crate::names::same_name;
use crate::quantity::Dim;

#[derive(Clone, Debug, Default)]
pub struct Known {
    /// Columns by the file, without `.csv`: each with its dimension, if it is a
    /// quantity.
    pub files: BTreeMap<String, BTreeMap<String, Option<Dim>>>,
    /// Keys by the table.
    pub tables: BTreeMap<String, Vec<String>>,
    /// By file or table and name: what it is, and of which kind, in words.
    pub words: BTreeMap<(String, String), [String; 2]>,
}

impl Known {
    /// The one file that has a column, as a message names it; none for a column
    /// that several have.
    pub fn file_of(&self, column: &str) -> Option<String> {
        let has = |names: &BTreeMap<String, Option<Dim>>| names.keys().any(|known| same_name(known, column));
        let mut files = self.files.iter().filter(|(_, names)| has(names));
        let (file, _) = files.next()?;
        files.next().is_none().then(|| format!("`{file}.csv`"))
    }

    /// The table of `job.toml` that has a key.
    pub fn table_of(&self, key: &str) -> Option<&str> {
        let mut tables = self.tables.iter().filter(|(_, keys)| keys.iter().any(|known| same_name(known, key)));
        tables.next().map(|(table, _)| table.as_str())
    }

    /// What a column or a key is and of which kind, in words. A post may say for itself
    /// what a table says of all, and each load case has columns of its own.
    pub fn words(&self, of: &str, name: &str) -> Option<&[String; 2]> {
        let said = |of: &str, name: &str| self.words.get(&(of.into(), name.into()));
        let part = load_column(name).map(|(part, _)| part);
        let part = part.or(PARTS.iter().position(|(part, _)| *part == name));
        let load = || said("posts", &format!("{}_CASE", PARTS[part?].0));
        let row = || said("posts", name).or_else(|| said(self.table_of(name)?, name));
        said(of, name).or_else(|| if matches!(of, "posts" | "reactions") { load().or_else(row) } else { None })
    }
}
