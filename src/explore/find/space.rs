//! What a search may change: the free choices with their options, and how many combinations
//! that makes.

use crate::build::choices::tidy;
use crate::build::{Build, Choice, Value, choices};
use crate::catalogue::{Catalogue, Step};
use crate::explore::trial::is_bought;
use crate::explore::weigh::{PROTECTS, is_free};
use crate::machine::loads::{Consumer, circuit_choice};
use crate::words::Words as _;

/// Choices of drive, spindle and control that, like those of where the loads hang, are not free
/// unless somebody frees them, besides what protects people ([`PROTECTS`]): how things are set, and
/// matters of taste. A search that may drop them would only ever save money at the wrong end.
const KEPT: &[&str] = &[
    "drive_y2",
    "stretched_screws",
    "braking_clamp",
    "line_choke",
    "antifreeze",
    "tool",
    "contactor_behind_vfd",
    "ramp",
    "computer",
    "cam_licence",
    "link_isolator",
    "limit_ends",
    "home_each_side",
    "cabinet_mounting",
    "spindle_at_once",
    "extractor_at_once",
    "coolant_at_once",
    "compressor_at_once",
    "breaker_curve",
    "mains_filter",
];

fn stays_unless_freed(id: &str) -> bool {
    let hangs = |one: &Consumer| circuit_choice(*one) == id;
    PROTECTS.contains(&id) || KEPT.contains(&id) || Consumer::ALL.iter().any(hangs)
}

/// The choices that are free where nobody says otherwise: all of drive, spindle and control
/// that can be listed, but for what protects people, wiring and settings.
pub fn usual(catalogue: &Catalogue) -> Vec<&'static Choice> {
    let steps = [Step::Drive, Step::Spindle, Step::Control];
    choices::all()
        .iter()
        .filter(|choice| steps.contains(&choice.step) && !stays_unless_freed(choice.id))
        .filter(|choice| !choice.options(catalogue).is_empty())
        .collect()
}

/// The choices of the frame that can be listed: a search keeps them unless somebody frees them.
pub fn frame(catalogue: &Catalogue) -> Vec<&'static Choice> {
    let all = choices::all().iter();
    all.filter(|choice| choice.step == Step::WorkingArea && is_free(choice))
        .filter(|choice| !choice.options(catalogue).is_empty())
        .collect()
}

/// One free choice.
#[derive(Clone, Debug)]
pub struct Free {
    /// The choice.
    pub choice: &'static Choice,
    /// Its options; what is chosen now is one of them.
    pub options: Vec<Value>,
}

/// All that is free.
#[derive(Clone, Debug)]
pub struct Space {
    /// The choices, in their order.
    pub free: Vec<Free>,
    /// Those that would be free, were their part not bought.
    pub bought: Vec<&'static Choice>,
}

impl Space {
    /// What some choices leave open for a build; one that is named twice counts once.
    pub fn new(catalogue: &Catalogue, build: &Build, choices: &[&'static Choice]) -> Self {
        let once = choices.iter().enumerate().filter(|(place, choice)| {
            let mut before = choices.iter().take(*place);
            before.all(|other| other.id != choice.id)
        });
        let once = once.map(|(_, choice)| *choice);
        let (bought, open): (Vec<&'static Choice>, Vec<_>) =
            once.partition(|choice| is_bought(build, choice));
        let free = open.into_iter().map(|choice| Free {
            options: options(catalogue, build, choice),
            choice,
        });
        Self {
            free: free.filter(|one| one.options.len() > 1).collect(),
            bought,
        }
    }

    /// How many options each choice has.
    pub(super) fn sizes(&self) -> Vec<usize> {
        self.free.iter().map(|one| one.options.len()).collect()
    }

    /// How many builds it holds.
    pub fn combinations(&self) -> u128 {
        let each = self.free.iter().map(|one| one.options.len() as u128);
        each.fold(1, u128::saturating_mul)
    }
}

/// The options of a choice, and what is chosen now where that is none of them: a number has
/// only the one that is typed.
fn options(catalogue: &Catalogue, build: &Build, choice: &Choice) -> Vec<Value> {
    let mut options = choice.options(catalogue);
    let now = match (choice.get)(build) {
        Value::Number(Some(number)) => Value::Number(Some(tidy(number))),
        now => now,
    };
    if !options.contains(&now) {
        options.insert(0, now);
    }
    options
}
