//! Motors, their drivers, and the supplies that feed them.

use super::part::part;
use crate::units::{
    self, AngularVelocity, Capacitance, ElectricCurrent, ElectricPotential, ElectricalResistance,
    Frequency, Inductance, Length, Mass, MomentOfInertia, Power, Ratio, Torque,
};

crate::words! {
    /// The standard mounting face of a motor.
    Flange {
        Nema17 = "nema-17", "NEMA 17", "42 mm square face.";
        Nema23 = "nema-23", "NEMA 23", "57 mm square face, the usual size for routers.";
        Nema24 = "nema-24", "NEMA 24", "60 mm square face on the hole circle of NEMA 23.";
        Nema34 = "nema-34", "NEMA 34", "86 mm square face, for heavy axes.";
        Servo60 = "servo-60", "60 mm servo", "60 mm square face of 200 W and 400 W servo motors.";
        Servo80 = "servo-80", "80 mm servo", "80 mm square face of 750 W servo motors.";
    }
}

crate::words! {
    /// How a motor is driven; a driver says which of these it drives.
    MotorKind {
        OpenLoop = "open-loop", "stepper", "Moves a step for each pulse and does not notice when it misses one.";
        ClosedLoop = "closed-loop", "closed-loop stepper", "A stepper with an encoder: it corrects lost steps, or stops with an alarm.";
        Servo = "servo", "servo", "Runs fast and smoothly on its encoder; needs tuning, and a brake on a vertical axis.";
    }
}

part! {
    /// A two-phase hybrid stepper, with or without an encoder.
    Stepper by Piece {
        /// Mounting face.
        flange: Flange,
        /// Whether it carries an encoder.
        #[serde(default)]
        closed_loop: bool,
        /// Shaft diameter.
        #[serde(rename = "shaft_mm", with = "units::mm")]
        shaft: Length,
        /// Length of the body.
        #[serde(rename = "body_mm", with = "units::mm")]
        body: Length,
        /// Holding torque at rated current, two phases on.
        #[serde(rename = "holding_nm", with = "units::nm")]
        holding: Torque,
        /// Detent torque, no current.
        #[serde(rename = "detent_nm", with = "units::nm::or_zero")]
        detent: Torque,
        /// Rated current a phase.
        #[serde(rename = "current_a", with = "units::a")]
        current: ElectricCurrent,
        /// Resistance a phase at 20 °C.
        #[serde(rename = "resistance_ohm", with = "units::ohm")]
        resistance: ElectricalResistance,
        /// Inductance a phase.
        #[serde(rename = "inductance_mh", with = "units::mh")]
        inductance: Inductance,
        /// Rotor inertia.
        #[serde(rename = "rotor_inertia_g_cm2", with = "units::g_cm2")]
        rotor_inertia: MomentOfInertia,
        /// Mass.
        #[serde(rename = "mass_kg", with = "units::kg")]
        mass: Mass,
    }
}

crate::words! {
    /// What feeds a driver or a servo.
    FeedKind {
        Dc = "dc", "DC supply", "Fed from a direct-current supply in the cabinet.";
        Mains = "mains", "mains", "Fed from the wall socket directly.";
    }
}

part! {
    /// A servo motor.
    Servo by Piece {
        /// Mounting face.
        flange: Flange,
        /// Shaft diameter.
        #[serde(rename = "shaft_mm", with = "units::mm")]
        shaft: Length,
        /// Length of the body.
        #[serde(rename = "body_mm", with = "units::mm")]
        body: Length,
        /// Torque that it gives for ever.
        #[serde(rename = "rated_nm", with = "units::nm")]
        rated: Torque,
        /// Torque that it gives for a second or two.
        #[serde(rename = "peak_nm", with = "units::nm")]
        peak: Torque,
        /// Speed up to which the rated torque holds.
        #[serde(rename = "rated_rpm", with = "units::rpm")]
        rated_speed: AngularVelocity,
        /// Greatest speed.
        #[serde(rename = "greatest_rpm", with = "units::rpm")]
        greatest_speed: AngularVelocity,
        /// Rated current.
        #[serde(rename = "current_a", with = "units::a")]
        current: ElectricCurrent,
        /// What its driver is fed from.
        feed: FeedKind,
        /// Pulses a turn that its driver is set to accept.
        #[serde(deserialize_with = "units::count::<4, 10000000, _>")]
        counts: u32,
        /// Rotor inertia, that of the brake included.
        #[serde(rename = "rotor_inertia_kg_m2", with = "units::kg_m2")]
        rotor_inertia: MomentOfInertia,
        /// Holding torque of the brake, where there is one.
        #[serde(default, rename = "brake_nm", with = "units::nm::opt")]
        brake: Option<Torque>,
        /// Mass.
        #[serde(rename = "mass_kg", with = "units::kg")]
        mass: Mass,
    }
}

