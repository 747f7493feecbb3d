//! Motion: times of moves against a linear programme, swing of a stepper against an
//! integrated equation, servos and braking against worked examples of catalogues.

use gantrywright::machine::drive::disc_inertia;
use gantrywright::machine::motion::braking::lifted;
use gantrywright::machine::motion::duty::Duty;
use gantrywright::machine::motion::ramp::Ramp;
use gantrywright::machine::motion::resonance::natural_frequency;
use gantrywright::units;

use crate::checks::{Check, hold, lines, numbers};
use crate::common;

/// Where the model of a move ends.
const MOVE_ENDS: &str =
    "one axis from rest to rest; corners, look-ahead and the controller's own limits are left out";

/// Where the sizing of servos ends.
const SERVO_ENDS: &str = "drive and load as one stiff body; friction as the catalogue has it";

pub(crate) fn checks() -> Vec<Check> {
    vec![
        moves(),
        trapezoids(),
        swings(),
        servo_inertia(),
        servo_torque(),
        rated_torque(),
        mean_torque(),
        capacitor(),
    ]
}

#[test]
fn motion_holds() {
    hold(checks());
}

fn time(row: &[f64], mm: f64) -> f64 {
    let speed = units::m_per_min::of(row[1]);
    let ramp = Ramp::trapezoid(speed, units::m_per_s2::of(row[2])).expect("it moves");
    let ramp = ramp.building_up(units::s::of(row[3]));
    units::s::from(ramp.over(units::mm::of(mm)).time)
}

/// The shortest time under bounds of speed, acceleration and jerk, by scipy's linear
/// programme (traverse.py beside this file makes it again). Its steps of time make it up to
/// 0.2 % too long.
fn moves() -> Check {
    let mut check = Check::within("time of a move, trapezoid and S-ramp", 0.2)
        .source("shortest time by a linear programme, scipy 1.17.1 (traverse.py), itself up to 0.2 % long")
        .limits(MOVE_ENDS);
    for row in lines(include_str!("traverse.csv")).map(numbers) {
        check.case(format_args!("{row:?}"), time(&row, row[0]), row[4]);
    }
    check
}

/// Uniformly accelerated motion, any text on mechanics: 1 m at 0.5 m/s and 1 m/s² takes
/// 1/0.5 + 0.5/1 = 2.5 s; 0.1 m does not reach the speed: 2 √(0.1/1) = 0.632 455 5 s.
fn trapezoids() -> Check {
    let mut check = Check::within("time of a move by a trapezoid", 0.00001)
        .source("worked by hand from uniformly accelerated motion")
        .limits(MOVE_ENDS);
    let row = [0.0, 30.0, 1.0, 0.0];
    check.case("1 m", time(&row, 1000.0), 2.5);
    check.case("0.1 m", time(&row, 100.0), 0.632_455_5);
    check
}

/// The period of a rotor in the field of its standing motor, integrated by scipy (swing.py).
fn swings() -> Check {
    let mut check = Check::within("frequency at which a stepper's rotor swings", 0.1)
        .source("equation of motion, integrated by scipy 1.17.1 (swing.py)")
        .limits("small swings without damping; loads, couplings and microsteps move it");
    for row in lines(include_str!("swing.csv")).map(numbers) {
        let (torque, inertia) = (units::nm::of(row[0]), units::kg_m2::of(row[1]));
        let found = units::hz::from(natural_frequency(torque, inertia));
        check.case(format_args!("{} N·m", row[0]), found, row[2]);
    }
    check
}

/// A published worked servo sizing: a screw of 15 mm mean diameter and 1 m has
/// 0.39e-4 kg·m², the rotor of 400 W 0.277e-4.
fn servo_inertia() -> Check {
    let mut check = Check::within("inertia of a screw and of a servo's rotor", 1.0)
        .source("a published worked servo sizing, two figures")
        .limits("a screw as a smooth bar of mean diameter");
    let steel = units::kg_per_m3::of(7850.0);
    let screw = disc_inertia(units::mm::of(15.0), units::mm::of(1000.0), steel);
    check.case("screw", units::kg_m2::from(screw), 0.39e-4);
    let catalogue = common::catalogue();
    let rotor = catalogue.servos["servo-400w"].rotor_inertia;
    check.case("rotor", units::kg_m2::from(rotor), 0.277e-4);
    check
}

