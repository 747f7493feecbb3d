//! `gantrywright completions SHELL`.

use std::process::ExitCode;

use clap::{Args, CommandFactory as _};

use super::{Cli, Failure, output};

/// Prints the completion script for a shell.
#[derive(Args, Debug)]
pub(super) struct Completions {
    /// The shell.
    shell: clap_complete::Shell,
}

pub(super) fn run(args: &Completions) -> Result<ExitCode, Failure> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "gantrywright", &mut script);
    output::answer(&String::from_utf8_lossy(&script))
}
