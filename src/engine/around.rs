//! What a post sees round it: where it stands, and, in a line of posts that is
//! worked post by post, what it brings itself, what its neighbours and the line
//! come to.

use std::collections::BTreeMap;

use crate::formula::Value;
use crate::sheet::Input;

/// Where such inputs of a sheet say that they come from.
pub const SOURCES: [&str; 5] = ["grid", "own", "line", "before", "after"];

pub fn is_around(input: &Input) -> bool {
    input.from.as_ref().is_some_and(|from| SOURCES.contains(&from.source.as_str()))
}

/// For each post the values by source and name, `line.n`.
#[derive(Debug, Default)]
pub struct Around(pub Vec<BTreeMap<String, Value>>);

impl Around {
    pub fn get(&self, post: usize, input: &Input) -> Option<&Value> {
        self.at(post, &Around::key(input)?)
    }

    /// The same by the key of an input.
    pub fn at(&self, post: usize, key: &str) -> Option<&Value> {
        self.0.get(post)?.get(key)
    }

    pub fn key(input: &Input) -> Option<String> {
        input.from.as_ref().map(|from| key(&from.source, &from.name))
    }
}

pub fn key(source: &str, name: &str) -> String {
    format!("{source}.{name}")
}
