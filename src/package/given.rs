//! What worked pages begin with: what the files say, what is worked elsewhere, what the
//! combinations bring; and where an input of a sheet has its value from.

use std::collections::BTreeMap;

use super::chain::{LineAt, Place, Source};
use super::chapter::Across;
use super::chosen::letter;
use super::draft::Block;
use super::ledger::Ledger;
use super::lines::{join, said};
use super::model::{FactItem, Line, Section, Span, ValueRow, Whence};
use super::worked::{Writer, letters, section};
use crate::formula::Value;
use crate::sheet::{Bound, Given, Origin};
use crate::typeset::{printed, symbol};

/// What the files say of posts, by column or key.
pub(super) struct Fact {
    pub key: String,
    file: String,
    pub item: FactItem,
    /// Columns by row.
    pub at: Vec<Vec<usize>>,
}

/// What a limit rests on of the load combination.
const COMBINATION: &str = "load combination";

impl<'a> Writer<'a, '_> {
    /// The facts that the lines read, in the order in which they are met.
    pub(super) fn collect(&mut self, blocks: &[Block]) {
        for (column, given, bound) in self.read_by(blocks) {
            self.fact(given, bound, column);
        }
    }

    /// What lines read that no other line works out, each with its column.
    fn read_by(&self, blocks: &[Block]) -> Vec<(usize, &'a Given, &'a Bound)> {
        let mut found = Vec::new();
        for line in blocks.iter().flat_map(|block| &block.lines) {
            for (path, column) in &line.at {
                let facts = self.chapter.facts_of(*column, &(path.clone(), line.place.clone()));
                found.extend(facts.into_iter().map(|(given, bound)| (*column, given, bound)));
            }
        }
        found
    }

    fn fact(&mut self, given: &Given, bound: &Bound, column: usize) {
        let Origin::File(words) = &given.origin else { return };
        if words == COMBINATION {
            return;
        }
        let file = words.split(", ").next().unwrap_or(words).to_string();
        let key = given.input.key();
        let at = self.facts.iter().position(|fact| fact.key == key).unwrap_or_else(|| {
            let (symbol, say) = (symbol(given.input.column()), said(&given.input.say));
            let item = FactItem { no: String::new(), symbol, say, rows: Vec::new(), of: Vec::new(), sum: false };
            self.facts.push(Fact { key, file, item, at: Vec::new() });
            self.facts.len() - 1
        });
        let fact = &mut self.facts[at];
        let value = printed(bound);
        // Another sheet may print the same cell in another unit.
        if fact.at.iter().any(|columns| columns.contains(&column)) {
            return;
        }
        match fact.item.rows.iter().position(|row| row.value == value) {
            Some(row) => fact.at[row].push(column),
            None => {
                fact.item.rows.push(ValueRow { tag: String::new(), value, at: Vec::new(), changed: false });
                fact.at.push(vec![column]);
            }
        }
    }

    /// What the files say, file by file.
    pub(super) fn given(&mut self) -> Option<Section> {
        let mut files: Vec<String> = Vec::new();
        for fact in &self.facts {
            if !files.contains(&fact.file) {
                files.push(fact.file.clone());
            }
        }
        let known: Vec<_> = self.chapter.columns.iter().map(|column| column.chain.given()).collect();
        let mut lines = Vec::new();
        for file in files {
            let mut items = Vec::new();
            for at in 0..self.facts.len() {
                if self.facts[at].file != file {
                    continue;
                }
                let no = self.no();
                let fact = &mut self.facts[at];
                fact.item.no = no.clone();
                // A column that does not read it may have another value.
                let same = |given: &BTreeMap<String, &Bound>| {
                    given.get(&fact.key).is_none_or(|bound| printed(bound) == fact.item.rows[0].value)
                };
                let single = fact.item.rows.len() == 1 && known.iter().all(same);
                for (row, columns) in fact.item.rows.iter_mut().zip(&fact.at) {
                    row.tag = if single { String::new() } else { letters(columns) };
                    row.at = columns.iter().map(|column| format!("@{}", letter(*column))).collect();
                }
                items.push(fact.item.clone());
            }
            lines.push(Line::Facts { file, items });
        }
        (!lines.is_empty()).then(|| section("Given", "", lines))
    }

    /// Names the lines by which facts are worked out, once these have their numbers.
    pub(super) fn say_where(&self, sections: &mut [Section]) {
        for ((column, key), across) in &self.chapter.across {
            let mut numbers: Vec<String> = match across {
                Across::Worked { lines, .. } => lines.clone(),
                Across::Lines(lines) => {
                    let at = |(at, path, symbol): &(usize, String, String)| match self.chain(*at).source(path, symbol) {
                        Source::Line(line, _) => Some(self.number_of(&line, *at)).filter(|no| !no.is_empty()),
                        _ => None,
                    };
                    lines.iter().filter_map(at).collect()
                }
            };
            let known = self.facts.iter().find(|fact| fact.key == *key && fact.at.iter().any(|at| at.contains(column)));
            let Some(known) = known else { continue };
            let items = sections.iter_mut().flat_map(|section| &mut section.lines).filter_map(|line| match line {
                Line::Facts { items, .. } => items.iter_mut().find(|item| item.no == known.item.no),
                _ => None,
            });
            for item in items {
                numbers.retain(|no| !item.of.contains(no));
                numbers.dedup();
                item.of.append(&mut numbers);
                item.sum = key.starts_with("line.");
            }
        }
    }

    /// What the combinations bring that the lines read.
    pub(super) fn loads(&mut self, blocks: &[Block]) -> Option<Section> {
        let mut names: Vec<(String, String)> = Vec::new();
        let mut read: BTreeMap<String, Vec<(usize, Bound)>> = BTreeMap::new();
        for (column, given, bound) in self.read_by(blocks) {
            if !matches!(&given.origin, Origin::File(words) if words == COMBINATION)
                || matches!(bound.value, Value::Text(_))
            {
                continue;
            }
            let name = given.input.column().to_string();
            if !names.iter().any(|(known, _)| *known == name) {
                names.push((name.clone(), given.input.say.clone()));
            }
            let columns = read.entry(name).or_default();
            if !columns.iter().any(|(known, _)| *known == column) {
                columns.push((column, bound.clone()));
            }
        }
        let mut lines = Vec::new();
        for (name, say) in names {
            let mut columns = read.remove(&name).unwrap_or_default();
            columns.sort_by_key(|(column, _)| *column);
            let no = self.no();
            for (column, _) in &columns {
                self.numbers.insert((load(&name), *column), no.clone());
                let recalled = self.recalled_of(&name, *column);
                self.reads.entry((no.clone(), letter(*column))).or_default().extend(recalled);
            }
            lines.push(self.load_line(no, &name, &say, &columns));
        }
        // A full package shows each sum with its factors, another what it came to.
        (!lines.is_empty())
            .then(|| Section { table: self.chapter.whole.is_empty(), ..section("Forces by combination", "", lines) })
    }

    /// The question about the rows of tables that a load of a combination comes from.
    fn recalled_of(&self, name: &str, column: usize) -> Option<String> {
        let (combination, _) = self.chapter.columns[column].loads?;
        self.ledger.awaited.of_load(name, combination).cloned()
    }

    pub(super) fn recalled_load(&self, given: &Given, column: usize) -> Option<String> {
        let of_load = matches!(&given.origin, Origin::File(words) if words == COMBINATION);
        self.recalled_of(given.input.column(), column).filter(|_| of_load)
    }

    pub(super) fn whence_of(&mut self, given: &Given, bound: &Bound, column: usize) -> Whence {
        match &given.origin {
            Origin::File(words) if words == COMBINATION => {
                let no = self.number_of(&load(given.input.column()), column);
                Whence { words: no.clone(), link: Some(no).filter(|no| !no.is_empty()) }
            }
            Origin::File(words) => {
                let key = given.input.key();
                let no = self.facts.iter().find(|fact| fact.key == key).map(|fact| fact.item.no.clone());
                Whence { words: no.clone().unwrap_or_else(|| words.clone()), link: no }
            }
            _ => taken(given, bound, self.ledger),
        }
    }
}

/// Where the line of what a combination brings stands.
fn load(name: &str) -> LineAt {
    (COMBINATION.into(), Place::Entry(name.into()))
}

/// What is taken where the job gives none is an open question; a default with a
/// clause behind it is an assumption; their numbers. The most severe answer
/// assumes nothing, and others only say that there is nothing of a kind.
pub(super) fn taken(given: &Given, bound: &Bound, ledger: &mut Ledger) -> Whence {
    let open =
        given.input.from.as_ref().and_then(|from| ledger.questions.get(&format!("{}.{}", from.source, from.name)));
    if let Some(no) = open {
        return Whence { words: no.clone(), link: Some(no.clone()) };
    }
    if given.input.safe {
        return Whence { words: "conservative".into(), link: None };
    }
    let Some(cite) = &given.input.cite else { return Whence { words: "default".into(), link: None } };
    let text = format!(
        " is taken as {} where the job does not give it ({}).",
        join(&printed(bound)),
        given.input.say.replace('`', "")
    );
    let spans = vec![Span::Math(symbol(&given.input.name)), Span::Text(text)];
    let no = ledger.assume(spans, cite);
    Whence { words: no.clone(), link: Some(no) }
}
