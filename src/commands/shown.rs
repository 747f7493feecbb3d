//! How numbers are shown and typed, and in which colours: what the command line asks for, then
//! the user's settings, then, for somebody at a terminal, the locale. JSON, CSV, workbooks and
//! files of builds are never changed by any of it.

use std::io::IsTerminal as _;

use clap::Args;

use super::{Failure, output};
use crate::catalogue::Catalogue;
use crate::screen::Wishes;
use crate::store::settings::{self, Beside, ThemeWish, locale};
use crate::store::state;
use crate::units::respell::Speller;
use crate::units::{Marks, Shown, System};
use crate::words::Words as _;

/// What the command line says of numbers.
#[derive(Args, Clone, Copy, Debug, Default)]
pub(super) struct ShownArgs {
    /// Units to show and type: metric or inch; what is usual is in the settings.
    #[arg(long, value_name = "UNITS", value_parser = units)]
    units: Option<System>,
    /// Marks in numbers, as you would write 1234.5: such as 1,234.5 or "1 234,5".
    #[arg(long, value_name = "NUMBER", value_parser = marks)]
    marks: Option<Marks>,
    /// Colours of the screen for a background: dark, light, or auto as the terminal says.
    #[arg(long, value_name = "THEME", value_parser = theme)]
    theme: Option<ThemeWish>,
}

impl ShownArgs {
    /// Takes what stood before the command where nothing stands behind it.
    pub(super) fn come_after(&mut self, before: Self) {
        self.units = self.units.or(before.units);
        self.marks = self.marks.or(before.marks);
        self.theme = self.theme.or(before.theme);
    }

    /// The first option that was given; none where nothing was said.
    pub(super) fn said(&self) -> Option<&'static str> {
        let each = [
            ("--units", self.units.is_some()),
            ("--marks", self.marks.is_some()),
            ("--theme", self.theme.is_some()),
        ];
        let said = each.into_iter().find(|(_, is_there)| *is_there);
        said.map(|(option, _)| option)
    }

    /// What the screen is to know: the settings, good or bad, and what is remembered.
    pub(super) fn wishes(self) -> Wishes {
        let file = settings::path();
        let loaded = file.as_deref().map(settings::load).transpose();
        let (settings, trouble) = match loaded {
            Ok(settings) => (settings.unwrap_or_default(), Vec::new()),
            Err(error) => (settings::Settings::default(), vec![error]),
        };
        Wishes {
            settings,
            beside: Beside {
                units: self.units,
                marks: self.marks,
                locale: locale::marks(|name| std::env::var(name).ok()),
                theme: self.theme,
            },
            file,
            folders: Vec::new(),
            trouble,
            remembered: state::load(),
        }
    }

    /// What turns a printed page into how somebody reads it. What is wrong with the settings is
    /// said beside, and the usual then holds.
    pub(super) fn speller(self, catalogue: &Catalogue) -> Speller {
        self.spellers(catalogue).0
    }

    /// The same for what is written to a file.
    pub(super) fn speller_of_files(self, catalogue: &Catalogue) -> Speller {
        self.spellers(catalogue).1
    }

    /// Both: of what is printed, and of what is written to files.
    pub(super) fn spellers(self, catalogue: &Catalogue) -> (Speller, Speller) {
        let wishes = self.wishes();
        for error in &wishes.trouble {
            output::complain(&Failure::from(error.clone()));
        }
        let [shown, in_files] = [false, true].map(|to_file| {
            let shown = printed(wishes.clone(), to_file);
            Speller::new(shown, catalogue.names())
        });
        (shown, in_files)
    }
}

/// How numbers stand in what goes to standard output, or into a file. In a file or a pipe the
/// locale changes nothing: a script reads the same everywhere.
pub(super) fn printed(mut wishes: Wishes, to_file: bool) -> Shown {
    if to_file || !std::io::stdout().is_terminal() {
        wishes.beside.locale = None;
    }
    wishes.beside.shown(&wishes.settings)
}

fn units(text: &str) -> Result<System, String> {
    System::from_id(text).ok_or_else(|| format!("{text:?} is neither metric nor inch"))
}

fn theme(text: &str) -> Result<ThemeWish, String> {
    let wrong = || format!("{text:?} is none of auto, dark and light");
    ThemeWish::from_id(text).ok_or_else(wrong)
}

/// The marks of a number that somebody wrote out.
fn marks(text: &str) -> Result<Marks, String> {
    let wrong = || {
        format!(
            "{text:?}: write 1234.5 as you want it, such as 1,234.5 or 1.234,5 or \"1 234,5\" or 1234.5"
        )
    };
    let rest = text
        .strip_prefix('1')
        .and_then(|rest| rest.strip_suffix('5'));
    let (before, decimal) = rest
        .and_then(|rest| {
            let decimal = rest.chars().next_back()?;
            Some((rest.strip_suffix(decimal)?, decimal))
        })
        .ok_or_else(wrong)?;
    let group = before.strip_suffix("234").ok_or_else(wrong)?;
    let mut signs = group.chars();
    let thousands = signs.next();
    match (signs.next(), Marks::new(decimal, thousands)) {
        (None, Some(marks)) => Ok(marks),
        _ => Err(wrong()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_told_by_a_number_written_out() {
        for (text, decimal, thousands) in [
            ("1234.5", '.', None),
            ("1,234.5", '.', Some(',')),
            ("1.234,5", ',', Some('.')),
            ("1 234,5", ',', Some(' ')),
            ("1'234.5", '.', Some('\'')),
        ] {
            assert_eq!(marks(text).ok(), Marks::new(decimal, thousands), "{text}");
        }
        for text in ["", "1.234.5", "1234", "12345", "1  234.5", ",", "1;234.5"] {
            assert!(marks(text).is_err(), "{text}");
        }
    }
}
