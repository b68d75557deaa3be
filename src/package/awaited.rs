//! Rows of tables that somebody has to hold against their publication, and values that an
//! engineer has to decide: the numbers of their questions, for the lines that rest on them.

use std::collections::BTreeMap;

use crate::engine::{Combination, TABLES};
use crate::sheet::{Bound, Decide, Library, Taken};
use crate::typeset::given_text;
use crate::verdict::{Asks, Verdict};

/// The numbers of the questions about rows of tables, and of decisions.
#[derive(Default)]
pub struct Awaited {
    /// By table and place.
    rows: BTreeMap<(String, usize), String>,
    /// Sets of load combinations, which are read as a whole.
    sets: BTreeMap<String, String>,
    /// What is decided; the value and the number, of each value that posts have.
    decisions: BTreeMap<String, Vec<(String, String)>>,
}

impl Awaited {
    pub fn new(verdict: &Verdict, library: &Library) -> Awaited {
        let mut awaited = Awaited::default();
        for (at, question) in verdict.questions.iter().enumerate() {
            let no = format!("Q{}", at + 1);
            if question.asks == Asks::Decision {
                awaited.decisions.entry(question.what.clone()).or_default().push((question.value.clone(), no));
                continue;
            }
            if question.asks != Asks::Confirmation {
                continue;
            }
            if question.what == TABLES[0] {
                awaited.sets.insert(question.row.clone(), no);
                continue;
            }
            let Some(table) = library.table(&question.what) else { continue };
            let keys = library.keys(&question.what);
            for row in 0..table.height() {
                let published = table.published(row, keys);
                if (&published.name, &published.values) == (&question.row, &question.value) {
                    awaited.rows.insert((question.what.clone(), row), no.clone());
                }
            }
        }
        awaited
    }

    /// The questions about the rows that were looked up.
    pub fn of(&self, taken: &Taken) -> Vec<String> {
        let numbers = taken.rows.iter().filter_map(|row| self.rows.get(&(taken.table.clone(), *row)));
        numbers.cloned().collect()
    }

    /// The questions that a decision asks: of several values the one that it has here.
    pub fn decided(&self, rule: &Decide, values: &[Bound]) -> Vec<String> {
        let Some(known) = self.decisions.get(&rule.what) else { return Vec::new() };
        let values = values.iter().zip(&rule.values);
        let here = values.map(|(bound, (name, _))| format!("{name} {}", given_text(&bound.value, &bound.unit)));
        let here = here.collect::<Vec<_>>().join(", ");
        let is = |(value, _): &&(String, String)| *value == here;
        let found = known.iter().find(is).map_or(known.as_slice(), std::slice::from_ref);
        found.iter().map(|(_, no)| no.clone()).collect()
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
