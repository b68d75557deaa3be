//! What loads are calculated from, found where the facts of sheets are: numbers of `job.toml`
//! and of catalogues, cells of posts, the places of posts.

use std::collections::HashMap;

use crate::engine::around::is_around;
use crate::engine::facts::{Whose, said_of};
use crate::engine::lines::Lines;
use crate::engine::root::Root;
use crate::engine::tributary::PostGrid;
use crate::formula::{Kind, Value};
use crate::job::{Fact, Job};
use crate::program;
use crate::quantity::{Dim, Unit};
use crate::sheet::Library;

/// A number that was typed and that loads rest on.
#[derive(Clone, Debug)]
pub struct Source {
    /// Of whom or what it is said: a post, a table of `job.toml`, a row of a catalogue.
    whose: (String, String),
    pub name: String,
    pub whence: String,
    pub text: String,
    /// In base units.
    pub value: f64,
    pub slack: f64,
    /// The place of a post: zero is anywhere, and a percent of it says nothing.
    pub is_place: bool,
    /// Said of one post, by its number.
    pub(super) post: Option<usize>,
}

impl Source {
    pub fn is(&self, whose: Whose, name: &str) -> bool {
        self.name == name && (self.whose.0.as_str(), self.whose.1.as_str()) == whose
    }
}

/// Derivatives by source.
pub type Slopes = Vec<(usize, f64)>;

/// The facts of a program that rest on sources.
pub type Seeds = Vec<(usize, Slopes)>;

/// What derivatives are by, found while seeds are gathered.
pub struct Sources<'a> {
    pub job: &'a Job,
    pub library: &'a Library,
    pub grid: &'a PostGrid,
    pub found: Vec<Source>,
    known: HashMap<*const Fact, Option<usize>>,
}

impl<'a> Sources<'a> {
    pub fn new(job: &'a Job, library: &'a Library, grid: &'a PostGrid) -> Sources<'a> {
        Sources { job, library, grid, found: Vec::new(), known: HashMap::new() }
    }

    fn add(
        &mut self,
        whose: Whose,
        post: usize,
        fact: &'a Fact,
        kind: &Kind,
        of: (&[Unit], bool, bool),
    ) -> Option<usize> {
        let (units, exact, is_place) = of;
        if let Some(known) = self.known.get(&std::ptr::from_ref(fact)) {
            return *known;
        }
        let slack = if exact { 0.0 } else { fact.slack(kind) };
        let read = fact.read(kind, units).ok().filter(|_| !is_place || slack > 0.0);
        let source = match read {
            Some((Value::Quantity(quantity), _)) => {
                self.found.push(Source {
                    whose: (whose.0.into(), whose.1.into()),
                    name: fact.whence.name.clone(),
                    whence: fact.whence.of.clone(),
                    text: fact.printed(self.library.units()),
                    value: quantity.value,
                    slack,
                    is_place,
                    post: (whose.0 == "posts").then_some(post),
                });
                Some(self.found.len() - 1)
            }
            _ => None,
        };
        self.known.insert(fact, source);
        source
    }

    /// What the facts of a program rest on at a post, in a line along an axis.
    pub fn seeds(&mut self, root: &Root<'a>, at: usize, axis: usize) -> Seeds {
        let mut seeds = Seeds::new();
        let measured = |fact: &program::Fact| !fact.varies && matches!(fact.input.kind, Kind::Quantity(_));
        for (no, of) in root.program.facts.iter().enumerate().filter(|(_, fact)| measured(fact)) {
            if is_around(&of.input) {
                let rests_on = self.grid.rests_on(at, of.input.column(), axis).into_iter();
                let slopes = rests_on.filter_map(|(post, axis, part)| Some((self.place(post, axis)?, part)));
                let slopes: Slopes = slopes.collect();
                seeds.extend(Some((no, slopes)).filter(|(_, slopes)| !slopes.is_empty()));
            } else if let Some((whose, fact)) = said_of(&of.input, self.job, &self.job.posts[at]) {
                let exact = root.program.names_row(no);
                let source = self.add(whose, at, fact, &of.input.kind, (&of.units, exact, false));
                seeds.extend(source.map(|source| (no, vec![(source, 1.0)])));
            }
        }
        seeds
    }

    /// What the sheets of each line rest on at each of its posts.
    pub fn of_lines(&mut self, lines: &Lines, roots: &[Root<'a>]) -> Vec<Vec<Vec<Seeds>>> {
        let of = |(axis, line): (usize, &Vec<usize>)| {
            let at = |root| line.iter().map(|post| self.seeds(root, *post, axis)).collect();
            roots.iter().map(at).collect()
        };
        lines.each().map(of).collect()
    }

    /// The place of a post along an axis, where that may be off.
    fn place(&mut self, post: usize, axis: usize) -> Option<usize> {
        let of = &self.job.posts[post];
        let (fact, kind) = (of.facts.get(["x", "y"][axis])?, Kind::Quantity(Dim::LENGTH));
        self.add(("posts", &of.mark), post, fact, &kind, (&Unit::all(&["ft", "in"]), false, true))
    }
}

pub fn sources_of(seeds: &Seeds) -> impl Iterator<Item = usize> {
    seeds.iter().flat_map(|(_, slopes)| slopes.iter().map(|(source, _)| *source))
}
