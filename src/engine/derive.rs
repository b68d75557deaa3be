//! Reactions that are worked out: the sheet for loads, for every post of a job
//! that has a `[roof]`.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::LOADS;
use super::cases::unaccounted;
use super::govern::{GroupResult, work_group};
use super::root::Root;
use super::tributary::PostGrid;
use crate::diag::{Checked, Diagnostic, Diagnostics, once};
use crate::job::{Job, PARTS, Reaction, load_column};
use crate::program::{Held, Memory};
use crate::sheet::Library;

/// Works the loads of every post and enters them into the job; the groups of
/// posts whose loads are worked alike.
///
/// # Errors
/// What is missing for it; a case that is also given; a post without dead load.
pub fn derive_loads(job: &mut Job, library: &Library) -> Checked<Vec<GroupResult>> {
    let mut groups: Vec<GroupResult> = Vec::new();
    let mut diagnostics = unaccounted(job, &job.cases());
    if job.settings.contains_key("roof") {
        let grid = PostGrid::new(&job.posts);
        grid.whole_roof(&job.posts)?;
        let root = Root::new(job, library, LOADS, Some(grid))?;
        let posts: Vec<usize> = (0..job.posts.len()).collect();
        let worked: Vec<_> = posts
            .par_iter()
            .map_init(
                || root.program.memory(),
                |memory, at| {
                    let result = work_group(&root, &[], memory, 0, &[*at]);
                    let key: Vec<u64> = root.program.facts.iter().map(|fact| memory.get(fact.slot).to_bits()).collect();
                    (result, key, reactions(&root, memory))
                },
            )
            .collect();
        drop(root);
        let mut known: BTreeMap<Vec<u64>, usize> = BTreeMap::new();
        for (at, (result, key, reactions)) in worked.into_iter().enumerate() {
            match result {
                Err(more) => diagnostics.extend(more),
                Ok(mut group) => {
                    let mark = &job.posts[at].mark;
                    diagnostics.extend(group.limits.iter().filter(|limit| !limit.ok()).map(|limit| {
                        Diagnostic::new(format!("the loads of post {mark} rest on this: {}", limit.rule().say))
                            .hint(limit.rule().remedy.clone())
                    }));
                    match known.get(&key) {
                        Some(no) => groups[*no].posts.push(at),
                        None => {
                            known.insert(key, groups.len());
                            group.no = groups.len() + 1;
                            groups.push(group);
                        }
                    }
                    diagnostics.extend(enter(job, at, &reactions));
                }
            }
        }
        once(&mut diagnostics);
    }
    if diagnostics.is_empty() {
        diagnostics.extend(job.posts.iter().filter(|post| !post.reactions.contains_key("D")).map(|post| {
            Diagnostic::new(format!("post {} has no dead load", post.mark))
                .at(post.place.clone())
                .hint("loads are given in columns such as `P_D [lbf]` or `P_D [kip]`, `P_S`, `H_x_W1`, or in `reactions.csv`, or are worked out from `[roof]`")
        }));
    }
    if diagnostics.is_empty() { Ok(groups) } else { Err(diagnostics) }
}

/// Adds what was worked out to what was given for a post; a case cannot be both.
fn enter(job: &mut Job, at: usize, worked: &BTreeMap<String, Reaction>) -> Diagnostics {
    let mut diagnostics = Diagnostics::new();
    let post = &mut job.posts[at];
    for (case, reaction) in worked {
        job.derived.insert(case.clone());
        if post.reactions.insert(case.clone(), *reaction).is_some() {
            diagnostics.push(
                Diagnostic::new(format!("case {case} of post {} is given, and worked out from `[roof]`", post.mark))
                    .at(post.place.clone())
                    .hint("leave out the given one, or take `[roof]` out of `job.toml`"),
            );
        }
    }
    diagnostics
}

/// Symbols that are named like a column of reactions: `P_D`, `H_x_W1`.
fn reactions(root: &Root, memory: &Memory) -> BTreeMap<String, Reaction> {
    let mut reactions: BTreeMap<String, Reaction> = BTreeMap::new();
    for symbol in root.program.symbols().iter().filter(|symbol| symbol.of == 0) {
        let named = load_column(symbol.name()).filter(|(part, _)| symbol.held == Held::Quantity(PARTS[*part].1));
        let Some((part, case)) = named else { continue };
        let value = root.program.number(symbol, memory);
        if !value.is_nan() {
            reactions.entry(case).or_default().set(part, value);
        }
    }
    reactions
}
