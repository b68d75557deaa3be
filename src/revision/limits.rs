//! How each limit of each post came out, then and now.

use std::collections::BTreeMap;

use crate::engine::{GroupResult, Results};
use crate::job::Job;
use crate::quantity::number_fixed;

/// Posts that are alike, with all of their limits.
#[derive(Debug)]
pub struct Stands {
    pub posts: Vec<String>,
    pub limits: BTreeMap<LimitName, Outcome>,
}

/// The use of a sheet, the limit in words, and which of several of these words.
pub type LimitName = (String, String, usize);

#[derive(Clone, Debug)]
pub struct Outcome {
    /// The title of the sheet.
    pub sheet: String,
    /// None for a limit that is no ratio.
    pub ratio: Option<f64>,
    pub ok: bool,
    /// That governs; empty where no load enters.
    pub combination: String,
}

impl Outcome {
    /// The ratio as it is printed.
    pub fn printed(&self) -> String {
        printed(self.ratio)
    }
}

/// A ratio as it is printed, if there is one.
pub fn printed(ratio: Option<f64>) -> String {
    ratio.filter(|ratio| ratio.is_finite()).map_or("–".into(), |ratio| number_fixed(ratio, 3))
}

/// A limit of some posts that came out otherwise, or that one edition does not ask.
#[derive(Debug)]
pub struct LimitChange {
    pub posts: Vec<String>,
    /// `post/made-base/pins`.
    pub path: String,
    pub limit: String,
    pub old: Option<Outcome>,
    pub new: Option<Outcome>,
}

impl LimitChange {
    /// Verdict or printed ratio differ.
    pub fn is_seen(&self) -> bool {
        match (&self.old, &self.new) {
            (Some(old), Some(new)) => old.ok != new.ok || old.printed() != new.printed(),
            _ => true,
        }
    }

    /// It is met and was not, is not met and was, or is asked in one edition only.
    pub fn is_turned(&self) -> bool {
        self.old.as_ref().map(|old| old.ok) != self.new.as_ref().map(|new| new.ok)
    }

    /// The ratio moved by more than so much.
    pub fn is_moved(&self, threshold: f64) -> bool {
        let ratio = |outcome: &Option<Outcome>| outcome.as_ref().and_then(|it| it.ratio).unwrap_or(f64::NAN);
        let moved = (ratio(&self.new) - ratio(&self.old)).abs();
        // From or to no ratio at all.
        moved > threshold || moved.is_nan() && ratio(&self.new).is_nan() != ratio(&self.old).is_nan()
    }
}

pub fn stands(job: &Job, results: &Results) -> Vec<Stands> {
    let name = |post: &usize| job.posts[*post].mark.clone();
    let stands = |group: &GroupResult| {
        let mut limits = BTreeMap::new();
        for limit in &group.limits {
            let mut key: LimitName = (limit.path().into(), limit.rule().say.clone(), 0);
            while limits.contains_key(&key) {
                key.2 += 1;
            }
            let combination =
                if limit.varies() { results.combinations[limit.run()].name.clone() } else { String::new() };
            let (sheet, ratio, ok) = (limit.title().to_string(), limit.ratio(), limit.ok());
            limits.insert(key, Outcome { sheet, ratio, ok, combination });
        }
        Stands { posts: group.posts.iter().map(name).collect(), limits }
    };
    results.groups.iter().map(stands).collect()
}

/// Posts by their marks: those of one group that were of one group are compared
/// once.
pub fn compare(old: &[Stands], new: &[Stands]) -> Vec<LimitChange> {
    let group_of = |groups: &[Stands]| -> BTreeMap<String, usize> {
        let of =
            groups.iter().enumerate().flat_map(|(at, group)| group.posts.iter().map(move |post| (post.clone(), at)));
        of.collect()
    };
    let before = group_of(old);
    let mut changes = Vec::new();
    for group in new {
        let mut parts: BTreeMap<Option<usize>, Vec<String>> = BTreeMap::new();
        for post in &group.posts {
            parts.entry(before.get(post).copied()).or_default().push(post.clone());
        }
        // What a post that was not there before has to meet is no change of a limit.
        for (was, posts) in parts {
            if let Some(was) = was {
                changes.extend(differ(&posts, &old[was], group));
            }
        }
    }
    changes
}

fn differ(posts: &[String], old: &Stands, new: &Stands) -> Vec<LimitChange> {
    let change = |(path, limit, _): &LimitName, old: Option<&Outcome>, new: Option<&Outcome>| LimitChange {
        posts: posts.to_vec(),
        path: path.clone(),
        limit: limit.clone(),
        old: old.cloned(),
        new: new.cloned(),
    };
    let mut changes = Vec::new();
    for (name, outcome) in &new.limits {
        match old.limits.get(name) {
            Some(before) if same(before, outcome) => {}
            before => changes.push(change(name, before, Some(outcome))),
        }
    }
    let gone = old.limits.iter().filter(|(name, _)| !new.limits.contains_key(*name));
    changes.extend(gone.map(|(name, outcome)| change(name, Some(outcome), None)));
    changes
}

fn same(old: &Outcome, new: &Outcome) -> bool {
    old.ok == new.ok && old.ratio == new.ratio && old.combination == new.combination
}
