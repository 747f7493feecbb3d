//! How each limit of an axis's speed comes about, for those who ask.

use super::{LimitName, Limited, PULSE_SHARE, Whirling};
use crate::catalogue::{LinearDrive, Motor};
use crate::explain::{Derivation, Origin};
use crate::machine::axis_path;
use crate::machine::drive::{COMMODITY_DN, WHIRL_SHARE, eigenvalue};
use crate::machine::measured::STALL_SHARE;
use crate::machine::section;
use crate::machine::torque::notes::{self as torque, Asked};
use crate::units::{self, Amount, AngularVelocity, Frequency, Torque, Velocity};
use crate::words::Words;

/// The path of a figure of an axis.
fn path(limited: &Limited, figure: &str) -> String {
    axis_path(limited.axis, figure)
}

/// A figure of the axis. Of a pair whose drives differ the figure is that of the harder one to
/// move, so what this drive has is worked out on the way.
fn of_axis(limited: &Limited, figure: &str) -> Origin {
    match limited.picked.other_drive(limited.axis) {
        Some(_) => Origin::Here,
        None => Origin::figure(path(limited, figure)),
    }
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
    let reduction = Amount::plain(units::times::from(limited.picked.build.drive.reduction));
    let title =
        format!("travel for one turn of the motor; the reduction of {reduction} is within it");
    derivation.with("P", title, travel, part)
}

/// What the fastest turn of a screw before it whips rests on.
fn of_whirl(limited: &Limited, derivation: Derivation, screw: Whirling) -> Derivation {
    let ends = limited.picked.build.drive.ends[limited.axis];
    let handbook = Origin::Constant("steel, handbooks of materials");
    let choice = Origin::choice(limited.axis.choice("ends"));
    let plan = Origin::Plan(limited.picked.frame.id.to_string());
    let lambda = Amount::plain(units::times::from(eigenvalue(ends)));
    let modulus = units::gpa::amount(section::steel_modulus());
    let density = units::kg_per_m3::amount(section::steel_density());
    derivation
        .with("λ", format!("eigenvalue of the ends: {}", ends.title()), lambda, choice)
        .with("d", "root diameter", units::mm::amount(screw.root), Origin::part(limited.part.part()))
        .with("L", "distance of the bearings, by travel, nut and margins", units::mm::amount(screw.between_bearings), plan)
        .with("E", "elastic modulus of steel", modulus, handbook.clone())
        .with("ρ", "density of steel", density, handbook)
        .with("0.8", "share that is used", Amount::plain(WHIRL_SHARE), Origin::Constant("published screw catalogues"))
        .from(
            "Euler-Bernoulli beam; 80 % as in published screw catalogues",
            "The nut is not counted as a support, and the ends are never as firm as their name: bent screws whip earlier.",
        )
}

pub(super) fn whirl_speed(
    limited: &Limited,
    turning: AngularVelocity,
    screw: Whirling,
) -> Derivation {
    let title = format!(
        "{}: fastest turn before the screw whips",
        limited.axis.title()
    );
    let amount = units::rpm::amount(turning);
    let derivation = Derivation::of(path(limited, "whirl_rpm"), title, amount).by(
        "a share of the lowest bending frequency of the screw between its bearings, as a round steel bar",
        "n = 0.8 λ²/(2π) (d/4) √(E/ρ)/L²",
    );
    of_whirl(limited, derivation, screw)
}

pub(super) fn whirl(
    limited: &Limited,
    turning: AngularVelocity,
    screw: Option<Whirling>,
) -> Derivation {
    let speed = limited.drive.speed_at(turning);
    let figure = limit(limited, LimitName::Whirl, speed);
    let amount = units::rpm::amount(turning);
    // Of two screws with different leads, the one that whips first need not be the slower.
    let differ = limited.picked.other_drive(limited.axis).is_some();
    let derivation = match screw {
        Some(screw) if differ => of_whirl(
            limited,
            figure
                .by(
                    "fastest turn of this screw of the pair before it whips, a share of its lowest bending frequency, times lead",
                    "v = n P, n = 0.8 λ²/(2π) (d/4) √(E/ρ)/L²",
                )
                .with("n", "fastest turn of this screw", amount, Origin::Here),
            screw,
        ),
        _ => figure
            .by("fastest turn before the screw whips, times lead", "v = n P")
            .with("n", "fastest turn", amount, Origin::figure(path(limited, "whirl_rpm")))
            .from("published screw catalogues", "As for the fastest turn."),
    };
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
            derivation
                .by("the nut's DN value over the nominal diameter gives its fastest turn; times lead", "v = n P, n = DN/d")
                .with("DN", "diameter times turns", Amount::of(dn.as_mm_rpm(), "mm·rpm"), origin)
                .with("d", "nominal diameter", units::mm::amount(screw.diameter), part)
        }
        LinearDrive::Lead(screw) => derivation
            .by(
                "the thread may slide so fast in the nut, along its helix; turned into travel",
                "v = n P, n = w cos α/(π d), tan α = P/(π d)",
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
    let (picked, axis, curve) = (limited.picked, limited.axis, limited.curve);
    let needs = of_axis(limited, "needed_torque_nm");
    let words = "the speed to which the torque that may be used holds what acceleration needs, times travel per turn; none where even the motor's best is too little";
    let derivation = limit(limited, LimitName::Motor, limited.drive.speed_at(turning))
        .by(words, torque::formula(Asked::Limit, curve))
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
        )
        .with_each(torque::inputs(picked, axis, curve, turning, Asked::Limit))
        .from(torque::source(curve), torque::limits(curve));
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
    .by(
        "the motor's greatest speed, times travel per turn",
        "v = n P",
    )
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
            of_axis(limited, "step_um"),
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
