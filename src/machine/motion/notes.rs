//! How the figures of moves, torque over speed, resonance, duty and stops come about.

use super::resonance::Resonance;
use super::torque_points::TorquePoint;
use crate::explain::{Derivation, Origin, Recorder};
use crate::machine::axis::notes::Told;
use crate::machine::stepper::{ROTOR_TEETH, STEPS_A_TURN};
use crate::machine::torque::TorqueCurve;
use crate::machine::torque::notes::{self as curve, Asked};
use crate::units::{self, Amount};

mod moves;
mod stops;

pub use stops::note_rise;

/// Tells of all of them.
pub(in crate::machine) fn note(told: &Told, notes: &mut impl Recorder) {
    let figures = told.figures;
    if let (Some(ramp), Some((trapezoid, s_ramp))) = (figures.ramp, figures.ramps) {
        let travel = figures.travel;
        for (figure, ramp) in [
            ("full_travel_s", ramp),
            ("full_travel_trapezoid_s", trapezoid),
            ("full_travel_s_ramp_s", s_ramp),
        ] {
            notes.note(|| moves::time(told, figure, &ramp, travel));
        }
        for (place, (length, one)) in figures.short_moves().enumerate() {
            moves::short_move(told, place, length, &one, &ramp, notes);
        }
    }
    for (place, point) in figures.torque_points().iter().enumerate() {
        torque_point(told, place, point, notes);
    }
    if let Some(resonance) = &figures.resonance {
        notes.note(|| frequency(told, resonance));
        notes.note(|| shaking_speed(told, resonance));
    }
    if figures.duty.is_some() {
        notes.note(|| stops::mean_torque(told));
    }
    notes.note(|| stops::kinetic(told));
    notes.note(|| stops::fed_back(told));
}

fn torque_point(told: &Told, place: usize, point: &TorquePoint, notes: &mut impl Recorder) {
    let figure = |name: &str| format!("torque.{place}.{name}");
    let turning = units::rpm::amount(point.turning);
    let motor = || Origin::part(told.picked.axes[told.axis].motor.part());
    notes.note(|| {
        let greatest = units::rpm::amount(told.figures.curve.greatest_speed());
        told.of(
            &figure("rpm"),
            "speed of the motor on its torque curve",
            turning,
        )
        .by("tenths of the motor's greatest speed", "n = i n_g/10")
        .with(
            "i",
            "place on the curve",
            Amount::plain(place as f64),
            Origin::Here,
        )
        .with("n_g", "greatest speed", greatest, motor())
        .from("calculation", "")
    });
    notes.note(|| available(told, &figure("available_nm"), &figure("rpm"), point));
    notes.note(|| usable(told, &figure("usable_nm"), &figure("available_nm"), point));
    for (name, title, torque, whole) in [
        (
            "accelerating_nm",
            "torque to speed up as wanted",
            point.accelerating,
            "needed_torque_nm",
        ),
        (
            "braking_nm",
            "torque to brake as hard",
            point.braking,
            "brake_torque_nm",
        ),
    ] {
        notes.note(|| {
            let amount = units::nm::amount(torque);
            told.of(&figure(name), title, amount)
                .by(
                    "the same at every speed: friction is taken as constant",
                    "T",
                )
                .with("T", title, amount, told.figure(whole))
                .from("mechanics", "Grease drags more at speed.")
        });
    }
}

fn available(told: &Told, figure: &str, turning: &str, point: &TorquePoint) -> Derivation {
    let curve = &told.figures.curve;
    let speed = units::rpm::amount(point.turning);
    told.of(
        figure,
        "torque at which it falls behind",
        units::nm::amount(point.available),
    )
    .by(
        "pull-out torque of a stepper, peak torque of a servo, at this speed",
        curve::formula(Asked::PullOut, curve),
    )
    .with("n", "speed of the motor", speed, told.figure(turning))
    .with_each(curve::inputs(
        told.picked,
        told.axis,
        curve,
        point.turning,
        Asked::PullOut,
    ))
    .from(curve::source(curve), curve::limits(curve))
}

fn usable(told: &Told, figure: &str, whole: &str, point: &TorquePoint) -> Derivation {
    let curve = &told.figures.curve;
    let share = curve::inputs(told.picked, told.axis, curve, point.turning, Asked::Usable);
    told.of(
        figure,
        "torque that may be used",
        units::nm::amount(point.usable),
    )
    .by(
        "the used share of a stepper's pull-out torque, 80 % of a servo's peak",
        "T = s T₀",
    )
    .with_each(share.into_iter().filter(|input| input.symbol == "s"))
    .with(
        "T₀",
        "torque at which it falls behind",
        units::nm::amount(point.available),
        told.figure(whole),
    )
    .from(curve::source(curve), curve::limits(curve))
}

fn frequency(told: &Told, resonance: &Resonance) -> Derivation {
    let spring = Amount::of(resonance.spring.as_nm_per_rad(), "Nm/rad");
    let inertia = units::kg_m2::amount(resonance.inertia);
    let figure = told.of(
        "resonance_hz",
        "swing of rotor and load on the motor's magnetic spring",
        units::hz::amount(resonance.frequency),
    );
    let figure = match &told.figures.curve {
        TorqueCurve::Stepper(curve) => {
            let fit = units::times::amount(curve.fits().0);
            let plateau = units::nm::amount(curve.fitted_plateau());
            figure
                .with(
                    "T_p",
                    "torque that the current allows, fitted",
                    plateau,
                    told.figure("motor.plateau_nm"),
                )
                .with(
                    "f₁",
                    "that fit, taken out again: the spring rests on the torque at rest",
                    fit,
                    Origin::Constant("published torque curves of NEMA 17, 23 and 34 motors"),
                )
        }
        TorqueCurve::Servo(_) => figure,
    };
    figure
        .by(
            "natural frequency of what the motor moves and turns on its magnetic spring: rotor teeth times the amplitude of the torque",
            "f = √(k/J_w)/(2π), k = 50 T_p/f₁, J_w = J + m r²",
        )
        .with("50", "rotor teeth", Amount::plain(ROTOR_TEETH), Origin::Constant("1.8° hybrid steppers"))
        .with("k", "magnetic spring", spring, Origin::Here)
        .with("J_w", "all inertia, seen by the motor", inertia, Origin::Here)
        .with_each(told.burden(&["J", "m", "r"]))
        .from(
            "handbook of stepping motors",
            "Small swings, stiff coupling, no damping. A second, faster unrest of the currents (usually at 300 to 900 rpm) is not modelled.",
        )
}

fn shaking_speed(told: &Told, resonance: &Resonance) -> Derivation {
    let travel = units::mm::amount(told.drive.travel_a_turn);
    let part = Origin::part(told.part.part());
    told.of(
        "resonance_m_per_min",
        "speed at which full steps excite that swing",
        units::m_per_min::amount(resonance.speed),
    )
    .by(
        "full steps as fast as the swing: turns, times travel per turn",
        "v = f P/200",
    )
    .with(
        "f",
        "natural frequency",
        units::hz::amount(resonance.frequency),
        told.figure("resonance_hz"),
    )
    .with("P", "travel for one turn of the motor", travel, part)
    .with(
        "200",
        "full steps a turn",
        Amount::plain(STEPS_A_TURN),
        Origin::Constant("1.8° hybrid steppers"),
    )
    .from(
        "kinematics",
        "Half and third of that speed excite it too, less.",
    )
}
