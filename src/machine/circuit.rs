//! A mains circuit: what hangs on it, what flows in each state, and what its breaker bears.
//!
//! Loads that the builder lets take turns never run together: of them only the largest
//! counts, on top of all the others.

use super::loads::{self, CircuitLoad, Consumer};
use crate::build::Picked;
use crate::build::choices::control::{BreakerCurve, OnCircuit};
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::units::{self, Amount, ElectricCurrent, ElectricPotential, Ratio};
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

    /// Current with everything on at its most.
    pub fn full(&self) -> ElectricCurrent {
        self.sum(|load| load.full)
    }

    /// Current in usual work.
    pub fn typical(&self) -> ElectricCurrent {
        self.sum(|load| load.typical)
    }

    /// Current with everything on and nothing cut.
    pub fn idle(&self) -> ElectricCurrent {
        self.sum(|load| load.idle)
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
                true if load.inrush > load.full => load.inrush,
                _ => other.full,
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
    loads: &[CircuitLoad],
    notes: &mut impl Recorder,
) -> Vec<Circuit> {
    let mut found = Vec::with_capacity(2);
    for &which in OnCircuit::ALL {
        let circuit = circuit(picked, which, loads);
        if which == OnCircuit::First || !circuit.loads.is_empty() {
            note(picked, &circuit, notes);
            for load in &circuit.loads {
                loads::note(picked, which, load, notes);
            }
            found.push(circuit);
        }
    }
    found
}

fn circuit(picked: &Picked, which: OnCircuit, loads: &[CircuitLoad]) -> Circuit {
    let site = picked.site;
    let continuous = site.breaker * CONTINUOUS_SHARE;
    let on = |load: &&CircuitLoad| loads::circuit_of(picked, load.name) == which;
    let mut circuit = Circuit {
        which,
        volts: site.volts,
        breaker: site.breaker,
        allowed: if site.plug < continuous {
            site.plug
        } else {
            continuous
        },
        trip: site.breaker * quick_trip(picked.build.control.curve),
        starting: Starting::default(),
        loads: loads.iter().filter(on).copied().collect(),
    };
    circuit.starting = circuit.worst_start();
    circuit
}

fn note(picked: &Picked, circuit: &Circuit, notes: &mut impl Recorder) {
    if !notes.listens() {
        return;
    }
    note_limits(picked, circuit, notes);
    note_sums(circuit, notes);
    note_starting(circuit, notes);
}

/// The path of a circuit's figure.
pub(super) fn path(which: OnCircuit, key: &str) -> String {
    format!("power.circuits.{}.{key}", which.id())
}

fn note_limits(picked: &Picked, circuit: &Circuit, notes: &mut impl Recorder) {
    let site = picked.site;
    let of_site = || Origin::Site(site.id.to_string());
    let path = |key| path(circuit.which, key);
    notes.note(|| {
        Derivation::of(
            path("volts"),
            "voltage of the circuit",
            units::v::amount(circuit.volts),
        )
        .by("as the site says", "V")
        .with(
            "V",
            "mains voltage",
            units::v::amount(site.volts),
            of_site(),
        )
        .from("the site's data", "EN 50160 lets it stray by 10 %")
    });
    notes.note(|| {
        Derivation::of(
            path("breaker_a"),
            "breaker of the circuit",
            units::a::amount(circuit.breaker),
        )
        .by("as the site says", "I_n")
        .with("I_n", "breaker", units::a::amount(site.breaker), of_site())
        .from("the site's data", "look at your own board")
    });
    notes.note(|| {
        Derivation::of(
            path("allowed_a"),
            "current that may flow for hours",
            units::a::amount(circuit.allowed),
        )
        .by(
            "the lesser of 80 % of the breaker and of what the plug carries for hours",
            "I = min(0.8 · I_n, I_plug)",
        )
        .with("I_n", "breaker", units::a::amount(site.breaker), of_site())
        .with(
            "0.8",
            "share for three hours and more",
            Amount::plain(CONTINUOUS_SHARE),
            Origin::Constant("NEC 210.20(A)"),
        )
        .with(
            "I_plug",
            "what the plug carries for hours",
            units::a::amount(site.plug),
            of_site(),
        )
        .from(
            "NEC 210.20(A); elsewhere common practice",
            "other loads on the same circuit are yours to add; local codes decide",
        )
    });
    let curve = picked.build.control.curve;
    notes.note(|| {
        Derivation::of(path("trip_a"), "current at which the breaker trips at once", units::a::amount(circuit.trip))
            .by("the least multiple of the rating at which the curve lets the magnet act", "I = m · I_n")
            .with("m", format!("least multiple of {}", curve.title()), Amount::plain(quick_trip(curve)), Origin::choice("breaker_curve"))
            .with("I_n", "breaker", units::a::amount(site.breaker), of_site())
            .from("IEC 60898-1: B 3 to 5, C 5 to 10, D 10 to 20 times the rating", "a given breaker may bear up to the upper multiple; pulses far shorter than 10 ms it feels less")
    });
}

