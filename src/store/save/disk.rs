//! The calls to the system that a save makes, one method each: the system itself, or what a test
//! puts in its place.

use std::ffi::OsString;
use std::fs::{self, File, Metadata, OpenOptions, Permissions, TryLockError};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

/// What a save asks of the system. Each method is one call, or as good as one.
pub trait Disk {
    /// What is known of a file, behind links.
    ///
    /// # Errors
    /// As the system says; so for all of these.
    fn look(&self, path: &Path) -> io::Result<Metadata>;
    /// What is known of a file or of a link itself.
    ///
    /// # Errors
    /// As the system says.
    fn look_at_link(&self, path: &Path) -> io::Result<Metadata>;
    /// What is known of an open file.
    ///
    /// # Errors
    /// As the system says.
    fn look_at(&self, file: &File) -> io::Result<Metadata>;
    /// Where a link leads.
    ///
    /// # Errors
    /// As the system says.
    fn read_link(&self, path: &Path) -> io::Result<PathBuf>;
    /// The names in a folder.
    ///
    /// # Errors
    /// As the system says.
    fn names(&self, folder: &Path) -> io::Result<Vec<OsString>>;
    /// Makes a new file, which must not be there yet, to write to.
    ///
    /// # Errors
    /// As the system says.
    fn create(&self, path: &Path) -> io::Result<File>;
    /// Opens a file that is there, and is no link, without changing it.
    ///
    /// # Errors
    /// As the system says.
    fn open(&self, path: &Path) -> io::Result<File>;
    /// Opens a folder.
    ///
    /// # Errors
    /// As the system says.
    fn open_folder(&self, path: &Path) -> io::Result<File>;
    /// Locks a file, unless somebody else has.
    ///
    /// # Errors
    /// Where somebody has, or as the system says.
    fn lock(&self, file: &File) -> Result<(), TryLockError>;
    /// Writes a first part of some bytes, and says how many.
    ///
    /// # Errors
    /// As the system says.
    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<usize>;
    /// Gives a file the owner and the group of another one.
    ///
    /// # Errors
    /// As the system says.
    fn own(&self, file: &File, like: &Metadata) -> io::Result<()>;
    /// Sets what may be done with a file.
    ///
    /// # Errors
    /// As the system says.
    fn permit(&self, file: &File, permissions: Permissions) -> io::Result<()>;
    /// Returns once a file, or a folder with its names, is on the disk.
    ///
    /// # Errors
    /// As the system says.
    fn sync(&self, file: &File) -> io::Result<()>;
    /// Gives a file another name, under which it takes the place of what was there.
    ///
    /// # Errors
    /// As the system says.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Removes a file.
    ///
    /// # Errors
    /// As the system says.
    fn remove(&self, path: &Path) -> io::Result<()>;
}

/// The system itself.
#[derive(Clone, Copy, Debug, Default)]
pub struct System;

impl Disk for System {
    fn look(&self, path: &Path) -> io::Result<Metadata> {
        fs::metadata(path)
    }

    fn look_at_link(&self, path: &Path) -> io::Result<Metadata> {
        fs::symlink_metadata(path)
    }

    fn look_at(&self, file: &File) -> io::Result<Metadata> {
        file.metadata()
    }

    fn read_link(&self, path: &Path) -> io::Result<PathBuf> {
        fs::read_link(path)
    }

    fn names(&self, folder: &Path) -> io::Result<Vec<OsString>> {
        let entries = fs::read_dir(folder)?;
        entries
            .map(|entry| entry.map(|entry| entry.file_name()))
            .collect()
    }

    fn create(&self, path: &Path) -> io::Result<File> {
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        // A new file gets what the user's umask leaves of this, as from any editor.
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o666);
        options.open(path)
    }

    fn open(&self, path: &Path) -> io::Result<File> {
        let mut options = OpenOptions::new();
        options.write(true);
        no_link(&mut options);
        options.open(path)
    }

    fn open_folder(&self, path: &Path) -> io::Result<File> {
        File::open(path)
    }

    fn lock(&self, file: &File) -> Result<(), TryLockError> {
        file.try_lock()
    }

    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<usize> {
        file.write(bytes)
    }

    fn own(&self, file: &File, like: &Metadata) -> io::Result<()> {
        #[cfg(unix)]
        {
            use std::os::unix::fs::{MetadataExt as _, fchown};
            fchown(file, Some(like.uid()), Some(like.gid()))
        }
        #[cfg(not(unix))]
        {
            let _ = (file, like);
            Ok(())
        }
    }

    fn permit(&self, file: &File, permissions: Permissions) -> io::Result<()> {
        file.set_permissions(permissions)
    }

    fn sync(&self, file: &File) -> io::Result<()> {
        file.sync_all()
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }
}

/// Has opening follow no link, and not wait for a pipe's other end: in a folder where everybody
/// may write, somebody may have laid either under a name that we use.
pub(in crate::store) fn no_link(options: &mut OpenOptions) {
    #[cfg(unix)]
    {
        use nix::fcntl::OFlag;
        use std::os::unix::fs::OpenOptionsExt as _;
        options.custom_flags((OFlag::O_NOFOLLOW | OFlag::O_NONBLOCK).bits());
    }
    #[cfg(not(unix))]
    let _ = options;
}
