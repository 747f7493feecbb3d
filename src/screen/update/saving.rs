//! Writing to files, and leaving.

use std::path::{Path, PathBuf};

use super::{Outcome, Task};
use crate::screen::file_names::{ends, stem, with_ending};
use crate::screen::state::{Layer, Notice, Purpose, Question, State};
use crate::screen::typed::Typed;
use crate::sheets::{Format, SheetKind};
use crate::words::Words as _;

/// Saves to the file, or asks for its name.
pub(super) fn save(state: &mut State) -> Option<Task> {
    save_and(state, false)
}

fn save_and(state: &mut State, leave: bool) -> Option<Task> {
    let purpose = Purpose::Save { leave };
    match state.file.path.clone() {
        Some(path) => Some(Task::Write {
            path,
            purpose,
            replace: false,
        }),
        None => {
            ask_name(state, purpose);
            None
        }
    }
}

/// Asks for the name of the file.
pub(super) fn ask_name(state: &mut State, purpose: Purpose) {
    let stem = || stem(&state.build().title);
    let name = match (purpose, &state.file.path) {
        (Purpose::Export(kind, format), path) => {
            let file = path.as_deref().and_then(Path::file_stem);
            let stem = file.map_or_else(stem, |file| file.to_string_lossy().into_owned());
            let name = format!("{stem}-{}.{}", kind.id(), format.ending());
            // It lands beside the build that it belongs to.
            let beside = path.as_ref().map(|path| path.with_file_name(&name));
            beside.map_or(name, |path| path.to_string_lossy().into_owned())
        }
        (Purpose::Save { .. }, Some(path)) => path.to_string_lossy().into_owned(),
        (Purpose::Save { .. }, None) => format!("{}.toml", stem()),
    };
    let name = Typed::proposed(name);
    state.layers.push(Layer::Name(name, purpose));
}

/// The file that a name means for a sheet, and the format that its ending means. A name
/// without an ending is given that of the format; one with another is taken at its word.
///
/// # Errors
/// What is wrong with the name, where it is that of a build file.
fn sheet_of(named: PathBuf, kind: SheetKind, format: Format) -> Result<(PathBuf, Purpose), String> {
    if ends(&named, "toml") {
        return Err("build files end in .toml; a sheet needs another ending".to_owned());
    }
    let meant = Format::of_path(&named);
    let path = match meant {
        Some(_) => named,
        None => with_ending(named, format.ending()),
    };
    Ok((path, Purpose::Export(kind, meant.unwrap_or(format))))
}

/// Writes under the name that was typed.
pub(super) fn named(state: &mut State, name: &str, purpose: Purpose) -> Option<Task> {
    let name = name.trim();
    if name.is_empty() {
        let example = match purpose {
            Purpose::Save { .. } => "router.toml".to_owned(),
            Purpose::Export(kind, format) => format!("{}.{}", kind.id(), format.ending()),
        };
        let text = format!("type a file name, such as {example}");
        state.notice = Some(Notice::Failed(text));
        return None;
    }
    let path = PathBuf::from(name);
    let (path, purpose) = match purpose {
        Purpose::Save { .. } => (path, purpose),
        Purpose::Export(kind, format) => match sheet_of(path, kind, format) {
            Ok(meant) => meant,
            Err(why) => {
                state.notice = Some(Notice::Failed(why));
                return None;
            }
        },
    };
    Some(Task::Write {
        path,
        purpose,
        replace: false,
    })
}

/// Goes on with the file that was open last.
pub(super) fn go_on(state: &mut State) -> Option<Task> {
    let failed = |text: &str| Some(Notice::Failed(text.to_owned()));
    match state.wishes.last().map(Path::to_owned) {
        Some(_) if state.is_unsaved() => {
            state.notice = failed("not opened: something is not saved yet; save or undo it first");
            None
        }
        Some(last) => Some(Task::Open(last)),
        None => {
            state.notice = failed("no other file was open before");
            None
        }
    }
}