/// The same sizing: 20 kg on a 10 mm lead are 0.5066e-4 kg·m²; with 1.27 N·m its 1.174e-4
/// reach 10 820 rad/s², 17.22 m/s². Here: the torque that each m/s² more asks, for this
/// axis's own mass and screw; the sizing takes the mass without the screw's losses (0.9).
fn servo_torque() -> Check {
    let mut check = Check::within("torque for each m/s² on a screw", 0.1)
        .source("a published worked servo sizing, scaled by hand to the axis's mass and inertia")
        .limits(SERVO_ENDS);
    let edits = [
        ("motor_x", "servo-400w"),
        ("driver_x", "driver-servo-400w"),
        ("drive_x", "ball-screw-16x10"),
    ];
    let catalogue = common::catalogue();
    let at = |acceleration: &str| {
        let edits: Vec<_> = edits
            .iter()
            .copied()
            .chain([("acceleration_m_per_s2", acceleration)])
            .collect();
        common::assessed(&catalogue, &edits).machine.axes.x
    };
    let (one, two) = (at("1"), at("2"));
    let asked = units::nm::from(two.needed_torque - one.needed_torque);
    let mass = units::kg::from(one.carried_mass);
    let turning = units::kg_m2::from(one.rotating_inertia);
    let inertia = turning + mass * 0.5066e-4 / 20.0 / 0.9;
    check.case("X", asked, inertia * 10_820.0 / 17.22);
    check
}

/// Rated torque is power over speed: 200, 400 and 750 W at 3 000 rpm give 0.637, 1.273 and
/// 2.387 N·m.
fn rated_torque() -> Check {
    let mut check = Check::within("rated torque of the servos on the shelf", 1.0)
        .source("worked by hand: power over speed, 3000 rpm")
        .limits("data sheets round");
    let catalogue = common::catalogue();
    for (servo, torque) in [
        ("servo-200w", 0.637),
        ("servo-400w", 1.273),
        ("servo-750w", 2.387),
    ] {
        let rated = units::nm::from(catalogue.servos[servo].rated);
        check.case(servo, rated, torque);
    }
    check
}

/// The mean torque is a root mean square: of the stretches by their times, summed finely.
fn mean_torque() -> Check {
    let mut check = Check::within("mean torque of a servo over its work cycle", 0.1)
        .source("root mean square, summed in steps of a tenth of a millisecond")
        .limits("a typical work cycle; a hot day or a tight box ask for more room");
    for edits in [
        [("motor_x", "servo-400w"), ("driver_x", "driver-servo-400w")],
        [("motor_x", "servo-750w"), ("driver_x", "driver-servo-750w")],
    ] {
        let x = common::assessed(&common::catalogue(), &edits)
            .machine
            .axes
            .x;
        let duty: Duty = x.duty.expect("a servo");
        let (mut squares, mut steps) = (0.0, 0.0);
        for stretch in duty.stretches {
            let count = (units::s::from(stretch.time) * 1e4).round();
            for _ in 0..count as u64 {
                squares += units::nm::from(stretch.torque).powi(2);
            }
            steps += count;
        }
        let summed = f64::sqrt(squares / steps);
        check.case(edits[0].1, units::nm::from(duty.mean), summed);
    }
    check
}

/// Energy of a capacitor, C U²/2: 30 kg stopping from 15 m/min have 0.9375 J, which lift 48 V
/// by 16.6 V on 1 000 µF and by 4.0 V on 4 700 µF.
fn capacitor() -> Check {
    let mut check = Check::within_absolute("rise of a supply after a stop", 0.05, "V")
        .source("worked by hand from the energy of a capacitor, C U²/2")
        .limits("losses of motor and screw left out, which errs towards more");
    let energy = units::j::of(0.9375);
    for (microfarads, rise) in [(1000.0, 16.6), (4700.0, 4.0)] {
        let after = lifted(units::v::of(48.0), energy, units::uf::of(microfarads));
        let computed = units::v::from(after) - 48.0;
        check.case(format_args!("{microfarads} µF"), computed, rise);
    }
    check
}

/// What is fed back is never more than what moved, and frictionless it would be all of it.
#[test]
fn a_stop_feeds_back_no_more_than_it_had() {
    let servo = |acceleration: &str| {
        let edits = [
            ("motor_x", "servo-400w-dc"),
            ("driver_x", "driver-servo-dc"),
            ("rapid_wish_m_per_min", "10"),
            ("acceleration_m_per_s2", acceleration),
        ];
        common::assessed(&common::catalogue(), &edits)
            .machine
            .axes
            .x
            .stop
    };
    let (gentle, hard) = (servo("2"), servo("8"));
    assert!(gentle.fed_back < hard.fed_back && hard.fed_back < hard.kinetic);
    // Hard braking leaves friction no time.
    assert!(units::j::from(hard.fed_back) > 0.7 * units::j::from(hard.kinetic));
}
