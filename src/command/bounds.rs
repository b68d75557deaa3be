//! What a job that a stranger has made may take of time and memory, and the typesetter of memory. Neither can be stopped from
//! inside: the program ends.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use memory_stats::memory_stats;

use crate::files::complain;

/// Bytes of memory that no package takes.
pub(super) const MEMORY: usize = 8 << 30;

/// How often it is looked at.
pub(super) const OFTEN: Duration = Duration::from_millis(100);

/// Whether this process has more memory than that.
pub(super) fn takes_too_much() -> bool {
    memory_stats().is_some_and(|stats| stats.physical_mem > MEMORY)
}

/// Watches over something until it is dropped.
pub struct Bounds(Arc<AtomicBool>);

impl Drop for Bounds {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

/// Ends the program with a message about `what`, where what follows takes longer than this or
/// more memory than any package.
pub fn within(what: &str, longest: Duration, status: i32) -> Bounds {
    let done = Arc::new(AtomicBool::new(false));
    let (ended, what, begun) = (done.clone(), what.to_string(), Instant::now());
    std::thread::spawn(move || {
        while !ended.load(Ordering::Relaxed) {
            let why = if begun.elapsed() > longest {
                format!("is not done after {} seconds", longest.as_secs())
            } else if takes_too_much() {
                format!("takes more than {} GB of memory", MEMORY >> 30)
            } else {
                std::thread::sleep(OFTEN);
                continue;
            };
            complain(&format!("\nerror: {what} {why}, more than any takes; nothing was written\n"));
            std::process::exit(status);
        }
    });
    Bounds(done)
}
