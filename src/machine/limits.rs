//! What holds an axis back: every limit of its speed, and the least of them.

use super::drive::DriveFigures;
use super::feed::pulses_a_turn;
use super::geometry::along::screw_cut;
use super::load::Load;
use super::measured::STALL_SHARE;
use super::torque::TorqueCurve;
use crate::build::{Axis, Picked};
use crate::catalogue::LinearDrive;
use crate::explain::Recorder;
use crate::units::{self, AngularVelocity, Frequency, Length, Velocity};
use crate::words::Words as _;

mod notes;

crate::words! {
    /// What may hold an axis back.
    LimitName {
        Whirl = "screw-whirl", "screw whip", "Turned faster, the screw whips like a skipping rope: a longer lead, firmer ends or a thicker screw lift this.";
        Nut = "nut-speed", "nut speed", "Turned faster, the balls in the nut or the plain nut wear out: a longer lead or another screw, whose nut may turn faster, lifts this.";
        Motor = "motor-torque", "motor torque", "The motor has no torque left to accelerate the axis: more volts, another motor, less mass or less acceleration lift this.";
        MotorSpeed = "motor-speed", "motor speed", "Faster than the motor is made or planned for: a longer lead, less reduction or a motor for more turns lifts this.";
        ControllerPulses = "controller-pulses", "controller pulses", "The controller sends step pulses no faster: fewer microsteps of a stepper, a longer lead or another controller lift this.";
        DriverPulses = "driver-pulses", "driver pulses", "The driver takes step pulses no faster: fewer microsteps of a stepper, a longer lead or another driver lift this.";
        Track = "track-speed", "rack or belt speed", "Rack and belt bear no more speed: another drive lifts this.";
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
    /// Whether it is one of the second of two drives that differ.
    pub second: bool,
}

impl SpeedLimit {
    /// It in words, with the drive where that is the second of two that differ.
    pub fn told(&self) -> String {
        match self.second {
            true => format!("{} of the second drive", self.name.title()),
            false => self.name.title().to_owned(),
        }
    }
}

/// One drive of an axis, of which the limits are asked.
pub(super) struct Limited<'a, 'c> {
    pub(super) picked: &'a Picked<'c>,
    pub(super) axis: Axis,
    pub(super) part: LinearDrive<'c>,
    pub(super) load: &'a Load,
    pub(super) drive: &'a DriveFigures,
    pub(super) curve: &'a TorqueCurve,
    /// Fastest turn of the axis's other screw before it whips.
    pub(super) other_whirl: Option<AngularVelocity>,
}

/// What of a screw decides when it whips.
#[derive(Clone, Copy)]
struct Whirling {
    root: Length,
    between_bearings: Length,
}

impl Limited<'_, '_> {
    /// Puts each limit of this drive into a list where it is new or lower than there, and
    /// tells how it came about.
    pub(super) fn keep_least(&self, found: &mut Vec<SpeedLimit>, notes: &mut impl Recorder) {
        let drive = self.drive;
        let other = self.picked.other_drive(self.axis);
        let second = other.is_some_and(|other| other.part().id() == self.part.part().id());
        let mut keep = |name, speed| {
            keep(
                found,
                SpeedLimit {
                    name,
                    speed,
                    second,
                },
            )
        };
        if let Some(turning) = drive.whirl {
            if keep(LimitName::Whirl, drive.speed_at(turning)) {
                notes.note(|| notes::whirl(self, turning, self.whirling()));
            }
            if self.other_whirl.is_none_or(|other| turning < other)
                && notes.listens()
                && let Some(screw) = self.whirling()
            {
                notes.note(|| notes::whirl_speed(self, turning, screw));
            }
        }
        if let Some(turning) = drive.nut
            && keep(LimitName::Nut, drive.speed_at(turning))
        {
            notes.note(|| notes::nut(self, turning));
        }
        let needed = self.load.needed(drive, self.picked.build.area.acceleration);
        let turning = self.curve.fastest_with(needed);
        if let Some(stall) = self.picked.build.measured.stall[self.axis] {
            if keep(LimitName::Motor, stall * STALL_SHARE) {
                notes.note(|| notes::stalled(self, stall, drive.speed_at(turning)));
            }
        } else if keep(LimitName::Motor, drive.speed_at(turning)) {
            notes.note(|| notes::motor(self, needed, turning));
        }
        let turning = self.curve.greatest_speed();
        if keep(LimitName::MotorSpeed, drive.speed_at(turning)) {
            notes.note(|| notes::motor_speed(self, turning));
        }
        let rate = self.picked.controller.pulses;
        if keep(LimitName::ControllerPulses, self.pulsed(rate)) {
            notes.note(|| notes::pulses(self, LimitName::ControllerPulses, rate));
        }
        let rate = self.picked.axes[self.axis].driver.pulses;
        if keep(LimitName::DriverPulses, self.pulsed(rate)) {
            notes.note(|| notes::pulses(self, LimitName::DriverPulses, rate));
        }
        if let Some(speed) = drive.track
            && keep(LimitName::Track, speed)
        {
            notes.note(|| notes::track(self, speed));
        }
    }

    /// Travel for one pulse.
    fn step(&self) -> Length {
        self.drive.travel_a_turn / pulses_a_turn(self.picked, self.axis)
    }

    /// The speed at a share of a pulse rate.
    fn pulsed(&self, rate: Frequency) -> Velocity {
        let metres = units::m::from(self.step());
        units::m_per_min::of(units::hz::from(rate) * PULSE_SHARE * metres * 60.0)
    }

    /// What of its screw may whip; none for racks and belts.
    fn whirling(&self) -> Option<Whirling> {
        let cut = screw_cut(self.picked, self.axis, self.part)?;
        Some(Whirling {
            root: self.part.screw()?.root,
            between_bearings: cut.between_bearings,
        })
    }
}

/// Puts a limit into a list that is kept in the order of its names, unless a lower one of its
/// name is there; whether it was put.
fn keep(found: &mut Vec<SpeedLimit>, one: SpeedLimit) -> bool {
    let place = found.partition_point(|limit| limit.name < one.name);
    match found.get_mut(place) {
        Some(known) if known.name == one.name && known.speed <= one.speed => return false,
        Some(known) if known.name == one.name => *known = one,
        _ => found.insert(place, one),
    }
    true
}

/// The limit that binds, the first of equal ones. The list is never empty: every drive has the
/// limits of its motor.
pub(super) fn least(limits: &[SpeedLimit]) -> (Velocity, LimitName) {
    let mut binding = (units::m_per_min::of(0.0), LimitName::Motor);
    for (place, limit) in limits.iter().enumerate() {
        if place == 0 || limit.speed < binding.0 {
            binding = (limit.speed, limit.name);
        }
    }
    binding
}
