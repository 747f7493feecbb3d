//! Two people, one file: whoever works on a build holds a lock on a small file beside it, which
//! says who that is, where and since when. Beside it, since saving puts another file in the place
//! of the build, and a lock on the build itself would go with the old one.
//!
//! ```toml
//! who = "anna"
//! host = "shop"
//! process = 4711
//! since = "2026-11-26T18:10:00Z"
//! ```
//!
//! The lock is the system's, which drops it when the program ends in whatever way. What the file
//! says is for people alone: a file whose lock can be had is left over from a program that was
//! ended, whatever stands in it, and is taken over. The lock keeps nobody from writing who does
//! not ask for it, such as an editor; [`Kept`](super::kept::Kept) notices those.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, ErrorKind, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::time::Duration;

use jiff::{Timestamp, ZonedDateTime};
use serde::{Deserialize, Serialize};

use super::clock;
use super::save::{folder_of, follow, no_link, why_not};
use super::visible;
use crate::catalogue::reader;

/// What the name of the file beside a build ends in; it begins with a point.
const END: &str = ".gantrywright-open";

/// What stands above what the file says.
const ABOUT: &str = "# Somebody works on the file beside this one in gantrywright, which removes this when they\n# leave. Left over after a crash, it does no harm.\n";

/// The longest name that is told, in characters.
const LONGEST: usize = 24;

/// The most that is read of what the file says.
const MOST: u64 = 4096;

/// A lock that is held as long as this lives.
#[derive(Debug)]
pub struct Lock {
    file: File,
    beside: PathBuf,
    target: PathBuf,
}

/// What came of asking for a lock.
#[derive(Debug)]
pub enum Asked {
    /// It is ours.
    Ours(Lock),
    /// Somebody else works on the file.
    Theirs(Who),
    /// Nobody can be told apart there, and why.
    Unknown(String),
}

/// Who works on a file; what is not known of them is empty.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default)]
pub struct Who {
    /// The name of their account.
    pub who: String,
    /// The name of their computer.
    pub host: String,
    /// The number of the program that they run there.
    pub process: u32,
    /// Since when.
    pub since: Option<Timestamp>,
}

impl Drop for Lock {
    fn drop(&mut self) {
        // While it is still locked: whoever waits for it sees that it is no longer the one.
        if is_at(&self.file, &self.beside) {
            let _ = fs::remove_file(&self.beside);
        }
        // Also where a process that was just begun has a copy of the open file for a moment.
        let _ = self.file.unlock();
    }
}

impl Lock {
    /// Whether it is for this file, by whatever path.
    pub fn is_for(&self, path: &Path) -> bool {
        place_of(path).is_ok_and(|target| target == self.target)
    }
}

/// Asks for the lock of a file, whether or not that is there yet.
pub fn ask(path: &Path) -> Asked {
    /// How often it is tried where something moves meanwhile.
    const TRIES: u32 = 20;
    for _ in 0..TRIES {
        match attempt(path) {
            Ok(Some(asked)) => return asked,
            // Somebody who leaves, or has only just come: soon there is more to see.
            Ok(None) => std::thread::sleep(Duration::from_millis(5)),
            Err(error) => return Asked::Unknown(why_not(&error)),
        }
    }
    Asked::Theirs(Who::default())
}

/// One try; none where it has to be tried again.
fn attempt(path: &Path) -> io::Result<Option<Asked>> {
    let target = place_of(path)?;
    let beside = beside(&target);
    let (mut file, can_write) = open(&beside)?;
    if !file.metadata()?.is_file() {
        return Err(io::Error::other("something else has the name of its lock"));
    }
    match file.try_lock() {
        Ok(()) if !is_at(&file, &beside) => Ok(None),
        // Left over by somebody else: a file of our own takes its place.
        Ok(()) if !can_write => fs::remove_file(&beside).map(|()| None),
        Ok(()) => {
            // Somebody who reads half of it is only told less; who has no room holds it as well.
            let text = toml::to_string(&Who::own()).unwrap_or_default();
            let _ = file.set_len(0);
            let _ = file.write_all(format!("{ABOUT}{text}").as_bytes());
            Ok(Some(Asked::Ours(Lock {
                file,
                beside,
                target,
            })))
        }
        Err(TryLockError::WouldBlock) => Ok(read(&beside).map(Asked::Theirs)),
        Err(TryLockError::Error(error)) => {
            if can_write && file.metadata().is_ok_and(|known| known.len() == 0) {
                let _ = fs::remove_file(&beside);
            }
            Err(error)
        }
    }
}

