//! What a save leaves behind where the program or the machine is ended in the midst of it: a file
//! beside the one that was to be saved, never read, and cleared by the next save in that folder.
//!
//! Whoever saves holds a lock on the new file, which the system drops when the program ends, in
//! whatever way. So a file with something in it that can be locked is nobody's any more. An empty
//! one may have been made this instant, and where locks are not known none tells anything: there
//! a day must have passed.

use std::ffi::OsStr;
use std::fs::{Metadata, TryLockError};
use std::path::Path;
use std::time::Duration;

use super::disk::Disk;

/// What the names of new files begin with.
const BEGIN: &str = ".gantrywright-";

/// What they end in: nothing that is read as a build or as parts.
const END: &str = ".new";

/// How old a file must be that no lock tells of.
const OLD: Duration = Duration::from_secs(24 * 60 * 60);

/// The name of a new file of this program that runs.
pub(super) fn name(number: u32) -> String {
    format!("{BEGIN}{}-{number}{END}", std::process::id())
}

/// Whether a name is one that a save gives to its new file.
pub fn is_ours(name: &OsStr) -> bool {
    let numbers = name
        .to_str()
        .and_then(|name| name.strip_prefix(BEGIN)?.strip_suffix(END)?.split_once('-'));
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    numbers.is_some_and(|(process, number)| digits(process) && digits(number))
}

/// Removes what earlier saves left behind in a folder. It is a kindness: what does not go is no
/// reason not to save.
pub(super) fn clear(disk: &dyn Disk, folder: &Path) {
    let names = disk.names(folder).unwrap_or_default();
    for name in names.iter().filter(|name| is_ours(name)) {
        let path = folder.join(name);
        if is_nobodys(disk, &path) {
            let _ = disk.remove(&path);
        }
    }
}

fn is_nobodys(disk: &dyn Disk, path: &Path) -> bool {
    let Ok(known) = disk.look_at_link(path) else {
        return false;
    };
    if !known.is_file() || (known.len() == 0 && !is_old(&known)) {
        return false;
    }
    match disk.open(path).map(|file| disk.lock(&file)) {
        Ok(Ok(())) => true,
        Ok(Err(TryLockError::WouldBlock)) => false,
        Ok(Err(TryLockError::Error(_))) | Err(_) => is_old(&known),
    }
}

fn is_old(known: &Metadata) -> bool {
    let age = known.modified().ok().and_then(|then| then.elapsed().ok());
    age.is_some_and(|age| age > OLD)
}
