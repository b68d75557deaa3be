//! What posts came to, kept from one state of a job to the next: a post that reads the same
//! facts and is worked in the same combinations comes to the same.

use std::sync::{Arc, Mutex, PoisonError};

use super::{Combination, GroupResult, Root};
use crate::kept;
use crate::sheet::Worked;

/// Results and steps of the posts of one sheet and one library, which stays the same.
#[derive(Default)]
pub struct Kept {
    /// What all posts share.
    common: Mutex<String>,
    groups: kept::Kept<Arc<str>, GroupResult>,
    steps: kept::Kept<(Arc<str>, Run), Arc<Worked>>,
}

/// The place of a combination, and whether only the sheets of its method are worked.
pub(super) type Run = (usize, bool);

impl Kept {
    /// Begins with another state: all is forgotten if what all posts share has changed.
    pub(super) fn begin(&self, root: &Root, combinations: &[Combination]) {
        let common = format!("{combinations:?} {:?} {:?}", root.job.cases(), root.cases);
        let mut known = self.common.lock().unwrap_or_else(PoisonError::into_inner);
        if *known != common {
            self.groups.clear();
            self.steps.clear();
            *known = common;
        }
        self.groups.begin();
        self.steps.begin();
    }

    pub(super) fn group(&self, key: &Arc<str>, no: usize, posts: &[usize]) -> Option<GroupResult> {
        Some(GroupResult { no, posts: posts.to_vec(), ..self.groups.get(key)? })
    }

    pub(super) fn keep_group(&self, key: &Arc<str>, group: &GroupResult) {
        self.groups.put(key.clone(), group.clone());
    }

    /// The steps of a run, made where they are not known.
    pub(super) fn steps(&self, key: &Arc<str>, run: Run, make: impl FnOnce() -> Worked) -> Arc<Worked> {
        self.steps.get_or((key.clone(), run), || Arc::new(make()))
    }
}
