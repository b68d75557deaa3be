//! Rows of tables that somebody has to hold against their publication: the numbers of
//! their questions, for the lines that rest on them.

use std::collections::BTreeMap;

use crate::engine::{Combination, TABLES};
use crate::sheet::{Library, Taken};
use crate::verdict::{Asks, Verdict};

/// The numbers of the questions about rows of tables.
#[derive(Default)]
pub struct Recalled {
    /// By table and place.
    rows: BTreeMap<(String, usize), String>,
    /// Sets of load combinations, which are read as a whole.
    sets: BTreeMap<String, String>,
}

impl Recalled {
    pub fn new(verdict: &Verdict, library: &Library) -> Recalled {
        let mut recalled = Recalled::default();
        let asked = verdict.questions.iter().enumerate().filter(|(_, it)| it.asks == Asks::Confirmation);
        for (at, question) in asked {
            let no = format!("Q{}", at + 1);
            if question.what == TABLES[0] {
                recalled.sets.insert(question.row.clone(), no);
                continue;
            }
            let Some(table) = library.table(&question.what) else { continue };
            let keys = library.keys(&question.what);
            for row in 0..table.height() {
                let published = table.published(row, keys);
                if (&published.name, &published.values) == (&question.row, &question.value) {
                    recalled.rows.insert((question.what.clone(), row), no.clone());
                }
            }
        }
        recalled
    }

    /// The questions about the rows that were looked up.
    pub fn of(&self, taken: &Taken) -> Vec<String> {
        let numbers = taken.rows.iter().filter_map(|row| self.rows.get(&(taken.table.clone(), *row)));
        numbers.cloned().collect()
    }

    /// The question about the rows from which a combination has its factors, or its
    /// load duration factor.
    pub fn of_load(&self, name: &str, combination: &Combination) -> Option<&String> {
        if combination.terms(name).is_some() {
            return self.sets.get(&combination.set);
        }
        let duration = combination.duration.filter(|_| name == "C_D")?;
        self.rows.get(&(TABLES[1].into(), duration))
    }
}
