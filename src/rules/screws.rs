//! Ball and lead screws: how fast they may turn, what they bear, and room to grow as they warm.

use super::decided::MOTION;
use super::drive::working_force;
use super::fit::other_screws;
use super::rapids::{limit, slower_wish};
use super::remedy::{in_turn, number, set};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity, edit};
use crate::build::Axis;
use crate::build::choices::drive::ScrewEnds;
use crate::catalogue::{LinearDrive, Step};
use crate::machine::drive::BUCKLING_SAFETY;
use crate::machine::limits::LimitName;
use crate::machine::section::steel_modulus;
use crate::units::{self, AngularVelocity, Force, Length, Velocity};
use crate::words::Words;

/// Growth of steel for a kelvin (handbook value).
const STEEL_GROWTH: f64 = 12e-6;

/// Warming of a screw by its nut and the motor, in kelvins (common practice).
const SCREW_WARMING_K: f64 = 10.0;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "screw-whirl",
        title: "Screw whips at the wanted rapids",
        severities: &[Severity::Danger],
        step: Step::Drive,
        watches: "The turning speed of each screw at the wanted rapids, against 0.8 of the speed at which it whips.",
        because: "Near its critical speed a screw bends out like a skipping rope, hits what is near and tears its bearings out.",
        from: "First bending mode of a round bar by Euler and Bernoulli, ends as chosen, times 0.8 (every screw catalogue).",
        instead: "Hold the ends firmer, take a thicker screw or a longer lead, or set slower rapids in the controller.",
        reads: &[Fact::Wishes, Fact::Drives, Fact::Axes],
        decided_by: Some(&["drives_a", "ends_a", "screw_length_a_mm", "preloaded_nuts"]),
        check: whirl,
        remedies: whirl_remedies,
        example: Example {
            given: &[],
            choice: "rapid_wish_m_per_min",
            fires: "32",
            quiet: "30",
        },
    },
    Rule {
        id: "nut-too-fast",
        title: "The nut turns too fast",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The turning speed of each screw at the wanted rapids, against what its nut bears.",
        because: "Above its limit the balls crash into the return of the nut, or a plain nut melts: it lasts weeks instead of years.",
        from: "Diameter x speed (DN): by the part's data, 50 000 for rolled nuts whose data say nothing (common practice); sliding speed for plain nuts.",
        instead: "Take a longer lead or a smaller diameter, or set slower rapids in the controller.",
        reads: &[Fact::Wishes, Fact::Drives, Fact::Axes],
        decided_by: Some(&["drives_a"]),
        check: nut,
        remedies: nut_remedies,
        example: Example {
            given: &[],
            choice: "rapid_wish_z_m_per_min",
            fires: "22.5",
            quiet: "21.5",
        },
    },
    Rule {
        id: "screw-buckles",
        title: "The screw buckles",
        severities: &[Severity::Danger],
        step: Step::Drive,
        watches: "The thrust along each screw in work, and against a stop, at the nut's farthest place.",
        because: "A slender screw that is pushed too hard bows out sideways at once and stays bent; on Z, what it carries comes down.",
        from: "Euler's load for the ends as chosen: half of it in work (every screw catalogue), all of it against a stop, where the motor pushes until it stalls.",
        instead: "Take a thicker screw or hold its ends firmer; a weaker motor or less driver current also pushes less against a stop.",
        reads: &[
            Fact::Wishes,
            Fact::Drives,
            Fact::Axes,
            Fact::Masses,
            Fact::Motors,
        ],
        decided_by: Some(&[MOTION]),
        check: buckling,
        remedies: buckling_remedies,
        example: Example {
            given: &[],
            choice: "cutting_force_n",
            fires: "4600",
            quiet: "4400",
        },
    },
    Rule {
        id: "both-ends-clamped",
        title: "No room for the screw to grow",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "Screws with both ends fixed that are not stretched.",
        because: "A screw warms as it works. With nowhere to go it presses on its bearings, bows, and whips sooner.",
        from: "Thrust = E x 12 µm per metre and kelvin x cross-section (handbook values); 10 K of warming (common practice).",
        instead: "Stretch the screw as far as it will grow when you set it, or let one end float.",
        reads: &[Fact::Drives],
        decided_by: Some(&["drives_a", "ends_a", "stretched_screws"]),
        check: clamped,
        remedies: clamped_remedies,
        example: Example {
            given: &[("ends_x", "fixed-fixed")],
            choice: "stretched_screws",
            fires: "no",
            quiet: "yes",
        },
    },
];

/// The axes that the wanted rapids take beyond a limit: the screw's speed then, and the
/// limit as turns and as speed.
fn beyond(
    facts: &Facts,
    name: LimitName,
) -> Vec<(Axis, AngularVelocity, AngularVelocity, Velocity)> {
    let too_fast = |axis: Axis| {
        let wish = facts.picked.build.area.wanted_rapids(axis);
        let figures = &facts.machine.axes[axis];
        let allowed = limit(figures, name)?;
        (wish > allowed).then(|| {
            (
                axis,
                figures.turns_at(wish),
                figures.turns_at(allowed),
                allowed,
            )
        })
    };
    Axis::EACH.into_iter().filter_map(too_fast).collect()
}

fn whirl(facts: &Facts, report: &mut Report) {
    for (axis, turning, allowed, speed) in beyond(facts, LimitName::Whirl) {
        let message = format!(
            "{}: {} at your {}, the screw whips above {} ({})",
            axis.title(),
            say::rpm(turning),
            say::feed(facts.picked.build.area.wanted_rapids(axis)),
            say::rpm(allowed),
            say::feed(speed)
        );
        report.say_of(axis, Severity::Danger, message);
    }
}

