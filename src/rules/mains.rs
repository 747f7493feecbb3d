//! The wall socket's circuits: what hangs on each, and what its breaker lets pass.

use super::decided::DRAWS;
use super::inverter;
use super::remedy::{each_option, in_turn, number, set, together};
use super::say;
use super::spindle_set::other_spindles;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::choices::control::OnCircuit;
use crate::build::choices::working_area::SecondCircuit;
use crate::build::{Axis, Edit};
use crate::catalogue::Step;
use crate::machine::circuit::Circuit;
use crate::machine::loads::{CircuitLoad, Consumer, circuit_choice, circuit_of};
use crate::order::Order as _;
use crate::units::{self, Power, Time};
use crate::words::Words;

/// The lowest power cap worth proposing, in percent: below it a smaller spindle is the better
/// advice (common practice).
const LEAST_CAP: f64 = 20.0;

/// A load that lasts three hours or more counts as continuous (NEC, article 100).
fn continuous() -> Time {
    units::hour::of(3.0)
}

/// What draws current from the wall: the facts behind every sum of a circuit.
const LOADS: &[Fact] = &[
    Fact::Mains,
    Fact::Site,
    Fact::Spindle,
    Fact::Inverter,
    Fact::Motors,
    Fact::Axes,
    Fact::Supply,
    Fact::Controller,
    Fact::Cabinet,
    Fact::Extras,
];

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "circuit-overloaded",
        title: "Circuit overloaded",
        severities: &[Severity::Fault],
        step: Step::Control,
        watches: "The current of each circuit with everything on at its most against what may flow for hours.",
        because: "The breaker trips in mid-cut: the spindle stops, the axes may not, and work and tool are lost.",
        from: "Sum of real currents > 0.8 of the breaker (NEC 210.20(A); elsewhere common practice), or > what the plug carries.",
        instead: "Move a load to a second circuit, add a line choke, use less power, or take a smaller spindle.",
        reads: LOADS,
        decided_by: Some(DRAWS),
        check: overloaded,
        remedies: relieve,
        example: Example {
            given: &[],
            choice: "power_cap_percent",
            fires: "80",
            quiet: "70",
        },
    },
    Rule {
        id: "load-for-hours",
        title: "Much power for hours from one plug",
        severities: &[Severity::Hint],
        step: Step::Control,
        watches: "Power of a circuit in usual work on days with three hours of cutting and more.",
        because: "Household plugs and old house wiring get hot under a load that never pauses.",
        from: "Three hours make a continuous load (NEC, article 100); the power is the site's own value, common practice.",
        instead: "Ask an electrician about plug and wiring, or spread the loads over two circuits.",
        reads: &[
            Fact::Mains,
            Fact::Site,
            Fact::Spindle,
            Fact::Inverter,
            Fact::Motors,
            Fact::Axes,
            Fact::Supply,
            Fact::Controller,
            Fact::Cabinet,
            Fact::Extras,
            Fact::Wishes,
        ],
        decided_by: None,
        check: for_hours,
        remedies: relieve,
        example: Example {
            given: &[("extractor_circuit", "first")],
            choice: "hours_a_day",
            fires: "3.2",
            quiet: "2.8",
        },
    },
    Rule {
        id: "inrush-trips",
        title: "Something's start trips the breaker",
        severities: &[Severity::Caution],
        step: Step::Control,
        watches: "The most that flows on a circuit while a load starts beside the others, or while the main switch charges all supplies, against the breaker's quick trip.",
        because: "A motor takes a multiple of its current when it starts, a supply charges its capacitors, and a breaker cannot tell that from a short.",
        from: "Effective current of the first half wave, common practice; quick trip from 3 (curve B), 5 (C) or 10 times (D) the rating: IEC 60898-1.",
        instead: "Feed it from another circuit, start one after the other, or ask an electrician for a breaker that lets more pass: curve C or D of IEC breakers, another kind in North America.",
        reads: LOADS,
        decided_by: None,
        check: inrush,
        remedies: soften,
        example: Example {
            given: &[
                ("site", "site-230v-10a"),
                ("extractor", "extractor-chip-750w"),
                ("extractor_circuit", "first"),
            ],
            choice: "breaker_curve",
            fires: "curve-b",
            quiet: "curve-c",
        },
    },
    Rule {
        id: super::NO_SECOND_CIRCUIT,
        title: "Second circuit that is not there",
        severities: &[Severity::Fault],
        step: Step::Control,
        watches: "A load on the second circuit at a site that has only one within reach.",
        because: "Another socket on the same breaker carries nothing more.",
        from: "What you said of the second circuit, else the site's own data.",
        instead: "Feed everything from the first circuit, have a second one laid, or pick a site with two.",
        reads: &[Fact::Mains, Fact::Site],
        decided_by: Some(&[
            "spindle_circuit",
            "extractor_circuit",
            "motor_circuit",
            "controller_circuit",
            "computer_circuit",
            "computer",
            "cooler_circuit",
            "cooler",
            "coolant_circuit",
            "compressor_circuit",
            "spindle",
        ]),
        check: no_second,
        remedies: all_on_first,
        example: Example {
            given: &[("site", "site-230v-10a")],
            choice: "extractor_circuit",
            fires: "second",
            quiet: "first",
        },
    },
];

