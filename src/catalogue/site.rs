//! Where the machine will stand: the mains there. Dated general information; local codes
//! and the electrician on the spot decide.

use super::part::part;
use crate::money::Currency;
use crate::units::{self, ElectricCurrent, ElectricPotential, Frequency, Power};

crate::words! {
    /// What cuts the power there when current leaks to earth.
    EarthProtection {
        ResidualDevice = "residual-device", "residual-current device", "Of a type that is chosen by what hangs behind it (IEC 61008-1, IEC 62423).";
        GroundFault = "ground-fault-interrupter", "ground-fault circuit interrupter", "Class A, which acts near 5 mA: the device of North America (UL 943, from memory).";
    }
}

part! {
    /// A kind of wall socket, with its circuit and currency.
    Site by Piece {
        /// Mains voltage.
        #[serde(rename = "volts_v", with = "units::v")]
        volts: ElectricPotential,
        /// Mains frequency.
        #[serde(rename = "frequency_hz", with = "units::hz")]
        frequency: Frequency,
        /// Breaker of the circuit.
        #[serde(rename = "breaker_a", with = "units::a")]
        breaker: ElectricCurrent,
        /// What the plug carries for hours.
        #[serde(rename = "plug_a", with = "units::a")]
        plug: ElectricCurrent,
        /// What stands in front against current to earth.
        earth_protection: EarthProtection,
        /// Rated residual current of the protection in front.
        #[serde(rename = "residual_ma", with = "units::ma")]
        residual: ElectricCurrent,
        /// Whether a second circuit is usually within reach.
        second_circuit: bool,
        /// The money spent there.
        currency: Currency,
        /// The day on which this was written down.
        #[serde(deserialize_with = "super::day::deserialize")]
        as_of: jiff::civil::Date,
        /// Power at which hours-long single-phase loads want an electrician's word.
        #[serde(rename = "ask_above_w", with = "units::w")]
        ask_above: Power,
    }
}
