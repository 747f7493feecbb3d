//! The question about the wall socket, and how all loads are hung on one circuit.

use super::{Bench, Offer, Question};
use crate::assessment::Assessment;
use crate::build::choices::control::OnCircuit;
use crate::build::{Build, Value, choices};
use crate::catalogue::Step;
use crate::machine::loads::{Consumer, circuit_choice};
use crate::words::Words as _;

pub(super) const QUESTIONS: &[Question] = &[Question {
    id: "circuits",
    step: Step::Control,
    title: "One circuit or two?",
    why: "A second circuit carries as much again, if it really hangs on another breaker: ask a licensed electrician where you are not sure.",
    ask: circuits,
}];

/// Hangs every load on one circuit.
pub(in crate::explore) fn all_on(build: &mut Build, circuit: OnCircuit) {
    for &load in Consumer::ALL {
        if let Ok(choice) = choices::find(circuit_choice(load)) {
            choice.put(build, &Value::Word(circuit.id()));
        }
    }
}

fn circuits(bench: &Bench) -> Result<Vec<Offer>, String> {
    let one = Offer::one(bench, "all on one circuit", |build| {
        all_on(build, OnCircuit::First);
    });
    let dust = Offer::one(bench, "extractor alone on a second", |build| {
        all_on(build, OnCircuit::First);
        build.control.extractor_circuit = OnCircuit::Second;
    });
    let spindle = Offer::one(bench, "spindle alone on a second", |build| {
        all_on(build, OnCircuit::First);
        build.control.spindle_circuit = OnCircuit::Second;
        build.control.cooler_circuit = OnCircuit::Second;
    });
    let offers = [one, dust, spindle].map(Offer::meant_so);
    // Loads that this machine has not may hang anywhere: the circuits tell what is the same.
    let now = loads(bench.before);
    let differs = |offer: &Offer| {
        let trial = offer
            .builds
            .first()
            .cloned()
            .map(|build| bench.trial(build));
        matches!(trial, Some(Ok(trial)) if loads(&trial.after) != now)
    };
    Ok(offers.into_iter().filter(differs).collect())
}

/// What hangs on which circuit.
fn loads(assessment: &Assessment) -> Vec<Vec<Consumer>> {
    let each = assessment.machine.electrics.circuits.iter();
    each.map(|circuit| circuit.loads.iter().map(|load| load.name).collect())
        .collect()
}
