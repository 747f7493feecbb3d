//! `--log FILE`: a log for reports of faults, whatever the command is.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueHint};

use super::{Command, Failure};
use crate::store::log;

/// The place of these options in every help: behind what the command is for, before help itself.
const LAST: usize = 900;

/// What is logged, and where.
#[derive(Args, Clone, Debug, Default)]
pub(super) struct LogArgs {
    /// Write what happens to a file, for a report of a fault: keys by name, what they did, times,
    /// errors. Typed text, names of files and of people stay out.
    #[arg(long, global = true, display_order = LAST, value_name = "FILE", value_hint = ValueHint::FilePath)]
    log: Option<PathBuf>,
    /// Let typed text and names of files into the log as well.
    #[arg(long, global = true, display_order = LAST, requires = "log")]
    log_text: bool,
}

impl LogArgs {
    /// Begins the log, where one is wished.
    pub(super) fn begin(&self, command: Option<&Command>) -> Result<(), Failure> {
        let Some(file) = &self.log else {
            return Ok(());
        };
        log::begin(file, self.log_text)?;
        log::line(|| {
            format!(
                "gantrywright {} on {} {}: {}",
                env!("CARGO_PKG_VERSION"),
                std::env::consts::OS,
                std::env::consts::ARCH,
                command.map_or_else(|| "without a command".to_owned(), name),
            )
        });
        Ok(())
    }
}

/// A command by its name, without its arguments.
fn name(command: &Command) -> String {
    let told = format!("{command:?}");
    let end = told.find('(').unwrap_or(told.len());
    told[..end].to_lowercase()
}

/// An error without the name of the file, which stands first.
fn reason(failure: &Failure) -> String {
    let told = failure.to_string();
    match told.split_once(": ") {
        Some((_, rest)) if !log::is_whole() => format!("...: {}", log::harmless(rest)),
        _ => log::harmless(&told),
    }
}

/// Notes how the command ended, and writes all of the log.
pub(super) fn end(done: &Result<ExitCode, Failure>) {
    log::last_line(|| match done {
        Ok(code) if *code == ExitCode::SUCCESS => "end: all is well".to_owned(),
        Ok(_) => "end: with an exit code".to_owned(),
        Err(failure) => format!("end: error: {}", reason(failure)),
    });
}
