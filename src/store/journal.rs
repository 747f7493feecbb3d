//! The recovery journal: what is not saved yet, so that it outlives a cut line, a signal, a fault
//! of the program and a `kill -9`.
//!
//! While a build differs from its file, a journal lies in the folder `recovery` of the state
//! folder (XDG base directories). It goes once all is saved, or thrown away on purpose; whatever
//! is left behind was lost by accident, and the next start offers it. A session that lives holds a
//! lock on its journal, which the system takes away with the process, however that ends.
//!
//! A journal is text, one JSON object a line. The first tells of the session: which file, what it
//! held (whole, and as a hash), which process, since when. Each further line is the whole state
//! after an edit, as one piece of text that takes the place of some lines of the file as it was
//! opened ([`splice`]): the last line that can be read is enough, and a line that was cut off by
//! the end of the process costs nothing but itself.

use std::fs::{self, File, TryLockError};
use std::io::{self, Read as _};
use std::path::{Path, PathBuf};

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::{FileError, text};

mod keeper;
mod place;
mod recorder;
pub mod splice;

use crate::order::Order as _;
pub use keeper::Keeper;
pub use recorder::{Recorder, Work};
use splice::Splice;

/// The format that this program writes, and the only one it reads.
const FORMAT: u32 = 1;

/// The folder in the state folder.
const FOLDER: &str = "recovery";

/// How the name of a journal ends.
const ENDING: &str = "jsonl";

/// The most that is read of a journal: one is written anew long before.
const LARGEST: u64 = 4 * text::LARGEST;

/// What a session works on: the first line of its journal.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize, Serialize)]
pub struct Header {
    /// The format of the journal.
    pub format: u32,
    /// The version of the program.
    pub version: String,
    /// The file; none for a new build or an example.
    pub file: Option<PathBuf>,
    /// Whether that is a bundle.
    pub bundle: bool,
    /// The hash of the build's text as it was opened or saved last.
    pub hash: String,
    /// The process.
    pub pid: u32,
    /// When the session had its first unsaved edit.
    pub begun: Timestamp,
    /// What the builder calls the build.
    pub title: String,
    /// The build's text as it was opened or saved last.
    pub text: String,
}

/// One further line: the state after an edit.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize, Serialize)]
struct Entry {
    /// When it was written.
    at: Timestamp,
    #[serde(flatten)]
    splice: Splice,
}

/// A journal that was left behind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Journal {
    /// Where it lies.
    pub path: PathBuf,
    /// Whether the session that writes it still runs.
    pub alive: bool,
    /// What the session worked on.
    pub header: Header,
    /// When the last edit was written.
    pub last: Timestamp,
    /// The build's text after it.
    pub text: String,
}

impl Journal {
    /// The name by which it is called: that of its file, without the ending.
    pub fn name(&self) -> String {
        let stem = self.path.file_stem().unwrap_or_default();
        stem.to_string_lossy().into_owned()
    }

    /// Reads a journal.
    ///
    /// # Errors
    /// Where it cannot be opened, or nothing in it can be used.
    pub fn read(path: &Path) -> Result<Self, FileError> {
        let name = text::name_of(path);
        let fail = |error: io::Error| FileError::new(&name, text::reason(&error));
        let file = File::open(path).map_err(fail)?;
        let mut bytes = Vec::new();
        (&file)
            .take(LARGEST)
            .read_to_end(&mut bytes)
            .map_err(fail)?;
        let lines = String::from_utf8_lossy(&bytes);
        let useless = || FileError::new(&name, "nothing in this journal can be read");
        let (header, entry) = parse(&lines).ok_or_else(useless)?;
        let text = entry.splice.applied(&header.text).ok_or_else(useless)?;
        Ok(Self {
            path: path.to_owned(),
            alive: is_alive(&file, header.pid),
            last: entry.at,
            header,
            text,
        })
    }
}

/// The first line, and the last of the others that can be read.
fn parse(lines: &str) -> Option<(Header, Entry)> {
    let mut lines = lines.lines();
    let header: Header = serde_json::from_str(lines.next()?).ok()?;
    if header.format != FORMAT {
        return None;
    }
    let entry = lines.rev().find_map(|line| serde_json::from_str(line).ok());
    Some((header, entry?))
}

