//! Spindles, the inverters that feed them, clamps, coolers and end mills.

use super::part::part;
use crate::units::{
    self, AngularVelocity, ElectricCurrent, ElectricPotential, Frequency, Length, Mass, Power,
    Ratio, SoundLevel, Volume,
};

crate::words! {
    /// What sort of machine turns the tool.
    SpindleKind {
        HandRouter = "hand-router", "hand router", "A trimmer or router with brushes, plugged into the wall: cheap, loud, its brushes wear.";
        Motor = "spindle-motor", "spindle motor", "A three-phase motor with precise bearings, fed by a frequency inverter (VFD).";
        ToolChanger = "tool-changing", "tool-changing spindle", "A spindle motor that drops and takes tool holders by compressed air.";
    }
}

crate::words! {
    /// How the spindle is cooled.
    Cooling {
        Fan = "own-fan", "own fan", "A fan on its shaft: no hoses, but loud, and weak at low speed.";
        Water = "water", "water", "Pump, hoses and tank: quiet, and cool at any speed, but it must not leak or freeze.";
    }
}

crate::words! {
    /// The spindle's bearings.
    Bearings {
        DeepGroove = "deep-groove", "deep-groove ball bearings", "For wood: they take little load along the axis and have play.";
        AngularContact = "angular-contact", "angular-contact ball bearings", "Preloaded in pairs: they take side and axial load, as metal needs.";
    }
}

crate::words! {
    /// The collet of a spindle, by its standard (ISO 15488).
    Collet {
        Er11 = "er-11", "ER 11", "Shanks up to 7 mm.";
        Er16 = "er-16", "ER 16", "Shanks up to 10 mm.";
        Er20 = "er-20", "ER 20", "Shanks up to 13 mm.";
        Er25 = "er-25", "ER 25", "Shanks up to 16 mm.";
        Own = "own", "its own", "A hand router's own collets, one a size.";
    }
}

crate::words! {
    /// The system of sizes in which shanks and collets are made.
    ShankSystem {
        Metric = "metric", "metric", "Shanks of 3, 4, 6, 8, 10 mm and so on.";
        Inch = "inch", "inch", "Shanks of 1/8, 1/4, 1/2 inch.";
    }
}

part! {
    /// A spindle or hand router.
    Spindle by Piece {
        /// What sort it is.
        kind: SpindleKind,
        /// Power at the shaft.
        #[serde(rename = "power_kw", with = "units::kw")]
        power: Power,
        /// Speed at which that power is rated.
        #[serde(rename = "rated_rpm", with = "units::rpm")]
        rated_speed: AngularVelocity,
        /// Slowest speed for lasting use with its cooling.
        #[serde(rename = "least_rpm", with = "units::rpm")]
        least_speed: AngularVelocity,
        /// Fastest speed.
        #[serde(rename = "greatest_rpm", with = "units::rpm")]
        greatest_speed: AngularVelocity,
        /// Poles of the motor; absent for brushed hand routers.
        #[serde(default, deserialize_with = "poles")]
        poles: Option<u32>,
        /// Supply voltage: of the winding for spindle motors, of the mains for hand routers.
        #[serde(rename = "volts_v", with = "units::v")]
        volts: ElectricPotential,
        /// Rated current at that voltage.
        #[serde(rename = "current_a", with = "units::a")]
        current: ElectricCurrent,
        /// Efficiency of the motor at load.
        #[serde(rename = "efficiency", with = "units::share")]
        efficiency: Ratio,
        /// Power it takes running free.
        #[serde(rename = "no_load_w", with = "units::w::or_zero")]
        no_load: Power,
        /// How it is cooled.
        cooling: Cooling,
        /// Its bearings.
        bearings: Bearings,
        /// Its collet.
        collet: Collet,
        /// Largest shank that its collet takes.
        #[serde(rename = "largest_shank_mm", with = "units::mm")]
        largest_shank: Length,
        /// Systems of shanks for which collets are sold.
        shanks: Vec<ShankSystem>,
        /// Run-out at the collet.
        #[serde(rename = "runout_um", with = "units::um::or_zero")]
        runout: Length,
        /// Diameter of the body, where the clamp takes it.
        #[serde(rename = "body_mm", with = "units::mm")]
        body: Length,
        /// Mass.
        #[serde(rename = "mass_kg", with = "units::kg")]
        mass: Mass,
        /// Sound pressure level running free, at one metre, in dB(A).
        noise_dba: SoundLevel,
    }
}

fn poles<'de, D: serde::Deserializer<'de>>(d: D) -> Result<Option<u32>, D::Error> {
    units::count::<2, 24, _>(d).map(Some)
}

impl Spindle {
    /// Whether it needs a frequency inverter.
    pub fn needs_vfd(&self) -> bool {
        self.kind != SpindleKind::HandRouter
    }

