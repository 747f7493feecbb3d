//! How what a command prints looks to whoever reads it: colours, units and marks, as the command
//! line, the user's settings and the terminal have it. A command asks once, and all that it prints
//! looks alike.

use std::io::IsTerminal as _;

use super::color::{ColorArgs, Paint, is_dumb};
use super::{Failure, output};
use crate::catalogue::Catalogue;
use crate::screen::ColorWish;
use crate::screen::theme::Ground;
use crate::store::settings::{self, Beside, UserSettings};
use crate::units::Shown;
use crate::units::respell::Speller;

/// How a command's pages look.
pub(super) struct Look {
    color: ColorWish,
    beside: Beside,
    user: UserSettings,
}

impl ColorArgs {
    /// How pages look; this reads the settings.
    pub(super) fn look(self) -> Look {
        Look {
            color: self.wish(),
            beside: self.shown.beside(),
            user: settings::of_user(),
        }
    }
}

impl Look {
    /// The paint for what is printed to standard output.
    pub(super) fn paint(&self) -> Paint {
        let colours = match self.color {
            ColorWish::Never => false,
            ColorWish::Auto => std::io::stdout().is_terminal() && !is_dumb(),
            _ => true,
        };
        let ground = Ground::said(|name| std::env::var(name).ok());
        let theme = self.beside.theme(&self.user.settings);
        Paint::new(colours, self.printed(), ground.wished(theme))
    }

    /// What turns a printed page into how somebody reads it. What is wrong with the settings is
    /// said beside, and the usual then holds.
    pub(super) fn speller(&self, catalogue: &Catalogue) -> Speller {
        self.complain();
        Speller::new(self.printed(), catalogue.names())
    }

    /// The same for what is written to a file.
    pub(super) fn speller_of_files(&self, catalogue: &Catalogue) -> Speller {
        self.complain();
        Speller::new(self.in_files(), catalogue.names())
    }

    /// Both: of what is printed, and of what is written to files.
    pub(super) fn spellers(&self, catalogue: &Catalogue) -> (Speller, Speller) {
        let in_files = Speller::new(self.in_files(), catalogue.names());
        (self.speller(catalogue), in_files)
    }

    fn complain(&self) {
        if let Some(error) = &self.user.trouble {
            output::complain(&Failure::from(error.clone()));
        }
    }

    /// How numbers stand in what goes to standard output. In a pipe they stand as in a file.
    fn printed(&self) -> Shown {
        match std::io::stdout().is_terminal() {
            true => self.beside.shown(&self.user.settings),
            false => self.in_files(),
        }
    }

    /// How numbers stand in a file. The locale changes nothing there: a script reads the same
    /// everywhere.
    fn in_files(&self) -> Shown {
        let beside = Beside {
            locale: None,
            ..self.beside
        };
        beside.shown(&self.user.settings)
    }
}
