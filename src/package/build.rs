//! The whole package: the worked pages, and the parts around them in the order
//! in which they are read.

use super::appendix::{clauses, inputs, reports, sources};
use super::basis::{codes, loads_assumptions};
use super::cover::{card, failures};
use super::ledger::{Ledger, spans_text};
use super::load_path::{handed, load_path};
use super::model::{Assumption, Case, Group, Package, PagesRef, Revision, ScheduleTable, Span, SummaryRow};
use super::open::open;
use super::own::own;
use super::plain::sheets;
use super::plan::{Overhead, key_plan};
use super::reactions::{balance, combinations, group_ref, what};
use super::summary::summary;
use super::worked::group;
use crate::engine::{GroupResult, Made, Shown, Worked, described, made, roof_area, roof_over, schedules, sides, ways};
use crate::job::{CATALOGUES, Job, Post};
use crate::sheet::PageKind;
use crate::verdict::Verdict as Stand;

/// The whole package, and the worked pages by the file that holds them: loads
/// first, then each group.
pub fn build(worked: &Worked, verdict: &Stand, program: &str, digest: &str) -> (Package, Vec<(String, Group)>) {
    let Worked { root, results, loads, lines } = worked;
    let (job, library) = (root.job, root.library);
    let mut ledger = Ledger::default();
    for text in &job.assumptions {
        ledger.assumptions.push((vec![Span::Text(text.clone())], "stated by the job".into()));
    }
    loads_assumptions(job, results, &mut ledger);
    let mut pages: Vec<(String, Group)> = Vec::new();
    let mut overhead = Overhead::default();
    for (root, result) in loads.iter().flat_map(|(root, loads)| loads.groups.iter().map(move |group| (root, group))) {
        let shown = Shown::new(root, &[], result);
        overhead.areas.extend(roof_area(shown.worked(0)).map(|area| (result.posts.clone(), area)));
        overhead.roof = overhead.roof.or_else(|| roof_over(shown.worked(0)));
        let page = group(job, library, &[], &shown, 'L', Vec::new(), &mut ledger);
        pages.push((format!("/loads-{}.json", result.no), page));
    }
    for (no, (title, root, result)) in lines.iter().enumerate() {
        let shown = Shown::new(root, &[], result);
        let page = Group { title: title.clone(), ..group(job, library, &[], &shown, 'R', Vec::new(), &mut ledger) };
        pages.push((format!("/line-{no}.json"), page));
    }
    let load_values = std::mem::take(&mut ledger.values).tables();
    let balance = loads.iter().flat_map(|(_, loads)| balance(job, loads)).collect();
    let loads =
        pages.iter().map(|(file, worked)| PagesRef { title: worked.title.clone(), file: file.clone() }).collect();
    let made: Vec<(&GroupResult, Made)> =
        results.groups.iter().map(|group| (group, made(root, results, group))).collect();
    let described: Vec<String> = made.iter().map(|(_, worked)| described(worked)).collect();
    let sizes: Vec<[f64; 2]> = made.iter().map(|(_, worked)| sides(worked)).collect();
    let mut highest = Vec::new();
    for (result, described) in results.groups.iter().zip(&described) {
        let facts = facts(&job.posts[result.posts[0]], described);
        // The steps of a group are forgotten once its pages are made.
        let shown = Shown::new(root, &results.combinations, result);
        let page = group(job, library, &results.combinations, &shown, 'B', facts, &mut ledger);
        pages.push((format!("/group-{}.json", result.no), page));
        highest.push(shown.highest());
    }

    let package = Package {
        job: card(job),
        program: program.into(),
        digest: digest.into(),
        demo: job.demo(),
        verdict: failures(job, results, verdict, &ledger),
        open: open(job, verdict),
        revisions: job
            .revisions
            .iter()
            .map(|row| Revision { no: row.no.clone(), date: row.date.clone(), what: row.what.clone() })
            .collect(),
        codes: codes(&job.basis),
        summary: job
            .posts
            .iter()
            .enumerate()
            .map(|(at, post)| SummaryRow {
                open: verdict.open_of(at),
                ..summary(post, results, results.group_of[at], &described, &ledger)
            })
            .collect(),
        plan: key_plan(job, results, &overhead, &made, (&described, &sizes), &ways(job)),
        load_path: load_path(job, &made, overhead.roof.as_ref()),
        assumptions: ledger
            .assumptions
            .iter()
            .enumerate()
            .map(|(at, (text, cite))| Assumption { no: format!("A{}", at + 1), text: text.clone(), cite: cite.clone() })
            .collect(),
        own: own(job, library, &ledger),
        not_covered: ledger.not_covered.iter().map(|spans| spans_text(spans)).collect(),
        cases: job.cases().into_iter().map(|name| Case { what: what(&name), name }).collect(),
        combinations: combinations(results),
        handed: handed(job, results),
        balance,
        groups: results
            .groups
            .iter()
            .zip(&highest)
            .map(|(group, highest)| group_ref(job, results, group, highest))
            .collect(),
        loads,
        load_values,
        values: ledger.values.tables(),
        schedules: schedules(job, &made)
            .into_iter()
            .map(|table| ScheduleTable {
                title: table.title.into(),
                header: table.header.into_iter().map(String::from).collect(),
                rows: table.rows,
            })
            .collect(),
        shop: sheets(job, &made, PageKind::Shop, &ledger),
        field: sheets(job, &made, PageKind::Field, &ledger),
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
