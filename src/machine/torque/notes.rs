//! How the torque of a motor at a speed comes about: shared by every figure that rests on it.
//!
//! What does not hang on the speed (torque constant, plateau, voltage, hot resistance) is a
//! figure of its own, so that each derivation shows one step and leads to the next.

use super::TorqueCurve;
use crate::build::{Axis, Picked};
use crate::catalogue::Motor;
use crate::catalogue::motor::Stepper;
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::axis_path;
use crate::machine::feed::set_current;
use crate::machine::servo::{PEAK_SHARE, ServoCurve};
use crate::machine::stepper::{HOT_COPPER, ROTOR_TEETH, SUPPLY_SAG, StepperCurve};
use crate::units::{self, Amount, AngularVelocity};
use crate::words::Words as _;
use std::f64::consts::{SQRT_2, TAU};

/// A figure of a motor and what it is made of, as formula: the torque at a speed.
macro_rules! stepper {
    ($head:literal) => {
        concat!(
            $head,
            "min(T_p, f₂ T_v), T_v = Kt V/Z - Kt² ω R/Z², Z = √(R² + (50 ω L)²), ω = 2π n"
        )
    };
}
macro_rules! of_servo {
    ($head:literal) => {
        concat!($head, " min(1, n_r/n)")
    };
}

/// What a torque is worked out for; each has its formula for steppers and for servos.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::machine) enum Asked {
    /// Where the motor falls behind.
    PullOut,
    /// What may be used.
    Usable,
    /// The speed to which what may be used holds.
    Limit,
    /// The acceleration that what may be used leaves.
    Acceleration,
    /// The thrust at which the motor falls behind.
    GreatestThrust,
    /// The thrust that may be used for ever.
    LastingThrust,
}

/// The formula of a figure that rests on the torque.
pub(in crate::machine) fn formula(asked: Asked, curve: &TorqueCurve) -> &'static str {
    match (asked, curve) {
        (Asked::PullOut, TorqueCurve::Stepper(_)) => stepper!("T = "),
        (Asked::PullOut, TorqueCurve::Servo(_)) => of_servo!("T = T_m"),
        (Asked::Usable, TorqueCurve::Stepper(_)) => stepper!("T = s "),
        (Asked::Usable, TorqueCurve::Servo(_)) => of_servo!("T = s T_m"),
        (Asked::Limit, TorqueCurve::Stepper(_)) => stepper!("v = n P, T = s "),
        (Asked::Limit, TorqueCurve::Servo(_)) => of_servo!("v = n P, T = s T_m"),
        (Asked::Acceleration, TorqueCurve::Stepper(_)) => {
            stepper!("a = (T - (F + W) r/η - M)/(m r/η + J/r), T = s ")
        }
        (Asked::Acceleration, TorqueCurve::Servo(_)) => {
            of_servo!("a = (T - (F + W) r/η - M)/(m r/η + J/r), T = s T_m")
        }
        (Asked::LastingThrust, TorqueCurve::Stepper(_)) => {
            stepper!("F = (T - T₀) η/(r q), not below zero; T = s ")
        }
        (Asked::GreatestThrust, TorqueCurve::Stepper(_)) => {
            stepper!("F = (T - T₀) η/(r q), not below zero; T = ")
        }
        (Asked::LastingThrust | Asked::GreatestThrust, TorqueCurve::Servo(_)) => {
            of_servo!("F = (T - T₀) η/(r q), not below zero; T = T_m")
        }
    }
}

/// Where the torque comes from.
pub(in crate::machine) fn source(curve: &TorqueCurve) -> &'static str {
    match curve {
        TorqueCurve::Stepper(_) => {
            "voltage-fed synchronous model of hybrid steppers: handbook of stepping motors"
        }
        TorqueCurve::Servo(_) => "catalogue form of servo envelopes",
    }
}

/// Where the model of the torque ends.
pub(in crate::machine) fn limits(curve: &TorqueCurve) -> &'static str {
    match curve {
        TorqueCurve::Stepper(_) => {
            "Published curves scatter by a fifth about it, those of NEMA 34 more. Resonance is not in it."
        }
        TorqueCurve::Servo(_) => {
            "The peak holds for a second or two at a time; the mean over a duty is a figure of its own."
        }
    }
}

