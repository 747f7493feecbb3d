//! Servos: rated torque for ever up to the rated speed, its peak for a second or two, and
//! constant power from there to the greatest speed (catalogue form).

use crate::catalogue::motor::Servo;
use crate::units::{self, AngularVelocity, Torque};

/// Share of the peak that may be planned with (common practice).
pub const PEAK_SHARE: f64 = 0.8;

/// A servo's envelope.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ServoCurve {
    rated: f64,
    peak: f64,
    rated_rpm: f64,
    greatest_rpm: f64,
}

impl ServoCurve {
    /// The envelope of a servo.
    pub fn new(motor: &Servo) -> Self {
        Self {
            rated: units::nm::from(motor.rated),
            peak: units::nm::from(motor.peak),
            rated_rpm: units::rpm::from(motor.rated_speed),
            greatest_rpm: units::rpm::from(motor.greatest_speed),
        }
    }

    fn envelope(&self, level: f64, speed: AngularVelocity) -> f64 {
        let rpm = units::rpm::from(speed);
        if rpm > self.greatest_rpm {
            0.0
        } else if rpm <= self.rated_rpm {
            level
        } else {
            level * self.rated_rpm / rpm
        }
    }

    /// Torque for a second or two.
    pub fn short(&self, speed: AngularVelocity) -> Torque {
        units::nm::of(self.envelope(self.peak, speed))
    }

    /// What may be planned of it for acceleration.
    pub fn usable(&self, speed: AngularVelocity) -> Torque {
        self.short(speed) * PEAK_SHARE
    }

    /// The greatest speed at which it may be used for a torque: constant up to the rated
    /// speed, constant power from there; zero where it gives it nowhere.
    pub fn fastest_with(&self, needed: Torque) -> AngularVelocity {
        let (level, wanted) = (self.peak * PEAK_SHARE, units::nm::from(needed));
        let rpm = if wanted > level {
            0.0
        } else {
            (level * self.rated_rpm / wanted.max(f64::MIN_POSITIVE))
                .clamp(self.rated_rpm, self.greatest_rpm)
        };
        units::rpm::of(rpm)
    }

    /// Torque for ever.
    pub fn lasting(&self, speed: AngularVelocity) -> Torque {
        units::nm::of(self.envelope(self.rated, speed))
    }

    /// The speed up to which the rated torque holds.
    pub fn rated_speed(&self) -> AngularVelocity {
        units::rpm::of(self.rated_rpm)
    }

    /// The greatest speed.
    pub fn greatest_speed(&self) -> AngularVelocity {
        units::rpm::of(self.greatest_rpm)
    }
}
