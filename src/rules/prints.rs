//! Printed parts: plastics soften long before anything else in the machine minds the heat.

use super::remedy::{in_turn, number, options_where};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::frame::{Heat, PerWhat, Print};
use crate::catalogue::spindle::Cooling;
use crate::catalogue::{Id, Motor, Step};
use crate::units;

/// The room, in °C (common practice).
const ROOM_C: f64 = 25.0;

/// How much warmer than the room the case of a stepper gets that holds still at its rated
/// current, in kelvins: 60 to 85 °C are measured (common practice).
const STEPPER_RISE_K: f64 = 50.0;

/// How much warmer the case of a servo gets in usual work, in kelvins (common practice).
const SERVO_RISE_K: f64 = 30.0;

/// The body of a spindle cooled by water, in °C (common practice).
const WATER_SPINDLE_C: f64 = 40.0;

/// The body of a spindle cooled by its fan, in °C (common practice).
const FAN_SPINDLE_C: f64 = 60.0;

/// Distance that a loaded plastic keeps from its glass transition, in kelvins (handbook
/// practice for creep).
const DISTANCE_K: f64 = 15.0;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[Rule {
    id: "print-near-heat",
    title: "Printed part softens",
    severities: &[Severity::Danger, Severity::Caution],
    step: Step::WorkingArea,
    watches: "Printed parts at a motor or spindle: how close it gets to the temperature at which the plastic softens.",
    because: "A plastic near its glass transition creeps: the motor sags and the belt or coupling runs askew. Where the spindle or Z hangs on the part, it comes down.",
    from: "15 K below the glass transition for loaded parts (handbook practice for creep); a stepper's case gets 50 K warmer than the room at its rated current, and with the square of the current (common practice).",
    instead: "Print it from a plastic that bears more heat, such as ASA, set the drivers to less current, or make it from plate.",
    reads: &[Fact::Frame, Fact::Motors, Fact::Drivers, Fact::Spindle],
    decided_by: Some(&["motor_a", "driver_a", "current_percent", "spindle"]),
    check,
    remedies,
    example: Example {
        given: &[("filament", "filament-petg")],
        choice: "current_percent",
        fires: "90",
        quiet: "85",
    },
}];

/// The axis whose motor a print holds.
fn axis_of(per: PerWhat) -> Option<Axis> {
    match per {
        PerWhat::MotorX => Some(Axis::X),
        PerWhat::MotorY => Some(Axis::Y),
        PerWhat::MotorZ => Some(Axis::Z),
        PerWhat::Machine
        | PerWhat::Switch
        | PerWhat::ScrewX
        | PerWhat::ScrewY
        | PerWhat::ScrewZ => None,
    }
}

/// The temperature in °C of what heats a print; none where nothing does.
fn heat_of(facts: &Facts, print: &Print) -> Option<f64> {
    match print.heated_by {
        Heat::Nothing => None,
        Heat::Spindle => Some(match facts.picked.spindle.cooling {
            Cooling::Water => WATER_SPINDLE_C,
            Cooling::Fan => FAN_SPINDLE_C,
        }),
        Heat::Motor => match axis_of(print.per) {
            Some(axis) => Some(ROOM_C + motor_rise(facts, axis)),
            None => Axis::EACH
                .into_iter()
                .map(|axis| ROOM_C + motor_rise(facts, axis))
                .reduce(f64::max),
        },
    }
}

/// How much warmer than the room the case of a motor gets, in kelvins.
fn motor_rise(facts: &Facts, axis: Axis) -> f64 {
    let chosen = &facts.picked.axes[axis];
    match chosen.motor {
        Motor::Servo(_) => SERVO_RISE_K,
        Motor::Stepper(motor) => {
            let wanted = units::percent::from(facts.picked.build.drive.current_share) / 100.0;
            let given =
                units::a::from(chosen.driver.greatest_current) / units::a::from(motor.current);
            STEPPER_RISE_K * wanted.min(given).powi(2)
        }
    }
}

fn check(facts: &Facts, report: &mut Report) {
    let filament = facts.picked.filament;
    let softens = units::celsius::from(filament.glass_transition);
    for print in &facts.picked.frame.print {
        let Some(heat) = heat_of(facts, print) else {
            continue;
        };
        if heat + DISTANCE_K <= softens {
            continue;
        }
        let severity = if print.bears_z {
            Severity::Danger
        } else {
            Severity::Caution
        };
        let source = if print.heated_by == Heat::Motor {
            "motor"
        } else {
            "spindle"
        };
        let message = format!(
            "{}: {} softens at {} °C, its {source} gets {} °C warm; keep {DISTANCE_K} K of distance",
            print.title,
            filament.polymer,
            say::at_most(softens, 0),
            say::at_most(heat, 0)
        );
        match axis_of(print.per) {
            Some(axis) => report.say_of(axis, severity, message),
            None => report.say(severity, message),
        }
    }
}

/// A plastic that bears the hottest print, or less current in the motors.
fn remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let prints = facts.picked.frame.print.iter();
    let hottest = prints
        .filter_map(|print| heat_of(facts, print))
        .fold(0.0, f64::max);
    let bears = |id: &Id| {
        let filament = facts.picked.catalogue.filaments.get(id);
        filament
            .is_some_and(|one| units::celsius::from(one.glass_transition) >= hottest + DISTANCE_K)
    };
    let softens = units::celsius::from(facts.picked.filament.glass_transition);
    let room = softens - DISTANCE_K - ROOM_C;
    let share = (room.max(0.0) / STEPPER_RISE_K).sqrt() * 100.0;
    in_turn([
        options_where(facts, "filament", bears),
        number(facts, "current_percent", share, false),
    ])
}
