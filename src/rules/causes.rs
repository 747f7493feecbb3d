//! One cause, one entry: which findings follow from which, and in what order they stand.
//!
//! A screw that whips must turn slower, and the rapids then miss the wish: two rules see one
//! thing. The table below says which rule's finding is the cause of which other's;
//! where both fire on the same axis (or one of them is about the whole machine), the
//! follower is listed under its cause. A rule that fires on several axes is one entry too,
//! the first axis at its head. Nothing is hidden: followers stay in the list, behind the
//! head of their entry.

use std::cmp::Reverse;

use super::Finding;
use crate::order::Order as _;

/// A cause and what follows from it.
struct Cause {
    rule: &'static str,
    brings: &'static [&'static str],
}

const fn cause(rule: &'static str, brings: &'static [&'static str]) -> Cause {
    Cause { rule, brings }
}

/// Causes and followers, the deeper cause first where a follower may have several.
#[rustfmt::skip]
const CAUSES: &[Cause] = &[
    // What slows an axis.
    cause("feed-out-of-reach", &["short-lead-caps-rapids", "supply-too-low-for-rapids", "feed-cannot-follow", "job-cannot-be-cut", "one-axis-lags"]),
    cause("thrust-too-low", &["servo-too-warm"]),
    cause("screw-whirl", &["nut-too-fast", "screw-sags", "short-lead-caps-rapids", "rapids-below-wish", "one-axis-lags"]),
    cause("nut-too-fast", &["short-lead-caps-rapids", "rapids-below-wish", "one-axis-lags"]),
    cause("rack-or-belt-too-fast", &["rapids-below-wish"]),
    cause("microsteps-too-fine", &["pulses-too-slow"]),
    cause("step-too-coarse", &["stepper-shakes"]),
    cause("pulses-too-slow", &["rapids-below-wish", "short-lead-caps-rapids", "one-axis-lags"]),
    cause("short-lead-caps-rapids", &["one-axis-lags"]),
    cause("supply-too-low-for-rapids", &["one-axis-lags"]),
    cause("rapids-below-wish", &["one-axis-lags"]),
    cause("rack-wants-reduction", &["step-too-coarse", "inertia-mismatch"]),
    // What does not go together.
    cause("leads-differ-on-a-pair", &["backlash-over-tolerance"]),
    cause("driver-not-for-motor", &["driver-not-fed", "driver-below-motor-current", "driver-not-for-this-socket", "dc-supply-too-small", "supply-above-motor-rule"]),
    cause("supply-above-driver", &["supply-above-motor-rule", "no-place-for-regeneration"]),
    cause("motor-face-not-on-mount", &["coupling-does-not-fit", "coupling-too-weak"]),
    cause("vfd-voltage-class", &["vfd-too-small", "vfd-single-phase-derating", "supply-voltage-wrong-for-spindle"]),
    cause("vfd-too-small", &["vfd-single-phase-derating"]),
    cause("water-without-cooler", &["cooling-water-freezes"]),
    // What is too soft, too weak or too fast for a material.
    cause("two-carriages-a-rail", &["tip-too-soft", "life-too-short"]),
    cause("tip-too-soft", &["material-out-of-reach", "bigger-tube-beats-thicker-wall", "wall-thinner-than-named", "first-mode-in-cut-range", "start-shakes-tool"]),
    cause("thread-in-thin-wall", &["wall-thinner-than-named"]),
    cause("steel-wants-slow-torque", &["edge-too-fast", "material-out-of-reach"]),
    cause("spindle-overspeed", &["edge-too-fast"]),
    cause("cut-needs-more-power", &["material-out-of-reach"]),
    cause("material-out-of-reach", &["job-cannot-be-cut"]),
    // Current, heat, money.
    cause("second-circuit-not-there", &["circuit-overloaded"]),
    cause("circuit-overloaded", &["load-for-hours", "inrush-trips"]),
    cause("extractor-waits", &["air-waits"]),
    cause("cable-too-thin", &["cable-drop"]),
    cause("cabinet-open-or-wood", &["cabinet-too-hot"]),
    cause("over-budget", &["reserve-too-small"]),
];

/// Every cause with each rule that follows from it.
pub fn pairs() -> impl Iterator<Item = (&'static str, &'static str)> {
    let of = |cause: &'static Cause| cause.brings.iter().map(|follower| (cause.rule, *follower));
    CAUSES.iter().flat_map(of)
}

/// Rules about what kills people, the quickest first: they stand before whatever else is as
/// bad, which may break a machine.
const DEADLIEST: &[&str] = &[
    "improvised-supply",
    "protective-earth-over-plug",
    "rcd-type",
    "signal-cable-for-power",
    "too-few-cores",
    "cable-too-thin",
    "emergency-stop-missing",
    "restart-after-outage",
    "cabinet-open-or-wood",
    "no-fire-watch",
    "metal-sparks-in-wood-dust",
    "wood-without-extraction",
    "extractor-waits",
    "shank-collet",
    "limit-normally-open",
];

/// The place of a rule among the deadliest; behind them all for every other.
fn deadliness(rule: &str) -> usize {
    let place = DEADLIEST.iter().position(|deadly| *deadly == rule);
    place.unwrap_or(DEADLIEST.len())
}

/// Puts findings in the order in which they matter: entries by the worst they hold; among
/// equals what kills first, then the one from which most follows, then step by step. Followers
/// stand behind their cause and name it.
pub(super) fn group(mut found: Vec<Finding>) -> Vec<Finding> {
    let counts: Vec<bool> = found.iter().map(Finding::counts).collect();
    let heads: Vec<usize> = (0..found.len())
        .map(|place| head_of(&found, &counts, place))
        .collect();
    let mut sizes = vec![0_usize; found.len()];
    for &head in &heads {
        sizes[head] += 1;
    }
    let keys: Vec<_> = heads
        .iter()
        .enumerate()
        .map(|(place, &head)| {
            let first = &found[head];
            (
                first.severity,
                !counts[head],
                deadliness(&first.rule),
                Reverse(sizes[head]),
                first.step,
                head,
                place != head,
                place,
            )
        })
        .collect();
    let causes: Vec<Option<&'static str>> = heads
        .iter()
        .enumerate()
        .map(|(place, &head)| {
            (place != head)
                .then(|| found[head].rule.built_in())
                .flatten()
        })
        .collect();
    for (finding, cause) in found.iter_mut().zip(causes) {
        finding.cause = cause;
    }
    let mut places: Vec<usize> = (0..found.len()).collect();
    places.order_by_key(|&place| keys[place]);
    let mut taken: Vec<Option<Finding>> = found.into_iter().map(Some).collect();
    places
        .into_iter()
        .filter_map(|place| taken[place].take())
        .collect()
}

/// The finding at the head of the entry of one: its cause's cause and so on; of several
/// findings of that rule, the first.
fn head_of(found: &[Finding], counts: &[bool], place: usize) -> usize {
    let mut root = place;
    // Causes never come round in a circle, as a test sees to; the bound is for safety.
    for _ in 0..CAUSES.len() {
        match cause_of(found, counts, root) {
            Some(cause) => root = cause,
            None => break,
        }
    }
    let alike = |&other: &usize| {
        let (one, it) = (&found[other], &found[root]);
        (&one.rule, one.severity, counts[other]) == (&it.rule, it.severity, counts[root])
            && cause_of(found, counts, other).is_none()
    };
    (0..root).find(alike).unwrap_or(root)
}

/// The direct cause of one finding: the first in the table that fired as badly, on the same
/// axis.
fn cause_of(found: &[Finding], counts: &[bool], place: usize) -> Option<usize> {
    let finding = &found[place];
    let fits = |&other: &usize| {
        let one = &found[other];
        one.severity <= finding.severity
            && (counts[other] || !counts[place])
            && (one.axis == finding.axis || one.axis.is_none() || finding.axis.is_none())
    };
    let mut causes = CAUSES
        .iter()
        .filter(|cause| cause.brings.contains(&finding.rule.as_str()));
    causes.find_map(|cause| {
        (0..found.len())
            .filter(|&other| found[other].rule == cause.rule)
            .find(fits)
    })
}

#[cfg(test)]
mod tests;
