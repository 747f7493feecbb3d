//! What torque a motor gives at a speed: steppers and servos behind one face.

pub(in crate::machine) mod notes;

use super::servo::{PEAK_SHARE, ServoCurve};
use super::stepper::{GREATEST_RPM, StepperCurve};
use crate::units::{self, AngularVelocity, Torque};

/// The torque curve of a motor as it is fed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TorqueCurve {
    /// A stepper on its supply.
    Stepper(StepperCurve),
    /// A servo on its driver.
    Servo(ServoCurve),
}

impl TorqueCurve {
    /// The torque at which the motor falls out of step, or its short-time limit.
    pub fn pull_out(&self, speed: AngularVelocity) -> Torque {
        match self {
            Self::Stepper(curve) => curve.pull_out(speed),
            Self::Servo(curve) => curve.short(speed),
        }
    }

    /// The torque that may be used: the builder's share of a stepper's pull-out, 80 % of a
    /// servo's peak.
    pub fn usable(&self, speed: AngularVelocity) -> Torque {
        match self {
            Self::Stepper(curve) => curve.usable(speed),
            Self::Servo(curve) => curve.usable(speed),
        }
    }

    /// The torque that may be used for ever.
    pub fn lasting(&self, speed: AngularVelocity) -> Torque {
        match self {
            Self::Stepper(curve) => curve.usable(speed),
            Self::Servo(curve) => curve.lasting(speed),
        }
    }

    /// The greatest speed at which it may be used for a torque; zero where it gives it nowhere.
    pub fn fastest_with(&self, needed: Torque) -> AngularVelocity {
        match self {
            Self::Stepper(curve) => curve.fastest_with(needed),
            Self::Servo(curve) => curve.fastest_with(needed),
        }
    }

    /// The speed at which the motor no longer gives a torque at all: where a stepper stalls.
    pub fn stalls_at(&self, needed: Torque) -> AngularVelocity {
        let share = match self {
            Self::Stepper(curve) => curve.working_share(),
            Self::Servo(_) => units::share::of(PEAK_SHARE),
        };
        self.fastest_with(units::nm::of(
            units::nm::from(needed) * units::share::from(share),
        ))
    }

    /// The greatest speed that its maker allows, or that is planned with.
    pub fn greatest_speed(&self) -> AngularVelocity {
        match self {
            Self::Stepper(_) => units::rpm::of(GREATEST_RPM),
            Self::Servo(curve) => curve.greatest_speed(),
        }
    }

    /// The speed at which the supply's voltage starts to bind: the corner of the curve.
    pub fn corner(&self) -> AngularVelocity {
        match self {
            Self::Stepper(curve) => curve.corner(),
            Self::Servo(curve) => curve.rated_speed(),
        }
    }
}
