//! `socle watch`: a job worked again on every save, what changed, and its package as a preview.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use signal_hook::consts::SIGINT;
use signal_hook::flag;

use super::apart::Apart;
use super::package::{Kept, Sources, spare};
use super::saves::Saves;
use super::{Outcome, Run, colour, note, outcome, paper, spinner, unset, verdict};
use crate::archive::{Kind, close};
use crate::cli::WatchArgs;
use crate::diag::{Diagnostic, Diagnostics, count, list};
use crate::engine::Results;
use crate::files::{Failure, complain, say, write};
use crate::load::Loaded;
use crate::pdf::{Pdf, Typesetter};
use crate::report;
use crate::revision::Moment;
use crate::verdict::Verdict;

/// How often it heeds Ctrl-C, and tries again to write a package that could not be written.
const HEED: Duration = Duration::from_millis(300);

pub(super) fn watch(args: &WatchArgs) -> Run {
    if args.output.as_deref() == Some(Path::new("-")) {
        let what =
            "`-` is standard output, and a watch writes its package again and again; expected the name of a file";
        return Err(Diagnostic::new(what).hint("`socle package JOB -o -` writes one package there").into());
    }
    if !args.job.is_dir() {
        // Says that there is none.
        Kept::default().load(&args.job, None)?;
    }
    let end = end()?;
    let mut saves = Saves::new(&args.job, args.confirmed.as_deref(), args.poll)?;
    let mut watched = Watched::new(args);
    watched.work(&[]);
    say("\nWatching; Ctrl-C ends it.\n")?;
    while !end.load(Ordering::SeqCst) {
        let names = saves.next(HEED);
        if names.is_empty() { watched.put(false)? } else { watched.work(&names) }
    }
    Ok(watched.outcome)
}

/// Becomes true with Ctrl-C; a second one ends the program whatever it does.
fn end() -> Result<Arc<AtomicBool>, Failure> {
    let end = Arc::new(AtomicBool::new(false));
    flag::register_conditional_shutdown(SIGINT, 2, end.clone())
        .and_then(|_| flag::register(SIGINT, end.clone()))
        .map_err(|error| Failure::Machine(format!("Ctrl-C cannot be heard: {error}")))?;
    Ok(end)
}

/// A job, and what is known of it from its states so far.
struct Watched<'a> {
    args: &'a WatchArgs,
    /// Of the last state.
    outcome: Outcome,
    kept: Kept,
    typesetter: Typesetter,
    /// The typesetter of a job that has a title block of its own.
    apart: Option<Apart>,
    /// The last good state.
    good: Option<Moment>,
    /// Where its package stands.
    written: Option<PathBuf>,
    /// A package that could not be written yet.
    waits: Option<(PathBuf, Pdf)>,
    noted: Vec<String>,
}

