//! Reactions that are worked out: the sheet for loads, for every post of a job
//! that has a `[roof]`.

use std::collections::BTreeMap;
use std::sync::Arc;

use rayon::prelude::*;

use super::LOADS;
use super::cases::unaccounted;
use super::govern::{GroupResult, work_group};
use super::lines::{self, Known, Lines, Share};
use super::root::Root;
use super::tributary::PostGrid;
use crate::diag::{Checked, Diagnostic, Kind::Missing, once};
use crate::formula::Value;
use crate::job::{CASE, Job, Reaction};
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
        let root = Root::new(job, library, LOADS, Some(grid.around()))?;
        let posts: Vec<usize> = (0..job.posts.len()).collect();
        let worked: Vec<_> = posts
            .par_iter()
            .map_init(
                || root.program.memory(),
                |memory, at| {
                    let result = work_group(&root, &[], memory, 0, &[*at]);
                    let key: Vec<u64> = root.program.facts.iter().map(|fact| memory.get(fact.slot).to_bits()).collect();
                    (result, key, lines::brought(&root, memory))
                },
            )
            .collect();
        drop(root);
        let mut known: BTreeMap<Vec<u64>, usize> = BTreeMap::new();
        let mut fails: Vec<(Arc<Must>, Vec<&str>)> = Vec::new();
        let mut twice: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        let marks: Vec<String> = job.posts.iter().map(|post| post.mark.clone()).collect();
        let mut brought: Vec<Known> = Vec::new();
        for (at, (result, key, brings)) in worked.into_iter().enumerate() {
            brought.push(brings);
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
                }
            }
        }
        // The frame is worked where all is known that stands in it.
        if diagnostics.is_empty() && job.placed {
            let shares = Lines::new(job, library, &grid, &brought)?.shares()?;
            for (at, (brings, shares)) in brought.iter().zip(shares).enumerate() {
                let reactions = shares.into_iter().map(|(case, shares)| (reaction(brings, &case, shares), case));
                for (reaction, case) in reactions {
                    job.derived.insert(case.clone());
                    if job.posts[at].reactions.insert(case.clone(), reaction).is_some() {
                        twice.entry(case).or_default().push(at);
                    }
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

/// What a post brings to its base in a case: its own part of the load, and what
/// its lines make of it.
fn reaction(brings: &Known, case: &str, [x, y]: [Share; 2]) -> Reaction {
    let part = |name: &str| match brings.get(&format!("{case}.{name}")) {
        Some(Value::Quantity(quantity)) => quantity.value,
        _ => 0.0,
    };
    Reaction {
        p: part("P") + x.p + y.p,
        h_x: x.v,
        h_y: y.v,
        w_x: part("w_x"),
        w_y: part("w_y"),
        braces: [x.braces[0], x.braces[1], y.braces[0], y.braces[1]],
    }
}
