//! Motion: times of moves against a linear programme, swing of a stepper against an
//! integrated equation, drives and servos against worked examples of catalogues.

use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::Axis;
use gantrywright::catalogue::{Catalogue, Id, LinearDrive};
use gantrywright::machine::drive::disc_inertia;
use gantrywright::machine::drive::toothed::tooth_limit;
use gantrywright::machine::motion::braking::lifted;
use gantrywright::machine::motion::ramp::Ramp;
use gantrywright::machine::motion::resonance::natural_frequency;
use gantrywright::units;

use crate::common;

fn close(found: f64, expected: f64, within: f64) {
    let off = (found / expected - 1.0).abs();
    assert!(off <= within, "{found}, expected {expected}");
}

fn rows(text: &str) -> impl Iterator<Item = Vec<f64>> + '_ {
    let rows = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    rows.map(|row| {
        let numbers = row.split(',').map(|cell| cell.parse().expect("a number"));
        numbers.collect()
    })
}

fn time(row: &[f64], mm: f64) -> f64 {
    let speed = units::m_per_min::of(row[1]);
    let ramp = Ramp::trapezoid(speed, units::m_per_s2::of(row[2])).expect("it moves");
    let ramp = ramp.building_up(units::s::of(row[3]));
    units::s::from(ramp.over(units::mm::of(mm)).time)
}

/// The shortest time under bounds of speed, acceleration and jerk, by scipy's linear
/// programme (motion.py beside this file makes it again). Its steps of time make it up to
/// 0.2 % too long.
#[test]
fn moves_take_the_shortest_time_that_the_bounds_allow() {
    let mut cases = 0;
    for row in rows(include_str!("traverse.csv")) {
        close(time(&row, row[0]), row[4], 0.002);
        cases += 1;
    }
    assert_eq!(cases, 35);
}

/// Uniformly accelerated motion, any text on mechanics: 1 m at 0.5 m/s and 1 m/s² takes
/// 1/0.5 + 0.5/1 = 2.5 s; 0.1 m does not reach the speed: 2 √(0.1/1) s.
#[test]
fn trapezoids_are_those_of_mechanics() {
    let row = [0.0, 30.0, 1.0, 0.0];
    close(time(&row, 1000.0), 2.5, 1e-12);
    close(time(&row, 100.0), 2.0 * 0.1f64.sqrt(), 1e-12);
}

/// The period of a rotor in the field of its standing motor, integrated by scipy (motion.py).
#[test]
fn a_stepper_swings_as_its_equation_of_motion_says() {
    for row in rows(include_str!("swing.csv")) {
        let (torque, inertia) = (units::nm::of(row[0]), units::kg_m2::of(row[1]));
        close(
            units::hz::from(natural_frequency(torque, inertia)),
            row[2],
            1e-3,
        );
    }
}

fn with_parts(change: impl Fn(&mut Catalogue), edits: &[(&str, &str)]) -> Assessment {
    let mut catalogue = common::catalogue();
    change(&mut catalogue);
    let build = common::build(&catalogue, edits);
    assess(&catalogue, &build, common::today()).expect("an assessment")
}

fn id(text: &str) -> Id {
    Id::new(text).expect("an id")
}

/// Published screw catalogues: T = F P/(2π η); 300 N and 1 000 N on a 5 mm lead at 0.9 take
/// 0.265258 and 0.884194 N·m. The torque of the cut, less that of running without it.
#[test]
fn a_force_on_a_screw_takes_the_catalogues_torque() {
    for (force, torque) in [("300", 0.265_258), ("1000", 0.884_194)] {
        let edits = [
            ("motor_x", "servo-400w"),
            ("driver_x", "driver-servo-400w"),
            ("drive_x", "ball-screw-16x5"),
            ("cutting_force_n", force),
        ];
        let duty = common::assessed(&common::catalogue(), &edits)
            .machine
            .axes
            .x
            .duty;
        let [_, run, _, cut, _] = duty.expect("a servo").stretches;
        close(units::nm::from(cut.torque - run.torque), torque, 1e-5);
    }
}

/// Back-driving by η' = 2 - 1/η (ISO 3408-5): 8 kg (78.48 N) on a 5 mm lead at 0.9 turn the
/// motor with 0.0555 N·m.
#[test]
fn a_weight_turns_the_screw_back_as_the_standard_says() {
    let assessment = common::assessed(&common::catalogue(), &[("drive_z", "ball-screw-16x5")]);
    let z = &assessment.machine.axes.z;
    let newtons = units::n::from(z.weight);
    close(
        units::nm::from(z.back_torque) / newtons,
        0.0555 / 78.48,
        1e-3,
    );
}

/// A worked servo sizing: 20 kg on a 10 mm lead are 0.5066e-4 kg·m², a screw of 15 mm mean
/// diameter and 1 m 0.39e-4, the rotor of 400 W 0.277e-4; in all 1.174e-4. With 1.27 N·m that
/// gives 10 820 rad/s², 17.22 m/s².
#[test]
fn a_worked_servo_sizing_comes_out() {
    let steel = units::kg_per_m3::of(7850.0);
    let screw = disc_inertia(units::mm::of(15.0), units::mm::of(1000.0), steel);
    close(units::kg_m2::from(screw), 0.39e-4, 0.01);
    let catalogue = common::catalogue();
    let rotor = catalogue.servos[&id("servo-400w")].rotor_inertia;
    close(units::kg_m2::from(rotor), 0.277e-4, 1e-9);
    let edits = [
        ("motor_x", "servo-400w"),
        ("driver_x", "driver-servo-400w"),
        ("drive_x", "ball-screw-16x10"),
    ];
    // The torque that each m/s² more asks, against the sizing's, for this axis's own mass and
    // screw; the sizing takes the mass without the screw's losses (efficiency 0.9).
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
    close(asked, inertia * 10_820.0 / 17.22, 1e-3);
}

