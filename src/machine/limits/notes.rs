//! How each limit of an axis's speed comes about, for those who ask.

use super::{LimitName, Limited, PULSE_SHARE};
use crate::catalogue::{LinearDrive, Motor};
use crate::explain::{Derivation, Origin};
use crate::machine::drive::{COMMODITY_DN, WHIRL_SHARE, eigenvalue};
use crate::machine::measured::STALL_SHARE;
use crate::machine::section;
use crate::machine::servo::{PEAK_SHARE, ServoCurve};
use crate::machine::stepper::{HOT_COPPER, ROTOR_TEETH, StepperCurve};
use crate::machine::torque::TorqueCurve;
use crate::units::{self, Amount, AngularVelocity, Frequency, Length, Torque, Velocity};
use crate::words::Words;
use uom::si::ratio::ratio;

/// The path of a figure of an axis.
fn path(limited: &Limited, figure: &str) -> String {
    format!("axes.{}.{figure}", limited.axis.id())
}

/// Begins the derivation of a limit.
fn limit(limited: &Limited, name: LimitName, speed: Velocity) -> Derivation {
    let figure = format!("limits_m_per_min.{}", name.id());
    let title = format!("{}: speed limit by {}", limited.axis.title(), name.title());
    Derivation::of(
        path(limited, &figure),
        title,
        units::m_per_min::amount(speed),
    )
}

/// The travel of one turn of the motor, as an input.
fn a_turn(limited: &Limited, derivation: Derivation) -> Derivation {
    let travel = units::mm::amount(limited.drive.travel_a_turn);
    let part = Origin::part(limited.part.part());
    if limited.part.is_screw() {
        return derivation.with("P", "lead", travel, part);
    }
    let reduction = Amount::plain(limited.picked.build.drive.reduction.get::<ratio>());
    derivation
        .with("P", "travel for one turn of the motor", travel, part)
        .with(
            "i",
            "reduction within it",
            reduction,
            Origin::choice("reduction"),
        )
}

pub(super) fn whirl_speed(
    limited: &Limited,
    turning: AngularVelocity,
    root: Length,
    between: Length,
) -> Derivation {
    let ends = limited.picked.build.drive.ends[limited.axis];
    let title = format!(
        "{}: fastest turn before the screw whips",
        limited.axis.title()
    );
    let handbook = Origin::Constant("steel, handbooks of materials");
    let choice = Origin::choice(limited.axis.choice("ends"));
    let plan = Origin::Plan(limited.picked.frame.id.to_string());
    let lambda = Amount::plain(eigenvalue(ends).get::<ratio>());
    let modulus = units::gpa::amount(section::steel_modulus());
    let density = units::kg_per_m3::amount(section::steel_density());
    Derivation::of(path(limited, "whirl_rpm"), title, units::rpm::amount(turning))
        .by(
            "a share of the lowest bending frequency of the screw between its bearings, as a round steel bar",
            "n = 0.8 · 60 λ²/(2π) · (d/4) · √(E/ρ) / L²",
        )
        .with("λ", format!("eigenvalue of the ends: {}", ends.title()), lambda, choice)
        .with("d", "root diameter", units::mm::amount(root), Origin::part(limited.part.part()))
        .with("L", "distance of the bearings, by travel, nut and margins", units::mm::amount(between), plan)
        .with("E", "elastic modulus of steel", modulus, handbook.clone())
        .with("ρ", "density of steel", density, handbook)
        .with("0.8", "share that is used", Amount::plain(WHIRL_SHARE), Origin::Constant("published screw catalogues"))
        .from(
            "Euler-Bernoulli beam; 80 % as in published screw catalogues",
            "The nut is not counted as a support, and the ends are never as firm as their name: bent screws whip earlier.",
        )
}

pub(super) fn whirl(limited: &Limited, turning: AngularVelocity) -> Derivation {
    let speed = limited.drive.speed_at(turning);
    let derivation = limit(limited, LimitName::Whirl, speed)
        .by("fastest turn before the screw whips, times lead", "v = n P")
        .with(
            "n",
            "fastest turn",
            units::rpm::amount(turning),
            Origin::figure(path(limited, "whirl_rpm")),
        )
        .from("published screw catalogues", "As for the fastest turn.");
    a_turn(limited, derivation)
}

