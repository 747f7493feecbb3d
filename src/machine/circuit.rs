//! A mains circuit: what hangs on it, what flows in each state, and what its breaker bears.
//!
//! Loads that the builder lets take turns never run together: of them only the largest
//! counts, on top of all the others.

mod notes;

use super::loads::{self, CircuitLoad, Consumer, State};
use super::motor_draw::MotorDraw;
use crate::build::Picked;
use crate::build::choices::control::{BreakerCurve, OnCircuit};
use crate::build::choices::working_area::SecondCircuit;
use crate::explain::Recorder;
use crate::units::{ElectricCurrent, ElectricPotential, Ratio};
use crate::words::Words;

/// Continuous share of a breaker: 0.8 (NEC 210.20(A)).
pub const CONTINUOUS_SHARE: f64 = 0.8;

/// The least multiple of its rating at which a breaker trips at once (IEC 60898-1).
pub fn quick_trip(curve: BreakerCurve) -> f64 {
    match curve {
        BreakerCurve::B => 3.0,
        BreakerCurve::C => 5.0,
        BreakerCurve::D => 10.0,
    }
}

/// The moment of starting at which most flows.
#[derive(Clone, Copy, Debug, Default)]
pub struct Starting {
    /// Effective current of that half wave.
    pub current: ElectricCurrent,
    /// What starts beside all that runs; none where the main switch makes the most.
    pub what: Option<Consumer>,
}

/// One mains circuit.
#[derive(Clone, Debug)]
pub struct Circuit {
    /// First or second.
    pub which: OnCircuit,
    /// Whether it is there already: the first is, the second where somebody looked and found it.
    pub there: bool,
    /// Its voltage.
    pub volts: ElectricPotential,
    /// Its breaker.
    pub breaker: ElectricCurrent,
    /// What may flow for hours.
    pub allowed: ElectricCurrent,
    /// The least current at which the breaker trips at once.
    pub trip: ElectricCurrent,
    /// The moment of starting at which most flows.
    pub starting: Starting,
    /// What hangs on it.
    pub loads: Vec<CircuitLoad>,
    /// Current at most, as measured at the plug.
    pub measured: Option<ElectricCurrent>,
}

impl Circuit {
    /// The current that the loads make together, those that take turns counted once.
    fn sum(&self, of: impl Fn(&CircuitLoad) -> ElectricCurrent) -> ElectricCurrent {
        let mut together = ElectricCurrent::default();
        let mut in_turn = ElectricCurrent::default();
        for load in &self.loads {
            let current = of(load);
            if load.at_once {
                together += current;
            } else if current > in_turn {
                in_turn = current;
            }
        }
        together + in_turn
    }

    /// Current with everything on in a state, as computed.
    fn modelled(&self, state: State) -> ElectricCurrent {
        self.sum(|load| load.current[state])
    }

    /// Current with everything on in a state: at its most as measured, where it was, else as
    /// computed; otherwise never more than was measured at most.
    pub fn current(&self, state: State) -> ElectricCurrent {
        match (self.measured, state) {
            (None, _) => self.modelled(state),
            (Some(most), State::Full) => most,
            (Some(most), _) => most.min(self.modelled(state)),
        }
    }

    /// Whether a load waits: of those that take turns only the one that takes most is counted,
    /// and of several that take as much the first.
    pub fn waits(&self, load: &CircuitLoad) -> bool {
        let turns = self.loads.iter().filter(|one| !one.at_once);
        let counted = turns.reduce(|most, other| match other.current.full > most.current.full {
            true => other,
            false => most,
        });
        !load.at_once && counted.is_some_and(|counted| counted.name != load.name)
    }

    /// Current with everything on at its most, as computed.
    pub fn modelled_full(&self) -> ElectricCurrent {
        self.modelled(State::Full)
    }

    /// Current with everything on at its most.
    pub fn full(&self) -> ElectricCurrent {
        self.current(State::Full)
    }

    /// Current in usual work.
    pub fn typical(&self) -> ElectricCurrent {
        self.current(State::Typical)
    }

    /// Current with everything on and nothing cut.
    pub fn idle(&self) -> ElectricCurrent {
        self.current(State::Idle)
    }

    /// One of its loads.
    pub fn load(&self, name: Consumer) -> Option<&CircuitLoad> {
        self.loads.iter().find(|load| load.name == name)
    }

    /// What leaks to earth all the time through the circuit's residual-current device.
    pub fn leakage(&self) -> ElectricCurrent {
        self.loads.iter().map(|load| load.leakage).sum()
    }

    /// Full current against the allowed one.
    pub fn fill(&self) -> Ratio {
        self.full() / self.allowed
    }

    /// What may flow besides the full current; below zero where that is too much.
    pub fn spare(&self) -> ElectricCurrent {
        self.allowed - self.full()
    }

    /// The most that flows while something starts: one load beside all that run with it, or
    /// all that charges capacitors at the main switch.
    fn worst_start(&self) -> Starting {
        let charging = self.loads.iter().filter(|load| with_main_switch(load));
        let mut worst = Starting {
            current: charging.map(|load| load.inrush).sum(),
            what: None,
        };
        for load in &self.loads {
            let current = self.sum(|other| match other.name == load.name {
                true => load.inrush.max(load.current.full),
                // Of those that take turns the others rest while one starts.
                false if !load.at_once && !other.at_once => ElectricCurrent::default(),
                false => other.current.full,
            });
            if current > worst.current {
                worst = Starting {
                    current,
                    what: Some(load.name),
                };
            }
        }
        worst
    }
}

/// Whether a load comes on with the machine's main switch; the computer has its own.
fn with_main_switch(load: &CircuitLoad) -> bool {
    load.start.charges() && load.name != Consumer::Computer
}

/// The circuits in use, the first one first.
pub(super) fn circuits(
    picked: &Picked,
    motors: &MotorDraw,
    loads: &[CircuitLoad],
    recorder: &mut impl Recorder,
) -> Vec<Circuit> {
    let mut found = Vec::with_capacity(2);
    for &which in OnCircuit::ALL {
        let circuit = circuit(picked, which, loads);
        if which == OnCircuit::First || !circuit.loads.is_empty() {
            notes::note(picked, &circuit, recorder);
            for load in &circuit.loads {
                loads::note(picked, motors, which, load, recorder);
            }
            found.push(circuit);
        }
    }
    found
}

fn circuit(picked: &Picked, which: OnCircuit, loads: &[CircuitLoad]) -> Circuit {
    let site = picked.site;
    let on = |load: &&CircuitLoad| loads::circuit_of(picked, load.name) == which;
    let mut circuit = Circuit {
        which,
        there: match which {
            OnCircuit::First => true,
            OnCircuit::Second => picked.build.area.second_circuit == SecondCircuit::There,
        },
        volts: site.volts,
        breaker: site.breaker,
        allowed: site.plug.min(site.breaker * CONTINUOUS_SHARE),
        trip: site.breaker * quick_trip(picked.build.control.curve),
        starting: Starting::default(),
        loads: loads.iter().filter(on).copied().collect(),
        measured: match which {
            OnCircuit::First => picked.build.measured.current,
            OnCircuit::Second => None,
        },
    };
    circuit.starting = circuit.worst_start();
    circuit
}

/// The path of a circuit's figure.
pub(super) fn path(which: OnCircuit, key: &str) -> String {
    format!("power.circuits.{}.{key}", which.id())
}
