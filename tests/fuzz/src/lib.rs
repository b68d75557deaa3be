//! What the targets share: the stack on which they run, and what holds of whatever the program says.
//! `changed` makes a job of an input, `worked` works it as the commands do.

pub mod changed;
mod quoted;
pub mod worked;

use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Mutex, OnceLock};

use socle::diag::Diagnostic;
use socle::files::Failure;
use socle::legible::is_shifty;
use socle::report;

/// The smallest stack on which the program works: that of a worker of rayon. Its first thread has 8 MB.
pub const STACK: usize = 2 << 20;

/// Runs a target with an input, on a thread with such a stack. What the program works side by side is worked on the
/// same thread, so that each run takes the same path.
pub fn run(input: &[u8], target: fn(&[u8])) {
    type Ends = (SyncSender<Vec<u8>>, Receiver<()>);
    static WORKER: OnceLock<Mutex<Ends>> = OnceLock::new();
    let worker = WORKER.get_or_init(|| {
        let ((send, inputs), (end, ends)) = (sync_channel::<Vec<u8>>(1), sync_channel(1));
        let work = move || {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(1).use_current_thread();
            pool.build_global().expect("the only pool");
            take_signals_elsewhere();
            for input in inputs {
                target(&input);
                end.send(()).expect("somebody waits");
            }
        };
        std::thread::Builder::new().stack_size(STACK).spawn(work).expect("a thread");
        Mutex::new((send, ends))
    });
    let worker = worker.lock().expect("one input at a time");
    worker.0.send(input.to_vec()).expect("the thread");
    worker.1.recv().expect("a panic ends the process");
}

/// A stack that is full is told of on another one: else the input that filled it would not be written.
fn take_signals_elsewhere() {
    let memory = Box::leak(vec![0u8; 1 << 20].into_boxed_slice());
    let stack = libc::stack_t { ss_sp: memory.as_mut_ptr().cast(), ss_flags: 0, ss_size: memory.len() };
    // SAFETY: the memory is never given back, and nothing else uses it.
    assert_eq!(unsafe { libc::sigaltstack(&stack, std::ptr::null_mut()) }, 0);
}

/// What was refused, with each thing that is wrong shown at its place.
pub fn refused(wrong: &[Diagnostic]) {
    assert!(!wrong.is_empty(), "refused, and nothing is said to be wrong");
    let text = report::diagnostics(wrong, false);
    shown(wrong, &text);
    let told = text.lines().filter(|line| line.starts_with("error: ")).count();
    assert!(told >= wrong.len(), "{} are wrong, {told} are shown:\n{text}", wrong.len());
    report::diagnostics(wrong, true);
    let json = report::not_worked_json(wrong);
    serde_json::from_str::<serde_json::Value>(&json).expect("JSON");
}

/// What is worth a look.
pub fn noted(notes: &[Diagnostic]) {
    shown(notes, &report::notes(notes, false));
}

/// A run that did not end; no target reads anything of the machine.
pub fn failed(failure: Failure) {
    match failure {
        Failure::Wrong(wrong) => refused(&wrong),
        Failure::Machine(message) => panic!("the machine: {message}"),
    }
}

fn shown(diagnostics: &[Diagnostic], text: &str) {
    for diagnostic in diagnostics {
        assert!(!diagnostic.message.is_empty(), "a diagnostic without words");
        if let Some(place) = &diagnostic.place {
            let stretch = place.source.text.get(place.span.clone());
            assert!(stretch.is_some(), "{:?} is no place in `{}`: {text}", place.span, place.source.name);
        }
    }
    printed(text);
}

/// Nothing of a text moves the cursor of a terminal, or turns its writing.
pub fn printed(text: &str) {
    let text = text.replace("\r\n", "\n");
    let shifty = text.find(|c| is_shifty(c) && c != '\n' && c != '\t');
    if let Some(at) = shifty {
        panic!("at byte {at} stands what nobody sees: {text:?}");
    }
}
