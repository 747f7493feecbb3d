//! Saving so that nothing is ever lost: the new text is complete on the disk before it takes
//! the place of the old one.
//!
//! Every call to the system that a save makes goes through a [`Disk`], so that a test can have
//! any of them fail, or end the program there. Whatever happens, the file holds the old text or
//! the new one, whole.

use std::fs::{File, Metadata};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};

use super::file_error::FileError;
use super::text::{name_of, reason};

mod disk;
mod leftover;

pub(super) use disk::no_link;
pub use disk::{Disk, System};
pub use leftover::is_ours;

/// Writes a text to a path: into a new file beside it, which then takes its name. A reader
/// sees the old text or the new one, never a part. A link keeps pointing where it did: the
/// file that it leads to is replaced. The file's permissions stay.
///
/// # Errors
/// Where the place cannot be written; the old file is then as it was.
pub fn save(path: &Path, text: &str) -> Result<(), FileError> {
    bytes(path, text.as_bytes())
}

/// The same for what is no text, such as a workbook.
///
/// # Errors
/// As [`save`].
pub fn bytes(path: &Path, bytes: &[u8]) -> Result<(), FileError> {
    bytes_on(&System, path, bytes)
}

/// The same by the calls of a disk.
///
/// # Errors
/// As [`save`].
pub fn bytes_on(disk: &dyn Disk, path: &Path, bytes: &[u8]) -> Result<(), FileError> {
    let name = name_of(path);
    let refuse = |why: &str| FileError::new(&name, format!("not saved: {why}"));
    let fail = |error: io::Error| refuse(&why_not(&error));
    let target = follow_on(disk, path).map_err(fail)?;
    let old = match disk.look(&target) {
        Ok(old) => Some(old),
        Err(error) if error.kind() == ErrorKind::NotFound => None,
        Err(error) => return Err(fail(error)),
    };
    if let Some(old) = &old {
        may_replace(old).map_err(refuse)?;
    }
    let folder = folder_of(&target);
    let missing = || refuse(&format!("there is no folder {}", name_of(folder)));
    match disk.look(folder) {
        Ok(known) if known.is_dir() => {}
        Ok(_) => return Err(missing()),
        Err(error) if error.kind() == ErrorKind::NotFound => return Err(missing()),
        Err(error) => return Err(fail(error)),
    }
    // First of all: what a save that was cut off left behind may be what fills the disk.
    leftover::clear(disk, folder);
    replace(disk, &target, folder, old.as_ref(), bytes).map_err(fail)
}

/// The folder that a file lies in.
pub(super) fn folder_of(target: &Path) -> &Path {
    match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// What the system says, in the words of somebody who wanted to save.
pub(super) fn why_not(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "its folder is no longer there".to_owned(),
        ErrorKind::PermissionDenied => "you are not allowed to write in its folder".to_owned(),
        _ => reason(error),
    }
}

fn may_replace(old: &Metadata) -> Result<(), &'static str> {
    if old.is_dir() {
        Err("this is a folder; give a file")
    } else if !old.is_file() {
        Err("this is not an ordinary file")
    } else if old.permissions().readonly() {
        Err("the file may only be read; save under another name")
    } else {
        Ok(())
    }
}

fn replace(
    disk: &dyn Disk,
    target: &Path,
    folder: &Path,
    old: Option<&Metadata>,
    bytes: &[u8],
) -> io::Result<()> {
    let (mut file, path) = new_file(disk, folder)?;
    let filled = fill(disk, &mut file, old, bytes).and_then(|()| disk.rename(&path, target));
    if let Err(error) = filled {
        // Where even that is refused, the next save clears it.
        let _ = disk.remove(&path);
        return Err(error);
    }
    // The new name lasts only when the folder is on the disk too. Not every file system
    // can do that, and the text itself is safe by now.
    if let Ok(folder) = disk.open_folder(folder) {
        let _ = disk.sync(&folder);
    }
    Ok(())
}

/// A new file in a folder, under a name that nothing bears.
fn new_file(disk: &dyn Disk, folder: &Path) -> io::Result<(File, PathBuf)> {
    static NUMBER: AtomicU32 = AtomicU32::new(1);
    const MOST: u32 = 1000;
    for _ in 0..MOST {
        let number = NUMBER.fetch_add(1, Ordering::Relaxed);
        let path = folder.join(leftover::name(number));
        match disk.create(&path) {
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {}
            made => return made.map(|file| (file, path)),
        }
    }
    Err(io::Error::other("no free name for a new file beside it"))
}

fn fill(disk: &dyn Disk, file: &mut File, old: Option<&Metadata>, bytes: &[u8]) -> io::Result<()> {
    // Says that somebody still works on it. Where locks are not known, its age has to tell.
    let _ = disk.lock(file);
    // Before there is something in it that not everybody may read.
    if let Some(old) = old {
        keep(disk, file, old)?;
    }
    let mut rest = bytes;
    while !rest.is_empty() {
        match disk.write(file, rest) {
            Ok(0) => return Err(ErrorKind::WriteZero.into()),
            Ok(count) => rest = rest.get(count..).unwrap_or_default(),
            Err(error) if error.kind() == ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
    disk.sync(file)
}

/// Gives the new file the owner and the permissions of the old one. Only the superuser may
/// change owners, and for everybody else the file is theirs already.
fn keep(disk: &dyn Disk, file: &File, old: &Metadata) -> io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt as _;
        let new = disk.look_at(file)?;
        if (new.uid(), new.gid()) != (old.uid(), old.gid()) {
            let _ = disk.own(file, old);
        }
    }
    disk.permit(file, old.permissions())
}

/// The file that a path leads to, through links, whether or not it exists yet.
pub(super) fn follow(path: &Path) -> io::Result<PathBuf> {
    follow_on(&System, path)
}

fn follow_on(disk: &dyn Disk, path: &Path) -> io::Result<PathBuf> {
    const MOST: usize = 40;
    let mut at = path.to_owned();
    for _ in 0..MOST {
        match disk.look_at_link(&at) {
            Ok(found) if found.is_symlink() => {
                let to = disk.read_link(&at)?;
                at = match at.parent() {
                    Some(folder) => folder.join(to),
                    None => to,
                };
            }
            Ok(_) => return Ok(at),
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(at),
            // A link that cannot be looked at must not be taken for a file, and replaced.
            Err(error) => return Err(error),
        }
    }
    Err(io::Error::other("its links lead in a circle"))
}

#[cfg(test)]
mod tests;