/// What goes into the torque at a speed, intermediate results included.
pub(in crate::machine) fn inputs(
    picked: &Picked,
    axis: Axis,
    curve: &TorqueCurve,
    turning: AngularVelocity,
    asked: Asked,
) -> Vec<Input> {
    match (curve, picked.axes[axis].motor) {
        (TorqueCurve::Stepper(curve), Motor::Stepper(motor)) => {
            of_stepper(axis, curve, motor, turning, asked)
        }
        (TorqueCurve::Servo(curve), motor) => of_servo(curve, &Origin::part(motor.part()), asked),
        (TorqueCurve::Stepper(_), Motor::Servo(_)) => Vec::new(),
    }
}

fn own(axis: Axis, figure: &str) -> String {
    axis_path(axis, &format!("motor.{figure}"))
}

fn of_stepper(
    axis: Axis,
    curve: &StepperCurve,
    motor: &Stepper,
    turning: AngularVelocity,
    asked: Asked,
) -> Vec<Input> {
    let figure = |name: &str| Origin::figure(own(axis, name));
    let (_, fit) = curve.fits();
    let fitted = Origin::Constant("published torque curves of NEMA 17, 23 and 34 motors");
    let resistance = motor.resistance * HOT_COPPER;
    let omega = units::rpm::from(turning) * TAU / 60.0;
    let reactance = ROTOR_TEETH * omega * units::mh::from(motor.inductance) / 1e3;
    let impedance = units::ohm::of(units::ohm::from(resistance).hypot(reactance));
    let share = match motor.closed_loop {
        true => Origin::choice("closed_loop_share_percent"),
        false => Origin::choice("working_share_percent"),
    };
    let mut found = Vec::with_capacity(10);
    if !matches!(asked, Asked::PullOut | Asked::GreatestThrust) {
        let used = units::percent::amount(curve.working_share());
        found.push(Input::new("s", "share of the torque used", used, share));
    }
    let constant = Amount::of(units::nm::from(curve.torque_constant()), "Nm/A");
    let plateau = curve.fitted_plateau();
    found.extend([
        Input::new(
            "T_p",
            "plateau: torque that the current allows",
            units::nm::amount(plateau),
            figure("plateau_nm"),
        ),
        Input::new(
            "f₂",
            "fit to published curves, where the voltage binds",
            units::times::amount(fit),
            fitted,
        ),
        Input::new(
            "Kt",
            "torque constant",
            constant,
            figure("torque_constant_nm_per_a"),
        ),
        Input::new(
            "V",
            "voltage under load",
            units::v::amount(curve.volts()),
            figure("fed_v"),
        ),
        Input::new(
            "R",
            "resistance of a winding, hot",
            units::ohm::amount(resistance),
            figure("hot_ohm"),
        ),
        Input::new(
            "L",
            "inductance of a winding",
            units::mh::amount(motor.inductance),
            Origin::part(motor),
        ),
        Input::new(
            "50",
            "rotor teeth",
            Amount::plain(ROTOR_TEETH),
            Origin::Constant("1.8° hybrid steppers"),
        ),
        Input::new(
            "Z",
            "impedance of a winding at this speed",
            units::ohm::amount(impedance),
            Origin::Here,
        ),
        Input::new(
            "T_v",
            "torque that the voltage allows, before the fit",
            units::nm::amount(curve.voltage_bound(turning)),
            Origin::Here,
        ),
    ]);
    found
}

fn of_servo(curve: &ServoCurve, part: &Origin, asked: Asked) -> Vec<Input> {
    let still = units::rpm::of(0.0);
    let (title, most) = match asked {
        Asked::LastingThrust => ("rated torque", curve.lasting(still)),
        _ => ("peak torque", curve.short(still)),
    };
    let rated = units::rpm::amount(curve.rated_speed());
    let mut found = vec![
        Input::new("T_m", title, units::nm::amount(most), part.clone()),
        Input::new("n_r", "rated speed", rated, part.clone()),
    ];
    if matches!(asked, Asked::Usable | Asked::Limit | Asked::Acceleration) {
        let practice = Origin::Constant("common practice");
        let share = Amount::plain(PEAK_SHARE);
        found.push(Input::new(
            "s",
            "share of the peak planned with",
            share,
            practice,
        ));
    }
    found
}

