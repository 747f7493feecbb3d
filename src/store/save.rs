//! Saving so that nothing is ever lost: the new text is complete on the disk before it takes
//! the place of the old one.

use std::fs::{self, File, Metadata};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::file_error::FileError;
use super::text::{name_of, reason};

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
    let name = name_of(path);
    let fail = |error: io::Error| FileError::new(&name, format!("not saved: {}", reason(&error)));
    let target = follow(path).map_err(fail)?;
    let old = match fs::metadata(&target) {
        Ok(old) => Some(old),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(error) => return Err(fail(error)),
    };
    if let Some(old) = &old {
        may_replace(old).map_err(|why| FileError::new(&name, format!("not saved: {why}")))?;
    }
    let folder = match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    if !folder.is_dir() {
        let message = format!("not saved: there is no folder {}", name_of(folder));
        return Err(FileError::new(&name, message));
    }
    replace(&target, folder, old.as_ref(), bytes).map_err(fail)
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

fn replace(target: &Path, folder: &Path, old: Option<&Metadata>, bytes: &[u8]) -> io::Result<()> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".gantrywright-");
    // A new file gets what the user's umask leaves of this, as from any editor.
    #[cfg(unix)]
    let builder = {
        use std::os::unix::fs::PermissionsExt as _;
        builder.permissions(fs::Permissions::from_mode(0o666))
    };
    let mut file = builder.tempfile_in(folder)?;
    file.write_all(bytes)?;
    if let Some(old) = old {
        keep(file.as_file(), old)?;
    }
    file.as_file().sync_all()?;
    file.persist(target).map_err(|error| error.error)?;
    // The new name lasts only when the folder is on the disk too. Not every file system
    // can do that, and the text itself is safe by now.
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
    Ok(())
}

/// Gives the new file the owner and the permissions of the old one. Only the superuser may
/// change owners, and for everybody else the file is theirs already.
fn keep(file: &File, old: &Metadata) -> io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt as _, fchown};
        let new = file.metadata()?;
        if (new.uid(), new.gid()) != (old.uid(), old.gid()) {
            let _ = fchown(file, Some(old.uid()), Some(old.gid()));
        }
    }
    file.set_permissions(old.permissions())
}

/// The file that a path leads to, through links, whether or not it exists yet.
fn follow(path: &Path) -> io::Result<PathBuf> {
    const MOST: usize = 40;
    let mut at = path.to_owned();
    for _ in 0..MOST {
        match fs::symlink_metadata(&at) {
            Ok(found) if found.is_symlink() => {
                let to = fs::read_link(&at)?;
                at = match at.parent() {
                    Some(folder) => folder.join(to),
                    None => to,
                };
            }
            _ => return Ok(at),
        }
    }
    Err(io::Error::other("its links lead in a circle"))
}

#[cfg(test)]
mod tests;
