//! Yearly rules: what a running machine uses up, and how soon. They are data, so that a builder
//! can see and change them; hours, lives and litres are those of the machine.

use rust_decimal::Decimal;
use serde::{Deserialize, Deserializer};

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
#[serde(try_from = "File")]
pub struct YearlyRule {
    /// What is used up.
    pub part: UsedUp,
    /// The time for which it counts.
    pub per: Per,
    /// What is counted.
    pub of: Of,
    /// How many for each.
    pub each: Decimal,
    /// Years of this use beyond which a life is longer than the machine is kept.
    pub kept_years: Option<Decimal>,
    /// Why this many, in words.
    pub why: Text,
    /// Where the rule comes from.
    pub source: Text,
}

/// A yearly rule as a file spells it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    part: UsedUp,
    per: Per,
    #[serde(default = "once")]
    of: Of,
    #[serde(deserialize_with = "how_many")]
    each: Decimal,
    #[serde(default, deserialize_with = "some_years")]
    kept_years: Option<Decimal>,
    why: Text,
    source: Text,
}

fn once() -> Of {
    Of::Machine
}

impl TryFrom<File> for YearlyRule {
    type Error = &'static str;

    fn try_from(file: File) -> Result<Self, Self::Error> {
        let lives = [Picked::BallScrews, Picked::Carriages].map(UsedUp::Picked);
        let has_life = lives.contains(&file.part);
        match (file.per == Per::Life, has_life) {
            (true, false) => return Err("only ball-screws and carriages have a life to count by"),
            (false, true) => return Err("ball-screws and carriages are counted per = \"life\""),
            _ => {}
        }
        if file.kept_years.is_some() != has_life {
            return Err("kept_years goes with per = \"life\", and with nothing else");
        }
        if has_life && file.of != Of::Machine {
            return Err("what is counted by its life needs no `of`");
        }
        Ok(Self {
            part: file.part,
            per: file.per,
            of: file.of,
            each: file.each,
            kept_years: file.kept_years,
            why: file.why,
            source: file.source,
        })
    }
}

fn how_many<'de, D: Deserializer<'de>>(d: D) -> Result<Decimal, D::Error> {
    money::amount_within(d, Decimal::ZERO, Decimal::new(1_000_000, 0))
}

fn some_years<'de, D: Deserializer<'de>>(d: D) -> Result<Option<Decimal>, D::Error> {
    money::amount_within(d, Decimal::ZERO, Decimal::ONE_HUNDRED).map(Some)
}
