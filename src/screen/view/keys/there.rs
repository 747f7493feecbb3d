//! Whether there is anything under the cursor: a key that takes or opens it is shown only then.

use crate::screen::keymap::Place;
use crate::screen::state::{Focus, Layer, State};
use crate::screen::update::can_take;

/// Whether Enter, or a key that goes to a choice, would find something under the cursor.
pub(super) fn is_anything(state: &State) -> bool {
    match state.place() {
        Place::Choices => state.choice().is_some(),
        Place::Options | Place::Checklist => state.options.current().is_some(),
        Place::Find => match state.focus {
            Focus::Options => state.options.current().is_some(),
            _ => state.choice().is_some(),
        },
        Place::Glossary | Place::WordFind => state.glossary.current().is_some(),
        Place::Figures | Place::FigureFind => state.figures.current().is_some(),
        Place::Bill | Place::BillFind => state.ledger.current().is_some(),
        Place::Warnings => !state.now.findings.is_empty(),
        Place::Found => can_take(state),
        Place::Proposed => match state.layers.last() {
            Some(&Layer::Proposed(at)) => state.interview.opens(at).is_some(),
            _ => false,
        },
        Place::Answer | Place::Weigh | Place::Sweep => on_what_if(state),
        _ => true,
    }
}

/// Whether the page of what if that is open has a row.
fn on_what_if(state: &State) -> bool {
    match state.layers.last() {
        Some(Layer::Answer(question, _)) => {
            let answer = state.what_if.answer(question, &state.now);
            answer.is_some_and(|answer| !answer.alternatives.is_empty())
        }
        Some(Layer::Weigh { measure, order, .. }) => {
            let rows = state.what_if.rows(&state.now, *measure, *order);
            !rows.is_empty()
        }
        Some(Layer::Sweep { choice, .. }) => {
            let swept = state.what_if.sweep(choice, &state.now);
            swept.is_some_and(|swept| swept.is_ok_and(|sweep| !sweep.points.is_empty()))
        }
        _ => true,
    }
}
