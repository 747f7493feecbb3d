//! What a load takes at the moment of starting, as a breaker's magnet feels it: the effective
//! current of the first half wave.
//!
//! A motor takes a multiple of its running current until it turns. A supply charges its
//! capacitors: a short, high peak. Taken as half a sine of the peak Î and the length t, its
//! effective value over the half wave of 1/(2 f) is Î √(t f).

use crate::catalogue::motor::Supply;
use crate::catalogue::spindle::Vfd;
use crate::units::{self, ElectricCurrent, ElectricPotential, Frequency, Ratio, Time};

/// How a load starts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Start {
    /// A motor: so many times its running current.
    Motor(Ratio),
    /// Capacitors that charge.
    Charge(Charge),
}

/// The pulse that charges capacitors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Charge {
    /// Its peak at [`Charge::AT_VOLTS`], in amperes.
    peak: f64,
    /// Its length, in seconds.
    length: f64,
    /// How many charge at once.
    count: f64,
}

impl Charge {
    /// The mains voltage for which data sheets print the peak; it grows with the voltage.
    pub const AT_VOLTS: f64 = 230.0;

    /// Its peak at [`Charge::AT_VOLTS`].
    pub fn peak(&self) -> ElectricCurrent {
        units::a::of(self.peak)
    }

    /// Its length.
    pub fn length(&self) -> Time {
        units::s::of(self.length)
    }

    /// How many charge at once.
    pub fn count(&self) -> f64 {
        self.count
    }
}

impl Start {
    /// Effective current of the first half wave.
    pub fn current(
        &self,
        running: ElectricCurrent,
        volts: ElectricPotential,
        frequency: Frequency,
    ) -> ElectricCurrent {
        match self {
            Self::Motor(times) => running * *times,
            Self::Charge(charge) => {
                let share = (charge.length * units::hz::from(frequency)).min(1.0).sqrt();
                let at_volts = units::v::from(volts) / Charge::AT_VOLTS;
                charge.peak() * share * at_volts * charge.count
            }
        }
    }

    /// Whether it comes on with the machine's main switch, together with all that charges.
    pub fn charges(&self) -> bool {
        matches!(self, Self::Charge(_))
    }
}

/// How long the pulse of a switched supply lasts (typical of data sheets, from memory).
const SUPPLY_PULSE: f64 = 0.001;

/// How long an inverter charges through its resistor (common practice, from memory).
const INVERTER_PULSE: f64 = 0.005;

/// So many small switched supplies: controller, computer, servo drivers (typical, from memory).
pub(super) fn small(count: f64) -> Start {
    Start::Charge(Charge {
        peak: 30.0,
        length: SUPPLY_PULSE,
        count,
    })
}

/// Pumps and compressors: direct starting takes five to eight times the rated current
/// (common practice, from memory).
pub(super) fn pump() -> Start {
    Start::Motor(units::times::of(6.0))
}

/// A hand router's brushed motor without soft start (common practice, from memory).
pub(super) fn router() -> Start {
    Start::Motor(units::times::of(4.0))
}

/// The motors' supplies: the peak in their data.
pub(super) fn supply(supply: &Supply, count: f64) -> Start {
    Start::Charge(Charge {
        peak: units::a::from(supply.inrush),
        length: SUPPLY_PULSE,
        count,
    })
}

/// An inverter: the peak in its data.
pub(super) fn inverter(vfd: &Vfd) -> Start {
    Start::Charge(Charge {
        peak: units::a::from(vfd.inrush),
        length: INVERTER_PULSE,
        count: 1.0,
    })
}
