//! The sheets and tables of a job itself: what uses each of them, and that
//! something does. One that nothing uses is a slip, and a package that is worked
//! without it would say what its author does not mean.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::Library;
use super::tree::Stmt;
use crate::diag::{Diagnostic, Diagnostics};
use crate::names::nearest;
use crate::source::{Place, Source};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    Sheet,
    Table,
}

/// A sheet or table of the job.
#[derive(Debug)]
pub struct Own {
    /// Its path below `templates/`.
    pub path: String,
    pub what: What,
    pub name: String,
    pub title: String,
    /// There is a built-in one at the same path: a sheet takes its place, a
    /// table adds its rows to it.
    pub instead: bool,
    pub source: Arc<Source>,
}

impl Own {
    /// How it stands to what is built in.
    pub fn stands(&self) -> &'static str {
        match (self.what, self.instead) {
            (What::Sheet, true) => "a sheet in place of the built-in one",
            (What::Sheet, false) => "a sheet beside the built-in ones",
            (What::Table, true) => "rows added to the built-in table",
            (What::Table, false) => "a table beside the built-in ones",
        }
    }
}

/// What a job is worked by: the sheets that its roots reach and the tables that
/// these read, each with the sheets that name it.
#[derive(Debug, Default)]
pub struct Used {
    pub sheets: BTreeMap<String, BTreeSet<String>>,
    pub tables: BTreeMap<String, BTreeSet<String>>,
}

impl Used {
    /// The sheets that use a sheet or read a table.
    pub fn by(&self, own: &Own) -> Option<&BTreeSet<String>> {
        match own.what {
            What::Sheet => self.sheets.get(&own.name),
            What::Table => self.tables.get(&own.name),
        }
    }
}

impl Library {
    /// What is worked from some roots, by use, place or joining, whatever the
    /// job chooses of it. `tables` are read without a sheet.
    pub fn used(&self, roots: &[&str], tables: &[&str]) -> Used {
        let mut used = Used::default();
        let mut waiting: Vec<String> = roots.iter().map(|root| root.to_string()).collect();
        used.sheets = waiting.iter().map(|root| (root.clone(), BTreeSet::new())).collect();
        used.tables = tables.iter().map(|table| (table.to_string(), BTreeSet::new())).collect();
        while let Some(name) = waiting.pop() {
            let Some(sheet) = self.sheet(&name) else { continue };
            sheet.walk(&mut |stmt| match stmt {
                Stmt::Take(rule) => drop(used.tables.entry(rule.table.clone()).or_default().insert(name.clone())),
                Stmt::Use(usage) => used.sheet(&usage.sheet, &name, &mut waiting),
                Stmt::Place(place) => {
                    place.choices.iter().for_each(|(_, usage)| used.sheet(&usage.sheet, &name, &mut waiting));
                }
                _ => {}
            });
        }
        used
    }

    /// The job's own sheets and tables that nothing uses.
    pub fn unused(&self, roots: &[&str], tables: &[&str]) -> Diagnostics {
        if self.own().is_empty() {
            return Diagnostics::new();
        }
        let used = self.used(roots, tables);
        let unused = self.own().iter().filter(|own| used.by(own).is_none());
        unused.map(|own| self.say_unused(own, &used)).collect()
    }

    fn say_unused(&self, own: &Own, used: &Used) -> Diagnostic {
        let (kind, known): (_, Vec<&str>) = match own.what {
            What::Sheet => ("sheet", used.sheets.keys().map(String::as_str).collect()),
            What::Table => ("table", used.tables.keys().map(String::as_str).collect()),
        };
        let message = match own.what {
            What::Sheet => format!("nothing that is used for a post uses the sheet `{}`", own.name),
            What::Table => format!("nothing that is used for a post reads the table `{}`", own.name),
        };
        let line = own.source.text.lines().find(|line| !line.starts_with("--")).unwrap_or_default();
        let start = own.source.text.find(line).unwrap_or(0);
        let mut diagnostic = Diagnostic::new(message).at(Place::new(&own.source, start..start + line.len()));
        if let Some(near) = nearest(&own.name, known.iter().copied().filter(|name| *name != own.name)) {
            let path = self.path(near).map_or(format!("tables/{near}.csv"), |path| format!("sheets/{path}"));
            let there = format!("did you mean the {kind} `{near}`? the built-in one is `templates/{path}`");
            diagnostic = diagnostic.hint(there);
        }
        diagnostic.hint(match own.what {
            What::Sheet => {
                "a sheet is used that says `joins post` at its head, or `stands as PLACE when COLUMN is NAME`, or is at the path of a built-in one that is used for a post, or is named by `use` in another sheet of the job"
            }
            What::Table => {
                "a table adds rows to the built-in one of its name, or is read by `take … from NAME[…]` in a sheet of the job"
            }
        })
    }
}

impl Used {
    fn sheet(&mut self, name: &str, by: &str, waiting: &mut Vec<String>) {
        if !self.sheets.contains_key(name) {
            waiting.push(name.into());
        }
        self.sheets.entry(name.into()).or_default().insert(by.into());
    }
}
