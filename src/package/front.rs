//! The key plan.

use super::summary::ratio;
use crate::drawing::{PlanPost, plan};
use crate::engine::{Results, base_level};
use crate::job::{Job, Post};
use crate::quantity::Units;

/// The frame of the key plan on a letter page, in points.
const PLAN: [f64; 2] = [500.0, 560.0];

/// Letters for bases with their posts, numbers for foundations, in the order in
/// which they are met; and what each stands for.
pub(super) fn plan_key(job: &Job, results: &Results, described: &[String]) -> (Vec<String>, Vec<(String, String)>) {
    let (mut bases, mut foundations): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
    let place = |known: &mut Vec<String>, what: String| {
        known.iter().position(|other| *other == what).unwrap_or_else(|| {
            known.push(what);
            known.len() - 1
        })
    };
    let letter = |at: usize| char::from(b'a' + (at % 26) as u8);
    let marks = job.posts.iter().zip(&results.group_of).map(|(post, group)| {
        let base = letter(place(&mut bases, format!("{}, post {}", post.base(), described[*group])));
        let foundation = post.entries.get("foundations").map(|entry| place(&mut foundations, entry.name.clone()) + 1);
        format!("{base}{}", foundation.map_or(String::new(), |no| no.to_string()))
    });
    let marks = marks.collect();
    let bases = bases.into_iter().enumerate().map(|(at, what)| (letter(at).to_string(), format!("base {what}")));
    let foundations =
        foundations.into_iter().enumerate().map(|(at, what)| ((at + 1).to_string(), format!("foundation {what}")));
    (marks, bases.chain(foundations).collect())
}

/// `+1′-2″`: where the base of a post stands over the datum of the job.
fn level(units: Units, post: &Post) -> Option<String> {
    base_level(post).map(|feet| units.level(feet))
}

pub(super) fn key_plan(
    job: &Job,
    areas: &[(Vec<usize>, [f64; 4])],
    results: &Results,
    described: &[String],
    sizes: &[[f64; 2]],
) -> crate::drawing::Drawing {
    let (kinds, _) = plan_key(job, results, described);
    let posts: Vec<PlanPost> = job
        .posts
        .iter()
        .enumerate()
        .map(|(at, post)| {
            let group = &results.groups[results.group_of[at]];
            let word = if group.ok() { "met" } else { "not met" };
            let ratio = group.governing().map_or("–".to_string(), |limit| ratio(limit).0);
            PlanPost {
                mark: post.mark.clone(),
                at: post.at,
                size: sizes[results.group_of[at]],
                ok: group.ok(),
                area: areas.iter().find(|(posts, _)| posts.contains(&at)).map(|(_, area)| *area),
                note: format!(
                    "{} {ratio} {word}{}",
                    kinds[at],
                    level(job.units, post).map_or(String::new(), |level| format!(", {level}"))
                ),
            }
        })
        .collect();
    plan(&posts, PLAN[0], PLAN[1], job.units)
}
