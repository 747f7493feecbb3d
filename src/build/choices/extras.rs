//! Step five: what else the first cut needs.

use super::job::JobChoice;
use super::{Choice, Figure, Kind, id, rows};
use crate::build::value::{NumberKind, Value};
use crate::catalogue::{Id, PartKind, Step};

/// The choices of the extras step.
#[derive(Clone, Debug, PartialEq)]
pub struct Extras {
    /// Chip and dust extractor.
    pub extractor: Option<Id>,
    /// Whether its hose is earthed.
    pub earthed_hose: bool,
    /// Whether metal and wood have bins of their own.
    pub separate_bins: bool,
    /// Cutting coolant.
    pub coolant: Option<Id>,
    /// Enclosure.
    pub enclosure: Option<Id>,
    /// Table.
    pub table: Option<Id>,
    /// Tool-length sensor.
    pub tool_sensor: Option<Id>,
    /// Workholding set.
    pub workholding: Option<Id>,
    /// Wasteboards.
    pub wasteboard: bool,
    /// Starter set of end mills and collets.
    pub starter_tools: bool,
    /// Hand tools to be bought.
    pub hand_tools: bool,
    /// Smoke alarm and extinguisher.
    pub fire_watch: bool,
    /// Whether the machine runs with nobody in the room.
    pub unattended: bool,
    /// Sets of eye, ear and lung protection.
    pub protection_sets: u32,
    /// Spares.
    pub spares: bool,
    /// The job whose minutes are told.
    pub job: JobChoice,
}

impl Default for Extras {
    fn default() -> Self {
        Self {
            extractor: Some(id("extractor-shop-1200w")),
            earthed_hose: true,
            separate_bins: false,
            coolant: None,
            enclosure: None,
            table: Some(id("table-steel")),
            tool_sensor: Some(id("tool-sensor-dry")),
            workholding: Some(id("workholding-clamps")),
            wasteboard: true,
            starter_tools: true,
            hand_tools: true,
            fire_watch: true,
            unattended: false,
            protection_sets: 1,
            spares: false,
            job: JobChoice::default(),
        }
    }
}

/// The rows of this step.
pub(super) fn rows() -> Vec<Choice> {
    rows! { Extras;
        optional "extractor" "Dust extraction" (extras.extractor) {&[PartKind::Extractor], "none"} [Cost Mains Warnings]
            "What draws chips and dust off the cut."
            "Without one, do not cut wood: its dust harms lungs and burns. A weak one leaves chips that the tool cuts again.";
        flag "earthed_hose" "Earthed hose" (extras.earthed_hose) [Cost Warnings]
            "A wire along the plastic hose that carries charge to earth."
            "Without it, moving chips charge the hose until it sparks: into you, into the controller, or into dust.";
        flag "separate_bins" "Own bin for metal" (extras.separate_bins) [Cost Warnings]
            "Whether metal and wood chips go to bins of their own."
            "Hot metal chips in wood dust start fires, hours later too.";
        optional "coolant" "Cutting coolant" (extras.coolant) {&[PartKind::Coolant], "none"} [Cost Mains Warnings]
            "What cools the cut and blows or washes the chips away."
            "Without any, aluminium sticks to the tool and breaks it. Mist and flood ruin wood; air suits all.";
        optional "enclosure" "Enclosure" (extras.enclosure) {&[PartKind::Enclosure], "none"} [Cost Warnings]
            "A box around the machine that keeps chips and noise in, and hands out."
            "Without one, chips and pieces of broken tools fly through the room. A closed one needs a way for heat and dust.";
        optional "table" "Stand" (extras.table) {&[PartKind::Table], "none"} [Cost Warnings]
            "What the machine stands on."
            "A weak stand shakes with every move. The floor is no place to work, for your back or for the dust.";
        optional "tool_sensor" "Tool-length sensor" (extras.tool_sensor) {&[PartKind::ToolSensor], "none"} [Cost Cables Warnings]
            "What measures the length of each new tool by touch."
            "Without it every change costs minutes, and a wrong number drives the tool into the table.";
        optional "workholding" "Workholding" (extras.workholding) {&[PartKind::Workholding], "none"} [Cost Warnings]
            "What holds the piece on the table while it is cut."
            "Loose stock flies, breaks the tool and hits people.";
        flag "wasteboard" "Wasteboard" (extras.wasteboard) [Cost Warnings]
            "A board on the table that you may cut into, milled flat by the machine itself."
            "Without one, every cut through the piece goes into the table.";
        flag "starter_tools" "First end mills" (extras.starter_tools) [Cost Warnings]
            "The end mills and collets for the first weeks."
            "Without them the finished machine stands still. The first ones break: count on spares.";
        flag "hand_tools" "Buy hand tools" (extras.hand_tools) [Cost]
            "Drill, square, gauges, crimp tool and more, each a line of the parts list: mark there which you have."
            "If you say no and have none, a few hundred euros or dollars are missing from the cost, and the build waits for a tool.";
        flag "fire_watch" "Fire protection" (extras.fire_watch) [Cost Warnings]
            "A smoke alarm and an extinguisher within reach."
            "Dull tools and hot chips light dust. Without them a small fire is a large one before you notice.";
        flag "unattended" "Runs unattended" (extras.unattended) [Warnings]
            "Whether nobody is in the room while it cuts."
            "A tool that breaks or clogs then burns or cuts on until the house notices. It is never without risk.";
        count "protection_sets" "Protection sets" (extras.protection_sets) {0.0 20.0 1.0} [Cost Warnings]
            "Goggles, ear defenders and masks: a set for each person in the room."
            "One set too few, and somebody stands there without. Eyes and ears do not heal.";
        flag "spares" "Spares" (extras.spares) [Cost]
            "A driver, a switch, a coupling and fuses in the drawer."
            "Without them a dead driver stops you for weeks.";
    }
}
