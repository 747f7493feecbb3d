//! Cable runs: one for each motor, switch, sensor and the spindle, with its length along the
//! plan's routes, and what its copper bears there.
//!
//! A run is a metre in the cabinet, the fixed way, what lies in each chain that it passes,
//! and the way from the last chain; a tenth on top for bends.

mod copper;
pub mod lead;
mod lead_notes;
mod leads;
mod notes;

use super::cable_load::{self, CableLoad};
use super::geometry::lengths::{ChainCut, Lengths};
use super::sizing::Sizing;
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::Id;
use crate::catalogue::frame::{Route, RunEnd};
use crate::explain::Recorder;
use crate::units::{self, Area, Length};
use crate::words::Words;

pub use copper::plug_earth;
pub(super) use leads::leads;
pub use leads::{feeds_inputs, is_cut};

crate::words! {
    /// Where the braid of a cable is bonded.
    Bond {
        None = "no-braid", "no braid", "It has none.";
        Cabinet = "cabinet", "at cabinet", "At the cabinet alone, all round, on bare metal.";
        Both = "both-ends", "both ends", "At both ends, all round: the cables behind inverters and servo drivers.";
    }
}

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
    /// Loaded cables that lie in one chain with it, itself counted; the fullest chain counts.
    pub touching: usize,
    /// What its copper bears and what copper it needs; none for signals.
    pub sizing: Option<Sizing>,
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

    /// Core ends that want a ferrule: both of each core.
    pub fn ferrules(&self) -> u32 {
        self.cores * 2
    }

    /// Where its braid is bonded.
    pub fn bond(&self) -> Bond {
        match self.load {
            _ if !self.shielded => Bond::None,
            Some(load) if load.three_phase => Bond::Both,
            _ => Bond::Cabinet,
        }
    }
}

/// A metre of each run lies in the cabinet.
fn in_cabinet() -> Length {
    units::m::of(1.0)
}

/// What bends and loops add to the way.
const BENDS: f64 = 1.1;

/// The parts of a way.
#[derive(Clone, Copy)]
struct Way {
    fixed: Length,
    followed: Length,
    chained: Length,
    moving: Length,
}

impl Way {
    fn total(&self) -> Length {
        self.fixed + self.followed + self.chained + self.moving
    }
}

/// Every run of a machine, in the order of the plan's routes.
pub(super) fn runs(
    lengths: &Lengths,
    chains: &[ChainCut],
    switches: &PerAxis<u32>,
    notes: &mut impl Recorder,
) -> Vec<CableRun> {
    let picked = lengths.picked;
    let mut found: Vec<CableRun> = Vec::with_capacity(16);
    for route in &picked.frame.route {
        let way = way(lengths, chains, route);
        for number in 1..=count(picked, switches, route.to) {
            let cable = cable(picked, route.to);
            let mut run = CableRun {
                mark: format!("W{}", found.len() + 1),
                to: route.to,
                number,
                cable: cable.id,
                cores: cable.cores,
                area: cable.area,
                shielded: cable.shielded,
                load: None,
                length: (in_cabinet() + way.total()) * BENDS,
                way: way.total(),
                chains: route
                    .chains
                    .iter()
                    .filter_map(|rides| Axis::of(*rides))
                    .collect(),
                touching: 1,
                sizing: None,
            };
            run.load = cable_load::load(picked, &run);
            notes::length(picked, chains, &run, &way, notes);
            found.push(run);
        }
    }
    size(picked, &mut found, notes);
    found
}

/// Counts the loaded cables in each chain, and sizes the copper of each run.
fn size(picked: &Picked, runs: &mut [CableRun], notes: &mut impl Recorder) {
    let in_chain = PerAxis::from_fn(|axis| {
        let loaded = |run: &&CableRun| run.load.is_some() && run.chains.contains(&axis);
        runs.iter().filter(loaded).count()
    });
    for run in runs {
        if let Some(load) = run.load {
            let beside = run.chains.iter().map(|axis| in_chain[*axis]);
            run.touching = beside.max().unwrap_or(1);
            run.sizing = Some(Sizing::of(
                run.area,
                run.length,
                &run.chains,
                run.touching,
                &load,
            ));
        }
        notes::copper(picked, run, notes);
    }
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

fn way(lengths: &Lengths, chains: &[ChainCut], route: &Route) -> Way {
    let passed = route.chains.iter().filter_map(|rides| Axis::of(*rides));
    Way {
        fixed: route.fixed,
        followed: lengths.of(route.follows) * route.follows_share,
        chained: passed
            .filter_map(|axis| chains.iter().find(|chain| chain.axis == axis))
            .map(|chain| chain.length)
            .sum(),
        moving: route.moving,
    }
}
