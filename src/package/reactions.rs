//! What the loads come to: reactions, combinations, equilibrium.

use super::build::marks;
use super::model::{BalanceRow, Combination, CombinationRow, GroupRef, ReactionRow};
use super::worked::some_marks;
use crate::engine::{Derived, GroupResult, Results};
use crate::job::Job;
use crate::quantity::number_fixed;

pub(super) fn what(case: &str) -> String {
    match case {
        "D" => "dead load",
        "L" => "live load",
        "Lr" => "roof live load",
        "S" => "snow load",
        "R" => "rain load",
        "E" => "seismic load",
        "E_x" => "seismic load along x",
        "E_y" => "seismic load along y",
        _ => "wind load",
    }
    .into()
}

pub(super) fn combinations(results: &Results) -> Vec<Combination> {
    let rows = results.combinations.iter().map(|combination| Combination {
        name: combination.name.clone(),
        method: method(combination.method),
        clause: combination.clause.clone(),
        c_d: combination.c_d.map_or(String::new(), |c_d| number_fixed(c_d, 2)),
    });
    rows.collect()
}

/// What all posts bring in each case, and what reaches the ground.
pub(super) fn balance(job: &Job, loads: &Derived) -> Vec<BalanceRow> {
    let cases = job.cases().into_iter().filter(|case| job.derived.contains(case));
    cases
        .map(|case| BalanceRow {
            brought: loads.brought(&case).map(|force| job.units.force_number(force)),
            ground: loads.ground(job, &case).map(|force| job.units.force_number(force)),
            case,
        })
        .collect()
}

pub(super) fn group_ref(job: &Job, results: &Results, group: &GroupResult, ratios: &[Option<f64>]) -> GroupRef {
    let post = &job.posts[group.posts[0]];
    let force = |force| job.units.force_number(force);
    let reactions = job.cases().into_iter().filter_map(|case| {
        let reaction = post.reactions.get(&case)?;
        let [p, h_x, h_y] = [reaction.p, reaction.h_x, reaction.h_y].map(force);
        let [w_x, w_y] = [reaction.w_x, reaction.w_y].map(|w| job.units.line_load_number(w));
        Some(ReactionRow { case, p, h_x, h_y, w_x, w_y })
    });
    let highest = group.limits.iter().filter(|limit| limit.varies());
    let highest = highest.filter_map(|limit| Some((limit.ratio()?, limit.run())));
    let highest = highest.max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1))).map(|(_, run)| run);
    let combinations = results.combinations.iter().zip(ratios).enumerate().map(|(at, (combination, best))| {
        let effect = combination.effect(&post.reactions);
        let ratio = best
            .map_or("–".to_string(), |ratio| if ratio.is_finite() { number_fixed(ratio, 3) } else { "over".into() });
        CombinationRow {
            name: combination.name.clone(),
            method: method(combination.method),
            c_d: combination.c_d.map_or(String::new(), |c_d| number_fixed(c_d, 2)),
            p: force(effect.p),
            h_x: force(effect.h_x),
            h_y: force(effect.h_y),
            ratio,
            governs: group
                .limits
                .iter()
                .any(|limit| limit.run() == at && limit.varies() && limit.ratio().is_some_and(|ratio| ratio > 0.0)),
            highest: highest == Some(at),
        }
    });
    GroupRef {
        no: group.no,
        title: format!("Posts {}", some_marks(&marks(job, group), 6)),
        marks: marks(job, group),
        file: format!("/group-{}.json", group.no),
        reactions: reactions.collect(),
        combinations: combinations.collect(),
    }
}

fn method(method: crate::sheet::Method) -> String {
    if method.is_asd() { "ASD".into() } else { "strength".into() }
}
