//! The log for reports of faults: what was pressed and done, how long that took, what failed.
//!
//! It holds nothing that somebody would not want to hand on: no typed text, no names of files,
//! no home folder, no names of user or machine, unless all of that was asked for. There is one log
//! for a run of the program, as for its standard error; where none was begun, a line costs a look
//! at a flag and its text is never made.

use std::fs::OpenOptions;
use std::io::{self, BufWriter, Read as _, Write};
use std::path::Path;
use std::sync::{Mutex, OnceLock, PoisonError};
use std::time::Instant;

use super::{FileError, text};

/// How a log begins. A file that begins otherwise is never written to.
const HEAD: &str = "# gantrywright log";

/// The log of this run.
static LOG: OnceLock<Log> = OnceLock::new();

struct Log {
    out: Mutex<BufWriter<Box<dyn Write + Send>>>,
    begun: Instant,
    whole: bool,
}

/// Begins the log. A log of an earlier run is gone on with.
///
/// # Errors
/// Where the file cannot be written, or holds something else.
pub fn begin(path: &Path, whole: bool) -> Result<(), FileError> {
    let name = text::name_of(path);
    let fail = |error: io::Error| FileError::new(&name, text::reason(&error));
    let mut options = OpenOptions::new();
    options.read(true).append(true).create(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt as _;
        options.mode(0o600);
    }
    let mut file = options.open(path).map_err(fail)?;
    let mut start = String::new();
    let read = (&mut file)
        .take(HEAD.len() as u64)
        .read_to_string(&mut start);
    let is_file = file.metadata().is_ok_and(|known| known.is_file());
    if is_file && (read.is_err() || !(start.is_empty() || start == HEAD)) {
        let message = "this file holds something else than a log; give another name";
        return Err(FileError::new(name, message));
    }
    let _ = LOG.set(Log {
        out: Mutex::new(BufWriter::new(Box::new(file))),
        begun: Instant::now(),
        whole,
    });
    write(&format!("{HEAD}\n"));
    Ok(())
}

/// Whether there is a log.
pub fn is_on() -> bool {
    LOG.get().is_some()
}

/// Whether texts go into the log as they are.
pub fn is_whole() -> bool {
    LOG.get().is_some_and(|log| log.whole)
}

/// Writes a line, with the seconds since the start before it.
pub fn line(text: impl FnOnce() -> String) {
    if let Some(log) = LOG.get() {
        let seconds = log.begun.elapsed().as_secs_f64();
        write(&format!("{seconds:10.4} {}\n", super::visible(&text())));
    }
}

/// The same at once on the disk, for what may be the last line.
pub fn last_line(text: impl FnOnce() -> String) {
    line(text);
    flush();
}

fn write(text: &str) {
    if let Some(log) = LOG.get() {
        // A log that cannot be written is no reason to stop planning.
        let mut out = log.out.lock().unwrap_or_else(PoisonError::into_inner);
        let _ = out.write_all(text.as_bytes());
    }
}

/// Writes what waits. Not where a fault holds the log at this moment.
pub fn flush() {
    if let Some(log) = LOG.get()
        && let Ok(mut out) = log.out.try_lock()
    {
        let _ = out.flush();
    }
}

/// A message as the log may hold it: as it is where that was asked for, else up to the first word
/// that could be typed text or the name of a file.
pub fn harmless(message: &str) -> String {
    match is_whole() {
        true => message.to_owned(),
        false => without_names(message),
    }
}

/// A message up to the first word that could be typed text or the name of a file.
pub fn without_names(message: &str) -> String {
    const FOLDER: &str = "is a folder";
    const FILE: &str = "the file:";
    if message.contains(FOLDER) {
        return format!("... {FOLDER}");
    }
    if let Some((before, _)) = message.split_once(FILE) {
        return without_names(before) + FILE + " ...";
    }
    let mut kept = String::new();
    for word in message.split_inclusive(' ') {
        let bare = word.trim_matches(|c: char| c.is_whitespace() || "(,;:)".contains(c));
        let inner = bare.trim_end_matches('.');
        let named = inner.contains(['"', '\'', '`', '~', '\\'])
            || inner.starts_with(['/', '.'])
            || inner.matches('/').count() > 1
            || (inner.contains('.') && inner.chars().any(char::is_alphabetic));
        if named {
            kept.push_str("...");
            return kept;
        }
        kept.push_str(word);
    }
    kept
}

/// A text with the home folder as `~`.
pub fn without_home(text: &str) -> String {
    match etcetera::home_dir() {
        Ok(home) if home.as_os_str().len() > 1 => text.replace(&*home.to_string_lossy(), "~"),
        _ => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_and_typed_text_are_cut_off() {
        for (message, kept) in [
            ("nothing to undo", "nothing to undo"),
            ("saved to /home/anna/plans/shed.toml", "saved to ..."),
            ("not written: my plans is a folder; type", "... is a folder"),
            ("\"my secret\" is no number", "..."),
            (
                "not saved: the disk is full; the file: my shed.toml",
                "not saved: the disk is full; the file: ...",
            ),
            ("1.50 EUR at 12 m/min.", "1.50 EUR at 12 m/min."),
        ] {
            assert_eq!(without_names(message), kept);
        }
    }
}
