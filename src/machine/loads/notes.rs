//! How the figures of one load came about.

mod power;

use super::{CircuitLoad, Consumer, MOTOR_POWER_FACTOR, Start, State, inrush::Charge, spindle};
use crate::build::Picked;
use crate::build::choices::control::OnCircuit;
use crate::catalogue::motor::FeedKind;
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::circuit;
use crate::machine::motor_draw::MotorDraw;
use crate::units::{self, Amount};
use crate::words::Words;

/// Notes currents, inrush and leakage of one load.
pub(in crate::machine) fn note(
    picked: &Picked,
    motors: &MotorDraw,
    which: OnCircuit,
    load: &CircuitLoad,
    notes: &mut impl Recorder,
) {
    for state in State::EACH {
        notes.note(|| current_of(picked, motors, which, load, state));
    }
    notes.note(|| inrush(picked, which, load));
    notes.note(|| leakage(picked, which, load));
}

fn path(which: OnCircuit, load: &CircuitLoad, key: &str) -> String {
    circuit::path(which, &format!("loads.{}.{key}", load.name.id()))
}

fn input(symbol: &'static str, title: &str, value: Amount, origin: Origin) -> Input {
    Input::new(symbol, title, value, origin)
}

fn current_of(
    picked: &Picked,
    motors: &MotorDraw,
    which: OnCircuit,
    load: &CircuitLoad,
    state: State,
) -> Derivation {
    let (key, when) = match state {
        State::Idle => ("idle_a", "with nothing cut"),
        State::Typical => ("typical_a", "in usual work"),
        State::Full => ("full_a", "at most"),
    };
    let title = format!("current of the {} {when}", load.name.title());
    let (words, formula, inputs) = power::power(picked, motors, load, state);
    Derivation::of(path(which, load, key), title, units::a::amount(load.current[state]))
        .by(format!("{words}; over voltage and power factor"), formula)
        .with_each(inputs)
        .with("P", "power at the plug", units::w::amount(load.power[state]), Origin::Here)
        .with("V", "mains voltage", units::v::amount(picked.site.volts), Origin::Site(picked.site.id.to_string()))
        .with("λ", "power factor", Amount::plain(units::share::from(load.power_factor)), factor_origin(picked, load))
        .from(
            "I = P / (V · λ); power factors of rectifiers 0.55 to 0.7, near 1 with correction: common practice and data sheets",
            "the power factor of a rectifier falls at part load: currents at idle can be higher",
        )
}

fn factor_origin(picked: &Picked, load: &CircuitLoad) -> Origin {
    let part = match load.name {
        Consumer::MotorSupply => Some(&picked.supply.id),
        Consumer::Extractor => picked.extractor.map(|part| &part.id),
        Consumer::Spindle => picked.inverter().map(|part| &part.id),
        _ => None,
    };
    match part {
        Some(id) => Origin::Part(id.to_string()),
        None if units::share::from(load.power_factor) == MOTOR_POWER_FACTOR => {
            Origin::Constant("common practice: small motors")
        }
        None => Origin::Constant("common practice"),
    }
}

fn inrush(picked: &Picked, which: OnCircuit, load: &CircuitLoad) -> Derivation {
    let title = format!(
        "current of the {} at the moment of starting",
        load.name.title()
    );
    let figure = Derivation::of(
        path(which, load, "inrush_a"),
        title,
        units::a::amount(load.inrush),
    );
    let part = |id: Option<&crate::catalogue::Id>| match id {
        Some(id) => Origin::Part(id.to_string()),
        None => Origin::Constant("common practice, from memory"),
    };
    match load.start {
        Start::Motor(times) => {
            let id = picked.extractor.map(|part| &part.id);
            figure
                .by(
                    "a multiple of the running current, until the motor turns",
                    "I = m · I_run",
                )
                .with(
                    "m",
                    "multiple",
                    Amount::plain(units::times::from(times)),
                    part(id.filter(|_| load.name == Consumer::Extractor)),
                )
                .with(
                    "I_run",
                    "running current at most",
                    units::a::amount(load.current.full),
                    Origin::figure(path(which, load, "full_a")),
                )
                .from(
                    "common practice; five to eight times for motors switched on directly",
                    "soft starters and large flywheels change it",
                )
        }
        Start::Charge(charge) => {
            let id = match load.name {
                Consumer::MotorSupply => Some(&picked.supply.id),
                Consumer::Spindle => picked.inverter().map(|vfd| &vfd.id),
                _ => None,
            };
            figure
                .by("the pulse that charges the capacitors, half a sine of its peak and length, as effective value over the half wave of the mains", "I = n · Î · (V / 230 V) · √(t · f)")
                .with("n", "how many charge at once", Amount::plain(charge.count()), Origin::Here)
                .with("Î", "peak at 230 V, cold", units::a::amount(charge.peak()), part(id))
                .with("V", "mains voltage", units::v::amount(picked.site.volts), Origin::Site(picked.site.id.to_string()))
                .with("230 V", "voltage of the printed peak", Amount::of(Charge::AT_VOLTS, "V"), Origin::Constant("usual on data sheets"))
                .with("t", "length of the pulse", units::s::amount(charge.length()), Origin::Constant("common practice, from memory"))
                .with("f", "mains frequency", units::hz::amount(picked.site.frequency), Origin::Site(picked.site.id.to_string()))
                .from("effective value of a half sine; peak typical of data sheets, from memory", "switched on again while warm, a supply takes much more")
        }
    }
}

/// What the drivers of one kind of feed leak.
fn of_drivers(picked: &Picked, feed: FeedKind) -> Input {
    let leaks = units::ma::amount(super::leakage(picked, feed));
    input("I_i", "drivers, all together", leaks, Origin::Here)
}

fn leakage(picked: &Picked, which: OnCircuit, load: &CircuitLoad) -> Derivation {
    let mut inputs = Vec::new();
    match load.name {
        Consumer::Spindle => {
            inputs.extend(picked.inverter().map(|vfd| {
                input(
                    "I_i",
                    "inverter",
                    units::ma::amount(vfd.leakage),
                    Origin::part(vfd),
                )
            }));
            inputs.push(input(
                "I_i",
                "mains filter",
                units::ma::amount(spindle::filter_leakage(picked)),
                Origin::choice("mains_filter"),
            ));
        }
        Consumer::MotorSupply => {
            let count = f64::from(picked.build.drive.supply_count);
            inputs.push(input(
                "I_i",
                "supplies",
                units::ma::amount(picked.supply.leakage * count),
                Origin::part(picked.supply),
            ));
            inputs.push(of_drivers(picked, FeedKind::Dc));
        }
        Consumer::ServoDrivers => inputs.push(of_drivers(picked, FeedKind::Mains)),
        _ => {}
    }
    let title = format!("standing leakage of the {}", load.name.title());
    Derivation::of(
        path(which, load, "leakage_ma"),
        title,
        units::ma::amount(load.leakage),
    )
    .by(
        "what the data of its parts name, added up; the others leak nothing to speak of",
        "I = Σ I_i",
    )
    .with_each(inputs)
    .from(
        "data sheets",
        "with the motor cable's length an inverter leaks more",
    )
}
