//! The screen.

use std::path::PathBuf;
use std::process::ExitCode;

use jiff::civil::Date;

use crate::build::Build;
use crate::catalogue::Catalogue;

/// What the screen starts with.
pub struct Session {
    /// What exists.
    pub catalogue: Catalogue,
    /// The build to begin with.
    pub build: Build,
    /// The file it came from, and to which it is saved; none for new builds and examples.
    pub path: Option<PathBuf>,
    /// The text of that file as it was read.
    pub original: Option<String>,
    /// The day.
    pub today: Date,
    /// The wish about colours.
    pub color: ColorWish,
}

/// What the user wishes about colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ColorWish {
    /// As the terminal seems to want it.
    Auto,
    /// Colours, as many as the terminal seems to have.
    Always,
    /// None.
    Never,
    /// The 16 colours of the terminal's own palette.
    Ansi16,
    /// The 256 colours.
    Ansi256,
    /// All colours.
    True,
}

/// Runs the screen until the user leaves it.
pub fn run(session: Session) -> ExitCode {
    drop(session);
    ExitCode::from(2)
}
