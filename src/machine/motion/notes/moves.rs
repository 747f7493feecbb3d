//! How the time of a move comes about.

use crate::explain::{Derivation, Origin, Recorder};
use crate::machine::axis::notes::Told;
use crate::machine::motion::ramp::{Move, Ramp, Reach};
use crate::units::{self, Length};

pub(super) fn time(told: &Told, figure: &str, ramp: &Ramp, length: Length) -> Derivation {
    let one = ramp.over(length);
    let (how, formula) = by_shape(ramp, one.reach);
    let title = match figure {
        "full_travel_trapezoid_s" => "the whole travel by a trapezoid",
        "full_travel_s_ramp_s" => "the whole travel by an S-ramp",
        _ => "the whole travel by the controller's ramp",
    };
    let derivation = told
        .of(figure, title, units::s::amount(one.time))
        .by(how, formula);
    bounds(told, derivation, ramp, length, "travel_mm")
}

/// The words and the formula of a case.
fn by_shape(ramp: &Ramp, reach: Reach) -> (&'static str, &'static str) {
    let sharp = units::s::from(ramp.build_up()) == 0.0;
    match (sharp, reach) {
        (true, Reach::Speed) => (
            "constant acceleration, full speed, constant braking",
            "t = s/v + v/a",
        ),
        (true, _) => (
            "constant acceleration and braking; the full speed is not reached",
            "t = 2 √(s/a)",
        ),
        (false, Reach::Speed) => (
            "the acceleration builds up and fades on either side of the full speed",
            "t = s/v + t_a, t_a = τ + v/a; where v < a τ: t_a = 2 √(v τ/a)",
        ),
        (false, Reach::Acceleration) => (
            "the acceleration builds up, stays and fades; the full speed is not reached",
            "t = 2 (τ + v_p/a), v_p = (√((a τ)² + 4 a s) - a τ)/2",
        ),
        (false, Reach::Neither) => (
            "the acceleration only builds up and fades, and reaches its full value nowhere",
            "t = 4 ∛(s τ/(2 a))",
        ),
    }
}

fn bounds(told: &Told, derivation: Derivation, ramp: &Ramp, s: Length, from: &str) -> Derivation {
    let length = match from {
        "travel_mm" => told.figure(from),
        _ => Origin::Constant("lengths by which machines are compared"),
    };
    let acceleration = told.figure("acceleration_m_per_s2");
    derivation
        .with("s", "length of the move", units::mm::amount(s), length)
        .with("v", "rapids", units::m_per_min::amount(ramp.speed()), told.figure("rapid_m_per_min"))
        .with("a", "lesser of the acceleration left at rapids and at half of them", units::m_per_s2::amount(ramp.acceleration()), acceleration)
        .with("τ", "time in which the acceleration builds up; zero for a trapezoid", units::s::amount(ramp.build_up()), Origin::choice("build_up_s"))
        .from(
            "handbooks of trajectory planning: trapezoid and double-S profile",
            "From rest to rest in a straight line, with all the acceleration that the motors leave: a controller set to less takes longer.",
        )
}

pub(super) fn short_move(
    told: &Told,
    place: usize,
    length: Length,
    one: &Move,
    ramp: &Ramp,
    notes: &mut impl Recorder,
) {
    let figure = |name: &str| format!("short_moves.{place}.{name}");
    let title = format!("move of {}", units::mm::amount(length));
    let (how, formula) = by_shape(ramp, one.reach);
    notes.note(|| {
        told.of(&figure("move_mm"), &title, units::mm::amount(length))
            .by(
                "a length by which machines are compared, within the travel",
                "s",
            )
            .from("our own choice", "")
    });
    notes.note(|| {
        let derivation = told
            .of(
                &figure("time_s"),
                &format!("{title}: time"),
                units::s::amount(one.time),
            )
            .by(how, formula);
        bounds(told, derivation, ramp, length, "")
    });
    notes.note(|| {
        let share = units::share::amount(one.share_at_speed());
        let derivation = told
            .of(
                &figure("share_at_rapids"),
                &format!("{title}: share of its time at rapids"),
                share,
            )
            .by(
                "time at full speed over the whole time; none where the full speed is not reached",
                "(s/v - t_a)/t",
            )
            .with(
                "t",
                "whole time",
                units::s::amount(one.time),
                told.figure(&figure("time_s")),
            )
            .with(
                "",
                "time at full speed",
                units::s::amount(one.at_speed),
                Origin::Here,
            );
        bounds(told, derivation, ramp, length, "")
    });
}
