//! What a saving costs the machine, so that savings can be put in an order: first what is paid
//! for nothing, last what is worth its money.

use super::PROTECTS;
use crate::build::{Choice, Value};
use crate::explore::reading::{Measure, Reading};
use crate::rules::{Finding, Severity};

/// What is never dropped to save money, besides what protects people: it says what is wanted.
const KEEP: &[&str] = &[
    "destination",
    "tax_percent",
    "site",
    "machines",
    "unattended",
    "materials",
    "workholding",
    "prints_from",
    "hand_tools",
];

/// What the work needs whether it stands on this bill or not: leaving it out saves only where
/// one is there already.
const NEEDED: &[&str] = &[
    "computer",
    "cam_licence",
    "table",
    "spares",
    "wasteboard",
    "starter_tools",
];

/// What a caution or a hint that a change brings weighs, as a share of the machine. Our own
/// judgement: a caution like a tenth of its speed, stiffness or removal.
const CAUTION: f64 = 0.10;
/// Comfort that no figure shows weighs as much as a hint.
pub(in crate::explore) const HINT: f64 = 0.03;

/// What is never nothing, so that of two savings that cost the machine nothing the greater
/// one comes first.
const LEAST: f64 = 0.001;

/// Whether a choice is never changed to save money.
pub(in crate::explore) fn is_no_saving(choice: &Choice) -> bool {
    PROTECTS.contains(&choice.id) || KEEP.contains(&choice.id)
}

/// The choice that says whether a second circuit is there: no saving, a fact of the house.
pub(in crate::explore) const CIRCUIT: &str = "second_circuit";

/// Whether a value of a choice leaves something out that the work needs all the same, or says
/// that something is there already.
pub(in crate::explore) fn only_if_owned(choice: &Choice, value: &Value) -> bool {
    let none = matches!(value, Value::Part(None) | Value::Flag(false));
    (none && NEEDED.contains(&choice.id)) || choice.id == CIRCUIT
}

/// What a machine loses against the one before, as a share of it: of rapids, stiffness and
/// removal each, and for what the rules have to say.
pub(in crate::explore) fn loss(before: &Reading, after: &Reading, added: &[Finding]) -> f64 {
    let each = [Measure::Rapids, Measure::Stiffness, Measure::Removal].map(|measure| {
        let (was, gain) = (before.value(measure), after.gain_over(before, measure));
        match (was, gain) {
            (Some(was), Some(gain)) if was.number > 0.0 => (-gain / was.number).max(0.0),
            (Some(_), None) => 1.0,
            _ => 0.0,
        }
    });
    let brings = |severity| added.iter().filter(|one| one.severity == severity).count() as f64;
    each.iter().sum::<f64>()
        + brings(Severity::Caution) * CAUTION
        + brings(Severity::Hint) * HINT
        + LEAST
}
