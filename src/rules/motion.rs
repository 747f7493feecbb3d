//! Motion: steppers that shake, servos that get too warm, and stops that push the supply up.

use super::fit::{other_motors, other_screws, other_supplies};
use super::rapids::used_rapids;
use super::remedy::{in_turn, number, set};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::motor::MotorKind;
use crate::catalogue::{Motor, Step};
use crate::units::{self, Velocity};
use crate::words::Words;

/// How near a speed must come to the one that shakes, as a share of it (common practice).
const NEAR: f64 = 0.2;

/// Microsteps a full step from which on a stepper runs smoothly (common practice).
const SMOOTH_MICROSTEPS: u32 = 5;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "stepper-shakes",
        title: "Stepper shakes at a speed you use",
        severities: &[Severity::Hint],
        step: Step::Drive,
        watches: "The cutting feed and the rapids of each open-loop stepper with coarse microsteps, against the speed at which full steps excite its natural swing.",
        because: "Rotor and load swing on the motor's magnetic spring. Steps that come at the same rate feed the swing: the cut gets rough, and steps are lost without notice.",
        from: "f = root(k/J)/2π with k = 50 x torque amplitude (handbook of stepping motors); within 20 %, with fewer than 5 microsteps (common practice).",
        instead: "Set 8 microsteps or more, or cut at another feed.",
        reads: &[
            Fact::Wishes,
            Fact::Axes,
            Fact::Motors,
            Fact::Drivers,
            Fact::Masses,
        ],
        decided_by: None,
        check: shakes,
        remedies: shakes_remedies,
        example: Example {
            given: &[("cutting_feed_m_per_min", "0.4")],
            choice: "microsteps",
            fires: "4",
            quiet: "5",
        },
    },
    Rule {
        id: "servo-too-warm",
        title: "Servo works above its rated torque",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "The mean (RMS) torque of each servo over a typical work cycle, against its rated torque.",
        because: "A servo bears its peak for a second or two only. Worked harder on the average it gets hot, and its driver stops it in the middle of a cut.",
        from: "Root mean square over a way out at rapids, a way back in the cut and a pause <= rated torque (servo makers' rule; cycle by common practice).",
        instead: "Take a stronger servo or a shorter lead, cut less hard, or accelerate more gently.",
        reads: &[
            Fact::Wishes,
            Fact::Axes,
            Fact::Motors,
            Fact::Drives,
            Fact::Masses,
        ],
        decided_by: None,
        check: too_warm,
        remedies: too_warm_remedies,
        example: Example {
            given: &[
                ("motor_x", "servo-180w-dc"),
                ("driver_x", "driver-servo-dc"),
            ],
            choice: "cutting_force_n",
            fires: "380",
            quiet: "340",
        },
    },
    Rule {
        id: "no-place-for-regeneration",
        title: "Braking has nowhere to go",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "The voltage of the motors' supply after X and Y stop together from their rapids, or Z, against what drivers and supply bear.",
        because: "A braking motor is a generator. What nothing takes up lifts the supply's voltage, until a driver or the supply switches off in the middle of a job, or dies.",
        from: "Energy of what moves and turns, less friction and the heat of stepper windings, into the supply's capacitors: V² = V0² + 2 E/C.",
        instead: "Add a braking resistor, lower the supply's voltage, or brake more gently.",
        reads: &[
            Fact::Axes,
            Fact::Masses,
            Fact::Motors,
            Fact::Drivers,
            Fact::Supply,
            Fact::Wishes,
        ],
        decided_by: None,
        check: regeneration,
        remedies: regeneration_remedies,
        example: Example {
            given: &[
                ("motor_x", "servo-400w-dc"),
                ("driver_x", "driver-servo-dc"),
                ("motor_y", "servo-400w-dc"),
                ("driver_y", "driver-servo-dc"),
                ("controller", "controller-ethernet-6"),
                ("acceleration_m_per_s2", "2"),
            ],
            choice: "rapid_wish_m_per_min",
            fires: "19",
            quiet: "17",
        },
    },
];

