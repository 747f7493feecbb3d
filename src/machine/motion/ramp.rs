//! The time of a move from rest to rest.
//!
//! A trapezoid has its acceleration at once. An S-ramp lets it build up in a given time τ and
//! fade in the same time, which bounds the jerk to j = a/τ: gentler on frame and motors, and
//! slower by about τ. Short moves never reach the full speed, and the shortest not even the
//! full acceleration: each of these cases has its closed form (double-S profile, handbooks of
//! trajectory planning).

use crate::units::{self, Acceleration, Length, Ratio, Time, Velocity};

/// Lengths of moves by which machines are compared, in millimetres: between holes of one
/// part, across a part, from part to part.
pub const SHORT_MOVES_MM: [f64; 4] = [10.0, 50.0, 100.0, 300.0];

/// How far a move gets through its profile.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// It runs at full speed for a while.
    Speed,
    /// It reaches the full acceleration, but not the full speed.
    Acceleration,
    /// It reaches neither: the acceleration only builds up and fades.
    Neither,
}

/// The bounds within which an axis moves.
#[derive(Clone, Copy, Debug)]
pub struct Ramp {
    speed: f64,
    acceleration: f64,
    build_up: f64,
}

/// One move from rest to rest.
#[derive(Clone, Copy, Debug)]
pub struct Move {
    /// How long it takes.
    pub time: Time,
    /// How long of that it runs at full speed.
    pub at_speed: Time,
    /// The speed that it reaches.
    pub peak: Velocity,
    /// How far it gets.
    pub reach: Reach,
}

impl Move {
    /// The share of its time that it runs at full speed.
    pub fn share_at_speed(&self) -> Ratio {
        let time = units::s::from(self.time);
        let share = match time > 0.0 {
            true => units::s::from(self.at_speed) / time,
            false => 0.0,
        };
        units::share::of(share)
    }

    fn new(time: f64, at_speed: f64, peak: f64, reach: Reach) -> Self {
        Self {
            time: units::s::of(time),
            at_speed: units::s::of(at_speed),
            peak: units::m_per_min::of(peak * 60.0),
            reach,
        }
    }
}

impl Ramp {
    /// A trapezoid; none where the axis has no speed or no acceleration, and never arrives.
    pub fn trapezoid(speed: Velocity, acceleration: Acceleration) -> Option<Self> {
        let (speed, acceleration) = (
            units::m_per_min::from(speed) / 60.0,
            units::m_per_s2::from(acceleration),
        );
        (speed > 0.0 && acceleration > 0.0).then_some(Self {
            speed,
            acceleration,
            build_up: 0.0,
        })
    }

    /// The same with an acceleration that builds up in a time.
    pub fn building_up(self, time: Time) -> Self {
        Self {
            build_up: units::s::from(time).max(0.0),
            ..self
        }
    }

    /// The same at a feed of a cut: as fast, whatever the rapids are.
    pub fn up_to(self, feed: Velocity) -> Self {
        Self {
            speed: units::m_per_min::from(feed) / 60.0,
            ..self
        }
    }

    /// The greatest speed.
    pub fn speed(&self) -> Velocity {
        units::m_per_min::of(self.speed * 60.0)
    }

    /// The greatest acceleration.
    pub fn acceleration(&self) -> Acceleration {
        units::m_per_s2::of(self.acceleration)
    }

    /// The time in which the acceleration builds up; zero for a trapezoid.
    pub fn build_up(&self) -> Time {
        units::s::of(self.build_up)
    }

    /// A move of a length, from rest to rest.
    pub fn over(&self, length: Length) -> Move {
        let (s, v, a, tau) = (
            units::m::from(length),
            self.speed,
            self.acceleration,
            self.build_up,
        );
        if s <= 0.0 {
            return Move::new(0.0, 0.0, 0.0, Reach::Neither);
        }
        // From rest to full speed; below a τ the acceleration does not build up fully.
        let speeding_up = if v >= a * tau {
            tau + v / a
        } else {
            2.0 * (v * tau / a).sqrt()
        };
        // Speeding up and braking each cover half of v times their duration.
        if s >= v * speeding_up {
            return Move::new(s / v + speeding_up, s / v - speeding_up, v, Reach::Speed);
        }
        if s >= 2.0 * a * tau * tau {
            let peak = ((a * tau).hypot(2.0 * (a * s).sqrt()) - a * tau) / 2.0;
            return Move::new(2.0 * (tau + peak / a), 0.0, peak, Reach::Acceleration);
        }
        let quarter = (s * tau / (2.0 * a)).cbrt();
        let peak = a * quarter * quarter / tau;
        Move::new(4.0 * quarter, 0.0, peak, Reach::Neither)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ramp(build_up: f64) -> Ramp {
        Ramp::trapezoid(units::m_per_min::of(12.0), units::m_per_s2::of(0.5))
            .expect("it moves")
            .building_up(units::s::of(build_up))
    }

    #[test]
    fn cases_meet_without_a_step() {
        // Where v Ta, 2 a τ² and v = a τ meet: 0.2 m/s, 0.5 m/s².
        for build_up in [0.05, 0.1, 0.4, 0.400_001, 0.8] {
            let ramp = ramp(build_up);
            for micrometres in (0..400_000).step_by(50) {
                let at = |um: f64| units::s::from(ramp.over(units::um::of(um)).time);
                let (near, far) = (at(f64::from(micrometres)), at(f64::from(micrometres + 50)));
                assert!(far > near, "{build_up} s, {micrometres} µm");
                assert!(micrometres < 1000 || far - near < 0.01, "{micrometres} µm");
            }
        }
    }

    #[test]
    fn what_never_moves_has_no_ramp() {
        let still = units::m_per_min::of(0.0);
        assert!(Ramp::trapezoid(still, units::m_per_s2::of(1.0)).is_none());
        let weak = units::m_per_s2::of(0.0);
        assert!(Ramp::trapezoid(units::m_per_min::of(1.0), weak).is_none());
        assert_eq!(units::s::from(ramp(0.1).over(units::mm::of(0.0)).time), 0.0);
        let nothing = ramp(0.0).over(units::mm::of(0.0));
        assert_eq!(units::share::from(nothing.share_at_speed()), 0.0);
    }
}
