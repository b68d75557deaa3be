//! How the loads of posts react to what they are calculated from: a wind speed, the weight of
//! a roof, the height of a post beside. Derivatives are followed forwards, through the sheet
//! for loads at each post and through the sheets of each line.

mod line;
mod sources;

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;

use line::{Line, LineSheets};
pub(super) use sources::Source;
use sources::{Seeds, Slopes, Sources, sources_of};

use super::LOADS;
use super::around::Around;
use super::derive::reaction;
use super::earthquake::{JobSheet, ground};
use super::lines::{self, Known, Lines, OnLine, Share};
use super::root::Root;
use super::tributary::PostGrid;
use crate::diag::Checked;
use crate::job::{Job, Reaction};
use crate::program::{Leaning, Memory, Slot, Symbol};
use crate::sheet::Library;

/// A load case and a part of it, by their places.
pub(super) type Of = (usize, usize);

/// How the loads of one post react.
#[derive(Clone, Debug, Default)]
pub(super) struct Lean {
    /// What one unit more of a source brings, of those that are said of all posts or of this one.
    pub brings: BTreeMap<usize, BTreeMap<Of, f64>>,
    /// How far loads may be off since what is said of other posts may be: the sum of what
    /// each makes at most.
    pub others: BTreeMap<Of, f64>,
}

#[derive(Debug, Default)]
pub(super) struct Leans {
    pub sources: Vec<Source>,
    pub cases: Vec<String>,
    posts: Vec<Lean>,
    /// By how much of itself the vertical effect of an earthquake grows for one unit more.
    pub vertical: BTreeMap<usize, f64>,
}

/// Derivatives of one program after another, by a few sources.
struct Follow {
    /// The sources, in order; the program knows them by their place here.
    of: Vec<usize>,
    leaning: Leaning,
}

impl Follow {
    fn by(sources: impl Iterator<Item = usize>) -> Follow {
        let mut of: Vec<usize> = sources.collect();
        of.sort_unstable();
        of.dedup();
        Follow { leaning: Leaning::by(of.len()), of }
    }

    /// Through a program that rests on sources alone.
    fn through(root: &Root, memory: &Memory, seeds: &Seeds) -> Follow {
        let mut follow = Follow::by(sources_of(seeds));
        follow.leaning.begin(&root.program);
        for (fact, slopes) in seeds {
            let slopes = follow.here(slopes);
            follow.leaning.set(root.program.facts[*fact].slot, slopes.into_iter());
        }
        root.program.lean(memory, &mut follow.leaning);
        follow
    }

    fn here(&self, slopes: &Slopes) -> Slopes {
        slopes.iter().filter_map(|(source, slope)| Some((self.of.binary_search(source).ok()?, *slope))).collect()
    }

    fn slopes(&self, slot: Slot) -> Option<Slopes> {
        let slopes = self.of.iter().copied().zip(self.leaning.of(slot)?.iter().copied());
        Some(slopes.filter(|(_, slope)| *slope != 0.0).collect())
    }
}

/// What posts bring, by name, and how it reacts.
type Leant = BTreeMap<String, Slopes>;

impl Leans {
    /// Those of a job whose loads were calculated, or that has an earthquake.
    ///
    /// # Errors
    /// What cannot be worked; not of a job whose loads are known.
    pub fn of(job: &Job, library: &Library) -> Checked<Leans> {
        let grid = PostGrid::new(&job.posts);
        let mut sources = Sources::new(job, library, &grid);
        let mut leans = Leans { posts: vec![Lean::default(); job.posts.len()], ..Leans::default() };
        if let Some(JobSheet { root, memory }) = ground(job, library)?
            && let Some(slot) = root.program.slot("E_v")
        {
            let follow = Follow::through(&root, &memory, &sources.seeds(&root, 0, 0));
            let of_itself = |(source, slope): (usize, f64)| (source, slope / memory.get(slot));
            leans.vertical =
                follow.slopes(slot).into_iter().flatten().map(of_itself).filter(|(_, part)| part.is_finite()).collect();
        }
        if !job.derived.is_empty() {
            let roots = lines::roots(job, library)?;
            let sheets = LineSheets::new(&roots);
            let (brought, leant) = brought(&mut sources, &sheets)?;
            let lines = Lines::new(job, library, &grid, &brought);
            let seeds = sources.of_lines(&lines, &roots);
            (leans.sources, leans.cases) = (sources.found, lines.cases.clone());
            leans.own(&leant);
            leans.lines(&lines, (&roots, &sheets), &seeds, &leant)?;
        } else {
            leans.sources = sources.found;
        }
        Ok(leans)
    }

