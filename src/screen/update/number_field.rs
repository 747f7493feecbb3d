//! The number field: what its text means, and the arrows that step its value.

use crate::screen::action::Action;
use crate::screen::options;
use crate::screen::state::{Notice, NumberField, State};
use crate::screen::typed::Typed;

/// Steps the value of the field.
pub(super) fn act(state: &mut State, action: Action) {
    let steps = match action {
        Action::Up => 1,
        Action::Down => -1,
        Action::PageUp => 10,
        Action::PageDown => -10,
        _ => return,
    };
    let (Some(choice), Some(entry)) = (state.choice(), &state.number_field) else {
        return;
    };
    let currency = state.now.bill.currency;
    let from = match &entry.value {
        Ok(value) => value.clone(),
        Err(_) => (choice.get)(state.build()),
    };
    match options::stepped(choice, &from, steps, state.cost(), state.shown) {
        Some(value) => {
            state.number_field = Some(NumberField {
                typed: Typed::proposed(options::typed(choice, &value, state.shown)),
                value: Ok(value),
            });
        }
        None => {
            let range = options::taken(choice, currency);
            let why = match choice.is_measured() {
                true => format!("type what you measured: {range}"),
                false => format!("no further: it takes {range}"),
            };
            state.notice = Some(Notice::Failed(why));
        }
    }
}

/// Reads the text of the field anew.
pub(super) fn read(state: &mut State) {
    let Some(choice) = state.choice() else { return };
    let (currency, shown) = (state.now.bill.currency, state.shown);
    if let Some(entry) = &mut state.number_field {
        entry.value = options::read(choice, entry.typed.value(), currency, shown);
    }
}
