//! A line of posts, followed through its sheets: how what it makes of its loads reacts.

use std::collections::BTreeMap;

use super::sources::{Seeds, Slopes, sources_of};
use super::{Follow, Leant};
use crate::engine::lines::{AtPost, Share};
use crate::engine::root::Root;
use crate::program::{Memory, Symbol};

/// Where a sheet of a line reads what posts have.
#[derive(Clone, Copy, PartialEq)]
enum Beside {
    Own,
    Before,
    After,
    Line,
}

/// What a sheet of a line reads of posts, and what it gives for each.
struct LineSheet {
    /// Fact, name, and the place of the name among all that the sheets give.
    reads: Vec<(Beside, usize, String, Option<usize>)>,
    /// Symbol, and the same place.
    gives: Vec<(usize, usize)>,
}

/// The names of what the sheets of a line make of it for a post.
const SHARES: [&str; 4] = ["V", "P", "X_1", "X_2"];

/// The sheets of a line, and where the shares are among what they give.
pub struct LineSheets {
    sheets: Vec<LineSheet>,
    names: usize,
    shares: [Option<usize>; SHARES.len()],
}

impl LineSheets {
    pub fn new(roots: &[Root]) -> LineSheets {
        let mut names: Vec<&str> = Vec::new();
        let mut sheets = Vec::new();
        for root in roots {
            let program = &root.program;
            names.extend(program.sheet.gives.iter().map(|given| given.name.as_str()));
            let place = |name: &str| names.iter().position(|known| *known == name);
            let reads = program.facts.iter().enumerate().filter_map(|(no, fact)| {
                let from = fact.input.from.as_ref()?;
                let whose = match from.source.as_str() {
                    "own" => Beside::Own,
                    "before" => Beside::Before,
                    "after" => Beside::After,
                    "line" => Beside::Line,
                    _ => return None,
                };
                Some((whose, no, from.name.clone(), place(&from.name)))
            });
            let own = program.symbols().iter().enumerate().filter(|(_, symbol)| symbol.of == 0);
            let given = |symbol: &Symbol| program.sheet.gives.iter().any(|given| given.name == symbol.name());
            let gives = own.filter(|(_, symbol)| given(symbol));
            let gives = gives.filter_map(|(no, symbol)| Some((no, place(symbol.name())?)));
            sheets.push(LineSheet { reads: reads.collect(), gives: gives.collect() });
        }
        let shares = SHARES.map(|name| names.iter().position(|known| *known == name));
        LineSheets { sheets, names: names.len(), shares }
    }

    /// The names under which posts bring something, without case and axis.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.sheets.iter().flat_map(|sheet| &sheet.reads).map(|(_, _, name, _)| name.as_str())
    }
}

/// Takes derivatives, each with the place of its source.
type Found<'f> = dyn FnMut(&mut dyn Iterator<Item = (usize, f64)>) + 'f;

/// A line of posts, followed in one load case after another.
pub struct Line<'l> {
    line: &'l [usize],
    sheets: &'l LineSheets,
    follow: Follow,
    /// What each of its posts brings.
    leant: Vec<&'l Leant>,
    /// What each sheet rests on at each post.
    seeds: Vec<Vec<Seeds>>,
    /// What the sheets gave for each post: derivatives by source, none for what reacts to nothing.
    given: Vec<Vec<Option<Option<Vec<f64>>>>>,
    /// What the line comes to, as a sheet reads it.
    sums: Option<(usize, Vec<(usize, Slopes)>)>,
}

