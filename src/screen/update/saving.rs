//! Saving and leaving.

use std::path::{Path, PathBuf};

use super::{Outcome, Task};
use crate::screen::state::{Layer, Notice, Question, State};

/// Saves to the file, or asks for its name.
pub(super) fn save(state: &mut State) -> Vec<Task> {
    match state.path.clone() {
        Some(path) => vec![Task::Save {
            path,
            replace: true,
            leave: false,
        }],
        None => {
            ask_name(state, false);
            Vec::new()
        }
    }
}

/// Asks for the name of the file.
pub(super) fn ask_name(state: &mut State, leave: bool) {
    let name = match &state.path {
        Some(path) => path.to_string_lossy().into_owned(),
        None => suggested(&state.build().title),
    };
    state.layers.push(Layer::Name(name.into(), leave));
}

/// A file name made from a title: letters, digits and hyphens.
fn suggested(title: &str) -> String {
    let words = title.to_lowercase();
    let words = words
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty());
    let name = words.collect::<Vec<_>>().join("-");
    if name.is_empty() {
        "machine.toml".to_owned()
    } else {
        format!("{name}.toml")
    }
}

/// The file that a name means: the open one by its own name, any other with the ending of
/// build files.
pub fn file_of(open: Option<&Path>, named: PathBuf) -> PathBuf {
    let ends = |ending: &str| {
        let extension = named.extension();
        extension.is_some_and(|extension| extension.eq_ignore_ascii_case(ending))
    };
    if open == Some(named.as_path()) || ends("toml") {
        return named;
    }
    let mut name = named.into_os_string();
    name.push(".toml");
    PathBuf::from(name)
}

/// Saves under the name that was typed.
pub(super) fn named(state: &mut State, name: &str, leave: bool) -> Vec<Task> {
    let name = name.trim();
    if name.is_empty() {
        state.notice = Some(Notice::Failed(
            "type a file name, such as router.toml".to_owned(),
        ));
        return Vec::new();
    }
    let path = PathBuf::from(name);
    // The file that is open already holds the earlier state of this very build.
    let replace = state.path.as_ref() == Some(&path);
    vec![Task::Save {
        path,
        replace,
        leave,
    }]
}

/// Leaves, or asks first.
pub(super) fn quit(state: &mut State) -> Vec<Task> {
    if !state.is_unsaved() {
        return vec![Task::Leave];
    }
    let asked = matches!(
        state.layers.last(),
        Some(Layer::Question(Question::Leave, _))
    );
    if !asked {
        state.layers.push(Layer::Question(Question::Leave, 0));
    }
    Vec::new()
}

/// Carries out what was decided.
pub(super) fn answer(state: &mut State, question: Question, cursor: usize) -> Vec<Task> {
    match (question, cursor) {
        (Question::Leave, 1) => match state.path.clone() {
            Some(path) => vec![Task::Save {
                path,
                replace: true,
                leave: true,
            }],
            None => {
                ask_name(state, true);
                Vec::new()
            }
        },
        (Question::Leave, 2) => vec![Task::Leave],
        (Question::Replace(path, leave), 1) => vec![Task::Save {
            path,
            replace: true,
            leave,
        }],
        _ => Vec::new(),
    }
}

/// Takes note of how a save went.
pub(super) fn saved(state: &mut State, outcome: Outcome) -> Vec<Task> {
    match outcome {
        Outcome::Written { path, text, leave } => {
            close_name(state);
            state.notice = Some(Notice::Done(format!("saved to {}", path.display())));
            state.saved = state.build().clone();
            state.path = Some(path);
            state.original = Some(text);
            state.moved = None;
            if leave { vec![Task::Leave] } else { Vec::new() }
        }
        Outcome::Exists { path, leave } => {
            state
                .layers
                .push(Layer::Question(Question::Replace(path, leave), 0));
            Vec::new()
        }
        Outcome::Failed(why) => {
            state.notice = Some(Notice::Failed(why));
            Vec::new()
        }
    }
}

fn close_name(state: &mut State) {
    state
        .layers
        .retain(|layer| !matches!(layer, Layer::Name(..)));
}