fn hungriest(circuit: &Circuit) -> Option<&CircuitLoad> {
    let full = |load: &CircuitLoad| units::a::from(load.current.full);
    circuit
        .loads
        .iter()
        .max_by(|a, b| full(a).total_cmp(&full(b)))
}

fn overloaded(facts: &Facts, report: &mut Report) {
    for circuit in &facts.machine.electrics.circuits {
        let (full, allowed) = (circuit.full(), circuit.allowed);
        if full > allowed {
            let [full, allowed] = say::currents(full, allowed);
            let most = hungriest(circuit);
            let most = most.map(|load| {
                format!(
                    "; the {} takes {}",
                    load.name.title(),
                    say::amperes(load.current.full)
                )
            });
            report.say(
                Severity::Fault,
                format!(
                    "{}: {full} with all on, {allowed} may flow for hours behind its {} breaker{}",
                    circuit.which.title(),
                    say::amperes(circuit.breaker),
                    most.unwrap_or_default()
                ),
            );
        }
    }
}

/// Ways to take load off a circuit, the mildest first.
fn relieve(facts: &Facts, _: Option<Axis>) -> Remedies {
    let elsewhere = match facts.picked.has_second_circuit() {
        true => other_circuits(facts),
        false => Vec::new(),
    };
    let (caps, extractors) = (less_power(facts), each_option(facts, "extractor"));
    let both = together(&extractors, &caps);
    let power = facts.picked.spindle.power;
    in_turn([
        elsewhere,
        set(facts, "line_choke", "yes"),
        caps,
        set(facts, "coolant", "none"),
        inverter::other_inverter(facts, None),
        extractors,
        both,
        other_spindles(facts, |spindle| spindle.power < power),
    ])
}

/// Loads hung on the other circuit: each by itself, the hungriest first, then spindle and
/// extractor together.
fn other_circuits(facts: &Facts) -> Remedies {
    let circuits = facts.machine.electrics.circuits.iter();
    let mut loads: Vec<&CircuitLoad> = circuits.flat_map(|circuit| &circuit.loads).collect();
    loads
        .order_by(|a, b| units::a::from(b.current.full).total_cmp(&units::a::from(a.current.full)));
    let mut found: Remedies = loads.iter().map(|load| moved(facts, load.name)).collect();
    let mut both = moved(facts, Consumer::Spindle);
    both.extend(moved(facts, Consumer::Extractor));
    found.push(both);
    found
}

