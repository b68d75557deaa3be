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

/// The loads of a job that were worked out.
#[derive(Debug, Default)]
pub struct Derived {
    /// Posts whose loads are worked alike.
    pub groups: Vec<GroupResult>,
    /// What each post brings to the frame, and what its lines make of it.
    pub brought: Vec<Known>,
    pub shares: Vec<BTreeMap<String, [Share; 2]>>,
}

impl Derived {
    /// What roof, beams and posts bring in a case, in pounds: down, along x and
    /// along y.
    pub fn brought(&self, case: &str) -> [f64; 3] {
        let mut sum = [0.0; 3];
        for (brings, shares) in self.brought.iter().zip(&self.shares) {
            sum[0] += pounds(brings, case, "P");
            for (axis, wind) in ["W_x", "W_y"].into_iter().enumerate() {
                let share = shares.get(case).map_or_else(Share::default, |shares| shares[axis]);
                sum[1 + axis] += pounds(brings, case, wind) + share.line / share.of.max(1) as f64;
            }
        }
        sum
    }

    /// What the axial reaction of a post is the sum of in a case, in pounds: its own
    /// part, and what its lines along x and along y make of it.
    pub fn parts(&self, post: usize, case: &str) -> [f64; 3] {
        let own = self.brought.get(post).map_or(0.0, |brings| pounds(brings, case, "P"));
        let [x, y] = self.shares.get(post).and_then(|shares| shares.get(case)).map_or([0.0; 2], |of| of.map(|it| it.p));
        [own, x, y]
    }

    /// What the bases hand to the ground in a case.
    pub fn ground(&self, job: &Job, case: &str) -> [f64; 3] {
        let mut sum = [0.0; 3];
        for (post, brings) in job.posts.iter().zip(&self.brought) {
            let reaction = post.reactions.get(case).copied().unwrap_or_default();
            sum[0] += reaction.p;
            sum[1] += reaction.h_x + pounds(brings, case, "W_x");
            sum[2] += reaction.h_y + pounds(brings, case, "W_y");
        }
        sum
    }
}

/// What the reactions of all posts come to in a case, in pounds: down, along x and
/// along y. Wind on the posts themselves is not in it.
pub fn summed(job: &Job, case: &str) -> [f64; 3] {
    let mut sum = [0.0; 3];
    for reaction in job.posts.iter().filter_map(|post| post.reactions.get(case)) {
        for (sum, part) in sum.iter_mut().zip([reaction.p, reaction.h_x, reaction.h_y]) {
            *sum += part;
        }
    }
    sum
}

fn pounds(brings: &Known, case: &str, name: &str) -> f64 {
    match brings.get(&format!("{case}.{name}")) {
        Some(Value::Quantity(quantity)) => quantity.value,
        _ => 0.0,
    }
}

/// Works the loads of every post and enters them into the job.
///
/// # Errors
/// What is missing for it; a case that is also given; a post without dead load.
pub fn derive_loads(job: &mut Job, library: &Library) -> Checked<Derived> {
    let mut groups: Vec<GroupResult> = Vec::new();
    let mut derived = Derived::default();
    let mut diagnostics = unaccounted(job, &job.cases());
    if job.settings.contains_key("roof") {
        let grid = PostGrid::new(&job.posts);
        // A post that is too wrong to be read leaves a gap.
        if job.placed {
            diagnostics.extend(grid.whole_roof(&job.posts, job.units).err().into_iter().flatten());
        }
        let root = Root::new(job, library, LOADS, Some(grid.around()))?;
        let posts: Vec<usize> = (0..job.posts.len()).collect();
        let symbols = lines::bringing(&root);
        let worked: Vec<_> = posts
            .par_iter()
            .map_init(
                || root.program.memory(),
                |memory, at| {
                    let result = work_group(&root, &[], memory, 0, &[*at]);
                    let key: Vec<u64> = root.program.facts.iter().map(|fact| memory.get(fact.slot).to_bits()).collect();
                    (result, key, lines::brought(&root, &symbols, memory))
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
            let shares = Lines::new(job, library, &grid, &brought).shares()?;
            for (at, (brings, shares)) in brought.iter().zip(&shares).enumerate() {
                for (case, shares) in shares {
                    job.derived.insert(case.clone());
                    let reaction = reaction(|name| pounds(brings, case, name), *shares);
                    if job.posts[at].reactions.insert(case.clone(), reaction).is_some() {
                        twice.entry(case.clone()).or_default().push(at);
                    }
                }
            }
            (derived.brought, derived.shares) = (brought, shares);
        }
        diagnostics.extend(fails.iter().map(|(rule, posts)| {
            Diagnostic::new(format!("the loads rest on this, which is not met: {}", rule.say))
                .hint(rule.remedy.clone())
                .hint(format!("for {}", of_posts(posts)))
        }));
        diagnostics.extend(twice.into_iter().map(|(case, posts)| {
            let marks: Vec<&str> = posts.iter().map(|at| marks[*at].as_str()).collect();
            Diagnostic::new(format!("case {case} is given, and also calculated from `[roof]`"))
                .at(job.posts[posts[0]].place.clone())
                .hint("leave out the given one, or remove `[roof]` from `job.toml`")
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
                .hint("loads are given in columns such as `P_D [lbf]` or `P_D [kip]`, `P_S`, `H_x_W1`, or in `reactions.csv`, or are calculated from `[roof]`")
        }));
    }
    derived.groups = groups;
    if diagnostics.is_empty() { Ok(derived) } else { Err(diagnostics) }
}

/// As many posts as a message names.
const NAMED: usize = 8;

/// `post A1`, `posts A1, A2 and 4 more`.
fn of_posts(marks: &[&str]) -> String {
    let mut marks = marks.to_vec();
    marks.dedup();
    match &marks[..] {
        [one] => format!("post {one}"),
        _ if marks.len() > NAMED => format!("posts {} and {} more", marks[..NAMED].join(", "), marks.len() - NAMED),
        [head @ .., last] => format!("posts {} and {last}", head.join(", ")),
        [] => "no post".into(),
    }
}

/// What a post brings to its base in a case: its own part of the load, and what
/// its lines make of it.
pub(super) fn reaction(part: impl Fn(&str) -> f64, [x, y]: [Share; 2]) -> Reaction {
    Reaction {
        p: part("P") + x.p + y.p,
        h_x: x.v,
        h_y: y.v,
        w_x: part("w_x"),
        w_y: part("w_y"),
        braces: [x.braces[0], x.braces[1], y.braces[0], y.braces[1]],
    }
}
