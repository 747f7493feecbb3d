//! What somebody wants of the program whatever they build: units, marks in numbers, colours,
//! keys. All of it is in `settings.toml` in their configuration folder (XDG base directories):
//!
//! ```toml
//! units = "inch"           # or "metric"
//! decimal_mark = ","       # or "."
//! thousands_mark = "."     # or ",", "'", "space", "none"
//! theme = "dark"           # or "light", "auto"
//! mouse = true             # or false
//!
//! [keys]                   # `gantrywright keys` lists places, keys and actions
//! warnings = "W"           # wherever the action has a key
//! undo = ["u", "ctrl-u"]
//!
//! [keys.bill]              # in this place alone
//! sort = "z"
//! ```
//!
//! What the file does not say is as usual; the marks are then those of the locale.

use std::path::{Path, PathBuf};

use super::{FileError, text};
use crate::units::{Marks, Shown, System};

pub mod locale;
mod read;
mod write;

pub use read::{mark, read};
pub use write::changed;

/// The name of the file in the user's folder.
const NAME: &str = "settings.toml";

crate::words! {
    /// Whether colours are made for a dark or a light background.
    ThemeWish {
        Auto = "auto", "as the terminal says", "Colours for the background that the terminal names; where it names none, colours that can be read on black and on white, and less well on what lies between.";
        Dark = "dark", "dark background", "Colours for a dark background.";
        Light = "light", "light background", "Colours for a light background.";
    }
}

/// What the file says; what it does not say is none.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Settings {
    /// Metric or inches.
    pub units: Option<System>,
    /// The mark before the fraction.
    pub decimal: Option<char>,
    /// The mark between thousands; the inner none is no mark at all.
    pub thousands: Option<Option<char>>,
    /// Colours for which background.
    pub theme: Option<ThemeWish>,
    /// Whether the mouse is listened to.
    pub mouse: Option<bool>,
    /// Keys of one's own.
    pub keys: Vec<KeyLine>,
}

/// A line of the section of keys, as it stands in the file: what it names is known elsewhere.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyLine {
    /// The place it is for; none for every place.
    pub place: Option<Named>,
    /// The action.
    pub action: Named,
    /// The keys that ask for it.
    pub keys: Vec<Named>,
}

/// A name in a file, and where it stands: line and column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// The name.
    pub name: String,
    /// Line and column, from one.
    pub at: (usize, usize),
}

/// What holds beside the settings: what was asked for when the program was started goes over
/// them, and the locale holds where neither says anything.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Beside {
    /// Units that were asked for at the start.
    pub units: Option<System>,
    /// Marks that were asked for at the start.
    pub marks: Option<Marks>,
    /// Those of the locale.
    pub locale: Option<Marks>,
    /// Colours that were asked for at the start.
    pub theme: Option<ThemeWish>,
}

impl Beside {
    /// How numbers are shown with these settings.
    pub fn shown(&self, settings: &Settings) -> Shown {
        let system = self.units.or(settings.units);
        Shown {
            system: system.unwrap_or(System::Metric),
            marks: self.marks.unwrap_or_else(|| self.set(settings)),
        }
    }

    /// Colours for which background with these settings.
    pub fn theme(&self, settings: &Settings) -> ThemeWish {
        let theme = self.theme.or(settings.theme);
        theme.unwrap_or(ThemeWish::Auto)
    }

    /// The marks that settings and locale come to. Where one mark was set that the other one is
    /// by the locale, a space parts thousands.
    fn set(&self, settings: &Settings) -> Marks {
        let usual = self.locale.unwrap_or(Marks::PLAIN);
        let thousands = settings.thousands.unwrap_or(usual.thousands());
        let decimal = settings.decimal.unwrap_or(match thousands {
            Some(mark) if mark == usual.decimal() => other(mark),
            _ => usual.decimal(),
        });
        let marks = Marks::new(decimal, thousands);
        marks.or(Marks::new(decimal, Some(' '))).unwrap_or(usual)
    }
}

fn other(mark: char) -> char {
    if mark == '.' { ',' } else { '.' }
}

/// Where the settings are, whether or not there are any; none where there is no home folder.
pub fn path() -> Option<PathBuf> {
    super::library::home_folder().map(|folder| folder.join(NAME))
}

/// The settings of whoever runs the program.
#[derive(Clone, Debug, Default)]
pub struct UserSettings {
    /// What they say; nothing where that makes no sense.
    pub settings: Settings,
    /// Their file, whether or not it is there; none without a home folder.
    pub file: Option<PathBuf>,
    /// What is wrong with it.
    pub trouble: Option<FileError>,
}

/// Reads the settings of whoever runs the program.
pub fn of_user() -> UserSettings {
    let file = path();
    let loaded = file.as_deref().map(load).transpose();
    let (settings, trouble) = match loaded {
        Ok(settings) => (settings.unwrap_or_default(), None),
        Err(error) => (Settings::default(), Some(error)),
    };
    UserSettings {
        settings,
        file,
        trouble,
    }
}

/// The settings of a file; none of them where there is no such file.
///
/// # Errors
/// Where it cannot be read, or says what makes no sense.
pub fn load(path: &Path) -> Result<Settings, FileError> {
    if text::is_missing(path) {
        return Ok(Settings::default());
    }
    read(&text::read(path)?, &text::name_of(path))
}

/// Writes settings to their file. Its comments and its keys stay; the folder is made where it
/// is missing.
///
/// # Errors
/// Where the file is there and cannot be read, or the place cannot be written.
pub fn save(path: &Path, settings: &Settings) -> Result<(), FileError> {
    let old = match text::is_missing(path) {
        true => String::new(),
        false => text::read(path)?,
    };
    let new = changed(&old, &text::name_of(path), settings)?;
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder)
            .map_err(|error| FileError::new(text::name_of(folder), text::reason(&error)))?;
    }
    super::save(path, &new)
}
