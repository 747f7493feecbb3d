//! Motor drivers: current, pulses, microsteps, and which motors and feeds they take.

use super::fit::{other_drivers, other_motors, other_supplies, same_feed, wanted_current};
use super::rapids::slower_wish;
use super::remedy::{in_turn, number, options_where, set};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::motor::{Driver, FeedKind, MotorKind, Provenance};
use crate::catalogue::{Id, Motor, Step};
use crate::machine::limits::PULSE_SHARE;
use crate::units::{self, Frequency};
use crate::words::Words;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "driver-not-for-motor",
        title: "Driver of another kind than the motor",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The kinds of motor that each driver drives.",
        because: "Steppers, closed-loop steppers and servos each want their own driver: another one does not turn the motor, or burns it.",
        from: "Kinds of motor in the driver's data.",
        instead: "Take a driver made for this kind of motor.",
        reads: &[Fact::Motors, Fact::Drivers],
        decided_by: Some(&["driver_a", "motor_a"]),
        check: kind,
        remedies: driver_remedies,
        example: Example {
            given: &[],
            choice: "driver_x",
            fires: "driver-closed-loop-80v",
            quiet: "driver-80v-6a",
        },
    },
    Rule {
        id: "driver-not-fed",
        title: "No supply suits the driver",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The least voltage of each driver on the supply, and whether servo and driver are made for the same source, supply or mains.",
        because: "Below its least voltage a driver does not start, and a servo wound for the wall socket hardly turns on a supply.",
        from: "Source and voltages in the data of driver and servo.",
        instead: "Take a driver for this source, or another supply.",
        reads: &[Fact::Drivers, Fact::Motors, Fact::Supply],
        decided_by: Some(&["driver_a", "motor_a", "supply"]),
        check: feed,
        remedies: feed_remedies,
        example: Example {
            given: &[("driver_x", "driver-110v-8a")],
            choice: "supply",
            fires: "supply-24v-350w",
            quiet: "supply-36v-350w",
        },
    },
    Rule {
        id: "driver-below-motor-current",
        title: "Driver and motor differ in current",
        severities: &[Severity::Fault, Severity::Caution],
        step: Step::Drive,
        watches: "The currents that each driver can be set to, against its motor's.",
        because: "Too little current gives away torque that was paid for; a driver that can't be set low enough burns the motor.",
        from: "Current ranges in the part's data; steppers by the amplitude, servos by the effective value.",
        instead: "Take a driver whose range holds the motor's current.",
        reads: &[Fact::Drivers, Fact::Motors],
        decided_by: Some(&["driver_a", "motor_a", "current_percent"]),
        check: current,
        remedies: driver_remedies,
        example: Example {
            given: &[
                ("motor_x", "stepper-24-3.5"),
                ("coupling_x", "coupling-10x10"),
                ("supply", "supply-36v-500w"),
            ],
            choice: "driver_x",
            fires: "driver-50v-4.2a",
            quiet: "driver-50v-5.6a",
        },
    },
    Rule {
        id: "pulses-too-slow",
        title: "Pulses too slow for the rapids",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The step pulses of each axis at the wanted rapids, against what controller and driver do.",
        because: "Pulses that come too fast are lost, and with them the place of the axis.",
        from: "0.8 of the pulse rate in the data of controller and driver (common practice).",
        instead: "Set fewer microsteps, or take a controller or driver with faster pulses.",
        reads: &[Fact::Wishes, Fact::Axes, Fact::Drivers, Fact::Controller],
        decided_by: Some(&[
            "like_drives_a",
            "reduction",
            "motor_a",
            "microsteps",
            "driver_a",
            "controller",
        ]),
        check: pulses,
        remedies: pulses_remedies,
        example: Example {
            given: &[("microsteps", "100"), ("rapid_wish_z_m_per_min", "2")],
            choice: "rapid_wish_m_per_min",
            fires: "6.2",
            quiet: "5.8",
        },
    },
    Rule {
        id: "microsteps-too-fine",
        title: "More microsteps than the driver has",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The microsteps that are set, against the finest division of each stepper's driver.",
        because: "The driver cannot be set so: the axis would move by another length than the controller believes.",
        from: "Finest division in the driver's data.",
        instead: "Set fewer microsteps, or take a driver that divides finer.",
        reads: &[Fact::Drivers, Fact::Motors],
        decided_by: Some(&["driver_a", "motor_a", "microsteps"]),
        check: fine,
        remedies: fine_remedies,
        example: Example {
            given: &[("driver_x", "driver-40v-2a")],
            choice: "microsteps",
            fires: "40",
            quiet: "32",
        },
    },
    Rule {
        id: "driver-provenance",
        title: "Driver of unknown make",
        severities: &[Severity::Hint],
        step: Step::Drive,
        watches: "Drivers whose ratings stand on their case only.",
        because: "Nobody vouches for rated current and protections: many get too hot well below what is printed.",
        from: "Common practice.",
        instead: "Test it on the bench at your current for an hour before you rely on it, or take a documented one.",
        reads: &[Fact::Drivers],
        decided_by: Some(&["driver_a"]),
        check: provenance,
        remedies: provenance_remedies,
        example: Example {
            given: &[],
            choice: "driver_x",
            fires: "driver-80v-7.2a-unbranded",
            quiet: "driver-80v-6a",
        },
    },
];

