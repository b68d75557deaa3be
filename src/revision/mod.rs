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
pub use own::{OwnChange, OwnHow};

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
    /// Earlier and later version of the program, where they differ.
    pub program: Option<[String; 2]>,
    /// To full precision: what is printed may be the same.
    pub limits: Vec<LimitChange>,
}

impl Comparison {
    /// Something that is put in, or that comes out and is seen on paper.
    pub fn changed(&self) -> bool {
        !self.inputs.is_empty()
            || !self.own.is_empty()
            || self.program.is_some()
            || self.limits.iter().any(LimitChange::is_seen)
    }
}

/// Compares two editions.
pub fn compare(old: &Edition, new: &Edition) -> Comparison {
    let known = |revision: &&Revision| !old.revisions.iter().any(|other| other.no == revision.no);
    Comparison {
        from: [old.revision.clone(), old.date.clone()],
        to: [new.revision.clone(), new.date.clone()],
        entered: new.revisions.iter().filter(known).cloned().collect(),
        inputs: inputs::compare(&old.inputs, &new.inputs),
        own: own::compare(&old.own, &new.own),
        program: (old.program != new.program).then(|| [old.program.clone(), new.program.clone()]),
        limits: limits::compare(&old.stands, &new.stands),
    }
}
