//! What flows through a cable to a motor or the spindle, and what of its voltage is lost on
//! the way.

use super::conductor;
use super::feed::motor_current;
use super::loads::{SpindleDraw, at_the_plug};
use super::wiring::CableRun;
use crate::build::{Axis, Picked};
use crate::catalogue::Motor;
use crate::catalogue::frame::RunEnd;
use crate::catalogue::motor::FeedKind;
use crate::units::{self, ElectricCurrent, ElectricPotential, Ratio};

/// Power factor of spindle motors at full load (typical of published data sheets).
pub const SPINDLE_POWER_FACTOR: f64 = 0.8;

/// What a loaded cable bears.
#[derive(Clone, Copy, Debug)]
pub struct CableLoad {
    /// What flows at most: the amplitude of a stepper's phase, else the effective current.
    pub current: ElectricCurrent,
    /// The current in three cores that would heat it as the real one does.
    pub heating: ElectricCurrent,
    /// Voltage lost there and back at full current, cores warm.
    pub lost: ElectricPotential,
    /// Voltage that is sent.
    pub sent: ElectricPotential,
    /// Whether that is direct current from the motors' supply.
    pub direct: bool,
    /// Whether it comes back between phases; else by a core of its own.
    pub three_phase: bool,
}

/// Voltage that may be lost to a motor on a DC supply: 5 % (common practice).
pub const DC_DROP: f64 = 0.05;

/// Voltage that may be lost to a motor fed with mains voltage: 3 % (common practice; the
/// figure of IEC 60364-5-52 for lighting).
pub const MAINS_DROP: f64 = 0.03;

impl CableLoad {
    /// The share of the voltage that may fairly be lost.
    pub fn fair_drop(&self) -> Ratio {
        units::share::of(if self.direct { DC_DROP } else { MAINS_DROP })
    }

    /// The share of the voltage that is lost.
    pub fn drop(&self) -> Ratio {
        self.lost / self.sent
    }
}

/// The axis whose motor a run feeds.
pub fn motor_at(run: &CableRun) -> Option<Axis> {
    match run.to {
        RunEnd::MotorX => Some(Axis::X),
        RunEnd::MotorY => Some(Axis::Y),
        RunEnd::MotorZ => Some(Axis::Z),
        _ => None,
    }
}

/// Whether a run feeds a spindle motor from its inverter; that to a hand router carries mains.
pub fn feeds_spindle(picked: &Picked, run: &CableRun) -> bool {
    run.to == RunEnd::Spindle && picked.spindle.needs_vfd()
}

/// The load of a run; none for signals.
pub fn load(picked: &Picked, run: &CableRun) -> Option<CableLoad> {
    // √3 · L · I · R between phases is √3/2 of the way there and back.
    let between_phases = 3.0_f64.sqrt() / 2.0;
    let there_and_back =
        |current| conductor::drop(run.area, run.length, current, conductor::warm());
    if feeds_spindle(picked, run) {
        let current = spindle_current(picked);
        return Some(CableLoad {
            current,
            heating: current,
            lost: there_and_back(current) * between_phases,
            sent: picked.spindle.volts,
            direct: false,
            three_phase: true,
        });
    }
    if run.to == RunEnd::Spindle {
        let current = router_current(picked);
        return Some(CableLoad {
            current,
            heating: current,
            lost: there_and_back(current),
            sent: picked.site.volts,
            direct: false,
            three_phase: false,
        });
    }
    let axis = motor_at(run)?;
    let chosen = &picked.axes[axis];
    let current = motor_current(picked, axis);
    // A stepper's two phases heat four cores with I²·(sin² + cos²), two cores each: as much as
    // three cores with √(2/3) of the amplitude.
    let heating = match chosen.motor {
        Motor::Servo(_) => current,
        Motor::Stepper(_) => current * (2.0_f64 / 3.0).sqrt(),
    };
    let direct = chosen.driver.feed == FeedKind::Dc;
    Some(CableLoad {
        current,
        heating,
        lost: there_and_back(current) * if direct { 1.0 } else { between_phases },
        sent: if direct {
            picked.supply.volts
        } else {
            picked.site.volts
        },
        direct,
        three_phase: !direct,
    })
}

/// What a hand router draws at the outlet that its cable feeds, at most within the builder's power
/// cap.
fn router_current(picked: &Picked) -> ElectricCurrent {
    let drawn = SpindleDraw::of(picked);
    at_the_plug(picked, drawn.power.full, drawn.power_factor)
}

/// Current of the spindle within the builder's power cap: the part that magnetises flows at
/// any load, the rest in proportion.
pub fn spindle_current(picked: &Picked) -> ElectricCurrent {
    let cap = units::share::from(picked.build.spindle.power_cap);
    let working = SPINDLE_POWER_FACTOR * cap;
    let idle = 1.0 - SPINDLE_POWER_FACTOR * SPINDLE_POWER_FACTOR;
    picked.spindle.current * (working * working + idle).sqrt()
}
