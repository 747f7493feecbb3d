//! How the figures of moves, torque over speed, resonance, duty and stops come about.

use super::braking::BusRise;
use super::ramp::{Move, Ramp, Reach};
use super::resonance::Resonance;
use super::torque_points::TorquePoint;
use crate::build::Picked;
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::axis::notes::Told;
use crate::units::{self, Amount, Length};

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
            notes.note(|| time(told, figure, &ramp, travel));
        }
        for (place, (length, one)) in figures.short_moves().enumerate() {
            short_move(told, place, length, &one, &ramp, notes);
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
        notes.note(|| mean_torque(told));
    }
    notes.note(|| kinetic(told));
    notes.note(|| fed_back(told));
}

fn time(told: &Told, figure: &str, ramp: &Ramp, length: Length) -> Derivation {
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

fn short_move(
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
    let part = Origin::part(told.picked.axes[told.axis].drive.part());
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

fn mean_torque(told: &Told) -> Derivation {
    let stretches = told.figures.duty.iter().flat_map(|duty| duty.stretches);
    let inputs = stretches.flat_map(|stretch| {
        let input = |symbol, value| Input {
            symbol,
            title: stretch.title.to_owned(),
            value,
            origin: Origin::Here,
        };
        [
            input("T", units::nm::amount(stretch.torque)),
            input("t", units::s::amount(stretch.time)),
        ]
    });
    let mean = told
        .figures
        .duty
        .map_or(units::nm::of(0.0), |duty| duty.mean);
    let (force, area) = (
        told.picked.build.area.cutting_force,
        &told.picked.build.area,
    );
    told.of("rms_torque_nm", "mean (RMS) torque over a typical duty", units::nm::amount(mean))
        .by(
            "out over the travel at the wanted rapids, back while cutting at the wanted feed and force, a pause of a tenth of that time: root mean square of the torque",
            "T = √(Σ T² t/Σ t)",
        )
        .with_each(inputs)
        .with("", "cutting force", units::n::amount(force), Origin::choice("cutting_force_n"))
        .with("", "cutting feed", units::m_per_min::amount(area.wanted_feed(told.axis)), Origin::choice("cutting_feed_m_per_min"))
        .from("RMS rule of servo makers; the duty is common practice, from memory", "Your own duty may be harder: many short moves heat more.")
}

fn kinetic(told: &Told) -> Derivation {
    let stop = told.figures.stop;
    let (picked, motors) = (told.picked, told.figures.motors);
    let turning = told.drive.turns_at(stop.speed);
    let moving = units::kg::amount(told.figures.moving_mass);
    let rotating = units::kg_m2::amount(told.load.rotating);
    let motor = Origin::part(picked.axes[told.axis].motor.part());
    told.of(
        "kinetic_energy_j",
        "energy of what moves and turns at rapids",
        units::j::amount(stop.kinetic),
    )
    .by(
        "of the moving mass and of what turns, of every motor",
        "E = m v²/2 + N J ω²/2",
    )
    .with("m", "moving mass", moving, told.figure("moving_mass_kg"))
    .with(
        "v",
        "rapids as wanted, or as far as they are reached",
        units::m_per_min::amount(stop.speed),
        told.figure("rapid_m_per_min"),
    )
    .with("J", "inertia that turns, of one motor", rotating, motor)
    .with(
        "ω",
        "speed of the motor",
        units::rpm::amount(turning),
        Origin::Here,
    )
    .with(
        "N",
        "motors",
        Amount::plain(f64::from(motors)),
        Origin::choice("gantry_drive"),
    )
    .from("mechanics", "")
}

fn fed_back(told: &Told) -> Derivation {
    let stop = told.figures.stop;
    let back = units::times::amount(told.drive.back_efficiency);
    let (a, origin) = told.wanted();
    told.of("brake_energy_j", "energy that a stop from rapids feeds back", units::j::amount(stop.fed_back))
        .by(
            "energy of what turns and push of what moves over the way of braking, less drag and the heat of stepper windings; not below zero",
            "E = N J ω²/2 + Q η' v t/2 - N M ω t/2 - N I² R t, t = v/a, Q = m a - N F + W",
        )
        .with("E₀", "energy before", units::j::amount(stop.kinetic), told.figure("kinetic_energy_j"))
        .with("Q", "push of what is braked, all motors together", units::n::amount(stop.push), Origin::Here)
        .with("η'", "efficiency of back-driving", back, Origin::Constant("2 - 1/η for ball screws, ISO 3408-5"))
        .with("a", "wanted acceleration", a, origin)
        .with("", "heat of stepper windings meanwhile", units::j::amount(stop.heat), Origin::Here)
        .with_each(told.burden())
        .from("mechanics; windings at 80 °C", "A servo's windings and the drivers take up a little more, which is not counted.")
}

/// Tells of what stops do to the supply.
pub fn note_rise(picked: &Picked, rise: &BusRise, notes: &mut impl Recorder) {
    notes.note(|| {
        let path = "power.supplies.motors.braking_volts";
        let supply = || Origin::part(picked.supply);
        let capacity = match picked.supply.capacitance {
            Some(_) => supply(),
            None => Origin::Constant("supplies of this size, common practice, from memory"),
        };
        let energy = "what X and Y feed back when they stop together, or Z where that is more; nothing where a clamp or driver takes it up";
        Derivation::of(path, "voltage of the motors' supply after a stop", units::v::amount(rise.volts))
            .by("the supply's output capacitors take up the energy", "V = √(V₀² + 2 E/C)")
            .with("V₀", "voltage of the supply", units::v::amount(picked.supply.volts), supply())
            .with("E", energy, units::j::amount(rise.energy), Origin::figure("axes.Y.brake_energy_j"))
            .with("C", "capacity of the supplies together", units::uf::amount(rise.capacitance), capacity)
            .from("energy of a capacitor", "What other motors draw at that moment helps; the drivers' own capacitors do too.")
    });
}
