//! How numbers are shown and typed, and in which colours: what the command line asks for, then
//! the user's settings, then, for somebody at a terminal, the locale. JSON, CSV, workbooks and
//! files of builds are never changed by any of it.

use clap::Args;

use crate::screen::Wishes;
use crate::store::settings::{self, Beside, ThemeWish, locale};
use crate::store::state;
use crate::units::{Marks, System};
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

    /// What holds beside the settings.
    pub(super) fn beside(self) -> Beside {
        Beside {
            units: self.units,
            marks: self.marks,
            locale: locale::marks(|name| std::env::var(name).ok()),
            theme: self.theme,
        }
    }

    /// What the screen is to know: the settings, good or bad, and what is remembered.
    pub(super) fn wishes(self) -> Wishes {
        let user = settings::of_user();
        Wishes {
            settings: user.settings,
            beside: self.beside(),
            file: user.file,
            folders: Vec::new(),
            trouble: user.trouble.into_iter().collect(),
            remembered: state::load(),
        }
    }
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
