//! The whole package: the worked pages, and the parts around them in the order
//! in which they are read.

use std::sync::Arc;

use rayon::prelude::*;

use super::appendix::{clauses, inputs, reports, sources};
use super::awaited::Awaited;
use super::basis::{codes, loads_assumptions};
use super::calculation;
use super::chapters::{of_loads, of_posts};
use super::chosen::Chosen;
use super::cover::{card, failures, title_block};
use super::design_loads::design_loads;
use super::figure::Figures;
use super::frames::{self, Frames};
use super::inspections::inspections;
use super::ledger::{Ledger, spans_text};
use super::load_path::load_path;
use super::model::{Assumption, Calculation, Package, PagesRef, Revision, Span, Worked};
use super::open::open;
use super::own::own;
use super::plain::sheets;
use super::plan::key_plan;
use super::reactions::{
    WorkedOut, balance, cases, combination_key, combination_sets, combinations, equilibrium, governing, group_ref,
    handed, load_model, reactions,
};
use super::roof::roof_page;
use super::schedules;
use super::summary::{ranking, summary};
use super::sums::refer;
use super::worked::register;
use crate::engine::{self, GroupResult, Made, Overhead, Shown, bringing, described, made, sides, ways};
use crate::job::{CATALOGUES, Job, Post};
use crate::sheet::PageKind;
use crate::verdict::Verdict as Stand;

/// The pages that stand in files of their own.
#[derive(Debug, Default)]
pub struct Pages {
    pub loads: Vec<Worked>,
    pub sheets: Vec<Calculation>,
    pub worked: Vec<Worked>,
}

/// The loads of the posts that govern, and the frames of their lines; which reactions are
/// worked there.
fn loads_worked(
    worked: &engine::Worked,
    bringing: &[(&GroupResult, Arc<Made>)],
    chosen: &Chosen,
    ledger: &mut Ledger,
    full: bool,
) -> (Vec<Worked>, WorkedOut) {
    let Some((root, derived)) = &worked.loads else { return Default::default() };
    let shown = frames::shown(&worked.frames);
    let frames = Frames::new(root.job, &worked.frames, &shown);
    let read = frames.as_ref().map(Frames::reads).unwrap_or_default();
    let Some(mut loads) = of_loads(root, bringing, derived, (worked.results, chosen), &read, ledger, full) else {
        return Default::default();
    };
    let mut pages = Vec::new();
    if let Some(frames) = frames {
        let (frames, words, more) = frames.write(&worked.frames, root.job, &loads.lines, ledger);
        loads.reactions.extend(more);
        if !words.is_empty() {
            refer(&mut loads.pages, &words);
        }
        pages.push(frames);
    }
    pages.insert(0, loads.pages);
    (pages, loads.reactions)
}

