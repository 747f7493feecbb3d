//! What fits what: the tests that the rules on mating parts share with the remedies, so
//! that a remedy which changes a motor or a screw also changes what hangs on it.

use super::remedy::{options_where, part_of};
use super::voltage::within;
use super::{Facts, Remedies, edit};
use crate::build::{Axis, Edit, Picked, Value};
use crate::catalogue::linear_drive::Coupling;
use crate::catalogue::motor::{Driver, FeedKind, Provenance, Supply};
use crate::catalogue::{Id, LinearDrive, Motor};
pub(super) use crate::machine::geometry::same_size;
pub(super) use crate::machine::supply::driver_bears as bearable;
use crate::order::Order as _;
use crate::units::{self, ElectricCurrent, Length, Torque};

/// Whether a coupling joins two shafts, either way round.
pub(super) fn joins(coupling: &Coupling, motor: Length, screw: Length) -> bool {
    let pair = |a: &Length, b: &Length| same_size(*a, motor) && same_size(*b, screw);
    match coupling.bores.as_slice() {
        [first, second] => pair(first, second) || pair(second, first),
        _ => false,
    }
}

/// Whether a driver's feed is there, of a voltage at which it starts.
pub(super) fn is_fed(picked: &Picked, driver: &Driver) -> bool {
    match driver.feed {
        FeedKind::Dc => picked.supply.volts >= driver.least_voltage,
        FeedKind::Mains => within(
            picked.site.volts,
            driver.least_voltage,
            driver.greatest_voltage,
        ),
    }
}

/// The current that a motor's driver is to be set to.
pub(super) fn wanted_current(picked: &Picked, motor: &Motor) -> ElectricCurrent {
    match motor {
        Motor::Stepper(one) => one.current * picked.build.drive.current_share,
        Motor::Servo(one) => one.current,
    }
}

/// Whether a driver and a motor are made for the same feed.
pub(super) fn same_feed(driver: &Driver, motor: &Motor) -> bool {
    match motor {
        Motor::Stepper(_) => true,
        Motor::Servo(servo) => servo.feed == driver.feed,
    }
}

/// Whether a driver suits a motor in every way that the rules ask about.
pub(super) fn suits(picked: &Picked, driver: &Driver, motor: &Motor) -> bool {
    let current = wanted_current(picked, motor);
    let direct = driver.feed == FeedKind::Dc;
    driver.drives.contains(&motor.kind())
        && same_feed(driver, motor)
        && is_fed(picked, driver)
        && (!direct || picked.supply.volts <= bearable(driver))
        && current >= driver.least_current
        && current <= driver.greatest_current
}

/// Other screws for an axis that pass a test, each with a coupling that fits.
pub(super) fn other_screws(
    facts: &Facts,
    axis: Axis,
    fits: impl Fn(&LinearDrive) -> bool,
) -> Remedies {
    other_drives(facts, axis, |drive| drive.is_screw() && fits(drive))
}

/// Other drives for an axis that pass a test, each with what must change with it.
pub(super) fn other_drives(
    facts: &Facts,
    axis: Axis,
    fits: impl Fn(&LinearDrive) -> bool,
) -> Remedies {
    let catalogue = facts.picked.catalogue;
    let passes = |id: &Id| LinearDrive::of(catalogue, id.as_str()).is_some_and(|one| fits(&one));
    mended_all(
        facts,
        axis,
        options_where(facts, &axis.choice("drive"), passes),
    )
}

/// Other motors for an axis whose face fits its mount and that pass a test, each with
/// coupling and driver that fit; those nearest in torque first.
pub(super) fn other_motors(facts: &Facts, axis: Axis, fits: impl Fn(&Motor) -> bool) -> Remedies {
    let catalogue = facts.picked.catalogue;
    let faces = &crate::machine::geometry::plan_of(facts.picked, axis).flanges;
    let passes = |id: &Id| {
        Motor::of(catalogue, id.as_str())
            .is_some_and(|one| faces.contains(&one.flange()) && fits(&one))
    };
    let wanted = units::nm::from(greatest_torque(&facts.picked.axes[axis].motor));
    let apart = |edits: &Vec<Edit>| {
        let motor = edits.first().and_then(|edit| match &edit.value {
            Value::Part(Some(id)) => Motor::of(catalogue, id.as_str()),
            _ => None,
        });
        let torque = motor.map_or(f64::INFINITY, |one| units::nm::from(greatest_torque(&one)));
        (torque / wanted).ln().abs()
    };
    let mut ranked = options_where(facts, &axis.choice("motor"), passes);
    ranked.order_by(|a, b| apart(a).total_cmp(&apart(b)));
    mended_all(facts, axis, ranked)
}

