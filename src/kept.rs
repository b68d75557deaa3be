//! What is kept from one state of a job to the next, by all that it is made from.

use std::collections::BTreeMap;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// States for which something is kept that none of them used.
const STATES: usize = 3;

/// Values by their keys; a key holds all that its value is made from.
pub struct Kept<K, V>(Mutex<Shelf<K, V>>);

struct Shelf<K, V> {
    state: usize,
    /// Each with the state that used it last.
    values: BTreeMap<K, (usize, V)>,
}

impl<K, V> Default for Kept<K, V> {
    fn default() -> Kept<K, V> {
        Kept(Mutex::new(Shelf { state: 0, values: BTreeMap::new() }))
    }
}

impl<K: Ord, V: Clone> Kept<K, V> {
    fn shelf(&self) -> MutexGuard<'_, Shelf<K, V>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Begins with another state.
    pub fn begin(&self) {
        let mut shelf = self.shelf();
        shelf.state += 1;
        let state = shelf.state;
        shelf.values.retain(|_, (used, _)| *used + STATES >= state);
    }

    pub fn clear(&self) {
        self.shelf().values.clear();
    }

    pub fn get(&self, key: &K) -> Option<V> {
        let mut shelf = self.shelf();
        let state = shelf.state;
        let (used, value) = shelf.values.get_mut(key)?;
        *used = state;
        Some(value.clone())
    }

    pub fn put(&self, key: K, value: V) {
        let mut shelf = self.shelf();
        let state = shelf.state;
        shelf.values.insert(key, (state, value));
    }

    /// The value of a key, made where it is not known; nobody waits for it meanwhile.
    pub fn get_or(&self, key: K, make: impl FnOnce() -> V) -> V {
        self.get(&key).unwrap_or_else(|| {
            let made = make();
            self.put(key, made.clone());
            made
        })
    }
}
