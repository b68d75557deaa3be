//! A process of its own for the typesetter, where it runs a template that is not built in: there it can be stopped, and run out
//! of memory or of stack, without ending the program. The child is the program itself; it reads orders from its standard
//! input and answers on its standard output, until its input ends.

use std::collections::BTreeMap;
use std::io::{BufReader, BufWriter, Write};
use std::path::PathBuf;
use std::process::{Child, ChildStdin, Command, ExitStatus, Stdio, exit};
use std::sync::atomic::AtomicBool;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::sync::{Arc, OnceLock};
use std::time::Duration;

use serde::{Deserialize, Serialize};
use signal_hook::{consts::SIGINT, flag};

use super::bounds::{MEMORY, OFTEN, takes_too_much};
use super::{Outcome, Run, unset};
use crate::cli::APART;
use crate::diag::Diagnostic;
use crate::files::Failure;
use crate::pdf::{self, Document, Pdf, Typesetter};
use crate::source::{Place, Source};

/// The program, where it is one that can start itself again.
static PROGRAM: OnceLock<PathBuf> = OnceLock::new();

/// What the child ends with where it takes more memory than any pages do.
const TOO_MUCH: i32 = 9;

#[derive(Serialize, Deserialize)]
pub(super) enum Order {
    /// Tries a title block on every kind of sheet.
    Try {
        name: String,
        text: String,
        files: BTreeMap<String, Vec<u8>>,
        path: String,
        trial: String,
        around: f64,
        date: (i32, u8, u8),
    },
    /// Sets pages: those of the office, or the next state of a preview.
    Set { files: BTreeMap<String, Vec<u8>>, main: String, date: (i32, u8, u8), ident: String, preview: bool },
}

#[derive(Serialize, Deserialize)]
enum Answer {
    Tried(Vec<Fault>),
    Set {
        bytes: Vec<u8>,
        pages: usize,
    },
    /// What the typesetter says.
    Unset(Vec<String>),
}

/// What is wrong with a title block, and where in it.
#[derive(Serialize, Deserialize)]
struct Fault {
    message: String,
    hints: Vec<String>,
    span: Option<(usize, usize)>,
}

/// From now on pages can be set in a process of their own.
pub(super) fn allow() {
    if let Ok(program) = std::env::current_exe() {
        PROGRAM.get_or_init(|| program);
    }
}

/// A typesetter that remembers what it has set. Where the program cannot start itself again, as in its tests, it is one of this
/// process.
pub(super) enum Apart {
    There(There),
    Here(Box<Typesetter>),
}

pub(super) struct There {
    child: Child,
    orders: BufWriter<ChildStdin>,
    answers: Receiver<Answer>,
}

impl Drop for There {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Apart {
    /// # Errors
    /// The machine starts no process.
    pub fn start() -> Result<Apart, Failure> {
        let Some(program) = PROGRAM.get() else { return Ok(Apart::Here(Box::default())) };
        let failed = |error: std::io::Error| Failure::Machine(format!("the typesetter cannot be started: {error}"));
        // Of a child that comes to a bad end nothing is said but by us.
        let mut command = Command::new(program);
        command.arg(APART).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null());
        let mut child = command.spawn().map_err(failed)?;
        let (Some(orders), Some(answers)) = (child.stdin.take(), child.stdout.take()) else {
            return Err(Failure::Machine("the typesetter cannot be spoken to".into()));
        };
        let (sender, receiver) = channel();
        std::thread::spawn(move || {
            let mut answers = BufReader::new(answers);
            while let Ok(answer) = ciborium::from_reader(&mut answers) {
                if sender.send(answer).is_err() {
                    break;
                }
            }
        });
        Ok(Apart::There(There { child, orders: BufWriter::new(orders), answers: receiver }))
    }

    /// # Errors
    /// All that is wrong with the title block, in its lines.
    pub fn try_block(&mut self, source: &Arc<Source>, order: &Order, longest: Duration) -> Result<(), Failure> {
        let what = format!("setting the title block of `{}`", source.name);
        match self.ask(order, &what, longest)? {
            Answer::Tried(faults) if faults.is_empty() => Ok(()),
            Answer::Tried(faults) => Err(Failure::Wrong(faults.into_iter().map(|fault| fault.of(source)).collect())),
            _ => Err(Failure::Machine(format!("{what} came to nothing"))),
        }
    }

