//! Names as numbers: a program works on numbers alone, so each text that a
//! sheet, a table or a job speaks of has one.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::names::words;

#[derive(Clone, Debug, Default)]
pub struct Texts {
    /// Each as it was first written.
    names: Vec<Arc<str>>,
    /// By the plain form: `No. 1` and `no.1` are one name.
    numbers: BTreeMap<String, u32>,
}

impl Texts {
    /// The number of a name, a new one if it has none.
    pub fn number(&mut self, name: &str) -> u32 {
        *self.numbers.entry(words(name).concat()).or_insert_with(|| {
            self.names.push(name.into());
            self.names.len() as u32 - 1
        })
    }

    pub fn find(&self, name: &str) -> Option<u32> {
        self.numbers.get(&words(name).concat()).copied()
    }

    pub fn name(&self, number: u32) -> &str {
        self.names.get(number as usize).map_or("", |name| name)
    }
}
