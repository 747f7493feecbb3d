//! How long the screws must be, how long they are made, and how long is too long.

use super::fit::{other_drives, other_screws};
use super::remedy::{in_turn, less_travel, set};
use super::say;
use super::screws::diameter;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::build::value::NONE;
use crate::catalogue::{LinearDrive, Step};
use crate::machine::geometry::ScrewCut;
use crate::units::{self, Length};
use crate::words::Words;

/// Length between bearings against diameter above which a lying screw sags and shakes
/// (published screw data: above 40 ask, above 50 support it).
const SLENDER: f64 = 50.0;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "screw-sags",
        title: "Long thin screw",
        severities: &[Severity::Hint],
        step: Step::Drive,
        watches: "The length between bearings of the screws that lie, against their diameter.",
        because: "A long thin screw sags under its own weight, shakes at some speeds and hums at others.",
        from: "Length over diameter: above 50 support it; some makers ask to be asked from 40 on (published screw data).",
        instead: "Take a thicker screw, or a rack for this length.",
        reads: &[Fact::Drives, Fact::Geometry],
        decided_by: Some(&["drives_a", "screw_length_a_mm", "preloaded_nuts"]),
        check: slender,
        remedies: slender_remedies,
        example: Example {
            given: &[],
            choice: "travel_x_mm",
            fires: "650",
            quiet: "600",
        },
    },
    Rule {
        id: "screw-too-short",
        title: "Screw in hand too short",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The thread of a screw in hand, against travel, nut and a margin at each end.",
        because: "A nut that runs off its thread spills its balls, and the axis stops short of the wanted travel.",
        from: "Thread = travel + nut + two end margins of the plan (calculation).",
        instead: "Buy a longer screw, or plan less travel.",
        reads: &[Fact::Geometry, Fact::Drives],
        decided_by: Some(&["drives_a", "screw_length_a_mm", "preloaded_nuts"]),
        check: short,
        remedies: short_remedies,
        example: Example {
            given: &[],
            choice: "screw_length_x_mm",
            fires: "700",
            quiet: "750",
        },
    },
    Rule {
        id: "screw-longer-than-offered",
        title: "Screw longer than it is made",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The length of each screw over all, to be bought or in hand, against the longest that its data know.",
        because: "Thin screws are not made as long: what cannot be bought stops the build, and a screw in hand has less thread than length.",
        from: "Longest screw in the part's data, its turned ends included: the bearings take the plan's margin, the coupling 1.5 diameters (common practice).",
        instead: "Take a screw that is made as long, mostly a thicker one, or a rack; or plan less travel. Of a screw in hand type the length of its thread, without its ends.",
        reads: &[Fact::Geometry, Fact::Drives],
        decided_by: Some(&["drives_a", "screw_length_a_mm", "preloaded_nuts"]),
        check: long,
        remedies: long_remedies,
        example: Example {
            given: &[],
            choice: "travel_y_mm",
            fires: "1850",
            quiet: "1780",
        },
    },
];

/// The screws of an axis, each with what drives by it; none for racks and belts.
fn screws<'a>(facts: &Facts<'a>, axis: Axis) -> impl Iterator<Item = (LinearDrive<'a>, ScrewCut)> {
    let cuts = &facts.machine.geometry.drives[axis];
    let both = facts.picked.drives(axis).into_iter().zip(cuts);
    both.filter_map(|(drive, cut)| Some((drive, cut.screw?)))
}

/// The screw of an axis that is longest against its diameter, on either side: its length between
/// bearings, and how many diameters that is.
fn most_slender(facts: &Facts, axis: Axis) -> Option<(Length, f64)> {
    let each = screws(facts, axis).filter_map(|(drive, cut)| {
        let between = cut.between_bearings;
        Some((between, units::times::from(between / diameter(&drive)?)))
    });
    each.max_by(|one, other| one.1.total_cmp(&other.1))
}

