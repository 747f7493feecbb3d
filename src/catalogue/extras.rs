//! Everything around the machine: dust, stand, sensors, coolant, workholding, tools, and
//! the small parts that first-time builders forget.

use super::control::SensorType;
use super::part::{Unit, part};
use super::text::Text;
use crate::units::{
    self, AirFlow, ElectricCurrent, ElectricPotential, Length, Mass, Power, Ratio, SoundLevel,
};
use rust_decimal::Decimal;

crate::words! {
    /// How well an extractor's filter holds back dust that harms, by IEC 60335-2-69, Annex AA.
    DustClass {
        L = "l", "class L", "For dust whose limit is above 1 mg/m³: lets at most 1 % through.";
        M = "m", "class M", "For dust whose limit is 0.1 mg/m³ and above: lets at most 0.1 % through. Common practice for wood.";
        H = "h", "class H", "For all dust that harms: lets at most 0.005 % through.";
    }
}

part! {
    /// A chip and dust extractor.
    Extractor by Piece {
        /// Mains voltage it is made for.
        #[serde(rename = "volts_v", with = "units::v")]
        volts: ElectricPotential,
        /// Electrical power.
        #[serde(rename = "power_w", with = "units::w")]
        power: Power,
        /// Power factor of its current.
        #[serde(rename = "power_factor", with = "units::share")]
        power_factor: Ratio,
        /// Starting current as a multiple of the running current.
        #[serde(rename = "inrush", with = "units::times")]
        inrush: Ratio,
        /// Air that it moves with its hose on.
        #[serde(rename = "air_m3_per_h")]
        air: AirFlow,
        /// Hose diameter.
        #[serde(rename = "hose_mm", with = "units::mm")]
        hose: Length,
        /// Noise at one metre.
        noise_dba: SoundLevel,
        /// Dust class of its filter; none where its maker states none.
        #[serde(default)]
        dust_class: Option<DustClass>,
    }
}

part! {
    /// A table or stand under the machine.
    Table by Piece {
        /// What it carries.
        #[serde(rename = "carries_kg", with = "units::kg")]
        carries: Mass,
    }
}

part! {
    /// A sensor that measures where the tip of the tool is.
    ToolSensor by Piece {
        /// Its output.
        output: SensorType,
        /// Spread of the switching point.
        #[serde(rename = "repeatability_um", with = "units::um::or_zero")]
        repeatability: Length,
        /// Greatest voltage.
        #[serde(rename = "greatest_v", with = "units::v")]
        greatest_voltage: ElectricPotential,
    }
}

crate::words! {
    /// What cools and clears the cut.
    CoolantKind {
        AirBlast = "air-blast", "air blast", "Compressed air: dry, clears chips, suits wood and plastics too.";
        Mist = "mist", "mist", "Air with droplets: for aluminium; do not breathe it.";
        Flood = "flood", "flood", "A stream of coolant: needs a tray; never with wood.";
    }
}

part! {
    /// A cutting-coolant set.
    Coolant by Piece {
        /// What it is.
        kind: CoolantKind,
        /// Power it draws; a compressor where it needs one.
        #[serde(rename = "power_w", with = "units::w::or_zero")]
        power: Power,
    }
}

part! {
    /// Workholding as a set: clamps, tracks, a vice.
    Workholding by Piece {
        /// Clamps in the set.
        #[serde(deserialize_with = "units::count::<1, 1000, _>")]
        clamps: u32,
    }
}

crate::words! {
    /// What a small part is for; the bill and the help group by it.
    SundryGroup {
        Fasteners = "fasteners", "fasteners", "Screws, nuts, washers, shims.";
        Terminations = "terminations", "terminations", "Ferrules, connectors, glands.";
        Protection = "protection", "protection", "Breakers, fuses, contactor, emergency stop, filter.";
        Earth = "earth", "earth", "Straps, bar, toothed washers.";
        Dust = "dust", "dust", "Hose, shoe, separator, bin.";
        Tools = "hand-tools", "hand tools", "Taps, drills, gauges, crimp tool.";
        Consumables = "consumables", "consumables", "Grease, paint, epoxy, cutting oil.";
        Safety = "safety", "safety", "Eyes, ears, lungs, smoke and fire.";
        Services = "services", "services", "Work that somebody else does for you.";
        Fittings = "fittings", "fittings", "Nut housings, motor mounts, chain ends, feet.";
        Tooling = "tooling", "tooling", "Collets, spare nuts, surfacing cutter.";
        Spares = "spares", "spares", "What stops the machine when it fails.";
    }
}

/// A small part by its group: its counting unit is data, since paint comes in litres and
/// screws by the piece.
#[derive(Clone, Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sundry {
    /// The stable name.
    pub id: super::part::Id,
    /// How people call it.
    pub title: Text,
    /// A name for lists: at most 22 columns, decisive sizes first.
    #[serde(default)]
    pub short: Option<Text>,
    /// Where the data come from.
    pub source: Text,
    /// A remark for the buyer.
    #[serde(default)]
    pub note: Option<Text>,
    /// What it is for.
    pub group: SundryGroup,
    /// Its counting unit.
    #[serde(rename = "unit")]
    pub counted_in: Unit,
    /// How many units come in one pack; orders round up to whole packs.
    #[serde(deserialize_with = "pack")]
    pub pack: Decimal,
    /// Diameter of its shank, for what a collet holds.
    #[serde(default, rename = "shank_mm", with = "units::mm::opt")]
    pub shank: Option<Length>,
    /// Standing leakage to earth, for filters.
    #[serde(default, rename = "leakage_ma", with = "units::ma::or_zero::opt")]
    pub leakage: Option<ElectricCurrent>,
    /// Rated voltage, where it has one.
    #[serde(default, rename = "rated_v", with = "units::v::opt")]
    pub rated_voltage: Option<ElectricPotential>,
    /// The bars that dealers keep of what is sold by the metre.
    #[serde(default, rename = "bars_m", with = "units::m::list")]
    pub bars: Vec<Length>,
}

fn pack<'de, D: serde::Deserializer<'de>>(d: D) -> Result<Decimal, D::Error> {
    crate::money::amount_within(d, Decimal::new(1, 3), Decimal::new(100_000, 0))
}

impl super::part::Part for Sundry {
    fn id(&self) -> &super::part::Id {
        &self.id
    }
    fn title(&self) -> &'static str {
        self.title.as_str()
    }
    fn own_short(&self) -> Option<&'static str> {
        self.short.map(|short| short.as_str())
    }
    fn source(&self) -> &'static str {
        self.source.as_str()
    }
    fn note(&self) -> Option<&'static str> {
        self.note.map(|note| note.as_str())
    }
    fn unit(&self) -> Unit {
        self.counted_in
    }
}
