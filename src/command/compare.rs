//! `socle compare`: what changed between two states of a job.

use super::package::State;
use super::{Outcome, Run, paper};
use crate::cli::CompareArgs;
use crate::diag::Diagnostic;
use crate::files::{Failure, say};
use crate::load::Confirmed;
use crate::{report, revision};

pub(super) fn compare(args: &CompareArgs) -> Run {
    if !(args.moved >= 0.0 && args.moved.is_finite()) {
        let message = format!("found `--moved {}`; expected a ratio, such as 0.01", args.moved);
        return Err(Diagnostic::new(message).into());
    }
    let confirmed = Confirmed::read(args.confirmed.as_deref())?;
    let edition = |path| {
        let state = State::read(path)?;
        state.edition(confirmed.as_ref()).map_err(|failure| about(failure, &state.shown()))
    };
    let (old, new) = (edition(&args.old)?, edition(&args.new)?);
    let found = revision::compare(&old, &new);
    let text = match args.json {
        true => report::comparison_json(&found, args.moved),
        false => report::comparison(&found, args.moved, paper()),
    };
    say(&text)?;
    Ok(if report::is_nothing(&found, args.moved) { Outcome::Met } else { Outcome::NotMet })
}

/// Says which of the two it is that is wrong.
fn about(failure: Failure, shown: &str) -> Failure {
    match failure {
        Failure::Wrong(mut wrong) => {
            let first = wrong.iter_mut().take(1).filter(|first| !first.message.contains(shown));
            first.for_each(|first| first.hints.push(format!("this is about `{shown}`")));
            Failure::Wrong(wrong)
        }
        machine => machine,
    }
}