/// Ends held one step firmer and more; both ends fixed only with the screw stretched.
fn firmer_ends(facts: &Facts, axis: Axis) -> Remedies {
    let ends = axis.choice("ends");
    let supported = set(facts, &ends, ScrewEnds::FixedSupported.id());
    let mut stretched = edit(facts, &ends, ScrewEnds::FixedFixed.id());
    stretched.extend(edit(facts, "stretched_screws", "yes"));
    match facts.picked.build.drive.ends[axis] {
        ScrewEnds::FixedFree => in_turn([supported, vec![stretched]]),
        ScrewEnds::FixedSupported => vec![stretched],
        ScrewEnds::FixedFixed => Vec::new(),
    }
}

fn whirl_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let now = facts.picked.axes[axis].drive;
    let faster = |other: &LinearDrive| {
        other.travel_a_turn() > now.travel_a_turn() || diameter(other) > diameter(&now)
    };
    in_turn([
        firmer_ends(facts, axis),
        other_screws(facts, axis, faster),
        slower_wish(facts, axis, |figures| limit(figures, LimitName::Whirl)),
    ])
}

/// The nominal diameter of a screw.
pub(super) fn diameter(drive: &LinearDrive) -> Option<Length> {
    drive.screw().map(|screw| screw.diameter)
}

/// The root diameter of a screw.
fn root(drive: &LinearDrive) -> Option<Length> {
    drive.screw().map(|screw| screw.root)
}

fn nut(facts: &Facts, report: &mut Report) {
    for (axis, turning, allowed, speed) in beyond(facts, LimitName::Nut) {
        let wish = facts.picked.build.area.wanted_rapids(axis);
        let [speed, wish] = say::feeds(speed, wish);
        let message = format!(
            "{}: {} at your {wish}, the nut bears {} ({speed})",
            axis.title(),
            say::rpm(turning),
            say::rpm(allowed),
        );
        report.say_of(axis, Severity::Fault, message);
    }
}

fn nut_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let now = facts.picked.axes[axis].drive;
    in_turn([
        other_screws(facts, axis, |other| {
            other.travel_a_turn() >= now.travel_a_turn()
        }),
        slower_wish(facts, axis, |figures| limit(figures, LimitName::Nut)),
    ])
}

/// Thrust of a motor that runs against a stop, at the least speed, where it stalls.
fn stall_thrust(facts: &Facts, axis: Axis) -> Force {
    let figures = &facts.machine.axes[axis];
    let torque = units::nm::from(figures.curve.pull_out(units::rpm::of(0.0)));
    let per_radian = units::m::from(figures.drive.travel_a_turn) / (2.0 * std::f64::consts::PI);
    units::n::of(torque * units::share::from(figures.drive.efficiency) / per_radian)
}

fn buckling(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let figures = &facts.machine.axes[axis];
        if !facts.picked.axes[axis].drive.is_screw() {
            continue;
        }
        let bears = figures.drive.greatest_force;
        let (work, stall) = (working_force(facts, axis), stall_thrust(facts, axis));
        let message = if work > bears {
            format!(
                "{}: {} along the screw in work, it bears {}, half of what buckles it",
                axis.title(),
                say::newtons(work),
                say::newtons(bears)
            )
        } else if stall > bears * BUCKLING_SAFETY {
            format!(
                "{}: against a stop the motor pushes {}, the screw buckles at {}",
                axis.title(),
                say::newtons(stall),
                say::newtons(bears * BUCKLING_SAFETY)
            )
        } else {
            continue;
        };
        report.say_of(axis, Severity::Danger, message);
    }
}

fn buckling_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let now = root(&facts.picked.axes[axis].drive);
    let thicker = |other: &LinearDrive| root(other) > now;
    let share = units::percent::from(facts.picked.build.drive.current_share);
    let weaker = [0.8, 0.6, 0.4].map(|of| number(facts, "current_percent", share * of, false));
    let bears = units::n::from(facts.machine.axes[axis].drive.greatest_force);
    let besides =
        units::n::from(working_force(facts, axis) - facts.picked.build.area.cutting_force);
    in_turn([
        firmer_ends(facts, axis),
        other_screws(facts, axis, thicker),
        in_turn(weaker),
        number(facts, "cutting_force_n", bears - besides, false),
    ])
}

fn clamped(facts: &Facts, report: &mut Report) {
    let motion = &facts.picked.build.drive;
    for axis in Axis::EACH {
        let drives = facts.picked.drives(axis).into_iter();
        let roots = drives.filter_map(|drive| root(&drive));
        // Of two that differ the thicker one presses harder.
        let Some(root) = roots.reduce(|one, other| one.max(other)) else {
            continue;
        };
        if motion.ends[axis] != ScrewEnds::FixedFixed || motion.stretched_screws {
            continue;
        }
        let d = units::mm::from(root);
        let section = std::f64::consts::PI / 4.0 * d * d;
        let modulus = units::gpa::from(steel_modulus()) * 1e3;
        let push = modulus * STEEL_GROWTH * SCREW_WARMING_K * section;
        let message = format!(
            "{}: both ends fixed: {SCREW_WARMING_K} K of warming press with {} on the bearings",
            axis.title(),
            say::newtons(units::n::of(push))
        );
        report.say_of(axis, Severity::Caution, message);
    }
}

fn clamped_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    in_turn([
        set(facts, "stretched_screws", "yes"),
        set(facts, &axis.choice("ends"), ScrewEnds::FixedSupported.id()),
    ])
}
