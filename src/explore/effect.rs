//! The effect of one option of a choice: its price difference, the figures it moves, the
//! findings it lifts and adds.

use rust_decimal::Decimal;

use super::trial::Bench;
use crate::assessment::{AssessError, Assessment};
use crate::build::Edit;
use crate::rules::{Finding, Severity};

/// What taking an option would change.
#[derive(Clone, Debug)]
pub struct Effect {
    /// The assessment with the option taken.
    pub after: Assessment,
    /// Change of the likely total, in the currency of the bill after.
    pub price: Decimal,
    /// Findings that the option brings.
    pub added: Vec<Finding>,
    /// Findings that it lifts.
    pub lifted: Vec<Finding>,
}

/// The effect of edits, made together, on the build of a bench.
///
/// # Errors
/// As [`assess`](crate::assessment::assess).
pub fn effect(bench: &Bench, edits: &[Edit]) -> Result<Effect, AssessError> {
    let mut build = bench.build.clone();
    edits.iter().for_each(|edit| edit.apply(&mut build));
    let after = bench.assess(&build)?;
    Ok(turned(bench.before, after))
}

/// The effect of going from one assessment to another.
pub fn turned(before: &Assessment, after: Assessment) -> Effect {
    Effect {
        price: after.bill.total.likely - before.bill.total.likely,
        added: missing_in(&after.findings, &before.findings),
        lifted: missing_in(&before.findings, &after.findings),
        after,
    }
}

/// Whether two findings say the same of the same thing, whatever the numbers in them.
pub fn same(a: &Finding, b: &Finding) -> bool {
    (&a.rule, a.axis, a.severity) == (&b.rule, b.axis, b.severity)
}

/// Whether there is no danger and no fault among findings.
pub fn is_sound(findings: &[Finding]) -> bool {
    findings.iter().all(|one| one.severity > Severity::Fault)
}

/// The findings that others lack.
pub fn missing_in(these: &[Finding], those: &[Finding]) -> Vec<Finding> {
    let known = |finding: &&Finding| !those.iter().any(|other| same(finding, other));
    these.iter().filter(known).cloned().collect()
}
