//! The folder of journals and reports, and how files in it are called.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::time::Duration;

use jiff::Timestamp;

/// How the name of a journal begins that is not on the disk yet.
pub(super) const BEGUN: &str = ".begun-";

/// How old one must be to be of a process that ended while it wrote it.
const OLD: Duration = Duration::from_secs(3600);

/// Removes what processes left behind that ended while they began a journal.
pub(super) fn sweep(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.filter_map(Result::ok) {
        let begun = entry.file_name().to_string_lossy().starts_with(BEGUN);
        let changed = entry.metadata().and_then(|known| known.modified());
        let age = changed.ok().and_then(|changed| changed.elapsed().ok());
        if begun && age.is_some_and(|age| age > OLD) {
            // Whoever may not remove it leaves it to its owner.
            let _ = fs::remove_file(entry.path());
        }
    }
}

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

/// Makes a new file that only its owner can read.
pub(super) fn made(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt as _;
        options.mode(0o600);
    }
    options.open(path)
}

/// Writes the report of a fault beside the journals, and says where.
pub(super) fn report(folder: &Path, text: &str) -> io::Result<PathBuf> {
    make_private(folder)?;
    let name = format!("{}-{}", stamp(Timestamp::now()), std::process::id());
    let path = folder.join(format!("{name}-fault.txt"));
    let mut file = made(&path)?;
    file.write_all(text.as_bytes())?;
    file.sync_all()?;
    Ok(path)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::SystemTime;

    #[test]
    fn only_what_was_begun_long_ago_is_swept() {
        let folder = tempfile::tempdir().expect("a folder");
        let old = SystemTime::now() - 2 * OLD;
        for (name, modified) in [
            (".begun-1", old),
            (".begun-2", SystemTime::now()),
            ("1.jsonl", old),
            ("1-fault.txt", old),
        ] {
            let file = File::create(folder.path().join(name)).expect("made");
            file.set_modified(modified).expect("a time");
        }
        sweep(folder.path());
        let left = fs::read_dir(folder.path()).expect("a folder").count();
        assert_eq!(left, 3);
        assert!(!folder.path().join(".begun-1").exists());
    }

    #[test]
    fn names_sort_by_time() {
        let at = |text: &str| stamp(text.parse().expect("a moment"));
        assert_eq!(at("2026-11-26T18:40:35.303382071Z"), "20261126184035303");
        assert_eq!(at("2026-11-26T18:40:35Z"), "20261126184035000");
        assert!(at("2026-11-26T18:40:35.9Z") < at("2026-11-26T18:40:36Z"));
    }
}
