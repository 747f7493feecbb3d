//! Controllers, the computers they need, and the switches they listen to.

use super::part::part;
use super::spindle::SpeedSignal;
use crate::units::{self, ElectricPotential, Frequency, Length, Mass, Power};

crate::words! {
    /// How commands reach the controller.
    Link {
        Ethernet = "ethernet", "Ethernet", "A network cable: isolated by transformers, proof against a spindle's noise.";
        Usb = "usb", "USB", "A USB cable: handy, but a spindle's noise can break the connection.";
        Parallel = "parallel-port", "parallel port", "An old printer port: needs an old computer that times every step itself.";
        Alone = "stand-alone", "stand-alone", "Its own screen and keys: reads the job from a stick, no computer beside it.";
    }
}

crate::words! {
    /// Electrical type of a sensor's output or a controller's input.
    SensorType {
        Npn = "npn", "NPN", "The output pulls the signal down to 0 V.";
        Pnp = "pnp", "PNP", "The output pulls the signal up to the supply.";
        Dry = "dry-contact", "dry contact", "A plain contact, of no polarity.";
    }
}

part! {
    /// A motion controller.
    Controller by Piece {
        /// How commands reach it.
        link: Link,
        /// Axes: independent step and direction outputs.
        #[serde(deserialize_with = "units::count::<1, 12, _>")]
        axes: u32,
        /// Inputs in all.
        #[serde(deserialize_with = "units::count::<0, 500, _>")]
        inputs: u32,
        /// Inputs that can serve as home switches.
        #[serde(deserialize_with = "units::count::<0, 500, _>")]
        home_inputs: u32,
        /// Outputs that switch something (cooling, extraction, spindle start).
        #[serde(deserialize_with = "units::count::<0, 500, _>")]
        outputs: u32,
        /// Fastest step pulses.
        #[serde(rename = "pulses_khz", with = "units::khz")]
        pulses: Frequency,
        /// Voltage of its inputs.
        #[serde(rename = "input_v", with = "units::v")]
        input_voltage: ElectricPotential,
        /// Types of sensor that its inputs take.
        input_types: Vec<SensorType>,
        /// Signals by which it commands a spindle.
        signals: Vec<SpeedSignal>,
        /// Whether its link is isolated from the machine's earth.
        isolated: bool,
        /// Whether it needs a computer beside it.
        needs_computer: bool,
        /// Power it draws.
        #[serde(rename = "power_w", with = "units::w")]
        power: Power,
    }
}

part! {
    /// A computer in the workshop.
    Computer by Piece {
        /// Links that it offers.
        links: Vec<Link>,
        /// Whether it times steps reliably itself.
        #[serde(default)]
        realtime: bool,
        /// Power it draws, the screen included.
        #[serde(rename = "power_w", with = "units::w")]
        power: Power,
    }
}

part! {
    /// A program that makes tool paths, paid by the year.
    Licence by Piece {
    }
}

crate::words! {
    /// What a limit or home switch senses with.
    SwitchPrinciple {
        Inductive = "inductive", "inductive", "Senses metal without touching: proof against dust and chips of wood.";
        Mechanical = "mechanical", "mechanical", "A lever and a contact: cheap, wears, chips can hold it.";
        Optical = "optical", "optical", "A light barrier: precise, but dust blinds it.";
    }
}

crate::words! {
    /// The state of a contact at rest.
    Contact {
        NormallyClosed = "normally-closed", "normally closed", "Current flows at rest: a broken wire stops the machine.";
        NormallyOpen = "normally-open", "normally open", "No current at rest: a broken wire goes unseen.";
    }
}

part! {
    /// A limit and home switch.
    Switch by Piece {
        /// What it senses with.
        principle: SwitchPrinciple,
        /// Closed or open at rest.
        contact: Contact,
        /// Its output.
        output: SensorType,
        /// Least supply voltage; zero for plain contacts.
        #[serde(rename = "least_v", with = "units::v::or_zero")]
        least_voltage: ElectricPotential,
        /// Greatest voltage.
        #[serde(rename = "greatest_v", with = "units::v")]
        greatest_voltage: ElectricPotential,
        /// Spread of the switching point.
        #[serde(rename = "repeatability_um", with = "units::um::or_zero")]
        repeatability: Length,
        /// Wires of its lead.
        #[serde(deserialize_with = "units::count::<2, 20, _>")]
        wires: u32,
        /// Mass.
        #[serde(rename = "mass_kg", with = "units::kg::or_zero")]
        mass: Mass,
    }
}
