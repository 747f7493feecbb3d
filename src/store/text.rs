//! Reading text: from a path or from standard input, within limits, as UTF-8.
//!
//! Only ordinary files are read. A pipe may never say anything, and a device never end: somebody's
//! folder of parts must not be able to keep the program waiting.

use std::fs::{File, Metadata, OpenOptions};
use std::io::{self, Read};
use std::path::Path;

use super::file_error::{FileError, line_and_column};

/// The largest file that is read: a build file has a few kilobytes, a price book some
/// hundred.
pub const LARGEST: u64 = 2 * 1024 * 1024;

/// How messages call standard input.
pub const STANDARD_INPUT: &str = "standard input";

/// How messages name a path.
pub fn name_of(path: &Path) -> String {
    path.to_string_lossy().into_owned()
}

/// Whether nothing bears that name, not even a link that leads nowhere.
pub fn is_missing(path: &Path) -> bool {
    std::fs::symlink_metadata(path).is_err_and(|error| error.kind() == io::ErrorKind::NotFound)
}

/// Reads a file of text.
///
/// # Errors
/// Where it is missing, a folder, unreadable, too large, or no text.
pub fn read(path: &Path) -> Result<String, FileError> {
    let name = name_of(path);
    let fail = |error: io::Error| FileError::new(&name, reason(&error));
    // Looked at before it is opened: opening a folder misleads, and a device may act on it.
    ordinary(&std::fs::metadata(path).map_err(fail)?, &name)?;
    let file = open(path).map_err(fail)?;
    // And again: another one may bear the name by now.
    let known = file.metadata().map_err(fail)?;
    ordinary(&known, &name)?;
    limited(file, &name, known.len())
}

/// Opens a file for reading without waiting for anybody: a pipe would wait for a writer.
fn open(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.read(true);
    #[cfg(unix)]
    {
        use nix::fcntl::OFlag;
        use std::os::unix::fs::OpenOptionsExt as _;
        options.custom_flags((OFlag::O_NONBLOCK | OFlag::O_NOCTTY).bits());
    }
    options.open(path)
}

/// Whether this is a file that can be read to its end, and not too large.
fn ordinary(known: &Metadata, name: &str) -> Result<(), FileError> {
    if known.is_dir() {
        return Err(FileError::new(name, "this is a folder; give a file"));
    }
    if !known.is_file() {
        let message = "this is a pipe or a device, no ordinary file; give a file";
        return Err(FileError::new(name, message));
    }
    if known.len() > LARGEST {
        return Err(too_large(name));
    }
    Ok(())
}

/// Reads text from standard input.
///
/// # Errors
/// As [`read`].
pub fn read_standard_input() -> Result<String, FileError> {
    limited(io::stdin().lock(), STANDARD_INPUT, 0)
}

/// Reads what is to be of some length, and may have another one.
fn limited(source: impl Read, name: &str, length: u64) -> Result<String, FileError> {
    let mut bytes = Vec::with_capacity(length as usize);
    let mut source = source.take(LARGEST + 1);
    source
        .read_to_end(&mut bytes)
        .map_err(|error| FileError::new(name, reason(&error)))?;
    if bytes.len() as u64 > LARGEST {
        return Err(too_large(name));
    }
    as_text(bytes, name)
}

fn too_large(name: &str) -> FileError {
    let limit = LARGEST / (1024 * 1024);
    let message = format!(
        "the file is larger than {limit} MiB; smaller ones are read, and a build has a few kilobytes"
    );
    FileError::new(name, message)
}

fn as_text(bytes: Vec<u8>, name: &str) -> Result<String, FileError> {
    if let Some(place) = bytes.iter().position(|byte| *byte == 0) {
        let message = format!(
            "this is no text: there is a zero byte at byte {place}; give a text file in UTF-8"
        );
        return Err(FileError::new(name, message));
    }
    String::from_utf8(bytes).map_err(|error| {
        let place = error.utf8_error().valid_up_to();
        let message = format!("this is no UTF-8 text at byte {place}; save the file as UTF-8");
        let before = String::from_utf8_lossy(&error.as_bytes()[..place]).into_owned();
        FileError {
            place: Some(line_and_column(&before, place)),
            ..FileError::new(name, message)
        }
    })
}

/// What the system says, in plain words.
pub(super) fn reason(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file".to_owned(),
        io::ErrorKind::PermissionDenied => "you are not allowed to open it".to_owned(),
        io::ErrorKind::IsADirectory => "this is a folder; give a file".to_owned(),
        io::ErrorKind::NotADirectory => "part of its path is not a folder".to_owned(),
        io::ErrorKind::StorageFull => "the disk is full".to_owned(),
        io::ErrorKind::QuotaExceeded => "what you may store there is used up".to_owned(),
        io::ErrorKind::ReadOnlyFilesystem => "the disk can only be read".to_owned(),
        _ => error.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn binary_data_is_refused_with_its_place() {
        let zero = as_text(b"ab\0c".to_vec(), "f").expect_err("binary");
        assert!(zero.message.contains("zero byte at byte 2"), "{zero}");
        let broken = as_text(b"ab\nc\xff".to_vec(), "f").expect_err("not UTF-8");
        assert_eq!(broken.place, Some((2, 2)));
        assert!(broken.message.contains("at byte 4"), "{broken}");
    }

    #[test]
    fn an_endless_source_stops_at_the_limit() {
        let error = limited(io::repeat(b'a'), "endless", 0).expect_err("too large");
        assert!(error.message.contains("larger than 2 MiB"), "{error}");
    }
}
