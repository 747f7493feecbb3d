//! How a quantity rule came to its number, and where what it counts comes from.

use rust_decimal::Decimal;

use super::notes::unit;
use crate::build::Picked;
use crate::catalogue::Part;
use crate::catalogue::quantity::{Count, QuantityRule};
use crate::explain::{Input, Origin, Worth};
use crate::words::Words as _;

/// What went into one quantity rule, and what it asks for.
pub(super) fn inputs(
    picked: &Picked,
    rule: &QuantityRule,
    part: &dyn Part,
    counted: Decimal,
    needed: Decimal,
) -> Vec<Input> {
    let from_rule = || Origin::QuantityRule(rule.part.to_string());
    let plain = |number| Worth::Exact(number, "");
    let mut inputs = vec![
        Input::new(
            "c_i",
            rule.per.title(),
            plain(counted),
            origin(picked, rule.per),
        ),
        Input::new(
            "e_i",
            format!(
                "for each counted: {} ({})",
                rule.why.trim_end_matches('.'),
                rule.source
            ),
            plain(rule.each),
            from_rule(),
        ),
    ];
    if !rule.plus.is_zero() {
        let title = "besides, once for all";
        inputs.push(Input::new("a_i", title, plain(rule.plus), from_rule()));
    }
    if !rule.spare_percent.is_zero() {
        let spare = Worth::Exact(rule.spare_percent, "%");
        inputs.push(Input::new("s_i", "spares on top", spare, from_rule()));
    }
    let needed = Worth::Exact(needed, unit(part.unit()));
    let title = format!("asked for by the {}", rule.per.title());
    inputs.push(Input::new("n_i", title, needed, Origin::Here));
    inputs
}

/// Where a count comes from: the choice, plan or part that decides most about it.
fn origin(picked: &Picked, what: Count) -> Origin {
    match (what, choice(what)) {
        (Count::Machine, _) => Origin::Constant("there is one machine"),
        (Count::Water, _) => Origin::part(picked.spindle),
        (Count::CoolantLitre, _) => match picked.cooler {
            Some(cooler) => Origin::part(cooler),
            None => Origin::choice("cooler"),
        },
        (_, FRAME) => Origin::Plan(picked.frame.id.to_string()),
        (_, other) => Origin::choice(other),
    }
}

/// The choice of the plan that the frame is built from: what is counted on it decides the count.
const FRAME: &str = "frame_plan";

/// The choice that decides most about a count.
fn choice(what: Count) -> &'static str {
    match what {
        Count::Motor | Count::Driver | Count::Screw | Count::ScrewToTurn | Count::BallNut => {
            "gantry_drive"
        }
        Count::RailHoleM4 | Count::RailHoleM5 | Count::RailHoleM6 | Count::TappedHole => "guide_x",
        Count::EpoxyBed | Count::ShimmedRail | Count::MachinedRail => "rail_seat",
        Count::ThreadStrip => "thread_strips",
        Count::OwnSaw => "tube_supply",
        Count::PreloadedNut => "preloaded_nuts",
        Count::Rack => "drive_y",
        Count::Reduction => "reduction",
        Count::CarriageScrewM4
        | Count::CarriageScrewM5
        | Count::CarriageScrewM6
        | Count::CarriageScrewM8 => "carriages_x",
        Count::Switch => "limit_ends",
        Count::Vfd => "vfd",
        Count::VfdChoke => "line_choke",
        Count::MainsFilter => "mains_filter",
        Count::Antifreeze => "antifreeze",
        Count::EmergencyStop | Count::HardWiredStop => "emergency_stop",
        Count::NoVoltRelease => "no_volt_release",
        Count::ResidualA | Count::ResidualF | Count::ResidualB => "residual_type",
        Count::GroundFault => "site",
        Count::ReinforcedEarth => "second_earth",
        Count::BrakingClamp => "braking_clamp",
        Count::Isolator => "link_isolator",
        Count::SecondCircuit => "spindle_circuit",
        Count::NewCircuit => "second_circuit",
        Count::Extractor => "extractor",
        Count::HoseEarth => "earthed_hose",
        Count::MetalBin => "separate_bins",
        Count::Bed => "wasteboard",
        Count::Shank => "tool",
        Count::ToolSet => "starter_tools",
        Count::PrinterToBuy => "prints_from",
        Count::HandTools => "hand_tools",
        Count::FireWatch => "fire_watch",
        Count::Protection => "protection_sets",
        Count::SpareSet => "spares",
        Count::ToolChange => "spindle",
        Count::HomeSensorPair => "home_each_side",
        Count::Computer => "computer",
        Count::Machine
        | Count::FrameJoint
        | Count::FramePart
        | Count::TubeCut
        | Count::SteelArea
        | Count::PlatePiece
        | Count::PrintedPart
        | Count::OwnPrint
        | Count::ServicePrint
        | Count::MovingBridge
        | Count::Cable
        | Count::NumberedRun
        | Count::CoreEnd
        | Count::Terminal
        | Count::CabinetWire
        | Count::Connector
        | Count::Chain
        | Count::WaterHose
        | Count::DustHose
        | Count::Water
        | Count::CoolantLitre => FRAME,
    }
}
