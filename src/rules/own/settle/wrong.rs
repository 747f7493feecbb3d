//! What is said of a rule of one's own that makes no sense, and what would be right.

use super::{BOUNDS, Bad, SAME, TICKED, figures, is_title};
use crate::build::value::BadValue;

use crate::build::{choices, nearest};
use crate::catalogue::PartKind;
use crate::catalogue::own_rule::{How, MOST_CONDITIONS, OwnRule};
use crate::catalogue::part::TITLE_COLUMNS;
use crate::words::Words as _;

/// What is wrong with the texts of a rule.
pub(super) fn texts(rule: &OwnRule) -> Vec<Bad> {
    let mut bad: Vec<Bad> = Vec::new();
    if rule.id.as_str().contains('.') {
        let message = "the id of a rule is letters, digits and hyphens, such as \"too-long\"";
        bad.push((None, message.to_owned()));
    }
    if !is_title(&rule.title) {
        bad.push((None, format!("title takes 1 to {TITLE_COLUMNS} columns")));
    }
    if rule.instead.trim().is_empty() {
        bad.push((None, "instead is empty: say what to do".to_owned()));
    }
    let says = rule.says.value();
    if says.trim().is_empty() {
        bad.push((Some(rule.says.place()), "says is empty".to_owned()));
    }
    if rule.remedy.len() > MOST_CONDITIONS {
        let message = format!("remedy takes at most {MOST_CONDITIONS} changes");
        bad.push((None, message));
    }
    let conditions = rule.when.value().len();
    for inside in says.split('{').skip(1) {
        let Some((inside, _)) = inside.split_once('}') else {
            continue;
        };
        let number: Option<usize> = inside.parse().ok();
        if !number.is_some_and(|number| (1..=conditions).contains(&number)) {
            let known = match conditions {
                0 | 1 => "only {1} does".to_owned(),
                many => format!("{{1}} to {{{many}}} do"),
            };
            let message = format!("{{{inside}}} stands for no condition of \"when\"; {known}");
            bad.push((Some(rule.says.place()), message));
        }
    }
    bad
}

/// A choice that is none: perhaps the name of a figure.
pub(super) fn no_choice(id: &str, error: BadValue) -> String {
    match figures().any(|one| one.id() == id) {
        true => format!("{id:?} is a figure, not a choice: write figure = {id:?}"),
        false => error.to_string(),
    }
}

/// A figure that is none: perhaps the name of a choice.
pub(super) fn no_figure(id: &str) -> String {
    if choices::of_id(id).is_some() {
        return format!("{id:?} is a choice, not a figure: write choice = {id:?}");
    }
    let hint = nearest::or_all(id, figures().map(|one| one.id()));
    format!("there is no figure {id:?}{hint}")
}

/// An id that the program uses.
pub(super) fn taken() -> String {
    "the program has a rule of this id; give yours another one".to_owned()
}

fn keys(of: &[How]) -> String {
    let keys: Vec<&str> = of.iter().map(|how| how.key()).collect();
    match keys.as_slice() {
        [first @ .., last] if !first.is_empty() => format!("{} or {last}", first.join(", ")),
        _ => keys.join(""),
    }
}

pub(super) fn compares_nothing() -> String {
    let all = [BOUNDS, SAME, TICKED].concat();
    format!("this condition compares with nothing; add {}", keys(&all))
}

pub(super) fn about_nothing() -> String {
    "this condition is about nothing; add choice = \"...\" or figure = \"...\"".to_owned()
}

/// A comparison that does not go with what is compared.
pub(super) fn other_kind(how: How, takes: &[How], what: &str) -> String {
    format!("{what}: it takes {}, not {}", keys(takes), how.key())
}

/// A field that no part has which the choice could pick.
pub(super) fn unknown_field(kinds: &[PartKind], key: &str) -> String {
    let mut known: Vec<&str> = Vec::new();
    for field in kinds.iter().flat_map(|kind| kind.fields()) {
        if !known.contains(&field.key) {
            known.push(field.key);
        }
    }
    let titles: Vec<&str> = kinds.iter().map(|kind| kind.title()).collect();
    let hint = nearest::or_all(key, known);
    format!("{} has no field {key:?}{hint}", titles.join(" or "))
}

/// A word that a field never has.
pub(super) fn unknown_word(key: &str, word: &str, ids: &[&str]) -> String {
    let hint = match nearest::nearest(word, ids.iter().copied()) {
        Some(near) => format!("did you mean {near:?}?"),
        None => format!("it takes {}", ids.join(", ")),
    };
    format!("{key}: {word:?} is not one of its words; {hint}")
}
