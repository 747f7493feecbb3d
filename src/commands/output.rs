//! Where answers and complaints go.

use std::fmt;
use std::io::{self, Write};
use std::path::Path;
use std::process::ExitCode;

use super::layout;
use crate::store::file_error::clipped;
use crate::store::visible::is_hidden;
use crate::store::{FileError, text, visible, visible_json};
use crate::units::respell::Speller;

/// Why a command cannot do what it was asked: one message, and exit code 2.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Failure(String);

impl Failure {
    /// A failure with its message, made safe for the terminal.
    pub(super) fn new(message: impl AsRef<str>) -> Self {
        Self(clipped(message.as_ref()))
    }
}

impl From<FileError> for Failure {
    fn from(error: FileError) -> Self {
        Self(error.to_string())
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Says what went wrong. Nobody may be listening: that is no reason to fail.
pub(super) fn complain(failure: &Failure) {
    let _ = writeln!(io::stderr(), "{failure}");
}

/// Says what was done, beside an answer: data on standard output stay data alone.
pub(super) fn tell(message: impl AsRef<str>) {
    complain(&Failure::new(message));
}

/// Says what is wrong with the arguments, or gives the help that was asked for, which is an answer
/// too. A closed pipe is nobody's fault. Arguments may come from a script that took a file's name
/// for granted: no sign in them steers the terminal.
pub(super) fn help(answer: &clap::Error) {
    let plain = answer.render().to_string();
    if !plain.lines().any(|line| line.contains(is_hidden)) {
        let _ = answer.print();
        return;
    }
    let lines: Vec<_> = plain.lines().map(visible).collect();
    let _ = writeln!(io::stderr(), "{}", lines.join("\n"));
}

/// Refuses to write over a file that is there, unless that was asked for.
///
/// # Errors
/// Says that the file is there, and what to do about it.
pub(super) fn not_over(path: &Path, force: bool) -> Result<(), Failure> {
    if force || text::is_missing(path) {
        return Ok(());
    }
    let message = "the file is there already; give another name, or --force to replace it";
    Err(FileError::new(text::name_of(path), message).into())
}

/// Writes an answer to standard output, all at once.
///
/// A reader who has seen enough (`| head`) closes the pipe; that ends the command quietly.
///
/// # Errors
/// Where the answer cannot be written, such as to a full disk.
pub(super) fn answer(text: &str) -> Result<ExitCode, Failure> {
    answer_bytes(text.as_bytes())
}

/// The same for a page for people: numbers stand in their units and marks.
///
/// # Errors
/// As [`answer`].
pub(super) fn answer_page(text: &str, speller: &Speller) -> Result<ExitCode, Failure> {
    match speller.shown().is_plain() {
        true => answer(text),
        false => answer(&layout::fitted(&speller.text(text))),
    }
}

/// The same for what is no text, such as a workbook.
///
/// # Errors
/// As [`answer`].
pub(super) fn answer_bytes(bytes: &[u8]) -> Result<ExitCode, Failure> {
    let mut out = io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Ok(()) => Ok(ExitCode::SUCCESS),
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(ExitCode::SUCCESS),
        Err(error) => Err(Failure::new(format!("standard output: {error}"))),
    }
}

/// The same for JSON, whose strings may come from files.
///
/// # Errors
/// As [`answer`].
pub(super) fn answer_json(value: &serde_json::Value) -> Result<ExitCode, Failure> {
    answer(&visible_json(&format!("{value:#}\n")))
}
