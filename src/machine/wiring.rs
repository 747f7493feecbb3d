//! Cable runs: one for each motor, switch, sensor and the spindle, with its length along the
//! plan's routes.
//!
//! A run is a metre in the cabinet, the fixed way, what lies in each chain that it passes,
//! and the way from the last chain; a tenth on top for bends.

use super::cable_load::{self, CableLoad};
use super::geometry::{ChainCut, Lengths};
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::Id;
use crate::catalogue::frame::{Rides, Route, RunEnd};
use crate::units::{self, Area, Length};
use crate::words::Words;

/// One cable.
#[derive(Clone, Debug)]
pub struct CableRun {
    /// Number on the wiring list: W1, W2 and so on.
    pub mark: String,
    /// Where it ends.
    pub to: RunEnd,
    /// Which of several equal ends, from 1.
    pub number: u32,
    /// The cable it is cut from.
    pub cable: Id,
    /// Its cores.
    pub cores: u32,
    /// Section of a core.
    pub area: Area,
    /// Whether it has a braid.
    pub shielded: bool,
    /// What it bears; none for signals.
    pub load: Option<CableLoad>,
    /// Its length: the way, a metre in the cabinet, and a tenth for bends.
    pub length: Length,
    /// The way from the cabinet to its end.
    pub way: Length,
    /// The chains it passes.
    pub chains: Vec<Axis>,
}

impl CableRun {
    /// Where it ends, in words.
    pub fn title(&self) -> String {
        match self.to {
            RunEnd::MotorY | RunEnd::SwitchX | RunEnd::SwitchY | RunEnd::SwitchZ => {
                format!("{} {}", self.to.title(), self.number)
            }
            _ => self.to.title().to_owned(),
        }
    }
}

/// Every run of a machine, in the order of the plan's routes.
pub(super) fn runs(
    lengths: &Lengths,
    chains: &[ChainCut],
    switches: &PerAxis<u32>,
) -> Vec<CableRun> {
    let picked = lengths.picked;
    let mut found: Vec<CableRun> = Vec::new();
    for route in &picked.frame.route {
        let way = way(lengths, chains, route);
        for number in 1..=count(picked, switches, route.to) {
            let cable = cable(picked, route.to);
            let mut run = CableRun {
                mark: format!("W{}", found.len() + 1),
                to: route.to,
                number,
                cable: cable.id.clone(),
                cores: cable.cores,
                area: cable.area,
                shielded: cable.shielded,
                load: None,
                length: (units::m::of(1.0) + way) * 1.1,
                way,
                chains: route
                    .chains
                    .iter()
                    .filter_map(|rides| axis_of(*rides))
                    .collect(),
            };
            run.load = cable_load::load(picked, &run);
            found.push(run);
        }
    }
    found
}

/// How many cables go to one kind of end.
fn count(picked: &Picked, switches: &PerAxis<u32>, end: RunEnd) -> u32 {
    match end {
        RunEnd::MotorX => picked.motors(Axis::X),
        RunEnd::MotorY => picked.motors(Axis::Y),
        RunEnd::MotorZ => picked.motors(Axis::Z),
        RunEnd::SwitchX => switches.x,
        RunEnd::SwitchY => switches.y,
        RunEnd::SwitchZ => switches.z,
        RunEnd::Spindle => 1,
        RunEnd::ToolSensor => u32::from(picked.tool_sensor.is_some()),
    }
}

fn cable<'c>(picked: &Picked<'c>, end: RunEnd) -> &'c crate::catalogue::wiring::Cable {
    match end {
        RunEnd::MotorX | RunEnd::MotorY | RunEnd::MotorZ => picked.motor_cable,
        RunEnd::SwitchX | RunEnd::SwitchY | RunEnd::SwitchZ | RunEnd::ToolSensor => {
            picked.switch_cable
        }
        RunEnd::Spindle => picked.spindle_cable,
    }
}

fn axis_of(rides: Rides) -> Option<Axis> {
    match rides {
        Rides::Still => None,
        Rides::X => Some(Axis::X),
        Rides::Y => Some(Axis::Y),
        Rides::Z => Some(Axis::Z),
    }
}

fn way(lengths: &Lengths, chains: &[ChainCut], route: &Route) -> Length {
    let followed = lengths.of(route.follows) * route.follows_share;
    let passed = route.chains.iter().filter_map(|rides| axis_of(*rides));
    let chained: Length = passed
        .filter_map(|axis| chains.iter().find(|chain| chain.axis == axis))
        .map(|chain| chain.length)
        .sum();
    route.fixed + followed + chained + route.moving
}
