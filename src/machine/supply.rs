//! The motors' supply: the current that it must give, and the voltage that drivers and
//! motors bear.

mod notes;

use super::axis::AxisFigures;
use super::motion::braking::BusRise;
use super::motion::notes::note_rise;
use super::motor_draw::MotorDraw;
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::Motor;
use crate::catalogue::motor::{Driver, FeedKind, Stepper};
use crate::explain::Recorder;
use crate::units::{self, ElectricCurrent, ElectricPotential, Ratio};

/// Share of a driver's greatest voltage that the supply may have: the rest is room for
/// braking (common practice).
pub const VOLTAGE_SHARE: f64 = 0.85;

/// Volts for the root of a millihenry: above 32 √L a stepper's iron gets too warm (common
/// practice of stepper makers).
pub const VOLTS_PER_ROOT_MH: f64 = 32.0;

/// The highest supply voltage that a driver bears with room for braking.
pub fn driver_bears(driver: &Driver) -> ElectricPotential {
    driver.greatest_voltage * VOLTAGE_SHARE
}

/// The voltage that a stepper's iron bears.
pub fn motor_bears(motor: &Stepper) -> ElectricPotential {
    units::v::of(VOLTS_PER_ROOT_MH * units::mh::from(motor.inductance).sqrt())
}

/// The motors' supply.
#[derive(Clone, Copy, Debug)]
pub struct SupplyFigures {
    /// Its voltage.
    pub volts: ElectricPotential,
    /// Current that the motors need: the larger of the next two.
    pub needed: ElectricCurrent,
    /// Two thirds of the set phase currents.
    pub by_rule: ElectricCurrent,
    /// Copper loss and shaft power at rapids, over the voltage.
    pub by_power: ElectricCurrent,
    /// Current that the supplies give together.
    pub rated: ElectricCurrent,
    /// The highest voltage that every driver on it bears with room for braking; none where no
    /// driver hangs on it.
    pub drivers_bear: Option<ElectricPotential>,
    /// The highest voltage that the iron of every stepper bears; none without steppers.
    pub motors_bear: Option<ElectricPotential>,
    /// What stops do to its voltage.
    pub braking: BusRise,
}

impl SupplyFigures {
    /// Needed current against the rated one.
    pub fn fill(&self) -> Ratio {
        self.needed / self.rated
    }

    /// Works the supply out.
    pub fn of(
        picked: &Picked,
        axes: &PerAxis<AxisFigures>,
        motors: &MotorDraw,
        notes: &mut impl Recorder,
    ) -> Self {
        let found = Self {
            volts: picked.supply.volts,
            needed: motors.needed,
            by_rule: motors.by_rule,
            by_power: motors.by_power,
            rated: picked.supply.current * f64::from(picked.build.drive.supply_count),
            drivers_bear: least(Axis::EACH.map(|axis| {
                let driver = picked.axes[axis].driver;
                (driver.feed == FeedKind::Dc).then(|| driver_bears(driver))
            })),
            motors_bear: least(Axis::EACH.map(|axis| stepper(picked, axis).map(motor_bears))),
            braking: BusRise::of(picked, axes),
        };
        found.note_currents(picked, motors, notes);
        found.note_voltages(picked, notes);
        note_rise(picked, axes, &found.braking, notes);
        found
    }
}

fn stepper<'a>(picked: &Picked<'a>, axis: Axis) -> Option<&'a Stepper> {
    match picked.axes[axis].motor {
        Motor::Stepper(motor) => Some(motor),
        Motor::Servo(_) => None,
    }
}

fn least(each: [Option<ElectricPotential>; 3]) -> Option<ElectricPotential> {
    each.into_iter().flatten().reduce(|a, b| a.min(b))
}
