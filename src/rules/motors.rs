//! Motors: what they hold, how well they match their load, how exact they are.

use super::decided::MOTION;
use super::fit::{other_motors, other_screws};
use super::rapids::slower_wish;
use super::rapids::used_rapids;
use super::remedy::{in_turn, number};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::build::choices::working_area::Experience;
use crate::catalogue::motor::MotorKind;
use crate::catalogue::{Motor, Step};
use crate::machine::axis::AxisFigures;
use crate::machine::axis::HOLDING_SHARE;
use crate::units;
use crate::words::Words;

/// Load over rotor inertia at which motors still settle well; sources name 3 to 20.
const INERTIA_WELL: f64 = 10.0;

/// Load over rotor inertia above which tuning is unlikely to succeed.
const INERTIA_HOPELESS: f64 = 20.0;

/// Where published torque curves end.
const CURVES_END_RPM: f64 = 1500.0;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "stepper-beyond-curves",
        title: "Stepper faster than its published curves",
        severities: &[Severity::Hint],
        step: Step::Drive,
        watches: "Turning speed of an open-loop stepper at the rapids you want, or reach.",
        because: "Published torque curves end there: the model's torque beyond is a guess, and a stepper that stalls does not notice.",
        from: "Published curves of NEMA 17, 23 and 34 motors end at 600 to 1 500 rpm; 1 500 rpm is taken (common practice).",
        instead: "Take a longer lead, or a servo, or set the rapids lower until you have tried where it stalls.",
        reads: &[Fact::Motors, Fact::Axes, Fact::Wishes],
        decided_by: None,
        check: beyond_curves,
        remedies: slower_turns,
        example: Example {
            given: &[],
            choice: "rapid_wish_m_per_min",
            fires: "16",
            quiet: "14",
        },
    },
    Rule {
        id: "z-drops",
        title: "Z sinks without power",
        severities: &[Severity::Danger, Severity::Caution],
        step: Step::Drive,
        watches: "The weight on Z turned back through its drive, against what holds the motor without power.",
        because: "When the power goes, the spindle sinks into the table or on a hand. A servo without brake holds nothing at all.",
        from: "Efficiency of back-driving 2 - 1/efficiency (ISO 3408-5); detent torque or brake planned with at 0.8 (common practice).",
        instead: "Take a motor with a brake or more detent torque, a shorter lead, a screw that holds by itself, or hang Z on a gas spring.",
        reads: &[Fact::Axes, Fact::Motors, Fact::Drives, Fact::Masses],
        decided_by: Some(&[MOTION]),
        check: drops,
        remedies: drops_remedies,
        example: Example {
            given: &[],
            choice: "motor_z",
            fires: "stepper-23-2.4",
            quiet: "stepper-23-3.0",
        },
    },
    Rule {
        id: "inertia-mismatch",
        title: "Load too heavy for the rotor",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "The inertia of everything that a motor moves, against its rotor's.",
        because: "A heavy load swings a light rotor past its place and back: it overshoots and hums, and steppers lose steps.",
        from: "Load : rotor <= 10, above 20 hardly tunable; makers' advice ranges from 3 to 20.",
        instead: "Take a reduction, a shorter lead, or a motor with a heavier rotor.",
        reads: &[Fact::Axes, Fact::Masses, Fact::Motors, Fact::Drives],
        decided_by: None,
        check: inertia,
        remedies: inertia_remedies,
        example: Example {
            given: &[("drive_x", "rack-m1")],
            choice: "reduction",
            fires: "1.5",
            quiet: "1.7",
        },
    },
    Rule {
        id: "servo-wants-tuning",
        title: "Servos on a first machine",
        severities: &[Severity::Hint],
        step: Step::Drive,
        watches: "Servos in the plan of somebody who has not built a machine before.",
        because: "A servo must be tuned to its axis, wants a brake on Z and costs more. A stepper runs on the first evening.",
        from: "Common practice; price of servos and their drivers from the bill.",
        instead: "Begin with steppers, or with closed-loop steppers that notice lost steps; their mounts take a servo later.",
        reads: &[Fact::Wishes, Fact::Motors, Fact::Bill],
        decided_by: Some(&["motor_a"]),
        check: tuning,
        remedies: tuning_remedies,
        example: Example {
            given: &[
                ("motor_x", "servo-180w-dc"),
                ("driver_x", "driver-servo-dc"),
            ],
            choice: "experience",
            fires: "first-build",
            quiet: "some",
        },
    },
];

fn drops(facts: &Facts, report: &mut Report) {
    let figures = &facts.machine.axes.z;
    if !figures.drops {
        return;
    }
    let brakeless =
        matches!(facts.picked.axes.z.motor, Motor::Servo(servo) if servo.brake.is_none());
    let severity = if brakeless {
        Severity::Danger
    } else {
        Severity::Caution
    };
    let held = if figures.holding_torque.value > 0.0 {
        format!(
            "unpowered it holds {}, {} to count on",
            say::torque(figures.holding_torque, 3),
            say::torque(figures.holding_torque * HOLDING_SHARE, 3)
        )
    } else {
        "unpowered nothing holds it".to_owned()
    };
    let message = format!(
        "Z: {} kg turn the motor back with {}; {held}",
        say::at_most(units::kg::from(figures.carried_mass), 1),
        say::torque(figures.back_torque, 3),
    );
    report.say_of(Axis::Z, severity, message);
}

