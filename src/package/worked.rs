//! The worked pages of a chapter: the lines that its limits rest on, every one
//! numbered so that a reviewer can cite it, each formula once with the numbers of
//! every column that needs it. What a line looks like stands in `lines`.

use std::collections::{BTreeMap, BTreeSet};

use super::awaited::Awaited;
use super::chain::{Chain, LineAt, Place, Source};
use super::chapter::{Across, Chapter};
use super::chosen::letter;
use super::draft::{Block, Draft, DraftLine};
use super::given::{Fact, taken};
use super::ledger::Ledger;
use super::model::{ColumnHead, InputItem, InputRow, Line, Section, Whence, Worked as Pages};
use crate::diag::count;
use crate::formula::Value;
use crate::job::some_marks;
use crate::quantity::Units;
use crate::sheet::{Library, Origin, Sheet, Step, What, Worked};
use crate::typeset::{Shown, printed, symbol, twin_symbol};

/// A place in the worked pages: a use of a sheet by its path, and a column.
pub type At = (String, usize);

pub(super) struct Writer<'a, 'l> {
    pub library: &'a Library,
    pub units: Units,
    pub chapter: &'l Chapter<'a>,
    pub ledger: &'l mut Ledger,
    pub(super) numbers: Numbers,
    pub(super) facts: Vec<Fact>,
    pub(super) reads: BTreeMap<(String, String), BTreeSet<String>>,
    /// What its targets rest on.
    rests: BTreeMap<(LineAt, usize), BTreeSet<String>>,
    /// What a line of a column rests on by itself, as far as it was asked for.
    leaves: BTreeMap<(usize, LineAt), BTreeSet<String>>,
    /// Of each column.
    decisions: Vec<Decided>,
    count: usize,
}

/// The questions of decisions, by the keys of inputs and the lines whose values are decided.
#[derive(Default)]
struct Decided {
    facts: BTreeMap<String, Vec<String>>,
    lines: BTreeMap<LineAt, Vec<String>>,
}

impl Decided {
    fn new(chain: &Chain, awaited: &Awaited) -> Decided {
        let mut decided = Decided::default();
        for (path, rule, values) in chain.decisions() {
            let asked = awaited.decided(rule, values);
            for (name, _) in &rule.values {
                match chain.source(path, name) {
                    Source::Fact { given, .. } => {
                        decided.facts.entry(given.input.key()).or_default().extend(asked.iter().cloned());
                    }
                    Source::Line(line, _) => decided.lines.entry(line).or_default().extend(asked.iter().cloned()),
                    Source::Said => {}
                }
            }
        }
        decided
    }
}

/// What comes into a sheet: a value, whence, and the places that have it.
type Come = (Shown, Whence, Vec<At>);

/// Values of an input that differ stand beside its name in up to so many places.
const PLACES_OF_AN_INPUT: usize = 4;

/// A chapter that was written, with the numbers of its lines.
pub struct Written {
    pub pages: Pages,
    numbers: Numbers,
    rests: BTreeMap<(LineAt, usize), BTreeSet<String>>,
    count: usize,
}

impl Written {
    pub fn number_of(&self, line: &LineAt, column: usize) -> String {
        self.numbers.get(&(line.clone(), column)).cloned().unwrap_or_default()
    }

    /// The questions that one of its targets rests on.
    pub fn questions_of(&self, line: &LineAt, column: usize) -> BTreeSet<String> {
        let rests = self.rests.get(&(line.clone(), column)).into_iter().flatten();
        rests.filter(|no| no.starts_with('Q')).cloned().collect()
    }

    /// The number of what stands in a list at the end.
    pub fn no(&mut self) -> String {
        self.count += 1;
        format!("{}.{}", self.pages.name, self.count)
    }
}

/// The number of each line, in each of its columns.
type Numbers = BTreeMap<(LineAt, usize), String>;