fn slender(facts: &Facts, report: &mut Report) {
    for axis in [Axis::X, Axis::Y] {
        let Some((between, share)) = most_slender(facts, axis) else {
            continue;
        };
        if share > SLENDER {
            let message = format!(
                "{}: {} between bearings are {} times the screw's diameter, up to {SLENDER} is usual",
                axis.title(),
                say::mm(between, 0),
                say::at_most(share, if share < SLENDER + 1.0 { 1 } else { 0 })
            );
            report.say_of(axis, Severity::Hint, message);
        }
    }
}

fn slender_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let now = facts.picked.axes[axis].drive;
    let thicker = |other: &LinearDrive| {
        diameter(other) > diameter(&now) && other.travel_a_turn() >= now.travel_a_turn()
    };
    other_screws(facts, axis, thicker)
}

fn screw_in_hand(axis: Axis) -> String {
    axis.choice("screw_length") + "_mm"
}

/// Whether a cut lacks thread; what binary fractions add does not count.
fn lacks(cut: &ScrewCut) -> bool {
    units::mm::from(cut.needed - cut.thread) > 1e-6
}

/// The screw of an axis that lacks thread; on either side, since nuts may differ.
fn too_short(facts: &Facts, axis: Axis) -> Option<ScrewCut> {
    let mut cuts = screws(facts, axis).map(|(_, cut)| cut);
    cuts.find(lacks)
}

fn short(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let Some(cut) = too_short(facts, axis) else {
            continue;
        };
        let message = format!(
            "{}: the screw in hand has {} of thread, travel, nut and margins take {}",
            axis.title(),
            say::mm(cut.thread, 0),
            say::mm(cut.needed, 0)
        );
        report.say_of(axis, Severity::Fault, message);
    }
}

fn short_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let Some(cut) = too_short(facts, axis) else {
        return Vec::new();
    };
    in_turn([
        set(facts, &screw_in_hand(axis), NONE),
        less_travel(facts, axis, cut.needed - cut.thread),
    ])
}

/// The screw of an axis that is longer than it is made: its length, and the longest.
fn too_long<'a>(facts: &Facts<'a>, axis: Axis) -> Option<(LinearDrive<'a>, Length, Length)> {
    let cuts = &facts.machine.geometry.drives[axis];
    let mut both = facts.picked.drives(axis).into_iter().zip(cuts);
    both.find_map(|(drive, cut)| {
        let longest = drive.screw()?.longest;
        (cut.to_order > longest).then_some((drive, cut.to_order, longest))
    })
}

fn long(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let Some((drive, length, longest)) = too_long(facts, axis) else {
            continue;
        };
        let (letter, title) = (axis.title(), drive.part().title());
        let (length, longest) = (say::mm(length, 0), say::mm(longest, 0));
        let message = match facts.picked.build.drive.screw_length[axis] {
            Some(thread) => format!(
                "{letter}: with {} of thread in hand it is {length} over all, known up to {longest} ({title})",
                say::mm(thread, 0)
            ),
            None => format!(
                "{letter}: {length} of screw are needed, ends included, up to {longest} are made ({title})"
            ),
        };
        report.say_of(axis, Severity::Fault, message);
    }
}

fn long_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let Some((now, length, longest)) = too_long(facts, axis) else {
        return Vec::new();
    };
    let enough = |drive: &LinearDrive| drive.screw().is_none_or(|screw| screw.longest >= length);
    // A length in hand may be the whole screw where its thread was asked for.
    let cut_to_need = match facts.picked.build.drive.screw_length[axis] {
        Some(_) => set(facts, &screw_in_hand(axis), NONE),
        None => Vec::new(),
    };
    in_turn([
        cut_to_need,
        other_screws(facts, axis, |other| {
            enough(other) && other.travel_a_turn() >= now.travel_a_turn()
        }),
        other_drives(facts, axis, enough),
        less_travel(facts, axis, length - longest),
    ])
}