crate::words! {
    /// What is known of a driver's maker.
    Provenance {
        Documented = "documented", "documented", "Data sheet with tested ratings and protections.";
        Unbranded = "unbranded", "unbranded", "Ratings printed on the case, protections unproven.";
    }
}

part! {
    /// A driver for one motor.
    Driver by Piece {
        /// The kinds of motor it drives.
        drives: Vec<MotorKind>,
        /// What feeds it.
        feed: FeedKind,
        /// Least supply voltage.
        #[serde(rename = "least_v", with = "units::v::or_zero")]
        least_voltage: ElectricPotential,
        /// Greatest supply voltage.
        #[serde(rename = "greatest_v", with = "units::v")]
        greatest_voltage: ElectricPotential,
        /// Least current that can be set: amplitude for steppers, RMS for servos.
        #[serde(rename = "least_a", with = "units::a::or_zero")]
        least_current: ElectricCurrent,
        /// Greatest current: amplitude for steppers, RMS for servos.
        #[serde(rename = "greatest_a", with = "units::a")]
        greatest_current: ElectricCurrent,
        /// Fastest step pulses it accepts.
        #[serde(rename = "pulses_khz", with = "units::khz")]
        pulses: Frequency,
        /// Finest division of a full step.
        #[serde(deserialize_with = "units::count::<1, 1024, _>")]
        finest_microsteps: u32,
        /// Share of what passes through it that becomes heat in the cabinet.
        #[serde(rename = "loss_percent", with = "units::percent::or_zero")]
        loss: Ratio,
        /// Standing leakage to earth; mains-fed drivers have some.
        #[serde(default, rename = "leakage_ma", with = "units::ma::or_zero::opt")]
        leakage: Option<ElectricCurrent>,
        /// Whether it takes up the energy of braking by itself.
        #[serde(default)]
        clamps_braking: bool,
        /// Documented or unbranded.
        provenance: Provenance,
    }
}

part! {
    /// A direct-current supply for the motors.
    Supply by Piece {
        /// Output voltage.
        #[serde(rename = "volts_v", with = "units::v")]
        volts: ElectricPotential,
        /// Rated output current.
        #[serde(rename = "current_a", with = "units::a")]
        current: ElectricCurrent,
        /// Mains voltages it takes.
        #[serde(rename = "mains_v", with = "units::v::list")]
        mains: Vec<ElectricPotential>,
        /// Efficiency.
        #[serde(rename = "efficiency", with = "units::share")]
        efficiency: Ratio,
        /// Power factor of its mains current.
        #[serde(rename = "power_factor", with = "units::share")]
        power_factor: Ratio,
        /// Standing leakage to earth.
        #[serde(rename = "leakage_ma", with = "units::ma::or_zero")]
        leakage: ElectricCurrent,
        /// Peak that charges its capacitors when it is switched on cold, at 230 V.
        #[serde(rename = "inrush_a", with = "units::a")]
        inrush: ElectricCurrent,
        /// Capacity of its output capacitors, which takes up what braking motors feed back.
        #[serde(default, rename = "capacitance_uf", with = "units::uf::opt")]
        capacitance: Option<Capacitance>,
        /// Voltage at its output at which it switches off.
        #[serde(default, rename = "trip_v", with = "units::v::opt")]
        trip: Option<ElectricPotential>,
        /// Whether it was made for another use and altered.
        #[serde(default)]
        improvised: bool,
        /// Largest power that it delivers.
        #[serde(rename = "power_w", with = "units::w")]
        power: Power,
    }
}
