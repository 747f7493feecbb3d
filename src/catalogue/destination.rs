//! Where goods are delivered to: tax and customs there. Dated general information that anyone
//! can change; customs and tax offices on the spot decide.

use indexmap::IndexMap;
use rust_decimal::Decimal;
use serde::{Deserialize, Deserializer};

use super::PartKind;
use super::amounts::{percent, some_amount, yes};
use super::part::part;
use super::prices::PriceEntry;
use super::text::Text;
use crate::money::Currency;

crate::words! {
    /// What customs call the goods: the kinds that have a rate of their own.
    Goods {
        Steel = "steel", "steel tube", "Hollow sections of steel (heading 7306).";
        Aluminium = "aluminium", "aluminium", "Plates and sections (headings 7604 and 7606).";
        Guides = "guides", "guides and screws", "Rails, carriages, ball screws, couplings (headings 8482 and 8483).";
        Motors = "motors", "motors and spindles", "Electric motors (heading 8501).";
        Converters = "converters", "drivers, supplies, inverters", "Static converters (heading 8504).";
        Controls = "controls", "controls", "Controllers, computers, switches (headings 8471, 8536, 8537).";
        Cables = "cables", "cables", "Insulated wire and cable (heading 8544).";
        Cutters = "cutters", "cutters and tools", "Interchangeable tools (heading 8207).";
        Plastics = "plastics", "plastics", "Printing material, chains (chapter 39).";
        Machines = "machines", "machines", "Pumps, extractors, fans (chapter 84).";
        Other = "other", "other goods", "What has no rate of its own here.";
    }
}

part! {
    /// A place that goods are delivered to, with its tax and customs.
    Destination by Piece {
        /// The money of its thresholds and fees.
        currency: Currency,
        /// What the tax on sales is called there.
        tax_name: Text,
        /// That tax, in percent.
        #[serde(deserialize_with = "percent")]
        tax_percent: Decimal,
        /// Whether shops there state their prices with that tax in them.
        #[serde(default = "yes")]
        tax_in_prices: bool,
        /// Whether customs count the freight into the value that duty is taken from.
        duty_on_freight: bool,
        /// The value of a consignment up to which no duty by rate is taken.
        #[serde(default, deserialize_with = "some_amount")]
        duty_free_up_to: Option<Decimal>,
        /// What such a small consignment pays instead for each kind of goods in it.
        #[serde(default, deserialize_with = "some_amount")]
        small_duty_each: Option<Decimal>,
        /// Duty in percent, by kind of goods; "other" for those not named.
        #[serde(deserialize_with = "rates")]
        duty_percent: IndexMap<Goods, Decimal>,
        /// What the carrier takes for clearing one parcel from abroad.
        broker_fee: PriceEntry,
        /// Whether that fee is taxed as well.
        broker_fee_taxed: bool,
        /// The day on which this was written down.
        #[serde(deserialize_with = "super::day::deserialize")]
        as_of: jiff::civil::Date,
    }
}

#[derive(Deserialize)]
#[serde(transparent)]
struct Percent(#[serde(deserialize_with = "percent")] Decimal);

fn rates<'de, D: Deserializer<'de>>(d: D) -> Result<IndexMap<Goods, Decimal>, D::Error> {
    let rates = IndexMap::<Goods, Percent>::deserialize(d)?;
    Ok(rates
        .into_iter()
        .map(|(goods, percent)| (goods, percent.0))
        .collect())
}

impl Destination {
    /// The duty on a kind of goods, in percent.
    pub fn duty_on(&self, goods: Goods) -> Decimal {
        let rate = |goods| self.duty_percent.get(&goods).copied();
        rate(goods)
            .or_else(|| rate(Goods::Other))
            .unwrap_or_default()
    }
}

impl PartKind {
    /// What customs call parts of this kind.
    pub fn goods(self) -> Goods {
        match self {
            Self::Tube => Goods::Steel,
            Self::Plate | Self::Angle => Goods::Aluminium,
            Self::Rail
            | Self::Carriage
            | Self::BallScrew
            | Self::LeadScrew
            | Self::Rack
            | Self::Belt
            | Self::SupportUnit
            | Self::Coupling
            | Self::SpindleClamp => Goods::Guides,
            Self::Stepper | Self::Servo | Self::Spindle => Goods::Motors,
            Self::Driver | Self::Supply | Self::Vfd => Goods::Converters,
            Self::Controller | Self::Computer | Self::Switch | Self::ToolSensor => Goods::Controls,
            Self::Cable => Goods::Cables,
            Self::EndMill | Self::Workholding => Goods::Cutters,
            Self::Filament | Self::Chain => Goods::Plastics,
            Self::Cooler | Self::Fan | Self::Extractor | Self::Coolant => Goods::Machines,
            _ => Goods::Other,
        }
    }
}
