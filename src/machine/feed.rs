//! How a motor is fed: the current that its driver is set to, the torque curve that follows,
//! and the pulses that turn it once.

use super::servo::ServoCurve;
use super::stepper::{STEPS_A_TURN, StepperCurve};
use super::torque::TorqueCurve;
use crate::build::{Axis, Picked};
use crate::catalogue::Motor;
use crate::units::ElectricCurrent;

/// Current that the driver of an axis is set to: the wished share of the motor's rating, as
/// far as the driver gives it.
pub fn set_current(picked: &Picked, axis: Axis) -> ElectricCurrent {
    let chosen = &picked.axes[axis];
    let set = chosen.motor.current() * picked.build.drive.current_share;
    set.min(chosen.driver.greatest_current)
}

/// What flows to a motor of an axis at most: the amplitude of a stepper's phase as its driver is
/// set, the rated current of a servo.
pub fn motor_current(picked: &Picked, axis: Axis) -> ElectricCurrent {
    match picked.axes[axis].motor {
        Motor::Stepper(_) => set_current(picked, axis),
        Motor::Servo(motor) => motor.current,
    }
}

/// The torque curve of an axis's motor on its supply.
pub fn torque_curve(picked: &Picked, axis: Axis) -> TorqueCurve {
    let chosen = &picked.axes[axis];
    match chosen.motor {
        Motor::Stepper(motor) => {
            let amplitude = set_current(picked, axis);
            let motion = &picked.build.drive;
            // An encoder notices a motor that falls behind, so more of its torque may be used.
            let share = match motor.closed_loop {
                true => motion.closed_loop_share,
                false => motion.working_share,
            };
            TorqueCurve::Stepper(StepperCurve::new(
                motor,
                picked.supply.volts,
                amplitude,
                share,
            ))
        }
        Motor::Servo(motor) => TorqueCurve::Servo(ServoCurve::new(motor)),
    }
}

/// Pulses for one turn of the motor.
pub fn pulses_a_turn(picked: &Picked, axis: Axis) -> f64 {
    match picked.axes[axis].motor {
        Motor::Stepper(_) => STEPS_A_TURN * f64::from(picked.build.drive.microsteps),
        Motor::Servo(motor) => f64::from(motor.counts),
    }
}
