//! The page of ways to spend less: which is opened.

use super::browse::stepped;
use super::seek;
use crate::screen::action::Action;
use crate::screen::savings::{WAYS, Way};
use crate::screen::state::{Layer, State};

/// Opens the page; where it lies below already, goes back to it.
pub(super) fn open(state: &mut State) {
    let is_page = |layer: &Layer| matches!(layer, Layer::Savings(_));
    match state.layers.iter().position(is_page) {
        Some(place) => state.layers.truncate(place + 1),
        None => state.layers.push(Layer::Savings(0)),
    }
}

/// Carries an action out on the page.
pub(super) fn act(state: &mut State, action: Action) {
    let Some(Layer::Savings(at)) = state.layers.last_mut() else {
        return;
    };
    match action {
        Action::Back => {
            state.layers.pop();
        }
        Action::Enter => {
            let way = WAYS.get(*at).copied();
            match way.and_then(Way::layer) {
                Some(layer) => state.layers.push(layer),
                None => seek::open_to_save(state),
            }
        }
        _ => *at = stepped(*at, WAYS.len(), action, WAYS.len()),
    }
}
