//! `posts.csv`: a post for each row, with what it chose from the catalogues.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::catalogue::{CATALOGUES, Catalogue, Entries, Entry};
use super::fact::{Facts, is_demo};
use super::loads::Reaction;
use super::reactions::LoadColumns;
use super::rows::{Rows, need_column};
use crate::diag::{Diagnostic, Diagnostics};
use crate::formula::{Kind, Value};
use crate::grid::Grid;
use crate::names::plain;
use crate::quantity::{Dim, Unit};
use crate::source::Place;

#[derive(Clone, Debug)]
pub struct Post {
    pub mark: String,
    /// Where it stands, in feet.
    pub at: [f64; 2],
    /// That can be read.
    pub placed: bool,
    pub demo: bool,
    /// By the column's name.
    pub facts: Facts,
    /// What it chose from each catalogue: its base, its foundation, its anchors.
    pub entries: Chosen,
    /// Catalogues of which it names a row that is not there.
    pub unknown: BTreeSet<&'static str>,
    pub reactions: BTreeMap<String, Reaction>,
    /// How far each part of those that were typed may be off.
    pub slack: BTreeMap<String, Reaction>,
    /// The row, for diagnostics about what it lacks.
    pub place: Place,
    /// The headings of its file.
    pub header: Place,
}

impl Post {
    pub fn base(&self) -> &str {
        self.entries.get("bases").map_or("", |base| base.name.as_str())
    }
}

/// The rows of every catalogue that the job has, by its name.
pub type Catalogued = BTreeMap<&'static str, Entries>;

/// Characters of a mark.
const MARK: usize = 40;

/// Columns that have a meaning of their own, and what for.
const COLUMNS: [(&str, &str); 4] = [
    ("mark", "which names a post on every page"),
    ("x", "its place on the key plan, across"),
    ("y", "its place on the key plan, up the sheet"),
    ("source", "which says where its loads come from (`demo` for invented ones)"),
];

/// The posts that can be read, and what is wrong: a column that is missing; all
/// in any of the rows; two posts of one mark or in one place. Without a mark a
/// row is no post.
pub fn posts(grid: &Grid, catalogues: &Catalogued) -> (Vec<Post>, Diagnostics) {
    let mut diagnostics = Diagnostics::new();
    let columns = COLUMNS
        .map(|(name, what)| need_column(grid, name, what).map_err(|diagnostic| diagnostics.push(diagnostic)).ok());
    for catalogue in CATALOGUES.iter().filter(|catalogue| catalogue.required) {
        let what = format!("which names a row of `{}`", catalogue.file());
        diagnostics.extend(need_column(grid, catalogue.column, &what).err());
    }
    if grid.rows.is_empty() {
        diagnostics.push(Diagnostic::new(format!("`{}` has no posts", grid.source.name)));
    }
    let [Some(mark), Some(x), Some(y), source] = columns else { return (Vec::new(), diagnostics) };
    let reader = Reader::new(grid, ([mark, x, y], source), catalogues);
    let mut posts: Vec<Post> = Vec::new();
    let mut marks: BTreeMap<String, usize> = BTreeMap::new();
    let mut plan = Plan::default();
    for (at, row) in grid.rows.iter().enumerate() {
        let (post, more) = reader.post(at);
        diagnostics.extend(more);
        if let Some(mut post) = post {
            match marks.get(&plain(&post.mark)) {
                Some(first) => {
                    let first = &posts[*first];
                    let twice = match first.mark == post.mark {
                        true => Diagnostic::new(format!("the mark `{}` appears twice", post.mark)),
                        false => {
                            Diagnostic::new(format!("the marks `{}` and `{}` are the same", first.mark, post.mark))
                                .hint("marks that differ only in capitals, spaces, hyphens or underscores are the same")
                        }
                    };
                    let first = format!("the first is at {}", first.place.describe());
                    diagnostics.push(twice.at(grid.place(&row[mark])).hint(first));
                }
                None => {
                    if let Some(other) = plan.stand(&posts, &post).filter(|_| post.placed) {
                        let message = format!("post {} is in the same place as post {}", post.mark, other.mark);
                        diagnostics.push(Diagnostic::new(message).at(post.place.clone()).hint("check `x` and `y`"));
                        post.placed = false;
                    }
                    marks.insert(plain(&post.mark), posts.len());
                    posts.push(post);
                }
            }
        }
    }
    (posts, diagnostics)
}

/// The rows that a post chose, by the name of their catalogue.
type Chosen = BTreeMap<&'static str, Arc<Entry>>;

/// What every row is read with.
struct Reader<'a> {
    rows: Rows<'a>,
    /// Of mark, x and y.
    columns: [usize; 3],
    source: Option<usize>,
    loads: LoadColumns,
    /// The column that names rows of a catalogue, and these rows.
    catalogues: Vec<(&'static Catalogue, Option<usize>, Option<&'a Entries>)>,
}

