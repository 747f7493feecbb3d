//! The closed lists that fields of parts take their words from. A reader tells the ids of its
//! list alone; their titles and sentences are found here.

use crate::catalogue::control::{Contact, Link, SensorType, SwitchPrinciple};
use crate::catalogue::extras::{CoolantKind, DustClass, SundryGroup};
use crate::catalogue::guide::CarriageShape;
use crate::catalogue::linear_drive::{ScrewMake, SupportHold};
use crate::catalogue::motor::{FeedKind, Flange, MotorKind, Provenance};
use crate::catalogue::part::Unit;
use crate::catalogue::spindle::{Bearings, Collet, Cooling, ShankSystem, SpeedSignal, SpindleKind};
use crate::catalogue::wiring::{CabinetMaterial, CableUse};
use crate::words::{Word, Words as _};

/// Every list.
const LISTS: &[&[Word]] = &[
    Bearings::WORDS,
    CabinetMaterial::WORDS,
    CableUse::WORDS,
    CarriageShape::WORDS,
    Collet::WORDS,
    Contact::WORDS,
    CoolantKind::WORDS,
    Cooling::WORDS,
    DustClass::WORDS,
    FeedKind::WORDS,
    Flange::WORDS,
    Link::WORDS,
    MotorKind::WORDS,
    Provenance::WORDS,
    ScrewMake::WORDS,
    SensorType::WORDS,
    ShankSystem::WORDS,
    SpeedSignal::WORDS,
    SpindleKind::WORDS,
    SundryGroup::WORDS,
    SupportHold::WORDS,
    SwitchPrinciple::WORDS,
    Unit::WORDS,
];

/// The words of the list that has these ids.
pub fn words_of(ids: &[&str]) -> Option<&'static [Word]> {
    let same = |list: &&&[Word]| list.iter().map(|word| word.id).eq(ids.iter().copied());
    LISTS.iter().find(same).copied()
}
