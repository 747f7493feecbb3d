//! What the controller and the driver of an axis are set to: the numbers that a person copies.

use crate::build::{Axis, Picked};
use crate::catalogue::Motor;
use crate::machine::feed::{motor_current, pulses_a_turn};
use crate::machine::motion::ramp::Ramp;
use crate::units::{self, Acceleration, ElectricCurrent, Length, Velocity};

/// The settings of one axis.
#[derive(Clone, Copy, Debug)]
pub struct Settings {
    /// Pulses for one turn of the motor.
    pub pulses_a_turn: f64,
    /// Pulses for one millimetre: the controller's steps.
    pub pulses_per_mm: f64,
    /// The wanted speed, as far as the axis reaches it. What more it could do is no reason to
    /// ask for it before the machine has proved itself.
    pub speed: Velocity,
    /// The wanted acceleration, as far as the axis reaches it; none where it never moves.
    pub acceleration: Option<Acceleration>,
    /// The driver's current: the amplitude of a stepper's phase, the rated current of a servo.
    pub current: ElectricCurrent,
    /// The effective current of a stepper's phase, which some drivers ask for; none for servos.
    pub current_rms: Option<ElectricCurrent>,
}

impl Settings {
    /// Of an axis, by its travel for one pulse, its rapids and its ramp.
    pub(super) fn of(
        picked: &Picked,
        axis: Axis,
        step: Length,
        rapid: Velocity,
        ramp: Option<Ramp>,
    ) -> Self {
        let area = &picked.build.area;
        let current = motor_current(picked, axis);
        let is_stepper = matches!(picked.axes[axis].motor, Motor::Stepper(_));
        Self {
            pulses_a_turn: pulses_a_turn(picked, axis),
            pulses_per_mm: 1.0 / units::mm::from(step),
            speed: area.wanted_rapids(axis).min(rapid),
            acceleration: ramp.map(|ramp| area.acceleration.min(ramp.acceleration())),
            current,
            current_rms: is_stepper.then(|| current / std::f64::consts::SQRT_2),
        }
    }
}