/// Leaves, or asks first.
pub(super) fn quit(state: &mut State) -> Option<Task> {
    if !state.is_unsaved() {
        return Some(Task::Leave);
    }
    let asked = matches!(
        state.layers.last(),
        Some(Layer::Question(Question::Leave, _))
    );
    if !asked {
        state.layers.push(Layer::Question(Question::Leave, 0));
    }
    None
}

/// Carries out what was decided.
pub(super) fn answer(state: &mut State, question: Question, cursor: usize) -> Option<Task> {
    match (question, cursor) {
        (Question::Leave, 1) => save_and(state, true),
        (Question::Leave, 2) => Some(Task::Leave),
        (Question::Replace(path, purpose), 1) => Some(Task::Write {
            path,
            purpose,
            replace: true,
        }),
        (Question::Held, at) => super::beside::look(state, at),
        (Question::Changed(theirs, leave), at) => super::beside::keep(state, &theirs, at, leave),
        (Question::RemoveOwn(kind, id), 1) => Some(super::own_part::remove(kind, id)),
        (Question::DropOwn, 1) => {
            super::own_part::drop_form(state);
            None
        }
        (Question::Recover, taken) => recover(state, taken),
        _ => None,
    }
}

/// Asks what becomes of unsaved changes, where there are any to ask about.
pub(in crate::screen) fn offer(state: &mut State) {
    if !state.recovery.is_empty() {
        state.layers.push(Layer::Question(Question::Recover, 0));
    }
}

/// Asks about the next ones, and says what became of those before.
pub(in crate::screen) fn offered_on(state: &mut State, said: Notice) {
    offer(state);
    state.notice = Some(said);
}

/// Carries out what was decided about unsaved changes.
fn recover(state: &mut State, taken: usize) -> Option<Task> {
    if state.recovery.is_empty() {
        return None;
    }
    if taken == 1 && state.is_unsaved() {
        let text = "not taken up: something is not saved yet; it is offered again next time";
        offered_on(state, Notice::Failed(text.to_owned()));
        return None;
    }
    let path = state.recovery.remove(0).journal.path;
    match taken {
        1 => Some(Task::Recover(path)),
        2 => Some(Task::Forget(path)),
        _ => {
            let text = "it is offered again at the next start; gantrywright recover lists it";
            offered_on(state, Notice::Done(text.to_owned()));
            None
        }
    }
}

/// Takes note of how writing went.
pub(super) fn written(state: &mut State, outcome: Outcome) -> Option<Task> {
    match outcome {
        Outcome::Saved { path, text, leave } => {
            close_name(state);
            state.notice = Some(Notice::Done(format!("saved to {}", path.display())));
            state.file.saved = state.build().clone();
            state.file.path = Some(path);
            state.file.original = Some(text);
            state.file.moved = None;
            state.file.held = None;
            state.file.theirs = None;
            return leave.then_some(Task::Leave);
        }
        Outcome::Own {
            change,
            catalogue,
            file,
        } => super::own_part::made(state, &change, catalogue, &file),
        Outcome::Kept => state.notice = Some(Notice::Done("changed and saved".to_owned())),
        Outcome::Exported(path) => {
            close_name(state);
            let text = format!("written to {}", path.display());
            state.notice = Some(Notice::Done(text));
        }
        Outcome::Exists { path, purpose } => {
            let question = Question::Replace(path, purpose);
            state.layers.push(Layer::Question(question, 0));
        }
        Outcome::Changed { theirs, leave } => super::beside::changed(state, theirs, leave),
        Outcome::Held { path, told, leave } => super::beside::held(state, &path, told, leave),
        Outcome::Failed(why) => state.notice = Some(Notice::Failed(why)),
    }
    None
}

/// Closes what led to the file: its name, and the list of formats below that.
fn close_name(state: &mut State) {
    state
        .layers
        .retain(|layer| !matches!(layer, Layer::Name(..) | Layer::Export(..)));
}
