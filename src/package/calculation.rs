//! The calculation sheet of a group, on one page: what governs it, with formula and
//! numbers, and where each is worked.

use super::build::marks;
use super::kinds::{Kind, letter};
use super::ledger::Ledger;
use super::lines::{REACTION_DIGITS, limit_row, said};
use super::model::{Calculation, ColumnHead, ForceRow, LimitRow, TopLimit};
use super::worked::some_marks;
use crate::engine::{GroupResult, Limit, Results, Shown};
use crate::job::Job;
use crate::quantity::number;
use crate::sheet::Step;
use crate::typeset::symbolic;

/// Limits that stand on the sheet.
const TOP: usize = 10;

pub fn sheet(
    job: &Job,
    results: &Results,
    group: &GroupResult,
    kind: &Kind,
    shown: &Shown,
    facts: Vec<(String, String)>,
    ledger: &Ledger,
) -> Calculation {
    let mut ranked: Vec<&Limit> =
        group.limits.iter().filter(|limit| !limit.is_fit() && (limit.ratio().is_some() || !limit.ok())).collect();
    let weight = |limit: &Limit| if limit.ok() { limit.ratio().unwrap_or(0.0) } else { f64::INFINITY };
    // What a load presses on says more than a size that is just as it has to be.
    ranked.sort_by(|a, b| (!b.ok(), b.varies()).cmp(&(!a.ok(), a.varies())).then(weight(b).total_cmp(&weight(a))));
    let mut runs: Vec<usize> = Vec::new();
    let limits: Vec<TopLimit> = ranked
        .iter()
        .take(TOP)
        .filter_map(|limit| {
            let worked = shown.find(limit.run(), limit.path())?;
            let verdict = worked.steps.iter().find_map(|step| match step {
                Step::Must { rule, verdict } if rule.span == limit.rule().span => Some(verdict),
                _ => None,
            })?;
            if limit.varies() && !runs.contains(&limit.run()) {
                runs.push(limit.run());
            }
            let tag =
                if limit.varies() { letter(runs.iter().position(|run| *run == limit.run())?) } else { String::new() };
            Some(TopLimit {
                line: ledger.line_of(group.no, limit),
                say: said(&limit.rule().say),
                sheet: limit.title().into(),
                cite: limit.rule().cite.clone().unwrap_or_default(),
                symbolic: symbolic(&limit.rule().condition),
                row: LimitRow { tag, ..limit_row(job.units, limit.rule(), verdict, worked) },
                combination: if limit.varies() {
                    results.combinations[limit.run()].name.clone()
                } else {
                    String::new()
                },
            })
        })
        .collect();
    let post = &job.posts[group.posts[0]];
    let forces = runs.iter().enumerate().map(|(at, run)| {
        let combination = &results.combinations[*run];
        let effect = combination.effect(&post.reactions);
        let values =
            [effect.p, effect.h_x, effect.h_y].map(|value| format!("{} lbf", number(value, REACTION_DIGITS - 1)));
        let head = ColumnHead {
            letter: letter(at),
            post: String::new(),
            what: combination.name.clone(),
            c_d: combination.c_d.map_or(String::new(), |c_d| number(c_d, 4)),
        };
        ForceRow { head, values: values.to_vec() }
    });
    let count = |fit: bool| group.limits.iter().filter(|limit| limit.is_fit() == fit).count();
    let met = |fit: bool| group.limits.iter().filter(|limit| limit.is_fit() == fit && limit.ok()).count();
    let all = marks(job, group);
    Calculation {
        title: format!("{} {}", if all.len() == 1 { "Post" } else { "Posts" }, some_marks(&all, 8)),
        marks: all,
        ok: group.ok(),
        facts,
        forces: forces.collect(),
        sketch: None,
        limits,
        all: count(false),
        met: met(false),
        fits: count(true),
        fits_met: met(true),
        assumptions: String::new(),
        worked: format!("B{}", kind.no),
    }
}