/// The greatest torque of a motor: holding for steppers, peak for servos.
pub(super) fn greatest_torque(motor: &Motor) -> Torque {
    match motor {
        Motor::Stepper(one) => one.holding,
        Motor::Servo(one) => one.peak,
    }
}

/// Other documented drivers for an axis that suit its motor, the cheapest first.
pub(super) fn other_drivers(facts: &Facts, axis: Axis) -> Remedies {
    let picked = facts.picked;
    drivers_for(facts, axis, picked, &picked.axes[axis].motor)
}

fn drivers_for(facts: &Facts, axis: Axis, picked: &Picked, motor: &Motor) -> Remedies {
    let passes = |id: &Id| {
        let driver = facts.picked.catalogue.drivers.get(id);
        driver.is_some_and(|one| {
            one.provenance == Provenance::Documented && suits(picked, one, motor)
        })
    };
    options_where(facts, &axis.choice("driver"), passes)
}

/// Other supplies made for the purpose that pass a test, as many of each as give the current that is needed.
pub(super) fn other_supplies(facts: &Facts, fits: impl Fn(&Supply) -> bool) -> Remedies {
    let supplies = &facts.picked.catalogue.supplies;
    let figures = &facts.machine.electrics.supply;
    let fits = |other: &Supply| !other.improvised && fits(other);
    let passes = |id: &Id| supplies.get(id).is_some_and(fits);
    let with_count = |mut edits: Vec<Edit>| {
        let supply = edits.first().and_then(|edit| part_of(edit, supplies));
        if let Some(supply) = supply {
            let count = units::times::from(figures.needed / supply.current).ceil();
            if count > f64::from(facts.picked.build.drive.supply_count) {
                edits.extend(edit(facts, "supply_count", &count.to_string()));
            }
        }
        edits
    };
    options_where(facts, "supply", passes)
        .into_iter()
        .map(with_count)
        .collect()
}

fn mended_all(facts: &Facts, axis: Axis, candidates: Remedies) -> Remedies {
    candidates
        .into_iter()
        .map(|edits| mended(facts, axis, edits))
        .collect()
}

/// A candidate with what else must change so that the parts of the axis still fit: the
/// coupling, the driver, and the other side's drive of a pair.
fn mended(facts: &Facts, axis: Axis, mut edits: Vec<Edit>) -> Vec<Edit> {
    let mut build = facts.picked.build.clone();
    let swaps_drive = edits.iter().any(|one| one.choice.id == "drive_y");
    if swaps_drive && build.drive.second_drive.is_some() {
        edits.extend(edit(facts, "drive_y2", crate::build::value::NONE));
    }
    edits.iter().for_each(|one| one.apply(&mut build));
    let Ok(picked) = Picked::new(facts.picked.catalogue, &build) else {
        return edits;
    };
    let chosen = &picked.axes[axis];
    let (motor, end) = (chosen.motor.shaft(), chosen.drive.shaft());
    if chosen.drive.is_screw() && !joins(chosen.coupling, motor, end) {
        let fits = |id: &Id| {
            facts
                .picked
                .catalogue
                .couplings
                .get(id)
                .is_some_and(|one| joins(one, motor, end))
        };
        let couplings = options_where(facts, &axis.choice("coupling"), fits);
        edits.extend(couplings.into_iter().next().unwrap_or_default());
    }
    if !suits(&picked, chosen.driver, &chosen.motor) {
        let drivers = drivers_for(facts, axis, &picked, &chosen.motor);
        edits.extend(drivers.into_iter().next().unwrap_or_default());
    }
    edits
}
