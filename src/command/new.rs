//! `socle new`: a job that works, every value of it marked as nobody's answer.

use super::{Outcome, Run};
use crate::cli::{Like, NewArgs, NewBase};
use crate::diag::Diagnostic;
use crate::files::{names_in, say, write};
use crate::fresh::{self, Wish};

pub(super) fn new(args: &NewArgs) -> Run {
    let folder = &args.folder;
    if folder.is_file() || folder.is_dir() && !names_in(folder)?.is_empty() {
        let what = if folder.is_file() { "is a file" } else { "is not empty" };
        return Err(Diagnostic::new(format!("`{}` {what}; nothing was written", folder.display()))
            .hint("name a folder that does not exist yet, such as `socle new my-pergola`")
            .into());
    }
    let (like, base) = match args.like {
        Like::Pergola => ("pergola", NewBase::Made),
        Like::Carport => ("carport", NewBase::Made),
        Like::Porch => ("porch", NewBase::Rated),
        Like::Barn => ("barn", NewBase::Rated),
    };
    let base = match args.base.unwrap_or(base) {
        NewBase::Made => "made",
        NewBase::Rated => "rated",
    };
    let files = fresh::job(&Wish { like, base, reactions: args.reactions, units: args.units.units() })?;
    for (name, text) in &files {
        let path = folder.join(name);
        write(&path, text.as_bytes())?;
        say(&format!("{} written\n", path.display()))?;
    }
    let shown = folder.display().to_string();
    let shown = if shown.contains(char::is_whitespace) { format!("\"{shown}\"") } else { shown };
    say(&format!(
        "\nThe job works as it is, with made-up values. Each is followed by a ? and counts as open:\n\
         replace it with your own, or remove the ? where it is right. Then:\n\n\
         \x20   socle check {shown}\n\
         \x20   socle package {shown}\n"
    ))?;
    Ok(Outcome::Met)
}