/// Rated torque is power over speed: 200, 400 and 750 W at 3 000 rpm give 0.637, 1.273 and
/// 2.387 N·m. The shipped motors' data sheets round.
#[test]
fn rated_torque_is_power_over_speed() {
    let catalogue = common::catalogue();
    for (servo, torque) in [
        ("servo-200w", 0.637),
        ("servo-400w", 1.273),
        ("servo-750w", 2.387),
    ] {
        close(
            units::nm::from(catalogue.servos[&id(servo)].rated),
            torque,
            0.01,
        );
    }
}

/// Racks by ISO 53: travel a turn π m z, 62.831853, 78.539816 and 94.247780 mm with 20 teeth;
/// at 1:1 and 16 microsteps module 1.25 steps 24.54 µm. Belts: pitch by teeth.
#[test]
fn racks_and_belts_travel_their_pitch_circle() {
    let catalogue = common::catalogue();
    for (rack, travel) in [
        ("rack-m1", 62.831_853),
        ("rack-m1.25", 78.539_816),
        ("rack-m1.5", 94.247_780),
        ("belt-5m-15", 100.0),
    ] {
        let drive = LinearDrive::of(&catalogue, rack).expect("a drive");
        close(units::mm::from(drive.travel_a_turn()), travel, 1e-7);
    }
    let edits = [("drive_x", "rack-m1.25"), ("microsteps", "16")];
    let x = common::assessed(&catalogue, &edits).machine.axes.x;
    close(units::um::from(x.step), 24.54, 1e-3);
}

/// Belt makers' sheets, 5 mm pitch with steel cords: 15 mm, ten teeth in mesh, 300 rpm: 463.05 N.
#[test]
fn teeth_of_a_belt_shear_as_its_maker_says() {
    let catalogue = common::catalogue();
    let belt = &catalogue.belts[&id("belt-5m-15")];
    let at = |rpm: f64| tooth_limit(belt, units::rpm::of(rpm)).map(units::n::from);
    close(at(300.0).expect("known"), 463.05, 1e-4);
    close(at(0.0).expect("known"), 36.80 * 10.0 * 1.5, 1e-9);
    close(at(5000.0).expect("known"), 26.05 * 10.0 * 1.5, 1e-9);
    let glass = &catalogue.belts[&id("belt-3m-15")];
    assert!(tooth_limit(glass, units::rpm::of(300.0)).is_none());
}

/// Energy of a capacitor: 30 kg stopping from 15 m/min have 0.9375 J, which lift 48 V by
/// 16.6 V on 1 000 µF and by 4.0 V on 4 700 µF.
#[test]
fn a_stop_lifts_the_supply_as_a_capacitor_says() {
    let energy = units::j::of(0.5 * 30.0 * 0.25 * 0.25);
    close(units::j::from(energy), 0.9375, 1e-12);
    for (microfarads, rise) in [(1000.0, 16.6), (4700.0, 4.0)] {
        let after = lifted(units::v::of(48.0), energy, units::uf::of(microfarads));
        assert!((units::v::from(after) - 48.0 - rise).abs() < 0.05);
    }
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

/// Stepper makers' rule 32 √L: 1.5 mH bear 39.192 V, 3.0 mH 55.426 V, 8.0 mH 90.510 V.
#[test]
fn inductance_bounds_the_voltage_as_makers_say() {
    for (millihenries, volts) in [(1.5, 39.192), (3.0, 55.426), (8.0, 90.510)] {
        for (supply, fires) in [(volts - 0.01, false), (volts + 0.01, true)] {
            let change = |catalogue: &mut Catalogue| {
                let motor = catalogue.steppers.get_mut(&id("stepper-23-3.0"));
                motor.expect("it").inductance = units::mh::of(millihenries);
                let shelf = catalogue.supplies.get_mut(&id("supply-48v-600w"));
                shelf.expect("it").volts = units::v::of(supply);
            };
            let assessment = with_parts(change, &[]);
            let found = assessment.findings.iter().any(|finding| {
                finding.rule == "supply-above-motor-rule" && finding.axis == Some(Axis::X)
            });
            assert_eq!(found, fires, "{millihenries} mH at {supply} V");
        }
    }
}

/// The mean torque is a root mean square: of the stretches by their times, summed finely.
#[test]
fn the_mean_torque_is_the_root_mean_square() {
    let edits = [("motor_x", "servo-400w"), ("driver_x", "driver-servo-400w")];
    let duty = common::assessed(&common::catalogue(), &edits)
        .machine
        .axes
        .x
        .duty;
    let duty = duty.expect("a servo");
    let (mut squares, mut steps) = (0.0, 0.0);
    for stretch in duty.stretches {
        let count = (units::s::from(stretch.time) * 1e4).round();
        for _ in 0..count as u64 {
            squares += units::nm::from(stretch.torque).powi(2);
        }
        steps += count;
    }
    close(units::nm::from(duty.mean), (squares / steps).sqrt(), 1e-3);
}
