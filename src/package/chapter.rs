//! What a chapter of worked pages is made from: its columns, the lines that are wanted,
//! and what these rest on, from column to column.

use std::collections::{BTreeMap, BTreeSet};

use super::chain::{Chain, LineAt, Source};
use crate::engine::Combination;
use crate::job::Post;
use crate::sheet::{Bound, Given};

/// What a chapter of worked pages is made from.
pub struct Chapter<'a> {
    /// Begins the numbers of its lines: `B1`.
    pub name: String,
    pub title: String,
    pub columns: Vec<Column<'a>>,
    /// Lines to be worked, with the columns in which they are.
    pub targets: Vec<(LineAt, Vec<usize>)>,
    /// What a column reads that is worked elsewhere, by the key of its input.
    pub across: BTreeMap<(usize, String), Across>,
    /// Columns of which every line is worked, with the words of the sheets.
    pub whole: Vec<usize>,
}

/// Where something is worked that no line of a column works out.
pub enum Across {
    /// By other columns: a column, the path of a sheet there, a symbol. Several are summed.
    Lines(Vec<(usize, String, String)>),
    /// By another chapter, in lines of these numbers, which rest on these questions.
    Worked { lines: Vec<String>, questions: BTreeSet<String> },
}

impl<'a> Chapter<'a> {
    /// Where a symbol has its value from, and in which column.
    pub fn source(&self, column: usize, path: &str, name: &str) -> (usize, Source<'a>) {
        let source = self.columns[column].chain.source(path, name);
        if let Source::Fact { given, .. } = &source
            && let Some(Across::Lines(lines)) = self.across.get(&(column, given.input.key()))
            && let [(at, path, symbol)] = lines.as_slice()
            && let there @ Source::Line(..) = self.columns[*at].chain.source(path, symbol)
        {
            return (*at, there);
        }
        (column, source)
    }

    /// All lines that some lines rest on, they among them, each with its column.
    pub fn closure(&self, of: impl IntoIterator<Item = (usize, LineAt)>) -> BTreeSet<(usize, LineAt)> {
        let mut found = BTreeSet::new();
        let mut next: Vec<(usize, LineAt)> = of.into_iter().collect();
        while let Some((column, line)) = next.pop() {
            if found.contains(&(column, line.clone())) {
                continue;
            }
            for (path, name) in self.columns[column].chain.operands(&line) {
                match self.source(column, &path, &name) {
                    (at, Source::Line(line, _)) => next.push((at, line)),
                    (_, Source::Fact { given, .. }) => next.extend(self.summed(column, given)),
                    _ => {}
                }
            }
            found.insert((column, line));
        }
        found
    }

    /// The lines of other columns that a fact is the sum of.
    fn summed(&self, column: usize, given: &Given) -> Vec<(usize, LineAt)> {
        let Some(Across::Lines(lines)) = self.across.get(&(column, given.input.key())) else { return Vec::new() };
        let found = lines.iter().filter_map(|(at, path, symbol)| match self.columns[*at].chain.source(path, symbol) {
            Source::Line(line, _) => Some((*at, line)),
            _ => None,
        });
        found.collect()
    }

    /// The lines that its targets rest on.
    pub fn worked(&self) -> BTreeSet<(usize, LineAt)> {
        let each = |(line, columns): &(LineAt, Vec<usize>)| {
            columns.iter().map(|column| (*column, line.clone())).collect::<Vec<_>>()
        };
        self.closure(self.targets.iter().flat_map(each))
    }

    /// What a line reads that no line works out, and what decided that it is worked as it is.
    pub fn facts_of(&self, column: usize, line: &LineAt) -> Vec<(&'a Given, &'a Bound)> {
        let chain = &self.columns[column].chain;
        let mut symbols = chain.operands(line);
        symbols.extend(chain.conditions(line));
        let mut facts = Vec::new();
        let mut at = 0;
        while let Some((path, name)) = symbols.get(at).cloned() {
            if let (_, Source::Fact { given, bound }) = self.source(column, &path, &name) {
                facts.push((given, bound));
            }
            symbols.extend(chain.decided_by(&path, &name));
            at += 1;
        }
        facts
    }

    /// The same of all its lines: columns, and the keys of inputs.
    pub fn facts(&self) -> BTreeSet<(usize, String)> {
        let of = |(column, line): (usize, LineAt)| {
            self.facts_of(column, &line).into_iter().map(|(given, _)| (column, given.input.key())).collect::<Vec<_>>()
        };
        self.worked().into_iter().flat_map(of).collect()
    }
}

/// A post in a load combination, or in none.
pub struct Column<'a> {
    pub marks: Vec<String>,
    /// The combination, or the load case.
    pub what: String,
    pub c_d: String,
    pub chain: Chain<'a>,
    /// What the combination is made from.
    pub loads: Option<(&'a Combination, &'a Post)>,
}
