//! Torque over the whole range of a motor's speed: what it gives, what of it may be used, and
//! what speeding up and braking ask. The picture of the torque curve is drawn from these.

use crate::machine::torque::TorqueCurve;
use crate::units::{self, AngularVelocity, Torque};

/// How many points a curve is told by: standstill and ten steps up to the greatest speed.
pub const POINTS: usize = 11;

/// Torque at one speed.
#[derive(Clone, Copy, Debug)]
pub struct TorquePoint {
    /// Speed of the motor.
    pub turning: AngularVelocity,
    /// Torque at which it falls out of step, or its limit for a second or two.
    pub available: Torque,
    /// The part of it that may be used.
    pub usable: Torque,
    /// Torque to speed up as wanted, upwards on Z.
    pub accelerating: Torque,
    /// Torque to brake as hard, downwards on Z; below zero where friction alone brakes harder.
    pub braking: Torque,
}

/// The points of a curve, from standstill to the motor's greatest speed.
pub fn torque_points(
    curve: &TorqueCurve,
    accelerating: Torque,
    braking: Torque,
) -> [TorquePoint; POINTS] {
    let step = units::rpm::from(curve.greatest_speed()) / (POINTS - 1) as f64;
    std::array::from_fn(|place| {
        let turning = units::rpm::of(step * place as f64);
        TorquePoint {
            turning,
            available: curve.pull_out(turning),
            usable: curve.usable(turning),
            accelerating,
            braking,
        }
    })
}
