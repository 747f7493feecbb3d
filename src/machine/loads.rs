//! What hangs on the mains: every consumer with its current in usual work and at most, and
//! what it leaks to earth.

use super::axis::AxisFigures;
use super::feed::set_current;
use super::stepper::HOT_COPPER;
use crate::build::choices::control::OnCircuit;
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::Motor;
use crate::catalogue::motor::FeedKind;
use crate::catalogue::spindle::SpindleKind;
use crate::units::{self, ElectricCurrent, Power};
use uom::si::ratio::ratio;

/// Share of a spindle's rated power in usual routing (common practice).
pub const TYPICAL_SHARE: f64 = 0.4;

/// Power factor of brushed hand routers (common practice).
const BRUSHED_POWER_FACTOR: f64 = 0.95;

/// Motors that are never all at full torque and speed together: the share that is planned
/// with for mains-fed servos (common practice).
const SERVO_TOGETHER: f64 = 0.5;

/// What the extractor's load is called.
pub const EXTRACTOR: &str = "extractor";

/// Power factor of small switched supplies without correction (common practice).
const SMALL_POWER_FACTOR: f64 = 0.6;

/// Power factor of small motors: pumps, compressors (common practice).
const MOTOR_POWER_FACTOR: f64 = 0.8;

/// The compressor that a tool changer's air wants (common practice).
fn changer_air() -> Power {
    units::w::of(750.0)
}

/// One consumer on a circuit.
#[derive(Clone, Debug)]
pub struct CircuitLoad {
    /// What it is.
    pub name: &'static str,
    /// Current in usual work.
    pub typical: ElectricCurrent,
    /// Current at most, within the builder's cap.
    pub full: ElectricCurrent,
    /// What it leaks to earth all the time.
    pub leakage: ElectricCurrent,
}

/// What the motors draw.
pub(super) struct MotorDraw {
    /// Current at the supply's output.
    pub(super) dc_needed: ElectricCurrent,
    /// Power that the supply delivers at most.
    pub(super) dc_power: Power,
    /// Power of mains-fed servos at most, at their drivers' input.
    pub(super) servo_power: Power,
    /// Heat of the drivers.
    pub(super) driver_heat: Power,
}

/// Steppers: the larger of two thirds of the rated currents (driver makers' rule) and copper
/// loss plus mechanical power at rapids; DC servos: their rated power.
pub(super) fn motors(picked: &Picked, axes: &PerAxis<AxisFigures>) -> MotorDraw {
    let volts = picked.supply.volts;
    let mut rated = units::a::of(0.0);
    let mut real = units::w::of(0.0);
    let mut servo = units::w::of(0.0);
    let mut driver_heat = units::w::of(0.0);
    for (axis, figures) in axes.iter() {
        let count = f64::from(figures.motors);
        let chosen = &picked.axes[axis];
        let passed = match chosen.motor {
            Motor::Stepper(motor) => {
                let current = set_current(picked, axis);
                rated += current * (2.0 / 3.0) * count;
                // Two phases with sine currents: 2 · (I²/2) · R, hot.
                let copper = current * current * motor.resistance * HOT_COPPER;
                let turning = figures.turns_at(figures.rapid);
                let mechanical = shaft_power(figures.needed_torque, turning);
                real += (copper + mechanical) * count;
                current * (2.0 / 3.0) * volts * count
            }
            Motor::Servo(motor) => {
                let power = shaft_power(motor.rated, motor.rated_speed) * count;
                match motor.feed {
                    FeedKind::Dc => {
                        rated += motor.current * count;
                        real += power;
                    }
                    FeedKind::Mains => servo += power * SERVO_TOGETHER / 0.85,
                }
                power * SERVO_TOGETHER
            }
        };
        driver_heat += passed * chosen.driver.loss;
    }
    let by_power = real / volts;
    let dc_needed = if rated > by_power { rated } else { by_power };
    MotorDraw {
        dc_needed,
        dc_power: dc_needed * volts,
        servo_power: servo,
        driver_heat,
    }
}

fn shaft_power(torque: units::Torque, turning: units::AngularVelocity) -> Power {
    let omega = turning.get::<uom::si::angular_velocity::radian_per_second>();
    units::w::of(units::nm::from(torque) * omega)
}

/// What the spindle draws from the wall.
pub(super) struct SpindleDraw {
    pub(super) full_power: Power,
    pub(super) typical_power: Power,
    pub(super) power_factor: f64,
    /// Heat of the inverter in usual work.
    pub(super) heat: Power,
}

/// Input power rises from the no-load power at idle to shaft power over efficiency at full
/// load, and passes the inverter.
pub(super) fn spindle_draw(picked: &Picked) -> SpindleDraw {
    let spindle = picked.spindle;
    let full_load = spindle.power / spindle.efficiency;
    let at = |share: f64| spindle.no_load + (full_load - spindle.no_load) * share;
    let cap = picked.build.spindle.power_cap.get::<ratio>();
    let typical = at(cap.min(TYPICAL_SHARE));
    match picked.vfd.filter(|_| spindle.needs_vfd()) {
        Some(vfd) => {
            let factor = if picked.build.spindle.choke {
                vfd.power_factor_choke
            } else {
                vfd.power_factor
            };
            SpindleDraw {
                full_power: at(cap) / vfd.efficiency,
                typical_power: typical / vfd.efficiency,
                power_factor: factor.get::<ratio>(),
                heat: typical / vfd.efficiency - typical,
            }
        }
        None => SpindleDraw {
            full_power: at(cap),
            typical_power: typical,
            power_factor: BRUSHED_POWER_FACTOR,
            heat: units::w::of(0.0),
        },
    }
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