pub(super) fn nut(limited: &Limited, turning: AngularVelocity) -> Derivation {
    let derivation = limit(limited, LimitName::Nut, limited.drive.speed_at(turning));
    let part = Origin::part(limited.part.part());
    let fastest = units::rpm::amount(turning);
    let derivation = match limited.part {
        LinearDrive::Ball(screw) => {
            let (dn, origin) = match screw.dn_limit {
                Some(dn) => (dn, part.clone()),
                None => (
                    COMMODITY_DN,
                    Origin::Constant("rolled commodity nuts, common practice"),
                ),
            };
            let dn = units::rpm::from(dn.speed_at(units::mm::of(1.0)));
            derivation
                .by("the nut's DN value over the nominal diameter gives its fastest turn; times lead", "v = P DN/d")
                .with("DN", "diameter times turns", Amount::of(dn, "mm·rpm"), origin)
                .with("d", "nominal diameter", units::mm::amount(screw.diameter), part)
        }
        LinearDrive::Lead(screw) => derivation
            .by(
                "the thread may slide so fast in the nut, along its helix; turned into travel",
                "v = P w cos α/(π d)",
            )
            .with(
                "w",
                "greatest sliding speed",
                units::m_per_min::amount(screw.sliding_speed),
                part.clone(),
            )
            .with(
                "d",
                "mean thread diameter",
                units::mm::amount((screw.diameter + screw.root) / 2.0),
                part,
            ),
        LinearDrive::Rack(_) | LinearDrive::Belt(_) => derivation,
    };
    let derivation = derivation
        .with("n", "fastest turn of the nut", fastest, Origin::Here)
        .from(
            "published screw catalogues",
            "What lasts depends on grease and dust too.",
        );
    a_turn(limited, derivation)
}

pub(super) fn motor(limited: &Limited, needed: Torque, turning: AngularVelocity) -> Derivation {
    let needs = Origin::figure(path(limited, "needed_torque_nm"));
    let speed = limited.drive.speed_at(turning);
    let derivation = limit(limited, LimitName::Motor, speed)
        .with(
            "T",
            "torque needed to accelerate",
            units::nm::amount(needed),
            needs,
        )
        .with(
            "n",
            "fastest turn with that torque",
            units::rpm::amount(turning),
            Origin::Here,
        );
    let derivation = match limited.curve {
        TorqueCurve::Stepper(curve) => stepper(limited, derivation, curve),
        TorqueCurve::Servo(curve) => servo(limited, derivation, curve),
    };
    a_turn(limited, derivation)
}

/// Where the builder measured at which speed the axis stalls.
pub(super) fn stalled(limited: &Limited, stall: Velocity, modelled: Velocity) -> Derivation {
    limit(limited, LimitName::Motor, stall * STALL_SHARE)
        .by(
            "seven tenths of the speed at which you saw the axis stall",
            "v = 0.7 v_stall",
        )
        .with(
            "v_stall",
            "speed at which it stalled",
            units::m_per_min::amount(stall),
            Origin::Measured(limited.axis.choice("measured_stall") + "_m_per_min"),
        )
        .with(
            "0.7",
            "share that is kept",
            Amount::plain(STALL_SHARE),
            Origin::Constant("common practice in commissioning"),
        )
        .instead_of(units::m_per_min::amount(modelled))
        .from(
            "your own measurement; 0.7 of it: common practice",
            "It holds for the acceleration, load and supply with which you measured. Thrust and torque stay the model's.",
        )
}

