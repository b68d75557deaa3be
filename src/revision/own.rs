//! Sheets and tables, line by line as texts.

use std::collections::BTreeMap;

use crate::diag::count;

#[derive(Debug)]
pub struct OwnChange {
    /// `templates/sheets/own/cladding.sheet`.
    pub file: String,
    pub how: OwnHow,
}

#[derive(Debug, PartialEq, Eq)]
pub enum OwnHow {
    Added,
    Removed,
    /// So many lines that only the later or only the earlier text has.
    Changed {
        added: usize,
        removed: usize,
    },
}

impl OwnHow {
    /// In words.
    pub fn said(&self) -> String {
        match self {
            OwnHow::Added => "added".into(),
            OwnHow::Removed => "removed".into(),
            OwnHow::Changed { added: 0, removed: 0 } => "its lines are in another order".into(),
            OwnHow::Changed { added, removed: 0 } => format!("{} added", count(*added, "line")),
            OwnHow::Changed { added: 0, removed } => format!("{} removed", count(*removed, "line")),
            OwnHow::Changed { added, removed } => {
                format!("{} added, {} removed", count(*added, "line"), count(*removed, "line"))
            }
        }
    }
}

/// Blanks at the ends of lines and empty lines are no change.
pub fn changed_files(old: &BTreeMap<String, String>, new: &BTreeMap<String, String>) -> Vec<OwnChange> {
    let mut changes = Vec::new();
    for (file, text) in new {
        let how = match old.get(file) {
            None => OwnHow::Added,
            Some(before) if lines(before).eq(lines(text)) => continue,
            Some(before) => OwnHow::Changed { added: beyond(text, before), removed: beyond(before, text) },
        };
        changes.push(OwnChange { file: file.clone(), how });
    }
    let gone = old.keys().filter(|file| !new.contains_key(*file));
    changes.extend(gone.map(|file| OwnChange { file: file.clone(), how: OwnHow::Removed }));
    changes
}

fn lines(text: &str) -> impl Iterator<Item = &str> {
    text.lines().map(str::trim_end).filter(|line| !line.is_empty())
}

/// Lines of a text that another does not have, or not as often.
fn beyond(text: &str, other: &str) -> usize {
    let mut left: BTreeMap<&str, usize> = BTreeMap::new();
    lines(other).for_each(|line| *left.entry(line).or_default() += 1);
    let mut more = 0;
    for line in lines(text) {
        match left.get_mut(line).filter(|count| **count > 0) {
            Some(count) => *count -= 1,
            None => more += 1,
        }
    }
    more
}