/// Writes a chapter; what it cites goes into the ledger.
pub fn write(library: &Library, units: Units, chapter: &Chapter, ledger: &mut Ledger) -> Written {
    let mut draft = Draft::default();
    let mut worked: Vec<BTreeSet<LineAt>> = vec![BTreeSet::new(); chapter.columns.len()];
    for (column, line) in chapter.worked() {
        worked[column].insert(line);
    }
    for (at, (column, mut lines)) in chapter.columns.iter().zip(worked).enumerate() {
        let whole = chapter.whole.contains(&at);
        if whole {
            lines.extend(column.chain.lines());
        }
        draft.enter(&column.chain, at, &lines, whole);
    }
    let (numbers, facts, reads) = (BTreeMap::new(), Vec::new(), BTreeMap::new());
    let (rests, leaves) = (BTreeMap::new(), BTreeMap::new());
    let decisions = chapter.columns.iter().map(|column| Decided::new(&column.chain, &ledger.awaited)).collect();
    let mut writer =
        Writer { library, units, chapter, ledger, numbers, facts, reads, rests, leaves, decisions, count: 0 };
    let sections = writer.sections(&draft.joined());
    let mut columns: Vec<ColumnHead> = Vec::new();
    for (at, column) in chapter.columns.iter().enumerate() {
        let (marks, what, c_d) = (column.marks.clone(), column.what.clone(), column.c_d.clone());
        columns.push(ColumnHead { letter: letter(at), post: some_marks(&marks, 2), marks, what, c_d });
    }
    let reads = writer.reads;
    let (low, fits, skipped, ratios) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let pages = Pages {
        name: chapter.name.clone(),
        title: chapter.title.clone(),
        columns,
        sections,
        low,
        fits,
        skipped,
        ratios,
        reads,
    };
    Written { pages, numbers: writer.numbers, rests: writer.rests, count: writer.count }
}

