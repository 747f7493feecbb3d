//! The files of an overlay folder.

use std::collections::HashSet;
use std::path::{Path, PathBuf};

use super::file_error::FileError;
use super::text::{name_of, reason};
use crate::order::Order as _;

/// The most entries looked at below a folder: more is no folder of parts, but somebody's
/// whole disk.
const MOST: usize = 10_000;

/// Every file below a folder whose name ends in `.toml`, sorted by path.
///
/// # Errors
/// Where the folder is missing or cannot be read, or is absurdly large.
pub(super) fn toml_files(folder: &Path) -> Result<Vec<PathBuf>, FileError> {
    let mut found = Vec::new();
    let mut visited = HashSet::new();
    let mut seen = 0;
    let mut open = vec![folder.to_owned()];
    while let Some(folder) = open.pop() {
        let fail = |error: std::io::Error| {
            let why = match error.kind() {
                std::io::ErrorKind::NotFound => "there is no such folder".to_owned(),
                std::io::ErrorKind::NotADirectory => "this is no folder; give a folder".to_owned(),
                _ => reason(&error),
            };
            FileError::new(name_of(&folder), why)
        };
        // Links may lead in a circle: each folder is entered once.
        if !visited.insert(folder.canonicalize().map_err(fail)?) {
            continue;
        }
        for entry in std::fs::read_dir(&folder).map_err(fail)? {
            let path = entry.map_err(fail)?.path();
            seen += 1;
            if seen > MOST {
                let message = format!("more than {MOST} entries; give a folder of parts alone");
                return Err(FileError::new(name_of(&folder), message));
            }
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|ending| ending == "toml") {
                found.push(path);
            }
        }
    }
    found.order();
    Ok(found)
}
