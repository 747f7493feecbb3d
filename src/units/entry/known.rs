//! The units that may be typed, by what they measure, each with its factor to the base unit of
//! its kind. The factors are exact by definition: the inch is 25.4 mm and the pound 0.453 592 37
//! kg (international yard and pound agreement of 1959), the pound of force is that pound under
//! standard gravity, 9.806 65 m/s² (3rd CGPM 1901), the horsepower 550 foot pounds of force a
//! second. They are those of NIST SP 811, appendix B, which prints them to seven digits or in
//! bold where exact; `tests/screen/units_entry.rs` holds them against it.

use rust_decimal::Decimal;

/// What a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// In metres.
    Length,
    /// In metres a minute.
    Speed,
    /// In metres per second squared.
    Acceleration,
    /// In newtons.
    Force,
    /// In kilograms.
    Mass,
    /// In newton metres.
    Torque,
    /// In watts.
    Power,
    /// In amperes.
    Current,
    /// In volts.
    Voltage,
    /// In seconds.
    Time,
    /// In hertz.
    Frequency,
    /// In turns a minute.
    Turning,
    /// In cubic centimetres.
    Volume,
    /// In cubic centimetres a minute.
    Removal,
    /// In newtons per micrometre.
    Stiffness,
    /// In hundredths.
    Share,
}

impl Kind {
    /// With its article: `a length`.
    pub(super) const fn told(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Speed => "a speed",
            Self::Acceleration => "an acceleration",
            Self::Force => "a force",
            Self::Mass => "a mass",
            Self::Torque => "a torque",
            Self::Power => "a power",
            Self::Current => "a current",
            Self::Voltage => "a voltage",
            Self::Time => "a time",
            Self::Frequency => "a frequency",
            Self::Turning => "a speed of turning",
            Self::Volume => "a volume",
            Self::Removal => "a removal rate",
            Self::Stiffness => "a stiffness",
            Self::Share => "a share",
        }
    }

    /// Without it.
    pub(super) fn bare(self) -> &'static str {
        self.told()
            .trim_start_matches("an ")
            .trim_start_matches("a ")
    }
}

/// A unit that may be typed.
#[derive(Debug)]
pub(super) struct Known {
    /// What it measures.
    pub(super) kind: Kind,
    /// How it is written; the first name is the one to show.
    pub(super) names: &'static [&'static str],
    /// How much of the base unit it is,
    times: &'static str,
    /// divided by this, where the quotient has no end.
    by: &'static str,
    /// The unit that stands for it where inches are set; none where it stays.
    inches: Option<&'static str>,
}

impl Known {
    /// How much of the base unit of its kind it is.
    pub(super) fn in_base(&self) -> Option<Decimal> {
        let times = Decimal::from_str_exact(self.times).ok()?;
        times.checked_div(Decimal::from_str_exact(self.by).ok()?)
    }

    /// What stands for it where inches are set; itself where nothing does.
    pub(super) fn in_inches(&'static self) -> &'static Self {
        let named = |name| {
            KNOWN
                .iter()
                .find(|unit| unit.kind == self.kind && unit.names[0] == name)
        };
        self.inches.and_then(named).unwrap_or(self)
    }
}

const fn unit(kind: Kind, names: &'static [&'static str], times: &'static str) -> Known {
    over(kind, names, times, "1")
}

const fn over(
    kind: Kind,
    names: &'static [&'static str],
    times: &'static str,
    by: &'static str,
) -> Known {
    Known {
        kind,
        names,
        times,
        by,
        inches: None,
    }
}

impl Known {
    const fn turned_into(mut self, name: &'static str) -> Self {
        self.inches = Some(name);
        self
    }
}

use Kind::{
    Acceleration, Current, Force, Frequency, Length, Mass, Power, Removal, Share, Speed, Stiffness,
    Time, Torque, Turning, Voltage, Volume,
};

