//! All sheets and tables of a run, the built-in ones and a job's own, checked
//! against one another before anything is worked.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Table;
use super::check::{FigureKind, Signature, check};
use super::parse::parse;
use super::tree::{Sheet, Stmt};
use crate::diag::{Checked, Complaint, Complaints};
use crate::source::Source;

/// A template file: its path below `templates/`, the name it is shown by, its text.
pub struct Text {
    pub path: String,
    pub source: Arc<Source>,
    /// It comes from the job and not from the program.
    pub own: bool,
}

#[derive(Debug)]
pub struct Library {
    sheets: BTreeMap<String, Arc<Sheet>>,
    tables: BTreeMap<String, Arc<Table>>,
    /// Path below `sheets/`, by sheet name: the subject it is filed under.
    paths: BTreeMap<String, String>,
}

impl Library {
    /// Reads and checks every `.sheet` and every table. A later text of the
    /// same path takes the place of an earlier one; a later table adds its
    /// rows before those of the earlier one.
    ///
    /// # Errors
    /// Everything that is wrong with any of them.
    pub fn load(texts: &[Text], figures: &[FigureKind]) -> Checked<Library> {
        let mut complaints = Complaints::new();
        let mut library = Library { sheets: BTreeMap::new(), tables: BTreeMap::new(), paths: BTreeMap::new() };
        let mut parsed = BTreeMap::new();
        for text in texts {
            let result = if text.path.ends_with(".sheet") {
                library.add_sheet(text, texts, &mut parsed)
            } else if text.path.starts_with("tables/") && text.path.ends_with(".csv") {
                library.add_table(text)
            } else {
                Ok(())
            };
            complaints.extend(result.err().into_iter().flatten());
        }
        if complaints.is_empty() {
            library.check_all(parsed, figures, &mut complaints);
        }
        if complaints.is_empty() { Ok(library) } else { Err(complaints) }
    }

    fn add_sheet(&mut self, text: &Text, texts: &[Text], parsed: &mut BTreeMap<String, Sheet>) -> Checked<()> {
        if texts.iter().any(|other| other.own && !text.own && other.path == text.path) {
            return Ok(());
        }
        let sheet = parse(&text.source)?;
        if let Some(other) = parsed.get(&sheet.name) {
            return Err(Complaint::new(format!(
                "the sheet `{}` stands in `{}` and in `{}`",
                sheet.name, other.source.name, text.source.name
            ))
            .hint("give one of them another name, or put it at the other's path to take its place")
            .into());
        }
        self.paths.insert(sheet.name.clone(), text.path.trim_start_matches("sheets/").into());
        parsed.insert(sheet.name.clone(), sheet);
        Ok(())
    }

    fn add_table(&mut self, text: &Text) -> Checked<()> {
        let name = text.path.rsplit('/').next().unwrap_or(&text.path).trim_end_matches(".csv").to_string();
        let table = Table::read(&name, &text.source)?;
        match self.tables.remove(&name) {
            None => self.tables.insert(name, Arc::new(table)),
            Some(known) => {
                let mut known =
                    Arc::try_unwrap(known).unwrap_or_else(|_| unreachable!("tables are shared after loading"));
                known.put_first(table, &text.source)?;
                self.tables.insert(name, Arc::new(known))
            }
        };
        Ok(())
    }

    /// Checks each sheet after the ones that it uses, so that their outputs are known.
    fn check_all(&mut self, mut parsed: BTreeMap<String, Sheet>, figures: &[FigureKind], complaints: &mut Complaints) {
        let mut done = BTreeMap::new();
        while let Some(name) = parsed.keys().next().cloned() {
            self.check_one(&name, &mut Vec::new(), &mut parsed, figures, &mut done, complaints);
        }
    }

    fn check_one(
        &mut self,
        name: &str,
        trail: &mut Vec<String>,
        parsed: &mut BTreeMap<String, Sheet>,
        figures: &[FigureKind],
        done: &mut BTreeMap<String, Option<Signature>>,
        complaints: &mut Complaints,
    ) {
        let Some(mut sheet) = parsed.remove(name) else { return };
        trail.push(name.into());
        for usage in uses(&sheet) {
            if let Some(at) = trail.iter().position(|above| *above == usage.sheet) {
                let mut circle = trail[at..].to_vec();
                circle.push(usage.sheet.clone());
                complaints.push(
                    Complaint::new(format!("sheets use each other in a circle: {}", circle.join(" -> ")))
                        .at(sheet.place(&usage.span)),
                );
                done.insert(usage.sheet.clone(), None);
            }
            self.check_one(&usage.sheet, trail, parsed, figures, done, complaints);
        }
        trail.pop();
        let signature = check(&mut sheet, &self.tables, figures, done).map_err(|more| complaints.extend(more)).ok();
        done.insert(name.into(), signature);
        self.sheets.insert(name.into(), Arc::new(sheet));
    }

    pub fn sheet(&self, name: &str) -> Option<&Arc<Sheet>> {
        self.sheets.get(name)
    }

    pub fn table(&self, name: &str) -> Option<&Arc<Table>> {
        self.tables.get(name)
    }

    pub fn sheets(&self) -> impl Iterator<Item = &Arc<Sheet>> {
        self.sheets.values()
    }

    /// The folder that a sheet is filed under, e.g. `wood`.
    pub fn subject(&self, sheet: &str) -> &str {
        self.paths.get(sheet).and_then(|path| path.split_once('/')).map_or("", |(folder, _)| folder)
    }
}

fn uses(sheet: &Sheet) -> Vec<Usage> {
    let mut found = Vec::new();
    sheet.walk(&mut |stmt| {
        if let Stmt::Use(usage) = stmt {
            found.push(Usage { sheet: usage.sheet.clone(), span: usage.span.clone() });
        }
    });
    found
}

/// A `use`, apart from its tree, which the check changes.
struct Usage {
    sheet: String,
    span: std::ops::Range<usize>,
}