/// Tells of what the torque curve of an axis rests on at every speed.
pub(in crate::machine) fn note(
    picked: &Picked,
    axis: Axis,
    curve: &TorqueCurve,
    notes: &mut impl Recorder,
) {
    let (TorqueCurve::Stepper(curve), Motor::Stepper(motor)) = (curve, picked.axes[axis].motor)
    else {
        return;
    };
    notes.note(|| constant(axis, curve, motor));
    notes.note(|| plateau(picked, axis, curve));
    notes.note(|| {
        of(
            axis,
            "fed_v",
            "voltage that the driver has under load",
            units::v::amount(curve.volts()),
        )
        .by("the supply's voltage, less 5 % under load", "V = 0.95 U")
        .with(
            "U",
            "voltage of the supply",
            units::v::amount(picked.supply.volts),
            Origin::part(picked.supply),
        )
        .with(
            "0.95",
            "share left under load",
            Amount::plain(SUPPLY_SAG),
            Origin::Constant("common practice"),
        )
        .from(
            "common practice",
            "A supply near its greatest current sags more.",
        )
    });
    notes.note(|| {
        let hot = units::ohm::amount(motor.resistance * HOT_COPPER);
        of(axis, "hot_ohm", "resistance of a winding at 80 °C", hot)
            .by(
                "copper at 80 °C against 20 °C, 0.393 % for each kelvin",
                "R = 1.2358 R₀",
            )
            .with(
                "R₀",
                "resistance of a winding at 20 °C",
                units::ohm::amount(motor.resistance),
                Origin::part(motor),
            )
            .with(
                "1.2358",
                "1 + 0.00393 · 60",
                Amount::plain(HOT_COPPER),
                Origin::Constant("IEC 60028, temperature coefficient of copper"),
            )
            .from(
                "IEC 60028",
                "80 °C is what a stepper's windings reach in hours of work.",
            )
    });
}

/// Begins the derivation of a figure of an axis's motor.
fn of(axis: Axis, figure: &str, title: &str, amount: Amount) -> Derivation {
    let title = format!("{}: {title}", axis.title());
    Derivation::of(own(axis, figure), title, amount)
}

fn constant(axis: Axis, curve: &StepperCurve, motor: &Stepper) -> Derivation {
    let amount = Amount::of(units::nm::from(curve.torque_constant()), "Nm/A");
    of(
        axis,
        "torque_constant_nm_per_a",
        "torque constant of a phase",
        amount,
    )
    .by(
        "holding torque over √2 times the rated current: both phases hold together",
        "Kt = T_h/(√2 I_r)",
    )
    .with(
        "T_h",
        "holding torque",
        units::nm::amount(motor.holding),
        Origin::part(motor),
    )
    .with(
        "I_r",
        "rated current of a phase",
        units::a::amount(motor.current),
        Origin::part(motor),
    )
    .with(
        "√2",
        "two phases a quarter of a wave apart",
        Amount::plain(SQRT_2),
        Origin::Constant("mathematics"),
    )
    .from(
        source(&TorqueCurve::Stepper(*curve)),
        "Iron saturates: near the rated current the constant falls a little.",
    )
}

fn plateau(picked: &Picked, axis: Axis, curve: &StepperCurve) -> Derivation {
    let current = set_current(picked, axis);
    let (fit, _) = curve.fits();
    of(axis, "plateau_nm", "torque that the current allows, at low speed", units::nm::amount(curve.fitted_plateau()))
        .by("torque constant times the amplitude of the current as the driver is set; fitted to published curves", "T_p = f₁ Kt I")
        .with("f₁", "fit to published curves, where the current binds", units::times::amount(fit), Origin::Constant("published torque curves of NEMA 17, 23 and 34 motors"))
        .with("Kt", "torque constant", Amount::of(units::nm::from(curve.torque_constant()), "Nm/A"), Origin::figure(own(axis, "torque_constant_nm_per_a")))
        .with("I", "amplitude of the current", units::a::amount(current), Origin::figure(axis_path(axis, "settings.current_a")))
        .from(source(&TorqueCurve::Stepper(*curve)), limits(&TorqueCurve::Stepper(*curve)))
}
