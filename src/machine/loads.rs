//! What hangs on the mains: every consumer with its current in usual work and at most, and
//! what it leaks to earth.

use super::electrics::{CircuitLoad, MotorDraw, SpindleDraw};
use crate::build::choices::control::OnCircuit;
use crate::build::{Axis, Picked};
use crate::catalogue::motor::FeedKind;
use crate::catalogue::spindle::SpindleKind;
use crate::units::{self, ElectricCurrent, Power};
use uom::si::ratio::ratio;

/// Power factor of small switched supplies without correction (common practice).
const SMALL_POWER_FACTOR: f64 = 0.6;

/// Power factor of small motors: pumps, compressors (common practice).
const MOTOR_POWER_FACTOR: f64 = 0.8;

/// The compressor that a tool changer's air wants (common practice).
fn changer_air() -> Power {
    units::w::of(750.0)
}

fn nothing() -> ElectricCurrent {
    units::ma::of(0.0)
}

fn current(picked: &Picked, power: Power, factor: f64) -> ElectricCurrent {
    power / (picked.site.volts * factor)
}

/// A consumer that draws the same all the time, and leaks nothing to speak of.
pub(super) fn constant(
    picked: &Picked,
    name: &'static str,
    power: Power,
    factor: f64,
) -> CircuitLoad {
    let drawn = current(picked, power, factor);
    CircuitLoad {
        name,
        typical: drawn,
        full: drawn,
        leakage: nothing(),
    }
}

/// The spindle with its inverter, and the mains filter before it.
pub(super) fn spindle(picked: &Picked, drawn: &SpindleDraw) -> CircuitLoad {
    let filter = picked.catalogue.sundries.get("mains-filter");
    let filter = filter
        .filter(|_| picked.build.control.filter)
        .and_then(|part| part.leakage);
    CircuitLoad {
        name: "spindle",
        typical: current(picked, drawn.typical_power, drawn.power_factor),
        full: current(picked, drawn.full_power, drawn.power_factor),
        leakage: picked.vfd.map_or(nothing(), |vfd| vfd.leakage) + filter.unwrap_or_default(),
    }
}

/// Everything on the first circuit, whatever the builder chose for spindle and extractor.
pub(super) fn fixed(picked: &Picked, motors: &MotorDraw) -> Vec<(OnCircuit, CircuitLoad)> {
    let mut found = motor_feeds(picked, motors);
    let mut small = picked.controller.power;
    small += picked.fan.map_or(units::w::of(0.0), |fan| fan.power);
    let mut add = |name, power: Option<Power>, factor| {
        found.extend(power.map(|power| constant(picked, name, power, factor)));
    };
    add("controller and fan", Some(small), SMALL_POWER_FACTOR);
    add(
        "computer",
        picked.computer.map(|part| part.power),
        SMALL_POWER_FACTOR,
    );
    add(
        "spindle cooler",
        picked.cooler.map(|part| part.power),
        MOTOR_POWER_FACTOR,
    );
    add(
        "cutting coolant",
        picked.coolant.map(|part| part.power),
        MOTOR_POWER_FACTOR,
    );
    let changes = picked.spindle.kind == SpindleKind::ToolChanger;
    add("compressor", changes.then(changer_air), MOTOR_POWER_FACTOR);
    found
        .into_iter()
        .map(|load| (OnCircuit::First, load))
        .collect()
}

/// The motors' DC supply and mains-fed servo drivers. The two-thirds rule is an upper bound:
/// 30 to 50 % of it flows on average.
fn motor_feeds(picked: &Picked, motors: &MotorDraw) -> Vec<CircuitLoad> {
    let mut by_dc = nothing();
    let mut by_mains = nothing();
    for axis in Axis::EACH {
        let driver = picked.axes[axis].driver;
        let leaks = driver.leakage.unwrap_or_default() * f64::from(picked.motors(axis));
        match driver.feed {
            FeedKind::Dc => by_dc += leaks,
            FeedKind::Mains => by_mains += leaks,
        }
    }
    let supply = picked.supply;
    by_dc += supply.leakage * f64::from(picked.build.drive.supply_count);
    let feed = |name, power: Power, factor: f64, leakage| {
        let full = current(picked, power, factor);
        CircuitLoad {
            name,
            typical: full * 0.5,
            full,
            leakage,
        }
    };
    let dc = motors.dc_power / supply.efficiency;
    let factor = supply.power_factor.get::<ratio>();
    let mut found = Vec::new();
    if motors.dc_power > units::w::of(0.0) {
        found.push(feed("motor supply", dc, factor, by_dc));
    }
    if motors.servo_power > units::w::of(0.0) {
        found.push(feed(
            "servo drivers",
            motors.servo_power,
            SMALL_POWER_FACTOR,
            by_mains,
        ));
    }
    found
}
