//! What posts came to, kept from one state of a job to the next: a post that reads the same
//! facts and is worked in the same combinations comes to the same.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use super::{Combination, GroupResult, Root};
use crate::sheet::Worked;

/// States for which something is kept that none of them used.
const STATES: usize = 3;

/// Results and steps of the posts of one sheet and one library, which stays the same.
#[derive(Default)]
pub struct Kept(Mutex<Shelf>);

#[derive(Default)]
struct Shelf {
    /// What all posts share.
    common: String,
    state: usize,
    groups: BTreeMap<Arc<str>, (usize, GroupResult)>,
    steps: BTreeMap<(Arc<str>, Run), (usize, Arc<Worked>)>,
}

/// The place of a combination, and whether only the sheets of its method are worked.
pub(super) type Run = (usize, bool);

impl Kept {
    fn shelf(&self) -> std::sync::MutexGuard<'_, Shelf> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Begins with another state: all is forgotten if what all posts share has changed.
    pub(super) fn begin(&self, root: &Root, combinations: &[Combination]) {
        let mut shelf = self.shelf();
        let common = format!("{combinations:?} {:?} {:?}", root.job.cases(), root.of_cases());
        if common != shelf.common {
            *shelf = Shelf { common, ..Shelf::default() };
        }
        shelf.state += 1;
        let state = shelf.state;
        shelf.groups.retain(|_, (used, _)| *used + STATES >= state);
        shelf.steps.retain(|_, (used, _)| *used + STATES >= state);
    }

    pub(super) fn group(&self, key: &Arc<str>, no: usize, posts: &[usize]) -> Option<GroupResult> {
        let mut shelf = self.shelf();
        let state = shelf.state;
        let (used, group) = shelf.groups.get_mut(key)?;
        *used = state;
        Some(GroupResult { no, posts: posts.to_vec(), ..group.clone() })
    }

    pub(super) fn keep_group(&self, key: &Arc<str>, group: &GroupResult) {
        let mut shelf = self.shelf();
        let state = shelf.state;
        shelf.groups.insert(key.clone(), (state, group.clone()));
    }

    /// The steps of a run, made where they are not known.
    pub(super) fn steps(&self, key: &Arc<str>, run: Run, make: impl FnOnce() -> Worked) -> Arc<Worked> {
        let key = (key.clone(), run);
        let mut shelf = self.shelf();
        let state = shelf.state;
        if let Some((used, steps)) = shelf.steps.get_mut(&key) {
            *used = state;
            return steps.clone();
        }
        drop(shelf);
        let made = Arc::new(make());
        self.shelf().steps.insert(key, (state, made.clone()));
        made
    }
}
