//! What the work of posts leaves open: questions for an engineer, rows of tables
//! that nobody has held against the publication, answers that were assumed.

use std::collections::{BTreeMap, BTreeSet};

use super::Root;
use crate::job::Post;
use crate::program::Memory;
use crate::sheet::{Library, Method, Published};
use crate::typeset::given_text;

/// A question that a sheet leaves to an engineer.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Question {
    pub what: String,
    /// What the job answers: `snow_share 0.5`.
    pub value: String,
    pub cite: String,
}

/// An input that nobody gave, and what was taken for it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Assumed {
    /// `site`, `posts`.
    pub source: String,
    /// The key or column.
    pub name: String,
    pub value: String,
    pub say: String,
}

/// A row that was looked up.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Looked {
    pub table: String,
    pub title: String,
    pub row: Published,
}

#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Asked {
    pub questions: BTreeSet<Question>,
    pub assumed: BTreeSet<Assumed>,
    /// The name of each table and the places of its rows.
    rows: BTreeMap<String, BTreeSet<usize>>,
    /// What was read without a sheet.
    read: BTreeSet<Looked>,
    reached: BTreeSet<usize>,
}

impl Asked {
    /// Notes which sheets the run that has just been carried out came to.
    pub fn run(&mut self, root: &Root, memory: &Memory, method: Option<Method>) {
        let program = &root.program;
        let uses = program.uses.iter().enumerate();
        self.reached.extend(uses.filter(|(_, used)| program.reached(used, memory, method)).map(|(at, _)| at));
    }

    /// Notes what all runs of a post, now done, left open.
    pub fn close(&mut self, root: &Root, memory: &Memory, post: &Post) {
        let program = &root.program;
        let typed = |fact| root.typed(post, fact);
        for decision in &program.decisions {
            let Some(values) = program.decided(decision, memory, &typed) else { continue };
            let values = values.iter().zip(&decision.rule.values);
            let values = values.map(|((value, unit), (name, _))| format!("{name} {}", given_text(value, unit)));
            self.questions.insert(Question {
                what: decision.rule.what.clone(),
                value: values.collect::<Vec<_>>().join(", "),
                cite: decision.rule.cite.clone(),
            });
        }
        for (_, fact) in program.taken(memory).filter(|(_, fact)| !fact.input.safe) {
            if let (Some(from), Some((value, unit))) = (&fact.from, program.default(fact))
                && fact.readers.iter().any(|reader| self.reached.contains(reader))
            {
                self.assumed.insert(Assumed {
                    source: from.source.clone(),
                    name: from.name.clone(),
                    value: given_text(&value, &unit),
                    say: fact.input.say.replace('`', ""),
                });
            }
        }
        for (table, row) in program.looked(memory) {
            self.rows.entry(table.name.clone()).or_default().insert(row);
        }
        self.reached.clear();
    }

    /// A row that was read without a sheet.
    pub fn row(&mut self, table: &str, row: usize) {
        self.rows.entry(table.into()).or_default().insert(row);
    }

    /// Rows that were read without a sheet, as one.
    pub fn read(&mut self, looked: Looked) {
        self.read.insert(looked);
    }

    /// The rows that were looked up, in words.
    pub fn looked(&self, library: &Library) -> Vec<Looked> {
        let mut found: Vec<Looked> = self.read.iter().cloned().collect();
        for (name, rows) in &self.rows {
            let Some(table) = library.table(name) else { continue };
            let keys = library.keys(name);
            found.extend(rows.iter().map(|row| Looked {
                table: name.clone(),
                title: table.title.clone(),
                row: table.published(*row, keys),
            }));
        }
        found
    }
}