/// The whole package, and the pages that it refers to. `full` works every limit of
/// every post.
pub fn build(
    worked: &engine::Worked,
    verdict: &Stand,
    program: &str,
    digest: &str,
    full: bool,
    figures: &Figures,
) -> (Package, Pages) {
    let engine::Worked { root, results, loads, frames } = worked;
    let loads = loads.as_ref();
    let (job, library) = (root.job, root.library);
    let mut ledger = Ledger::default();
    for text in &job.assumptions {
        ledger.assumptions.push((vec![Span::Text(text.clone())], "stated in the job".into()));
    }
    loads_assumptions(job, results, &mut ledger);
    let open = open(job, verdict);
    ledger.questions = open.assumed.iter().map(|it| (it.input.clone(), it.no.clone())).collect();
    ledger.awaited = Awaited::new(verdict, library);
    let mut overhead = Overhead::default();
    let bringing: Vec<(&GroupResult, Arc<Made>)> = loads
        .iter()
        .flat_map(|(root, loads)| {
            loads.groups.par_iter().map(|group| (group, bringing(root, group))).collect::<Vec<_>>()
        })
        .collect();
    for (group, made) in &bringing {
        register(made, &group.posts, &mut ledger);
        overhead.add(&group.posts, made);
    }
    for (root, result) in frames.iter().flat_map(|frame| &frame.sheets) {
        register(Shown::new(root, &[], result).worked(0), &result.posts, &mut ledger);
    }
    let made: Vec<Arc<Made>> = results.groups.par_iter().map(|group| made(root, results, group)).collect();
    for (group, made) in results.groups.iter().zip(&made) {
        register(made, &group.posts, &mut ledger);
    }
    let shown: Vec<Shown> = results.groups.iter().map(|group| Shown::new(root, &results.combinations, group)).collect();
    let chosen = Chosen::new(job, results, &shown, full);
    let mut pages = Pages::default();
    let (loads_worked, worked_out) = loads_worked(worked, &bringing, &chosen, &mut ledger, full);
    let posts_worked = vec![of_posts(root, results, &chosen, &shown, &made, &mut ledger, full)];
    drop(shown);
    let described: Vec<String> = made.iter().map(|made| described(job.units, made)).collect();
    let sizes: Vec<[f64; 2]> = made.iter().map(|made| sides(made)).collect();
    let calculations = results.groups.par_iter().enumerate().map(|(at, group)| {
        let facts = facts(&job.posts[group.posts[0]], &described[at]);
        // The combinations of a sheet are forgotten with it: all at once would be large.
        let shown = Shown::new(root, &results.combinations, group);
        let of = calculation::Of { job, root, results, group, chosen: &chosen, at, shown: &shown, made: &made[at] };
        calculation::sheet(&of, facts, &ledger)
    });
    pages.sheets = calculation::shared(calculations.collect());
    let calculations = pages.sheets.iter().enumerate();
    let calculations = calculations
        .map(|(at, sheet)| PagesRef { title: sheet.title.clone(), file: format!("/sheet-{}.json", at + 1) })
        .collect();
    let balance = balance(job, loads.as_ref().map(|(_, loads)| *loads));
    let refs = |letter: &str, worked: &[Worked]| {
        let refs = worked.iter().enumerate();
        refs.map(|(at, it)| PagesRef { title: it.title.clone(), file: format!("/{letter}-{}.json", at + 1) })
            .collect::<Vec<_>>()
    };
    let (loads, limits) = (refs("loads", &loads_worked), refs("worked", &posts_worked));
    (pages.loads, pages.worked) = (loads_worked, posts_worked);
    let made: Vec<(&GroupResult, Arc<Made>)> = results.groups.iter().zip(made).collect();

    let package = Package {
        job: card(job),
        title_block: title_block(job),
        program: program.into(),
        force: job.units.force_unit(),
        line_load: job.units.line_load_unit(),
        digest: digest.into(),
        archive: String::new(),
        demo: job.demo(),
        verdict: failures(job, results, verdict, &ledger),
        open,
        revisions: job
            .revisions
            .iter()
            .map(|row| Revision { no: row.no.clone(), date: row.date.clone(), what: row.what.clone() })
            .collect(),
        since: None,
        codes: codes(&job.basis),
        design_loads: design_loads(job, bringing.iter().chain(&made).map(|(_, made)| &**made)),
        inspections: inspections(job, &made),
        summary: summary(job, results, verdict, &described, &ledger),
        ranking: ranking(job, results, &ledger),
        plan: key_plan(job, results, &overhead, &made, (&described, &sizes), &ways(job)),
        roof: overhead.roof.as_ref().and_then(|roof| roof_page(job, roof)),
        load_path: load_path(job, &made, overhead.roof.as_ref()),
        assumptions: ledger
            .assumptions
            .iter()
            .enumerate()
            .map(|(at, (text, cite))| Assumption {
                no: format!("A{}", at + 1),
                text: text.clone(),
                cite: cite.clone(),
                changed: false,
            })
            .collect(),
        own: own(job, library, &ledger),
        not_covered: ledger.not_covered.iter().map(|spans| spans_text(spans).into()).collect(),
        cases: cases(job),
        reactions: reactions(job, &worked_out),
        combinations: combinations(results),
        combination_sets: combination_sets(job, results),
        combination_key: combination_key(job),
        governing: governing(job, results),
        handed: handed(job, results),
        load_model: load_model(job).into(),
        equilibrium: equilibrium(job, &balance).into(),
        balance,
        groups: results.groups.iter().map(|group| group_ref(job, group)).collect(),
        loads,
        sheets: calculations,
        worked: limits,
        schedules: schedules::tables(job, &made),
        shop: sheets(job, &made, PageKind::Shop, &ledger, figures),
        field: sheets(job, &made, PageKind::Field, &ledger, figures),
        inputs: inputs(job),
        reports: reports(job),
        sources: sources(&ledger),
        clauses: clauses(&ledger),
    };
    (package, pages)
}

/// The post as the order list has it, and what it chose from each catalogue.
fn facts(post: &Post, described: &str) -> Vec<(String, String)> {
    std::iter::once(("post".to_string(), described.to_string())).chain(chosen(post)).collect()
}

/// What a post chose from each catalogue: its base, its foundation, its anchors.
pub(super) fn chosen(post: &Post) -> Vec<(String, String)> {
    let chosen = CATALOGUES.iter().filter_map(|catalogue| {
        let entry = post.entries.get(catalogue.name)?;
        Some((catalogue.column.to_string(), entry.name.clone()))
    });
    chosen.collect()
}

pub(super) fn marks(job: &Job, group: &GroupResult) -> Vec<String> {
    group.posts.iter().map(|post| job.posts[*post].mark.clone()).collect()
}
