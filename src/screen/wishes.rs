//! What somebody wants of the screen, whatever is planned on it: the settings with their file,
//! what was asked for at the start, and what is remembered from last time.

use std::path::{Path, PathBuf};

use super::action::Action;
use super::keymap::{Keymap, Place};
use super::state::{Notice, State};
use crate::build::choices;
use crate::store::FileError;
use crate::store::settings::{Beside, Settings, ThemeWish};
use crate::store::state::{Page, Remembered};
use crate::units::respell::Speller;

/// What somebody wants of the screen.
#[derive(Clone, Debug, Default)]
pub struct Wishes {
    /// The settings of the file.
    pub settings: Settings,
    /// What holds beside them.
    pub beside: Beside,
    /// The file of the settings, whether or not it is there; none without a home folder.
    pub file: Option<PathBuf>,
    /// Folders of parts that were named at the start.
    pub folders: Vec<PathBuf>,
    /// What is wrong with the file.
    pub trouble: Vec<FileError>,
    /// What is remembered from last time.
    pub remembered: Remembered,
}

impl Wishes {
    /// Colours for which background: as was asked for at the start, else as the settings say.
    pub fn theme(&self) -> ThemeWish {
        self.beside.theme(&self.settings)
    }

    /// Whether the mouse is listened to. Unasked it is not: it would be taken from the
    /// terminal's own way to mark and copy text.
    pub fn mouse(&self) -> bool {
        self.settings.mouse.unwrap_or(false)
    }

    /// The file that was open last, where it can be gone on with.
    pub fn last(&self) -> Option<&Path> {
        self.remembered.last()
    }
}

impl State {
    /// Takes wishes over. What is wrong with the settings is said, and the usual then holds.
    pub fn wish(&mut self, wishes: Wishes) {
        let name = wishes.file.as_deref().map(crate::store::text::name_of);
        let lines = &wishes.settings.keys;
        let (keymap, errors) = Keymap::with(lines, &name.unwrap_or_default());
        let mut trouble = wishes.trouble.iter().chain(&errors);
        if let Some(first) = trouble.next() {
            let more = match trouble.count() {
                0 => String::new(),
                more => format!("; and {more} more, which gantrywright keys tells"),
            };
            let text = format!("settings: {first}{more}");
            self.notice = Some(Notice::Failed(text));
        }
        self.keymap = keymap;
        self.wishes = wishes;
        self.show_as_wished();
        self.go_where_it_was();
    }

    /// Brings how numbers are shown up to date with the settings.
    pub fn show_as_wished(&mut self) {
        self.shown = self.wishes.beside.shown(&self.wishes.settings);
        self.speller = Speller::new(self.shown, self.catalogue.names());
    }

    /// Goes to the choice that the cursor was on when this file was left.
    fn go_where_it_was(&mut self) {
        let page = self.file.path.as_deref();
        let page = page.and_then(|path| self.wishes.remembered.page(path));
        let choice = page.and_then(|page| choices::find(&page.choice).ok());
        if let Some(choice) = choice {
            self.point_at(choice);
            super::update::refresh(self);
        }
    }

    /// The key of an action in a place, to be named in a message: the user's own, where there is
    /// one.
    pub fn key_for(&self, place: Place, action: Action) -> String {
        let key = self.keymap.key_of(place, action);
        key.map(|key| key.to_string()).unwrap_or_default()
    }

    /// The key that takes a change back, to be named in a message.
    pub fn undo_key(&self) -> String {
        self.key_for(Place::Choices, Action::Undo)
    }

    /// What is to be remembered of this file.
    pub fn page(&self) -> Page {
        Page {
            choice: self.choice().map_or("", |choice| choice.id).to_owned(),
        }
    }
}
