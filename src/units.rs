//! Physical quantities: typed, so that a force can never be added to a length,
//! and the one place that knows how they are written in files and shown.
//!
//! Everything inside the rule core is an SI quantity of [`uom`]. Numbers without
//! a unit exist in two places only: at the edge of a file, where the key carries
//! the unit (`travel_x_mm`), and inside one formula, between taking the values
//! out and putting the result back.

use serde::{Deserialize, Deserializer, de::Error};
pub use uom::si::f64::{
    Acceleration, AngularVelocity, Area, ElectricCurrent, ElectricPotential, ElectricalResistance,
    Force, Frequency, Inductance, Length, Mass, MassDensity, MomentOfInertia, Power, Pressure,
    Ratio, TemperatureInterval, ThermodynamicTemperature, Time, Torque, Velocity, Volume,
};

pub mod show;

/// A number read from a file that is neither NaN nor infinite.
fn finite<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
    let value = f64::deserialize(deserializer)?;
    if value.is_finite() {
        Ok(value)
    } else {
        Err(D::Error::custom(
            "expected an ordinary number, not NaN or infinity",
        ))
    }
}

/// A finite number that is not negative: sizes, masses, ratings.
fn not_negative<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
    let value = finite(deserializer)?;
    if value >= 0.0 {
        Ok(value)
    } else {
        Err(D::Error::custom(format!(
            "expected a number of zero or more, found {value}"
        )))
    }
}

