//! A home folder for one test of sessions that end badly: what they leave behind lies in it.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use crate::pty::Session;

/// A home for one test: a build file, and the state folder.
pub(crate) struct Home {
    pub(crate) folder: tempfile::TempDir,
    pub(crate) file: PathBuf,
}

impl Home {
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("shed.toml");
        std::fs::write(&file, "format = 1\ntitle = \"Shed\"\n").expect("written");
        Self { folder, file }
    }

    pub(crate) fn start(&self, args: &[&str]) -> Session {
        let path = self.folder.path().to_string_lossy().into_owned();
        let variables = [
            ("XDG_STATE_HOME", path.as_str()),
            ("XDG_CONFIG_HOME", &path),
            ("HOME", &path),
        ];
        Session::start(args, &variables)
    }

    /// A session with one unsaved edit, which is on the disk.
    pub(crate) fn edited(&self) -> Session {
        let mut session = self.start(&[&self.file.to_string_lossy()]);
        session.wait_for(">1 Working area");
        session.paint();
        self.wait_for_journal();
        session
    }

    pub(crate) fn recovery(&self) -> PathBuf {
        self.folder.path().join("gantrywright/recovery")
    }

    pub(crate) fn left(&self, ending: &str) -> Vec<PathBuf> {
        let Ok(entries) = std::fs::read_dir(self.recovery()) else {
            return Vec::new();
        };
        let paths = entries.map(|entry| entry.expect("an entry").path());
        let ends = |path: &PathBuf| path.to_string_lossy().ends_with(ending);
        paths.filter(ends).collect()
    }

    pub(crate) fn wait_for_journal(&self) {
        let end = Instant::now() + Duration::from_secs(60);
        // Its first line says whose it is; only a second one says what was changed.
        let changes = |path: &std::path::PathBuf| {
            let text = std::fs::read_to_string(path).unwrap_or_default();
            text.matches('\n').count() > 1
        };
        while !self.left(".jsonl").iter().any(changes) {
            assert!(Instant::now() < end, "no journal was written");
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// The next start offers what was left, takes it up and saves it.
    pub(crate) fn recovers(&self) {
        assert_eq!(self.left(".jsonl").len(), 1, "one journal");
        let [offered, taken] = self.start(&[]).takes_up_and_saves();
        for part in ["shed.toml", "Paint the frame", "1 change:"] {
            assert!(offered.contains(part), "{part} is not told:\n{offered}");
        }
        assert!(taken.contains("Shed"), "{taken}");
        let text = std::fs::read_to_string(&self.file).expect("the file");
        assert!(text.contains("paint"), "{text}");
        assert!(self.left(".jsonl").is_empty(), "all is saved");
    }
}