/// A load hung on the other circuit.
fn moved(facts: &Facts, name: Consumer) -> Vec<Edit> {
    let other = match circuit_of(facts.picked, name) {
        OnCircuit::First => OnCircuit::Second,
        OnCircuit::Second => OnCircuit::First,
    };
    super::edit(facts, circuit_choice(name), other.id())
}

/// Lower power caps, step by step.
pub(super) fn less_power(facts: &Facts) -> Remedies {
    let cap = units::percent::from(facts.picked.build.spindle.power_cap);
    let caps = (1..20).map(|steps| cap - 5.0 * f64::from(steps));
    caps.take_while(|cap| *cap >= LEAST_CAP)
        .flat_map(|cap| number(facts, "power_cap_percent", cap, false))
        .collect()
}

fn for_hours(facts: &Facts, report: &mut Report) {
    let hours = facts.picked.build.area.hours_a_day;
    if hours < continuous() {
        return;
    }
    for circuit in &facts.machine.electrics.circuits {
        let power: Power = circuit.typical() * circuit.volts;
        let ask_above = facts.picked.site.ask_above;
        if power > ask_above {
            report.say(
                Severity::Hint,
                format!(
                    "{}: {} in usual work for {} h a day; above {} have plug and wiring looked at",
                    circuit.which.title(),
                    say::watts(power),
                    say::at_most(units::hour::from(hours), 1),
                    say::watts(ask_above)
                ),
            );
        }
    }
}

fn inrush(facts: &Facts, report: &mut Report) {
    let curve = facts.picked.build.control.curve;
    for circuit in &facts.machine.electrics.circuits {
        let starting = circuit.starting;
        if starting.current <= circuit.trip {
            continue;
        }
        let [flows, trip] = say::currents(starting.current, circuit.trip);
        let when = match starting.what {
            Some(name) => format!("while the {} starts", name.title()),
            None => "at the main switch".to_owned(),
        };
        report.say(
            Severity::Caution,
            format!(
                "{}: {flows} {when}, a {} breaker of {} may trip from {trip}",
                circuit.which.title(),
                curve.title(),
                say::amperes(circuit.breaker),
            ),
        );
    }
}

fn soften(facts: &Facts, _: Option<Axis>) -> Remedies {
    let mut found = Vec::new();
    if facts.picked.has_second_circuit() {
        let starting = facts.machine.electrics.circuits.iter();
        let starting = starting.filter(|circuit| circuit.starting.current > circuit.trip);
        found.extend(starting.filter_map(|circuit| Some(moved(facts, circuit.starting.what?))));
        found.extend(other_circuits(facts));
    }
    found.extend(set(facts, "breaker_curve", "curve-c"));
    found.extend(each_option(facts, "extractor"));
    found.extend(set(facts, "breaker_curve", "curve-d"));
    found
}

fn no_second(facts: &Facts, report: &mut Report) {
    if facts.picked.has_second_circuit() {
        return;
    }
    let circuits = &facts.machine.electrics.circuits;
    if let Some(second) = circuits
        .iter()
        .find(|circuit| circuit.which == OnCircuit::Second)
    {
        let names: Vec<&str> = second.loads.iter().map(|load| load.name.title()).collect();
        report.say(
            Severity::Fault,
            format!(
                "{} on a second circuit, and there is only one within reach",
                say::list(&names)
            ),
        );
    }
}

fn all_on_first(facts: &Facts, _: Option<Axis>) -> Remedies {
    let mut all: Vec<Edit> = Vec::new();
    for &name in Consumer::ALL {
        if circuit_of(facts.picked, name) == OnCircuit::Second {
            let choice = circuit_choice(name);
            if all.iter().all(|edit| edit.choice.id != choice) {
                all.extend(super::edit(facts, choice, OnCircuit::First.id()));
            }
        }
    }
    let mut found = vec![all];
    found.extend(set(facts, "second_circuit", SecondCircuit::Laid.id()));
    if facts.picked.build.area.second_circuit != SecondCircuit::Missing {
        found.extend(each_option(facts, "site"));
    }
    found
}
