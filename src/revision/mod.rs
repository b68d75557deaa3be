//! What changed from one edition of a job to the next: inputs, the job's own
//! sheets and tables, limits. Plain data in, plain data out; how it is said and
//! which printed lines it moves is for `package`.

mod edition;
mod inputs;
mod limits;
mod moment;
mod own;

use crate::job::Revision;

pub use edition::Edition;
pub use inputs::{InputChange, InputRow};
pub use limits::{LimitChange, Outcome, Stands};
pub use moment::{Changes, Governing, GoverningChange, Moment, OpenQuestion};
pub use own::{OwnChange, OwnHow, changed_files};

/// All that changed. The later edition has the posts, rows and keys in its order.
#[derive(Debug)]
pub struct Comparison {
    /// What the earlier edition calls itself: revision and date.
    pub from: [String; 2],
    pub to: [String; 2],
    /// Revisions that the later edition has entered and the earlier has not.
    pub entered: Vec<Revision>,
    pub inputs: Vec<InputChange>,
    pub own: Vec<OwnChange>,
    /// The sheets and tables of the program.
    pub built_in: Vec<OwnChange>,
    /// Earlier and later version of the program, where they differ.
    pub program: Option<[String; 2]>,
    /// Posts that only the later edition has, or only the earlier.
    pub added: Vec<String>,
    pub removed: Vec<String>,
    /// To full precision: what is printed may be the same.
    pub limits: Vec<LimitChange>,
}

impl Comparison {
    /// Something that is put in, or that comes out and is seen on paper.
    pub fn changed(&self) -> bool {
        !self.inputs.is_empty()
            || !self.own.is_empty()
            || !self.built_in.is_empty()
            || self.program.is_some()
            || self.limits.iter().any(LimitChange::is_seen)
    }
}

/// Compares two editions.
pub fn compare(old: &Edition, new: &Edition) -> Comparison {
    let known = |revision: &&Revision| !old.revisions.iter().any(|other| other.no == revision.no);
    let posts = |edition: &Edition| -> Vec<String> { edition.stands.iter().flat_map(|it| it.posts.clone()).collect() };
    let (before, after) = (posts(old), posts(new));
    let beyond =
        |posts: &[String], others: &[String]| posts.iter().filter(|it| !others.contains(it)).cloned().collect();
    Comparison {
        from: [old.revision.clone(), old.date.clone()],
        to: [new.revision.clone(), new.date.clone()],
        entered: new.revisions.iter().filter(known).cloned().collect(),
        inputs: inputs::compare(&old.inputs, &new.inputs),
        own: own::changed_files(&old.own, &new.own),
        built_in: own::changed_files(&old.built_in, &new.built_in),
        added: beyond(&after, &before),
        removed: beyond(&before, &after),
        program: (old.program != new.program).then(|| [old.program.clone(), new.program.clone()]),
        limits: limits::compare(&old.stands, &new.stands),
    }
}
