//! What the program remembers between two runs: the last file, and where somebody was in each.
//! It is in `state.toml` in the state folder (XDG base directories). It is a convenience: what
//! cannot be read or written is as if it were not there, and never an error.

use std::path::{Path, PathBuf};

use etcetera::BaseStrategy as _;
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

use super::text;
use crate::catalogue::reader;

/// The name of the file in the state folder.
const NAME: &str = "state.toml";

/// How many files are remembered.
const MOST: usize = 20;

/// What is remembered.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default)]
pub struct Remembered {
    /// The file that was open last.
    pub last: Option<PathBuf>,
    /// Where somebody was in each file, the one open last behind the others.
    pub pages: IndexMap<String, Page>,
}

/// Where somebody was.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default)]
pub struct Page {
    /// The id of the choice under the cursor, which tells its step as well.
    pub choice: String,
}

impl Remembered {
    /// Where somebody was in a file.
    pub fn page(&self, file: &Path) -> Option<&Page> {
        self.pages.get(&key(file))
    }

    /// Remembers a file and where somebody was in it.
    pub fn put(&mut self, file: &Path, page: Page) {
        let key = key(file);
        self.last = Some(PathBuf::from(&key));
        self.pages.shift_remove(&key);
        self.pages.insert(key, page);
        while self.pages.len() > MOST {
            self.pages.shift_remove_index(0);
        }
    }

    /// The file that was open last, where it is still there.
    pub fn last(&self) -> Option<&Path> {
        self.last.as_deref().filter(|path| path.is_file())
    }
}

/// A file by its whole path: the same one from any folder.
fn key(file: &Path) -> String {
    let whole = file.canonicalize();
    text::name_of(&whole.unwrap_or_else(|_| file.to_owned()))
}

/// Where it is kept; none where there is no home folder.
pub(super) fn path() -> Option<PathBuf> {
    let base = etcetera::choose_base_strategy().ok()?;
    let state = base.state_dir()?;
    Some(state.join(super::library::FOLDER).join(NAME))
}

/// What is remembered; nothing where that cannot be read.
pub fn load() -> Remembered {
    let read = || {
        let text = text::read(&path()?).ok()?;
        reader::read(&text).ok()
    };
    read().unwrap_or_default()
}

/// Remembers one more file. What another run of the program wrote meanwhile is kept: it is read
/// anew, and the new text takes the place of the old one at once.
pub fn remember(file: &Path, page: Page) {
    let Some(path) = path() else { return };
    let mut all = load();
    all.put(file, page);
    let Ok(text) = toml::to_string(&all) else {
        return;
    };
    if let Some(folder) = path.parent() {
        // Nobody asked for it, so nobody is told that it failed.
        let _ = std::fs::create_dir_all(folder);
    }
    let _ = super::save(&path, &text);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page(choice: &str) -> Page {
        Page {
            choice: choice.to_owned(),
        }
    }

    #[test]
    fn the_file_that_was_open_last_is_the_last_of_a_few() {
        let mut all = Remembered::default();
        for number in 0..=MOST {
            let file = format!("/nowhere/{number}.toml");
            all.put(Path::new(&file), page("travel_x_mm"));
        }
        all.put(Path::new("/nowhere/3.toml"), page("spindle"));
        assert_eq!(all.pages.len(), MOST);
        assert_eq!(all.page(Path::new("/nowhere/0.toml")), None);
        let last = all.page(Path::new("/nowhere/3.toml"));
        assert_eq!(last, Some(&page("spindle")));
        assert_eq!(all.last.as_deref(), Some(Path::new("/nowhere/3.toml")));
        // It is not offered, since it is not there.
        assert_eq!(all.last(), None);
    }

    #[test]
    fn what_is_remembered_can_be_read_again() {
        let mut all = Remembered::default();
        all.put(Path::new("/nowhere/\"a\".toml"), page("spindle"));
        let text = toml::to_string(&all).expect("text");
        assert_eq!(reader::read::<Remembered>(&text), Ok(all));
    }
}
