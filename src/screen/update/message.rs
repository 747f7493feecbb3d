//! What the state hears of the world outside, and what it asks of it.

use std::path::PathBuf;
use std::sync::Arc;

use ratatui::layout::Size;

use super::own_part::Fresh;
use crate::screen::job::Job;
use crate::screen::key::Key;
use crate::screen::mouse::Mouse;
use crate::screen::state::Purpose;
use crate::screen::theirs::Theirs;
use crate::store::own_parts::Change;
use crate::store::settings::Settings;

/// Something that happened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Message {
    /// A key was pressed.
    Key(Key),
    /// The mouse was used.
    Mouse(Mouse),
    /// Text was pasted.
    Paste(String),
    /// The terminal has another size.
    Resize(Size),
    /// Writing to a file was tried.
    Written(Outcome),
    /// Others do something with the file that is open.
    Others(Others),
    /// Something that was started has news.
    News,
    /// What was to be started beside the screen could not be, and why.
    NotStarted(String),
}

/// What others do with the file that is open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Others {
    /// Somebody works on it, as these words say.
    Work(String),
    /// It cannot be known whether somebody does, and why.
    Unknown(String),
    /// Somebody wrote to it.
    Wrote(Arc<Theirs>),
}

/// How writing to a file went.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// The file holds the build now, as this text.
    Saved {
        /// Which file.
        path: PathBuf,
        /// What it holds.
        text: String,
        /// Whether the program leaves now.
        leave: bool,
    },
    /// The file holds a sheet now.
    Exported(PathBuf),
    /// Another file of this name is there.
    Exists {
        /// Which file.
        path: PathBuf,
        /// What was to be written to it.
        purpose: Purpose,
    },
    /// Somebody else changed the file, so that it was not replaced.
    Changed {
        /// What it holds now.
        theirs: Arc<Theirs>,
        /// Whether the program leaves once it is saved.
        leave: bool,
    },
    /// Somebody works on the file, so that it was not replaced.
    Held {
        /// Which file.
        path: PathBuf,
        /// Who, in words.
        told: String,
        /// Whether the program leaves once the build is saved.
        leave: bool,
    },
    /// The file holds the settings now.
    Kept,
    /// A file of one's own parts is changed, and the catalogue loaded anew.
    Own {
        /// What was changed.
        change: Change,
        /// What exists now.
        catalogue: Fresh,
        /// Which file.
        file: PathBuf,
    },
    /// It could not be written.
    Failed(String),
}

/// Something to be done outside the state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Task {
    /// Write the build, or a sheet of it, to a file.
    Write {
        /// Which file.
        path: PathBuf,
        /// What is written.
        purpose: Purpose,
        /// Whether what is there, and was told of, may be replaced.
        replace: bool,
    },
    /// What the file holds was taken over: this text is what is worked on now.
    TakeOver(Arc<Theirs>),
    /// Start something that takes long beside the screen; each time that it has news, say so.
    Start(Job),
    /// Write the settings to their file.
    Keep(PathBuf, Settings),
    /// Change one's own parts in their file, and load the catalogue anew.
    Own(Change),
    /// Open another file, in place of this one.
    Open(PathBuf),
    /// Take up the unsaved changes of this journal, in place of what is on the screen.
    Recover(PathBuf),
    /// Throw the unsaved changes of this journal away.
    Forget(PathBuf),
    /// Leave the program.
    Leave,
    /// Go to the background.
    Suspend,
}

impl Task {
    /// What the log calls it: without names of files.
    pub fn name(&self) -> &'static str {
        match self {
            Self::Write { purpose, .. } => match purpose {
                Purpose::Save { .. } => "write the build",
                Purpose::Export(..) => "write a sheet",
            },
            Self::Start(_) => "start a search",
            Self::Keep(..) => "write the settings",
            Self::Own(_) => "write own parts",
            Self::Open(_) => "open a file",
            Self::TakeOver(_) => "take what others wrote",
            Self::Recover(_) => "take up unsaved changes",
            Self::Forget(_) => "throw unsaved changes away",
            Self::Leave => "leave",
            Self::Suspend => "stop for a while",
        }
    }
}

/// What a message led to.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Reaction {
    /// What is to be done outside the state.
    pub task: Option<Task>,
    /// Whether the screen may look different now.
    pub redraw: bool,
}
