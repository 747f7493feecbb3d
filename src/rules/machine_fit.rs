//! Whether stock, tool, machine, room and door fit one another.

use super::remedy::{each_option, in_turn, number, options_where, travel};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity, decided};
use crate::build::Axis;
use crate::catalogue::{Id, Step};
use crate::units::{self, Length};
use crate::words::Words;

/// Air between the highest stock and the tip of the tool when it travels (common practice).
const TOOL_MARGIN_MM: f64 = 10.0;

/// Room to stand and reach in on one side of the machine (common practice).
pub(crate) const ACCESS_MM: f64 = 600.0;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "z-room",
        title: "Stock and tool do not fit under the beam",
        severities: &[Severity::Fault],
        step: Step::WorkingArea,
        watches: "The height under the spindle's nose, and the Z travel, against the tallest stock, the usual tool and a margin.",
        because: "The tool has to clear the stock to travel over it, and to reach down along its whole side.",
        from: "Tallest stock + tool out of the collet + 10 mm (common practice).",
        instead: "Raise the beam, give Z more travel, or plan lower stock or a shorter tool.",
        reads: &[Fact::Geometry, Fact::Wishes, Fact::Spindle],
        decided_by: Some(&["tool"]),
        check: z_room,
        remedies: z_room_remedies,
        example: Example {
            given: &[],
            choice: "stock_height_mm",
            fires: "86",
            quiet: "82",
        },
    },
    Rule {
        id: "tool-cannot-reach-table",
        title: "The tool ends above the table",
        severities: &[Severity::Caution],
        step: Step::WorkingArea,
        watches: "The tip of the usual tool at the lowest point of Z, against the table.",
        because: "Sheet that lies on the table cannot be cut through. A pile of boards under it helps, but bends.",
        from: "Height under the beam + nose above it - Z travel - tool out of the collet <= 0 (calculation; height of nose by the frame plan).",
        instead: "Lower the beam, give Z more travel, or raise the table.",
        reads: &[Fact::Geometry, Fact::Wishes, Fact::Spindle],
        decided_by: Some(&["tool"]),
        check: reach,
        remedies: reach_remedies,
        example: Example {
            given: &[],
            choice: "clearance_mm",
            fires: "140",
            quiet: "135",
        },
    },
    Rule {
        id: "room-too-small",
        title: "The room is too small",
        severities: &[Severity::Caution],
        step: Step::WorkingArea,
        watches: "The floor of the machine with access on one long and one short side, against the room.",
        because: "A machine that can't be walked around can't be loaded, cleaned or repaired.",
        from: "Footprint + 600 mm on one side in each direction (common practice).",
        instead: "Plan less travel, take a plan with a smaller footprint, or find a larger room.",
        reads: &[Fact::Geometry, Fact::Wishes],
        decided_by: Some(decided::EVERY_RAIL),
        check: room,
        remedies: room_remedies,
        example: Example {
            given: &[],
            choice: "room_x_mm",
            fires: "1800",
            quiet: "1850",
        },
    },
    Rule {
        id: "door-too-narrow",
        title: "The machine does not pass the door",
        severities: &[Severity::Caution],
        step: Step::WorkingArea,
        watches: "The smallest of width, depth and height of the built machine, against the narrowest door.",
        because: "A welded frame that does not pass the door has to be cut apart, or stays outside.",
        from: "A box passes with its two longer sides along and upright: the smallest must fit (calculation).",
        instead: "Build it in the room where it stays, bolt the frame instead of welding it, or make it smaller.",
        reads: &[Fact::Geometry, Fact::Wishes],
        decided_by: Some(decided::RAIL),
        check: door,
        remedies: door_remedies,
        example: Example {
            given: &[],
            choice: "door_mm",
            fires: "650",
            quiet: "700",
        },
    },
];

/// The height that stock, tool and margin take.
fn wanted_height(facts: &Facts) -> Length {
    let tool = facts.picked.tool.reach;
    facts.picked.build.area.stock_height + tool + units::mm::of(TOOL_MARGIN_MM)
}

/// The height from the table to the spindle's nose at the top of Z.
fn nose_height(facts: &Facts) -> Length {
    facts.picked.build.area.clearance + facts.picked.frame.nose_above_beam
}

fn z_room(facts: &Facts, report: &mut Report) {
    let area = &facts.picked.build.area;
    let wanted = wanted_height(facts);
    let sum = format!(
        "stock of {}, tool {} out and {TOOL_MARGIN_MM} mm of air take {}",
        say::mm(area.stock_height, 0),
        say::mm(facts.picked.tool.reach, 0),
        say::mm(wanted, 0)
    );
    if nose_height(facts) < wanted {
        let free = say::mm(nose_height(facts), 0);
        report.say(
            Severity::Fault,
            format!("{free} are free under the spindle; {sum}"),
        );
    }
    if area.travel.z < wanted {
        let travel = say::mm(area.travel.z, 0);
        report.say_of(
            Axis::Z,
            Severity::Fault,
            format!("Z travels {travel}; {sum}"),
        );
    }
}

