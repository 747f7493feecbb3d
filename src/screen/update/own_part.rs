//! Parts of one's own: their form opened, typed in and kept; taken out again where nothing uses
//! them. Files are written outside; the changed catalogue comes back as a message.

use std::path::Path;
use std::sync::Arc;

use super::{Outcome, Task};
use crate::assessment::assess;
use crate::build::choices::{self, Kind};
use crate::build::{Build, Value};
use crate::catalogue::{Catalogue, Id, PartKind};
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::own_part::{Opening, OwnPart};
use crate::screen::state::{Focus, Layer, Notice, Question, State};
use crate::store::own_parts::{Change, What};

/// A catalogue that was loaded anew.
#[derive(Clone, Debug)]
pub struct Fresh(pub Arc<Catalogue>);

impl PartialEq for Fresh {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

impl Eq for Fresh {}

/// Why own parts stay out of a bundle.
const BUNDLE: &str = "a bundle brings its own parts: open a build file to use parts of your own";

fn refuse(state: &mut State, why: impl Into<String>) {
    state.notice = Some(Notice::Failed(why.into()));
}

/// The part under the cursor: among the options, or what the choice has now.
fn pointed(state: &State) -> Option<(PartKind, Id)> {
    let choice = state.choice()?;
    let kinds: &[PartKind] = match &choice.kind {
        Kind::Part { kinds, .. } => kinds,
        Kind::Parts(kind) => std::slice::from_ref(kind),
        _ => return None,
    };
    let row = state
        .options
        .current()
        .filter(|_| state.focus == Focus::Options);
    let id = match (row.and_then(|row| row.part), (choice.get)(state.build())) {
        (Some(id), _) => Some(id),
        (None, Value::Part(id)) => id,
        (None, Value::Parts(ids)) => ids.first().cloned(),
        _ => None,
    };
    if let Some(id) = id {
        let (kind, _) = state.catalogue.part(id.as_str())?;
        return Some((kind, id));
    }
    // Where nothing is chosen the first that could be is as good as any.
    let kind = *kinds.first()?;
    let first = state.catalogue.of_kind(kind);
    Some((kind, *first.first()?.id()))
}

/// Opens the form: for a new part that begins as the one under the cursor.
pub(super) fn open(state: &mut State) {
    match pointed(state) {
        Some((kind, id)) => show(state, kind, &id, OwnPart::like),
        None => refuse(
            state,
            "go to a choice of a part first, such as a motor: yours begins as a copy of one",
        ),
    }
}

/// Opens the form for the own part under the cursor.
pub(super) fn change(state: &mut State) {
    match own_at_hand(state) {
        Ok((kind, id)) => show(state, kind, &id, OwnPart::change),
        Err(why) => refuse(state, why),
    }
}

/// Shows the form that begins as a part.
fn show(
    state: &mut State,
    kind: PartKind,
    id: &Id,
    begin: fn(Opening, PartKind, &Id) -> Option<OwnPart>,
) {
    if state.file.bundle.is_some() {
        return refuse(state, BUNDLE);
    }
    if !kind.has_form() {
        let why = format!(
            "a {} is no part that is bought: it is written in a file",
            kind.title()
        );
        return refuse(state, why);
    }
    let opening = Opening {
        catalogue: &state.catalogue,
        shown: state.shown,
        currency: state.now.bill.currency,
    };
    match begin(opening, kind, id) {
        Some(form) => {
            state.find = None;
            state.layers.push(Layer::OwnPart(Box::new(form)));
        }
        None => refuse(state, format!("the file of {id} cannot be read as it is")),
    }
}

/// The own part under the cursor, where it can be changed here.
fn own_at_hand(state: &State) -> Result<(PartKind, Id), String> {
    let Some((kind, id)) = pointed(state) else {
        return Err("this is no part".to_owned());
    };
    let Some(file) = state.catalogue.own.get(&id) else {
        let key = state.key_for(Place::Options, Action::OwnPart);
        return Err(format!(
            "this part is built in: {key} makes a copy of it that is yours"
        ));
    };
    if state.file.bundle.is_some() {
        return Err(BUNDLE.to_owned());
    }
    let home = state.wishes.file.as_deref().and_then(Path::parent);
    match home.is_some_and(|home| Path::new(&file.name).starts_with(home)) {
        true => Ok((kind, id)),
        false => Err(format!(
            "it does not stand in your own folder: change it in {}",
            file.name
        )),
    }
}

/// Whether a part of one's own can begin as what is under the cursor.
pub(in crate::screen) fn can_copy(state: &State) -> bool {
    pointed(state).is_some_and(|(kind, _)| kind.has_form())
}

/// Whether the part under the cursor is one's own and can be changed here.
pub(in crate::screen) fn can_change_own(state: &State) -> bool {
    own_at_hand(state).is_ok()
}

/// Asks whether the own part under the cursor is to go, unless something uses it.
pub(super) fn ask_to_remove(state: &mut State) {
    let found = own_at_hand(state).and_then(|(kind, id)| match user_of(state, &id) {
        Some(user) => Err(format!("not removed: {user}")),
        None => Ok((kind, id)),
    });
    match found {
        Ok((kind, id)) => {
            state
                .layers
                .push(Layer::Question(Question::RemoveOwn(kind, id), 0));
        }
        Err(why) => refuse(state, why),
    }
}

/// What it takes to remove an own part, once it was asked for.
pub(super) fn remove(kind: PartKind, id: Id) -> Task {
    Task::Own(Change {
        kind,
        id,
        what: What::Remove,
    })
}

/// Who uses a part, in words; none where nobody does.
fn user_of(state: &State, id: &Id) -> Option<String> {
    let build = state.build();
    if let Some((name, choice)) = variant_with(build, id) {
        return Some(match name == build.variant() {
            true => format!("your build uses it, as {choice}"),
            false => format!("the variant {name} uses it, as {choice}"),
        });
    }
    if build.purchases.parts.contains_key(id) {
        return Some("something is written down about it on the bill".to_owned());
    }
    if state.file.path.is_some() && variant_with(&state.file.saved, id).is_some() {
        return Some("the build in the file uses it: save first".to_owned());
    }
    let holds = |build: &Build| variant_with(build, id).is_some();
    let undone = state.history.others().any(holds);
    undone.then(|| "undo or redo would bring it back: save, and begin anew".to_owned())
}

/// The variant of a build that has the part, the open one before the others, and the choice that
/// does.
fn variant_with<'b>(build: &'b Build, id: &Id) -> Option<(&'b str, &'static str)> {
    if let Some(choice) = chosen(build, id) {
        return Some((build.variant(), choice));
    }
    build.variant_names().into_iter().find_map(|name| {
        let other = build.switched(name).ok()?;
        Some((name, chosen(&other, id)?))
    })
}

