//! Posts × load combinations × sheets: works the root sheet for every group
//! of equal posts in every combination, and finds what governs each limit.

mod around;
mod asked;
mod cases;
mod columns;
mod combine;
mod derive;
mod earthquake;
mod facts;
mod govern;
mod interval;
mod kept;
mod leans;
mod lines;
mod moved;
mod overhead;
mod reacts;
mod root;
mod schedule;
mod shown;
mod tributary;
mod typed;
mod ways;

use std::collections::BTreeMap;
use std::sync::Arc;

use rayon::prelude::*;

pub use around::Around;
pub use asked::{Asked, Assumed, Looked, Question};
pub use columns::{Column, columns, keys_by_post};
pub use combine::{Combination, Effect};
pub use derive::{Derived, derive_loads, summed};
pub use earthquake::Earthquake;
pub use facts::{is_setting, known_names};
pub use govern::{GroupResult, Handed, Limit, loads_of};
pub use interval::Interval;
pub use kept::Kept;
pub use lines::{Frame, Known, Lines, Share, frames};
pub use moved::{At, Moved};
pub use overhead::{Overhead, RoofOver, RoofWind};
pub use reacts::{Elasticity, Neighbour, Reached, Reacts, Step, reacts};
pub use root::{Loads, Root};
pub use schedule::{Schedule, described, schedules, sides};
pub use shown::{Shown, find};
pub use tributary::{PostGrid, base_level};
pub use typed::Typed;
pub use ways::{Ways, ways};

use crate::diag::{Checked, Diagnostics, once};
use crate::job::{CATALOGUES, Job, Post};
use crate::sheet::Library;

/// The sheet that a post is worked by: the table of contents of a package.
pub const ROOT: &str = "post";

/// The sheet that works out what a post carries, from a site and a roof.
pub const LOADS: &str = "post-loads";

/// The sheets that are worked for a job whether or not another one uses them.
pub const ROOTS: [&str; 4] = [ROOT, LOADS, earthquake::SITE, earthquake::OVERSTRENGTH];

/// The tables that load combinations are made from; no sheet reads them.
pub const TABLES: [&str; 2] = combine::TABLES;

#[derive(Debug)]
pub struct Results {
    /// Where the job has seismic cases.
    pub earthquake: Option<Earthquake>,
    pub combinations: Vec<Combination>,
    /// In the order of their first post.
    pub groups: Vec<GroupResult>,
    /// For each post of the job, its group.
    pub group_of: Vec<usize>,
    /// What was read for the combinations themselves.
    pub asked: Asked,
}

impl Results {
    pub fn ok(&self) -> bool {
        self.groups.iter().all(GroupResult::ok)
    }
}

/// A job that was worked, with all that shows how.
pub struct Worked<'a> {
    pub root: &'a Root<'a>,
    pub results: &'a Results,
    /// The sheet for loads and its groups, where the job has a roof.
    pub loads: Option<(&'a Root<'a>, &'a Derived)>,
    /// The frames of lines that are shown.
    pub frames: Vec<Frame<'a>>,
}

/// The steps of a post through the sheets of both methods, for what does not
/// depend on its loads: pages for the shop and the site, pieces to order.
pub type Made = crate::sheet::Worked;

pub fn made(root: &Root, results: &Results, group: &GroupResult) -> Arc<Made> {
    root.steps(group.posts[0], &results.combinations, 0, false)
}

/// The steps of a post through the sheet for loads.
pub fn bringing(root: &Root, group: &GroupResult) -> Arc<Made> {
    root.steps(group.posts[0], &[], 0, true)
}

/// The load combinations of a job, by the built-in tables.
///
/// # Errors
/// Seismic cases without the ground motion that their combinations need.
pub fn combinations(job: &Job, library: &Library) -> Checked<Vec<Combination>> {
    let earthquake = Earthquake::of(job, library)?;
    combine::combinations(job, library, earthquake).map(|(combinations, _)| combinations)
}

