//! What you see: the five steps, the options with what each would change, and the side pane
//! that never hides.
//!
//! [`state`] is plain data, [`update`] changes it by a message and names the task to be
//! done outside, if any, [`view`] draws it. `terminal` and `run` are the only parts that know there
//! is a terminal.

use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::rc::Rc;

use jiff::civil::Date;

use crate::assessment::moved::Moved;
use crate::assessment::{AssessError, Assessment, assess};
use crate::build::Build;
use crate::catalogue::Catalogue;
use crate::store::build_file::read;
use crate::store::build_file::recorded::moved_since;
use crate::store::bundle::Bundle;

pub mod about;
pub mod action;
mod around;
pub mod differences;
pub mod figures;
pub mod file_names;
pub mod form;
pub mod glossary;
pub mod glyphs;
pub mod heard;
pub mod help;
pub mod interview;
pub mod job;
pub mod key;
pub mod keymap;
pub mod layout;
pub mod ledger;
pub mod menu;
pub mod mouse;
pub mod next;
pub mod options;
mod origin;
pub mod own_part;
pub mod papers;
pub mod pictures;
pub mod preview;
pub mod recovery;
mod run;
pub mod savings;
pub mod screenshot;
pub mod seek;
pub mod side_by_side;
pub mod state;
pub mod stiffer;
mod terminal;
pub mod text;
pub mod theirs;
pub mod theme;
pub mod trace;
pub mod typed;
pub mod update;
pub mod variants;
pub mod view;
pub mod what_if;
pub mod wishes;

pub use wishes::Wishes;

/// What a session at the screen starts with.
#[derive(Debug)]
pub struct Session {
    /// What exists.
    pub catalogue: Catalogue,
    /// The build to work on.
    pub build: Build,
    /// Its file; none for a new build or an example.
    pub path: Option<PathBuf>,
    /// The file's text as it was read, so that saving keeps its comments.
    pub original: Option<String>,
    /// The build as that text has it, where whoever read it knows: else it is read once more.
    pub in_file: Option<Build>,
    /// The bundle that the file is; none where it is a build file.
    pub bundle: Option<Bundle>,
    /// The day for which prices are judged.
    pub today: Date,
    /// Which colours the user wishes.
    pub color: ColorWish,
}

/// How the build of a session stands when it is opened.
#[derive(Debug)]
pub struct Start {
    /// Its assessment.
    pub now: Rc<Assessment>,
    /// The build as it is in the file; edits from the command line are not there yet.
    pub saved: Build,
    /// What moved since the file was written, where anything did.
    pub moved: Option<Moved>,
}

impl Session {
    /// A build that stands in no file.
    pub fn new(catalogue: Catalogue, build: Build, today: Date, color: ColorWish) -> Self {
        Self {
            catalogue,
            build,
            path: None,
            original: None,
            in_file: None,
            bundle: None,
            today,
            color,
        }
    }

    /// The same as read from a text, in which it is `in_file`, and from a bundle where one holds
    /// that text.
    #[must_use]
    pub fn read_from(self, text: String, in_file: Build, bundle: Option<Bundle>) -> Self {
        Self {
            original: Some(text),
            in_file: Some(in_file),
            bundle,
            ..self
        }
    }

    /// All that the file held when it was read; none where there is no file.
    pub fn on_disk(&self) -> Option<String> {
        self.path.as_ref()?;
        let bundle = self.bundle.as_ref().map(|bundle| bundle.text().to_owned());
        bundle.or_else(|| self.original.clone())
    }

    /// Assesses the build, and looks up what is in its file.
    ///
    /// # Errors
    /// As [`assess`], where the build cannot be assessed at all.
    pub fn start(&self) -> Result<Start, AssessError> {
        let (catalogue, build, today) = (&self.catalogue, &self.build, self.today);
        let now = Rc::new(assess(catalogue, build, today)?);
        let text = self.original.as_ref();
        let read = || text.and_then(|text| read(text, "", catalogue).ok());
        let in_file = self.in_file.clone().or_else(read);
        let moved = text.and_then(|text| moved_since(text, catalogue, build, &now, today));
        Ok(Start {
            saved: in_file.unwrap_or_else(|| build.clone()),
            moved: moved.filter(|moved| !moved.is_empty()),
            now,
        })
    }
}

/// Which colours the user wishes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ColorWish {
    /// As the terminal and the environment say.
    #[default]
    Auto,
    /// Colours even where the environment says none.
    Always,
    /// No colours.
    Never,
    /// The sixteen named ones.
    Ansi16,
    /// The table of 256.
    Ansi256,
    /// Any.
    True,
}

/// How another file is opened: what is then worked on, or why that cannot be.
pub type Open<'o> = &'o dyn Fn(&Path) -> Result<Session, String>;

/// How files are opened in place of the one that is on the screen.
#[derive(Clone, Copy)]
pub struct Ways<'o> {
    /// As the command line says.
    pub open: Open<'o>,
    /// As the file is, without changes of the command line: for what was not saved.
    pub recover: Open<'o>,
}

/// Opens the screen and stays until the user leaves.
pub fn run(session: Session, wishes: Wishes, ways: Ways) -> ExitCode {
    run::run(session, wishes, ways)
}