fn kind(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let chosen = &facts.picked.axes[axis];
        if !chosen.driver.drives.contains(&chosen.motor.kind()) {
            let drives: Vec<&str> = chosen
                .driver
                .drives
                .iter()
                .map(|kind| kind.title())
                .collect();
            let message = format!(
                "{}: the motor is a {}, its driver is for a {} ({})",
                axis.title(),
                chosen.motor.kind().title(),
                drives.join(" or a "),
                chosen.driver.title
            );
            report.say_of(axis, Severity::Fault, message);
        }
    }
}

/// Another driver, or another motor with a driver that suits it.
fn driver_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let kind = facts.picked.axes[axis].motor.kind();
    in_turn([
        other_drivers(facts, axis),
        other_motors(facts, axis, |motor| motor.kind() == kind),
        other_motors(facts, axis, |_| true),
    ])
}

fn feed(facts: &Facts, report: &mut Report) {
    let supply = facts.picked.supply.volts;
    for axis in Axis::EACH {
        let chosen = &facts.picked.axes[axis];
        let driver = chosen.driver;
        let message = if driver.feed == FeedKind::Dc && supply < driver.least_voltage {
            format!(
                "{}: the supply has {}, the driver starts at {} ({})",
                axis.title(),
                say::volts(supply),
                say::volts(driver.least_voltage),
                driver.title
            )
        } else if let Motor::Servo(servo) = chosen.motor
            && !same_feed(driver, &chosen.motor)
        {
            format!(
                "{}: the servo wants a driver on {}, this one hangs on {} of {} and more",
                axis.title(),
                servo.feed.title(),
                driver.feed.title(),
                say::volts(driver.least_voltage)
            )
        } else {
            continue;
        };
        report.say_of(axis, Severity::Fault, message);
    }
}

fn feed_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let driver = facts.picked.axes[axis].driver;
    in_turn([
        driver_remedies(facts, Some(axis)),
        other_supplies(facts, |other| other.volts >= driver.least_voltage),
    ])
}

fn current(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let chosen = &facts.picked.axes[axis];
        let driver = chosen.driver;
        let (rated, wanted) = (
            chosen.motor.current(),
            wanted_current(facts.picked, &chosen.motor),
        );
        let (severity, message) = if driver.least_current > rated {
            let least = say::amperes(driver.least_current);
            let rated = say::amperes(rated);
            (
                Severity::Fault,
                format!("the motor bears {rated}, the driver gives {least} at least"),
            )
        } else if driver.least_current > wanted {
            let least = say::amperes(driver.least_current);
            let wanted = say::amperes(wanted);
            (
                Severity::Caution,
                format!("you want {wanted}, the driver gives {least} at least"),
            )
        } else if driver.greatest_current < wanted {
            let most = say::amperes(driver.greatest_current);
            let wanted = say::amperes(wanted);
            (
                Severity::Caution,
                format!("the motor wants {wanted}, the driver gives {most} at most"),
            )
        } else {
            continue;
        };
        report.say_of(axis, severity, format!("{}: {message}", axis.title()));
    }
}