/// The speed that an axis uses near the one at which it shakes, where there is one.
fn shaking(facts: &Facts, axis: Axis) -> Option<(&'static str, Velocity, Velocity)> {
    let open_loop = facts.picked.axes[axis].motor.kind() == MotorKind::OpenLoop;
    if !open_loop || facts.picked.build.drive.microsteps >= SMOOTH_MICROSTEPS {
        return None;
    }
    let shakes = facts.machine.axes[axis].resonance?.speed;
    let area = &facts.picked.build.area;
    let used = [
        ("cutting feed", area.wanted_feed(axis)),
        ("rapids", used_rapids(facts, axis)),
    ];
    let near = |speed: Velocity| {
        let apart = units::m_per_min::from(speed) - units::m_per_min::from(shakes);
        apart.abs() <= NEAR * units::m_per_min::from(shakes)
    };
    let found = used.into_iter().find(|(_, speed)| near(*speed));
    found.map(|(name, speed)| (name, speed, shakes))
}

fn shakes(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let Some((name, speed, shakes)) = shaking(facts, axis) else {
            continue;
        };
        let metres = |speed| say::at_most(units::m_per_min::from(speed), 2);
        let microsteps = facts.picked.build.drive.microsteps;
        let message = format!(
            "{}: {name} {} m/min, full steps shake it at {} m/min; {}",
            axis.title(),
            metres(speed),
            metres(shakes),
            say::count(microsteps, "microstep")
        );
        report.say_of(axis, Severity::Hint, message);
    }
}

fn shakes_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let finer = [8.0, 16.0].map(|microsteps| number(facts, "microsteps", microsteps, true));
    in_turn(finer)
}

fn too_warm(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let figures = &facts.machine.axes[axis];
        let rated = figures.curve.lasting(units::rpm::of(0.0));
        if let Some(duty) = &figures.duty
            && duty.mean > rated
        {
            let message = format!(
                "{}: {} on the average of a typical work cycle, rated {}",
                axis.title(),
                say::torque(duty.mean, 2),
                say::torque(rated, 2)
            );
            report.say_of(axis, Severity::Caution, message);
        }
    }
}

fn too_warm_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let chosen = &facts.picked.axes[axis];
    let lead = chosen.drive.travel_a_turn();
    let rated = facts.machine.axes[axis].curve.lasting(units::rpm::of(0.0));
    let force = units::n::from(facts.picked.build.area.cutting_force);
    let stronger = |motor: &Motor| match motor {
        Motor::Servo(servo) => servo.rated > rated,
        Motor::Stepper(_) => false,
    };
    let lighter =
        [0.75, 0.5, 0.25].map(|share| number(facts, "cutting_force_n", force * share, false));
    in_turn([
        other_motors(facts, axis, stronger),
        other_screws(facts, axis, |other| other.travel_a_turn() < lead),
        in_turn(lighter),
    ])
}

fn regeneration(facts: &Facts, report: &mut Report) {
    let rise = &facts.machine.electrics.supply.braking;
    let volts = facts.picked.supply.volts;
    // A supply above what drivers bear is another rule's business.
    if let Some(bears) = rise.bears
        && rise.volts > bears
        && volts <= bears
    {
        let message = format!(
            "stopping from rapids feeds back {} J, which lifts {} to {}; driver or supply bear {}",
            say::at_most(units::j::from(rise.energy), 1),
            say::volts(volts),
            say::volts(rise.volts),
            say::volts(bears)
        );
        report.say(Severity::Caution, message);
    }
}

fn regeneration_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let now = facts.picked.supply.volts;
    in_turn([
        set(facts, "braking_clamp", "yes"),
        other_supplies(facts, |other| other.volts < now),
    ])
}