/// The choice of a build that has the part.
fn chosen(build: &Build, id: &Id) -> Option<&'static str> {
    let has = |choice: &&choices::Choice| match (choice.get)(build) {
        Value::Part(part) => part.as_ref() == Some(id),
        Value::Parts(parts) => parts.contains(id),
        _ => false,
    };
    choices::all().iter().find(has).map(|choice| choice.title)
}

/// Carries an action out in the form.
pub(super) fn act(state: &mut State, action: Action) -> Option<Task> {
    let page = state
        .layout()
        .map_or(1, |layout| usize::from(layout.left.height) / 2);
    let Some(Layer::OwnPart(form)) = state.layers.last_mut() else {
        return None;
    };
    match action {
        Action::Back if form.is_begun() => {
            state.layers.push(Layer::Question(Question::DropOwn, 0));
        }
        Action::Back => drop_form(state),
        Action::Up | Action::PreviousPlace => form.turn(false),
        Action::Down | Action::NextPlace => form.turn(true),
        Action::PageUp => form.leap(false, page),
        Action::PageDown => form.leap(true, page),
        Action::Enter => return keep(state),
        _ => {}
    }
    None
}

/// Closes the form; what was typed in it is gone.
pub(super) fn drop_form(state: &mut State) {
    state
        .layers
        .retain(|layer| !matches!(layer, Layer::OwnPart(_)));
}

/// Has the part kept, or says what is wrong where that is.
fn keep(state: &mut State) -> Option<Task> {
    let Some(Layer::OwnPart(form)) = state.layers.last_mut() else {
        return None;
    };
    match form.kept() {
        Ok(change) => match form.ask_far_off() {
            Some((row, why)) => {
                form.at = row;
                let label = &form.rows[row].label;
                let text = format!("not saved yet: {label}: {why} Enter once more keeps it");
                refuse(state, text);
                None
            }
            None => Some(Task::Own(change)),
        },
        Err((row, why)) => {
            let text = match row.and_then(|row| form.rows.get(row)) {
                Some(row) => format!("not saved: {}: {}", row.label, form.spoken(&why)),
                None => format!("not saved: {}", form.spoken(&why)),
            };
            form.at = row.unwrap_or(form.at);
            refuse(state, text);
            None
        }
    }
}

/// Goes to the next answer of the row under the cursor; false where there is none.
pub(super) fn pick(state: &mut State, on: bool) -> bool {
    match state.layers.last_mut() {
        Some(Layer::OwnPart(form)) => form.pick(on, &state.catalogue),
        _ => false,
    }
}

/// Looks anew at what was typed.
pub(super) fn typed(state: &mut State) {
    if let Some(Layer::OwnPart(form)) = state.layers.last_mut() {
        form.typed(&state.catalogue);
    }
}

/// Takes the catalogue over that a change led to, and goes to the part.
pub(super) fn made(state: &mut State, change: &Change, fresh: Fresh, file: &Path) {
    let catalogue = Arc::unwrap_or_clone(fresh.0);
    let now = match assess(&catalogue, state.build(), state.today) {
        Ok(now) => now,
        Err(error) => {
            let text = format!(
                "{} is written, but your build cannot be computed with it: {error}",
                file.display()
            );
            return refuse(state, text);
        }
    };
    state.catalogue = catalogue;
    state.now = std::rc::Rc::new(now);
    state.previews.forget();
    state.seek.forget();
    state.interview.forget();
    state.show_as_wished();
    let copied = state.layers.iter().find_map(|layer| match layer {
        Layer::OwnPart(form) => form.copied_told(),
        _ => None,
    });
    drop_form(state);
    let text = match change.what {
        What::Put { .. } => {
            point(state, change);
            let copied = copied.map_or_else(String::new, |copied| format!("; {copied}"));
            let key = state.key_for(Place::Options, Action::Enter);
            format!("kept{copied}; {key} takes it; in {}", file.display())
        }
        What::Remove => format!("taken out of {}", file.display()),
    };
    state.notice = Some(Notice::Done(text));
}

/// Puts the cursor on a part among the options, where it is one of them.
fn point(state: &mut State, change: &Change) {
    let Some(choice) = state.choice() else { return };
    state.point_at(choice);
    state.focus = Focus::Options;
    super::refresh(state);
    let rows = &state.options.rows;
    if let Some(at) = rows
        .iter()
        .position(|row| row.part.as_ref() == Some(&change.id))
    {
        state.options.cursor = at;
    }
}

/// How a change went, as the state hears it.
pub(in crate::screen) fn outcome(change: Change, made: crate::store::own_parts::Made) -> Outcome {
    Outcome::Own {
        change,
        catalogue: Fresh(Arc::new(made.catalogue)),
        file: made.file,
    }
}