impl Reader<'_> {
    fn new<'a>(
        grid: &'a Grid,
        (columns, source): ([usize; 3], Option<usize>),
        catalogues: &'a Catalogued,
    ) -> Reader<'a> {
        // A column or file that is not there, or is wrong, was complained of.
        let named =
            |catalogue: &'static Catalogue| (catalogue, grid.column(catalogue.column), catalogues.get(catalogue.name));
        Reader {
            rows: Rows::new(grid, "posts.csv"),
            columns,
            source,
            loads: LoadColumns::of(grid),
            catalogues: CATALOGUES.iter().map(named).collect(),
        }
    }

    fn post(&self, at: usize) -> (Option<Post>, Diagnostics) {
        let Reader { rows, columns: [mark, x, y], .. } = self;
        let row = &rows.grid.rows[at];
        let mut diagnostics = Diagnostics::new();
        let empty = |column: usize, what: &str| {
            let diagnostic = Diagnostic::new(format!("line {}: {what}", rows.grid.line(at)));
            diagnostic.at(rows.grid.place(&row[column])).label("this cell is empty")
        };
        if row[*mark].text.is_empty() {
            diagnostics.push(empty(*mark, "a post without a mark"));
        }
        if let Some(source) = self.source.filter(|source| row[*source].text.is_empty()) {
            diagnostics
                .push(empty(source, "the source of the loads of this post is not given").hint(
                    "write it in the column `source`, such as `by hand, 2026-11-02`; `demo` marks invented data",
                ));
        }
        if row[*mark].text.chars().count() > MARK {
            let what = format!("line {}: a mark has at most {MARK} characters", rows.grid.line(at));
            let diagnostic = Diagnostic::new(what).at(rows.grid.place(&row[*mark]));
            diagnostics.push(diagnostic.hint("it stands beside the post on plans and in every table"));
        }
        let mark = row[*mark].text.clone();
        let (mut place, mut placed) = ([0.0; 2], true);
        for (value, column) in place.iter_mut().zip([x, y]) {
            let fact = rows.fact_of(&format!("post {mark}"), at, *column);
            let wrong = match fact.read(&Kind::Quantity(Dim::LENGTH), &Unit::all(&["ft"])) {
                Ok((Value::Quantity(length), _)) if length.value.abs() <= FARTHEST * 12.0 => {
                    *value = length.value / 12.0;
                    continue;
                }
                Ok(_) => {
                    let what = format!("post {mark} is at {}, which is over {FARTHEST} ft away", fact.as_typed());
                    Diagnostic::new(what).at(fact.place).hint("check the unit of the column")
                }
                Err(diagnostic) => diagnostic,
            };
            placed = false;
            diagnostics.push(wrong);
        }
        let marked = !mark.is_empty();
        let (entries, unknown) = self.entries(at, &mark, &mut diagnostics);
        let (reactions, slack, more) = self.loads.reactions(rows, at, &mark);
        diagnostics.extend(more);
        let facts = rows.facts(at, |column| !self.loads.hold(column));
        let end = row.iter().rev().find(|cell| !cell.text.is_empty()).map_or(0, |cell| cell.span.end);
        let post = Post {
            mark,
            at: place,
            placed,
            demo: is_demo(&facts) || entries.values().any(|entry| entry.demo),
            facts,
            entries,
            unknown,
            reactions,
            slack,
            place: Place::new(&rows.grid.source, row[0].span.start..end),
            header: rows.grid.header(),
        };
        (marked.then_some(post), diagnostics)
    }

    /// What a post chose, and the catalogues of which it chose what is not there.
    fn entries(&self, at: usize, mark: &str, diagnostics: &mut Diagnostics) -> (Chosen, BTreeSet<&'static str>) {
        let (mut chosen, mut unknown) = (Chosen::new(), BTreeSet::new());
        for (catalogue, column, entries) in &self.catalogues {
            let cell = column.map(|column| self.rows.cell(at, column));
            let Some(cell) = cell.filter(|cell| catalogue.required || !cell.text.is_empty()) else {
                unknown.extend(catalogue.required.then_some(catalogue.name));
                continue;
            };
            let (thing, name) = (catalogue.column, &cell.text);
            match entries.and_then(|entries| entries.find(name)) {
                Some(entry) => drop(chosen.insert(catalogue.name, entry.clone())),
                None => {
                    unknown.insert(catalogue.name);
                    let file = catalogue.file();
                    let what = match name.as_str() {
                        "" => {
                            format!("post {mark} has no {thing}: its cell is empty, where a row of `{file}` is named")
                        }
                        _ => format!("post {mark}: there is no {thing} `{name}` in `{file}`"),
                    };
                    let diagnostic = Diagnostic::new(what).at(self.rows.grid.place(cell));
                    let entries = entries.filter(|entries| entries.whole);
                    diagnostics.extend(entries.map(|entries| diagnostic.nearest(name, entries.names())));
                }
            }
        }
        (chosen, unknown)
    }
}

/// A post does not stand farther from the origin of the plan, in feet.
const FARTHEST: f64 = 2000.0;

/// Two posts nearer than this in both directions, in feet, stand in one place.
const ONE_PLACE: f64 = 0.02;

/// Which posts stand in which square of the plan, a square being as wide as
/// one place.
#[derive(Default)]
struct Plan(BTreeMap<[i64; 2], Vec<usize>>);

impl Plan {
    /// Adds a post that is to follow `posts`; the first of them that stands in
    /// its place.
    fn stand<'a>(&mut self, posts: &'a [Post], post: &Post) -> Option<&'a Post> {
        let square = post.at.map(|value| (value / ONE_PLACE).floor() as i64);
        let near = |at: &usize| (0..2).all(|axis| (posts[*at].at[axis] - post.at[axis]).abs() < ONE_PLACE);
        let mut first: Option<usize> = None;
        for [x, y] in [-1, 0, 1].into_iter().flat_map(|x| [-1, 0, 1].map(|y| [x, y])) {
            let there = self.0.get(&[square[0].saturating_add(x), square[1].saturating_add(y)]);
            let found = there.and_then(|posts| posts.iter().copied().find(near));
            first = [first, found].into_iter().flatten().min();
        }
        self.0.entry(square).or_default().push(posts.len());
        first.map(|at| &posts[at])
    }
}
