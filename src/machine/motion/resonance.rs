//! Where a stepper shakes: held by its magnetic spring, rotor and load swing at a natural
//! frequency, and full steps that come at that frequency feed the swing until steps are lost.
//!
//! The spring of a motor of 50 rotor teeth is 50 times the amplitude of its torque (torque
//! against angle is a sine of 50 periods a turn); f = √(k/J)/2π (handbooks of stepping
//! motors). Fine microsteps hardly feed it.

use std::f64::consts::TAU;

use crate::machine::drive::DriveFigures;
use crate::machine::load::Load;
use crate::machine::stepper::{STEPS_A_TURN, StepperCurve, magnetic_spring};
use crate::units::{self, AngularStiffness, Frequency, MomentOfInertia, Torque, Velocity};

/// The swing of a stepper with its load, and the speed of the axis that feeds it.
#[derive(Clone, Copy, Debug)]
pub struct Resonance {
    /// Stiffness of the magnetic spring.
    pub spring: AngularStiffness,
    /// Everything that the motor moves and turns, seen by the motor.
    pub inertia: MomentOfInertia,
    /// How fast it swings.
    pub frequency: Frequency,
    /// Speed of the axis at which full steps come as fast.
    pub speed: Velocity,
}

impl Resonance {
    pub(in crate::machine) fn of(curve: &StepperCurve, load: &Load, drive: &DriveFigures) -> Self {
        let inertia = load.whole_inertia(drive);
        let frequency = natural_frequency(curve.plateau(), inertia);
        let steps = units::hz::from(frequency);
        Self {
            spring: curve.magnetic_spring(),
            inertia,
            frequency,
            speed: drive.speed_at(units::rpm::of(steps * 60.0 / STEPS_A_TURN)),
        }
    }
}

/// How fast an inertia swings on the magnetic spring of a motor of 50 rotor teeth, for small
/// swings.
pub fn natural_frequency(amplitude: Torque, inertia: MomentOfInertia) -> Frequency {
    let spring = magnetic_spring(amplitude).as_nm_per_rad();
    units::hz::of((spring / units::kg_m2::from(inertia)).sqrt() / TAU)
}
