//! Arguments, run, exit code; nothing else.

use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    socle::run::run(socle::cli::Cli::parse())
}
