//! Rapids: which axis is slower than wanted, and what would make it faster.

use super::decided::CUT;
use super::fit::{other_drives, other_motors, other_screws, other_supplies};
use super::remedy::{each_option, in_turn, number};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity, supply};
use crate::build::{Axis, Picked};
use crate::catalogue::{LinearDrive, Step};
use crate::explain::Silent;
use crate::machine::axis::AxisFigures;
use crate::machine::limits::LimitName;
use crate::units::{self, Velocity};
use crate::words::Words;

/// What the next longer lead must gain to be worth a word: a quarter (common practice).
const LEAD_GAIN: f64 = 1.25;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "short-lead-caps-rapids",
        title: "The lead is too short for the rapids",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "Axes slower than the wanted rapids that a limit in turns holds back, where the next longer lead is a quarter faster.",
        because: "Whirl, nut, motor and pulses limit turns, not speed: a longer lead goes farther with each turn.",
        from: "Rapids with the next longer lead on offer, 25 % above those with the present one (calculation).",
        instead: "Take the next longer lead, if the coarser step and the lower thrust are still enough.",
        reads: &[Fact::Wishes, Fact::Drives, Fact::Axes, Fact::Motors],
        decided_by: None,
        check: short_lead,
        remedies: short_lead_remedies,
        example: Example {
            given: &[],
            choice: "rapid_wish_z_m_per_min",
            fires: "10",
            quiet: "9",
        },
    },
    Rule {
        id: "rapids-below-wish",
        title: "Slower than wanted",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "What each axis reaches against the wanted rapids, where its motor holds it back and no other rule says more.",
        because: "The controller would be set to a speed at which the motor loses steps or stalls.",
        from: "Least of all limits of the axis, at the wanted acceleration (calculation).",
        instead: "Set slower rapids, accelerate more gently, or take a motor, supply or lead that reaches them.",
        reads: &[
            Fact::Wishes,
            Fact::Axes,
            Fact::Drives,
            Fact::Motors,
            Fact::Drivers,
            Fact::Supply,
        ],
        decided_by: None,
        check: slow,
        remedies: slow_remedies,
        example: Example {
            given: &[
                ("drive_x", "ball-screw-20x20"),
                ("drive_y", "ball-screw-20x20"),
            ],
            choice: "rapid_wish_m_per_min",
            fires: "40",
            quiet: "37",
        },
    },
    Rule {
        id: "rapids-never-reached",
        title: "Too short a way for the rapids",
        severities: &[Severity::Hint],
        step: Step::Drive,
        watches: "The speed that an axis gets up to over its whole travel, from rest to rest, against the rapids that you want of it.",
        because: "Faster motors or longer leads are paid for and never felt: only a quicker start helps.",
        from: "Half of the way to gather speed, half to stop, by the controller's ramp (calculation).",
        instead: "Let it accelerate faster, if the motor and the frame allow that, or want less.",
        reads: &[
            Fact::Wishes,
            Fact::Geometry,
            Fact::Masses,
            Fact::Axes,
            Fact::Drives,
            Fact::Motors,
            Fact::Drivers,
            Fact::Supply,
            Fact::Controller,
        ],
        decided_by: None,
        check: never_reached,
        remedies: super::no_remedy,
        example: Example {
            given: &[("rapid_wish_m_per_min", "15")],
            choice: "travel_x_mm",
            fires: "80",
            quiet: "100",
        },
    },
    Rule {
        id: "feed-out-of-reach",
        title: "An axis cannot follow the cutting feed",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "What X and Y reach at the wanted acceleration, against the wanted cutting feed, and Z against a third of it.",
        because: "An axis that cannot reach the feed loses its place in the middle of the cut.",
        from: "Least of all limits of the axis, at the wanted acceleration (calculation).",
        instead: "Accelerate more gently, cut slower, or take a stronger motor or a longer lead.",
        reads: &[Fact::Wishes, Fact::Axes, Fact::Drives, Fact::Motors],
        decided_by: Some(CUT),
        check: feed,
        remedies: feed_remedies,
        example: Example {
            given: &[],
            choice: "cutting_feed_m_per_min",
            fires: "30",
            quiet: "27",
        },
    },
];

