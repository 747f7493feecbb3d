//! The motors' supply: its voltage against drivers and motors, its current against all of
//! them.

use super::decided::DRAWS;
use super::fit::{bearable, other_drivers, other_motors, other_supplies};
use super::rapids::slower_wish;
use super::remedy::{in_turn, number};
use super::say;
use super::voltage::same_class;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::motor::{FeedKind, Stepper, Supply};
use crate::catalogue::{Motor, Step};
use crate::machine::limits::LimitName;
use crate::machine::supply::motor_bears;
use crate::units::{self, ElectricPotential};
use crate::words::Words;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "supply-above-driver",
        title: "Supply voltage too high for a driver",
        severities: &[Severity::Danger],
        step: Step::Drive,
        watches: "The supply's voltage, against 0.85 of the greatest voltage of each driver that hangs on it.",
        because: "A braking motor lifts the voltage further. Above its limit a driver bursts, and its parts fly.",
        from: "0.85 of the greatest voltage in the driver's data: the rest is room for braking (common practice).",
        instead: "Take a driver for a higher voltage, or a supply of a lower one.",
        reads: &[Fact::Supply, Fact::Drivers],
        decided_by: Some(&["driver_a", "supply"]),
        check: above_driver,
        remedies: above_driver_remedies,
        example: Example {
            given: &[],
            choice: "supply",
            fires: "supply-70v-800w",
            quiet: "supply-60v-600w",
        },
    },
    Rule {
        id: "supply-above-motor-rule",
        title: "Supply voltage heats the motors",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "The supply's voltage, against what the inductance of each stepper bears.",
        because: "With too many volts the current ripples more, and that heats the motor even when it stands still.",
        from: "32 x root of the inductance in millihenries (common practice of stepper makers).",
        instead: "Take a lower voltage, or a motor of higher inductance.",
        reads: &[Fact::Supply, Fact::Motors],
        decided_by: Some(&["driver_a", "motor_a", "supply"]),
        check: above_motor,
        remedies: above_motor_remedies,
        example: Example {
            given: &[],
            choice: "supply",
            fires: "supply-60v-600w",
            quiet: "supply-48v-600w",
        },
    },
    Rule {
        id: "supply-too-low-for-rapids",
        title: "More volts would reach the rapids",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "Steppers whose torque holds an axis below the wanted rapids, where all drivers and motors bear a supply of more volts.",
        because: "Above its corner speed a stepper's torque grows with the supply's voltage: volts are the cheapest speed there is.",
        from: "Motor torque binds; a supply on offer lies below 0.85 of each driver's voltage and 32 x root of each inductance.",
        instead: "Take a supply of more volts, or set slower rapids.",
        reads: &[
            Fact::Wishes,
            Fact::Axes,
            Fact::Supply,
            Fact::Motors,
            Fact::Drivers,
            Fact::Site,
        ],
        decided_by: None,
        check: too_low,
        remedies: too_low_remedies,
        example: Example {
            given: &[
                ("rapid_wish_z_m_per_min", "10"),
                ("drive_z", "ball-screw-16x16"),
                ("motor_z", "stepper-23-1.9"),
            ],
            choice: "supply",
            fires: "supply-36v-500w",
            quiet: "supply-48v-500w",
        },
    },
    Rule {
        id: "dc-supply-too-small",
        title: "Supply too weak for the motors",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The current of all motors on the supply, against what the supplies give together.",
        because: "A supply that is asked for too much switches off, and every axis loses its place at once.",
        from: "The larger of two thirds of the rated currents (driver makers' rule) and copper loss with mechanical power at rapids (calculation).",
        instead: "Take a stronger supply or a second one.",
        reads: &[Fact::Supply, Fact::Motors, Fact::Axes],
        decided_by: Some(DRAWS),
        check: too_small,
        remedies: too_small_remedies,
        example: Example {
            given: &[],
            choice: "supply",
            fires: "supply-48v-500w",
            quiet: "supply-48v-600w",
        },
    },
];

fn stepper<'a>(facts: &Facts<'a>, axis: Axis) -> Option<&'a Stepper> {
    match facts.picked.axes[axis].motor {
        Motor::Stepper(motor) => Some(motor),
        Motor::Servo(_) => None,
    }
}

fn on_supply(facts: &Facts, axis: Axis) -> bool {
    facts.picked.axes[axis].driver.feed == FeedKind::Dc
}

fn above_driver(facts: &Facts, report: &mut Report) {
    let supply = facts.picked.supply.volts;
    for axis in Axis::EACH
        .into_iter()
        .filter(|&axis| on_supply(facts, axis))
    {
        let driver = facts.picked.axes[axis].driver;
        if supply > bearable(driver) {
            let message = format!(
                "{}: supply of {}; the driver bears {}, {} with room for braking ({})",
                axis.title(),
                say::volts(supply),
                say::volts(driver.greatest_voltage),
                say::volts(bearable(driver)),
                driver.title
            );
            report.say_of(axis, Severity::Danger, message);
        }
    }
}