/// The slower of controller and driver, and which it is.
fn slower<'a>(facts: &Facts<'a>, driver: &'a Driver) -> (Frequency, &'static str) {
    let controller = facts.picked.controller.pulses;
    if driver.pulses < controller {
        (driver.pulses, "driver")
    } else {
        (controller, "controller")
    }
}

/// Pulses of an axis at the wanted rapids.
fn wanted_pulses(facts: &Facts, axis: Axis) -> Frequency {
    let wish = facts.picked.build.area.wanted_rapids(axis);
    let step = facts.machine.axes[axis].step;
    units::hz::of(units::m_per_min::from(wish) / 60.0 / units::m::from(step))
}

fn pulses(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let (rate, whose) = slower(facts, facts.picked.axes[axis].driver);
        let wanted = wanted_pulses(facts, axis);
        if wanted > rate * PULSE_SHARE {
            let message = format!(
                "{}: {} of pulses at your {}; the {whose} has {}, {} to plan with",
                axis.title(),
                say::kilohertz(wanted),
                say::feed(facts.picked.build.area.wanted_rapids(axis)),
                say::kilohertz(rate),
                say::kilohertz(rate * PULSE_SHARE)
            );
            report.say_of(axis, Severity::Fault, message);
        }
    }
}

fn pulses_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let (rate, _) = slower(facts, facts.picked.axes[axis].driver);
    let wanted = wanted_pulses(facts, axis);
    let share = units::hz::from(rate) * PULSE_SHARE / units::hz::from(wanted);
    let now = f64::from(facts.picked.build.drive.microsteps);
    let most = (now * share).floor();
    // Divisions that drivers have: powers of two.
    let usual = (0..8).rev().map(|power| f64::from(1_u32 << power));
    let fewer = usual.filter(|count| *count <= most);
    let faster = |id: &Id| {
        let controller = facts.picked.catalogue.controllers.get(id);
        controller.is_some_and(|one| one.pulses * PULSE_SHARE >= wanted)
    };
    let wish = facts.picked.build.area.wanted_rapids(axis) * share;
    in_turn([
        in_turn(fewer.map(|count| number(facts, "microsteps", count, false))),
        number(facts, "microsteps", most, false),
        options_where(facts, "controller", faster),
        other_drivers(facts, axis),
        slower_wish(facts, axis, |_| Some(wish)),
    ])
}

fn fine(facts: &Facts, report: &mut Report) {
    let set = facts.picked.build.drive.microsteps;
    for axis in Axis::EACH {
        let chosen = &facts.picked.axes[axis];
        let stepper = chosen.motor.kind() != MotorKind::Servo;
        if stepper && set > chosen.driver.finest_microsteps {
            let message = format!(
                "{}: {set} microsteps are set, the driver has {} at most ({})",
                axis.title(),
                chosen.driver.finest_microsteps,
                chosen.driver.title
            );
            report.say_of(axis, Severity::Fault, message);
        }
    }
}

fn fine_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let steppers = Axis::EACH.iter().map(|&axis| &facts.picked.axes[axis]);
    let steppers = steppers.filter(|chosen| chosen.motor.kind() != MotorKind::Servo);
    let most = steppers
        .map(|chosen| chosen.driver.finest_microsteps)
        .min()
        .unwrap_or(1);
    in_turn([
        set(facts, "microsteps", &most.to_string()),
        other_drivers(facts, axis),
    ])
}

fn provenance(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let driver = facts.picked.axes[axis].driver;
        if driver.provenance == Provenance::Unbranded {
            let message = format!(
                "{}: nobody vouches for {} and {} ({})",
                axis.title(),
                say::amperes(driver.greatest_current),
                say::volts(driver.greatest_voltage),
                driver.title
            );
            report.say_of(axis, Severity::Hint, message);
        }
    }
}

fn provenance_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let documented = |id: &Id| {
        let driver = facts.picked.catalogue.drivers.get(id);
        driver.is_some_and(|one| one.provenance == Provenance::Documented)
    };
    let any = options_where(facts, &axis.choice("driver"), documented);
    in_turn([other_drivers(facts, axis), any])
}
