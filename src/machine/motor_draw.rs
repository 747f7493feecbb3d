//! What the motors draw: of their direct-current supply, or of the mains where their drivers
//! are fed by it, and what of it warms the drivers.

use super::axis::AxisFigures;
use super::feed::set_current;
use super::stepper::HOT_COPPER;
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::Motor;
use crate::catalogue::motor::FeedKind;
use crate::units::{self, ElectricCurrent, Power};

/// Motors that are never all at full torque and speed together: the share that is planned
/// with for mains-fed servos, and the share of the supply's greatest current that flows in
/// usual work (common practice: 30 to 50 % of the two-thirds rule flows on average).
pub const TOGETHER: f64 = 0.5;

/// Share of the rated phase current that a driver takes of its supply (driver makers' rule).
pub const TWO_THIRDS: f64 = 2.0 / 3.0;

/// Share of the set current that flows at rest: the usual setting of drivers that cut it
/// (common practice).
pub const AT_REST: f64 = 0.5;

/// Share of its rated power that a servo takes at rest (common practice, from memory).
pub const SERVO_AT_REST: f64 = 0.05;

/// Efficiency of a mains-fed servo and its driver at rated power (common practice).
pub const SERVO_EFFICIENCY: f64 = 0.85;

/// What all motors of one axis draw.
#[derive(Clone, Copy, Debug, Default)]
pub struct AxisDraw {
    /// Direct current by the rule: two thirds of a stepper's set current, all of a servo's.
    pub by_rule: ElectricCurrent,
    /// Copper loss of steppers, windings hot.
    pub copper: Power,
    /// Shaft power: of steppers while they accelerate at rapids, of DC servos as rated.
    pub shaft: Power,
    /// Direct-current power at rest.
    pub at_rest: Power,
    /// Power of mains-fed drivers at most.
    pub mains: Power,
    /// Heat of the drivers.
    pub driver_heat: Power,
}

/// What the motors draw.
#[derive(Clone, Copy, Debug, Default)]
pub struct MotorDraw {
    /// Each axis.
    pub axes: PerAxis<AxisDraw>,
    /// Direct current by the two-thirds rule.
    pub by_rule: ElectricCurrent,
    /// Direct current by copper loss and shaft power.
    pub by_power: ElectricCurrent,
    /// The larger of the two.
    pub needed: ElectricCurrent,
    /// Power that the supply delivers at most.
    pub power: Power,
    /// Power that it delivers with the motors at rest.
    pub at_rest: Power,
    /// Power of mains-fed servos at most, at their drivers' input.
    pub mains: Power,
    /// Heat of the drivers.
    pub driver_heat: Power,
}

impl MotorDraw {
    /// Adds up what each axis draws.
    pub fn of(picked: &Picked, figures: &PerAxis<AxisFigures>) -> Self {
        let axes = PerAxis::from_fn(|axis| of_axis(picked, &figures[axis], axis));
        let power = |one: fn(&AxisDraw) -> Power| axes.iter().map(|(_, axis)| one(axis)).sum();
        let real: Power = power(|axis| axis.copper + axis.shaft);
        let by_rule: ElectricCurrent = axes.iter().map(|(_, axis)| axis.by_rule).sum();
        let by_power: ElectricCurrent = real / picked.supply.volts;
        let needed = by_rule.max(by_power);
        Self {
            axes,
            by_rule,
            by_power,
            needed,
            power: needed * picked.supply.volts,
            at_rest: power(|axis| axis.at_rest),
            mains: power(|axis| axis.mains),
            driver_heat: power(|axis| axis.driver_heat),
        }
    }
}

fn of_axis(picked: &Picked, figures: &AxisFigures, axis: Axis) -> AxisDraw {
    let count = f64::from(figures.motors);
    let chosen = &picked.axes[axis];
    match chosen.motor {
        Motor::Stepper(motor) => {
            let current = set_current(picked, axis);
            // Two phases with sine currents: 2 · (I²/2) · R, hot.
            let copper = current * current * motor.resistance * HOT_COPPER * count;
            let turning = figures.turns_at(figures.rapid);
            let by_rule = current * TWO_THIRDS * count;
            AxisDraw {
                by_rule,
                copper,
                shaft: shaft_power(figures.needed_torque, turning) * count,
                at_rest: copper * AT_REST * AT_REST,
                mains: Power::default(),
                driver_heat: by_rule * picked.supply.volts * chosen.driver.loss,
            }
        }
        Motor::Servo(motor) => {
            let rated = shaft_power(motor.rated, motor.rated_speed) * count;
            let heat = rated * TOGETHER * chosen.driver.loss;
            match motor.feed {
                FeedKind::Dc => AxisDraw {
                    by_rule: motor.current * count,
                    shaft: rated,
                    at_rest: rated * SERVO_AT_REST,
                    driver_heat: heat,
                    ..AxisDraw::default()
                },
                FeedKind::Mains => AxisDraw {
                    mains: rated * TOGETHER / SERVO_EFFICIENCY,
                    driver_heat: heat,
                    ..AxisDraw::default()
                },
            }
        }
    }
}

fn shaft_power(torque: units::Torque, turning: units::AngularVelocity) -> Power {
    let omega = turning.get::<uom::si::angular_velocity::radian_per_second>();
    units::w::of(units::nm::from(torque) * omega)
}
