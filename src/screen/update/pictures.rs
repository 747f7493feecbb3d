//! The page of pictures: which is looked at, how far it is scrolled, whether as a table.

use super::browse::stepped;
use crate::build::Edit;
use crate::catalogue::Step;
use crate::screen::action::Action;
use crate::screen::papers::Source;
use crate::screen::pictures::PictureKind;
use crate::screen::state::{Focus, Layer, State};
use crate::screen::view;
use crate::words::Words as _;

/// Opens the page at its first picture.
pub(super) fn open(state: &mut State) {
    state.layers.push(Layer::Picture {
        kind: PictureKind::Plan,
        table: false,
        top: 0,
    });
}

/// Works out where the pieces stand, while something shows them.
pub(super) fn follow(state: &mut State) {
    let is_open = state
        .layers
        .iter()
        .any(|layer| matches!(layer, Layer::Picture { .. }));
    let has_room = || state.layout().is_some_and(|all| all.picture.is_some());
    let beside = state.layers.is_empty() && state.step == Step::WorkingArea && has_room();
    if !is_open && !beside {
        return;
    }
    let row = state.options.current();
    let edit = row.zip(state.choice()).map(|(row, choice)| Edit {
        choice,
        value: row.value.clone(),
    });
    let previews = beside && state.focus == Focus::Options;
    let preview = state.preview.as_ref().zip(edit).filter(|_| previews);
    let source = Source {
        catalogue: &state.catalogue,
        build: state.history.now(),
        now: &state.now,
        today: state.today,
    };
    state.pictures.follow(source, preview);
    let most = match state.layers.last() {
        Some(Layer::Picture { top: 1.., .. }) => most(state),
        _ => return,
    };
    if let Some(Layer::Picture { top, .. }) = state.layers.last_mut() {
        *top = (*top).min(most);
    }
}

/// How far the topmost page can be scrolled; its heading is one of its lines.
fn most(state: &State) -> usize {
    view::layer_length(state).saturating_sub(state.page_rows() + 1)
}

/// Carries an action out on the page.
pub(super) fn act(state: &mut State, action: Action) {
    let (page, most) = (state.page_rows(), most(state));
    let Some(Layer::Picture { kind, table, top }) = state.layers.last_mut() else {
        return;
    };
    let all = PictureKind::ALL;
    let turned = |steps: usize| all[(kind.index() + steps) % all.len()];
    match action {
        Action::Back => {
            state.layers.pop();
        }
        Action::NextPlace => (*kind, *top) = (turned(1), 0),
        Action::PreviousPlace => (*kind, *top) = (turned(all.len() - 1), 0),
        Action::Table => (*table, *top) = (!*table, 0),
        _ => *top = stepped(*top, most + 1, action, page),
    }
}
