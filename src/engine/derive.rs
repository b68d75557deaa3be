//! Reactions that are worked out: the sheet for loads, for every post of a job
//! that has a `[roof]`.

use std::collections::BTreeMap;
use std::sync::Arc;

use rayon::prelude::*;

use super::LOADS;
use super::cases::unaccounted;
use super::govern::{GroupResult, work_group};
use super::root::Root;
use super::tributary::PostGrid;
use crate::diag::{Checked, Diagnostic, Kind::Missing, once};
use crate::job::{CASE, Job, PARTS, Reaction, load_column};
use crate::program::{Held, Memory};
use crate::sheet::{Library, Must};

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
        // A post that is too wrong to be read leaves a gap.
        if job.placed {
            diagnostics.extend(grid.whole_roof(&job.posts).err().into_iter().flatten());
        }
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
        let mut fails: Vec<(Arc<Must>, Vec<&str>)> = Vec::new();
        let mut twice: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        let marks: Vec<String> = job.posts.iter().map(|post| post.mark.clone()).collect();
        for (at, (result, key, reactions)) in worked.into_iter().enumerate() {
            match result {
                Err(more) => diagnostics.extend(more),
                Ok(mut group) => {
                    for limit in group.limits.iter().filter(|limit| !limit.ok()) {
                        match fails.iter_mut().find(|(rule, _)| Arc::ptr_eq(rule, limit.rule())) {
                            Some((_, posts)) => posts.push(&marks[at]),
                            None => fails.push((limit.rule().clone(), vec![&marks[at]])),
                        }
                    }
                    match known.get(&key) {
                        Some(no) => groups[*no].posts.push(at),
                        None => {
                            known.insert(key, groups.len());
                            group.no = groups.len() + 1;
                            groups.push(group);
                        }
                    }
                    enter(job, at, &reactions).into_iter().for_each(|case| twice.entry(case).or_default().push(at));
                }
            }
        }
        diagnostics.extend(fails.iter().map(|(rule, posts)| {
            Diagnostic::new(format!("the loads rest on this, which is not met: {}", rule.say))
                .hint(rule.remedy.clone())
                .hint(format!("for {}", of_posts(posts)))
        }));
        diagnostics.extend(twice.into_iter().map(|(case, posts)| {
            let marks: Vec<&str> = posts.iter().map(|at| marks[*at].as_str()).collect();
            Diagnostic::new(format!("case {case} is given, and worked out from `[roof]`"))
                .at(job.posts[posts[0]].place.clone())
                .hint("leave out the given one, or take `[roof]` out of `job.toml`")
                .hint(format!("for {}", of_posts(&marks)))
        }));
        once(&mut diagnostics);
    }
    // What a roof brings is not known where the places of posts are not.
    if diagnostics.is_empty() && (job.placed || !job.settings.contains_key("roof")) {
        let lacking = job.posts.iter().filter(|post| !post.reactions.contains_key("D"));
        let marks: Vec<&str> = lacking.clone().map(|post| post.mark.as_str()).collect();
        let verb = if marks.len() == 1 { "has" } else { "have" };
        diagnostics.extend(lacking.take(1).map(|post| {
            Diagnostic::new(format!("{} {verb} no dead load", of_posts(&marks)))
                .of(Missing, CASE)
                .at(post.place.clone())
                .hint("loads are given in columns such as `P_D [lbf]` or `P_D [kip]`, `P_S`, `H_x_W1`, or in `reactions.csv`, or are worked out from `[roof]`")
        }));
    }
    if diagnostics.is_empty() { Ok(groups) } else { Err(diagnostics) }
}

/// Adds what was worked out to what was given for a post; the cases that are
/// both, which they cannot be.
fn enter(job: &mut Job, at: usize, worked: &BTreeMap<String, Reaction>) -> Vec<String> {
    job.derived.extend(worked.keys().cloned());
    let given = &mut job.posts[at].reactions;
    let both = worked.iter().filter(|(case, reaction)| given.insert((*case).clone(), **reaction).is_some());
    both.map(|(case, _)| case.clone()).collect()
}

/// As many posts as a message names.
const NAMED: usize = 8;

/// `post A1`, `posts A1, A2 and 4 more`.
fn of_posts(marks: &[&str]) -> String {
    match marks {
        [one] => format!("post {one}"),
        _ if marks.len() > NAMED => format!("posts {} and {} more", marks[..NAMED].join(", "), marks.len() - NAMED),
        [head @ .., last] => format!("posts {} and {last}", head.join(", ")),
        [] => "no post".into(),
    }
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
