//! Others who work on the same file: what was learnt of them, and what is done about it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::{Others, Task, put, saving};
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::state::{Focus, Layer, Notice, Purpose, Question, State};
use crate::screen::theirs::Theirs;
use crate::screen::typed::Typed;

/// What can be done with a file that somebody else works on, the harmless one first.
pub(super) const LOOKING: &[&str] = &[
    "Look only: nothing is saved under this name",
    "Save a copy under another name",
    "Leave",
];

/// What can be done where somebody else changed the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Way {
    /// Nothing for now.
    Later,
    /// Save what is here under another name.
    Both,
    /// Go on with what the file holds.
    Theirs,
    /// Replace it by what is here.
    Mine,
}

impl Way {
    pub(super) fn told(self) -> &'static str {
        match self {
            Self::Later => "Decide later: nothing is saved now",
            Self::Both => "Keep both: save mine under another name",
            Self::Theirs => "Take what the file holds, and drop mine",
            Self::Mine => "Overwrite the file with mine",
        }
    }
}

/// What can be done about a change, the harmless first.
pub(super) fn ways(theirs: &Theirs) -> &'static [Way] {
    match (theirs.build.is_ok(), theirs.held.is_some()) {
        (true, false) => &[Way::Later, Way::Both, Way::Theirs, Way::Mine],
        (true, true) => &[Way::Later, Way::Both, Way::Theirs],
        (false, false) => &[Way::Later, Way::Both, Way::Mine],
        (false, true) => &[Way::Later, Way::Both],
    }
}

/// Takes note of what others do. A question that comes up in the midst of typing would be
/// answered by accident: what was written is only told, and asked about at the next saving.
pub(super) fn learnt(state: &mut State, others: Others) {
    match others {
        Others::Work(told) => {
            state.file.held = Some(told);
            state.layers.push(Layer::Question(Question::Held, 0));
        }
        Others::Unknown(why) => {
            let text = format!(
                "whoever opens this file too is not told of you, nor you of them: no lock can be kept beside it ({why})"
            );
            if matches!(state.notice, None | Some(Notice::Idle(_))) {
                state.notice = Some(Notice::Failed(text));
            }
        }
        Others::Wrote(theirs) => {
            let key = state.key_for(Place::Choices, Action::Save);
            let text = format!(
                "somebody else changed {}: {key} shows what, and asks which to keep",
                name_of(&theirs.path)
            );
            state.file.theirs = Some(theirs);
            state.notice = Some(Notice::Failed(text));
        }
    }
}

/// Asks what is kept of a file that was changed.
pub(super) fn changed(state: &mut State, theirs: Arc<Theirs>, leave: bool) {
    state.file.held = theirs.held.clone();
    state.file.theirs = Some(Arc::clone(&theirs));
    state
        .layers
        .push(Layer::Question(Question::Changed(theirs, leave), 0));
}

/// Asks for another name, since somebody works on the file of this one.
pub(super) fn held(state: &mut State, path: &Path, told: String, leave: bool) {
    let text = format!("not saved: {told}; give another name");
    if state.file.path.as_deref() == Some(path) {
        state.file.held = Some(told);
    }
    if !matches!(state.layers.last(), Some(Layer::Name(..))) {
        ask_beside(state, path, leave);
    }
    state.notice = Some(Notice::Failed(text));
}

/// Asks for the name of a file beside this one.
fn ask_beside(state: &mut State, path: &Path, leave: bool) {
    let name = Typed::proposed(beside(path).to_string_lossy());
    let purpose = Purpose::Save { leave };
    state.layers.push(Layer::Name(name, purpose));
}

/// A name for what is one's own, beside somebody else's.
fn beside(path: &Path) -> PathBuf {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!("{stem}-mine.toml"))
}

fn name_of(path: &Path) -> String {
    let name = path.file_name().unwrap_or(path.as_os_str());
    name.to_string_lossy().into_owned()
}

/// What was decided on a file that somebody else works on.
pub(super) fn look(state: &mut State, cursor: usize) -> Option<Task> {
    match (cursor, state.file.path.clone()) {
        (1, Some(path)) => ask_beside(state, &path, false),
        (2, _) => return saving::quit(state),
        _ => {}
    }
    None
}

/// What was decided on a file that somebody else changed.
pub(super) fn keep(
    state: &mut State,
    theirs: &Arc<Theirs>,
    cursor: usize,
    leave: bool,
) -> Option<Task> {
    match ways(theirs).get(cursor) {
        Some(Way::Both) => {
            ask_beside(state, &theirs.path, leave);
            None
        }
        Some(Way::Theirs) => take(state, theirs, leave),
        Some(Way::Mine) => Some(Task::Write {
            path: theirs.path.clone(),
            purpose: Purpose::Save { leave },
            replace: true,
        }),
        Some(Way::Later) | None => None,
    }
}

/// Goes on with what the file holds. Undo brings back what was here, but where the file brings
/// its own parts: that is opened anew.
fn take(state: &mut State, theirs: &Arc<Theirs>, leave: bool) -> Option<Task> {
    let Ok((build, text)) = &theirs.build else {
        return None;
    };
    if leave {
        return Some(Task::Leave);
    }
    if theirs.bundle || state.file.bundle.is_some() {
        return Some(Task::Open(theirs.path.clone()));
    }
    if !put(state, build.clone()) {
        return None;
    }
    state.file.saved = build.clone();
    state.file.original = Some(text.clone());
    state.file.moved = None;
    state.file.theirs = None;
    // In a field that was open the key that takes it back would be typed text.
    state.focus = Focus::Choices;
    state.number_field = None;
    let text = format!(
        "taken from {}; {} brings yours back",
        name_of(&theirs.path),
        state.undo_key()
    );
    state.notice = Some(Notice::Done(text));
    Some(Task::TakeOver(Arc::clone(theirs)))
}
