//! Rails and carriages: how many, how far apart, how long.

use super::remedy::{each_option, in_turn, less_travel, options_where, set, together};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity, decided};
use crate::build::Axis;
use crate::build::choices::drive::GantryDrive;
use crate::build::value::NONE;
use crate::catalogue::{Id, Step};
use crate::machine::geometry::plan_of;
use crate::units::Length;
use crate::words::Words;

/// The part of the span by which carriages must stand apart, as of a drawer that does not jam
/// (common practice).
const SPAN_SHARE: f64 = 1.0 / 3.0;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "travel-exceeds-rail",
        title: "Rail in hand too short",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "A rail in hand against travel, outer carriages and a margin at each end.",
        because: "Carriages that run off a rail lose their balls, and the axis stops short of the wanted travel.",
        from: "Travel = rail less the distance of the outer carriages, one carriage and two end margins of the plan (calculation).",
        instead: "Buy a longer rail, or plan less travel.",
        reads: &[Fact::Geometry, Fact::Guides],
        decided_by: Some(decided::RAIL),
        check: short_rail,
        remedies: short_rail_remedies,
        example: Example {
            given: &[],
            choice: "rail_length_x_mm",
            fires: "800",
            quiet: "840",
        },
    },
    Rule {
        id: "rail-longer-than-offered",
        title: "Rail longer than any on offer",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The rails that must be bought, against the longest piece on offer.",
        because: "Longer rails are ground in pieces that must be butted: their ends have to be matched by the maker.",
        from: "Longest piece in the part's data.",
        instead: "Plan less travel, or order butted rails with matched ends and enter their length as a rail in hand.",
        reads: &[Fact::Geometry, Fact::Guides],
        decided_by: Some(decided::RAIL),
        check: long_rail,
        remedies: long_rail_remedies,
        example: Example {
            given: &[],
            choice: "travel_y_mm",
            fires: "3800",
            quiet: "3700",
        },
    },
    Rule {
        id: "two-carriages-a-rail",
        title: "One carriage per rail",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "Axes with a single carriage on each rail.",
        because: "One short carriage must take every tilting force by itself: the axis rocks, and the tool writes it into the part.",
        from: "Two carriages a rail on anything that carries the tool (common practice).",
        instead: "Put two carriages on each rail, as far apart as the plan allows.",
        reads: &[Fact::Guides],
        decided_by: Some(&["carriages_a"]),
        check: one_carriage,
        remedies: one_carriage_remedies,
        example: Example {
            given: &[],
            choice: "carriages_x",
            fires: "1",
            quiet: "2",
        },
    },
    Rule {
        id: "carriages-overlap",
        title: "Carriages do not fit side by side",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The length of all carriages of a rail but one, against the distance of the outer ones.",
        because: "Carriages take their own length on the rail: more of them need more room than the plan gives.",
        from: "(number - 1) x length of a carriage <= distance of the outer carriages (calculation).",
        instead: "Take fewer or shorter carriages, or a plan that sets them farther apart.",
        reads: &[Fact::Guides, Fact::Frame],
        decided_by: Some(&["guide_a", "carriages_a"]),
        check: overlap,
        remedies: overlap_remedies,
        example: Example {
            given: &[],
            choice: "carriages_z",
            fires: "3",
            quiet: "2",
        },
    },
    Rule {
        id: "single-centre-screw-racks",
        title: "One drive pulls a wide gantry askew",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "A single drive in the centre along Y, and the distance of the Y carriages against the span.",
        because: "When the tool cuts at one side, a gantry driven in its centre turns on its carriages like a drawer that is pulled at one corner.",
        from: "Carriages at least a third of the span apart, as of a drawer that does not jam (common practice).",
        instead: "Drive each side of the gantry, or take a plan that sets the carriages farther apart, or less X travel.",
        reads: &[Fact::Geometry, Fact::Guides, Fact::Drives],
        decided_by: Some(&[
            "gantry_drive",
            "carriages_y",
            "guide_x",
            "carriages_x",
            "rail_length_x_mm",
        ]),
        check: racking,
        remedies: racking_remedies,
        example: Example {
            given: &[("gantry_drive", "centre"), ("frame_plan", "low-base")],
            choice: "travel_x_mm",
            fires: "280",
            quiet: "250",
        },
    },
];

/// The choice of the rail in hand of an axis.
pub(super) fn rail_in_hand(axis: Axis) -> String {
    axis.choice("rail_length") + "_mm"
}