/// The axis as it would be with another drive; a pair gets it on both sides.
fn with_drive(facts: &Facts, axis: Axis, drive: LinearDrive) -> AxisFigures {
    let mut picked: Picked = facts.picked.clone();
    picked.axes[axis].drive = drive;
    if axis == Axis::Y {
        picked.second_drive = drive;
    }
    AxisFigures::of(
        &picked,
        &facts.machine.geometry,
        &facts.machine.masses,
        axis,
        &mut Silent,
    )
}

/// Screws of the same kind, no thinner, of the next longer lead on offer.
fn next_longer<'a>(facts: &Facts<'a>, now: LinearDrive) -> Option<LinearDrive<'a>> {
    let catalogue = facts.picked.catalogue;
    let longer: Vec<LinearDrive> = match now {
        LinearDrive::Ball(screw) => catalogue
            .ball_screws
            .values()
            .filter(|one| one.lead > screw.lead && one.diameter >= screw.diameter)
            .map(LinearDrive::Ball)
            .collect(),
        LinearDrive::Lead(screw) => catalogue
            .lead_screws
            .values()
            .filter(|one| one.lead > screw.lead && one.diameter >= screw.diameter)
            .map(LinearDrive::Lead)
            .collect(),
        LinearDrive::Rack(_) | LinearDrive::Belt(_) => return None,
    };
    let lead = |drive: &LinearDrive| units::mm::from(drive.travel_a_turn());
    longer
        .into_iter()
        .min_by(|a, b| lead(a).total_cmp(&lead(b)))
}

/// The next longer lead that lifts an axis below the wanted rapids by a quarter, and the
/// rapids with it.
fn better_lead<'a>(facts: &Facts<'a>, axis: Axis) -> Option<(LinearDrive<'a>, Velocity)> {
    let figures = &facts.machine.axes[axis];
    let wish = facts.picked.build.area.wanted_rapids(axis);
    if figures.rapid >= wish || figures.limited_by == LimitName::Track {
        return None;
    }
    let longer = next_longer(facts, facts.picked.axes[axis].drive)?;
    let rapid = with_drive(facts, axis, longer).rapid;
    (rapid > figures.rapid * LEAD_GAIN).then_some((longer, rapid))
}

fn short_lead(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let Some((longer, rapid)) = better_lead(facts, axis) else {
            continue;
        };
        let figures = &facts.machine.axes[axis];
        let wish = facts.picked.build.area.wanted_rapids(axis);
        let [reached, wish] = say::feeds(figures.rapid, wish);
        let message = format!(
            "{}: held to {reached} by {} at lead {}, you want {wish}; lead {} reaches {}",
            axis.title(),
            figures.held_by(),
            say::mm(facts.picked.axes[axis].drive.travel_a_turn(), 0),
            say::mm(longer.travel_a_turn(), 0),
            say::feed(rapid)
        );
        report.say_of(axis, Severity::Caution, message);
    }
}

fn short_lead_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let lead = facts.picked.axes[axis].drive.travel_a_turn();
    let named = better_lead(facts, axis).map(|(longer, _)| longer.part().id());
    in_turn([
        other_screws(facts, axis, |other| Some(other.part().id()) == named),
        other_screws(facts, axis, |other| other.travel_a_turn() > lead),
        slower_wish(facts, axis, |figures| Some(figures.rapid)),
    ])
}

/// The wanted rapids of an axis, lowered to a speed; X and Y have theirs in common, so the
/// slower of them counts.
pub(super) fn slower_wish(
    facts: &Facts,
    axis: Axis,
    speed: impl Fn(&AxisFigures) -> Option<Velocity>,
) -> Remedies {
    let (choice, axes): (_, &[Axis]) = match axis {
        Axis::Z => ("rapid_wish_z_m_per_min", &[Axis::Z]),
        Axis::X | Axis::Y => ("rapid_wish_m_per_min", &[Axis::X, Axis::Y]),
    };
    let speeds = axes
        .iter()
        .filter_map(|&axis| speed(&facts.machine.axes[axis]));
    let least = speeds
        .map(units::m_per_min::from)
        .fold(f64::INFINITY, f64::min);
    number(facts, choice, least, false)
}