fn stepper(limited: &Limited, derivation: Derivation, curve: &StepperCurve) -> Derivation {
    let Motor::Stepper(stepper) = limited.picked.axes[limited.axis].motor else {
        return derivation;
    };
    let part = Origin::part(stepper);
    let fitted = || Origin::Constant("published torque curves of NEMA 17, 23 and 34 motors");
    let share = match stepper.closed_loop {
        true => Origin::choice("closed_loop_share_percent"),
        false => Origin::choice("working_share_percent"),
    };
    let (plateau, voltage) = curve.fits();
    let constant = Amount::of(units::nm::from(curve.torque_constant()), "Nm/A");
    derivation
        .by(
            "the speed to which the used share of the pull-out torque holds what acceleration needs, times travel a turn",
            "T = s min(f₁ Kt I, f₂ (Kt V/Z - Kt² ω R/Z²)), Z = √(R² + (50 ω L)²), ω = 2π n, v = n P",
        )
        .with("s", "share of the torque used", units::percent::amount(curve.working_share()), share)
        .with("f₁", "fit to published curves, current-bound", units::times::amount(plateau), fitted())
        .with("f₂", "fit to published curves, voltage-bound", units::times::amount(voltage), fitted())
        .with("Kt", "torque constant: holding torque over √2 times rated current", constant, part.clone())
        .with("Kt I", "torque amplitude as the driver is set", units::nm::amount(curve.plateau()), Origin::choice("current_percent"))
        .with("V", "supply less 5 % under load (common practice)", units::v::amount(curve.volts()), Origin::part(limited.picked.supply))
        .with("R", "resistance, hot: 80 °C", units::ohm::amount(stepper.resistance * HOT_COPPER), part.clone())
        .with("L", "inductance", units::mh::amount(stepper.inductance), part)
        .with("50", "rotor teeth", Amount::plain(ROTOR_TEETH), Origin::Constant("1.8° hybrid steppers"))
        .from(
            "P. Acarnley, Stepping Motors; T. Kenjo, Stepping Motors and their Microprocessor Controls",
            "Published curves scatter by a fifth about it, those of NEMA 34 more. Resonance is not in it.",
        )
}

fn servo(limited: &Limited, derivation: Derivation, curve: &ServoCurve) -> Derivation {
    let part = Origin::part(limited.picked.axes[limited.axis].motor.part());
    let peak = curve.short(units::rpm::of(0.0));
    derivation
        .by(
            "80 % of the peak torque up to the rated speed, constant power beyond: the speed to which it holds what acceleration needs, times travel a turn",
            "T = 0.8 T_peak min(1, n_r/n), v = n P",
        )
        .with("T_peak", "peak torque", units::nm::amount(peak), part.clone())
        .with("n_r", "rated speed", units::rpm::amount(curve.rated_speed()), part)
        .with("0.8", "share of the peak planned with", Amount::plain(PEAK_SHARE), Origin::Constant("common practice"))
        .from(
            "catalogue form of servo envelopes",
            "For a second or two at a time; the mean over a duty is a figure of its own.",
        )
}

pub(super) fn motor_speed(limited: &Limited, turning: AngularVelocity) -> Derivation {
    let motor = limited.picked.axes[limited.axis].motor;
    let (title, origin) = match motor {
        Motor::Stepper(_) => (
            "fastest turn that is planned with",
            Origin::Constant("common practice: a hybrid stepper's iron gets hot beyond"),
        ),
        Motor::Servo(_) => ("greatest speed", Origin::part(motor.part())),
    };
    let derivation = limit(
        limited,
        LimitName::MotorSpeed,
        limited.drive.speed_at(turning),
    )
    .by("the motor's greatest speed, times travel a turn", "v = n P")
    .with("n", title, units::rpm::amount(turning), origin)
    .from(
        "data of servos; common practice for steppers",
        match motor {
            Motor::Stepper(_) => "Published curves of steppers end below half of it.",
            Motor::Servo(_) => "",
        },
    );
    a_turn(limited, derivation)
}

pub(super) fn pulses(limited: &Limited, name: LimitName, rate: Frequency) -> Derivation {
    let picked = limited.picked;
    let origin = match name {
        LimitName::DriverPulses => Origin::part(picked.axes[limited.axis].driver),
        _ => Origin::part(picked.controller),
    };
    limit(limited, name, limited.pulsed(rate))
        .by(
            "a share of the greatest pulse rate, times travel for one pulse",
            "v = 0.8 f step",
        )
        .with("f", "greatest pulse rate", units::khz::amount(rate), origin)
        .with(
            "step",
            "travel for one pulse",
            units::um::amount(limited.step()),
            Origin::figure(path(limited, "step_um")),
        )
        .with(
            "0.8",
            "share planned with",
            Amount::plain(PULSE_SHARE),
            Origin::Constant("common practice"),
        )
        .from("data of controller and driver; 80 % by common practice", "")
}

pub(super) fn track(limited: &Limited, speed: Velocity) -> Derivation {
    limit(limited, LimitName::Track, speed)
        .by("the greatest speed of rack or belt", "v")
        .with(
            "v",
            "greatest speed",
            units::m_per_min::amount(speed),
            Origin::part(limited.part.part()),
        )
        .from("data of the part", "")
}
