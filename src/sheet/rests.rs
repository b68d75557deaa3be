//! The facts that a value rests on: the cells, keys and loads that it was worked
//! from, however many formulas ago.

use std::collections::{BTreeSet, VecDeque};
use std::sync::Arc;

#[derive(Clone, Debug, Default)]
pub struct Rests(Option<Arc<Node>>);

#[derive(Debug)]
struct Node {
    fact: Option<String>,
    of: Vec<Rests>,
}

impl Rests {
    /// A value that a file gives.
    pub fn fact(key: &str) -> Rests {
        Rests(Some(Arc::new(Node { fact: Some(key.into()), of: Vec::new() })))
    }

    /// A value that is worked from others.
    pub fn of<'a>(values: impl Iterator<Item = &'a Rests>) -> Rests {
        let of: Vec<Rests> = values.filter(|rests| !rests.is_empty()).cloned().collect();
        if of.is_empty() { Rests(None) } else { Rests(Some(Arc::new(Node { fact: None, of }))) }
    }

    /// It was written out in a sheet, and rests on nothing.
    pub fn is_empty(&self) -> bool {
        self.0.is_none()
    }

    /// The facts, those that fewest formulas lie between first.
    pub fn nearest(&self) -> Vec<String> {
        let mut facts = Vec::new();
        let mut met = BTreeSet::new();
        let mut queue: VecDeque<&Rests> = VecDeque::from([self]);
        while let Some(rests) = queue.pop_front() {
            let Some(node) = rests.0.as_ref().filter(|node| met.insert(Arc::as_ptr(node))) else { continue };
            match &node.fact {
                Some(fact) if !facts.contains(fact) => facts.push(fact.clone()),
                _ => {}
            }
            queue.extend(&node.of);
        }
        facts
    }
}
