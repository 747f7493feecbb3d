//! The strips in the cabinet: which core of which run lands on which terminal.
//!
//! A terminal has two sides, for one wire each. Cables from outside take a terminal for each
//! core; a wire from within takes the free side of a terminal of its potential, or a new
//! terminal. Terminals of one potential stand side by side, so that a bridge joins them.

mod potential;

use super::Machine;
use super::geometry::Geometry;
use super::wiring::is_cut;
use super::wiring::lead::{End, Lead, Purpose};
use crate::build::Picked;
use crate::build::choices::control::OnCircuit;
use crate::order::Order as _;
use crate::words::Words;

pub use potential::{Potential, Signal, Stage};

crate::words! {
    /// The strips, in their order.
    Strip {
        Mains = "mains", "mains strip", "Live, neutral and earth of the first circuit.";
        SecondMains = "second-mains", "second mains strip", "Live, neutral and earth of the second circuit.";
        Earth = "earth", "earth bar", "The bar where all earths meet, a screw for each.";
        MotorSupply = "motor-supply", "motor supply strip", "Direct current for the drivers, a fuse for each.";
        Control = "control", "control strip", "The control voltage.";
        Stop = "stop", "stop strip", "Stop button, start button and the contactor's coil.";
        Inputs = "inputs", "input strip", "Switches and sensors.";
        Motors = "motors", "motor strip", "The windings of motors on direct current.";
        Own = "own", "device terminals", "Terminals of inverter and servo drivers themselves: their cables are not to be broken.";
    }
}

impl Strip {
    /// The strip of a mains circuit.
    pub fn mains(circuit: OnCircuit) -> Self {
        match circuit {
            OnCircuit::First => Self::Mains,
            OnCircuit::Second => Self::SecondMains,
        }
    }

    /// Whether it belongs to a mains circuit.
    pub fn is_mains(self) -> bool {
        matches!(self, Self::Mains | Self::SecondMains)
    }

    /// Whether it is built of terminals that are bought for it.
    pub fn is_bought(self) -> bool {
        !matches!(self, Self::Earth | Self::Own)
    }
}

/// A core of a run: the run's number on the wiring list, and the core, from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Core {
    /// The run.
    pub run: usize,
    /// The core.
    pub core: u32,
}

/// One terminal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Terminal {
    /// What lies on it.
    pub potential: Potential,
    /// The wire on one side; where a cable comes from outside, it is this one.
    pub outer: Option<Core>,
    /// The wire on the other.
    pub inner: Option<Core>,
}

/// One strip with its terminals.
#[derive(Clone, Debug)]
pub struct Laid {
    /// Which.
    pub strip: Strip,
    /// Its terminals, numbered from 1.
    pub terminals: Vec<Terminal>,
    /// Terminals that stay free behind them.
    pub free: usize,
}

/// One terminal more stays free for every five that are used (common practice).
const FREE: usize = 5;

/// How many sensors and contacts land, before the run that brings their signals to the
/// controller is laid.
pub(super) fn signals(picked: &Picked, geometry: &Geometry, leads: &[Lead]) -> u32 {
    let mut found = Vec::with_capacity(96);
    outside(picked, geometry, leads, &|_| false, &mut found);
    found
        .iter()
        .filter(|landing| landing.signal().is_some())
        .count() as u32
}

/// A core that comes to a strip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Landing {
    /// Which strip.
    pub strip: Strip,
    /// What lies on it.
    pub potential: Potential,
    /// The core.
    pub core: Core,
    /// Whether it comes from outside the cabinet.
    pub enters: bool,
}

impl Landing {
    fn signal(&self) -> Option<Signal> {
        match self.potential {
            Potential::Signal(signal) => Some(signal),
            _ => None,
        }
    }
}

/// Adds the cores of all cables from outside.
fn outside(
    picked: &Picked,
    geometry: &Geometry,
    leads: &[Lead],
    cut: &impl Fn(OnCircuit) -> bool,
    found: &mut Vec<Landing>,
) {
    for (place, run) in geometry.runs.iter().enumerate() {
        for core in 0..run.cores {
            let (strip, potential) = potential::of_run(picked, run, place, core, cut);
            let run = place + 1;
            found.push(Landing {
                strip,
                potential,
                core: Core { run, core },
                enters: true,
            });
        }
    }
    for lead in leads.iter().filter(|lead| lead.enters()) {
        land(picked, lead, &[], false, found);
    }
}