/// Declares serde readers for one unit: `#[serde(rename = "lead_mm", with = "units::mm")]`
/// reads a bare number in that unit into a typed quantity; the nested `opt` reads an
/// optional one. Every value read this way is zero or more; `signed` readers take both signs.
macro_rules! units_in_files {
    ($($(#[$doc:meta])* $name:ident : $quantity:ident = $scale:literal $unit:path, $reader:ident;)*) => {$(
        $(#[$doc])*
        pub mod $name {
            use super::*;
            /// Builds the quantity from a number in this unit.
            pub fn of(value: f64) -> $quantity { $quantity::new::<$unit>(value * $scale) }
            /// The number of this unit in the quantity.
            pub fn from(quantity: $quantity) -> f64 { quantity.get::<$unit>() / $scale }
            /// Reads a number in this unit.
            ///
            /// # Errors
            /// Refuses NaN, infinities and, for sizes, negative numbers.
            pub fn deserialize<'de, D: Deserializer<'de>>(d: D) -> Result<$quantity, D::Error> {
                super::$reader(d).map(of)
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
    /// Millimetres.
    mm: Length = 1.0 uom::si::length::millimeter, not_negative;
    /// Millimetres, of either sign: positions from a reference.
    signed_mm: Length = 1.0 uom::si::length::millimeter, finite;
    /// Micrometres.
    um: Length = 1.0 uom::si::length::micrometer, not_negative;
    /// Metres.
    m: Length = 1.0 uom::si::length::meter, not_negative;
    /// Kilograms.
    kg: Mass = 1.0 uom::si::mass::kilogram, not_negative;
    /// Newtons.
    n: Force = 1.0 uom::si::force::newton, not_negative;
    /// Newton metres.
    nm: Torque = 1.0 uom::si::torque::newton_meter, not_negative;
    /// Amperes.
    a: ElectricCurrent = 1.0 uom::si::electric_current::ampere, not_negative;
    /// Milliamperes.
    ma: ElectricCurrent = 1.0 uom::si::electric_current::milliampere, not_negative;
    /// Volts.
    v: ElectricPotential = 1.0 uom::si::electric_potential::volt, not_negative;
    /// Ohms.
    ohm: ElectricalResistance = 1.0 uom::si::electrical_resistance::ohm, not_negative;
    /// Millihenries.
    mh: Inductance = 1.0 uom::si::inductance::millihenry, not_negative;
    /// Watts.
    w: Power = 1.0 uom::si::power::watt, not_negative;
    /// Kilowatts.
    kw: Power = 1.0 uom::si::power::kilowatt, not_negative;
    /// Revolutions per minute.
    rpm: AngularVelocity = 1.0 uom::si::angular_velocity::revolution_per_minute, not_negative;
    /// Hertz.
    hz: Frequency = 1.0 uom::si::frequency::hertz, not_negative;
    /// Kilohertz.
    khz: Frequency = 1.0 uom::si::frequency::kilohertz, not_negative;
    /// Metres per minute, the workshop's unit for feeds.
    m_per_min: Velocity = 1000.0 uom::si::velocity::millimeter_per_minute, not_negative;
    /// Metres per second squared.
    m_per_s2: Acceleration = 1.0 uom::si::acceleration::meter_per_second_squared, not_negative;
    /// Kilograms per cubic metre.
    kg_per_m3: MassDensity = 1.0 uom::si::mass_density::kilogram_per_cubic_meter, not_negative;
    /// Gigapascals: elastic moduli.
    gpa: Pressure = 1.0 uom::si::pressure::gigapascal, not_negative;
    /// Degrees Celsius.
    celsius: ThermodynamicTemperature = 1.0 uom::si::thermodynamic_temperature::degree_celsius, finite;
    /// Kelvins of difference.
    kelvin: TemperatureInterval = 1.0 uom::si::temperature_interval::kelvin, finite;
    /// Square millimetres.
    mm2: Area = 1.0 uom::si::area::square_millimeter, not_negative;
    /// Square metres.
    m2: Area = 1.0 uom::si::area::square_meter, not_negative;
    /// Cubic centimetres.
    cm3: Volume = 1.0 uom::si::volume::cubic_centimeter, not_negative;
    /// Seconds.
    s: Time = 1.0 uom::si::time::second, not_negative;
    /// Hours.
    hour: Time = 1.0 uom::si::time::hour, not_negative;
    /// Hundredths: shares and percentages.
    percent: Ratio = 1.0 uom::si::ratio::percent, not_negative;
    /// Plain shares: 0.9 is nine tenths.
    share: Ratio = 1.0 uom::si::ratio::ratio, not_negative;
    /// Gram square centimetres, the unit of stepper data sheets for rotor inertia.
    g_cm2: MomentOfInertia = 1.0e-7 uom::si::moment_of_inertia::kilogram_square_meter, not_negative;
    /// Kilogram square metres.
    kg_m2: MomentOfInertia = 1.0 uom::si::moment_of_inertia::kilogram_square_meter, not_negative;
}

/// Mass per length of bars, belts, cables and rails. The units library's own
/// `LinearMassDensity`, read as kg/m.
pub mod kg_per_m {
    use super::*;
    pub use uom::si::f64::LinearMassDensity;
    use uom::si::linear_mass_density::kilogram_per_meter;

    /// Builds the quantity from kilograms per metre.
    pub fn of(value: f64) -> LinearMassDensity {
        LinearMassDensity::new::<kilogram_per_meter>(value)
    }
    /// Kilograms per metre in the quantity.
    pub fn from(quantity: LinearMassDensity) -> f64 {
        quantity.get::<kilogram_per_meter>()
    }
    /// Reads kilograms per metre.
    ///
    /// # Errors
    /// Refuses NaN, infinities and negative numbers.
    pub fn deserialize<'de, D: Deserializer<'de>>(d: D) -> Result<LinearMassDensity, D::Error> {
        not_negative(d).map(of)
    }
}
pub use uom::si::f64::LinearMassDensity;

/// The product of a screw's nominal diameter and its speed, in mm·rpm: the DN value by
/// which makers of ball screws limit the speed of the balls in the nut.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Deserialize)]
#[serde(transparent)]
pub struct DnValue(#[serde(deserialize_with = "not_negative")] f64);

impl DnValue {
    /// From millimetres times revolutions per minute.
    pub const fn mm_rpm(value: f64) -> Self {
        Self(value)
    }
    /// In millimetres times revolutions per minute.
    pub fn as_mm_rpm(self) -> f64 {
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
pub struct SoundLevel(#[serde(deserialize_with = "not_negative")] f64);

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
pub struct AirFlow(#[serde(deserialize_with = "not_negative")] f64);

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