/// The highest supply voltage that every driver on the supply bears.
fn drivers_bear(facts: &Facts) -> ElectricPotential {
    let bear = facts.machine.electrics.supply.drivers_bear;
    bear.unwrap_or(units::v::of(f64::INFINITY))
}

/// The highest supply voltage that every stepper bears.
fn motors_bear(facts: &Facts) -> ElectricPotential {
    let bear = facts.machine.electrics.supply.motors_bear;
    bear.unwrap_or(units::v::of(f64::INFINITY))
}

fn above_driver_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let bear = drivers_bear(facts);
    in_turn([
        axis.map_or_else(Vec::new, |axis| other_drivers(facts, axis)),
        other_supplies(facts, |other| other.volts <= bear),
    ])
}

fn above_motor(facts: &Facts, report: &mut Report) {
    let supply = facts.picked.supply.volts;
    for axis in Axis::EACH
        .into_iter()
        .filter(|&axis| on_supply(facts, axis))
    {
        let Some(motor) = stepper(facts, axis) else {
            continue;
        };
        if supply > motor_bears(motor) {
            let message = format!(
                "{}: supply of {}; {} mH bear {} before the iron gets hot",
                axis.title(),
                say::volts(supply),
                say::at_most(units::mh::from(motor.inductance), 2),
                say::volts(motor_bears(motor))
            );
            report.say_of(axis, Severity::Caution, message);
        }
    }
}

fn above_motor_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let (now, bear) = (facts.picked.supply.volts, motors_bear(facts));
    let bears = |motor: &Motor| match motor {
        Motor::Stepper(one) => motor_bears(one) >= now,
        Motor::Servo(_) => false,
    };
    in_turn([
        other_supplies(facts, |other| other.volts <= bear),
        axis.map_or_else(Vec::new, |axis| other_motors(facts, axis, bears)),
    ])
}

/// The next higher supply voltage on offer that all drivers and motors bear, where it is
/// volts that hold a stepper below the wanted rapids.
pub(super) fn higher(facts: &Facts, axis: Axis) -> Option<ElectricPotential> {
    let figures = &facts.machine.axes[axis];
    let held_by_volts = figures.rapid < facts.picked.build.area.wanted_rapids(axis)
        && figures.limited_by == LimitName::Motor
        && on_supply(facts, axis)
        && stepper(facts, axis).is_some();
    if !held_by_volts {
        return None;
    }
    let fits = |other: &&Supply| raises(facts, other);
    let offers = facts.picked.catalogue.supplies.values().filter(fits);
    offers
        .map(|other| other.volts)
        .min_by(|a, b| units::v::from(*a).total_cmp(&units::v::from(*b)))
}

/// Whether a supply gives more volts that all drivers and motors bear, and takes the mains.
fn raises(facts: &Facts, other: &Supply) -> bool {
    let takes = |volts: &ElectricPotential| same_class(*volts, facts.picked.site.volts);
    other.volts > facts.picked.supply.volts
        && other.volts <= drivers_bear(facts)
        && other.volts <= motors_bear(facts)
        && !other.improvised
        && other.mains.iter().any(takes)
}

fn too_low(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let Some(better) = higher(facts, axis) else {
            continue;
        };
        let figures = &facts.machine.axes[axis];
        let wish = facts.picked.build.area.wanted_rapids(axis);
        let [reached, wish] = say::feeds(figures.rapid, wish);
        let message = format!(
            "{}: {} bring {reached}, you want {wish}; motors and drivers bear {}",
            axis.title(),
            say::volts(facts.picked.supply.volts),
            say::volts(better)
        );
        report.say_of(axis, Severity::Caution, message);
    }
}

fn too_low_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    in_turn([
        other_supplies(facts, |other| raises(facts, other)),
        slower_wish(facts, axis, |figures| Some(figures.rapid)),
    ])
}

fn too_small(facts: &Facts, report: &mut Report) {
    let supply = &facts.machine.electrics.supply;
    if supply.needed > supply.rated {
        let source = match facts.picked.build.drive.supply_count {
            1 => "the supply gives".to_owned(),
            several => format!("{several} supplies give"),
        };
        let message = format!(
            "the motors want {} at {}, {source} {}",
            say::amperes(supply.needed),
            say::volts(supply.volts),
            say::amperes(supply.rated)
        );
        report.say(Severity::Fault, message);
    }
}

fn too_small_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let now = facts.picked.supply.volts;
    let count = f64::from(facts.picked.build.drive.supply_count);
    let more = [1.0, 2.0, 3.0].map(|more| number(facts, "supply_count", count + more, true));
    in_turn([
        other_supplies(facts, |other| other.volts == now),
        in_turn(more),
        other_supplies(facts, |other| {
            other.volts > now && other.volts <= drivers_bear(facts)
        }),
    ])
}