fn note_sums(circuit: &Circuit, notes: &mut impl Recorder) {
    const WORDS: &str =
        "the currents of all that run at once added up, and the largest of those that take turns";
    type Of = fn(&CircuitLoad) -> ElectricCurrent;
    let sums: [(&str, &str, &str, Of); 3] = [
        (
            "idle_a",
            "idle_a",
            "current with everything on and nothing cut",
            |load| load.idle,
        ),
        ("typical_a", "typical_a", "current in usual work", |load| {
            load.typical
        }),
        (
            "current_a",
            "full_a",
            "current with everything on at its most",
            |load| load.full,
        ),
    ];
    for (key, of_load, title, of) in sums {
        let sum = circuit.sum(of);
        notes.note(|| {
            let each = circuit.loads.iter().map(|load| Input {
                symbol: if load.at_once { "Iᵢ" } else { "Iⱼ" },
                title: match load.at_once {
                    true => load.name.title().to_owned(),
                    false => format!("{}, takes turns", load.name.title()),
                },
                value: units::a::amount(of(load)),
                origin: Origin::figure(path(
                    circuit.which,
                    &format!("loads.{}.{of_load}", load.name.id()),
                )),
            });
            Derivation::of(path(circuit.which, key), title, units::a::amount(sum))
                .by(WORDS, "I = Σ Iᵢ + max Iⱼ")
                .with_each(each)
                .from("common practice", "effective values added as if in phase: the true sum of rectifiers and motors is a little less")
        });
    }
    notes.note(|| {
        let each = circuit.loads.iter().map(|load| Input {
            symbol: "Iᵢ",
            title: load.name.title().to_owned(),
            value: units::ma::amount(load.leakage),
            origin: Origin::figure(path(circuit.which, &format!("loads.{}.leakage_ma", load.name.id()))),
        });
        Derivation::of(path(circuit.which, "leakage_ma"), "standing leakage to earth", units::ma::amount(circuit.leakage()))
            .by("what each load leaks, added up", "I = Σ Iᵢ")
            .with_each(each)
            .from("data sheets; IEC 60364-5-53 compares it with 30 % of the residual-current device's rating", "long shielded motor cables and long house wiring leak besides")
    });
}

fn note_starting(circuit: &Circuit, notes: &mut impl Recorder) {
    let starting = circuit.starting;
    notes.note(|| {
        let inrush_path = |load: &CircuitLoad| {
            path(circuit.which, &format!("loads.{}.inrush_a", load.name.id()))
        };
        let figure = Derivation::of(
            path(circuit.which, "inrush_a"),
            "most that flows while something starts",
            units::a::amount(starting.current),
        );
        let figure = match starting.what {
            None => figure
                .by("everything behind the main switch charges its capacitors in the same half wave", "I = Σ I_start")
                .with_each(circuit.loads.iter().filter(|load| with_main_switch(load)).map(|load| Input {
                    symbol: "I_start",
                    title: load.name.title().to_owned(),
                    value: units::a::amount(load.inrush),
                    origin: Origin::figure(inrush_path(load)),
                })),
            Some(name) => figure
                .by("one load starts while all others run at their most; of those that take turns the largest counts", "I = I_start + Σ Iᵢ + max Iⱼ")
                .with_each(circuit.loads.iter().map(|load| match load.name == name {
                    true => Input {
                        symbol: "I_start",
                        title: format!("{}, starting", load.name.title()),
                        value: units::a::amount(load.inrush),
                        origin: Origin::figure(inrush_path(load)),
                    },
                    false => Input {
                        symbol: if load.at_once { "Iᵢ" } else { "Iⱼ" },
                        title: load.name.title().to_owned(),
                        value: units::a::amount(load.full),
                        origin: Origin::figure(path(circuit.which, &format!("loads.{}.full_a", load.name.id()))),
                    },
                })),
        };
        figure.from(
            "common practice; compared with the quick trip of IEC 60898-1",
            "effective value of the first half wave; the true peak depends on the moment of switching and on the house wiring",
        )
    });
}