/// Whether the session that writes the journal still runs: it holds a lock on it. Where the file
/// system knows no locks, whether there is such a process.
fn is_alive(file: &File, pid: u32) -> bool {
    match file.try_lock_shared() {
        Ok(()) => false,
        Err(TryLockError::WouldBlock) => true,
        Err(TryLockError::Error(_)) => process(pid).is_some_and(|pid| {
            // A process of somebody else is one that lives.
            rustix::process::test_kill_process(pid) != Err(rustix::io::Errno::SRCH)
        }),
    }
}

fn process(pid: u32) -> Option<rustix::process::Pid> {
    rustix::process::Pid::from_raw(i32::try_from(pid).ok()?)
}

/// The folder of the journals; none where there is no home folder.
pub fn folder() -> Option<PathBuf> {
    Some(super::state::path()?.with_file_name(FOLDER))
}

/// Every journal in the folder, the oldest first; those that cannot be read are passed over.
pub fn all() -> Vec<Journal> {
    folder().map_or_else(Vec::new, |folder| in_folder(&folder))
}

/// The same for a folder.
pub fn in_folder(folder: &Path) -> Vec<Journal> {
    let Ok(entries) = fs::read_dir(folder) else {
        return Vec::new();
    };
    let paths = entries.filter_map(|entry| Some(entry.ok()?.path()));
    let mut paths: Vec<PathBuf> = paths.filter(|path| is_journal(path)).collect();
    paths.order();
    let read = paths.iter().filter_map(|path| Journal::read(path).ok());
    read.collect()
}

fn is_journal(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == ENDING)
}

/// Those whose session has ended: what is offered.
pub fn left_behind() -> Vec<Journal> {
    if let Some(folder) = folder() {
        place::sweep(&folder);
    }
    let mut all = all();
    all.retain(|journal| !journal.alive);
    all
}

/// A journal that is being taken up: nobody else can take it meanwhile.
#[derive(Debug)]
pub struct Claim {
    /// Its lock, as long as this lives.
    _lock: File,
    journal: Journal,
}

impl Claim {
    /// Claims a journal.
    ///
    /// # Errors
    /// Where its session lives, somebody else claims it, or it cannot be read.
    pub fn on(path: &Path) -> Result<Self, FileError> {
        let name = text::name_of(path);
        let journal = Journal::read(path)?;
        let fail = |error: io::Error| FileError::new(&name, text::reason(&error));
        let file = File::open(path).map_err(fail)?;
        let locked = !matches!(file.try_lock(), Err(TryLockError::WouldBlock));
        if journal.alive || !locked {
            let message = "another session has these changes open";
            return Err(FileError::new(name, message));
        }
        Ok(Self {
            _lock: file,
            journal,
        })
    }

    /// The journal.
    pub fn journal(&self) -> &Journal {
        &self.journal
    }

    /// Removes it.
    ///
    /// # Errors
    /// Where the system does not let it go.
    pub fn remove(self) -> Result<(), FileError> {
        let path = &self.journal.path;
        fs::remove_file(path)
            .map_err(|error| FileError::new(text::name_of(path), text::reason(&error)))
    }
}

/// Writes the report of a fault beside the journals, and says where it is.
///
/// # Errors
/// Where there is no home folder, or the system does not let it be written.
pub fn report(text: &str) -> io::Result<PathBuf> {
    let folder = folder().ok_or(io::ErrorKind::NotFound)?;
    place::report(&folder, text)
}

/// The hash of a text, by which a file that was changed is known: FNV-1a with 64 bits
/// (IETF RFC 9923). It guards against accidents, not against malice.
pub fn hash(text: &str) -> String {
    const OFFSET: u64 = 0xcbf2_9ce4_8422_2325;
    const PRIME: u64 = 0x0000_0100_0000_01b3;
    let mixed = text.bytes().fold(OFFSET, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(PRIME)
    });
    format!("{mixed:016x}")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The test vectors that the hash was published with.
    #[test]
    fn the_hash_is_the_published_one() {
        assert_eq!(hash(""), "cbf29ce484222325");
        assert_eq!(hash("a"), "af63dc4c8601ec8c");
        assert_eq!(hash("foobar"), "85944171f73967e8");
    }
}
