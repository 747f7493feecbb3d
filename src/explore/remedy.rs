//! The remedy of a finding: the first of its rule's candidates that really lifts it and
//! brings nothing as bad or worse that was not there before.

use jiff::civil::Date;

use crate::assessment::{Assessment, assess_beside};
use crate::bill::Bill;
use crate::build::{Build, Edit, Picked};
use crate::catalogue::Catalogue;
use crate::machine::Machine;
use crate::rules::{self, Facts, Finding};

/// The edits that lift a finding, or none where no choice does.
pub fn remedy(
    catalogue: &Catalogue,
    build: &Build,
    before: &Assessment,
    finding: &Finding,
    today: Date,
) -> Vec<Edit> {
    candidates(catalogue, build, before, finding, today)
        .into_iter()
        .find(|edits| lifts(catalogue, build, before, finding, edits, today))
        .unwrap_or_default()
}

/// What a rule would try against its finding, best first; none of it is tried yet.
pub fn candidates(
    catalogue: &Catalogue,
    build: &Build,
    before: &Assessment,
    finding: &Finding,
    today: Date,
) -> rules::Remedies {
    let Some(rule) = rules::find(finding.rule) else {
        return Vec::new();
    };
    let Ok(picked) = Picked::new(catalogue, build) else {
        return Vec::new();
    };
    let (machine, bill): (&Machine, &Bill) = (&before.machine, &before.bill);
    let facts = Facts {
        picked: &picked,
        machine,
        bill,
        today,
    };
    (rule.remedies)(&facts, finding.axis)
}

/// The remedies of every finding, in their order.
pub fn all(
    catalogue: &Catalogue,
    build: &Build,
    before: &Assessment,
    today: Date,
) -> Vec<Vec<Edit>> {
    before
        .findings
        .iter()
        .map(|finding| remedy(catalogue, build, before, finding, today))
        .collect()
}

fn lifts(
    catalogue: &Catalogue,
    build: &Build,
    before: &Assessment,
    finding: &Finding,
    edits: &[Edit],
    today: Date,
) -> bool {
    let mut changed = build.clone();
    edits.iter().for_each(|edit| edit.apply(&mut changed));
    let Ok(after) = assess_beside(catalogue, &changed, today, (build, before)) else {
        return false;
    };
    !edits.is_empty() && is_lifted(before, &after, finding)
}

/// Whether a finding is gone, and nothing as bad or worse came that was not there before.
pub fn is_lifted(before: &Assessment, after: &Assessment, finding: &Finding) -> bool {
    let still = |rule: &Finding| rule.rule == finding.rule && rule.axis == finding.axis;
    !after.findings.iter().any(still)
        && after
            .findings
            .iter()
            .filter(|other| other.severity <= finding.severity)
            .all(|other| as_bad(after, other, finding) <= as_bad(before, other, finding))
}

/// How many findings there are like one, as bad as what is to be lifted or worse: a rule may
/// speak of several circuits or parts of one axis.
fn as_bad(assessment: &Assessment, like: &Finding, lifted: &Finding) -> usize {
    let alike = |other: &&Finding| {
        (other.rule, other.axis) == (like.rule, like.axis) && other.severity <= lifted.severity
    };
    assessment.findings.iter().filter(alike).count()
}
