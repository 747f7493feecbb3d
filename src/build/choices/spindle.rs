//! Step three: what turns the tool, and what feeds and cools it.

use super::{Choice, Figure, Kind, rows};
use crate::build::value::{NumberKind, NumberUnit, Value};
use crate::catalogue::{Id, PartKind, Step};
use crate::units::{self, AngularVelocity, Frequency, Ratio};

/// The choices of the spindle step.
#[derive(Clone, Debug, PartialEq)]
pub struct SpindleSet {
    /// The spindle or hand router.
    pub spindle: Id,
    /// Its inverter, where it needs one.
    pub vfd: Option<Id>,
    /// Base frequency set in the inverter.
    pub base_frequency: Frequency,
    /// Whether a line choke sits before the inverter.
    pub choke: bool,
    /// The clamp.
    pub clamp: Id,
    /// Its cooler.
    pub cooler: Option<Id>,
    /// Whether the coolant has antifreeze.
    pub antifreeze: bool,
    /// The reference tool.
    pub tool: Id,
    /// The speed at which most cutting is done.
    pub speed: AngularVelocity,
    /// The most power that cuts will ask, as a share of the rating.
    pub power_cap: Ratio,
    /// Whether a contactor sits between inverter and spindle.
    pub contactor_behind: bool,
}

impl Default for SpindleSet {
    fn default() -> Self {
        let id = |text: &str| Id::new(text).unwrap_or_else(|error| unreachable!("{error}"));
        Self {
            spindle: id("spindle-1.5kw-air"),
            vfd: Some(id("vfd-1.5kw-230")),
            base_frequency: units::hz::of(400.0),
            choke: true,
            clamp: id("clamp-80"),
            cooler: None,
            antifreeze: false,
            tool: id("mill-6mm-2f"),
            speed: units::rpm::of(12_000.0),
            power_cap: units::percent::of(70.0),
            contactor_behind: false,
        }
    }
}

/// The rows of this step.
pub(super) fn rows() -> Vec<Choice> {
    rows! { Spindle;
        part "spindle" "Spindle" (spindle.spindle) {&[PartKind::Spindle]} [Mains Cost MassZ]
            "What turns the tool. More power wants more current from the wall and weighs on Z; few home machines can use more than 1.5 kW.";
        optional "vfd" "Frequency inverter" (spindle.vfd) {&[PartKind::Vfd], "none"} [Mains Cost Warnings]
            "Makes three-phase current of variable speed for a spindle motor. It must match winding voltage, current and the wall; hand routers take none.";
        number "base_frequency_hz" "Base frequency" (spindle.base_frequency) {hz Hertz 10.0 2000.0 50.0} [Warnings]
            "The frequency at which the inverter gives full voltage: from the spindle's nameplate. Set wrong, it burns the winding.";
        flag "line_choke" "Line choke" (spindle.choke) [Mains Cost]
            "A coil before the inverter: it smooths the current, so that the breaker carries more power.";
        part "spindle_clamp" "Spindle clamp" (spindle.clamp) {&[PartKind::SpindleClamp]} [MassZ Cost Warnings]
            "Holds the spindle on Z. Its bore must be the diameter of the spindle's body.";
        optional "cooler" "Spindle cooler" (spindle.cooler) {&[PartKind::Cooler], "none"} [Cost Warnings]
            "Pump, tank or radiator for a water-cooled spindle. One with a watch stops the spindle when the flow stops.";
        flag "antifreeze" "Antifreeze" (spindle.antifreeze) [Cost Warnings]
            "Keeps the cooling water from freezing, and the hoses from algae.";
        part "tool" "Usual tool" (spindle.tool) {&[PartKind::EndMill]} [Warnings Cost]
            "The end mill you will use most. Its shank must fit the collet; few flutes suit slow axes.";
        number "spindle_speed_rpm" "Usual speed" (spindle.speed) {rpm TurnPerMinute 500.0 60000.0 1000.0} [Warnings]
            "The speed at which you cut most. Too fast for the feed, the edge rubs and burns.";
        number "power_cap_percent" "Power you will use" (spindle.power_cap) {percent Percent 10.0 100.0 5.0} [Mains Warnings]
            "The most of the spindle's rated power that your cuts ask; set it in the inverter too. Home cuts rarely reach half.";
        flag "contactor_behind_vfd" "Contactor behind" (spindle.contactor_behind) [Warnings]
            "A switch between inverter and spindle. Opened under load it destroys the inverter.";
    }
}
