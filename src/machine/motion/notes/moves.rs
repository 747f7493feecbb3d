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
    let from = (length, told.figure("travel_mm"));
    bounds(told, derivation, ramp, from, one.reach == Reach::Speed)
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

/// The inputs of a case's formula, and its source.
fn bounds(
    told: &Told,
    derivation: Derivation,
    ramp: &Ramp,
    length: (Length, Origin),
    speed: bool,
) -> Derivation {
    let mut derivation = derivation.with(
        "s",
        "length of the move",
        units::mm::amount(length.0),
        length.1,
    );
    if speed {
        let rapid = units::m_per_min::amount(ramp.speed());
        derivation = derivation.with("v", "rapids", rapid, told.figure("rapid_m_per_min"));
    }
    derivation = derivation.with(
        "a",
        "lesser of the acceleration left at rapids and at half of them",
        units::m_per_s2::amount(ramp.acceleration()),
        told.left_for(ramp),
    );
    let build_up = units::s::amount(ramp.build_up());
    if build_up.number > 0.0 {
        let title = "time in which the acceleration builds up";
        derivation = derivation.with("τ", title, build_up, Origin::choice("build_up_s"));
    }
    derivation.from(
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
    let from_length = || (length, told.figure(&figure("move_mm")));
    let (how, formula) = by_shape(ramp, one.reach);
    notes.note(|| {
        let amount = units::mm::amount(length);
        let list = Origin::Constant("10, 50, 100 and 300 mm: our own choice");
        told.of(&figure("move_mm"), &title, amount)
            .by(
                "a length by which machines are compared, as far as it fits into the travel",
                "s",
            )
            .with("s", "length of the move", amount, list)
            .from("our own choice", "")
    });
    notes.note(|| {
        let time = units::s::amount(one.time);
        let derivation = told
            .of(&figure("time_s"), &format!("{title}: time"), time)
            .by(how, formula);
        bounds(
            told,
            derivation,
            ramp,
            from_length(),
            one.reach == Reach::Speed,
        )
    });
    notes.note(|| share_at_rapids(told, &figure, &title, ramp, from_length(), one));
}

fn share_at_rapids(
    told: &Told,
    figure: &impl Fn(&str) -> String,
    title: &str,
    ramp: &Ramp,
    length: (Length, Origin),
    one: &Move,
) -> Derivation {
    let sharp = units::s::from(ramp.build_up()) == 0.0;
    let title = format!("{title}: share of its time at rapids");
    let share = units::share::amount(one.share_at_speed());
    let derivation = told.of(&figure("share_at_rapids"), &title, share);
    let derivation = match (one.reach, sharp) {
        (Reach::Speed, true) => derivation.by(
            "time at full speed over the whole time",
            "q = t_v/t, t_v = s/v - v/a",
        ),
        (Reach::Speed, false) => derivation.by(
            "time at full speed over the whole time",
            "q = t_v/t, t_v = s/v - t_a, t_a = τ + v/a; where v < a τ: t_a = 2 √(v τ/a)",
        ),
        (_, true) => derivation.by(
            "no time at full speed: the move is too short to reach it",
            "q = t_v/t, t_v = 0 since s < v²/a",
        ),
        (_, false) => derivation.by(
            "no time at full speed: the move is too short to reach it",
            "q = t_v/t, t_v = 0 since s < v (τ + v/a); where v < a τ: s < 2 v √(v τ/a)",
        ),
    };
    let time = units::s::amount(one.time);
    let derivation = derivation
        .with("t", "whole time", time, told.figure(&figure("time_s")))
        .with(
            "t_v",
            "time at full speed",
            units::s::amount(one.at_speed),
            Origin::Here,
        );
    bounds(told, derivation, ramp, length, true)
}
