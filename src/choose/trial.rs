//! Every choice worked for every post.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::diag::{Checked, Diagnostics, once};
use crate::engine::{self, Around, Combination, GroupResult, LOADS, Limit, PostGrid, ROOT, Root};
use crate::job::{CATALOGUES, Entry, Job, Post, Reaction};
use crate::sheet::{Library, Must};

/// A row of each catalogue, in the order of `CATALOGUES`, or none.
#[derive(Clone, Debug)]
pub struct Choice(pub [Option<Arc<Entry>>; CATALOGUES.len()]);

impl Choice {
    pub fn name(&self, catalogue: usize) -> &str {
        self.0[catalogue].as_ref().map_or("", |entry| entry.name.as_str())
    }

    fn of(post: &Post) -> Choice {
        Choice(std::array::from_fn(|at| post.entries.get(CATALOGUES[at].name).cloned()))
    }

    fn names(&self) -> [&str; CATALOGUES.len()] {
        std::array::from_fn(|at| self.name(at))
    }

    /// How many rows are others.
    fn changes(&self, now: &Choice) -> usize {
        self.names().iter().zip(now.names()).filter(|(name, now)| **name != *now).count()
    }

    fn enter(&self, post: &mut Post) {
        let entries = CATALOGUES.iter().zip(&self.0);
        post.entries = entries.filter_map(|(known, entry)| Some((known.name, entry.clone()?))).collect();
        post.unknown.clear();
    }
}

/// How a choice came out.
#[derive(Clone, Debug)]
pub enum Outcome {
    Worked(Found),
    /// And why not.
    CannotBeWorked(String),
}

/// What governs, as `check` has it.
#[derive(Clone, Debug)]
pub struct Found {
    pub ok: bool,
    /// None for a limit that is no ratio.
    pub ratio: Option<f64>,
    pub limit: String,
    pub cite: String,
    pub combination: String,
    /// Limits and fits that are not met.
    pub failed: Vec<Arc<Must>>,
    /// How many of them are no ratio, and the highest ratio of the others.
    pub unfit: usize,
    pub worst: f64,
}

#[derive(Clone, Debug)]
pub struct Trial {
    pub choice: Choice,
    /// How many names in `posts.csv` are others now.
    pub changes: usize,
    pub outcome: Outcome,
}

impl Trial {
    pub fn found(&self) -> Option<&Found> {
        match &self.outcome {
            Outcome::Worked(found) => Some(found),
            Outcome::CannotBeWorked(_) => None,
        }
    }

    /// Whether `posts.csv` names it now.
    pub fn is_now(&self) -> bool {
        self.changes == 0
    }

    pub fn passes(&self) -> bool {
        self.found().is_some_and(|found| found.ok)
    }
}

/// Posts for which everything comes out alike, and how.
#[derive(Debug)]
pub struct Tried {
    /// Indices of its posts in the job.
    pub posts: Vec<usize>,
    /// In the order of the catalogues.
    pub trials: Vec<Trial>,
}

impl Tried {
    /// What is not met whatever is chosen: it takes something else than another row.
    pub fn never_met(&self) -> Vec<&Arc<Must>> {
        let mut worked = self.trials.iter().filter_map(Trial::found);
        let Some(first) = worked.next() else { return Vec::new() };
        let rest: Vec<&Found> = worked.collect();
        let fails = |rule: &Arc<Must>, found: &Found| found.failed.iter().any(|other| other.say == rule.say);
        let mut never: Vec<&Arc<Must>> = Vec::new();
        for rule in first.failed.iter().filter(|rule| rest.iter().all(|found| fails(rule, found))) {
            if !never.iter().any(|known| known.say == rule.say) {
                never.push(rule);
            }
        }
        never
    }
}

/// As many posts are worked by one program.
const AT_ONCE: usize = 4000;

