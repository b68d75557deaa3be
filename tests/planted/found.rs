//! What notices an error: the check values of the sheet and of all that uses it, then whole jobs and frames that were solved
//! by a second method, then jobs with x and y changed; of design values, that one follows from another.

use std::collections::{BTreeMap, BTreeSet};

use socle::diag::Diagnostic;
use socle::grid::{Grid, decode};
use socle::sheet::{Library, Sheet, Stmt};
use socle::source::Source;
use socle::templates::Templates;
use socle::validate::{Against, COMBINATIONS, File, TABLES};

use super::sites::Planted;
use crate::check_values::{names, read};
use crate::library::wrong_moduli;
use crate::lines::wrong_in_frames;
use crate::{swapped, whole};

/// How an error came out.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// The language refuses it.
    Refused,
    Found,
    Escaped,
}

pub struct Eyes {
    files: Vec<File>,
    /// What a sheet uses or takes from, by its name.
    uses: BTreeMap<String, BTreeSet<String>>,
    /// No job is worked.
    values_alone: bool,
}

impl Eyes {
    pub fn new(library: &Library, values_alone: bool) -> Eyes {
        let files = names().iter().map(|name| read(name)).collect();
        let uses = library.sheets().map(|sheet| (sheet.name.clone(), used(sheet))).collect();
        Eyes { files, uses, values_alone }
    }

    fn reaches(&self, from: &str, to: &str, seen: &mut BTreeSet<String>) -> bool {
        from == to
            || seen.insert(from.into())
                && self.uses.get(from).is_some_and(|uses| uses.iter().any(|used| self.reaches(used, to, seen)))
    }

    /// What an error comes to, and as what it was planted.
    pub fn look(&self, planted: &Planted) -> (Outcome, String) {
        let mut templates = Templates::built_in();
        let text = String::from_utf8(templates.files[&planted.path].clone()).expect("a text");
        for now in &planted.now {
            templates.files.insert(planted.path.clone(), planted.text(&text, now).into_bytes());
            if let Ok(library) = templates.library() {
                return (self.seen(planted, &templates, &library), now.clone());
            }
        }
        (Outcome::Refused, planted.now[0].clone())
    }

    fn seen(&self, planted: &Planted, templates: &Templates, library: &Library) -> Outcome {
        let table = |name: &str| {
            let path = format!("tables/{name}.csv");
            let bytes = templates.files.get(&path).ok_or_else(|| Diagnostic::new("no such table"))?;
            Grid::read(&Source::new(path, decode(bytes)))
        };
        let against = Against { library, table: &table };
        let own = |file: &&File| file.about() == planted.name;
        let others = |file: &&File| {
            file.about() != planted.name
                && (file.about() == COMBINATIONS
                    || file.about() == TABLES
                    || self.reaches(file.about(), &planted.name, &mut BTreeSet::new()))
        };
        for file in self.files.iter().filter(own).chain(self.files.iter().filter(others)) {
            match against.compare(file) {
                Ok(values) if values.iter().all(socle::validate::Value::holds) => {}
                _ => return Outcome::Found,
            }
        }
        // What pages alone read changes no limit of a job.
        if self.values_alone || planted.page {
            return Outcome::Escaped;
        }
        if !wrong_moduli(library).1.is_empty() {
            return Outcome::Found;
        }
        let jobs = whole::LISTED.iter().map(|job| job.replace('_', "-"));
        let seen = jobs.into_iter().any(|job| !whole::wrong_in(&job, library).is_empty())
            || !wrong_in_frames(library).is_ok_and(|(_, wrong)| wrong.is_empty())
            || !swapped::wrong_in(library).1.is_empty();
        if seen { Outcome::Found } else { Outcome::Escaped }
    }
}

fn used(sheet: &Sheet) -> BTreeSet<String> {
    let mut used = BTreeSet::new();
    sheet.walk(&mut |stmt| match stmt {
        Stmt::Use(rule) => drop(used.insert(rule.sheet.clone())),
        Stmt::Place(place) => used.extend(place.choices.iter().map(|(_, rule)| rule.sheet.clone())),
        Stmt::Take(take) => drop(used.insert(take.table.clone())),
        _ => {}
    });
    used
}
