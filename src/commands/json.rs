//! What several answers tell as JSON: changes, findings, and the figures of a build.

use serde_json::{Value, json};

use crate::assessment::json::n;
use crate::build::{Axis, Edit};
use crate::explore::reading::Reading;
use crate::rules::{Finding, Severity};
use crate::units;
use crate::words::Words as _;

/// Changes, as `--set` takes them.
pub(super) fn edits(edits: &[Edit]) -> Value {
    let each = edits
        .iter()
        .map(|edit| json!({ "choice": edit.choice.id, "value": edit.value.to_string() }));
    each.collect()
}

/// Findings that come or go.
pub(super) fn findings(findings: &[Finding]) -> Value {
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
pub(super) fn reading(reading: &Reading) -> Value {
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
