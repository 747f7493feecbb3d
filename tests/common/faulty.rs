//! A disk on which one call of a save does not go well.

use std::cell::Cell;
use std::ffi::OsString;
use std::fs::{File, Metadata, Permissions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

use gantrywright::store::save::{Disk, System};
use rustix::process::{Signal, getpid, kill_process};

/// What is to happen at a call.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Fate {
    /// It fails, and the program goes on.
    Fails(i32),
    /// It and whatever comes behind it does nothing any more, as if the program had ended.
    Ends,
    /// The process is killed.
    Killed,
}

/// A disk on which one call of a save does not go well.
pub(crate) struct Faulty {
    at: usize,
    fate: Fate,
    /// How many calls were made.
    pub(crate) calls: Cell<usize>,
    /// Whether the call that failed asked what there is.
    pub(crate) lied: Cell<bool>,
}

impl Faulty {
    pub(crate) fn new(at: usize, fate: Fate) -> Self {
        Self {
            at,
            fate,
            calls: Cell::new(0),
            lied: Cell::new(false),
        }
    }

    fn look(&self) -> io::Result<()> {
        let done = self.call();
        self.lied.set(self.lied.get() || done.is_err());
        done
    }

    fn call(&self) -> io::Result<()> {
        let number = self.calls.get() + 1;
        self.calls.set(number);
        match self.fate {
            Fate::Fails(error) if number == self.at => Err(io::Error::from_raw_os_error(error)),
            Fate::Ends if number >= self.at => Err(io::Error::other("ended")),
            Fate::Killed if number == self.at => {
                kill_process(getpid(), Signal::KILL).expect("a signal");
                unreachable!("this signal cannot be withstood")
            }
            _ => Ok(()),
        }
    }
}

impl Disk for Faulty {
    fn look(&self, path: &Path) -> io::Result<Metadata> {
        Faulty::look(self)?;
        System.look(path)
    }
    fn look_at_link(&self, path: &Path) -> io::Result<Metadata> {
        Faulty::look(self)?;
        System.look_at_link(path)
    }
    fn look_at(&self, file: &File) -> io::Result<Metadata> {
        self.call()?;
        System.look_at(file)
    }
    fn read_link(&self, path: &Path) -> io::Result<PathBuf> {
        self.call()?;
        System.read_link(path)
    }
    fn names(&self, folder: &Path) -> io::Result<Vec<OsString>> {
        self.call()?;
        System.names(folder)
    }
    fn create(&self, path: &Path) -> io::Result<File> {
        self.call()?;
        System.create(path)
    }
    fn open(&self, path: &Path) -> io::Result<File> {
        self.call()?;
        System.open(path)
    }
    fn open_folder(&self, path: &Path) -> io::Result<File> {
        self.call()?;
        System.open_folder(path)
    }
    fn lock(&self, file: &File) -> Result<(), TryLockError> {
        self.call().map_err(TryLockError::Error)?;
        System.lock(file)
    }
    /// A few bytes at a time, so that a text is half written before a call fails.
    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<usize> {
        self.call()?;
        System.write(file, &bytes[..bytes.len().min(20)])
    }
    fn own(&self, file: &File, like: &Metadata) -> io::Result<()> {
        self.call()?;
        System.own(file, like)
    }
    fn permit(&self, file: &File, permissions: Permissions) -> io::Result<()> {
        self.call()?;
        System.permit(file, permissions)
    }
    fn sync(&self, file: &File) -> io::Result<()> {
        self.call()?;
        System.sync(file)
    }
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.call()?;
        System.rename(from, to)
    }
    fn remove(&self, path: &Path) -> io::Result<()> {
        self.call()?;
        System.remove(path)
    }
}