/// Tries every choice for some posts of a job whose loads are known.
///
/// # Errors
/// What is wrong with the job whatever is chosen.
pub fn try_all(mut job: Job, library: &Library, posts: &[usize]) -> Checked<Vec<Tried>> {
    let choices = choices(&job);
    let combinations = engine::combinations(&job, library)?;
    let seen = Seen::new(&mut job, library, posts, &choices)?;
    let classes = classes(&job, posts, &seen);
    let originals = std::mem::take(&mut job.posts);
    let mut tried: Vec<Tried> = classes.into_iter().map(|posts| Tried { posts, trials: Vec::new() }).collect();
    let mut waiting: Vec<(usize, Choice, usize, usize)> = Vec::new();
    for no in 0..tried.len() {
        let post = tried[no].posts[0];
        let now = Choice::of(&originals[post]);
        // What the post has now is among them, though a catalogue may have no such row to choose.
        let present = choices.iter().any(|choice| choice.names() == now.names());
        for choice in (!present).then_some(&now).into_iter().chain(&choices) {
            match seen.of(post, choice) {
                Ok(at) => waiting.push((no, choice.clone(), choice.changes(&now), at)),
                Err(why) => tried[no].trials.push(Trial {
                    choice: choice.clone(),
                    changes: choice.changes(&now),
                    outcome: Outcome::CannotBeWorked(why.clone()),
                }),
            }
        }
        if waiting.len() >= AT_ONCE || no + 1 == tried.len() {
            work(&mut job, library, &originals, &combinations, &seen, std::mem::take(&mut waiting), &mut tried)?;
        }
    }
    for tried in &mut tried {
        tidy(&mut tried.trials);
    }
    Ok(tried)
}

/// Every base with every foundation and every anchor, and without either.
fn choices(job: &Job) -> Vec<Choice> {
    let rows = |name: &str| -> Vec<Option<Arc<Entry>>> {
        let mut rows: Vec<Arc<Entry>> =
            job.catalogues.get(name).map_or(Vec::new(), |entries| entries.rows().cloned().collect());
        // In the order of the file.
        rows.sort_by_key(|entry| (entry.place.source.name.clone(), entry.place.span.start));
        rows.into_iter().map(Some).collect()
    };
    let mut found = vec![Vec::new()];
    for catalogue in &CATALOGUES {
        let rows: Vec<_> = (!catalogue.required).then_some(None).into_iter().chain(rows(catalogue.name)).collect();
        let with = |chosen: &Vec<_>| {
            rows.iter().map(|row| [&chosen[..], std::slice::from_ref(row)].concat()).collect::<Vec<_>>()
        };
        found = found.iter().flat_map(with).collect();
    }
    found.into_iter().filter_map(|rows: Vec<_>| Some(Choice(rows.try_into().ok()?))).collect()
}

/// What a post sees and carries depends on a few columns of what it chose, such as
/// the standoff of its base: each of its choices has one of a few such views.
struct Seen {
    /// The columns, by catalogue.
    columns: Vec<(usize, String)>,
    views: BTreeMap<(usize, Vec<String>), Result<usize, String>>,
    all: Vec<View>,
}

struct View {
    around: BTreeMap<String, crate::formula::Value>,
    reactions: BTreeMap<String, Reaction>,
}

impl Seen {
    fn new(job: &mut Job, library: &Library, posts: &[usize], choices: &[Choice]) -> Checked<Seen> {
        let mut columns: BTreeSet<(usize, String)> = BTreeSet::new();
        // The tops of the posts of a line stand at one level.
        columns.insert((0, "standoff".into()));
        if job.settings.contains_key("roof") {
            let root = Root::new(job, library, LOADS, Some(PostGrid::new(&job.posts).around()))?;
            let read = root.program.facts.iter().filter_map(|fact| fact.from.as_ref());
            columns.extend(read.filter_map(|from| {
                let at = CATALOGUES.iter().position(|catalogue| catalogue.name == from.source)?;
                Some((at, from.name.clone()))
            }));
        }
        let mut seen = Seen { columns: columns.into_iter().collect(), views: BTreeMap::new(), all: Vec::new() };
        let around = PostGrid::new(&job.posts).around();
        for &post in posts {
            let now = Choice::of(&job.posts[post]);
            let view = View { around: around_of(&around, post), reactions: job.posts[post].reactions.clone() };
            seen.views.insert((post, seen.key(&now)), Ok(seen.all.len()));
            seen.all.push(view);
        }
        for choice in choices {
            for &post in posts {
                let key = (post, seen.key(choice));
                if !seen.views.contains_key(&key) {
                    let view = look(job, library, post, choice).map(|view| {
                        seen.all.push(view);
                        seen.all.len() - 1
                    });
                    seen.views.insert(key, view);
                }
            }
        }
        Ok(seen)
    }

