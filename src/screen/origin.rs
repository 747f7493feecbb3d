//! Where an input of a formula comes from, in words, and the choice that would change it.

use super::state::State;
use crate::build::choices::{self, Choice};
use crate::build::{Axis, Value};
use crate::explain::Origin;
use crate::order::Order as _;
use crate::words::Words;

/// The choice that an input comes from: the one named, or the one by which its part was
/// picked. Of several, the one of the axis that the figure is about.
pub(super) fn choice(state: &State, origin: &Origin, path: &str) -> Option<&'static Choice> {
    let part = match origin {
        Origin::Choice(id) | Origin::Measured(id) => return choices::find(id).ok(),
        Origin::Part(id) | Origin::Plan(id) | Origin::Site(id) => id,
        Origin::Constant(_)
        | Origin::Figure(_)
        | Origin::Here
        | Origin::Purchases
        | Origin::PriceBook(_)
        | Origin::QuantityRule(_)
        | Origin::YearlyRule(_) => return None,
    };
    let holds = |choice: &&Choice| match (choice.get)(state.build()) {
        Value::Part(Some(id)) => id.as_str() == part,
        Value::Parts(ids) => ids.iter().any(|id| id.as_str() == part),
        _ => false,
    };
    let mut picked: Vec<&Choice> = choices::all().iter().filter(holds).collect();
    let axis = path.split('.').find_map(Axis::from_id);
    // The order of the table decides among equals.
    picked.order_by_key(|choice| axis.is_none() || axis_of(choice) != axis);
    picked.first().copied()
}

/// The axis that a choice is about, where it exists once for each.
pub(super) fn axis_of(choice: &Choice) -> Option<Axis> {
    choice.id.split('_').find_map(|word| {
        let is_it = |axis: &Axis| word.len() == 1 && word.starts_with(axis.letter());
        Axis::EACH.into_iter().find(is_it)
    })
}

/// Where an input comes from, in words: those of the command line, with what the screen
/// knows besides, which is the step in which the builder picked it, and that a figure opens.
pub(super) fn words(state: &State, origin: &Origin, path: &str) -> String {
    if let Origin::Figure(path) = origin {
        return match state.figures.head(path) {
            Some(_) => "a figure of its own: enter opens it".to_owned(),
            None => origin.words(&state.catalogue),
        };
    }
    let words = origin.words(&state.catalogue);
    let Some(choice) = choice(state, origin, path) else {
        return words;
    };
    let step = format!(
        "in step {}, {}",
        choice.step.index() + 1,
        choice.step.title()
    );
    match origin {
        Origin::Choice(_) | Origin::Measured(_) => format!("{words}, {step}"),
        _ => format!("{words}. Picked by {}, {step}", choice.title),
    }
}
