//! Every limit of some posts, with demand, capacity, clause and combination.

use super::paper::{Paper, closeness, met, verdict};
use super::summary::closing;
use crate::diag::count;
use crate::engine::{GroupResult, Limit, Results};
use crate::job::{Job, some_posts};
use crate::typeset::{Shown, two_sides};
use crate::verdict::Verdict;

/// Every limit of every post, a group of posts that are alike at a time.
pub fn all_limits<'a>(
    job: &'a Job,
    results: &'a Results,
    stands: &'a Verdict,
    paper: Paper,
) -> impl Iterator<Item = String> + 'a {
    let head = paper.paragraph(&format!("{}, {}", job.card.name, job.card.place));
    let groups = results.groups.iter().map(move |group| {
        let marks: Vec<String> = group.posts.iter().map(|post| job.posts[*post].mark.clone()).collect();
        format!("\n{}{}", limits(job, results, group, &marks, paper), fits_counted(group, paper))
    });
    let close = move || results.groups.iter().flat_map(|group| &group.limits).any(Limit::close);
    let end = move || closeness(close(), paper) + &closing(job, stands, paper);
    std::iter::once(head).chain(groups).chain(std::iter::once_with(end))
}

/// Every limit and fit of some posts, by their places in the job.
pub fn post_limits(job: &Job, results: &Results, posts: &[usize], paper: Paper) -> String {
    let one = |post: &usize| {
        let group = &results.groups[results.group_of[*post]];
        let mark = [job.posts[*post].mark.clone()];
        format!("{}{}", limits(job, results, group, &mark, paper), fits(group, paper))
    };
    let close = |post: &usize| results.groups[results.group_of[*post]].limits.iter().any(Limit::close);
    posts.iter().map(one).collect::<Vec<_>>().join("\n") + &closeness(posts.iter().any(close), paper)
}

fn limits(job: &Job, results: &Results, group: &GroupResult, marks: &[String], paper: Paper) -> String {
    let posts = some_posts(marks, usize::MAX);
    let row = |limit: &Limit| {
        let (demand, capacity, ratio) = sides(limit);
        // A number stays with its unit.
        let [demand, capacity] = [demand, capacity].map(|side| side.replace(' ', "\u{a0}"));
        vec![named(limit, &combination(results, limit)), demand, capacity, ratio, verdict(limit)]
    };
    let rows = group.limits.iter().filter(|limit| !limit.is_fit()).map(row).collect();
    let head = ["limit [clause; combination]", "demand", "capacity", "ratio", ""];
    let title = format!("{}{} on {}:", posts[..1].to_uppercase(), &posts[1..], job.posts[group.posts[0]].base());
    paper.paragraph(&title) + &paper.table(0, &head, rows, &[1, 2, 3])
}

/// A limit with its clause and combination below, and what would help where it is not met.
fn named(limit: &Limit, combination: &str) -> String {
    let rule = limit.rule();
    let mut text = rule.say.clone();
    let whence = whence(limit, combination);
    if !whence.is_empty() {
        text.push_str(&format!("\n[{whence}]"));
    }
    if !limit.ok() {
        text.push_str(&format!("\nRemedy: {}", rule.remedy));
    }
    text
}

/// `NDS 2018 3.4.3.3; D + 0.6W3`.
pub(super) fn whence(limit: &Limit, combination: &str) -> String {
    let texts = [limit.rule().cite.as_deref().unwrap_or(""), combination];
    texts.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join("; ")
}

/// Whether parts go together, each by its name.
fn fits(group: &GroupResult, paper: Paper) -> String {
    let row = |fit: &Limit| vec![named(fit, ""), verdict(fit)];
    let rows: Vec<Vec<String>> = group.limits.iter().filter(|limit| limit.is_fit()).map(row).collect();
    if rows.is_empty() {
        String::new()
    } else {
        format!("\n{}", paper.table(0, &["what goes together", ""], rows, &[]))
    }
}

/// The same in a line, and those alone that do not.
fn fits_counted(group: &GroupResult, paper: Paper) -> String {
    let fits = || group.limits.iter().filter(|limit| limit.is_fit());
    let (all, failed) = (fits().count(), fits().filter(|fit| !fit.ok()).count());
    let verb = if failed == 1 { "does" } else { "do" };
    let mut out = match failed {
        _ if all == 0 => String::new(),
        0 => format!("  {}: everything goes together\n", count(all, "fit")),
        _ => format!("  {failed} of {} {verb} NOT go together\n", count(all, "fit")),
    };
    let rows: Vec<Vec<String>> = fits().filter(|fit| !fit.ok()).map(|fit| vec![named(fit, ""), met(false)]).collect();
    if !rows.is_empty() {
        out.push_str(&paper.table(2, &["", ""], rows, &[]));
    }
    out
}

/// Demand, capacity and ratio as printed; of a limit that is no ratio, none.
pub(super) fn sides(limit: &Limit) -> (String, String, String) {
    let verdict = limit.verdict();
    match &verdict.sides {
        Some((demand, capacity)) => {
            let (demand, capacity, ratio) = two_sides(demand, capacity, verdict.ratio);
            let join = |shown: Shown| format!("{} {}", shown.number, shown.unit).trim_end().to_string();
            (join(demand), join(capacity), ratio)
        }
        None => (String::new(), String::new(), "–".into()),
    }
}

/// The combination that governs, where loads enter.
pub(super) fn combination(results: &Results, limit: &Limit) -> String {
    if limit.varies() { results.combinations[limit.run()].name.clone() } else { String::new() }
}
