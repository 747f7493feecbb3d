//! How the figures of moves, torque over speed, resonance, duty and stops come about.

use super::resonance::Resonance;
use super::torque_points::TorquePoint;
use crate::explain::{Derivation, Origin, Recorder};
use crate::machine::axis::notes::Told;
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
    let same = "as for the limit by motor torque";
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
    for (name, title, torque, how) in [
        (
            "available_nm",
            "torque at which it falls behind",
            point.available,
            "pull-out torque of a stepper, peak torque of a servo, at this speed",
        ),
        (
            "usable_nm",
            "torque that may be used",
            point.usable,
            "the used share of a stepper's pull-out torque, 80 % of a servo's peak, at this speed",
        ),
    ] {
        notes.note(|| {
            told.of(&figure(name), title, units::nm::amount(torque))
                .by(
                    how,
                    "T = s min(f₁ Kt I, f₂ (Kt V/Z - Kt² ω R/Z²)); servo: T = T_peak min(1, n_r/n)",
                )
                .with(
                    "n",
                    "speed of the motor",
                    turning,
                    told.figure(&figure("rpm")),
                )
                .with(
                    "",
                    same,
                    units::m_per_min::amount(told.figures.rapid),
                    told.figure("limits_m_per_min.motor-torque"),
                )
                .from(
                    "P. Acarnley, Stepping Motors; catalogue form of servo envelopes",
                    "Resonance is not in it.",
                )
        });
    }
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

fn frequency(told: &Told, resonance: &Resonance) -> Derivation {
    let spring = Amount::of(resonance.spring.as_nm_per_rad(), "Nm/rad");
    let inertia = units::kg_m2::amount(resonance.inertia);
    told.of("resonance_hz", "swing of rotor and load on the motor's magnetic spring", units::hz::amount(resonance.frequency))
        .by("natural frequency of what the motor moves and turns on its magnetic spring", "f = √(k/J)/(2π), k = 50 Kt I, J = J_t + m r²")
        .with("k", "magnetic spring: 50 rotor teeth times the torque amplitude as set", spring, Origin::choice("current_percent"))
        .with("J", "all inertia, seen by the motor", inertia, Origin::Here)
        .with_each(told.burden())
        .from(
            "T. Kenjo, Stepping Motors and their Microprocessor Controls",
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
        "full steps as fast as the swing: turns, times travel a turn",
        "v = f P/200",
    )
    .with(
        "f",
        "natural frequency",
        units::hz::amount(resonance.frequency),
        told.figure("resonance_hz"),
    )
    .with("P", "travel for one turn of the motor", travel, part)
    .from(
        "200 full steps a turn",
        "Half and third of that speed excite it too, less.",
    )
}
