//! In which order a machine is bought: stages, what is in them, and what they wait for. Data,
//! so that a builder can change it.

use serde::Deserialize;

use super::part::Id;
use super::text::Text;
use super::{PartKind, Step};

/// One stage of buying.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OrderStage {
    /// Its name.
    pub id: Id,
    /// How people call it.
    pub title: Text,
    /// The kinds of part in it.
    #[serde(default)]
    pub kinds: Vec<PartKind>,
    /// Single parts in it, whatever their kind.
    #[serde(default)]
    pub parts: Vec<Id>,
    /// The steps whose other parts are in it.
    #[serde(default)]
    pub steps: Vec<Step>,
    /// The stages that must have arrived before it is ordered.
    #[serde(default)]
    pub after: Vec<Id>,
    /// Days until the answer is had, where it is one that all else waits for, and not goods: what
    /// waits for it can be ordered as soon as it is agreed, before it is here.
    #[serde(default)]
    pub answer_days: Option<u16>,
    /// Why there, in plain words.
    pub why: Text,
    /// Where that comes from.
    pub source: Text,
}

impl<'de> Deserialize<'de> for PartKind {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let text = String::deserialize(d)?;
        let kind = PartKind::ALL.iter().find(|kind| kind.key() == text);
        kind.copied().ok_or_else(|| {
            let known: Vec<&str> = PartKind::ALL.iter().map(|kind| kind.key()).collect();
            let known = known.join(", ");
            serde::de::Error::custom(format!("there is no kind {text:?}; known are {known}"))
        })
    }
}
