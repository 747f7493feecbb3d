//! Shared by the tests of the interview: answers, and what its searches may change.

use gantrywright::build::{Choice, choices};
use gantrywright::catalogue::Catalogue;
use gantrywright::explore::interview::{Answers, find, listed};

use super::common::today;

/// What the searches of these tests may change: few enough to go through in no time.
const FREE: &[&str] = &["guide_z", "cooler", "guide_x"];

pub(crate) fn free() -> Vec<&'static Choice> {
    let each = FREE.iter().map(|id| choices::find(id).expect("a choice"));
    each.collect()
}

pub(crate) fn answers(catalogue: &Catalogue, given: &[(&str, &str)]) -> Answers {
    let mut answers = Answers::default();
    for (id, text) in given {
        let prompt = find(id).expect("a question");
        let picks = listed(prompt, &answers, catalogue, today()).expect("assessed");
        answers
            .give(prompt, text, catalogue, &picks)
            .unwrap_or_else(|error| panic!("{id}={text}: {error}"));
    }
    answers
}
