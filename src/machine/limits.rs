//! What holds an axis back: every limit of its speed, and the least of them.

use super::drive::DriveFigures;
use super::load::Load;
use super::torque::TorqueCurve;
use crate::build::{Axis, Picked};
use crate::units::{self, AngularVelocity, Frequency, Length, Torque, Velocity};

crate::words! {
    /// What may hold an axis back.
    LimitName {
        Whirl = "screw-whirl", "screw whirl", "Turned faster, the screw whips like a skipping rope: a longer lead, firmer ends or a thicker screw lift this.";
        Nut = "nut-speed", "nut speed", "Turned faster, the balls in the nut or the plain nut wear out.";
        Motor = "motor-torque", "motor torque", "The motor has no torque left to accelerate the axis: more volts, another motor, less mass or less acceleration lift this.";
        MotorSpeed = "motor-speed", "motor speed", "Faster than the motor is made or planned for.";
        ControllerPulses = "controller-pulses", "controller pulses", "The controller sends step pulses no faster: fewer microsteps, a longer lead or another controller lift this.";
        DriverPulses = "driver-pulses", "driver pulses", "The driver takes step pulses no faster: fewer microsteps, a longer lead or another driver lift this.";
        Track = "track-speed", "rack or belt speed", "Rack and belt bear no more speed.";
    }
}

/// Share of a pulse rate that is planned with (common practice).
pub const PULSE_SHARE: f64 = 0.8;

/// One limit of an axis's speed.
#[derive(Clone, Copy, Debug)]
pub struct SpeedLimit {
    /// What limits.
    pub name: LimitName,
    /// At which speed.
    pub speed: Velocity,
}

pub(super) fn limits(
    picked: &Picked,
    axis: Axis,
    load: &Load,
    drive: &DriveFigures,
    curve: &TorqueCurve,
    step: Length,
) -> Vec<SpeedLimit> {
    let pulses = |rate: Frequency| {
        units::m_per_min::of(units::hz::from(rate) * PULSE_SHARE * units::m::from(step) * 60.0)
    };
    let needed = load.needed(drive, picked.build.area.acceleration);
    let named = |name, speed| SpeedLimit { name, speed };
    let mut found = Vec::with_capacity(6);
    found.extend(
        drive
            .whirl
            .map(|turning| named(LimitName::Whirl, drive.speed_at(turning))),
    );
    found.extend(
        drive
            .nut
            .map(|turning| named(LimitName::Nut, drive.speed_at(turning))),
    );
    found.push(named(
        LimitName::Motor,
        drive.speed_at(fastest(curve, needed)),
    ));
    found.push(named(
        LimitName::MotorSpeed,
        drive.speed_at(curve.greatest_speed()),
    ));
    found.push(named(
        LimitName::ControllerPulses,
        pulses(picked.controller.pulses),
    ));
    found.push(named(
        LimitName::DriverPulses,
        pulses(picked.axes[axis].driver.pulses),
    ));
    found.extend(drive.track.map(|speed| named(LimitName::Track, speed)));
    found
}

/// The greatest speed at which the motor may still give a torque, by bracketing: the curves
/// fall with speed. Zero where it cannot give it at rest.
fn fastest(curve: &TorqueCurve, needed: Torque) -> AngularVelocity {
    let ceiling = units::rpm::from(curve.greatest_speed()) * 2.0;
    let gives = |rpm: f64| curve.usable(units::rpm::of(rpm)) >= needed;
    if !gives(0.0) {
        return units::rpm::of(0.0);
    }
    let (mut slow, mut fast) = (0.0, ceiling);
    for _ in 0..40 {
        let middle = (slow + fast) / 2.0;
        if gives(middle) {
            slow = middle;
        } else {
            fast = middle;
        }
    }
    units::rpm::of(slow)
}

/// Of two sides, the lesser of each limit; one that only the other side has is kept too.
pub(super) fn keep_least(limits: &mut Vec<SpeedLimit>, others: &[SpeedLimit]) {
    for other in others {
        match limits.iter_mut().find(|limit| limit.name == other.name) {
            Some(limit) if other.speed < limit.speed => limit.speed = other.speed,
            Some(_) => {}
            None => limits.push(*other),
        }
    }
    limits.sort_by_key(|limit| limit.name);
}

pub(super) fn least(limits: &[SpeedLimit]) -> (Velocity, LimitName) {
    let mut binding = (units::m_per_min::of(0.0), LimitName::Motor);
    for (place, limit) in limits.iter().enumerate() {
        if place == 0 || limit.speed < binding.0 {
            binding = (limit.speed, limit.name);
        }
    }
    binding
}
