//! What is done with the machine from the first parcel to the first cut: tasks in their order,
//! each with what to expect. Data, so that a builder can add what the own machine asks for.

use serde::Deserialize;

use super::part::Id;
use super::quantity::Count;
use super::text::Text;

crate::words! {
    /// The stages of the work, in their order.
    Stage {
        Arrival = "arrival", "On arrival", "Count and measure what came, while it can still go back.";
        Frame = "frame", "Frame", "Saw, join and straighten the steel.";
        Rails = "rails", "Rails", "Seat, align and bolt the rails and carriages.";
        Drives = "drives", "Drives", "Mount screws, racks and motors; move everything by hand.";
        Spindle = "spindle", "Spindle", "Clamp the spindle, cool it, catch its dust.";
        Cabinet = "cabinet", "Cabinet", "Build and wire the cabinet, without power.";
        Commissioning = "commissioning", "Commissioning", "Switch on step by step, beginning with what protects you.";
        FirstCuts = "first-cuts", "First cuts", "From air to wood to metal.";
    }
}

/// One task.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Task {
    /// Its name, by which a build remembers that it was done.
    pub id: Id,
    /// The stage it belongs to.
    pub stage: Stage,
    /// What is done, in a line.
    pub title: Text,
    /// How, in a sentence or two.
    pub how: Text,
    /// What to see or measure when it is right; empty where there is nothing to compare.
    #[serde(default)]
    pub expect: Text,
    /// Why it stands there, in plain words.
    pub why: Text,
    /// Where that comes from.
    pub source: Text,
    /// What the machine must have for it; every machine has the task where this is left out.
    #[serde(default)]
    pub when: Option<Count>,
    /// What the machine must not have for it.
    #[serde(default)]
    pub without: Option<Count>,
}
