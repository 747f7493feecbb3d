//! What to do next: one short line that never leaves somebody before a full screen without an
//! idea. The worst that is wrong comes first, then real prices, then what is to be ordered.

use rust_decimal::Decimal;

use super::action::Action;
use super::key::Key;
use super::keymap::Place;
use super::state::State;
use crate::bill::ordering::{Stage, StageState};
use crate::catalogue::prices::Basis;
use crate::rules::{Severity, topics};
use crate::words::Words as _;

/// What to do next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Next {
    /// The key that leads there from the choices.
    pub key: Option<Key>,
    /// It in words, from the longest to the shortest.
    pub words: Vec<String>,
}

/// What to do next with the build as it stands.
pub fn next(state: &State) -> Next {
    if state.is_untouched() {
        return of(
            state,
            Action::Interview,
            &[
                "answer plain questions, see three builds",
                "answer plain questions",
            ],
        );
    }
    // What an example is to show may be what is wrong with it.
    if is_example(state) && !state.now.is_unsound() {
        return of(
            state,
            Action::Interview,
            &[
                "plan your own machine by plain questions",
                "plan your own machine",
            ],
        );
    }
    wrong(state).unwrap_or_else(|| buying(state))
}

fn of(state: &State, action: Action, words: &[&str]) -> Next {
    Next {
        key: state.keymap.key_of(Place::Choices, action),
        words: words.iter().map(|&text| text.to_owned()).collect(),
    }
}

/// Whether it is an example that somebody looks at and nothing was changed in it yet: its text is
/// known, and it stands in no file of theirs.
fn is_example(state: &State) -> bool {
    state.file.path.is_none() && state.file.original.is_some() && !state.history.can_undo()
}

/// The worst that is wrong; hints are no reason to wait.
fn wrong(state: &State) -> Option<Next> {
    let heads = topics::heads(&state.now.findings);
    let mut counting = heads.iter().filter(|one| one.counts());
    let worst = counting.clone().map(|one| one.severity).min()?;
    let alike = counting
        .by_ref()
        .filter(|one| one.severity == worst)
        .count();
    let word = worst.title();
    let many = match alike {
        1 => format!("the {word}"),
        many => format!("{many} {word}s"),
    };
    let words = match worst {
        Severity::Hint => return None,
        Severity::Caution => vec![format!("lift or accept {many}"), format!("look at {many}")],
        _ => vec![format!("lift {many}")],
    };
    Some(Next {
        key: state.keymap.key_of(Place::Choices, Action::Warnings),
        words,
    })
}

/// What is to be bought next, or what to do with what is here.
fn buying(state: &State) -> Next {
    let bill = &state.now.bill;
    if bill.spent.is_zero() && bill.share_of(Basis::Invented) > Decimal::ZERO {
        return of(
            state,
            Action::Bill,
            &["ask sellers for their prices", "ask sellers for prices"],
        );
    }
    let stages = &bill.ordering.stages;
    let first = |wanted: StageState| stages.iter().find(|stage| stage.state == wanted);
    let named = |verb: &str, short: &str, stage: &Stage| {
        let title = stage.title.to_lowercase();
        of(state, Action::Bill, &[&format!("{verb} {title}"), short])
    };
    if let Some(stage) = first(StageState::Ask) {
        return named("get", "ask the electrician", stage);
    }
    if let Some(stage) = first(StageState::Now) {
        return named("order", "order what is next", stage);
    }
    match first(StageState::OnItsWay) {
        Some(stage) => named("write down what arrives:", "note what arrives", stage),
        None => of(
            state,
            Action::Sheets,
            &["tick off the checklist", "the checklist"],
        ),
    }
}
