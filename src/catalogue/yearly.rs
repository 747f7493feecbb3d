//! Yearly rules: what a running machine uses up, and how soon. They are data, so that a builder
//! can see and change them; hours, lives and litres are those of the machine.

use rust_decimal::Decimal;
use serde::{Deserialize, Deserializer};

use super::amounts::how_many;
use super::part::Id;
use super::text::Text;
use crate::money;
use crate::words::Words as _;

crate::words! {
    /// The time for which a yearly rule counts.
    Per {
        Year = "year", "a year", "Once a year, used or not.";
        Hour = "hour", "an hour of work", "Every hour in which the machine works: hours a day times days a year.";
        CuttingHour = "cutting-hour", "an hour in the cut", "Every hour in which the tool is in the cut.";
        Life = "life", "a life", "Each time one has reached the life that is computed for it.";
    }
}

crate::words! {
    /// Of what there must be how much for a yearly rule to count.
    Of {
        Machine = "machine", "machine", "Once for the machine.";
        SpindleMotor = "spindle-motor", "spindle motor", "One with a spindle motor, whose bearings wear.";
        BrushedRouter = "brushed-router", "hand router", "One with a hand router, whose brushes wear.";
        Extractor = "extractor", "extractor", "One where an extractor is chosen.";
        Coolant = "coolant-l", "litres of coolant", "What the spindle cooler's circuit holds.";
        Antifreeze = "antifreeze-l", "litres that must not freeze", "What that circuit holds, where antifreeze is chosen.";
        CutCoolant = "cutting-coolant", "cutting coolant", "One where the cut is cooled with a liquid.";
        Carriage = "carriage", "carriages", "Every carriage.";
        Bed = "bed-m2", "m² of table", "The working area, where wasteboards are chosen.";
        Protection = "protection", "sets of protection", "One for each person whose ears, eyes and lungs are protected.";
    }
}

crate::words! {
    /// What is used up that the builder picks.
    Picked {
        Tool = "usual-tool", "usual tool", "The end mill that is used most.";
        BallScrews = "ball-screws", "ball screws", "Each ball screw with its nut.";
        Carriages = "carriages", "carriages", "The carriages of each axis.";
    }
}

/// What is used up: a part, or what the builder picked of a kind.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum UsedUp {
    /// This part.
    Part(Id),
    /// What is picked.
    Picked(Picked),
}

impl UsedUp {
    /// How files spell it.
    pub fn id(&self) -> &str {
        match self {
            Self::Part(id) => id.as_str(),
            Self::Picked(picked) => picked.id(),
        }
    }

    /// Whether it lasts a life that is computed.
    pub fn has_life(&self) -> bool {
        matches!(self, Self::Picked(Picked::BallScrews | Picked::Carriages))
    }

    /// The part, where it is always the same.
    pub fn part(&self) -> Option<&Id> {
        match self {
            Self::Part(id) => Some(id),
            Self::Picked(_) => None,
        }
    }
}

impl<'de> Deserialize<'de> for UsedUp {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let id = Id::deserialize(d)?;
        let picked = Picked::from_id(id.as_str());
        Ok(picked.map_or(Self::Part(id), Self::Picked))
    }
}

/// One yearly rule: `each` for every one of what is counted, for every year, hour or life.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct YearlyRule {
    /// What is used up.
    pub part: UsedUp,
    /// The time for which it counts.
    pub per: Per,
    /// What is counted.
    #[serde(default = "once")]
    pub of: Of,
    /// How many for each.
    #[serde(deserialize_with = "how_many")]
    pub each: Decimal,
    /// Years of this use beyond which a life is longer than the machine is kept.
    #[serde(default, deserialize_with = "some_years")]
    pub kept_years: Option<Decimal>,
    /// Why this many, in words.
    pub why: Text,
    /// Where the rule comes from.
    pub source: Text,
}

fn once() -> Of {
    Of::Machine
}

fn some_years<'de, D: Deserializer<'de>>(d: D) -> Result<Option<Decimal>, D::Error> {
    money::amount_within(d, Decimal::ZERO, Decimal::ONE_HUNDRED).map(Some)
}
