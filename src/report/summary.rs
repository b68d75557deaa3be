//! How a job stands, on one screen: a line for each post or posts that are alike,
//! what is not met and what would help, what is open.

use std::collections::{BTreeMap, BTreeSet};

use super::limits::{combination, sides, whence};
use super::paper::{Paper, closeness, met};
use crate::diag::count;
use crate::engine::{GroupResult, Limit, Results};
use crate::job::{Job, some_marks};
use crate::verdict::{Asks, Question, Verdict};

/// Runs of marks that a line has room for.
const MARKS: usize = 8;

/// Open things of each kind that are named.
const NAMED: usize = 4;

pub fn summary(job: &Job, results: &Results, verdict: &Verdict, paper: Paper) -> String {
    let mut out = paper.paragraph(&format!("{}, {}", job.card.name, job.card.place));
    out.push('\n');
    out.push_str(&posts(job, results, paper));
    let failed = failures(job, results, paper);
    if !failed.is_empty() {
        out.push_str(&format!("\n{failed}"));
    }
    out + &closing(job, verdict, paper)
}

/// What is not met first, then the highest ratio.
fn posts(job: &Job, results: &Results, paper: Paper) -> String {
    let mut groups: Vec<&GroupResult> = results.groups.iter().collect();
    let height = |group: &GroupResult| group.governing().and_then(Limit::ratio).unwrap_or(-1.0);
    groups.sort_by(|a, b| a.ok().cmp(&b.ok()).then(height(b).total_cmp(&height(a))));
    let row = |group: &GroupResult| {
        let governing = group.governing();
        let of = |text: &dyn Fn(&Limit) -> String| governing.map_or(String::new(), text);
        vec![
            some_marks(&marks(job, group.posts.iter()), MARKS),
            of(&|limit| limit.rule().say.clone()),
            // The first of several: a line has little room.
            of(&|limit| limit.rule().cite.as_deref().unwrap_or("").split(';').next().unwrap_or("").into()),
            of(&|limit| combination(results, limit)),
            of(&|limit| sides(limit).2),
            met(group.ok()) + if governing.is_some_and(Limit::close) { ", close" } else { "" },
        ]
    };
    let head = ["post", "governing limit", "clause", "combination", "ratio", ""];
    let close = groups.iter().any(|group| group.governing().is_some_and(Limit::close));
    paper.table(0, &head, groups.into_iter().map(row).collect(), &[4]) + &closeness(close, paper)
}

fn marks<'a>(job: &Job, posts: impl Iterator<Item = &'a usize>) -> Vec<String> {
    posts.map(|post| job.posts[*post].mark.clone()).collect()
}

/// Each limit and fit that is not met once, as it is in the post where it is worst, with all its posts and
/// what would help; the worst first.
pub fn failures(job: &Job, results: &Results, paper: Paper) -> String {
    let mut found: BTreeMap<(&str, &str, &str), (&Limit, BTreeSet<usize>)> = BTreeMap::new();
    for group in &results.groups {
        for limit in group.limits.iter().filter(|limit| !limit.ok()) {
            let rule = limit.rule();
            let (worst, posts) =
                found.entry((&rule.say, &rule.remedy, limit.sheet())).or_insert((limit, BTreeSet::new()));
            if limit.ratio() > worst.ratio() {
                *worst = limit;
            }
            posts.extend(&group.posts);
        }
    }
    let several = |limit: &Limit| found.keys().filter(|(say, ..)| *say == limit.rule().say).count() > 1;
    let mut worst: Vec<&(&Limit, BTreeSet<usize>)> = found.values().collect();
    let height = |limit: &Limit| limit.ratio().unwrap_or(f64::INFINITY);
    worst.sort_by(|a, b| height(b.0).total_cmp(&height(a.0)).then(a.1.cmp(&b.1)));
    let row = |(limit, posts): &(&Limit, BTreeSet<usize>)| {
        let (demand, capacity, ratio) = sides(limit);
        let of = if several(limit) { format!(" ({})", limit.sheet()) } else { String::new() };
        let mut text = format!("{}{of}", limit.rule().say);
        if !capacity.is_empty() {
            text.push_str(&format!(": {demand} of {capacity}, ratio {ratio}"));
        }
        vec![
            some_marks(&marks(job, posts.iter()), MARKS),
            [text, whence(limit, &combination(results, limit)), format!("Remedy: {}", limit.rule().remedy)]
                .into_iter()
                .filter(|line| !line.is_empty())
                .collect::<Vec<_>>()
                .join("\n"),
        ]
    };
    match worst.is_empty() {
        true => String::new(),
        false => format!("Not met:\n{}", paper.table(2, &["", ""], worst.into_iter().map(row).collect(), &[])),
    }
}

