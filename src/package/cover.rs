//! The cover: who answers for the package, how the job stands, what is not met.

use std::collections::BTreeSet;

use super::chosen::use_of;
use super::ledger::Ledger;
use super::model::{Failure, JobCard, TitleBlock, Verdict};
use crate::engine::{GroupResult, Limit, Results};
use crate::job::{Card, Job, some_marks};
use crate::names::same_name;
use crate::verdict::Verdict as Stand;

pub(super) fn card(job: &Job) -> JobCard {
    let card = &job.card;
    JobCard {
        name: card.name.clone(),
        place: card.place.clone(),
        number: card.number.clone(),
        client: card.client.clone(),
        date: card.date.to_string(),
        revision: card.revision.clone(),
        prepared_by: card.prepared_by.clone(),
        checked_by: card.checked_by.clone(),
        checker_note: checker_note(card),
    }
}

/// What the title block says of the firm; none where the job names none and has no title
/// block of its own.
pub(super) fn title_block(job: &Job) -> Option<TitleBlock> {
    if job.firm.is_none() && job.title_block.is_none() {
        return None;
    }
    let firm = job.firm.as_ref();
    let logo = firm.and_then(|firm| firm.logo.as_ref());
    let name = firm.map_or(String::new(), |firm| firm.name.clone());
    Some(TitleBlock {
        alt: format!("logo of {name}"),
        name,
        address: firm.map_or_else(Vec::new, |firm| firm.address.clone()),
        licence: firm.map_or(String::new(), |firm| firm.licence.clone()),
        logo: logo.map(|logo| logo.virtual_path().into()),
        ratio: logo.map_or(1.0, |logo| logo.ratio),
        digest: logo.map_or(String::new(), |logo| logo.digest.clone()),
        own: job.title_block.is_some(),
        changed: false,
    })
}

/// Nobody checks their own work.
fn checker_note(card: &Card) -> String {
    match !card.checked_by.is_empty() && same_name(&card.checked_by, &card.prepared_by) {
        true => "The checker is the originator: somebody else has to check this package.".into(),
        false => String::new(),
    }
}

/// Marks that an entry has room for.
const MARKS: usize = 24;

/// A limit by its sheet and its words, which are often the same.
fn named(group: &GroupResult, limit: &Limit) -> String {
    let (title, say, of) = (limit.title(), &limit.rule().say, use_of(group, limit).unwrap_or_default());
    if title.eq_ignore_ascii_case(say) { format!("{title}{of}") } else { format!("{title}: {say}{of}") }
}

/// The sentence of the whole job, and each limit that is not met: once, with all
/// the posts that do not meet it.
pub(super) fn failures(job: &Job, results: &Results, stand: &Stand, ledger: &Ledger) -> Verdict {
    let mut found: Vec<(Failure, BTreeSet<usize>)> = Vec::new();
    for group in &results.groups {
        for limit in group.limits.iter().filter(|limit| !limit.ok()) {
            let failure = Failure {
                marks: String::new(),
                limit: named(group, limit),
                remedy: limit.rule().remedy.clone(),
                line: ledger.line_of(limit),
                changed: false,
            };
            // Each post has a column of numbers of its own: the first is led to.
            // What one post fails twice is listed twice, as it is counted.
            let same = |(known, posts): &(Failure, BTreeSet<usize>)| {
                (&known.limit, &known.remedy) == (&failure.limit, &failure.remedy) && !posts.contains(&group.posts[0])
            };
            let at = found.iter().position(same).unwrap_or_else(|| {
                found.push((failure, BTreeSet::new()));
                found.len() - 1
            });
            found[at].1.extend(&group.posts);
        }
    }
    let with_marks = |(failure, posts): (Failure, BTreeSet<usize>)| {
        let marks: Vec<String> = posts.iter().map(|post| job.posts[*post].mark.clone()).collect();
        Failure { marks: some_marks(&marks, MARKS), ..failure }
    };
    Verdict {
        ok: results.ok(),
        headline: stand.headline.clone(),
        changed: false,
        failures: found.into_iter().map(with_marks).collect(),
    }
}