impl<'a> Writer<'a, '_> {
    pub fn chain(&self, column: usize) -> &Chain<'a> {
        &self.chapter.columns[column].chain
    }

    pub fn no(&mut self) -> String {
        self.count += 1;
        format!("{}.{}", self.chapter.name, self.count)
    }

    fn sections(&mut self, blocks: &[Block]) -> Vec<Section> {
        self.collect(blocks);
        let mut sections = Vec::new();
        sections.extend(self.given());
        sections.extend(self.loads(blocks));
        for line in blocks.iter().flat_map(|block| &block.lines) {
            let no = self.no();
            for (path, column) in &line.at {
                self.numbers.insert(((path.clone(), line.place.clone()), *column), no.clone());
            }
        }
        self.say_where(&mut sections);
        let mut begun = BTreeSet::new();
        for block in blocks {
            let mut section = self.block(block);
            section.continued = !begun.insert(block.sheet.name.clone());
            sections.push(section);
        }
        sections
    }

    fn block(&mut self, block: &Block) -> Section {
        let mut here: BTreeSet<At> = BTreeSet::new();
        for line in &block.lines {
            here.extend(line.at.iter().cloned());
        }
        let columns: BTreeSet<usize> = here.iter().map(|(_, column)| *column).collect();
        let columns: Vec<usize> = columns.into_iter().collect();
        let mut lines = Vec::new();
        let items = self.inputs(block, &here);
        if !items.is_empty() {
            lines.push(Line::Inputs { items });
        }
        let mut own = Vec::new();
        if block.sheet.own {
            own.push(own_sheet(self.library, &block.sheet));
        }
        for line in &block.lines {
            lines.extend(self.line(line, &here, &mut own));
            if self.is_target(line) {
                lines.extend(self.rests_on(line));
            }
        }
        let shown = match self.chapter.columns.len() {
            0 | 1 => String::new(),
            all if columns.len() == all && all > LETTERS => "all columns".into(),
            _ if columns.len() > LETTERS => count(columns.len(), "column"),
            _ => letters(&columns),
        };
        Section {
            sheet: block.sheet.name.clone(),
            title: block.sheet.title.clone(),
            own,
            columns: shown,
            table: false,
            continued: false,
            lines,
        }
    }

    /// The number of a line in a column.
    pub fn number_of(&self, line: &LineAt, column: usize) -> String {
        self.numbers.get(&(line.clone(), column)).cloned().unwrap_or_default()
    }

    /// What comes into a block from elsewhere, with where it stands.
    fn inputs(&mut self, block: &Block, here: &BTreeSet<At>) -> Vec<InputItem> {
        let inside: BTreeSet<(&Place, &At)> =
            block.lines.iter().flat_map(|line| line.at.iter().map(move |at| (&line.place, at))).collect();
        let mut items: Vec<(String, Vec<Come>)> = Vec::new();
        for line in &block.lines {
            for at in &line.at {
                let (path, column) = at;
                let reader = (self.number_of(&(path.clone(), line.place.clone()), *column), letter(*column));
                let operands = self.chain(*column).operands(&(path.clone(), line.place.clone()));
                for (named_in, name) in operands {
                    let chain = &self.chapter.columns[*column].chain;
                    let Some(bound) = chain.find(&named_in).and_then(|worked| worked.bound.get(&name)).cloned() else {
                        continue;
                    };
                    if matches!(bound.value, Value::Text(_)) {
                        continue;
                    }
                    // The value is printed as it is where it comes from.
                    let (whence, value) = match self.chapter.source(*column, &named_in, &name) {
                        (there, Source::Line(other, symbol)) => {
                            let no = self.number_of(&other, there);
                            if there == *column && inside.contains(&(&other.1, &(other.0.clone(), there))) {
                                self.reads.entry(reader.clone()).or_default().insert(no);
                                continue;
                            }
                            // Of another column the letter is said.
                            let words = if there == *column { no.clone() } else { format!("{no} {}", letter(there)) };
                            let there = self.chain(there).find(&other.0).and_then(|worked| worked.bound.get(&symbol));
                            let whence = Whence { words, link: Some(no).filter(|no| !no.is_empty()) };
                            (whence, printed(there.unwrap_or(&bound)))
                        }
                        (_, Source::Fact { given, bound }) => {
                            let key = given.input.key();
                            let known = self.facts.iter().find(|fact| fact.key == key);
                            let row = known.and_then(|fact| {
                                let row = fact.at.iter().position(|columns| columns.contains(column))?;
                                Some(fact.item.rows[row].value.clone())
                            });
                            (self.whence_of(given, bound, *column), row.unwrap_or_else(|| printed(bound)))
                        }
                        (_, Source::Said) => continue,
                    };
                    let read = whence.link.clone().unwrap_or_else(|| whence.words.clone());
                    self.reads.entry(reader.clone()).or_default().insert(read);
                    let item = items.iter().position(|(known, _)| *known == name).unwrap_or_else(|| {
                        items.push((name.clone(), Vec::new()));
                        items.len() - 1
                    });
                    let rows = &mut items[item].1;
                    match rows.iter_mut().find(|(known, from, _)| *known == value && from.words == whence.words) {
                        Some((.., places)) if places.contains(at) => {}
                        Some((.., places)) => places.push(at.clone()),
                        None => rows.push((value, whence, vec![at.clone()])),
                    }
                }
            }
        }
        // `net-x.c` and `net-y.c` are told apart here as they are in formulas.
        let tail = |name: &str| name.rsplit('.').next().unwrap_or("").to_string();
        let names: Vec<String> = items.iter().map(|(name, _)| name.clone()).collect();
        let items = items.into_iter().map(|(name, rows)| {
            let twins = names.iter().any(|other| *other != name && tail(other) == tail(&name));
            let places: usize = rows.iter().map(|(.., at)| at.len()).sum();
            let rows = if rows.len() > 1 && places > PLACES_OF_AN_INPUT { by_line(rows) } else { rows };
            let single = rows.len() == 1;
            let rows = rows.into_iter().map(|(value, from, at)| InputRow {
                tag: if single { String::new() } else { self.tag(here, &at) },
                value,
                from,
                at: self.ids(&at),
                changed: false,
            });
            let symbol = if twins { twin_symbol(&name) } else { symbol(&name) };
            InputItem { symbol, rows: rows.collect() }
        });
        items.collect()
    }

    fn is_target(&self, line: &DraftLine) -> bool {
        let is = |path: &str| self.chapter.targets.iter().any(|((of, place), _)| of == path && *place == line.place);
        line.at.iter().any(|(path, _)| is(path))
    }

    /// What the files, combinations and assumptions say that a line rests on, the rows of tables
    /// that wait to be confirmed and what is decided, by the numbers of their lines; none where it
    /// names all of them itself.
    fn rests_on(&mut self, line: &DraftLine) -> Option<Line> {
        let mut found = BTreeSet::new();
        let mut through_others = false;
        for (path, column) in &line.at {
            let at = (path.clone(), line.place.clone());
            let mut leaves = BTreeSet::new();
            let lines = self.chapter.closure([(*column, at.clone())]);
            through_others |= lines.len() > 1;
            for line in lines {
                leaves.extend(self.leaves_of(line).iter().cloned());
            }
            let reader = (self.number_of(&at, *column), letter(*column));
            self.rests.insert((at, *column), leaves.clone());
            self.reads.entry(reader).or_default().extend(leaves.iter().cloned());
            found.extend(leaves);
        }
        let mut found: Vec<String> = found.into_iter().collect();
        // Assumptions and open questions last, each list by its numbers.
        let count = |no: &String| no.trim_start_matches(|c: char| !c.is_ascii_digit()).parse::<usize>().ok();
        found.sort_by_key(|no| (!no.contains('.'), no.chars().next(), count(no)));
        (through_others && !found.is_empty()).then_some(Line::Rests { lines: found })
    }

    /// What of that a line of a column reads itself.
    fn leaves_of(&mut self, at: (usize, LineAt)) -> &BTreeSet<String> {
        if !self.leaves.contains_key(&at) {
            let (column, line) = &at;
            let mut leaves = BTreeSet::new();
            for (given, bound) in self.chapter.facts_of(*column, line) {
                leaves.extend(self.whence_of(given, bound, *column).link);
                leaves.extend(self.recalled_load(given, *column));
                let key = given.input.key();
                leaves.extend(self.decisions[*column].facts.get(&key).into_iter().flatten().cloned());
                if let Some(Across::Worked { questions, .. }) = self.chapter.across.get(&(*column, key)) {
                    leaves.extend(questions.iter().cloned());
                }
            }
            if let Some(Step::Take { taken, .. }) = self.chain(*column).step(line) {
                leaves.extend(self.ledger.awaited.of(taken));
            }
            leaves.extend(self.decisions[*column].lines.get(line).into_iter().flatten().cloned());
            self.leaves.insert(at.clone(), leaves);
        }
        &self.leaves[&at]
    }

    /// Which uses and columns a row is for; empty if it is for all of its block.
    pub fn tag(&self, here: &BTreeSet<At>, at: &[At]) -> String {
        if at.len() >= here.len() {
            return String::new();
        }
        let labels = labels(here);
        // Uses of one name, in columns of their own, are told apart by these.
        let mut parts: Vec<(&str, BTreeSet<usize>, usize)> = Vec::new();
        for (label, paths) in &labels {
            let of = |(path, _): &&At| paths.contains(&path.as_str());
            let mine: BTreeSet<usize> = at.iter().filter(of).map(|(_, column)| *column).collect();
            if !mine.is_empty() {
                parts.push((label, mine, here.iter().filter(of).count()));
            }
        }
        // Uses with the same columns are named together.
        let mut joined: Vec<(Vec<&str>, Vec<usize>)> = Vec::new();
        for (label, mine, all) in parts {
            let whole = mine.len() >= all && labels.len() > 1 && !label.is_empty();
            let columns = if whole { Vec::new() } else { mine.into_iter().collect() };
            match joined.iter_mut().find(|(_, known)| *known == columns) {
                Some((labels, _)) => labels.push(label),
                None => joined.push((vec![label], columns)),
            }
        }
        let part = |(named, columns): (Vec<&str>, Vec<usize>)| {
            // All uses alike: only their columns tell them from others.
            let named = if named.len() == labels.len() && !columns.is_empty() { Vec::new() } else { named };
            format!("{} {}", named.join(", "), letters(&columns)).trim().to_string()
        };
        joined.into_iter().map(part).collect::<Vec<_>>().join("; ")
    }

    /// The places of a row as one word each, for whoever checks the pages.
    pub fn ids(&self, at: &[At]) -> Vec<String> {
        at.iter().map(|(path, column)| format!("{path}@{}", letter(*column))).collect()
    }

    /// The places of a line at which a symbol is the same in every column of the
    /// chapter: there nothing tells them apart.
    pub fn everywhere(&self, line: &DraftLine, name: &str) -> bool {
        let Some((path, column)) = line.at.first() else { return false };
        let of = |column: usize, path: &str| self.chain(column).find(path).and_then(|worked| worked.bound.get(name));
        let Some(first) = of(*column, path) else { return false };
        let paths: BTreeSet<&String> = line.at.iter().map(|(path, _)| path).collect();
        (0..self.chapter.columns.len())
            .all(|column| paths.iter().all(|path| of(column, path).is_none_or(|bound| bound.value == first.value)))
    }
}