    /// The frequency of its rated speed: f = p·n/120, for p poles and n rpm.
    pub fn rated_frequency(&self) -> Option<Frequency> {
        let pairs = f64::from(self.poles?) / 2.0;
        Some(units::hz::of(
            pairs * units::rpm::from(self.rated_speed) / 60.0,
        ))
    }

    /// Power at the shaft at a speed: below the rated speed an inverter keeps the torque, so
    /// that the power falls with the speed; above it the power stays. Hand routers are taken
    /// alike, which is on the safe side of their torque when turned down.
    pub fn power_at(&self, speed: AngularVelocity) -> Power {
        if speed < self.rated_speed {
            self.power * (speed / self.rated_speed)
        } else {
            self.power
        }
    }

    /// Whether its collets take the shank of a tool, in size and in system.
    pub fn takes(&self, tool: &EndMill) -> bool {
        units::mm::from(tool.shank) <= units::mm::from(self.largest_shank) + 0.01
            && self.shanks.contains(&tool.system)
    }
}

crate::words! {
    /// How the controller tells a spindle its speed and start.
    SpeedSignal {
        Analogue = "0-10-v", "0-10 V", "A voltage in proportion to the speed.";
        Pulse = "5-v-pwm", "5 V pulse width", "A pulse whose width stands for the speed.";
        Serial = "rs-485", "RS-485", "A serial line: speed, start and fault messages on two wires.";
        Relay = "relay", "relay", "On and off only; the speed is set by hand.";
    }
}

part! {
    /// A frequency inverter (VFD) for a spindle motor.
    Vfd by Piece {
        /// Motor power it is made for.
        #[serde(rename = "power_kw", with = "units::kw")]
        power: Power,
        /// Output current.
        #[serde(rename = "output_a", with = "units::a")]
        output: ElectricCurrent,
        /// Output voltage, phase to phase.
        #[serde(rename = "output_v", with = "units::v")]
        output_voltage: ElectricPotential,
        /// Mains voltage it takes.
        #[serde(rename = "input_v", with = "units::v")]
        input_voltage: ElectricPotential,
        /// Phases of the mains it is built for: 1 or 3.
        #[serde(deserialize_with = "units::count::<1, 3, _>")]
        input_phases: u32,
        /// Highest output frequency.
        #[serde(rename = "greatest_hz", with = "units::hz")]
        greatest_frequency: Frequency,
        /// Power factor of its mains current without a choke.
        #[serde(rename = "power_factor", with = "units::share")]
        power_factor: Ratio,
        /// Power factor with a line choke.
        #[serde(rename = "power_factor_choke", with = "units::share")]
        power_factor_choke: Ratio,
        /// Efficiency.
        #[serde(rename = "efficiency", with = "units::share")]
        efficiency: Ratio,
        /// Standing leakage to earth of its interference filter.
        #[serde(rename = "leakage_ma", with = "units::ma::or_zero")]
        leakage: ElectricCurrent,
        /// Peak that charges its capacitors when it is switched on cold, at 230 V.
        #[serde(rename = "inrush_a", with = "units::a")]
        inrush: ElectricCurrent,
        /// Signals it takes from the controller.
        signals: Vec<SpeedSignal>,
    }
}

part! {
    /// A clamp that holds the spindle on the Z plate.
    SpindleClamp by Piece {
        /// Diameter of the body it takes.
        #[serde(rename = "bore_mm", with = "units::mm")]
        bore: Length,
        /// Mass.
        #[serde(rename = "mass_kg", with = "units::kg")]
        mass: Mass,
        /// How far it grips along the body; the plate behind it is as good as stiff.
        #[serde(rename = "grip_mm", with = "units::mm")]
        grip: Length,
        /// Heaviest spindle it holds.
        #[serde(rename = "holds_kg", with = "units::kg")]
        holds: Mass,
    }
}

part! {
    /// A cooler for a water-cooled spindle: pump, tank or radiator, hose.
    Cooler by Piece {
        /// Coolant in the circuit.
        #[serde(rename = "coolant_l", with = "units::litre::or_zero")]
        coolant: Volume,
        /// Power it draws; none for a tank without a pump of its own.
        #[serde(rename = "power_w", with = "units::w::or_zero")]
        power: Power,
        /// Whether a flow or temperature switch can stop the spindle.
        watched: bool,
    }
}

part! {
    /// An end mill, the reference tool of a build or one of its starter set.
    EndMill by Piece {
        /// Cutting diameter.
        #[serde(rename = "diameter_mm", with = "units::mm")]
        diameter: Length,
        /// Shank diameter.
        #[serde(rename = "shank_mm", with = "units::mm")]
        shank: Length,
        /// Metric or inch shank.
        system: ShankSystem,
        /// Cutting edges.
        #[serde(deserialize_with = "units::count::<1, 12, _>")]
        flutes: u32,
        /// Length of the cutting edges.
        #[serde(rename = "flute_length_mm", with = "units::mm")]
        flute_length: Length,
        /// Length that stands out of the collet.
        #[serde(rename = "reach_mm", with = "units::mm")]
        reach: Length,
    }
}
