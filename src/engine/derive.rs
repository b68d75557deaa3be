//! Reactions that are worked out: the sheet for loads, for every post of a job
//! that has a `[roof]`.

use std::collections::BTreeMap;

use super::govern::GroupResult;
use super::{LOADS, facts, tributary};
use crate::diag::{Checked, Complaint, Complaints};
use crate::formula::Value;
use crate::job::{Job, Reaction, load_column};
use crate::quantity::{Dim, Unit};
use crate::sheet::{Bound, Context, Input, Library, Origin, Work, work};

/// Works the loads of every post and enters them into the job; the worked
/// sheets, one for each set of equal inputs.
///
/// # Errors
/// What is missing for it; a case that is also given; a post without dead load.
pub fn derive_loads(job: &mut Job, library: &Library) -> Checked<Vec<GroupResult>> {
    let mut groups: Vec<GroupResult> = Vec::new();
    let mut complaints = Complaints::new();
    if job.settings.contains_key("roof") {
        let Some(root) = library.sheet(LOADS).cloned() else {
            return Err(Complaint::new(format!("there is no sheet `{LOADS}`")).into());
        };
        let mut known: BTreeMap<String, usize> = BTreeMap::new();
        let mut worked_out: Vec<BTreeMap<String, Reaction>> = Vec::new();
        for at in 0..job.posts.len() {
            let post = &job.posts[at];
            let (mut inputs, more) = facts::inputs(&root, job, post);
            complaints.extend(more);
            let place = tributary::place(&job.posts, at);
            inputs.extend(place.into_iter().map(|(name, value)| (name.to_string(), grid_input(value))));
            let key = inputs.iter().map(|(name, (bound, _))| format!("{name} {:?}\n", bound.value)).collect::<String>();
            let group = match known.get(&key) {
                Some(group) => *group,
                None => {
                    let missing = |input: &Input| facts::missing(input, job, post);
                    let context = Context { library, method: None, missing: &missing };
                    let Work { worked, complaints: more } = work(&root, inputs, &context);
                    complaints
                        .extend(more.into_iter().map(|complaint| complaint.hint(format!("for post {}", post.mark))));
                    worked_out.push(reactions(&worked.bound));
                    let group = GroupResult::of_loads(groups.len() + 1, worked);
                    complaints.extend(group.limits.iter().filter(|limit| !limit.ok()).map(|limit| {
                        Complaint::new(format!("the loads of post {} rest on this: {}", post.mark, limit.rule.say))
                            .hint(limit.rule.remedy.clone())
                    }));
                    groups.push(group);
                    known.insert(key, groups.len() - 1);
                    groups.len() - 1
                }
            };
            groups[group].posts.push(at);
            for (case, reaction) in worked_out[group].clone() {
                if job.posts[at].reactions.insert(case.clone(), reaction).is_some() {
                    complaints.push(
                        Complaint::new(format!(
                            "case {case} of post {} is given, and worked out from `[roof]`",
                            job.posts[at].mark
                        ))
                        .at(job.posts[at].place.clone())
                        .hint("leave out the given one, or take `[roof]` out of `job.toml`"),
                    );
                }
            }
        }
        super::once(&mut complaints);
    }
    if !complaints.is_empty() {
        return Err(complaints);
    }
    for post in job.posts.iter().filter(|post| !post.reactions.contains_key("D")) {
        complaints.push(
            Complaint::new(format!("post {} has no dead load", post.mark))
                .at(post.place.clone())
                .hint("loads stand in columns such as `P_D [lbf]`, `P_S [lbf]`, `H_x_W1 [lbf]`, in `reactions.csv`, or are worked out from `[roof]`"),
        );
    }
    if complaints.is_empty() { Ok(groups) } else { Err(complaints) }
}

fn grid_input(value: Value) -> (Bound, Origin) {
    let unit = match &value {
        Value::Quantity(quantity) if quantity.dim == Dim::LENGTH => Unit::simple("ft").unwrap_or_else(Unit::none),
        _ => Unit::none(),
    };
    let count = unit.name().is_empty();
    let bound = Bound { value, unit, varies: false, count, given: true, place: None };
    (bound, Origin::File("posts.csv, x and y".into()))
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