/// Every unit; within a kind those that people use most stand first.
// One line a unit: read as a table.
#[rustfmt::skip]
pub(super) const KNOWN: &[Known] = &[
    unit(Length, &["mm"], "0.001").turned_into("in"),
    unit(Length, &["cm"], "0.01").turned_into("in"),
    unit(Length, &["m"], "1").turned_into("ft"),
    unit(Length, &["µm", "μm", "um"], "0.000001").turned_into("mil"),
    unit(Length, &["in", "\"", "inch", "inches", "″", "''"], "0.0254"),
    unit(Length, &["ft", "'", "foot", "feet", "′"], "0.3048"),
    unit(Length, &["mil", "mils", "thou"], "0.0000254"),
    unit(Speed, &["m/min"], "1").turned_into("in/min"),
    unit(Speed, &["mm/min"], "0.001").turned_into("in/min"),
    unit(Speed, &["mm/s"], "0.06").turned_into("in/min"),
    unit(Speed, &["m/s"], "60").turned_into("in/min"),
    unit(Speed, &["in/min", "ipm", "\"/min"], "0.0254"),
    unit(Speed, &["in/s", "ips"], "1.524"),
    unit(Speed, &["ft/min"], "0.3048"),
    unit(Acceleration, &["m/s²", "m/s2", "m/s^2"], "1").turned_into("in/s²"),
    unit(Acceleration, &["mm/s²", "mm/s2", "mm/s^2"], "0.001").turned_into("in/s²"),
    unit(Acceleration, &["in/s²", "in/s2", "in/s^2"], "0.0254"),
    unit(Acceleration, &["g"], "9.80665"),
    unit(Force, &["N"], "1").turned_into("lbf"),
    unit(Force, &["kN"], "1000").turned_into("lbf"),
    unit(Force, &["lbf"], "4.4482216152605"),
    unit(Force, &["ozf"], "0.27801385095378125"),
    unit(Mass, &["kg"], "1").turned_into("lb"),
    unit(Mass, &["g"], "0.001").turned_into("lb"),
    unit(Mass, &["lb", "lbs", "pound", "pounds"], "0.45359237"),
    unit(Mass, &["oz"], "0.028349523125"),
    unit(Torque, &["N·m", "Nm", "N.m", "N*m", "N m"], "1").turned_into("lbf·in"),
    unit(Torque, &["N·cm", "Ncm", "N.cm"], "0.01").turned_into("lbf·in"),
    unit(Torque, &["lbf·in", "lbf.in", "lbf in", "in·lbf", "lb·in", "lb.in"], "0.1129848290276167"),
    unit(Torque, &["lbf·ft", "lbf.ft", "lbf ft", "ft·lbf", "lb·ft", "lb.ft"], "1.3558179483314004"),
    unit(Torque, &["ozf·in", "ozf.in", "ozf in", "oz·in", "oz.in", "oz-in", "oz in"], "0.00706155181422604375"),
    unit(Power, &["W"], "1"),
    unit(Power, &["kW"], "1000"),
    unit(Power, &["hp"], "745.69987158227022"),
    unit(Current, &["A"], "1"),
    unit(Current, &["mA"], "0.001"),
    unit(Voltage, &["V"], "1"),
    unit(Voltage, &["mV"], "0.001"),
    unit(Voltage, &["kV"], "1000"),
    unit(Time, &["s", "sec"], "1"),
    unit(Time, &["ms"], "0.001"),
    unit(Time, &["min"], "60"),
    unit(Time, &["h", "hr", "hours"], "3600"),
    unit(Frequency, &["Hz"], "1"),
    unit(Frequency, &["kHz"], "1000"),
    unit(Turning, &["rpm", "r/min", "min⁻¹"], "1"),
    unit(Turning, &["r/s"], "60"),
    unit(Volume, &["cm³", "cm3", "cm^3", "ml"], "1").turned_into("in³"),
    unit(Volume, &["mm³", "mm3", "mm^3"], "0.001").turned_into("in³"),
    unit(Volume, &["l", "L", "dm³", "dm3"], "1000"),
    unit(Volume, &["in³", "in3", "in^3"], "16.387064"),
    unit(Removal, &["cm³/min", "cm3/min"], "1").turned_into("in³/min"),
    unit(Removal, &["mm³/min", "mm3/min"], "0.001").turned_into("in³/min"),
    unit(Removal, &["in³/min", "in3/min"], "16.387064"),
    unit(Stiffness, &["N/µm", "N/μm", "N/um"], "1").turned_into("lbf/mil"),
    unit(Stiffness, &["N/mm"], "0.001").turned_into("lbf/mil"),
    over(Stiffness, &["lbf/mil", "lbf/thou"], "4.4482216152605", "25.4"),
    over(Stiffness, &["lbf/in"], "0.0044482216152605", "25.4"),
    unit(Share, &["%", "percent"], "1"),
];