    /// # Errors
    /// What the typesetter says.
    pub fn set(&mut self, order: &Order, longest: Duration) -> Result<Pdf, Failure> {
        let what = "setting the pages with the title block of the job";
        match self.ask(order, what, longest)? {
            Answer::Set { bytes, pages } => Ok(Pdf { bytes, pages }),
            Answer::Unset(lines) => Err(unset(lines)),
            Answer::Tried(_) => Err(Failure::Machine(format!("{what} came to nothing"))),
        }
    }

    fn ask(&mut self, order: &Order, what: &str, longest: Duration) -> Result<Answer, Failure> {
        match self {
            Apart::Here(typesetter) => Ok(answer(order, typesetter)),
            Apart::There(there) => there.ask(order, what, longest),
        }
    }
}

impl There {
    fn ask(&mut self, order: &Order, what: &str, longest: Duration) -> Result<Answer, Failure> {
        // A child that has ended says why below.
        let _ = ciborium::into_writer(order, &mut self.orders);
        let _ = self.orders.flush();
        let why = match self.answers.recv_timeout(longest) {
            Ok(answer) => return Ok(answer),
            Err(RecvTimeoutError::Timeout) => {
                let _ = self.child.kill();
                format!("is not done after {} seconds, more than any takes", longest.as_secs())
            }
            Err(RecvTimeoutError::Disconnected) => match self.child.wait().map(|status: ExitStatus| status.code()) {
                Ok(Some(TOO_MUCH)) => format!("takes more than {} GB of memory, more than any takes", MEMORY >> 30),
                _ => "runs out of memory or of stack".into(),
            },
        };
        let hint =
            "a title block draws a few lines: look for a loop, or for something that is made very large or very deep";
        Err(Diagnostic::new(format!("{what} {why}")).hint(hint).into())
    }
}

impl Fault {
    fn new(wrong: &Diagnostic) -> Fault {
        let span = wrong.place.as_ref().map(|place| (place.span.start, place.span.end));
        Fault { message: wrong.message.clone(), hints: wrong.hints.clone(), span }
    }

    fn of(self, source: &Arc<Source>) -> Diagnostic {
        let wrong = Diagnostic::new(self.message);
        let wrong = match self.span {
            Some((from, to)) => wrong.at(Place::new(source, from..to)),
            None => wrong,
        };
        self.hints.into_iter().fold(wrong, Diagnostic::hint)
    }
}

/// What an order comes to.
fn answer(order: &Order, typesetter: &mut Typesetter) -> Answer {
    match order {
        Order::Try { name, text, files, path, trial, around, date } => {
            let source = Source::new(name.clone(), text.clone());
            let block = pdf::Block { source: &source, files, path, trial, around: *around, date: *date };
            let wrong = pdf::check_block(&block).err();
            Answer::Tried(wrong.iter().flat_map(|wrong| wrong.iter()).map(Fault::new).collect())
        }
        Order::Set { files, main, date, ident, preview } => {
            let document = Document { files: files.clone(), main, date: *date, ident };
            let set = match preview {
                true => typesetter.set(document).and_then(|pages| pages.export(false)),
                false => pdf::render(document),
            };
            match set {
                Ok(Pdf { bytes, pages }) => Answer::Set { bytes, pages },
                Err(lines) => Answer::Unset(lines),
            }
        }
    }
}

/// The child: it ends with its input, so that nothing of it outlives who asked.
pub(super) fn serve() -> Run {
    // Ctrl-C is for who asked.
    let heard = flag::register(SIGINT, Arc::new(AtomicBool::new(false)));
    heard.map_err(|error| Failure::Machine(error.to_string()))?;
    std::thread::spawn(|| {
        while !takes_too_much() {
            std::thread::sleep(OFTEN);
        }
        exit(TOO_MUCH)
    });
    let (sender, orders) = channel();
    std::thread::spawn(move || {
        let mut input = BufReader::new(std::io::stdin());
        while let Ok(order) = ciborium::from_reader::<Order, _>(&mut input) {
            if sender.send(order).is_err() {
                break;
            }
        }
        exit(0)
    });
    let mut typesetter = Typesetter::default();
    for order in orders {
        let mut out = BufWriter::new(std::io::stdout().lock());
        let written = ciborium::into_writer(&answer(&order, &mut typesetter), &mut out);
        if written.is_err() || out.flush().is_err() {
            break;
        }
    }
    Ok(Outcome::Met)
}
