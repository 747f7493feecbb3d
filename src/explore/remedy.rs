//! The remedy of a finding: the first of its rule's candidates that really lifts it and
//! brings nothing as bad or worse that was not there before.

use super::trial::Bench;
use crate::assessment::Assessment;
use crate::build::{Edit, Picked};
use crate::rules::{self, Facts, Finding};

mod unfit;

pub use unfit::{Unfit, Why, unfit};

/// The edits that lift a finding, or none where no choice does.
pub fn remedy(bench: &Bench, finding: &Finding) -> Vec<Edit> {
    candidates(bench, finding)
        .into_iter()
        .find(|edits| lifts(bench, finding, edits))
        .unwrap_or_default()
}

/// Every candidate that lifts a finding and leaves all wishes as they are, best first.
pub fn remedies(bench: &Bench, finding: &Finding) -> Vec<Vec<Edit>> {
    let mut all = candidates(bench, finding);
    all.retain(|edits| !lowers_wish(edits) && lifts(bench, finding, edits));
    all
}

/// The edits that lift a finding: its remedy, or where it has none, two of the candidates that
/// change different choices and lift it together. What only lowers a wish stands behind all that
/// makes the machine better.
pub fn cure(bench: &Bench, finding: &Finding) -> Vec<Edit> {
    let all = candidates(bench, finding);
    let lifts = |edits: &Vec<Edit>| lifts(bench, finding, edits);
    let (wishes, real): (Vec<_>, Vec<_>) = all
        .into_iter()
        .partition(|edits| lowers_wish(edits.as_slice()));
    let alone = |of: &[Vec<Edit>]| of.iter().find(|edits| lifts(edits)).cloned();
    let cure = alone(&real).or_else(|| alone(&wishes)).or_else(|| {
        pairs(&[real.as_slice(), wishes.as_slice()].concat())
            .into_iter()
            .find(lifts)
    });
    cure.unwrap_or_default()
}

/// What only says what is wanted, and makes no machine other: a gentler start, a shorter travel or
/// another feed does.
const WISHES: &[&str] = &[
    "rapid_wish_m_per_min",
    "rapid_wish_z_m_per_min",
    "cutting_force_n",
    "tolerance_mm",
    "stock_height_mm",
];

/// What is to be said of changes that only lower what was wanted.
pub const LOWERS_WISH: &str = "This lowers what you wanted: the machine gets no better.";

/// Whether changes take back something that was wanted of the machine.
pub fn lowers_wish(edits: &[Edit]) -> bool {
    edits.iter().any(|edit| WISHES.contains(&edit.choice.id))
}

/// Of how many candidates pairs are made.
const PAIRED: usize = 6;

/// How many of them may change the same choices.
const ALIKE: usize = 2;

/// Two candidates at once, those that stand first in front.
fn pairs(all: &[Vec<Edit>]) -> Vec<Vec<Edit>> {
    let ids = |edits: &[Edit]| -> Vec<&str> { edits.iter().map(|edit| edit.choice.id).collect() };
    let mut taken: Vec<&Vec<Edit>> = Vec::new();
    for edits in all.iter().filter(|edits| !edits.is_empty()) {
        let alike = taken.iter().filter(|known| ids(known) == ids(edits));
        if alike.count() < ALIKE && taken.len() < PAIRED {
            taken.push(edits);
        }
    }
    let mut pairs = Vec::new();
    for (place, one) in taken.iter().enumerate() {
        for other in &taken[..place] {
            let apart = !ids(one).iter().any(|id| ids(other).contains(id));
            if apart {
                pairs.push([other.as_slice(), one.as_slice()].concat());
            }
        }
    }
    pairs
}

/// What a rule would try against its finding, best first; none of it is tried yet.
pub fn candidates(bench: &Bench, finding: &Finding) -> rules::Remedies {
    let Ok(picked) = Picked::new(bench.catalogue, bench.build) else {
        return Vec::new();
    };
    let facts = Facts {
        picked: &picked,
        machine: &bench.before.machine,
        bill: &bench.before.bill,
        today: bench.today,
    };
    rules::candidates(&facts, finding)
}

/// The remedies of every finding, in their order.
pub fn all(bench: &Bench) -> Vec<Vec<Edit>> {
    bench
        .before
        .findings
        .iter()
        .map(|finding| cure(bench, finding))
        .collect()
}

fn lifts(bench: &Bench, finding: &Finding, edits: &[Edit]) -> bool {
    let mut changed = bench.build.clone();
    edits.iter().for_each(|edit| edit.apply(&mut changed));
    let Ok(after) = bench.assess(&changed) else {
        return false;
    };
    !edits.is_empty() && is_lifted(bench.before, &after, finding)
}

/// Whether a finding is gone, and nothing as bad or worse came that was not there before.
pub fn is_lifted(before: &Assessment, after: &Assessment, finding: &Finding) -> bool {
    !stays(after, finding) && brings(before, after, finding).is_none()
}

/// Whether a finding is there after all.
fn stays(after: &Assessment, finding: &Finding) -> bool {
    let same = |rule: &Finding| rule.rule == finding.rule && rule.axis == finding.axis;
    after.findings.iter().any(same)
}

/// The first that is as bad as a finding or worse and was not there before.
fn brings<'a>(
    before: &Assessment,
    after: &'a Assessment,
    finding: &Finding,
) -> Option<&'a Finding> {
    let is_new = |other: &&Finding| {
        other.severity <= finding.severity
            && as_bad(after, other, finding) > as_bad(before, other, finding)
    };
    after.findings.iter().find(is_new)
}

/// How many findings there are like one, as bad as what is to be lifted or worse: a rule may
/// speak of several circuits or parts of one axis.
fn as_bad(assessment: &Assessment, like: &Finding, lifted: &Finding) -> usize {
    let alike = |other: &&Finding| {
        (&other.rule, other.axis) == (&like.rule, like.axis) && other.severity <= lifted.severity
    };
    assessment.findings.iter().filter(alike).count()
}