/// Adds where the cores of a run that no plan routes come to a strip: at one end or at both.
fn land(picked: &Picked, lead: &Lead, signals: &[Signal], cut: bool, found: &mut Vec<Landing>) {
    let (from, to) = lead.ends();
    for end in [from, to] {
        let End::On(strip) = end else { continue };
        for core in 0..lead.cores {
            let potential = potential::of_lead(picked, lead, core, signals, cut);
            found.push(Landing {
                strip: strip_of(strip, potential, lead, core),
                potential,
                core: Core {
                    run: lead.number,
                    core,
                },
                enters: lead.enters(),
            });
        }
    }
}

/// A core's own strip: earths go to the bar, but for that of the mains, which lands beside
/// its live wire. The first two cores of the stop button break the stop circuit; what it
/// tells the controller lies with the other inputs.
fn strip_of(strip: Strip, potential: Potential, lead: &Lead, core: u32) -> Strip {
    match (potential, lead.purpose) {
        (Potential::Earth, purpose) if !purpose.is_of_circuit() => Strip::Earth,
        (_, Purpose::StopButton) if core >= 2 => Strip::Inputs,
        _ => strip,
    }
}

/// Every core that lands on a strip, those from outside first; a wire between two strips
/// lands twice.
pub fn landed(picked: &Picked, machine: &Machine) -> Vec<Landing> {
    let cut = |circuit| is_cut(picked, &machine.electrics, circuit);
    let mut found: Vec<Landing> = Vec::with_capacity(192);
    outside(picked, &machine.geometry, &machine.leads, &cut, &mut found);
    let signals: Vec<Signal> = found.iter().filter_map(Landing::signal).collect();
    for lead in machine.leads.iter().filter(|lead| !lead.enters()) {
        land(picked, lead, &signals, cut(lead.circuit), &mut found);
    }
    found
}

/// The terminals of each strip, as they come.
fn placed(picked: &Picked, machine: &Machine) -> [Vec<Terminal>; Strip::ALL.len()] {
    let mut placed = [const { Vec::new() }; Strip::ALL.len()];
    for landing in landed(picked, machine) {
        if let Some(terminals) = placed.get_mut(landing.strip.index()) {
            join(terminals, &landing);
        }
    }
    placed
}

/// Every strip of a machine that anything lands on, in the order of [`Strip`].
pub fn strips(picked: &Picked, machine: &Machine) -> Vec<Laid> {
    let mut used = 0;
    let laid = Strip::ALL.iter().zip(placed(picked, machine));
    laid.filter(|(_, terminals)| !terminals.is_empty())
        .map(|(strip, mut terminals)| {
            terminals.order_by_key(|terminal| terminal.potential);
            let before = usize::div_ceil(used, FREE);
            used += if strip.is_bought() {
                terminals.len()
            } else {
                0
            };
            let free = usize::div_ceil(used, FREE) - before;
            Laid {
                strip: *strip,
                terminals,
                free,
            }
        })
        .collect()
}

/// Gives a core from outside a terminal of its own; puts a wire from within on a free side of
/// its potential, else on a new terminal. Each earth has a screw of its own (IEC 60204-1,
/// 8.2.1).
fn join(terminals: &mut Vec<Terminal>, landing: &Landing) {
    let core = Some(landing.core);
    let alone = landing.enters || landing.strip == Strip::Earth;
    let mut same = terminals
        .iter_mut()
        .filter(|one| one.potential == landing.potential);
    let free = same.find(|one| !alone && (one.inner.is_none() || one.outer.is_none()));
    match free {
        Some(terminal) if terminal.inner.is_none() => terminal.inner = core,
        Some(terminal) => terminal.outer = core,
        None => terminals.push(Terminal {
            potential: landing.potential,
            outer: core.filter(|_| landing.enters),
            inner: core.filter(|_| !landing.enters),
        }),
    }
}

/// Terminals to buy: those that are used. The rule that buys them adds those that stay free.
pub fn bought(picked: &Picked, machine: &Machine) -> usize {
    let placed = placed(picked, machine);
    let each = Strip::ALL.iter().zip(&placed);
    let bought = each.filter(|(strip, _)| strip.is_bought());
    bought.map(|(_, terminals)| terminals.len()).sum()
}

/// The same, at least, as a sum over cores: what one core counts for hangs on nothing but its
/// own run. Of one potential there are as many terminals as cores from outside, and no fewer
/// than half of all cores; where each core from outside has its wire within, the first is
/// closer. Only for the runs that are asked for, by their numbers.
pub fn least_bought(picked: &Picked, machine: &Machine, of: impl Fn(usize) -> bool) -> f64 {
    let landed = landed(picked, machine);
    let bought = landed
        .iter()
        .filter(|one| one.strip.is_bought() && of(one.core.run));
    let each = bought.map(|one| match (one.strip, one.enters) {
        (Strip::Inputs | Strip::Motors, true) => 1.0,
        (Strip::Inputs | Strip::Motors, false) => 0.0,
        _ => 0.5,
    });
    each.sum()
}
