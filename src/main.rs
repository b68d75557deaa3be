//! Arguments, run, exit code; nothing else.

use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    socle::command::run(socle::cli::Cli::parse())
}