impl<'a> Watched<'a> {
    fn new(args: &'a WatchArgs) -> Watched<'a> {
        let (kept, typesetter, outcome) = (Kept::default(), Typesetter::default(), Outcome::Wrong);
        Watched {
            args,
            outcome,
            kept,
            typesetter,
            apart: None,
            good: None,
            written: None,
            waits: None,
            noted: Vec::new(),
        }
    }

    /// Works the state that the files are in now; `names` are those that were saved.
    fn work(&mut self, names: &[String]) {
        let mut kept = std::mem::take(&mut self.kept);
        let worked = self.state(&mut kept, names);
        self.kept = kept;
        match worked {
            Err(Failure::Wrong(wrong)) => self.wrong(&wrong),
            // An editor may hold a file for a moment.
            Err(Failure::Machine(message)) => complain(&format!("error: {message}\nThe watch goes on.\n")),
            Ok(()) => {}
        }
    }

    fn state(&mut self, kept: &mut Kept, names: &[String]) -> Result<(), Failure> {
        // Until it is worked out it is taken to be wrong.
        self.outcome = Outcome::Wrong;
        if !names.is_empty() {
            say(&format!("\n{} saved\n", list(&names[..names.len().min(SAVED)], "and").replace('`', "")))?;
        }
        let loaded = kept.load(&self.args.job, self.args.confirmed.as_deref())?;
        self.note(&loaded.job.notes);
        let (root, results) = kept.work_out(&loaded)?;
        let verdict = verdict(&loaded, &results);
        self.tell(&loaded, &results, &verdict)?;
        if !self.args.no_pdf {
            let found = kept.sources(&loaded, &root, &results, &verdict)?;
            self.typeset(&loaded.name, found)?;
        }
        Ok(())
    }

    /// Says how the job stands, or what is otherwise than it was.
    fn tell(&mut self, loaded: &Loaded, results: &Results, verdict: &Verdict) -> Result<(), Failure> {
        let now = Moment::new(&loaded.job, results, verdict);
        self.outcome = outcome(now.ok);
        let text = match &self.good {
            None => report::summary(&loaded.job, results, verdict, paper()),
            Some(before) => report::changes(&before.changes(&now), paper()) + &paper().paragraph(&verdict.headline),
        };
        self.good = Some(now);
        say(&text)
    }

    /// What is worth a look is said once, as long as it stays the same.
    fn note(&mut self, notes: &Diagnostics) {
        let messages: Vec<String> = notes.iter().map(|note| note.message.clone()).collect();
        if self.noted != messages {
            note(notes);
            self.noted = messages;
        }
    }

    fn typeset(&mut self, name: &str, found: Sources) -> Result<(), Failure> {
        let progress = spinner("typesetting");
        let path = self.args.output.clone().unwrap_or_else(|| Path::new("out").join(format!("{name}.pdf")));
        spare(&path, &found.job)?;
        let pdf = match found.own_block {
            true => self.apart(&found),
            false => self.typesetter.set(found.document()).and_then(|pages| pages.export(false)).map_err(unset),
        };
        progress.finish_and_clear();
        let Pdf { bytes, pages } = pdf?;
        let pdf = Pdf { bytes: close(bytes, Kind::Preview, &found.job), pages };
        let tried_before = self.waits.replace((path, pdf)).is_some();
        self.put(!tried_before)
    }

    /// One that has come to a bad end is not asked again.
    fn apart(&mut self, found: &Sources) -> Result<Pdf, Failure> {
        let mut apart = self.apart.take().map_or_else(Apart::start, Ok)?;
        let pdf = found.apart(&mut apart, true)?;
        self.apart = Some(apart);
        Ok(pdf)
    }

    /// Writes a package that waits, if there is one. `aloud`: says why it cannot be written.
    fn put(&mut self, aloud: bool) -> Result<(), Failure> {
        let Some((path, pdf)) = self.waits.take() else { return Ok(()) };
        match write(&path, &pdf.bytes) {
            Err(Failure::Machine(message)) => {
                if aloud {
                    complain(&format!(
                        "error: {message}\nIt is written as soon as that can be done; the watch goes on.\n"
                    ));
                }
                self.waits = Some((path, pdf));
                Ok(())
            }
            Err(wrong) => Err(wrong),
            Ok(()) => {
                let office = match &self.written {
                    None => "; `socle package` writes the file for the office",
                    Some(_) => "",
                };
                let pages = count(pdf.pages, "page");
                let text = format!("{} written, {pages}, a preview without tags{office}.", path.display());
                say(&paper().paragraph(&text))?;
                self.written = Some(path);
                Ok(())
            }
        }
    }

    fn wrong(&self, wrong: &Diagnostics) {
        complain(&report::diagnostics(wrong, colour(&std::io::stderr())));
        match (&self.written, &self.good) {
            (Some(path), _) => complain(&format!("The last good package stands: {}.\n", path.display())),
            (None, Some(_)) => complain("The last good state stands.\n"),
            (None, None) => {}
        }
    }
}

/// Files that are named when several are saved at once.
const SAVED: usize = 4;
