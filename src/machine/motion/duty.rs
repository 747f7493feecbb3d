//! How warm a servo gets: the root mean square of its torque over a typical duty, which must
//! not exceed its rated torque for ever.
//!
//! The duty: out over the whole travel at rapids (speed up, run, brake), back while cutting
//! at the wanted feed and force, then a pause of a tenth of that time (common practice, from
//! memory). On Z the weight is borne all the time: speeding up, running and cutting count as
//! upwards, braking as downwards, each the harder way.

use crate::build::{Axis, Picked};
use crate::machine::drive::DriveFigures;
use crate::machine::load::Load;
use crate::units::{self, Length, Time, Torque, Velocity};

/// The pause after a way out and back, as a share of its time.
const PAUSE_SHARE: f64 = 0.1;

/// One stretch of the duty.
#[derive(Clone, Copy, Debug)]
pub struct Stretch {
    /// What the axis does.
    pub title: &'static str,
    /// Torque of the motor meanwhile.
    pub torque: Torque,
    /// How long.
    pub time: Time,
}

/// A typical duty of one motor.
#[derive(Clone, Copy, Debug)]
pub struct Duty {
    /// Speed up, run, brake, cut, pause.
    pub stretches: [Stretch; 5],
    /// Root mean square of the torque.
    pub mean: Torque,
}

impl Duty {
    /// The duty of an axis of a travel; none where the axis does not move.
    pub(in crate::machine) fn of(
        picked: &Picked,
        axis: Axis,
        load: &Load,
        drive: &DriveFigures,
        rapid: Velocity,
        travel: Length,
    ) -> Option<Self> {
        let area = &picked.build.area;
        let metres_a_second = |speed: Velocity| units::m_per_min::from(speed) / 60.0;
        let reached = metres_a_second(rapid);
        let (s, a) = (
            units::m::from(travel),
            units::m_per_s2::from(area.acceleration),
        );
        let fastest = reached.min(metres_a_second(area.wanted_rapids(axis)));
        if s <= 0.0 {
            return None;
        }
        // A short travel is a triangle: it brakes from √(s a).
        let v = fastest.min((s * a).sqrt());
        let feed = reached.min(metres_a_second(area.wanted_feed(axis)));
        if v <= 0.0 || feed <= 0.0 || a <= 0.0 {
            return None;
        }
        let (ramp, run, cut) = (v / a, (s / v - v / a).max(0.0), s / feed);
        let pause = PAUSE_SHARE * (2.0 * ramp + run + cut);
        let at = |title, torque, seconds| Stretch {
            title,
            torque,
            time: units::s::of(seconds),
        };
        let stretches = [
            at("speed up", load.needed(drive, area.acceleration), ramp),
            at("run at rapids", load.steady_torque(drive), run),
            at("brake", load.braking(drive, area.acceleration), ramp),
            at("cut", load.cutting(drive, area.cutting_force), cut),
            at("pause", load.back_torque(drive), pause),
        ];
        Some(Self {
            mean: root_mean_square(&stretches)?,
            stretches,
        })
    }
}

/// √(Σ T² t / Σ t); none without time.
fn root_mean_square(stretches: &[Stretch]) -> Option<Torque> {
    let (mut squares, mut time) = (0.0, 0.0);
    for stretch in stretches {
        let (torque, seconds) = (
            units::nm::from(stretch.torque),
            units::s::from(stretch.time),
        );
        squares += torque * torque * seconds;
        time += seconds;
    }
    (time > 0.0).then(|| units::nm::of((squares / time).sqrt()))
}