/// The speed at which a limit of an axis lies, where the axis has it.
pub(super) fn limit(figures: &AxisFigures, name: LimitName) -> Option<Velocity> {
    let mut limits = figures.limits.iter();
    let limit = limits.find(|limit| limit.name == name)?;
    Some(limit.speed)
}

/// Rapids of an axis as wanted, or as far as they are reached.
pub(super) fn used_rapids(facts: &Facts, axis: Axis) -> Velocity {
    let wish = facts.picked.build.area.wanted_rapids(axis);
    facts.machine.axes[axis].rapid.min(wish)
}

/// Whether it is the motor that holds an axis back: every other limit has a rule of its own.
fn held_by_motor(figures: &AxisFigures) -> bool {
    matches!(figures.limited_by, LimitName::Motor | LimitName::MotorSpeed)
}

fn slow(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let wish = facts.picked.build.area.wanted_rapids(axis);
        let figures = &facts.machine.axes[axis];
        let explained = figures.rapid < facts.picked.build.area.wanted_feed(axis)
            || better_lead(facts, axis).is_some()
            || supply::higher(facts, axis).is_some();
        if figures.rapid < wish && held_by_motor(figures) && !explained {
            let [reached, wish] = say::feeds(figures.rapid, wish);
            let message = format!(
                "{}: reaches {reached}, held back by {}; you want {wish}",
                axis.title(),
                figures.held_by(),
            );
            report.say_of(axis, Severity::Caution, message);
        }
    }
}

/// What a move over the whole travel must fall short of the rapids by to be worth a word: less than
/// a twentieth nobody sees (common practice).
const NEARLY: f64 = 0.95;

fn never_reached(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let figures = &facts.machine.axes[axis];
        let wanted = used_rapids(facts, axis);
        let Some(whole) = figures.over(figures.travel) else {
            continue;
        };
        if whole.peak < wanted * NEARLY {
            let [peak, wanted] = say::feeds(whole.peak, wanted);
            let message = format!(
                "{}: {wanted} are never reached: the travel of {} ends at {peak}",
                axis.title(),
                say::mm(figures.travel, 0),
            );
            report.say_of(axis, Severity::Hint, message);
        }
    }
}

/// A half, a quarter and a tenth of the wanted acceleration.
pub(super) fn gentler(facts: &Facts) -> Remedies {
    let now = units::m_per_s2::from(facts.picked.build.area.acceleration);
    in_turn(
        [0.5, 0.25, 0.1].map(|share| number(facts, "acceleration_m_per_s2", now * share, false)),
    )
}

fn slow_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    in_turn([
        gentler(facts),
        other_motors(facts, axis, |_| true),
        other_drives(facts, axis, |_| true),
        each_option(facts, "controller"),
        other_supplies(facts, |other| other.volts > facts.picked.supply.volts),
        slower_wish(facts, axis, |figures| Some(figures.rapid)),
    ])
}

fn feed(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let figures = &facts.machine.axes[axis];
        let wanted = facts.picked.build.area.wanted_feed(axis);
        // What limits turns or pulses below the wanted rapids has a rule of its own.
        let told = figures.rapid < facts.picked.build.area.wanted_rapids(axis);
        if figures.rapid < wanted && (held_by_motor(figures) || !told) {
            let [reached, wanted] = say::feeds(figures.rapid, wanted);
            let message = format!(
                "{}: reaches {reached} at {}, held back by {}; the cut wants {wanted}",
                axis.title(),
                say::acceleration(facts.picked.build.area.acceleration),
                figures.held_by(),
            );
            report.say_of(axis, Severity::Fault, message);
        }
    }
}

fn feed_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let lead = facts.picked.axes[axis].drive.travel_a_turn();
    let slowest = Axis::EACH
        .map(|axis| {
            let share =
                facts.picked.build.area.wanted_feed(axis) / facts.picked.build.area.cutting_feed;
            units::m_per_min::from(facts.machine.axes[axis].rapid / share)
        })
        .into_iter()
        .fold(f64::INFINITY, f64::min);
    in_turn([
        gentler(facts),
        other_screws(facts, axis, |other| other.travel_a_turn() > lead),
        other_motors(facts, axis, |_| true),
        number(facts, "cutting_feed_m_per_min", slowest, false),
    ])
}
