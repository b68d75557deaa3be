//! One file for each command, and what they share: how a run ends and what a
//! person sees meanwhile.

mod apart;

mod bounds;

mod check;

mod choose;
mod new_sheet;

mod compare;

mod completions;

mod new;

mod package;

mod page;

mod reopen;

mod saves;

mod sheets;

mod validate;

mod watch;

mod work;

use std::io::IsTerminal;
use std::process::ExitCode;

use anstream::stream::RawStream;
use anstream::{AutoStream, ColorChoice};
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use crate::cli::{Cli, Command};
use crate::diag::Diagnostic;
use crate::engine::{self, ROOT, Results, Root};
use crate::files::{Failure, complain, say};
use crate::job::Job;
use crate::load::{Loaded, all};
use crate::names::same_name;
use crate::report::{self, Paper};
use crate::verdict::Verdict;

pub use package::{Kept, MAIN, Sources, sources};

/// How a run ended.
enum Outcome {
    Met,
    NotMet,
    /// The last state of a job that was watched is wrong, and it was said.
    Wrong,
}

type Run = Result<Outcome, Failure>;

pub fn run(cli: Cli) -> ExitCode {
    apart::allow();
    let result = match cli.command {
        Command::New(args) => new::new(&args),
        Command::Check(args) => said(check::check(&args), args.json),
        Command::Choose(args) => choose::choose(&args),
        Command::Package(args) => package::package(&args),
        Command::Compare(args) => compare::compare(&args),
        Command::Reopen(args) => reopen::reopen(&args),
        Command::Watch(args) => watch::watch(&args),
        Command::Work(args) => work::work(&args),
        Command::Sheets(args) => sheets::sheets(&args),
        Command::Validate(args) => validate::validate(&args),
        Command::Completions(args) => completions::completions(&args),
        Command::Man(args) => completions::man(&args),
        Command::Apart => apart::serve(),
    };
    match result {
        Ok(Outcome::Met) => ExitCode::from(0),
        Ok(Outcome::NotMet) => ExitCode::from(1),
        Ok(Outcome::Wrong) => ExitCode::from(2),
        Err(Failure::Wrong(diagnostics)) => {
            complain(&report::diagnostics(&diagnostics, colour(&std::io::stderr())));
            ExitCode::from(2)
        }
        Err(Failure::Machine(message)) => {
            complain(&format!("error: {message}\n"));
            ExitCode::from(3)
        }
    }
}

/// A program that reads JSON is told in JSON that the job was not worked.
fn said(run: Run, json: bool) -> Run {
    if let (Err(Failure::Wrong(diagnostics)), true) = (&run, json) {
        say(&report::not_worked_json(diagnostics))?;
    }
    run
}

/// Whether a stream is read by somebody who sees colours: a terminal, and neither
/// `NO_COLOR` nor its name speaks against it.
fn colour(stream: &impl RawStream) -> bool {
    AutoStream::choice(stream) != ColorChoice::Never
}

/// Says on standard error what is worth a look.
fn note(notes: &[Diagnostic]) {
    complain(&report::notes(notes, colour(&std::io::stderr())));
}

/// A job's posts in every combination; all that is wrong with any is said at once.
fn work_out<'a>(loaded: &'a Loaded, kept: Option<&'a engine::Kept>) -> Result<(Root<'a>, Results), Failure> {
    let bar = spinner("working");
    let root = Root::new(&loaded.job, &loaded.library, ROOT, None)?;
    let root = if let Some(kept) = kept { root.keeping(kept) } else { root };
    let results = engine::work_job(&root, &|done, total| {
        bar.set_message(format!("working: group {done} of {total}"));
        bar.tick();
    });
    bar.finish_and_clear();
    let results = results.map_err(|mut wrong| {
        loaded.job.tables.in_words(&mut wrong);
        all(wrong, loaded.library.units())
    });
    Ok((root, results?))
}

fn verdict(loaded: &Loaded, results: &Results) -> Verdict {
    Verdict::new(&loaded.job, &loaded.library, results, &loaded.loads.groups)
}

/// Shown only after a while, and only to a person.
fn spinner(message: &str) -> ProgressBar {
    let bar = ProgressBar::new_spinner().with_style(ProgressStyle::default_spinner()).with_message(message.to_string());
    if !std::io::stderr().is_terminal() {
        bar.set_draw_target(ProgressDrawTarget::hidden());
    }
    bar.enable_steady_tick(std::time::Duration::from_millis(120));
    bar
}

/// Standard output as it can be printed on.
fn paper() -> Paper {
    let out = std::io::stdout();
    Paper::new(out.is_terminal(), colour(&out))
}

/// The places in the job of posts that were asked for by their marks, each once.
fn posts_named(job: &Job, marks: &[String]) -> Result<Vec<usize>, Failure> {
    let mut found = Vec::new();
    for mark in marks {
        let at = job.posts.iter().position(|post| same_name(&post.mark, mark)).ok_or_else(|| {
            Diagnostic::new(format!("there is no post `{mark}` in `posts.csv`"))
                .nearest(mark, job.posts.iter().map(|post| post.mark.as_str()))
        })?;
        if !found.contains(&at) {
            found.push(at);
        }
    }
    Ok(found)
}

/// What the typesetter says of a package.
fn unset(lines: Vec<String>) -> Failure {
    let said = |line| Diagnostic::new(format!("the package could not be typeset: {line}"));
    Failure::Wrong(lines.into_iter().map(said).collect())
}

fn outcome(ok: bool) -> Outcome {
    if ok { Outcome::Met } else { Outcome::NotMet }
}