fn short_rail(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let rail = &facts.machine.geometry.rails[axis];
        let wanted = facts.picked.build.area.travel[axis];
        if wanted > rail.allows {
            let [allows, wanted] = say::lengths(rail.allows, wanted, 0);
            let message = format!(
                "{}: the rail of {} allows {allows} of travel, you want {wanted}",
                axis.title(),
                say::mm(rail.length, 0),
            );
            report.say_of(axis, Severity::Fault, message);
        }
    }
}

fn short_rail_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let rail = &facts.machine.geometry.rails[axis];
    let missing = facts.picked.build.area.travel[axis] - rail.allows;
    in_turn([
        set(facts, &rail_in_hand(axis), NONE),
        less_travel(facts, axis, missing),
    ])
}

fn long_rail(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let cut = &facts.machine.geometry.rails[axis];
        let longest = facts.picked.axes[axis].rail.longest;
        let to_buy = facts.picked.build.drive.rail_length[axis].is_none();
        if to_buy && cut.length > longest {
            let message = format!(
                "{}: rails of {} are needed, the longest on offer is {}",
                axis.title(),
                say::mm(cut.length, 0),
                say::mm(longest, 0)
            );
            report.say_of(axis, Severity::Fault, message);
        }
    }
}

fn long_rail_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let cut = &facts.machine.geometry.rails[axis];
    let catalogue = facts.picked.catalogue;
    let longer = |id: &Id| {
        let rail = catalogue
            .carriages
            .get(id)
            .and_then(|one| catalogue.rails.get(&one.rail));
        rail.is_some_and(|rail| rail.longest >= cut.length)
    };
    let longest = facts.picked.axes[axis].rail.longest;
    in_turn([
        options_where(facts, &axis.choice("guide"), longer),
        less_travel(facts, axis, cut.length - longest),
    ])
}

fn one_carriage(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        if facts.picked.build.drive.carriages[axis] < 2 {
            let message = format!(
                "{}: 1 carriage on each rail lets the axis rock; the plan sets two {} apart",
                axis.title(),
                say::mm(plan_of(facts.picked, axis).carriage_span, 0)
            );
            report.say_of(axis, Severity::Caution, message);
        }
    }
}

fn one_carriage_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    axis.map_or_else(Vec::new, |axis| set(facts, &axis.choice("carriages"), "2"))
}

/// What all carriages of a rail but one take of it.
fn taken(facts: &Facts, axis: Axis, length: Length) -> Length {
    let others = facts.picked.build.drive.carriages[axis].saturating_sub(1);
    length * f64::from(others)
}

fn overlap(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let carriage = facts.picked.axes[axis].carriage;
        let span = plan_of(facts.picked, axis).carriage_span;
        let taken = taken(facts, axis, carriage.length);
        if taken > span {
            let message = format!(
                "{}: {} carriages of {} want their outer ones {} apart, the plan has {}",
                axis.title(),
                facts.picked.build.drive.carriages[axis],
                say::mm(carriage.length, 0),
                say::mm(taken, 0),
                say::mm(span, 0)
            );
            report.say_of(axis, Severity::Fault, message);
        }
    }
}

fn overlap_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let span = plan_of(facts.picked, axis).carriage_span;
    let now = facts.picked.build.drive.carriages[axis];
    let fewer = (1..now)
        .rev()
        .map(|count| set(facts, &axis.choice("carriages"), &count.to_string()));
    let shorter = |id: &Id| {
        let carriage = facts.picked.catalogue.carriages.get(id);
        carriage.is_some_and(|one| taken(facts, axis, one.length) <= span)
    };
    in_turn([
        in_turn(fewer),
        options_where(facts, &axis.choice("guide"), shorter),
    ])
}

fn racking(facts: &Facts, report: &mut Report) {
    let span = facts.machine.geometry.span;
    let apart = facts.machine.geometry.rails.y.span;
    if facts.picked.build.drive.gantry == GantryDrive::Centre && apart < span * SPAN_SHARE {
        let message = format!(
            "Y: one drive in the centre of a span of {}, its carriages {} apart; it wants {}",
            say::mm(span, 0),
            say::mm(apart, 0),
            say::mm(span * SPAN_SHARE, 0)
        );
        report.say_of(Axis::Y, Severity::Caution, message);
    }
}

/// A drive on each side, with a controller that has an axis more where that is what lacks.
fn racking_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let each_side = set(facts, "gantry_drive", "each-side");
    let with_controller = together(&each_side, &each_option(facts, "controller"));
    in_turn([each_side, with_controller, each_option(facts, "frame_plan")])
}
