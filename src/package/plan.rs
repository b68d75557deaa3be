//! The key plan: what stands where on what, under which roof, and how each
//! post comes out.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::build::chosen;
use super::model::{KeyPlan, PlanChanges};
use super::summary::ratio;
use crate::drawing::{Plan, PlanPost, PlanRoof, Planned, plan};
use crate::engine::{GroupResult, Made, Overhead, Results, RoofOver, Ways, base_level};
use crate::formula::Value;
use crate::job::{Job, Post, some_marks};
use crate::quantity::Units;

/// How high the key plan may be, and what the margins of a page take of its
/// width, in points.
const HIGH: f64 = 500.0;
pub(super) const MARGINS: f64 = 88.0;

/// The key plan with its key. `made` and `described` are by group.
pub(super) fn key_plan(
    job: &Job,
    results: &Results,
    overhead: &Overhead,
    made: &[(&GroupResult, Arc<Made>)],
    (described, sizes): (&[String], &[[f64; 2]]),
    ways: &Ways,
) -> KeyPlan {
    let (kinds, key) = kinds(job, results, described);
    let levels: Vec<Option<String>> = job.posts.iter().map(|post| level(job.units, post)).collect();
    let one_level = levels.windows(2).all(|pair| pair[0] == pair[1]);
    let posts = job.posts.iter().enumerate().map(|(at, post)| {
        let group = &results.groups[results.group_of[at]];
        let word = if group.ok() { "met" } else { "not met" };
        let ratio = group.governing().map_or("–".to_string(), |limit| ratio(limit).0);
        let level = levels[at].iter().filter(|_| !one_level).map(|level| format!("level {level}"));
        PlanPost {
            mark: post.mark.clone(),
            at: post.at,
            size: sizes[results.group_of[at]],
            ok: group.ok(),
            area: overhead.areas.iter().find(|(posts, _)| posts.contains(&at)).map(|(_, area)| *area),
            blade: blade(post),
            notes: std::iter::once(format!("{} {ratio} {word}", kinds[at])).chain(level).collect(),
        }
    });
    let it = Plan {
        posts: posts.collect(),
        roof: overhead.roof.as_ref().map(roof),
        north: made.first().and_then(|(_, made)| north(made)),
        winds: ways.toward.clone(),
    };
    if it.posts.is_empty() {
        return KeyPlan { key, ..KeyPlan::default() };
    }
    let Planned { drawing, bare, unmarked } = plan(&it, job.units.paper().1 - MARGINS, HIGH, job.units);
    let level = levels.first().filter(|_| one_level).cloned().flatten();
    // What several posts have in common is said once.
    let mut listed: Vec<(Vec<String>, String)> = Vec::new();
    for post in it.posts.iter().filter(|_| bare) {
        let note = post.notes.join(", ");
        match listed.iter_mut().find(|(_, known)| *known == note) {
            Some((marks, _)) => marks.push(post.mark.clone()),
            None => listed.push((vec![post.mark.clone()], note)),
        }
    }
    let posts = listed.into_iter().map(|(marks, note)| (some_marks(&marks, 8), note)).collect();
    let mut notes = notes(&it, ways, level, bare);
    if unmarked > 0 {
        notes.push(format!(
            "There is no room for the marks of {unmarked} posts on this paper: posts.csv gives their positions."
        ));
    }
    // By the names of base and foundation: their types are places in the key.
    let stands = it.posts.iter().zip(&job.posts).map(|(post, of)| {
        let own = post.notes.join(", ").split_once(' ').map_or(String::new(), |(_, rest)| rest.to_string());
        let place = format!("{:?} {:?} {:?} {:?}", post.at, post.size, post.area, post.blade);
        (post.mark.clone(), format!("{place} {:?} {own}", chosen(of)))
    });
    KeyPlan { stands: stands.collect(), notes, key, posts, drawing: Some(drawing), changed: PlanChanges::default() }
}