/// What holds for the job as a whole; the last line is its verdict.
pub(super) fn closing(job: &Job, verdict: &Verdict, paper: Paper) -> String {
    let mut out = String::from("\n");
    let mut say = |text: String| out.push_str(&paper.paragraph(&text));
    for (kind, reason) in &verdict.declared {
        say(format!("Declared: no {kind}, {reason}."));
    }
    for (file, stands) in &verdict.own {
        say(format!("The job's own: {file}, {stands}."));
    }
    for question in verdict.open().filter(|question| !question.why.is_empty()) {
        say(format!("Open again: {} {}: {}.", question.what, question.row, question.why));
    }
    for what in &verdict.idle {
        say(format!("Decided, but not needed by any sheet of this job: {what}."));
    }
    if verdict.open().next().is_some() {
        let gap = if out.len() > 1 { "\n" } else { "" };
        out.push_str(&format!("{gap}Open:\n{}", open(job, verdict, paper)));
        let folder = if job.folder.contains(' ') { format!("\"{}\"", job.folder) } else { job.folder.clone() };
        out.push_str(
            &paper.paragraph(&format!("`socle check {folder} --open` prints all of it, ready to be filled in.")),
        );
    }
    if out.len() > 1 {
        out.push('\n');
    }
    out.push_str(&paper.paragraph(NOT_FOR_CONSTRUCTION));
    out + &paper.paragraph(&verdict.headline)
}

const NOT_FOR_CONSTRUCTION: &str =
    "Not for construction until a licensed design professional has reviewed and sealed it.";

/// How many of each kind, and those that most posts rest on.
fn open(job: &Job, verdict: &Verdict, paper: Paper) -> String {
    let mut kinds: BTreeMap<Asks, Vec<&Question>> = BTreeMap::new();
    verdict.open().for_each(|question| kinds.entry(question.asks).or_default().push(question));
    let row = |(asks, questions): (&Asks, &Vec<&Question>)| {
        // Rows of one table are named together.
        let mut named: Vec<(String, Vec<&Question>)> = Vec::new();
        for question in questions {
            let name = subject(job, question);
            match named.iter_mut().find(|(known, _)| *known == name) {
                Some((_, all)) => all.push(question),
                None => named.push((name, vec![question])),
            }
        }
        named.sort_by_key(|(_, all)| std::cmp::Reverse(all.iter().map(|question| question.posts.len()).max()));
        let words = |(name, all): &(String, Vec<&Question>)| match all.as_slice() {
            all if all[0].asks == Asks::Starter => format!("{name} ({})", count(all.len(), "value")),
            [one] if one.asks != Asks::Confirmation => format!("{name} ({})", one.value),
            rows => format!("{name} ({})", count(rows.len(), "row")),
        };
        let mut shown: Vec<String> = named.iter().take(NAMED).map(words).collect();
        if named.len() > NAMED {
            shown.push(format!("and {} more", named.len() - NAMED));
        }
        vec![asks.counted(questions.len()), shown.join("; ")]
    };
    paper.table(2, &["", ""], kinds.iter().map(row).collect(), &[])
}

/// What a question is about: the question itself, a table, a key or a column.
fn subject(job: &Job, question: &Question) -> String {
    match question.asks {
        Asks::Assumption => format!("{} {}", question.stands(job).0, question.what),
        // There are many in a file, and a person opens the file.
        Asks::Starter => question.stands(job).0,
        _ => question.what.clone(),
    }
}