/// Rows of an input that came to more than a reader can take in are one for each line
/// that they come from, without the values: these stand there, and in the formulas.
fn by_line(rows: Vec<Come>) -> Vec<Come> {
    let mut joined: Vec<Come> = Vec::new();
    for (_, from, at) in rows {
        match joined.iter_mut().find(|(_, known, _)| *known == from) {
            Some((.., places)) => places.extend(at),
            None => joined.push((Shown { number: String::new(), unit: String::new() }, from, at)),
        }
    }
    joined
}

pub(super) fn letters(columns: &[usize]) -> String {
    let mut sorted = columns.to_vec();
    sorted.sort_unstable();
    sorted.dedup();
    if sorted.len() <= LETTERS {
        return sorted.into_iter().map(letter).collect::<Vec<_>>().join(" ");
    }
    let runs = sorted.chunk_by(|at, next| at + 1 == *next);
    let run = |run: &[usize]| match run {
        [first, _, .., last] => format!("{}–{}", letter(*first), letter(*last)),
        few => few.iter().map(|at| letter(*at)).collect::<Vec<_>>().join(" "),
    };
    runs.map(run).collect::<Vec<_>>().join(" ")
}

/// So many letters are written out; of more, those that follow one another are a range.
const LETTERS: usize = 16;

