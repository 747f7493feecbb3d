//! How the figures of one circuit came about.

use super::{CONTINUOUS_SHARE, Circuit, path, quick_trip, with_main_switch};
use crate::build::Picked;
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::loads::{CircuitLoad, State};
use crate::units::{self, Amount};
use crate::words::Words;

/// Notes every figure of a circuit itself.
pub(super) fn note(picked: &Picked, circuit: &Circuit, notes: &mut impl Recorder) {
    if !notes.listens() {
        return;
    }
    note_limits(picked, circuit, notes);
    note_sums(circuit, notes);
    note_leakage(circuit, notes);
    note_starting(circuit, notes);
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
    note_trip(picked, circuit, notes);
}

fn note_trip(picked: &Picked, circuit: &Circuit, notes: &mut impl Recorder) {
    let site = picked.site;
    let of_site = || Origin::Site(site.id.to_string());
    let path = |key| path(circuit.which, key);
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
    let sums = [
        (
            State::Idle,
            "idle_a",
            "idle_a",
            "current with everything on and nothing cut",
        ),
        (
            State::Typical,
            "typical_a",
            "typical_a",
            "current in usual work",
        ),
        (
            State::Full,
            "current_a",
            "full_a",
            "current with everything on at its most",
        ),
    ];
    let turns = circuit.loads.iter().any(|load| !load.at_once);
    for (state, key, of_load, title) in sums {
        let (sum, flows) = (circuit.modelled(state), circuit.current(state));
        notes.note(|| {
            let each = circuit.loads.iter().map(|load| {
                let (symbol, title) = match load.at_once {
                    true => ("I_i", load.name.title().to_owned()),
                    false => ("I_j", format!("{}, takes turns", load.name.title())),
                };
                let figure = format!("loads.{}.{of_load}", load.name.id());
                let origin = Origin::figure(path(circuit.which, &figure));
                Input::new(symbol, title, units::a::amount(load.current[state]), origin)
            });
            let derivation = Derivation::of(path(circuit.which, key), title, units::a::amount(flows));
            if let Some(measured) = circuit.measured.filter(|_| flows != sum || state == State::Full) {
                return derivation
                    .by("the most that you measured at the plug; the computed currents, I_i at once and I_j in turn, are there to compare", "I = I_m")
                    .with("I_m", "measured", units::a::amount(measured), Origin::Measured("measured_current_a".to_owned()))
                    .with_each(each)
                    .instead_of(units::a::amount(sum))
                    .from("your own measurement", "It holds for the hardest cut that you measured.");
            }
            derivation
                .by(
                    WORDS,
                    match turns {
                        true => "I = Σ I_i + max I_j",
                        false => "I = Σ I_i",
                    },
                )
                .with_each(each)
                .from("common practice", "effective values added as if in phase: the true sum of rectifiers and motors is a little less")
        });
    }
}

fn note_leakage(circuit: &Circuit, notes: &mut impl Recorder) {
    notes.note(|| {
        let each = circuit.loads.iter().map(|load| {
            let figure = format!("loads.{}.leakage_ma", load.name.id());
            let origin = Origin::figure(path(circuit.which, &figure));
            Input::new("I_i", load.name.title(), units::ma::amount(load.leakage), origin)
        });
        Derivation::of(path(circuit.which, "leakage_ma"), "standing leakage to earth", units::ma::amount(circuit.leakage()))
            .by("what each load leaks, added up", "I = Σ I_i")
            .with_each(each)
            .from("data sheets; IEC 60364-5-53 compares it with 30 % of the residual-current device's rating", "long shielded motor cables and long house wiring leak besides")
    });
}

fn note_starting(circuit: &Circuit, notes: &mut impl Recorder) {
    let starting = circuit.starting;
    // Of those that take turns only one runs: where it is the one that starts, the others rest.
    let rests = circuit
        .loads
        .iter()
        .any(|load| Some(load.name) == starting.what && !load.at_once);
    let runs = |load: &&CircuitLoad| load.at_once || !rests || Some(load.name) == starting.what;
    let turns = !rests && circuit.loads.iter().any(|load| !load.at_once);
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
                .by("everything behind the main switch charges its capacitors in the same half wave", "I = Σ I_i")
                .with_each(circuit.loads.iter().filter(|load| with_main_switch(load)).map(|load| {
                    let inrush = units::a::amount(load.inrush);
                    Input::new("I_i", load.name.title(), inrush, Origin::figure(inrush_path(load)))
                })),
            Some(name) => figure
                .by("one load starts while all others run at their most; of those that take turns the largest counts", match turns {
                    true => "I = I_start + Σ I_i + max I_j",
                    false => "I = I_start + Σ I_i",
                })
                .with_each(circuit.loads.iter().filter(runs).map(|load| {
                    let title = load.name.title();
                    let full = format!("loads.{}.full_a", load.name.id());
                    let running = (load.current.full, path(circuit.which, &full));
                    let (symbol, title, (current, figure)) = match load.name == name {
                        true if load.inrush > load.current.full => {
                            ("I_start", format!("{title}, starting"), (load.inrush, inrush_path(load)))
                        }
                        true => ("I_start", format!("{title}, which takes less to start than to run"), running),
                        false if load.at_once => ("I_i", title.to_owned(), running),
                        false => ("I_j", title.to_owned(), running),
                    };
                    Input::new(symbol, title, units::a::amount(current), Origin::figure(figure))
                })),
        };
        figure.from(
            "common practice; compared with the quick trip of IEC 60898-1",
            "effective value of the first half wave; the true peak depends on the moment of switching and on the house wiring",
        )
    });
}
