//! `socle completions` and `socle man`: what is told of the arguments to shells and
//! to the manual, from the same declarations as the help.

use clap::CommandFactory;

use super::{Outcome, Run};
use crate::cli::{Cli, CompletionsArgs, ManArgs};
use crate::files::{Failure, say, write};

pub(super) fn completions(args: &CompletionsArgs) -> Run {
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "socle", &mut text);
    say(&String::from_utf8_lossy(&text))?;
    Ok(Outcome::Met)
}

pub(super) fn man(args: &ManArgs) -> Run {
    let mut all = Cli::command();
    all.build();
    let sections = std::iter::once((String::from("socle"), all.clone())).chain(
        all.get_subcommands()
            .filter(|one| !one.is_hide_set())
            .map(|one| (format!("socle-{}", one.get_name()), one.clone())),
    );
    for (name, command) in sections {
        let mut page = Vec::new();
        clap_mangen::Man::new(command)
            .title(name.to_uppercase())
            .render(&mut page)
            .map_err(|error| Failure::Machine(error.to_string()))?;
        let path = args.folder.join(format!("{name}.1"));
        write(&path, &page)?;
        say(&format!("{} written\n", path.display()))?;
    }
    Ok(Outcome::Met)
}
