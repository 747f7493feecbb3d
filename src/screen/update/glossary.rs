//! The pages of words: opened on whatever is under the cursor, walked, looked through.

use super::browse::stepped;
use crate::screen::action::Action;
use crate::screen::glossary::next_words;
use crate::screen::keymap::Place;
use crate::screen::state::{Focus, Layer, PaneRow, State};
use crate::screen::typed::Typed;
use crate::screen::view;

/// Words of the rows of the side pane that open no page of their own.
const COST: &str = "Landed cost: a price range with an expected cost. Freight, duty and sales tax are in it; a budget and a reserve stand beside it; prices may be invented.";
const SUPPLY: &str = "The DC supply of the motors: its current in amperes and its voltage, by which drivers keep torque at speed.";

/// Opens the list, the words of what is under the cursor first.
pub(super) fn open(state: &mut State) {
    let text = pointed(state);
    state.glossary.open(&state.catalogue.glossary, &text);
    state.layers.push(Layer::Glossary);
}

/// The text under the cursor.
fn pointed(state: &State) -> String {
    match state.layers.last() {
        Some(Layer::Warnings(place) | Layer::Warning(place, _)) => topic(state, *place),
        Some(Layer::OwnPart(form)) => form.said(),
        Some(_) => view::text_of_layer(state),
        None if state.focus == Focus::Pane => match state.pane_row() {
            Some(PaneRow::Finding(place)) => topic(state, place),
            Some(PaneRow::Cost) | None => COST.to_owned(),
            Some(PaneRow::Supply) => SUPPLY.to_owned(),
            Some(row) => view::text_of_row(state, row),
        },
        None => choice(state),
    }
}

/// A warning with its reasons, as its page tells them.
fn topic(state: &State, place: usize) -> String {
    let findings = &state.now.findings;
    let Some(topic) = state.about.topics().get(place) else {
        return String::new();
    };
    let messages = topic.of(findings).map(|finding| finding.message.as_str());
    let mut text = vec![topic.title(findings)];
    text.extend(messages.map(str::to_owned));
    let finding = findings.get(topic.first());
    if let Some(rule) = finding.map(|finding| finding.rule.told()) {
        text.extend([rule.because, rule.instead, rule.watches].map(str::to_owned));
    }
    text.join(". ")
}

fn choice(state: &State) -> String {
    let Some(choice) = state.choice() else {
        return String::new();
    };
    let option = view::text_of_option(state).unwrap_or_default();
    format!("{}. {option} {}", choice.title, choice.about())
}

/// Carries an action out on these pages.
pub(super) fn act(state: &mut State, place: Place, action: Action) {
    match (place, action) {
        (Place::WordFind, Action::Back) => {
            state.layers.pop();
            state.glossary.field = Typed::default();
            state.glossary.list(&state.catalogue.glossary);
        }
        (_, Action::Back) => {
            state.layers.pop();
        }
        (_, Action::Find) => state.layers.push(Layer::WordFind),
        (_, Action::Enter) => enter(state, place),
        _ => walk(state, action),
    }
}

/// Opens the word under the cursor.
fn enter(state: &mut State, place: Place) {
    let word = match state.layers.last() {
        Some(Layer::Word(word, stop)) => next_words(&state.catalogue.glossary, *word)
            .get(*stop)
            .copied(),
        _ => state.glossary.current(),
    };
    let Some(word) = word else { return };
    if place == Place::WordFind {
        state.layers.pop();
    }
    state.layers.push(Layer::Word(word, 0));
}

fn walk(state: &mut State, action: Action) {
    let page = state.page_rows() / 2;
    if let Some(Layer::Word(word, stop)) = state.layers.last_mut() {
        let rows = next_words(&state.catalogue.glossary, *word).len();
        *stop = stepped(*stop, rows, action, page);
        return;
    }
    let rows = state.glossary.words().count();
    state.glossary.cursor = stepped(state.glossary.cursor, rows, action, page);
}
