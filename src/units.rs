//! Physical quantities: typed, so that a force can never be added to a length,
//! and the one place that knows how they are written in files and shown.
//!
//! Everything inside the rule core is an SI quantity of [`uom`]. Numbers without
//! a unit exist in two places only: at the edge of a file, where the key carries
//! the unit (`travel_x_mm`), and inside one formula, between taking the values
//! out and putting the result back.

use serde::{Deserialize, Deserializer};
pub use uom::si::f64::{
    Acceleration, AngularVelocity, Area, Capacitance, ElectricCurrent, ElectricPotential,
    ElectricalResistance, Energy, Force, Frequency, Inductance, Length, LinearMassDensity, Mass,
    MassDensity, MomentOfInertia, Power, Pressure, Ratio, TemperatureInterval,
    ThermodynamicTemperature, Time, Torque, Velocity, Volume, VolumeRate,
};

/// The stiffness of a spring along a line: force for each length that it gives. The units
/// library knows this dimension, N/m, as that of surface tension.
pub type Stiffness = uom::si::f64::SurfaceTension;

pub mod amount;
pub mod entry;
pub mod marks;
pub mod read;
pub mod respell;
pub mod show;

pub use amount::Amount;
pub use marks::{Marks, Shown, System};

pub use read::count;

/// Declares serde readers for one unit: `#[serde(rename = "lead_mm", with = "units::mm")]`
/// reads a bare number in that unit, within the unit's range, into a typed quantity; the
/// nested `opt` reads one that may be absent, `list` several. Nearly every figure of a part
/// is above zero; those that may be nothing at all (play, drag, leakage) are read by
/// `units::mm::or_zero`, which has an `opt` too.
macro_rules! units_in_files {
    ($($(#[$doc:meta])* $name:ident : $quantity:ident = $scale:expr, $unit:path, $symbol:literal, $range:expr;)*) => {$(
        $(#[$doc])*
        pub mod $name {
            use super::*;
            /// How the unit is written after a number; nothing for plain ratios.
            pub const SYMBOL: &str = $symbol;
            /// Builds the quantity from a number in this unit.
            pub fn of(value: f64) -> $quantity { $quantity::new::<$unit>(value * $scale) }
            /// The number of this unit in the quantity.
            pub fn from(quantity: $quantity) -> f64 { quantity.get::<$unit>() / $scale }
            /// The quantity in this unit, to be read by people.
            pub fn amount(quantity: $quantity) -> Amount { Amount::of(from(quantity), SYMBOL) }
            /// Reads a number in this unit.
            ///
            /// # Errors
            /// Refuses NaN and what lies outside the unit's range.
            pub fn deserialize<'de, D: Deserializer<'de>>(d: D) -> Result<$quantity, D::Error> {
                read::within(d, &$range, SYMBOL).map(of)
            }
            /// The same for a key that may be absent; use with `#[serde(default)]`.
            pub mod opt {
                use super::*;
                /// Reads a number in this unit.
                ///
                /// # Errors
                /// As the reader for a key that must be there.
                pub fn deserialize<'de, D: Deserializer<'de>>(d: D) -> Result<Option<$quantity>, D::Error> {
                    super::deserialize(d).map(Some)
                }
            }
            /// The same for a figure that may be zero.
            pub mod or_zero {
                use super::*;
                /// Reads a number in this unit, or zero.
                ///
                /// # Errors
                /// Refuses NaN, negative numbers, and what lies above the unit's range.
                pub fn deserialize<'de, D: Deserializer<'de>>(d: D) -> Result<$quantity, D::Error> {
                    read::within_or_zero(d, &$range, SYMBOL).map(of)
                }
                /// The same for a key that may be absent.
                pub mod opt {
                    use super::*;
                    /// Reads a number in this unit, or zero.
                    ///
                    /// # Errors
                    /// As the reader for a key that must be there.
                    pub fn deserialize<'de, D: Deserializer<'de>>(d: D) -> Result<Option<$quantity>, D::Error> {
                        super::deserialize(d).map(Some)
                    }
                }
            }
            /// The same for a list of numbers.
            pub mod list {
                use super::*;
                #[derive(Deserialize)]
                struct One(#[serde(with = "super")] $quantity);
                /// Reads a list of numbers in this unit.
                ///
                /// # Errors
                /// As the reader for one number.
                pub fn deserialize<'de, D: Deserializer<'de>>(d: D) -> Result<Vec<$quantity>, D::Error> {
                    Ok(Vec::<One>::deserialize(d)?.into_iter().map(|one| one.0).collect())
                }
            }
        }
    )*};
}

units_in_files! {
    /// Millimetres, up to the longest bar that a workshop can take in.
    mm: Length = 1.0, uom::si::length::millimeter, "mm", 0.001..=10_000.0;
    /// Millimetres of a cross-section: no bar of a self-built machine is a metre thick.
    section_mm: Length = 1.0, uom::si::length::millimeter, "mm", 0.001..=1000.0;
    /// Millimetres, of either sign: positions from a reference.
    signed_mm: Length = 1.0, uom::si::length::millimeter, "mm", -10_000.0..=10_000.0;
    /// Micrometres.
    um: Length = 1.0, uom::si::length::micrometer, "µm", 0.01..=100_000.0;
    /// Metres.
    m: Length = 1.0, uom::si::length::meter, "m", 0.001..=1000.0;
    /// Kilograms.
    kg: Mass = 1.0, uom::si::mass::kilogram, "kg", 1e-4..=10_000.0;
    /// Kilograms per metre: bars, belts, cables and rails.
    kg_per_m: LinearMassDensity = 1.0, uom::si::linear_mass_density::kilogram_per_meter, "kg/m", 1e-4..=1000.0;
    /// Newtons.
    n: Force = 1.0, uom::si::force::newton, "N", 0.01..=1e7;
    /// Newton metres.
    nm: Torque = 1.0, uom::si::torque::newton_meter, "Nm", 1e-4..=10_000.0;
    /// Amperes.
    a: ElectricCurrent = 1.0, uom::si::electric_current::ampere, "A", 0.001..=10_000.0;
    /// Milliamperes.
    ma: ElectricCurrent = 1.0, uom::si::electric_current::milliampere, "mA", 0.001..=100_000.0;
    /// Volts.
    v: ElectricPotential = 1.0, uom::si::electric_potential::volt, "V", 0.1..=100_000.0;
    /// Ohms.
    ohm: ElectricalResistance = 1.0, uom::si::electrical_resistance::ohm, "ohm", 1e-4..=10_000.0;
    /// Millihenries.
    mh: Inductance = 1.0, uom::si::inductance::millihenry, "mH", 1e-4..=10_000.0;
    /// Watts.
    w: Power = 1.0, uom::si::power::watt, "W", 0.01..=1e6;
    /// Kilowatts.
    kw: Power = 1.0, uom::si::power::kilowatt, "kW", 0.001..=1000.0;
    /// Revolutions per minute.
    rpm: AngularVelocity = 1.0, uom::si::angular_velocity::revolution_per_minute, "rpm", 1.0..=500_000.0;
    /// Hertz.
    hz: Frequency = 1.0, uom::si::frequency::hertz, "Hz", 1.0..=10_000.0;
    /// Kilohertz.
    khz: Frequency = 1.0, uom::si::frequency::kilohertz, "kHz", 0.1..=100_000.0;
    /// Metres per minute, the workshop's unit for feeds.
    m_per_min: Velocity = 1000.0, uom::si::velocity::millimeter_per_minute, "m/min", 0.01..=10_000.0;
    /// Metres per second squared.
    m_per_s2: Acceleration = 1.0, uom::si::acceleration::meter_per_second_squared, "m/s²", 0.001..=1000.0;
    /// Kilograms per cubic metre.
    kg_per_m3: MassDensity = 1.0, uom::si::mass_density::kilogram_per_cubic_meter, "kg/m³", 1.0..=25_000.0;
    /// Gigapascals: elastic moduli.
    gpa: Pressure = 1.0, uom::si::pressure::gigapascal, "GPa", 0.01..=1500.0;
    /// Newtons per square millimetre: cutting forces.
    n_per_mm2: Pressure = 1.0, uom::si::pressure::megapascal, "N/mm²", 0.1..=20_000.0;
    /// Degrees Celsius.
    celsius: ThermodynamicTemperature = 1.0, uom::si::thermodynamic_temperature::degree_celsius, "°C", -50.0..=500.0;
    /// Kelvins of difference.
    kelvin: TemperatureInterval = 1.0, uom::si::temperature_interval::kelvin, "K", -500.0..=500.0;
    /// Square millimetres.
    mm2: Area = 1.0, uom::si::area::square_millimeter, "mm²", 0.01..=10_000.0;
    /// Square metres.
    m2: Area = 1.0, uom::si::area::square_meter, "m²", 1e-4..=1000.0;
    /// Cubic centimetres.
    cm3: Volume = 1.0, uom::si::volume::cubic_centimeter, "cm³", 0.01..=1e6;
    /// Litres.
    litre: Volume = 1.0, uom::si::volume::liter, "l", 0.01..=1000.0;
    /// Seconds.
    s: Time = 1.0, uom::si::time::second, "s", 1e-6..=1e6;
    /// Hours.
    hour: Time = 1.0, uom::si::time::hour, "h", 0.01..=100_000.0;
    /// Hundredths: percentages.
    percent: Ratio = 1.0, uom::si::ratio::percent, "%", 0.01..=1000.0;
    /// Shares of a whole, at most 1: 0.9 is nine tenths.
    share: Ratio = 1.0, uom::si::ratio::ratio, "", 0.001..=1.0;
    /// Multiples: 5 is five times as much.
    times: Ratio = 1.0, uom::si::ratio::ratio, "", 0.01..=1000.0;
    /// Gram square centimetres, the unit of stepper data sheets for rotor inertia.
    g_cm2: MomentOfInertia = 1.0e-7, uom::si::moment_of_inertia::kilogram_square_meter, "g·cm²", 0.01..=1e6;
    /// Kilometres: how far a bearing runs in its life.
    km: Length = 1.0, uom::si::length::kilometer, "km", 0.001..=1e9;
    /// Newtons per micrometre: stiffness of machines.
    n_per_um: Stiffness = 1.0e6, uom::si::surface_tension::newton_per_meter, "N/µm", 0.001..=10_000.0;
    /// Kilowatt-hours.
    kwh: Energy = 1.0, uom::si::energy::kilowatt_hour, "kWh", 1e-6..=1e9;
    /// Joules.
    j: Energy = 1.0, uom::si::energy::joule, "J", 1e-6..=1e6;
    /// Microfarads.
    uf: Capacitance = 1.0, uom::si::capacitance::microfarad, "µF", 0.1..=1e6;
    /// Cubic centimetres a minute: how fast material is removed.
    cm3_per_min: VolumeRate = 1.0 / 60.0, uom::si::volume_rate::cubic_centimeter_per_second, "cm³/min", 1e-6..=1e6;
    /// Minutes.
    minute: Time = 1.0, uom::si::time::minute, "min", 0.001..=1e6;
    /// Kilogram square metres.
    kg_m2: MomentOfInertia = 1.0, uom::si::moment_of_inertia::kilogram_square_meter, "kg·m²", 1e-8..=100.0;
}

/// The stiffness of a spring that turns: torque for each radian that it gives, in N·m/rad.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Deserialize)]
#[serde(transparent)]
pub struct AngularStiffness(#[serde(deserialize_with = "angular_stiffness")] f64);

fn angular_stiffness<'de, D: Deserializer<'de>>(d: D) -> Result<f64, D::Error> {
    read::within(d, &(0.01..=1e9), "N·m/rad")
}

impl AngularStiffness {
    /// From newton metres a radian.
    pub const fn nm_per_rad(value: f64) -> Self {
        Self(value)
    }
    /// In newton metres a radian.
    pub const fn as_nm_per_rad(self) -> f64 {
        self.0
    }
}

/// The product of a screw's nominal diameter and its speed, in mm·rpm: the DN value by
/// which makers of ball screws limit the speed of the balls in the nut.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Deserialize)]
#[serde(transparent)]
pub struct DnValue(#[serde(deserialize_with = "dn_value")] f64);

fn dn_value<'de, D: Deserializer<'de>>(d: D) -> Result<f64, D::Error> {
    read::within(d, &(100.0..=1e6), "mm·rpm")
}

impl DnValue {
    /// From millimetres times revolutions per minute.
    pub const fn mm_rpm(value: f64) -> Self {
        Self(value)
    }
    /// In millimetres times revolutions per minute.
    pub const fn as_mm_rpm(self) -> f64 {
        self.0
    }
    /// The fastest turn a screw of this nominal diameter may make.
    pub fn speed_at(self, diameter: Length) -> AngularVelocity {
        rpm::of(self.0 / mm::from(diameter))
    }
}

/// A-weighted sound pressure level in dB(A), re 20 µPa (IEC 61672-1).
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Deserialize)]
#[serde(transparent)]
pub struct SoundLevel(#[serde(deserialize_with = "sound_level")] f64);

fn sound_level<'de, D: Deserializer<'de>>(d: D) -> Result<f64, D::Error> {
    read::within_or_zero(d, &(0.0..=150.0), "dB")
}

impl SoundLevel {
    /// From dB(A).
    pub const fn dba(value: f64) -> Self {
        Self(value)
    }
    /// In dB(A).
    pub fn as_dba(self) -> f64 {
        self.0
    }
}

/// A flow of air, in cubic metres an hour.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Deserialize)]
#[serde(transparent)]
pub struct AirFlow(#[serde(deserialize_with = "air_flow")] f64);

fn air_flow<'de, D: Deserializer<'de>>(d: D) -> Result<f64, D::Error> {
    read::within(d, &(0.1..=100_000.0), "m³/h")
}

impl AirFlow {
    /// From cubic metres an hour.
    pub const fn m3_per_h(value: f64) -> Self {
        Self(value)
    }
    /// In cubic metres an hour.
    pub fn as_m3_per_h(self) -> f64 {
        self.0
    }
}

/// Standard gravity, 9.806 65 m/s² (ISO 80000-3; 3rd CGPM 1901).
pub fn gravity() -> Acceleration {
    m_per_s2::of(9.806_65)
}