fn z_room_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let wanted = wanted_height(facts);
    let area = &facts.picked.build.area;
    let high = units::mm::from(wanted - facts.picked.frame.nose_above_beam);
    let (missing, more) = match axis {
        Some(_) => (
            wanted - area.travel.z,
            ("travel_z_mm", units::mm::from(wanted)),
        ),
        None => (wanted - nose_height(facts), ("clearance_mm", high)),
    };
    let lower = units::mm::from(area.stock_height - missing);
    // A higher beam wants a longer Z to reach the table again, so both are tried together.
    let (height, travel) = (
        number(facts, "clearance_mm", high, true),
        number(facts, "travel_z_mm", units::mm::from(wanted), true),
    );
    let both = height.first().zip(travel.first());
    let both = both.map(|(first, second)| first.iter().chain(second).cloned().collect());
    let short_enough = facts.picked.tool.reach - missing;
    let shorter = |id: &Id| {
        let tool = facts.picked.catalogue.end_mills.get(id);
        tool.is_some_and(|tool| tool.reach <= short_enough)
    };
    in_turn([
        number(facts, more.0, more.1, true),
        both.into_iter().collect(),
        options_where(facts, "tool", shorter),
        number(facts, "stock_height_mm", lower, false),
    ])
}

/// How far above the table the tool ends at the lowest point of Z; none where it reaches it.
fn gap(facts: &Facts) -> Option<Length> {
    let lowest = nose_height(facts) - facts.picked.build.area.travel.z - facts.picked.tool.reach;
    (units::mm::from(lowest) > 1e-6).then_some(lowest)
}

fn reach(facts: &Facts, report: &mut Report) {
    if let Some(gap) = gap(facts) {
        let message = format!(
            "the tool ends {} above the table: the nose hangs {} high, Z travels {}, the tool is {} out",
            say::mm(gap, 0),
            say::mm(nose_height(facts), 0),
            say::mm(facts.picked.build.area.travel.z, 0),
            say::mm(facts.picked.tool.reach, 0)
        );
        report.say(Severity::Caution, message);
    }
}

fn reach_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let Some(gap) = gap(facts) else {
        return Vec::new();
    };
    let area = &facts.picked.build.area;
    in_turn([
        number(
            facts,
            "travel_z_mm",
            units::mm::from(area.travel.z + gap),
            true,
        ),
        number(
            facts,
            "clearance_mm",
            units::mm::from(area.clearance - gap),
            false,
        ),
    ])
}

/// The room in the direction of an axis.
fn room_of(facts: &Facts, axis: Axis) -> Length {
    if axis == Axis::X {
        facts.picked.build.area.room_x
    } else {
        facts.picked.build.area.room_y
    }
}

fn room(facts: &Facts, report: &mut Report) {
    for axis in [Axis::X, Axis::Y] {
        let machine = facts.machine.geometry.footprint[axis];
        let wanted = machine + units::mm::of(ACCESS_MM);
        let there_is = room_of(facts, axis);
        if wanted > there_is {
            let message = format!(
                "along {}: machine {} and {ACCESS_MM} mm to stand take {}, the room has {}",
                axis.title(),
                say::mm(machine, 0),
                say::mm(wanted, 0),
                say::mm(there_is, 0)
            );
            report.say_of(axis, Severity::Caution, message);
        }
    }
}

/// Less travel on an axis, by so much, or by one hole pitch of its rail more, since rails
/// are cut to whole pitches.
fn less_travel_by_pitches(facts: &Facts, axis: Axis, by: Length) -> Remedies {
    let pitch = facts.picked.rail_pitch(axis);
    let shorter = facts.picked.build.area.travel[axis] - by;
    in_turn([shorter, shorter - pitch].map(|to| travel(facts, axis, to)))
}

fn room_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let wanted = facts.machine.geometry.footprint[axis] + units::mm::of(ACCESS_MM);
    let over = wanted - room_of(facts, axis);
    in_turn([
        each_option(facts, "frame_plan"),
        less_travel_by_pitches(facts, axis, over),
    ])
}

fn door(facts: &Facts, report: &mut Report) {
    let narrowest = facts.machine.geometry.narrowest_carry();
    let door = facts.picked.build.area.door;
    if narrowest > door {
        let message = format!(
            "however it is turned, the machine is {} wide; the narrowest door is {}",
            say::mm(narrowest, 0),
            say::mm(door, 0)
        );
        report.say(Severity::Caution, message);
    }
}

fn door_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let over = facts.machine.geometry.narrowest_carry() - facts.picked.build.area.door;
    let clearance = units::mm::from(facts.picked.build.area.clearance - over);
    in_turn([
        each_option(facts, "frame_plan"),
        number(facts, "clearance_mm", clearance, false),
        less_travel_by_pitches(facts, Axis::X, over),
        less_travel_by_pitches(facts, Axis::Y, over),
    ])
}