    fn key(&self, choice: &Choice) -> Vec<String> {
        let text = |(at, name): &(usize, String)| {
            choice.0[*at].as_ref().and_then(|entry| Some(entry.facts.get(name)?.as_typed())).unwrap_or_default()
        };
        self.columns.iter().map(text).collect()
    }

    fn of(&self, post: usize, choice: &Choice) -> Result<usize, &String> {
        self.views[&(post, self.key(choice))].as_ref().copied()
    }

    /// Whether all that a post can see is what another one sees.
    fn same(&self, job: &Job, post: usize) -> String {
        let of_post = self.views.range((post, Vec::new())..(post + 1, Vec::new()));
        let view = |(key, view): (&(usize, Vec<String>), &Result<usize, String>)| match view {
            Ok(at) => format!("{:?} {:?} {:?}", key.1, self.all[*at].around_besides(), self.all[*at].reactions),
            Err(why) => format!("{:?} {}", key.1, why.replace(&job.posts[post].mark, "")),
        };
        of_post.map(view).collect()
    }
}

impl View {
    /// What it sees, but for where it stands itself.
    fn around_besides(&self) -> Vec<(&String, &crate::formula::Value)> {
        self.around.iter().filter(|(name, _)| !["grid.x", "grid.y"].contains(&name.as_str())).collect()
    }
}

fn around_of(around: &Around, post: usize) -> BTreeMap<String, crate::formula::Value> {
    around.0.get(post).cloned().unwrap_or_default()
}

/// What a post sees and carries once it has another choice: its loads are worked anew
/// where they come from a roof.
fn look(job: &mut Job, library: &Library, post: usize, choice: &Choice) -> Result<View, String> {
    let (entries, unknown) = (job.posts[post].entries.clone(), job.posts[post].unknown.clone());
    choice.enter(&mut job.posts[post]);
    let around = PostGrid::new(&job.posts).around();
    let found = if job.settings.contains_key("roof") {
        let before: Vec<BTreeMap<String, Reaction>> = job.posts.iter().map(|post| post.reactions.clone()).collect();
        let derived = std::mem::take(&mut job.derived);
        for post in &mut job.posts {
            post.reactions.retain(|case, _| !derived.contains(case));
        }
        let worked = engine::derive_loads(job, library);
        let reactions = job.posts[post].reactions.clone();
        job.derived = derived;
        job.posts.iter_mut().zip(before).for_each(|(post, before)| post.reactions = before);
        worked.map(|_| reactions).map_err(why)
    } else {
        Ok(job.posts[post].reactions.clone())
    };
    (job.posts[post].entries, job.posts[post].unknown) = (entries, unknown);
    Ok(View { around: around_of(&around, post), reactions: found? })
}

/// Posts that are alike whatever is chosen for them.
fn classes(job: &Job, posts: &[usize], seen: &Seen) -> Vec<Vec<usize>> {
    let mut classes: Vec<Vec<usize>> = Vec::new();
    let mut known: BTreeMap<String, usize> = BTreeMap::new();
    for &at in posts {
        let post = &job.posts[at];
        let own = ["mark", "node", "x", "y"].into_iter().chain(CATALOGUES.iter().map(|catalogue| catalogue.column));
        let own: Vec<&str> = own.collect();
        let facts = post.facts.iter().filter(|(name, _)| !own.contains(&name.as_str()));
        let facts: Vec<(&String, String)> = facts.map(|(name, fact)| (name, fact.as_typed())).collect();
        let key = format!("{:?} {facts:?} {}", Choice::of(post).names(), seen.same(job, at));
        let next = classes.len();
        let class = *known.entry(key).or_insert(next);
        if class == next {
            classes.push(Vec::new());
        }
        classes[class].push(at);
    }
    classes
}