/// The uses of a sheet by what they are called where it is worked: by nothing where each
/// column has only one; else by the last name of their paths, `ring weld`, and as many
/// before that as tell them from the other uses in their columns. A last name that all
/// have tells nothing: of `W5/on post` and `W7/on post` the cases are left.
fn labels(here: &BTreeSet<At>) -> BTreeMap<String, Vec<&str>> {
    let mut columns: BTreeMap<&str, BTreeSet<usize>> = BTreeMap::new();
    for (path, column) in here {
        columns.entry(path).or_default().insert(*column);
    }
    let mut labels: BTreeMap<String, Vec<&str>> = BTreeMap::new();
    let mut alone = Vec::new();
    let last = |path: &str| path.rsplit('/').next().unwrap_or(path).to_string();
    let same = columns.keys().copied().map(last).collect::<BTreeSet<_>>().len() == 1;
    for (path, mine) in &columns {
        let others = columns.iter().filter(|(other, theirs)| *other != path && !theirs.is_disjoint(mine));
        let others: Vec<&str> = others.map(|(other, _)| *other).collect();
        if others.is_empty() {
            alone.push(*path);
            continue;
        }
        let mut ends = path.rmatch_indices('/').map(|(at, _)| &path[at + 1..]).chain([*path]);
        let own = |end: &&str| others.iter().all(|other| other != end && !other.ends_with(&format!("/{end}")));
        let end = ends.find(own).unwrap_or(path);
        let label = end.rsplit_once('/').filter(|_| same).map_or(end, |(before, _)| before);
        labels.entry(label.replace('-', " ")).or_default().push(path);
    }
    // One by itself is called as its like are in other columns.
    for path in alone {
        let name = last(path).replace('-', " ");
        let label = if labels.contains_key(&name) { name } else { String::new() };
        labels.entry(label).or_default().push(path);
    }
    labels
}

pub(super) fn section(title: &str, columns: &str, lines: Vec<Line>) -> Section {
    Section {
        sheet: String::new(),
        title: title.into(),
        own: Vec::new(),
        columns: columns.into(),
        table: false,
        continued: false,
        lines,
    }
}

/// What is said of what is worked by a sheet of the job's own.
pub(super) fn own_sheet(library: &Library, sheet: &Sheet) -> String {
    let name = &sheet.name;
    if !sheet.own {
        return String::new();
    }
    let instead = library.own().iter().any(|own| own.what == What::Sheet && own.name == *name && own.instead);
    if instead { "the job's own sheet, in place of the built-in one".into() } else { "the job's own sheet".into() }
}

/// Enters what all sheets of a post assume, look up and leave out, printed or not.
pub fn register(worked: &Worked, posts: &[usize], ledger: &mut Ledger) {
    if worked.sheet.own {
        ledger.own_sheets.entry(worked.sheet.name.clone()).or_default().extend(posts);
    }
    for given in &worked.given {
        if let (Origin::Default, Some(bound)) = (&given.origin, worked.bound.get(&given.input.name)) {
            taken(given, bound, ledger);
        }
    }
    for step in &worked.steps {
        match step {
            Step::Note(note) => ledger.note(note),
            Step::Take { taken, .. } => ledger.looked_up(taken, ""),
            Step::Use(inner) => register(inner, posts, ledger),
            _ => {}
        }
    }
}
