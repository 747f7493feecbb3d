//! The folder of journals and reports, and how files in it are called.

use std::fs::{self, OpenOptions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use jiff::Timestamp;

/// A moment as the beginning of a file's name: they sort by time.
pub(super) fn stamp(at: Timestamp) -> String {
    let digits: String = at
        .to_string()
        .chars()
        .filter(char::is_ascii_digit)
        .collect();
    // Years to milliseconds: two journals of one process never bear the same name.
    format!("{digits:0<17.17}")
}

/// Makes a folder that only its owner can look into: plans and prices are nobody else's business
/// on a shared machine.
pub(super) fn make_private(folder: &Path) -> io::Result<()> {
    if folder.is_dir() {
        return Ok(());
    }
    if let Some(above) = folder.parent() {
        fs::create_dir_all(above)?;
    }
    let mut builder = fs::DirBuilder::new();
    #[cfg(unix)]
    {
        use std::os::unix::fs::DirBuilderExt as _;
        builder.mode(0o700);
    }
    match builder.create(folder) {
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists && folder.is_dir() => Ok(()),
        done => done,
    }
}

/// Writes the report of a fault beside the journals, and says where.
pub(super) fn report(folder: &Path, text: &str) -> io::Result<PathBuf> {
    make_private(folder)?;
    let name = format!("{}-{}", stamp(Timestamp::now()), std::process::id());
    let path = folder.join(format!("{name}-fault.txt"));
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt as _;
        options.mode(0o600);
    }
    let mut file = options.open(&path)?;
    file.write_all(text.as_bytes())?;
    file.sync_all()?;
    Ok(path)
}