impl<'l> Line<'l> {
    pub fn new(line: &'l [usize], sheets: &'l LineSheets, leant: &'l [Leant], seeds: &[Vec<Seeds>]) -> Line<'l> {
        let leant: Vec<&Leant> = line.iter().map(|post| &leant[*post]).collect();
        let brought = leant.iter().flat_map(|leant| leant.values().flatten().map(|(source, _)| *source));
        let follow = Follow::by(brought.chain(seeds.iter().flatten().flat_map(sources_of)));
        let here = |seeds: &Seeds| seeds.iter().map(|(no, slopes)| (*no, follow.here(slopes))).collect();
        let seeds = seeds.iter().map(|posts| posts.iter().map(here).collect()).collect();
        Line { line, sheets, leant, seeds, given: Vec::new(), sums: None, follow }
    }

    /// Begins with a load case.
    pub fn begin(&mut self) {
        self.given = vec![vec![None; self.sheets.names]; self.line.len()];
        self.sums = None;
    }

    /// Follows a sheet at a post.
    pub fn at(&mut self, at: &AtPost, memory: &Memory) {
        let (program, sheet) = (&at.root.program, &self.sheets.sheets[at.sheet]);
        let slot = |fact: &usize| program.facts[*fact].slot;
        // What the line comes to holds nothing of this sheet: it is summed once.
        let sums = self.sums.take().filter(|(known, _)| *known == at.sheet).unwrap_or_else(|| {
            let reads = sheet.reads.iter().filter(|(whose, ..)| *whose == Beside::Line);
            let sum = |(_, fact, name, given): &(Beside, usize, String, Option<usize>)| {
                let mut all = Slopes::new();
                (0..self.line.len())
                    .for_each(|no| self.of(no, name, *given, at.full, &mut |slopes| all.extend(slopes)));
                (*fact, all)
            };
            (at.sheet, reads.map(sum).collect())
        });
        let mut leaning = std::mem::take(&mut self.follow.leaning);
        leaning.begin(program);
        for (fact, slopes) in self.seeds[at.sheet][at.no].iter().chain(&sums.1) {
            if !slopes.is_empty() {
                leaning.set(slot(fact), slopes.iter().copied());
            }
        }
        for (whose, fact, name, given) in &sheet.reads {
            let there = match whose {
                Beside::Own => Some(at.no),
                Beside::Before => at.no.checked_sub(1),
                Beside::After => Some(at.no + 1).filter(|no| *no < self.line.len()),
                Beside::Line => None,
            };
            if let Some(no) = there {
                self.of(no, name, *given, at.full, &mut |slopes| leaning.set(slot(fact), slopes));
            }
        }
        program.lean(memory, &mut leaning);
        for (no, given) in &sheet.gives {
            let symbol = &program.symbols()[*no];
            if !program.number(symbol, memory).is_nan() {
                self.given[at.no][*given] = Some(leaning.of(symbol.slot).map(<[f64]>::to_vec));
            }
        }
        self.follow.leaning = leaning;
        self.sums = Some(sums);
    }

    /// How what a post of the line has under a name reacts: what a sheet gave goes before what the
    /// post brings.
    fn of(&self, no: usize, name: &str, given: Option<usize>, full: &BTreeMap<String, String>, found: &mut Found) {
        match given.and_then(|given| self.given[no][given].as_ref()) {
            Some(row) => found(&mut row.iter().flatten().copied().enumerate().filter(|(_, slope)| *slope != 0.0)),
            None => {
                let brought = full.get(name).and_then(|name| self.leant[no].get(name));
                found(&mut brought.map(|slopes| self.follow.here(slopes)).unwrap_or_default().into_iter());
            }
        }
    }

    /// For each post and source what the line makes of one unit more.
    pub fn shares(&self, axis: usize, found: &mut dyn FnMut(usize, usize, [Share; 2])) {
        for (no, given) in self.given.iter().enumerate() {
            let row = |at: Option<usize>| given[at?].as_ref()?.as_deref();
            let rows = self.sheets.shares.map(row);
            for (at, source) in self.follow.of.iter().enumerate() {
                let [v, p, a, b] = rows.map(|row| row.map_or(0.0, |row| row[at]));
                let mut shares = [Share::default(); 2];
                shares[axis] = Share { v, p, braces: [a, b], ..Share::default() };
                found(no, *source, shares);
            }
        }
    }
}
