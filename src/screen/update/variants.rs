//! The pages of the variants: which is open, what is made, named, removed, pinned and compared.

use super::browse::stepped;
use super::{put, say_done};
use crate::build::{Build, MAIN};
use crate::explore::compare::{LEAST, MOST};
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::state::{Layer, Notice, State};
use crate::screen::variants::{Named, Naming};
use crate::screen::view;

/// Opens the page with the cursor on the variant that is open.
pub(super) fn open(state: &mut State) {
    state.variants.forget(state.history.now());
    state.layers.push(Layer::Variants);
}

/// Brings what the pages show up to date.
pub(super) fn follow(state: &mut State) {
    let build = state.history.now();
    let (catalogue, now, today) = (&state.catalogue, &state.now, state.today);
    state.variants.follow_baseline(catalogue, build, now, today);
    if state
        .layers
        .iter()
        .any(|layer| matches!(layer, Layer::Variants))
    {
        state.variants.follow(catalogue, build, now, today);
    }
}

/// Carries an action out on the pages of the variants.
pub(super) fn act(state: &mut State, place: Place, action: Action) {
    match (place, action) {
        (_, Action::Back) => {
            state.layers.pop();
        }
        (Place::Variants, Action::Enter) => switch(state),
        (Place::Variants, Action::Branch) => {
            if let Some(name) = here(state) {
                state.layers.push(Layer::Naming(Naming::new(&name)));
            }
        }
        (Place::Variants, Action::Rename) => {
            if let Some(name) = here(state) {
                let naming = Naming::known(state.build(), &name);
                state.layers.push(Layer::Naming(naming));
            }
        }
        (Place::Variants, Action::Remove) => remove(state),
        (Place::Variants, Action::Pin) => pin(state),
        (Place::Variants, Action::Mark) => {
            if !state.variants.mark() {
                fail(
                    state,
                    format!("{MOST} are marked already: no more stand side by side"),
                );
            }
        }
        (Place::Variants, Action::Compare) => compare(state),
        (Place::Naming, Action::Enter) => name(state),
        (Place::Naming, Action::NextPlace | Action::PreviousPlace | Action::Up | Action::Down) => {
            if let Some(Layer::Naming(naming)) = state.layers.last_mut() {
                naming.turn();
            }
        }
        (Place::Compare, Action::Show) => {
            state.variants.all = !state.variants.all;
            if let Some(Layer::Compare(top)) = state.layers.last_mut() {
                *top = 0;
            }
        }
        _ => walk(state, action),
    }
}

/// The variant under the cursor.
fn here(state: &State) -> Option<String> {
    let row = state.variants.current()?;
    Some(row.name.clone())
}

fn fail(state: &mut State, text: String) {
    state.notice = Some(Notice::Failed(text));
}

/// Puts a changed build in place and says what was done.
fn done(state: &mut State, build: Result<Build, String>, text: String) -> bool {
    let taken = match build {
        Ok(build) => put(state, build),
        Err(why) => {
            fail(state, why);
            false
        }
    };
    if taken {
        // What was typed belongs to the variant that was open.
        state.number_field = None;
        say_done(state, &text);
    }
    taken
}

fn switch(state: &mut State) {
    let Some(name) = here(state) else { return };
    if name == state.build().variant() {
        state.layers.pop();
        return;
    }
    let build = state.build().switched(&name);
    done(state, build, format!("open now: {name}"));
}

fn remove(state: &mut State) {
    let Some(name) = here(state) else { return };
    let build = state.build().without_variant(&name);
    done(state, build, format!("removed: {name}"));
}

fn pin(state: &mut State) {
    let Some(name) = here(state) else { return };
    let is_pinned = state.build().variants.baseline() == Some(name.as_str());
    let (pinned, text) = match is_pinned {
        true => (None, format!("no longer pinned: {name}")),
        false => (
            Some(name.as_str()),
            format!("pinned as the one before: {name}"),
        ),
    };
    let build = state.build().pinned(pinned);
    done(state, build, text);
}

fn compare(state: &mut State) {
    if state.build().variants.is_empty() {
        let key = state.key_for(Place::Variants, Action::Branch);
        let text = format!("there is only the main build: {key} makes a variant of it");
        return fail(state, text);
    }
    if state.variants.marked.len() == 1 {
        let key = state.key_for(Place::Variants, Action::Mark);
        let text = format!("mark at least {LEAST} with {key}, or none to compare all");
        return fail(state, text);
    }
    state
        .variants
        .compare(&state.catalogue, state.history.now());
    state.layers.push(Layer::Compare(0));
}

/// Makes or renames the variant as the fields say.
fn name(state: &mut State) {
    let Some(Layer::Naming(naming)) = state.layers.last() else {
        return;
    };
    let (name, note) = (naming.name.value().trim(), naming.note.value().trim());
    let (name, note) = (name.to_owned(), note.to_owned());
    let (build, text) = match &naming.of {
        Named::From(from) => (
            state.build().branched(from, &name, &note),
            format!("made and open now: {name}"),
        ),
        Named::Known(known) => (
            state.build().renamed(known, &name, &note),
            format!("named: {name}"),
        ),
    };
    if build.as_ref().is_ok_and(|build| build == state.build()) {
        state.layers.pop();
        return;
    }
    if done(state, build, text) {
        state.layers.pop();
        state.variants.point_at(state.history.now(), &name);
    }
}

/// Whether a variant can be removed.
pub(in crate::screen) fn can_go(state: &State) -> bool {
    let row = state.variants.current();
    row.is_some_and(|row| row.name != MAIN)
}

fn walk(state: &mut State, action: Action) {
    let page = state.page_rows();
    let rows = state.variants.rows.len();
    let length = match state.layers.last() {
        Some(Layer::Compare(_)) => view::layer_length(state),
        _ => 0,
    };
    match state.layers.last_mut() {
        Some(Layer::Variants) => {
            state.variants.cursor = stepped(state.variants.cursor, rows, action, page / 3);
        }
        Some(Layer::Compare(top)) => {
            *top = stepped(*top, length.saturating_sub(page) + 1, action, page);
        }
        _ => {}
    }
}
