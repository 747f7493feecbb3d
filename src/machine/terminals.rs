//! The strips in the cabinet: which core of which run lands on which terminal.
//!
//! A terminal has two sides, for one wire each. Cables from outside take a terminal for each
//! core; a wire from within takes the free side of a terminal of its potential, or a new
//! terminal. Terminals of one potential stand side by side, so that a bridge joins them.

mod potential;

use std::collections::BTreeMap;

use super::Machine;
use super::geometry::Geometry;
use super::wiring::is_cut;
use super::wiring::lead::{End, Lead};
use crate::build::Picked;
use crate::build::choices::control::OnCircuit;

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

/// Every fifth terminal more stays free (common practice).
const FREE: usize = 5;

/// Who counts what lands, before the last run is laid: how many sensors there are.
pub(super) fn signals(picked: &Picked, geometry: &Geometry, leads: &[Lead]) -> u32 {
    let mut found = Vec::with_capacity(12);
    for landing in outside(picked, geometry, leads, &|_| false) {
        if let Potential::Signal(signal) = landing.potential {
            found.push(signal);
        }
    }
    found.len() as u32
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

/// The cores of all cables from outside.
fn outside<'a>(
    picked: &'a Picked,
    geometry: &'a Geometry,
    leads: &'a [Lead],
    cut: &'a dyn Fn(OnCircuit) -> bool,
) -> impl Iterator<Item = Landing> + 'a {
    let planned = geometry
        .runs
        .iter()
        .enumerate()
        .flat_map(move |(place, run)| {
            (0..run.cores).map(move |core| {
                let (strip, potential) = potential::of_run(picked, run, place, core, cut);
                let core = Core {
                    run: place + 1,
                    core,
                };
                Landing {
                    strip,
                    potential,
                    core,
                    enters: true,
                }
            })
        });
    let others = leads.iter().filter(|lead| lead.enters());
    planned.chain(others.flat_map(move |lead| landings(picked, lead, &[], false)))
}

/// Where the cores of a run that no plan routes come to a strip: at one end or at both.
fn landings(picked: &Picked, lead: &Lead, signals: &[Signal], cut: bool) -> Vec<Landing> {
    let (from, to) = lead.ends();
    let mut found = Vec::with_capacity(8);
    for end in [from, to] {
        let End::On(strip) = end else { continue };
        for core in 0..lead.cores {
            let potential = potential::of_lead(picked, lead, core, signals, cut);
            found.push(Landing {
                strip: strip_of(strip, potential, lead),
                potential,
                core: Core {
                    run: lead.number,
                    core,
                },
                enters: lead.enters(),
            });
        }
    }
    found
}

/// A core's own strip: earths go to the bar, but for that of the mains, which lands beside
/// its live wire; the stop button's signal lies beside its other contact.
fn strip_of(strip: Strip, potential: Potential, lead: &Lead) -> Strip {
    let of_mains = lead.purpose.is_of_circuit();
    match potential {
        Potential::Earth if !of_mains => Strip::Earth,
        Potential::Signal(Signal::Stop) => Strip::Stop,
        _ => strip,
    }
}

/// Every core that lands on a strip, those from outside first; a wire between two strips
/// lands twice.
pub fn landed(picked: &Picked, machine: &Machine) -> Vec<Landing> {
    let cut = |circuit| is_cut(picked, &machine.electrics, circuit);
    let (geometry, leads) = (&machine.geometry, &machine.leads);
    let mut found: Vec<Landing> = Vec::with_capacity(192);
    found.extend(outside(picked, geometry, leads, &cut));
    let signal = |landing: &Landing| match landing.potential {
        Potential::Signal(signal) => Some(signal),
        _ => None,
    };
    let signals: Vec<Signal> = found.iter().filter_map(signal).collect();
    for lead in leads.iter().filter(|lead| !lead.enters()) {
        found.extend(landings(picked, lead, &signals, cut(lead.circuit)));
    }
    found
}

/// Every strip of a machine that anything lands on, in the order of [`Strip`].
pub fn strips(picked: &Picked, machine: &Machine) -> Vec<Laid> {
    let mut laid: BTreeMap<Strip, Vec<Terminal>> = BTreeMap::new();
    for landing in landed(picked, machine) {
        join(laid.entry(landing.strip).or_default(), &landing);
    }
    let mut used = 0;
    let number = |(strip, mut terminals): (Strip, Vec<Terminal>)| {
        terminals.sort_by_key(|terminal| terminal.potential);
        let before = usize::div_ceil(used, FREE);
        used += if strip.is_bought() {
            terminals.len()
        } else {
            0
        };
        let free = usize::div_ceil(used, FREE) - before;
        Laid {
            strip,
            terminals,
            free,
        }
    };
    laid.into_iter().map(number).collect()
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
    let laid = strips(picked, machine);
    let bought = laid.iter().filter(|laid| laid.strip.is_bought());
    bought.map(|laid| laid.terminals.len()).sum()
}
