//! Names as numbers: a program works on numbers alone, so each text that a
//! sheet, a table or a job speaks of has one.

use std::collections::BTreeMap;
use std::sync::Arc;

#[derive(Clone, Debug, Default)]
pub struct Texts {
    names: Vec<Arc<str>>,
    /// For each name that of its lower case: tables do not tell them apart.
    plain: Vec<u32>,
    numbers: BTreeMap<Arc<str>, u32>,
}

impl Texts {
    /// The number of a name, a new one if it has none.
    pub fn number(&mut self, name: &str) -> u32 {
        if let Some(known) = self.numbers.get(name) {
            return *known;
        }
        let number = self.names.len() as u32;
        let shared: Arc<str> = name.into();
        self.names.push(shared.clone());
        self.plain.push(number);
        self.numbers.insert(shared, number);
        let lower = name.to_ascii_lowercase();
        if lower != name {
            self.plain[number as usize] = self.number(&lower);
        }
        number
    }

    pub fn find(&self, name: &str) -> Option<u32> {
        self.numbers.get(name).copied()
    }

    pub fn name(&self, number: u32) -> &str {
        self.names.get(number as usize).map_or("", |name| name)
    }

    /// Equal for two names that differ in case alone.
    pub fn plain(&self, number: u32) -> u32 {
        self.plain.get(number as usize).copied().unwrap_or(number)
    }
}
