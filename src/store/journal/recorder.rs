//! What is unsaved, followed from edit to edit: tells the [`Keeper`] whatever is new.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::keeper::{Base, Keeper};
use crate::build::Build;
use crate::store::build_file;

/// What is worked on: a build, and how its file stands to it.
#[derive(Clone, Copy, Debug)]
pub struct Work<'a> {
    /// The build.
    pub build: &'a Build,
    /// The build that the file holds.
    pub saved: &'a Build,
    /// The file, where there is one.
    pub path: Option<&'a Path>,
    /// The build's text in it; that of an example where there is no file.
    pub original: Option<&'a str>,
    /// Whether the file is a bundle.
    pub bundle: bool,
}

impl Work<'_> {
    /// The build's text as it was opened or saved last.
    fn base(&self) -> Base {
        let text = self.original.map(str::to_owned);
        Base {
            // From anywhere the same file: the next start may be in another folder.
            file: self.path.map(whole),
            bundle: self.bundle,
            text: text.unwrap_or_else(|| build_file::write(None, self.saved)),
        }
    }
}

fn whole(path: &Path) -> PathBuf {
    let found = path.canonicalize();
    found.unwrap_or_else(|_| std::path::absolute(path).unwrap_or_else(|_| path.to_owned()))
}

/// What was noted last.
#[derive(Debug)]
struct Noted {
    build: Build,
    /// What the session was asked with, to see that it is the same file still.
    path: Option<PathBuf>,
    original: Option<String>,
    base: Arc<Base>,
}

/// Follows a session.
#[derive(Debug)]
pub struct Recorder {
    keeper: Keeper,
    noted: Option<Noted>,
    /// Whether a trouble of the keeper was told.
    told: bool,
}

impl Recorder {
    /// A recorder with its keeper.
    pub fn new(keeper: Keeper) -> Self {
        Self {
            keeper,
            noted: None,
            told: false,
        }
    }

    /// The keeper of the journal.
    pub fn keeper(&self) -> &Keeper {
        &self.keeper
    }

    /// Notes what is new. Costs a comparison where nothing is, and never waits.
    pub fn follow(&mut self, work: Work) {
        if work.build == work.saved {
            if self.noted.take().is_some() {
                self.keeper.clean();
            }
            return;
        }
        let before = self.noted.take();
        let same_file = before.filter(|noted| {
            noted.path.as_deref() == work.path && noted.original.as_deref() == work.original
        });
        let base = match same_file {
            Some(noted) if noted.build == *work.build => {
                self.noted = Some(noted);
                return;
            }
            Some(noted) => noted.base,
            None => Arc::new(work.base()),
        };
        self.keeper.note(&base, work.build);
        self.noted = Some(Noted {
            build: work.build.clone(),
            path: work.path.map(Path::to_owned),
            original: work.original.map(str::to_owned),
            base,
        });
    }

    /// The session ends, with all saved or thrown away on purpose: nothing is left to recover.
    pub fn close(&mut self) {
        self.noted = None;
        self.keeper.clean();
        self.keeper.flush();
    }

    /// Why nothing can be kept, once.
    pub fn trouble(&mut self) -> Option<String> {
        if self.told {
            return None;
        }
        let trouble = self.keeper.trouble();
        self.told = trouble.is_some();
        trouble
    }
}

impl Drop for Recorder {
    /// However a session ends, what is unsaved is on the disk then.
    fn drop(&mut self) {
        self.keeper.flush();
    }
}
