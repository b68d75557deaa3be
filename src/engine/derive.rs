//! Reactions that are worked out: the sheet for loads, for every post of a job
//! that has a `[roof]`.

use std::collections::BTreeMap;

use super::LOADS;
use super::each::work_each;
use super::govern::GroupResult;
use crate::diag::{Checked, Complaint, Complaints};
use crate::formula::Value;
use crate::job::{Job, Reaction, load_column};
use crate::quantity::Dim;
use crate::sheet::{Bound, Library};

/// Works the loads of every post and enters them into the job; the worked
/// sheets, one for each set of equal inputs.
///
/// # Errors
/// What is missing for it; a case that is also given; a post without dead load.
pub fn derive_loads(job: &mut Job, library: &Library) -> Checked<Vec<GroupResult>> {
    let mut groups = Vec::new();
    let mut complaints = Complaints::new();
    if job.settings.contains_key("roof") {
        super::tributary::whole_roof(&job.posts)?;
        (groups, complaints) = work_each(job, library, LOADS);
        for group in &groups {
            let mark = &job.posts[group.posts[0]].mark;
            complaints.extend(group.limits.iter().filter(|limit| !limit.ok()).map(|limit| {
                Complaint::new(format!("the loads of post {mark} rest on this: {}", limit.rule.say))
                    .hint(limit.rule.remedy.clone())
            }));
            let worked = reactions(&group.runs[0].worked.bound);
            for at in &group.posts {
                complaints.extend(enter(job, *at, &worked));
            }
        }
        super::once(&mut complaints);
    }
    if complaints.is_empty() {
        complaints.extend(job.posts.iter().filter(|post| !post.reactions.contains_key("D")).map(|post| {
            Complaint::new(format!("post {} has no dead load", post.mark))
                .at(post.place.clone())
                .hint("loads stand in columns such as `P_D [lbf]`, `P_S [lbf]`, `H_x_W1 [lbf]`, in `reactions.csv`, or are worked out from `[roof]`")
        }));
    }
    if complaints.is_empty() { Ok(groups) } else { Err(complaints) }
}

/// Adds what was worked out to what was given for a post; a case can not be both.
fn enter(job: &mut Job, at: usize, worked: &BTreeMap<String, Reaction>) -> Complaints {
    let mut complaints = Complaints::new();
    let post = &mut job.posts[at];
    for (case, reaction) in worked {
        if post.reactions.insert(case.clone(), *reaction).is_some() {
            complaints.push(
                Complaint::new(format!("case {case} of post {} is given, and worked out from `[roof]`", post.mark))
                    .at(post.place.clone())
                    .hint("leave out the given one, or take `[roof]` out of `job.toml`"),
            );
        }
    }
    complaints
}

/// Symbols that are named like a column of reactions: `P_D`, `H_x_W1`.
fn reactions(bound: &BTreeMap<String, Bound>) -> BTreeMap<String, Reaction> {
    let mut reactions: BTreeMap<String, Reaction> = BTreeMap::new();
    for (name, bound) in bound.iter().filter(|(name, _)| !name.contains('.')) {
        let (Some((part, case)), Value::Quantity(quantity)) = (load_column(name), &bound.value) else { continue };
        if quantity.dim == Dim::FORCE {
            reactions.entry(case).or_default().set(part, quantity.value);
        }
    }
    reactions
}
