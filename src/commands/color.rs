//! Colours in what commands print: for people at a terminal, never in a file or a pipe
//! unless they are asked for.

use clap::{Args, ValueEnum};

use super::shown::ShownArgs;
use crate::rules::Severity;
use crate::screen::ColorWish;
use crate::screen::theme::Ground;
use crate::units::Shown;
use crate::units::respell::Speller;
use crate::words::Words as _;

/// The wishes about colours and numbers.
#[derive(Args, Clone, Copy, Debug, Default)]
pub(super) struct ColorArgs {
    /// Colours: auto (the default) asks the terminal, a number or true sets how many there are.
    #[arg(long, value_name = "WHEN")]
    color: Option<When>,
    #[command(flatten)]
    pub(super) shown: ShownArgs,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum When {
    Auto,
    Always,
    Never,
    #[value(name = "16")]
    Sixteen,
    #[value(name = "256")]
    Many,
    True,
}

impl ColorArgs {
    /// Takes the wish that stood before the command where none stands behind it.
    pub(super) fn come_after(&mut self, before: ColorArgs) {
        self.color = self.color.or(before.color);
        self.shown.come_after(before.shown);
    }

    /// The first option that was given; none where nothing was said.
    pub(super) fn said(&self) -> Option<&'static str> {
        let color = self.color.map(|_| "--color");
        color.or_else(|| self.shown.said())
    }

    /// The wish, with `NO_COLOR` heard where nothing else was said.
    pub(super) fn wish(self) -> ColorWish {
        match self.color.unwrap_or(When::Auto) {
            When::Auto if is_set("NO_COLOR") => ColorWish::Never,
            When::Auto => ColorWish::Auto,
            When::Always => ColorWish::Always,
            When::Never => ColorWish::Never,
            When::Sixteen => ColorWish::Ansi16,
            When::Many => ColorWish::Ansi256,
            When::True => ColorWish::True,
        }
    }
}

/// Whether a variable of the environment is set to something.
fn is_set(name: &str) -> bool {
    std::env::var_os(name).is_some_and(|value| !value.is_empty())
}

/// Whether the terminal says that it can do nothing but print.
pub(super) fn is_dumb() -> bool {
    std::env::var_os("TERM").is_some_and(|term| term == "dumb")
}

/// Whether words are painted, and in which units and marks numbers stand in tables. The words
/// alone say everything.
#[derive(Clone, Copy, Debug)]
pub(super) struct Paint {
    colours: bool,
    shown: Shown,
    ground: Ground,
}

impl Paint {
    /// No colours.
    #[cfg(test)]
    pub(super) const PLAIN: Paint = Paint {
        colours: false,
        shown: Shown::PLAIN,
        ground: Ground::Either,
    };

    /// Paint with colours for a background, or without; numbers stand in tables as they are shown.
    pub(super) fn new(colours: bool, shown: Shown, ground: Ground) -> Self {
        Self {
            colours,
            shown,
            ground,
        }
    }

    /// Paint where somebody asked for it, and nowhere else: for text that is read aloud.
    pub(super) fn wished(wish: ColorWish) -> Self {
        Self {
            colours: !matches!(wish, ColorWish::Auto | ColorWish::Never),
            shown: Shown::PLAIN,
            ground: Ground::said(|name| std::env::var(name).ok()),
        }
    }

    /// The word of a severity.
    pub(super) fn severity(self, severity: Severity) -> String {
        // Those of the eight that can be read there (see `tests/house/contrast.rs`): on dark, bold
        // brightens red and brown; nothing but red and magenta does for both.
        let code = match (severity, self.ground) {
            (Severity::Danger | Severity::Fault, Ground::Dark) => "1;31",
            (Severity::Danger | Severity::Fault, _) => "31",
            (Severity::Caution, Ground::Dark) => "1;33",
            (Severity::Caution, _) => "35",
            (Severity::Hint, Ground::Dark) => "36",
            (Severity::Hint, Ground::Light) => "34",
            (Severity::Hint, Ground::Either) => return severity.title().to_owned(),
        };
        self.with(code, severity.title())
    }

    /// What respells the numbers of a table, whose units stand in its heading.
    pub(super) fn numbers(self) -> Speller {
        Speller::new(self.shown, std::iter::empty())
    }

    /// A heading.
    pub(super) fn heading(self, text: &str) -> String {
        self.with("1", text)
    }

    fn with(self, code: &str, text: &str) -> String {
        if self.colours {
            format!("\u{1b}[{code}m{text}\u{1b}[0m")
        } else {
            text.to_owned()
        }
    }
}
