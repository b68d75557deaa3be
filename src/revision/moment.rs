//! How a job stands between two saves, and what is otherwise in the later.

use std::collections::{BTreeMap, BTreeSet};

use super::limits::{self, LimitChange, Outcome, Stands};
use crate::engine::Results;
use crate::job::Job;
use crate::verdict::{Asks, Question, Verdict};

/// A job as it stands.
#[derive(Debug)]
pub struct Moment {
    pub headline: String,
    /// All limits are met.
    pub ok: bool,
    /// Posts by mark, in their order.
    posts: Vec<(String, Governing)>,
    stands: Vec<Stands>,
    open: BTreeSet<OpenQuestion>,
}

/// What governs a post.
#[derive(Clone, Debug, PartialEq)]
pub struct Governing {
    /// All limits of the post are met.
    pub ok: bool,
    pub limit: String,
    /// As it is printed; what is no ratio has a dash.
    pub ratio: String,
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct OpenQuestion {
    pub asks: Asks,
    pub words: String,
}

/// What is otherwise than it was.
#[derive(Debug, Default)]
pub struct Changes {
    /// The verdict that was, if it is another now.
    pub headline: Option<String>,
    /// Limits that are not met any more, or are new and not met; the worst first.
    pub fail: Vec<LimitChange>,
    /// Limits that were not met and are.
    pub met: Vec<LimitChange>,
    /// What governs, where that changed; first the posts of which something is not met any more, then the highest ratio.
    pub governing: Vec<GoverningChange>,
    /// Questions that are open now and were not, and the other way.
    pub opened: Vec<OpenQuestion>,
    pub closed: Vec<OpenQuestion>,
    /// Posts that are there no longer.
    pub gone: Vec<String>,
}

/// Posts that are governed in one way and were in another.
#[derive(Debug)]
pub struct GoverningChange {
    pub posts: Vec<String>,
    /// None for new posts.
    pub old: Option<Governing>,
    pub new: Governing,
}

impl Moment {
    pub fn new(job: &Job, results: &Results, verdict: &Verdict) -> Moment {
        let governing = |group: &crate::engine::GroupResult| {
            let limit = group.governing();
            Governing {
                ok: group.ok(),
                limit: limit.map_or(String::new(), |limit| limit.rule().say.clone()),
                ratio: limits::printed(limit.and_then(|limit| limit.ratio())),
            }
        };
        let groups: Vec<Governing> = results.groups.iter().map(governing).collect();
        let posts = job.posts.iter().zip(&results.group_of);
        Moment {
            headline: verdict.headline.clone(),
            ok: results.ok(),
            posts: posts.map(|(post, group)| (post.mark.clone(), groups[*group].clone())).collect(),
            stands: limits::stands(job, results),
            open: verdict.open().map(|it| question(job, it)).collect(),
        }
    }

    /// What is otherwise in a later moment.
    pub fn changes(&self, later: &Moment) -> Changes {
        let (mut fail, mut met) = (Vec::new(), Vec::new());
        for change in limits::compare(&self.stands, &later.stands) {
            let ok = |outcome: &Option<Outcome>| outcome.as_ref().is_none_or(|outcome| outcome.ok);
            match (ok(&change.old), ok(&change.new)) {
                (true, false) => fail.push(change),
                (false, true) if change.new.is_some() => met.push(change),
                _ => {}
            }
        }
        let ratio = |change: &LimitChange| {
            change
                .new
                .as_ref()
                .and_then(|new| new.ratio)
                .map_or(f64::INFINITY, |ratio| if ratio.is_nan() { f64::INFINITY } else { ratio })
        };
        fail.sort_by(|a, b| ratio(b).total_cmp(&ratio(a)));
        let marks = |moment: &Moment| moment.posts.iter().map(|(mark, _)| mark.clone()).collect::<BTreeSet<_>>();
        let now = marks(later);
        Changes {
            headline: (self.headline != later.headline).then(|| self.headline.clone()),
            fail,
            met,
            governing: self.governing(later),
            opened: later.open.difference(&self.open).cloned().collect(),
            closed: self.open.difference(&later.open).cloned().collect(),
            gone: self.posts.iter().map(|(mark, _)| mark).filter(|mark| !now.contains(*mark)).cloned().collect(),
        }
    }

    fn governing(&self, later: &Moment) -> Vec<GoverningChange> {
        let before: BTreeMap<&String, &Governing> =
            self.posts.iter().map(|(mark, governing)| (mark, governing)).collect();
        let mut changes: Vec<GoverningChange> = Vec::new();
        for (mark, new) in &later.posts {
            let old = before.get(mark).copied();
            if old == Some(new) {
                continue;
            }
            match changes.iter_mut().find(|change| change.old.as_ref() == old && change.new == *new) {
                Some(change) => change.posts.push(mark.clone()),
                None => {
                    changes.push(GoverningChange { posts: vec![mark.clone()], old: old.cloned(), new: new.clone() })
                }
            }
        }
        let key = |change: &GoverningChange| {
            let failed = !change.new.ok && change.old.as_ref().is_none_or(|old| old.ok);
            let ratio = change.new.ratio.replace(',', "").parse::<f64>().unwrap_or(-1.0);
            (!failed, change.new.ok, ratio)
        };
        changes.sort_by(|a, b| {
            let (a, b) = (key(a), key(b));
            (a.0, a.1).cmp(&(b.0, b.1)).then(b.2.total_cmp(&a.2))
        });
        changes
    }
}

impl Changes {
    /// Nothing is seen to be otherwise.
    pub fn none(&self) -> bool {
        self.headline.is_none()
            && self.fail.is_empty()
            && self.met.is_empty()
            && self.governing.is_empty()
            && self.opened.is_empty()
            && self.closed.is_empty()
            && self.gone.is_empty()
    }
}

/// A question in a few words: what is asked, and on which value it rests.
fn question(job: &Job, question: &Question) -> OpenQuestion {
    let (of, row) = question.stands(job);
    let words = match question.asks {
        Asks::Decision => format!("{} ({})", question.what, question.value),
        Asks::Confirmation => format!("{}, {}", question.what, question.row),
        Asks::Assumption | Asks::Starter => {
            let of = if row.is_empty() { of } else { format!("{of}, {row}") };
            format!("{of} {} ({})", question.what, question.value)
        }
    };
    OpenQuestion { asks: question.asks, words }
}
