//! Where an input of a formula comes from, in words, and the choice that would change it.

use super::state::State;
use crate::build::choices::{self, Choice};
use crate::build::{Axis, Value};
use crate::catalogue::Part;
use crate::explain::Origin;
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
        | Origin::PriceBook(_)
        | Origin::QuantityRule(_) => return None,
    };
    let holds = |choice: &&Choice| match (choice.get)(state.build()) {
        Value::Part(Some(id)) => id.as_str() == part,
        Value::Parts(ids) => ids.iter().any(|id| id.as_str() == part),
        _ => false,
    };
    let mut picked: Vec<&Choice> = choices::all().iter().filter(holds).collect();
    let axis = path.split('.').find_map(Axis::from_id);
    // The order of the table decides among equals.
    picked.sort_by_key(|choice| !axis.is_some_and(|axis| is_of(choice, axis)));
    picked.first().copied()
}

/// Whether a choice exists once for each axis, and this is the one of that axis.
fn is_of(choice: &Choice, axis: Axis) -> bool {
    let mut words = choice.id.split('_');
    words.any(|word| word.len() == 1 && word.starts_with(axis.letter()))
}

/// Where an input comes from, in words.
pub(super) fn words(state: &State, origin: &Origin, path: &str) -> String {
    let title = |id: &str| match state.catalogue.part(id) {
        Some((_, part)) => Part::title(part).to_owned(),
        None => id.to_owned(),
    };
    let picked = match choice(state, origin, path) {
        Some(choice) => format!(
            "{}, in step {}, {}",
            choice.title,
            choice.step.index() + 1,
            choice.step.title()
        ),
        None => String::new(),
    };
    let part = |kind: &str, id: &str| match picked.as_str() {
        "" => format!("{kind}: {}", title(id)),
        picked => format!("{kind}: {}. Picked by {picked}", title(id)),
    };
    match origin {
        Origin::PriceBook(_) | Origin::QuantityRule(_) => origin.words(&state.catalogue),
        Origin::Choice(id) if picked.is_empty() => format!("choice: {id}"),
        Origin::Choice(_) => format!("choice: {picked}"),
        Origin::Measured(id) if picked.is_empty() => format!("measured: {id}"),
        Origin::Measured(_) => format!("measured by you: {picked}"),
        Origin::Part(id) => part("part", id),
        Origin::Plan(id) => part("frame plan", id),
        Origin::Site(id) => part("wall socket", id),
        Origin::Constant(source) => format!("constant: {source}"),
        Origin::Figure(path) => match state.figures.get(path) {
            Some(_) => "a figure of its own: enter opens it".to_owned(),
            None => format!("another figure: {path}"),
        },
        Origin::Here => "worked out on the way".to_owned(),
    }
}
