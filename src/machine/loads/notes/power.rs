//! What the power of one load is made of.

use super::super::{CircuitLoad, Consumer, State, spindle::SpindleDraw};
use super::input;
use crate::build::Picked;
use crate::explain::{Input, Origin};
use crate::machine::motor_draw::{MotorDraw, SERVO_AT_REST, TOGETHER};
use crate::units::{self, Amount};

/// What a load's power is made of: words, formula of the current, inputs.
pub(super) fn power(
    picked: &Picked,
    motors: &MotorDraw,
    load: &CircuitLoad,
    state: State,
) -> (&'static str, &'static str, Vec<Input>) {
    match load.name {
        Consumer::Spindle => spindle_power(picked, state),
        Consumer::MotorSupply => motor_power(picked, motors, state),
        Consumer::ServoDrivers => servo_power(motors, state),
        _ => (
            "the power that the part's data name",
            "I = P / (V · λ), P = Σ P_i",
            parts(picked, load),
        ),
    }
}

/// Servos whose drivers hang on the mains.
fn servo_power(motors: &MotorDraw, state: State) -> (&'static str, &'static str, Vec<Input>) {
    let (share, title) = match state {
        State::Idle => (
            SERVO_AT_REST / TOGETHER,
            "share at rest: a twentieth of all is a tenth of that half",
        ),
        State::Typical => (TOGETHER, "share in usual work"),
        State::Full => (1.0, "all of it"),
    };
    let at_once = "half of the rated power of the servos, over the efficiency of 0.85";
    let practice = Origin::Constant("common practice, from memory");
    (
        "rated power of the servos over their efficiency; half of it flows at once, half of that in usual work, a twentieth at rest",
        "I = P / (V · λ), P = s · P_m",
        vec![
            input("P_m", at_once, units::w::amount(motors.mains), Origin::Here),
            input("s", title, Amount::plain(share), practice),
        ],
    )
}

fn spindle_power(picked: &Picked, state: State) -> (&'static str, &'static str, Vec<Input>) {
    let spindle = picked.spindle;
    let draw = SpindleDraw::of(picked);
    let part = || Origin::Part(spindle.id.to_string());
    let (share, origin) = match state {
        State::Idle => (draw.share.idle, Origin::Constant("runs free")),
        State::Typical => (
            draw.share.typical,
            Origin::Constant("usual routing, common practice; never above the power cap"),
        ),
        State::Full => (draw.share.full, Origin::choice("power_cap_percent")),
    };
    let mut inputs = vec![
        input(
            "P₂",
            "rated shaft power",
            units::w::amount(spindle.power),
            part(),
        ),
        input(
            "η",
            "efficiency of the motor at full load",
            Amount::plain(units::share::from(spindle.efficiency)),
            part(),
        ),
        input(
            "P₀",
            "power running free",
            units::w::amount(spindle.no_load),
            part(),
        ),
        input(
            "s",
            "share of the rated power",
            Amount::plain(share),
            origin,
        ),
    ];
    match picked.inverter() {
        Some(vfd) => {
            let efficiency = Amount::plain(units::share::from(vfd.efficiency));
            inputs.push(input(
                "η_i",
                "efficiency of the inverter",
                efficiency,
                Origin::part(vfd),
            ));
            (
                "power running free, and from there in proportion to full load, which is shaft power over efficiency; through the inverter",
                "I = P / (V · λ),  P = (P₀ + (P₂/η - P₀) · s) / η_i",
                inputs,
            )
        }
        None => (
            "power running free, and from there in proportion to full load, which is shaft power over efficiency",
            "I = P / (V · λ),  P = P₀ + (P₂/η - P₀) · s",
            inputs,
        ),
    }
}

fn motor_power(
    picked: &Picked,
    motors: &MotorDraw,
    state: State,
) -> (&'static str, &'static str, Vec<Input>) {
    let supply = picked.supply;
    let efficiency = Amount::plain(units::share::from(supply.efficiency));
    let efficiency = input(
        "η",
        "efficiency of the supply",
        efficiency,
        Origin::part(supply),
    );
    if state == State::Idle {
        let title =
            "copper loss with the current cut to half, a twentieth of a DC servo's rated power";
        let at_rest = units::w::amount(motors.at_rest);
        return (
            "what the motors take at rest, over the supply's efficiency",
            "I = P / (V · λ), P = P_r / η",
            vec![input("P_r", title, at_rest, Origin::Here), efficiency],
        );
    }
    let needed = Origin::figure("power.supplies.motors.needed_a");
    let mut inputs = vec![
        input(
            "V₂",
            "supply voltage",
            units::v::amount(supply.volts),
            Origin::part(supply),
        ),
        input(
            "I₂",
            "current that the motors need",
            units::a::amount(motors.needed),
            needed,
        ),
        efficiency,
    ];
    if state == State::Full {
        return (
            "the current that the motors need, times the supply's voltage, over its efficiency",
            "I = P / (V · λ), P = V₂ · I₂ / η",
            inputs,
        );
    }
    let practice = Origin::Constant("common practice: 30 to 50 % flows on average");
    inputs.push(input(
        "½",
        "share in usual work",
        Amount::plain(TOGETHER),
        practice,
    ));
    (
        "half of the current that the motors need, times the supply's voltage, over its efficiency",
        "I = P / (V · λ), P = ½ · V₂ · I₂ / η",
        inputs,
    )
}

/// The parts whose power is added up.
fn parts(picked: &Picked, load: &CircuitLoad) -> Vec<Input> {
    let one = |id: &crate::catalogue::Id, title: &str, power| {
        input(
            "P_i",
            title,
            units::w::amount(power),
            Origin::Part(id.to_string()),
        )
    };
    let mut found = Vec::new();
    match load.name {
        Consumer::Controller => {
            found.push(one(
                &picked.controller.id,
                "controller",
                picked.controller.power,
            ));
            found.extend(picked.fan.map(|fan| one(&fan.id, "fan", fan.power)));
        }
        Consumer::Computer => found.extend(
            picked
                .computer
                .map(|part| one(&part.id, "computer", part.power)),
        ),
        Consumer::Cooler => found.extend(
            picked
                .cooler
                .map(|part| one(&part.id, "cooler", part.power)),
        ),
        Consumer::Coolant => found.extend(
            picked
                .coolant
                .map(|part| one(&part.id, "coolant set", part.power)),
        ),
        Consumer::Extractor => found.extend(
            picked
                .extractor
                .map(|part| one(&part.id, "extractor", part.power)),
        ),
        Consumer::Compressor => found.push(input(
            "P_i",
            "compressor of a tool changer",
            units::w::amount(load.power.full),
            Origin::Constant("common practice"),
        )),
        Consumer::Spindle | Consumer::MotorSupply | Consumer::ServoDrivers => {}
    }
    found
}
