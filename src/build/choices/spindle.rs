//! Step three: what turns the tool, and what feeds and cools it.

use super::{Choice, Figure, Kind, id, rows};
use crate::build::value::{NumberKind, Value};
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
            "What turns the tool: its power and weight decide what you can cut and how much Z must carry."
            "Too weak and it cuts slowly. Too strong and it draws more from the wall than there is; few home machines can use more than 1.5 kW.";
        optional "vfd" "Frequency inverter" (spindle.vfd) {&[PartKind::Vfd], "none"} [Mains Cost Warnings]
            "What makes three-phase current of variable speed for a spindle motor out of the mains; hand routers take none."
            "One that does not match the spindle's voltage and current burns its winding, or switches off.";
        number "base_frequency_hz" "Base frequency" (spindle.base_frequency) {hz 10.0 2000.0 50.0} [Warnings]
            "The frequency at which the inverter gives its full voltage: read it off the spindle's nameplate."
            "Set too low, it burns the winding within minutes. Set too high, the spindle is weak.";
        flag "line_choke" "Line choke" (spindle.choke) [Mains Cost]
            "A coil before the inverter that smooths its current, so that the breaker carries more power."
            "Without it the same cut draws more current, and a weak socket trips earlier.";
        part "spindle_clamp" "Spindle clamp" (spindle.clamp) {&[PartKind::SpindleClamp]} [MassZ Cost Warnings]
            "What holds the spindle on Z: its bore must be the diameter of the spindle's body."
            "A wrong bore does not hold, and one pulled tight over a small body squeezes the bearings.";
        optional "cooler" "Spindle cooler" (spindle.cooler) {&[PartKind::Cooler], "none"} [Cost Warnings]
            "The pump, tank or radiator of a water-cooled spindle."
            "Without it the spindle burns out in minutes. One with a flow switch stops the spindle when the flow stops.";
        flag "antifreeze" "Antifreeze" (spindle.antifreeze) [Cost Warnings]
            "Whether the cooling water has antifreeze, which also keeps algae out of the hoses."
            "Plain water bursts the spindle when the room freezes, and blocks the hoses in summer.";
        part "tool" "Usual tool" (spindle.tool) {&[PartKind::EndMill]} [Warnings Cost]
            "The end mill that you will use most: speed, feed and force are worked out for it."
            "A shank that does not fit the collet cannot be clamped. Many flutes on a slow axis rub instead of cutting.";
        number "spindle_speed_rpm" "Usual speed" (spindle.speed) {rpm 500.0 60000.0 1000.0} [Warnings]
            "The speed at which you cut most, in turns a minute."
            "Too fast for the feed, and the edge rubs and burns. Too slow, and the spindle has little power.";
        number "power_cap_percent" "Power you will use" (spindle.power_cap) {percent 10.0 100.0 5.0} [Mains Warnings]
            "The most of the spindle's rated power that your cuts ask: home cuts rarely reach half."
            "Set too low, the real cut trips the breaker. Set it in the inverter too, so that it holds.";
        flag "contactor_behind_vfd" "Spindle contactor" (spindle.contactor_behind) [Warnings]
            "A switch between inverter and spindle, as some wiring plans show."
            "Opened while the spindle runs, it destroys the inverter. Cut the power before the inverter instead.";
    }
}
