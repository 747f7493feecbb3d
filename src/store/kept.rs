//! A file while somebody works on what is in it: locked against a second one, and watched for
//! what others write to it all the same. Screen, talk and commands ask here before they write.

use std::path::{Path, PathBuf};
use std::time::SystemTime;

use super::lock::{self, Asked, Lock, Who};
use super::{FileError, build_file, text};

/// The file that is worked on, or none yet.
#[derive(Debug, Default)]
pub struct Kept {
    path: Option<PathBuf>,
    lock: Option<Lock>,
    /// Its text as it was read or last written.
    known: Option<String>,
    /// What others wrote that was told already.
    told: Option<Found>,
    /// What the system said of it when it was looked at last.
    stamp: Option<Stamp>,
    /// The lock of the file that is to be written next, where it was not ours before.
    next: Option<Lock>,
}

/// What was found in the file in place of what was read: its text, or why it cannot be read.
pub type Found = Result<String, FileError>;

/// By what a changed file is known without reading it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Stamp {
    size: u64,
    written: Option<SystemTime>,
    #[cfg(unix)]
    number: (u64, u64),
}

/// Who else works on a file that was opened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Others {
    /// Nobody.
    Nobody,
    /// Somebody: nothing can be saved under this name.
    One(Who),
    /// That cannot be known there, and why: whoever comes later is not told either.
    Unknown(String),
}

/// Whether a file may be written.
#[derive(Clone, Debug, PartialEq)]
pub enum Standing {
    /// It may.
    Free,
    /// Another file of this name is there.
    Exists,
    /// The file holds something else than when it was read.
    Changed {
        /// What it holds.
        found: Found,
        /// Who works on it, where somebody does.
        held: Option<Who>,
    },
    /// Somebody else works on it.
    Held(Who),
}

impl Kept {
    /// Takes a file that was opened, with the text that it had.
    pub fn open(path: &Path, known: Option<String>) -> (Self, Others) {
        let mut kept = Self {
            path: Some(path.to_owned()),
            known,
            ..Self::default()
        };
        let others = match lock::ask(path) {
            Asked::Ours(lock) => {
                kept.lock = Some(lock);
                Others::Nobody
            }
            Asked::Theirs(who) => Others::One(who),
            Asked::Unknown(why) => Others::Unknown(why),
        };
        (kept, others)
    }

    /// The same where another file was open until now; it is let go, unless it is this one.
    pub fn reopen(&mut self, path: &Path, known: Option<String>) -> Others {
        let lock = self.lock.take().filter(|lock| lock.is_for(path));
        if lock.is_none() {
            let (kept, others) = Self::open(path, known);
            *self = kept;
            return others;
        }
        *self = Self {
            path: Some(path.to_owned()),
            lock,
            known,
            ..Self::default()
        };
        Others::Nobody
    }

    /// Whether a path is that of the file that is open.
    fn is_own(&self, path: &Path) -> bool {
        self.path.as_deref() == Some(path) || self.lock.as_ref().is_some_and(|one| one.is_for(path))
    }

    /// Whether a file may be written; `replace` where somebody who knows what is there said so.
    /// Its lock is then held.
    pub fn standing(&mut self, path: &Path, replace: bool) -> Standing {
        let missing = text::is_missing(path);
        if self.is_own(path) && !missing {
            let found = text::read(path);
            let agreed = replace && self.told.as_ref() == Some(&found);
            if found.as_ref().ok() != self.known.as_ref() && !agreed {
                self.told = Some(found.clone());
                let held = self.holder(path);
                return Standing::Changed { found, held };
            }
        } else if !missing && !replace {
            return Standing::Exists;
        }
        self.holder(path).map_or(Standing::Free, Standing::Held)
    }

    /// Who else works on a file; where nobody does, it is held from then on.
    fn holder(&mut self, path: &Path) -> Option<Who> {
        if self.lock.as_ref().is_some_and(|lock| lock.is_for(path)) {
            return None;
        }
        self.next = None;
        match lock::ask(path) {
            Asked::Ours(lock) => {
                self.next = Some(lock);
                None
            }
            Asked::Theirs(who) => Some(who),
            // Where nobody can be told apart the text alone is compared.
            Asked::Unknown(_) => None,
        }
    }

    /// Writes a text to a file that is free; from then on it is the one that is open.
    ///
    /// # Errors
    /// As [`build_file::save()`]; the file that was open stays so.
    pub fn write(&mut self, path: &Path, text: &str) -> Result<(), FileError> {
        let next = self.next.take();
        build_file::save(path, text)?;
        let own = self.lock.take().filter(|lock| lock.is_for(path));
        *self = Self {
            path: Some(path.to_owned()),
            lock: next.or(own),
            known: Some(text.to_owned()),
            stamp: Stamp::of(path),
            ..Self::default()
        };
        Ok(())
    }

    /// Takes what others wrote for what was read: their text is what is worked on now.
    pub fn take_over(&mut self, found: &str) {
        self.known = Some(found.to_owned());
        self.told = None;
    }

    /// What others wrote since it was last looked at; none where there is nothing new. Reads
    /// the file only where the system says that it was touched.
    pub fn news(&mut self) -> Option<Found> {
        let path = self.path.clone()?;
        let stamp = Stamp::of(&path)?;
        if self.stamp == Some(stamp) {
            return None;
        }
        self.stamp = Some(stamp);
        let found = text::read(&path);
        let old = found.as_ref().ok() == self.known.as_ref() || self.told.as_ref() == Some(&found);
        if old {
            return None;
        }
        self.told = Some(found.clone());
        Some(found)
    }
}

impl Stamp {
    fn of(path: &Path) -> Option<Self> {
        let known = std::fs::metadata(path).ok()?;
        Some(Self {
            size: known.len(),
            written: known.modified().ok(),
            #[cfg(unix)]
            number: {
                use std::os::unix::fs::MetadataExt as _;
                (known.dev(), known.ino())
            },
        })
    }
}

/// Asks for the lock of a build that a command is to change, before it reads it.
///
/// # Errors
/// Where somebody works on it.
pub fn held(path: &Path) -> Result<Option<Lock>, FileError> {
    match lock::ask(path) {
        Asked::Ours(lock) => Ok(Some(lock)),
        Asked::Theirs(who) => Err(refused(path, &who)),
        Asked::Unknown(_) => Ok(None),
    }
}

/// Writes a build that a command made, unless somebody works on the file that it would replace.
///
/// # Errors
/// Where somebody does, or as [`build_file::save()`].
pub fn save_alone(path: &Path, text: &str) -> Result<(), FileError> {
    let lock = held(path)?;
    build_file::save(path, text)?;
    drop(lock);
    Ok(())
}

fn refused(path: &Path, who: &Who) -> FileError {
    FileError::new(
        text::name_of(path),
        format!(
            "not saved: {}; wait until it is closed there, or give another name",
            who.told()
        ),
    )
}

#[cfg(test)]
mod tests;
