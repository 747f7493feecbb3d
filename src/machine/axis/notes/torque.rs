//! How torque, what of it is left, and what holds an axis without power come about.

use super::Told;
use crate::catalogue::{LinearDrive, Motor};
use crate::explain::{Derivation, Origin};
use crate::machine::torque::notes::{self as curve, Asked};
use crate::units::{self, Acceleration, Amount, Velocity};

/// What the back-driving efficiency of a drive rests on.
pub(in crate::machine) fn back_origin(told: &Told) -> Origin {
    match told.part {
        LinearDrive::Ball(_) => Origin::Constant("2 - 1/η for ball screws, ISO 3408-5"),
        LinearDrive::Lead(_) => Origin::Constant(
            "friction angle and lead angle of the thread, handbooks of machine elements",
        ),
        LinearDrive::Rack(rack) => Origin::part(rack),
        LinearDrive::Belt(belt) => Origin::part(belt),
    }
}

pub(super) fn needed(told: &Told) -> Derivation {
    let (a, origin) = told.wanted();
    told.of(
        "needed_torque_nm",
        "torque to speed up as wanted",
        units::nm::amount(told.figures.needed_torque),
    )
    .by(
        "force of mass, friction and weight through the drive, what turns, and drag",
        "T = (m a + F + W) r/η + J a/r + M",
    )
    .with("a", "wanted acceleration", a, origin)
    .with_each(told.burden(&["m", "F", "W", "r", "η", "J", "M"]))
    .from(
        "ISO 3408-5 and screw catalogues for the drive; mechanics",
        "Upwards on Z; no cut at the same time.",
    )
}

pub(super) fn braking(told: &Told) -> Derivation {
    let (a, origin) = told.wanted();
    let back = units::times::amount(told.drive.back_efficiency);
    let push = told.load.braking_push(told.picked.build.area.acceleration);
    let figure = told
        .of(
            "brake_torque_nm",
            "torque to brake as hard as wanted",
            units::nm::amount(told.figures.brake_torque),
        )
        .with("a", "wanted acceleration", a, origin)
        .with(
            "Q",
            "force of what is braked",
            units::n::amount(push),
            Origin::Here,
        )
        .with_each(told.burden(&["m", "F", "W", "r", "J", "M"]));
    let figure = match units::n::from(push) > 0.0 {
        true => figure
            .by(
                "what turns, and the force of mass and weight less friction back through the drive, less drag",
                "T = J a/r + Q r η' - M, Q = m a - F + W",
            )
            .with("η'", "efficiency of back-driving", back, back_origin(told)),
        false => figure
            .by(
                "what turns, less drag and less what friction brakes more than mass and weight push, forth through the drive",
                "T = J a/r + Q r/η - M, Q = m a - F + W",
            )
            .with_each(told.burden(&["η"])),
    };
    figure.from(
        "ISO 3408-5 and screw catalogues for the drive; mechanics",
        "Downwards on Z. Below zero friction alone brakes harder, and the motor still pushes. A stepper brakes with a little more than its pull-out torque, which is not counted.",
    )
}

/// The acceleration left at a speed, which is told of as `at`.
pub(super) fn left(
    told: &Told,
    figure: &str,
    (at, speed): (&str, Velocity),
    amount: Acceleration,
) -> Derivation {
    let curve = &told.figures.curve;
    let turns = told.drive.turns_at(speed);
    let title = format!("acceleration left at {at}");
    let derivation = told.of(figure, &title, units::m_per_s2::amount(amount));
    if told.picked.build.measured.stall[told.axis].is_some()
        && amount == told.picked.build.area.acceleration
    {
        let stall = Origin::Measured(told.axis.choice("measured_stall") + "_m_per_min");
        return derivation
            .by(
                "the acceleration with which you measured at which speed the axis stalls",
                "a = a_w",
            )
            .with(
                "a_w",
                "acceleration wanted, and measured with",
                units::m_per_s2::amount(amount),
                stall,
            )
            .from("your own measurement", "The model alone sees less.");
    }
    derivation
        .by(
            "torque that may be used at that speed, less what friction, weight and drag take, over what an acceleration takes; not below zero",
            curve::formula(Asked::Acceleration, curve),
        )
        .with("T", "torque that may be used", units::nm::amount(curve.usable(turns)), Origin::Here)
        .with("n", format!("speed of the motor at {at}"), units::rpm::amount(turns), told.figure("rapid_m_per_min"))
        .with_each(told.burden(&["m", "F", "W", "r", "η", "J", "M"]))
        .with_each(curve::inputs(told.picked, told.axis, curve, turns, Asked::Acceleration))
        .from(curve::source(curve), "The frame may bear less than the motor gives.")
}

pub(super) fn inertia_ratio(told: &Told) -> Derivation {
    let rotor = told.picked.axes[told.axis].motor.rotor_inertia();
    let part = Origin::part(told.picked.axes[told.axis].motor.part());
    let ratio = Amount::plain(units::times::from(told.figures.inertia_ratio));
    told.of("inertia_ratio", "load against rotor", ratio)
        .by(
            "inertia of all that the motor moves and turns but its rotor, over the rotor's",
            "i = (m r² + J - J₀)/J₀",
        )
        .with(
            "J₀",
            "inertia of the rotor",
            units::kg_m2::amount(rotor),
            part,
        )
        .with_each(told.burden(&["m", "r", "J"]))
        .from("mechanics", "Belts and couplings are taken as stiff.")
}

pub(super) fn back(told: &Told) -> Derivation {
    let back = units::times::amount(told.drive.back_efficiency);
    told.of(
        "back_torque_nm",
        "torque of the weight on the unpowered motor",
        units::nm::amount(told.figures.back_torque),
    )
    .by(
        "weight through the drive with its efficiency of back-driving; nothing where that is below zero",
        "T = W r max(η', 0)",
    )
    .with("η'", "efficiency of back-driving", back, back_origin(told))
    .with_each(told.burden(&["W", "r"]))
    .from(
        "ISO 3408-5; handbooks of machine elements for lead screws",
        "Drag of nut and bearings would help, but wears off: it is not counted on.",
    )
}

pub(super) fn holding(told: &Told) -> Derivation {
    let motor = told.picked.axes[told.axis].motor;
    let title = match motor {
        Motor::Stepper(_) => "detent torque of the motor",
        Motor::Servo(servo) if servo.brake.is_some() => "holding torque of the brake",
        Motor::Servo(_) => "no brake: nothing holds",
    };
    let amount = units::nm::amount(told.figures.holding_torque);
    told.of(
        "holding_torque_nm",
        "what holds the unpowered motor",
        amount,
    )
    .by("detent torque of a stepper, brake of a servo", "T")
    .with("T", title, amount, Origin::part(motor.part()))
    .from(
        "data of the motor",
        "Detent torque scatters from motor to motor: 0.8 of it is counted on (common practice).",
    )
}