/// Works a whole job. `progress` is told of every group that is done, and how
/// many there are.
///
/// # Errors
/// Everything that is missing or wrong in the job's data, each thing once.
pub fn work_job(root: &Root, progress: &(dyn Fn(usize, usize) + Sync)) -> Checked<Results> {
    // Without combinations the posts are looked at all the same.
    let earthquake = Earthquake::of(root.job, root.library);
    let combined = earthquake.and_then(|it| Ok((it, combine::combinations(root.job, root.library, it)?)));
    let Ok((earthquake, (combinations, asked))) = combined else {
        let mut diagnostics = lacking(root);
        once(&mut diagnostics);
        return Err(diagnostics);
    };
    root.begin(&combinations);
    // Posts that are worked side by side must not wait for each other.
    root.leans();
    let mut diagnostics = Diagnostics::new();
    let (groups, group_of) = group(&root.job.posts);
    let total = groups.len();
    let done = std::sync::atomic::AtomicUsize::new(0);
    let worked: Vec<Checked<GroupResult>> = groups
        .par_iter()
        .enumerate()
        .map_init(
            || root.program.memory(),
            |memory, (at, posts)| {
                let kept = root.kept_with_leans(posts[0]);
                let known = kept.as_ref().and_then(|(kept, key)| kept.group(key, at + 1, posts));
                let result = known.map_or_else(
                    || {
                        let mut result = govern::work_group(root, &combinations, memory, at + 1, posts);
                        if let Ok(group) = &mut result {
                            interval::intervals(root, &combinations, memory, group);
                        }
                        if let (Ok(group), Some((kept, key))) = (&result, &kept) {
                            kept.keep_group(key, group);
                        }
                        result
                    },
                    Ok,
                );
                progress(done.fetch_add(1, std::sync::atomic::Ordering::Relaxed) + 1, total);
                result
            },
        )
        .collect();
    let mut groups = Vec::new();
    for result in worked {
        match result {
            Ok(group) => groups.push(group),
            Err(more) => diagnostics.extend(more),
        }
    }
    once(&mut diagnostics);
    if !diagnostics.is_empty() {
        return Err(diagnostics);
    }
    Ok(Results { earthquake, combinations, groups, group_of, asked })
}

/// Works the first posts of a job, each by itself in given combinations, and makes of each what is wanted.
pub fn work_each<T: Send>(
    root: &Root,
    combinations: &[Combination],
    posts: usize,
    made: impl Fn(Checked<GroupResult>) -> T + Sync,
) -> Vec<T> {
    let each = (0..posts).into_par_iter().map_init(
        || root.program.memory(),
        |memory, post| made(govern::work_group(root, combinations, memory, 0, &[post])),
    );
    each.collect()
}

/// What is missing or wrong in the job's data, as far as it can be known without
/// the loads.
pub fn lacking(root: &Root) -> Diagnostics {
    let (groups, _) = group(&root.job.posts);
    let looked = groups.par_iter().map_init(
        || root.program.memory(),
        |memory, posts| {
            let mut diagnostics = root.set(memory, posts[0]);
            diagnostics.extend(root.work(posts[0], None, None).diagnostics);
            diagnostics
        },
    );
    let looked: Diagnostics = looked.flatten().collect();
    let combinations = combinations(root.job, root.library);
    looked.into_iter().chain(combinations.err().into_iter().flatten()).collect()
}

/// Posts that are equal but for their mark and place are worked once.
fn group(posts: &[Post]) -> (Vec<Vec<usize>>, Vec<usize>) {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let mut by_key: BTreeMap<String, usize> = BTreeMap::new();
    let mut group_of = Vec::new();
    for (at, post) in posts.iter().enumerate() {
        // What was chosen counts, however the cell names it.
        let chosen = |name: &str| CATALOGUES.iter().any(|catalogue| catalogue.column == name);
        let facts = post.facts.iter().filter(|(name, _)| !["mark", "x", "y"].contains(&name.as_str()) && !chosen(name));
        let facts: Vec<(&String, &str)> = facts.map(|(name, fact)| (name, fact.text.as_str())).collect();
        let entries: Vec<&str> = post.entries.values().map(|entry| entry.name.as_str()).collect();
        let key = format!("{entries:?} {facts:?} {:?} {:?}", post.reactions, post.slack);
        let next = groups.len();
        let group = *by_key.entry(key).or_insert(next);
        if group == next {
            groups.push(Vec::new());
        }
        groups[group].push(at);
        group_of.push(group);
    }
    (groups, group_of)
}
