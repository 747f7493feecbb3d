//! The page of all figures, and how one figure came about. The derivations are worked out
//! when one of these opens.

use super::browse::{go_to_choice, stepped};
use crate::assessment::AssessError;
use crate::screen::action::Action;
use crate::screen::figures::Row;
use crate::screen::origin;
use crate::screen::state::{Layer, Notice, PaneRow, State};
use crate::screen::typed::Typed;
use crate::screen::view;

/// How many stops a page key takes.
const PAGE: usize = 5;

/// Opens the page of all figures.
pub(super) fn open_page(state: &mut State) {
    if follow(state) {
        if !state.figures.field.value().is_empty() {
            state.figures.field = Typed::default();
            state.figures.look();
        }
        state.layers.push(Layer::Figures);
    }
}

/// Opens how the figure under the cursor came about. What explains a warning is the warning
/// in full.
pub(super) fn explain(state: &mut State) {
    if let Some(PaneRow::Finding(place)) = state.pane_row() {
        state.layers.push(Layer::Warnings(place));
        state.layers.push(Layer::Warning(place, 0));
    } else if let Some(path) = state.figure_pointed() {
        if follow(state) {
            open(state, path);
        }
    } else {
        state.notice = Some(Notice::Failed("there is no figure here".to_owned()));
    }
}

/// Brings open pages of figures up to the build as it stands, which a cure taken on them or undo
/// may have changed. A figure that is no longer there closes its page. Where none is open, thousands
/// of figures are let go.
pub(super) fn keep_up(state: &mut State) {
    let shows = |layer: &Layer| {
        matches!(
            layer,
            Layer::Figures | Layer::FigureFind | Layer::Derivation(..)
        )
    };
    if !state.layers.iter().any(shows) {
        state.figures.let_go();
        return;
    }
    if state.figures.is_of(&state.now) || !follow(state) {
        return;
    }
    let (figures, catalogue) = (&mut state.figures, &state.catalogue);
    let (build, today) = (state.history.now(), state.today);
    state.layers.retain(|layer| match layer {
        Layer::Derivation(path, _) => {
            figures.head(path).is_some() && figures.unfold(path, catalogue, build, today).is_ok()
        }
        _ => true,
    });
}

/// Brings the derivations up to the build as it stands.
fn follow(state: &mut State) -> bool {
    let now = std::rc::Rc::clone(&state.now);
    let followed = state
        .figures
        .follow(&state.catalogue, state.history.now(), &now, state.today);
    if let Err(error) = &followed {
        not_explained(state, error);
    }
    followed.is_ok()
}

fn open(state: &mut State, path: String) {
    if state.figures.head(&path).is_none() {
        let text = format!("nothing is noted on {path}");
        state.notice = Some(Notice::Failed(text));
        return;
    }
    let (catalogue, build) = (&state.catalogue, state.history.now());
    match state.figures.unfold(&path, catalogue, build, state.today) {
        Ok(()) => state.layers.push(Layer::Derivation(path, 0)),
        Err(error) => not_explained(state, &error),
    }
}

fn not_explained(state: &mut State, error: &AssessError) {
    state.notice = Some(Notice::Failed(format!("not explained: {error}")));
}

/// Opens the field in which a figure is looked for, on the page of all figures.
pub(super) fn find(state: &mut State) {
    if !matches!(state.layers.last(), Some(Layer::Figures)) {
        open_page(state);
    }
    if matches!(state.layers.last(), Some(Layer::Figures)) {
        state.layers.push(Layer::FigureFind);
    }
}

/// Whether going back only shows all figures again, after some were looked for.
pub(super) fn leaves_find(state: &mut State) -> bool {
    let on_page = matches!(
        state.layers.last(),
        Some(Layer::Figures | Layer::FigureFind)
    );
    if !on_page || state.figures.field.value().is_empty() {
        return false;
    }
    state.figures.field = Typed::default();
    state.figures.look();
    if matches!(state.layers.last(), Some(Layer::FigureFind)) {
        state.layers.pop();
    }
    true
}

/// Opens or closes the group under the cursor, or opens the figure.
pub(super) fn enter(state: &mut State) {
    if matches!(state.layers.last(), Some(Layer::FigureFind)) {
        state.layers.pop();
    }
    match state.figures.current().cloned() {
        Some(Row::Group { .. }) => state.figures.toggle(),
        Some(Row::Figure { path, .. }) => open(state, path),
        None => {}
    }
}

/// Opens the input under the cursor, where it is a figure itself.
pub(super) fn enter_input(state: &mut State) {
    match view::input_pointed(state).map(|input| input.origin.clone()) {
        Some(crate::explain::Origin::Figure(path)) => open(state, path),
        Some(_) => {
            let text = "this came from no other figure".to_owned();
            state.notice = Some(Notice::Done(text));
        }
        None => {}
    }
}

/// Goes to the choice that the input under the cursor comes from.
pub(super) fn go_to_input(state: &mut State) {
    let Some(Layer::Derivation(path, _)) = state.layers.last() else {
        return;
    };
    let input = view::input_pointed(state);
    match input.and_then(|input| origin::choice(state, &input.origin, path)) {
        Some(choice) => go_to_choice(state, choice),
        None => {
            let text = "no choice stands behind this".to_owned();
            state.notice = Some(Notice::Failed(text));
        }
    }
}

/// Moves over the inputs of a derivation, and over the text where it is longer than its
/// room.
pub(super) fn walk(state: &mut State, action: Action) {
    let stops = view::stops_of_derivation(state);
    if let Some(Layer::Derivation(_, stop)) = state.layers.last_mut() {
        let here = (*stop).min(stops.saturating_sub(1));
        *stop = stepped(here, stops, action, PAGE);
    }
}
