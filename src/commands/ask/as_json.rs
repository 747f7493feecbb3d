//! Questions and answers as JSON.

use serde_json::{Value, json};

use crate::assessment::json::n;
use crate::build::choices::section;
use crate::build::{Axis, Edit};
use crate::explore::question::{self, Answer, Question};
use crate::explore::reading::Reading;
use crate::explore::trial::Bench;
use crate::rules::{Finding, Severity};
use crate::units;
use crate::words::Words as _;

/// Every question.
pub(super) fn list() -> Value {
    question::all().map(question_json).collect()
}

fn question_json(question: &Question) -> Value {
    json!({
        "id": question.id,
        "step": section(question.step),
        "title": question.title,
        "why": question.why,
    })
}

/// One answer.
pub(super) fn answer(question: &Question, bench: &Bench, answer: &Answer) -> Value {
    let each = answer.alternatives.iter().map(|one| {
        let after = &one.trial.after;
        json!({
            "title": one.title,
            "changes": edits(&one.trial.edits),
            "price": one.trial.price.to_string(),
            "after": reading(&Reading::of(after)),
            "on_top": one.on_top,
            "reaches_wish": question::brings_to_wish(question, bench.build, bench.before, after),
            "new": findings(&one.trial.added),
            "gone": findings(&one.trial.lifted),
            "note": one.note,
            "alone": one.alone.as_ref().map(|alone| alone.price.to_string()),
        })
    });
    json!({
        "question": question_json(question),
        "does_not_arise": (!answer.apart.is_empty()).then_some(&answer.apart),
        "headline": (!answer.headline.is_empty()).then_some(&answer.headline),
        "now": reading(&Reading::of(bench.before)),
        "alternatives": each.collect::<Value>(),
    })
}

/// Changes, as `--set` takes them.
pub(in crate::commands) fn edits(edits: &[Edit]) -> Value {
    let each = edits
        .iter()
        .map(|edit| json!({ "choice": edit.choice.id, "value": edit.value.to_string() }));
    each.collect()
}

/// Findings that come or go.
pub(in crate::commands) fn findings(findings: &[Finding]) -> Value {
    let each = findings.iter().map(|finding| {
        json!({
            "rule": finding.rule.as_str(),
            "severity": finding.severity.id(),
            "axis": finding.axis.map(Axis::id),
            "message": finding.message,
        })
    });
    each.collect()
}

/// The numbers by which builds are told apart.
pub(in crate::commands) fn reading(reading: &Reading) -> Value {
    let rapids = Axis::EACH.map(|axis| {
        let (speed, by) = reading.rapids[axis];
        let told = json!({ "m_per_min": n(units::m_per_min::from(speed)), "held_by": by.id() });
        (axis.id().to_owned(), told)
    });
    let tip = Axis::EACH.map(|axis| {
        let stiffness = units::n_per_um::from(reading.tip[axis]);
        (axis.id().to_owned(), n(stiffness))
    });
    let warnings = Severity::ALL.iter().map(|&severity| {
        (
            severity.id().to_owned(),
            reading.warnings[severity.index()].into(),
        )
    });
    json!({
        "cost": {
            "low": reading.cost.low.to_string(),
            "likely": reading.cost.likely.to_string(),
            "high": reading.cost.high.to_string(),
            "currency": reading.cost.currency.code(),
            "machines": reading.machines,
        },
        "rapids": Value::Object(rapids.into_iter().collect()),
        "tip_worst_n_per_um": Value::Object(tip.into_iter().collect()),
        "removal_cm3_per_min": reading.removal.map(|rate| n(units::cm3_per_min::from(rate))),
        "mains_a": n(units::a::from(reading.current)),
        "mains_allowed_a": n(units::a::from(reading.allowed)),
        "warnings": Value::Object(warnings.collect()),
    })
}
