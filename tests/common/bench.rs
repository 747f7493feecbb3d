//! What the tests of the program share: running it apart from the user's own settings.

use std::path::PathBuf;

use assert_cmd::Command;

/// A folder for one test, and the program run in it.
pub(crate) struct Bench {
    folder: tempfile::TempDir,
}

impl Bench {
    /// An empty folder.
    pub(crate) fn new() -> Self {
        Self {
            folder: tempfile::tempdir().expect("a folder"),
        }
    }

    /// A path in the folder.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Writes a file, with the folders on the way to it.
    pub(crate) fn write(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().expect("a parent")).expect("made");
        std::fs::write(&path, bytes).expect("written");
        path
    }

    /// The program, with nothing of the user's around it.
    pub(crate) fn program(&self) -> Command {
        let mut command = Command::cargo_bin("gantrywright").expect("the program");
        command
            .current_dir(self.folder.path())
            .env("XDG_CONFIG_HOME", self.path("config"))
            .env("GANTRYWRIGHT_TODAY", "2026-11-30")
            .env_remove("NO_COLOR")
            .timeout(std::time::Duration::from_secs(60));
        command
    }
}