/// Works choices of posts, each as if it were a post of its own, by one program.
fn work(
    job: &mut Job,
    library: &Library,
    originals: &[Post],
    combinations: &[Combination],
    seen: &Seen,
    waiting: Vec<(usize, Choice, usize, usize)>,
    tried: &mut [Tried],
) -> Checked<()> {
    let mut around = Around::default();
    job.posts = Vec::new();
    for (no, choice, _, view) in &waiting {
        let mut post = originals[tried[*no].posts[0]].clone();
        choice.enter(&mut post);
        post.reactions = seen.all[*view].reactions.clone();
        around.0.push(seen.all[*view].around.clone());
        job.posts.push(post);
    }
    // What the job has is asked of all its posts: its load cases, its columns.
    around.0.extend(originals.iter().map(|_| BTreeMap::new()));
    job.posts.extend(originals.iter().cloned());
    let root = Root::new(job, library, ROOT, Some(around))?;
    let outcomes = engine::work_each(&root, combinations, waiting.len(), |result| match result {
        Ok(group) => Outcome::Worked(found(&group, combinations)),
        Err(wrong) => Outcome::CannotBeWorked(why(wrong)),
    });
    for ((no, choice, changes, _), outcome) in waiting.into_iter().zip(outcomes) {
        tried[no].trials.push(Trial { choice, changes, outcome });
    }
    Ok(())
}

fn found(group: &GroupResult, combinations: &[Combination]) -> Found {
    let failed = || group.limits.iter().filter(|limit| !limit.ok());
    let ratios = || failed().map(|limit| limit.ratio().filter(|ratio| ratio.is_finite()));
    let governing = group.governing();
    let text = |text: &dyn Fn(&Limit) -> Option<String>| governing.and_then(text).unwrap_or_default();
    Found {
        ok: group.ok(),
        ratio: governing.and_then(Limit::ratio),
        limit: text(&|limit| Some(limit.rule().say.clone())),
        cite: text(&|limit| limit.rule().cite.clone()),
        combination: text(&|limit| limit.varies().then(|| combinations[limit.run()].name.clone())),
        failed: failed().map(|limit| limit.rule().clone()).collect(),
        unfit: ratios().filter(Option::is_none).count(),
        worst: ratios().flatten().fold(0.0, f64::max),
    }
}

/// The first of what is wrong, and how much more is.
fn why(mut wrong: Diagnostics) -> String {
    once(&mut wrong);
    let first = wrong.first().map_or(String::new(), |diagnostic| diagnostic.message.clone());
    match wrong.len() {
        0 | 1 => first,
        many => format!("{first}; and {} more", many - 1),
    }
}

/// Takes out what says nothing: a choice without a row that cannot do without it, and
/// one with a row where all is well without.
fn tidy(trials: &mut Vec<Trial>) {
    let names = |trial: &Trial| trial.choice.names().map(String::from);
    let well: BTreeSet<[String; CATALOGUES.len()]> = trials.iter().filter(|it| it.passes()).map(names).collect();
    let has_rows: Vec<bool> =
        (0..CATALOGUES.len()).map(|at| trials.iter().any(|trial| trial.choice.0[at].is_some())).collect();
    trials.retain(|trial| {
        let chosen = names(trial);
        let without = (0..CATALOGUES.len()).any(|at| {
            let mut less = chosen.clone();
            less[at].clear();
            !chosen[at].is_empty() && well.contains(&less)
        });
        let lacks = (0..CATALOGUES.len()).any(|at| has_rows[at] && chosen[at].is_empty());
        trial.is_now() || !(without || lacks && trial.found().is_none())
    });
}