    /// How the loads of a post react, if they do.
    pub fn at(&self, post: usize) -> Option<&Lean> {
        self.posts.get(post)
    }

    /// What a post brings to its own base.
    fn own(&mut self, leant: &[Leant]) {
        for (post, leant) in leant.iter().enumerate() {
            let take = |lean: &mut Lean, case: usize, name: &str| {
                for (source, slope) in leant.get(&format!("{}.{name}", self.cases[case])).into_iter().flatten() {
                    let parts = reaction(|of| if of == name { *slope } else { 0.0 }, [Share::default(); 2]);
                    lean.take(&self.sources, post, *source, case, &parts);
                }
            };
            for case in 0..self.cases.len() {
                BROUGHT.iter().for_each(|name| take(&mut self.posts[post], case, name));
            }
        }
    }

    /// What its lines make of it.
    fn lines(
        &mut self,
        lines: &Lines,
        (roots, sheets): (&[Root], &LineSheets),
        seeds: &[Vec<Vec<Seeds>>],
        leant: &[Leant],
    ) -> Checked<()> {
        let each: Vec<(usize, &Vec<usize>)> = lines.each().collect();
        let followed = each.par_iter().zip(seeds).map_init(
            || roots.iter().map(|root| root.seeing(Around::default())).collect::<Vec<_>>(),
            |roots, ((axis, line), seeds)| {
                let mut of = Line::new(line, sheets, leant, seeds);
                let mut leans = vec![Lean::default(); line.len()];
                let names = &lines.names(line);
                for (no, case) in lines.cases.iter().enumerate() {
                    of.begin();
                    let on = OnLine { axis: *axis, line, names, case };
                    lines.follow(roots, &on, &mut |at, memory| of.at(&at, memory))?;
                    of.shares(*axis, &mut |at, source, shares| {
                        leans[at].take(&self.sources, line[at], source, no, &reaction(|_| 0.0, shares));
                    });
                }
                Ok(leans)
            },
        );
        let followed: Vec<Checked<Vec<Lean>>> = followed.collect();
        for ((_, line), leans) in each.iter().zip(followed) {
            line.iter().zip(leans?).for_each(|(post, lean)| self.posts[*post].add(lean));
        }
        Ok(())
    }
}

/// What a post brings to its own base in a load case.
const BROUGHT: [&str; 3] = ["P", "w_x", "w_y"];

impl Lean {
    /// Takes up what one unit more of a source brings to a post in a load case.
    fn take(&mut self, sources: &[Source], post: usize, source: usize, case: usize, brings: &Reaction) {
        let said = &sources[source];
        for (part, slope) in brings.all().into_iter().enumerate().filter(|(_, slope)| *slope != 0.0) {
            if said.post.is_none_or(|known| known == post) {
                *self.brings.entry(source).or_default().entry((case, part)).or_default() += slope;
            } else if said.slack > 0.0 {
                *self.others.entry((case, part)).or_default() += (slope * said.slack).abs();
            }
        }
    }

    fn add(&mut self, other: Lean) {
        for (source, brings) in other.brings {
            let known = self.brings.entry(source).or_default();
            brings.into_iter().for_each(|(of, slope)| *known.entry(of).or_default() += slope);
        }
        other.others.into_iter().for_each(|(of, reach)| *self.others.entry(of).or_default() += reach);
    }
}

/// What each post brings, and how that reacts.
fn brought(sources: &mut Sources, sheets: &LineSheets) -> Checked<(Vec<Known>, Vec<Leant>)> {
    let (job, library, grid) = (sources.job, sources.library, sources.grid);
    let root = Root::new(job, library, LOADS, Some(grid.around()))?;
    let symbols = lines::bringing(&root);
    let names: BTreeSet<&str> = sheets.names().chain(BROUGHT).collect();
    let read: Vec<&&Symbol> =
        symbols.iter().filter(|symbol| lines::short(symbol.path()).iter().any(|name| names.contains(name))).collect();
    let seeds: Vec<Seeds> = (0..job.posts.len()).map(|post| sources.seeds(&root, post, 0)).collect();
    let found = seeds.par_iter().enumerate().map_init(
        || root.program.memory(),
        |memory, (post, seeds)| {
            root.set(memory, post);
            let follow = Follow::through(&root, memory, seeds);
            let known = read.iter().filter(|symbol| !root.program.number(symbol, memory).is_nan());
            let leant = known.filter_map(|symbol| Some((symbol.path().to_string(), follow.slopes(symbol.slot)?)));
            (lines::brought(&root, &symbols, memory), leant.collect())
        },
    );
    Ok(found.unzip())
}