fn drops_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let now = &facts.picked.axes.z;
    let holds = now.motor.holds_unpowered();
    let lead = now.drive.travel_a_turn();
    let same_kind =
        |motor: &Motor| motor.kind() == now.motor.kind() && motor.holds_unpowered() > holds;
    in_turn([
        other_motors(facts, Axis::Z, same_kind),
        other_motors(facts, Axis::Z, |motor| motor.holds_unpowered() > holds),
        other_screws(facts, Axis::Z, |other| other.travel_a_turn() <= lead),
    ])
}

fn inertia(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let mismatch = units::times::from(facts.machine.axes[axis].inertia_ratio);
        if mismatch > INERTIA_WELL {
            let verdict = if mismatch > INERTIA_HOPELESS {
                "above 20 tuning is unlikely"
            } else {
                "10 is what settles well"
            };
            let message = format!(
                "{}: what the motor moves has {} times its rotor's inertia; {verdict}",
                axis.title(),
                say::at_most(mismatch, 1)
            );
            report.say_of(axis, Severity::Caution, message);
        }
    }
}

fn inertia_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let figures = &facts.machine.axes[axis];
    let lead = facts.picked.axes[axis].drive.travel_a_turn();
    let reduction = units::share::from(facts.picked.build.drive.reduction);
    let excess = units::times::from(figures.inertia_ratio) / INERTIA_WELL;
    let rotor = facts.picked.axes[axis].motor.rotor_inertia();
    // Inertia seen through a reduction falls with its square.
    let geared = number(facts, "reduction", reduction * excess.max(1.0).sqrt(), true);
    let toothed = !facts.picked.axes[axis].drive.is_screw();
    in_turn([
        if toothed { geared } else { Vec::new() },
        other_motors(facts, axis, |motor| motor.rotor_inertia() > rotor),
        other_screws(facts, axis, |other| other.travel_a_turn() < lead),
    ])
}

fn tuning(facts: &Facts, report: &mut Report) {
    let is_servo = |axis: &Axis| matches!(facts.picked.axes[*axis].motor, Motor::Servo(_));
    let axes: Vec<Axis> = Axis::EACH.into_iter().filter(is_servo).collect();
    if facts.picked.build.area.experience != Experience::FirstBuild || axes.is_empty() {
        return;
    }
    let mut parts: Vec<&str> = Vec::new();
    for &axis in &axes {
        let chosen = &facts.picked.axes[axis];
        parts.push(chosen.motor.part().id().as_str());
        parts.push(chosen.driver.id.as_str());
    }
    parts.sort_unstable();
    parts.dedup();
    let lines = parts.iter().filter_map(|part| facts.bill.line(part));
    let cost: rust_decimal::Decimal = lines.map(|line| line.total.likely).sum();
    let names: Vec<&str> = axes.iter().map(|axis| axis.title()).collect();
    let message = format!(
        "servos on {}: {} with their drivers, and each must be tuned before the first cut",
        say::list(&names),
        say::money(cost, facts.bill.currency)
    );
    report.say(Severity::Hint, message);
}

/// Steppers, with or without encoder, on every axis that has a servo.
fn tuning_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let servo = |axis: &Axis| matches!(facts.picked.axes[*axis].motor, Motor::Servo(_));
    let swap = |kind: MotorKind| {
        let axes = Axis::EACH.into_iter().filter(servo);
        let each = axes.map(|axis| {
            let ranked = other_motors(facts, axis, |motor| motor.kind() == kind);
            ranked.first().cloned().unwrap_or_default()
        });
        each.flatten().collect::<Vec<_>>()
    };
    let drive = |kind| vec![swap(kind)];
    in_turn([drive(MotorKind::ClosedLoop), drive(MotorKind::OpenLoop)])
}

fn beyond_curves(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let figures = &facts.machine.axes[axis];
        let speed = used_rapids(facts, axis);
        let turns = figures.turns_at(speed);
        let open_loop = facts.picked.axes[axis].motor.kind() == MotorKind::OpenLoop;
        if open_loop && turns > units::rpm::of(CURVES_END_RPM) {
            let message = format!(
                "{}: {} at {}, published torque curves end at {}",
                axis.title(),
                say::rpm(turns),
                say::feed(speed),
                say::rpm(units::rpm::of(CURVES_END_RPM))
            );
            report.say_of(axis, Severity::Hint, message);
        }
    }
}

/// A longer lead, or a wish within the curves.
fn slower_turns(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let lead = facts.machine.axes[axis].drive.travel_a_turn;
    let proven = |figures: &AxisFigures| {
        let lead = units::m::from(figures.drive.travel_a_turn);
        Some(units::m_per_min::of(lead * CURVES_END_RPM))
    };
    in_turn([
        other_screws(facts, axis, |other| other.travel_a_turn() > lead),
        slower_wish(facts, axis, proven),
    ])
}