/// Opens the file beside a build, or makes it; and whether it can be written to.
fn open(beside: &Path) -> io::Result<(File, bool)> {
    let mut options = OpenOptions::new();
    options.read(true).write(true).create(true);
    no_link(&mut options);
    match options.open(beside) {
        Ok(file) => Ok((file, true)),
        Err(error) => {
            let mut options = OpenOptions::new();
            options.read(true);
            no_link(&mut options);
            // The first error says more, where there is nothing to read.
            options
                .open(beside)
                .map_or(Err(error), |file| Ok((file, false)))
        }
    }
}

/// Where a file really is: links followed, its folder spelled in one way.
fn place_of(path: &Path) -> io::Result<PathBuf> {
    let target = follow(path)?;
    let name = target.file_name().ok_or(ErrorKind::InvalidInput)?;
    Ok(folder_of(&target).canonicalize()?.join(name))
}

/// The file beside a build that says who works on it.
fn beside(target: &Path) -> PathBuf {
    let mut name = std::ffi::OsString::from(".");
    name.push(target.file_name().unwrap_or_default());
    name.push(END);
    target.with_file_name(name)
}

/// Whether an open file still bears this name.
fn is_at(file: &File, path: &Path) -> bool {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt as _;
        let there = fs::symlink_metadata(path);
        let key = |known: fs::Metadata| (known.dev(), known.ino());
        there.is_ok_and(|there| file.metadata().is_ok_and(|own| key(own) == key(there)))
    }
    #[cfg(not(unix))]
    {
        let _ = file;
        path.exists()
    }
}

/// Who a file names; none where that is not written yet.
fn read(beside: &Path) -> Option<Who> {
    let mut options = OpenOptions::new();
    options.read(true);
    no_link(&mut options);
    let mut text = String::new();
    let file = options.open(beside).ok()?;
    file.take(MOST).read_to_string(&mut text).ok()?;
    let who: Who = reader::read(&text).ok()?;
    (who != Who::default()).then_some(who)
}

impl Who {
    /// Whoever runs this program.
    fn own() -> Self {
        let named = |name: &str| std::env::var(name).ok().filter(|name| !name.is_empty());
        let number = || format!("user {}", rustix::process::getuid().as_raw());
        let host = nix::unistd::gethostname().unwrap_or_default();
        Self {
            who: named("USER")
                .or_else(|| named("LOGNAME"))
                .unwrap_or_else(number),
            host: host.to_string_lossy().into_owned(),
            process: std::process::id(),
            since: Some(Timestamp::now()),
        }
    }

    /// It in words, as the end of a sentence about a file: `is open: anna works on it on shop
    /// since 18:10`.
    pub fn told(&self) -> String {
        self.told_to(&Self::own(), &clock::now())
    }

    fn told_to(&self, own: &Self, now: &ZonedDateTime) -> String {
        let short = |text: &str| -> String {
            let cut: String = text.chars().take(LONGEST).collect();
            let dots = if cut.len() < text.len() { "..." } else { "" };
            format!("{}{dots}", visible(&cut))
        };
        let same = (&self.who, &self.host) == (&own.who, &own.host);
        let mut told = match self.who.as_str() {
            "" => "somebody works on it".to_owned(),
            _ if same => "you work on it yourself in another window".to_owned(),
            who => format!("{} works on it", short(who)),
        };
        if !self.host.is_empty() && !same {
            told.push_str(&format!(" on {}", short(&self.host)));
        }
        if let Some(since) = self.since {
            let since = since.to_zoned_datetime(now.time_zone().clone());
            let shown = match since.date() == now.date() {
                true => since.strftime("%H:%M"),
                false => since.strftime("%Y-%m-%d %H:%M"),
            };
            told.push_str(&format!(" since {shown}"));
            if now.strftime("%Z").to_string() == "UTC" {
                told.push_str(" UTC");
            }
        }
        if self.process != 0 {
            told.push_str(&format!(" (process {})", self.process));
        }
        told
    }
}

#[cfg(test)]
mod tests;