/// What is not said by the drawing and its letters.
fn notes(it: &Plan, ways: &Ways, level: Option<String>, bare: bool) -> Vec<String> {
    let mut notes = Vec::new();
    let mut say = |holds: bool, text: &str| {
        if holds {
            notes.push(text.to_string());
        }
    };
    say(!bare, "Under each mark: base and foundation by the key, the ratio of the summary, the verdict.");
    say(
        bare,
        "The posts are close together: what belongs to each is listed below the plan, base and foundation by the key, the ratio of the summary, the verdict.",
    );
    say(true, "A post is filled where all its limits are met, open and crossed out where one is not.");
    say(
        it.posts.iter().any(|post| post.blade.is_some()),
        "A bar through a post is its blade, or the direction of its side plates.",
    );
    say(
        it.posts.iter().any(|post| post.area.is_some()),
        "Thin rectangles are the parts of the roof that the posts carry, before the frame of a line with knee braces shares them.",
    );
    say(
        ways.toward.iter().any(|names| !names.is_empty()),
        "An arrow outside the plan is the direction of the winds beside it.",
    );
    say(
        ways.toward.iter().flatten().any(|name| name.starts_with('−')),
        "A wind with a minus sign is the same one reversed.",
    );
    if !ways.upright.is_empty() {
        notes.push(format!("Up or down alone: {}.", ways.upright.join(", ")));
    }
    match level {
        Some(level) => notes.push(format!("Every base is at level {level} above the job datum.")),
        None if it.posts.iter().any(|post| post.notes.len() > 1) => {
            notes.push("A level is that of the concrete or floor under the base, above the job datum.".into());
        }
        None => {}
    }
    notes
}

/// North, in degrees clockwise from +y, where the job says it.
fn north(made: &Made) -> Option<f64> {
    match made.bound.get("plan-north.north")?.value {
        Value::Quantity(angle) => Some(angle.value.to_degrees()),
        _ => None,
    }
}

fn roof(it: &RoofOver) -> PlanRoof {
    let name = match it.shape.as_str() {
        "pitched" => Some("ridge"),
        "troughed" => Some("valley"),
        _ => None,
    };
    PlanRoof {
        outline: it.outline,
        ridge: name.map(|name| (it.ridge, it.ridge_at, name)),
        rises: (it.shape == "monoslope").then_some((1 - it.ridge, it.high_plus)),
    }
}

/// The axis along which the blade or the side plates of a made base run.
pub(super) fn blade(post: &Post) -> Option<usize> {
    let facts = &post.entries.get("bases")?.facts;
    let said = |name: &str| facts.get(name).map_or("", |fact| fact.text.trim());
    (said("kind") == "made").then_some(usize::from(said("blade_along").eq_ignore_ascii_case("y")))
}

const TYPES: usize = 26;

/// `T1/F2`: types of bases with their posts, and foundations, in the order in which they
/// are met; and what each stands for. Letters alone look like marks of posts.
fn kinds(job: &Job, results: &Results, described: &[String]) -> (Vec<String>, Vec<(String, String)>) {
    let (mut bases, mut foundations): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
    // The schedule of posts has the size of each: where there are many kinds, they are left to it.
    let named = |post: &Post, group: usize| format!("{}, post {}", post.base(), described[group]);
    let sized: BTreeSet<String> =
        job.posts.iter().zip(&results.group_of).map(|(post, group)| named(post, *group)).collect();
    let sized = sized.len() <= TYPES;
    let place = |known: &mut Vec<String>, what: String| {
        known.iter().position(|other| *other == what).unwrap_or_else(|| {
            known.push(what);
            known.len() - 1
        })
    };
    let marks = job.posts.iter().zip(&results.group_of).map(|(post, group)| {
        let what = if sized { named(post, *group) } else { post.base().to_string() };
        let base = place(&mut bases, what) + 1;
        let foundation = post.entries.get("foundations").map(|entry| place(&mut foundations, entry.name.clone()) + 1);
        format!("T{base}{}", foundation.map_or(String::new(), |no| format!("/F{no}")))
    });
    let marks = marks.collect();
    let bases = bases.into_iter().enumerate().map(|(at, what)| (format!("T{}", at + 1), format!("base {what}")));
    let foundations =
        foundations.into_iter().enumerate().map(|(at, what)| (format!("F{}", at + 1), format!("foundation {what}")));
    (marks, bases.chain(foundations).collect())
}

/// `+1′-2″`: where the base of a post stands over the datum of the job.
fn level(units: Units, post: &Post) -> Option<String> {
    base_level(post).map(|feet| units.level(feet))
}
