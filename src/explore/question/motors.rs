//! Questions about motors and what feeds them.

use super::{Bench, Offer, Question, distinct};
use crate::build::choices::drive::GantryDrive;
use crate::build::{Axis, Build};
use crate::catalogue::motor::MotorKind;
use crate::catalogue::{Id, Motor, Step};
use crate::units;
use crate::words::Words as _;

pub(super) const QUESTIONS: &[Question] = &[
    Question {
        id: "motors",
        step: Step::Drive,
        title: "Stepper, closed loop or servo?",
        why: "A plain stepper is cheap and loses steps unnoticed; closed loop notices; a servo keeps its torque at speed and wants tuning.",
        ask: motors,
    },
    Question {
        id: "volts",
        step: Step::Drive,
        title: "36 or 48 volts?",
        why: "More volts keep a stepper's torque up at speed, as far as drivers and motors bear them.",
        ask: volts,
    },
    Question {
        id: "gantry-motors",
        step: Step::Drive,
        title: "One or two motors along Y?",
        why: "Two motors keep a wide gantry square and share the thrust; one is cheaper and lets it rack.",
        ask: gantry,
    },
];

/// The kinds of motor in place, each once.
fn kinds(bench: &Bench) -> Vec<MotorKind> {
    let mut found = Vec::new();
    for axis in Axis::EACH {
        let id = &bench.build.drive.motor[axis];
        let kind = Motor::of(bench.catalogue, id.as_str()).map(|motor| motor.kind());
        if let Some(kind) = kind.filter(|kind| !found.contains(kind)) {
            found.push(kind);
        }
    }
    found
}

/// The drivers that drive a kind of motor.
fn drivers(bench: &Bench, kind: MotorKind) -> Vec<Id> {
    let all = bench.catalogue.drivers.values();
    let fits = all.filter(|driver| driver.drives.contains(&kind));
    fits.map(|driver| driver.id).collect()
}

fn motors(bench: &Bench) -> Result<Vec<Offer>, String> {
    let now = kinds(bench);
    let others = MotorKind::ALL
        .iter()
        .filter(|kind| now.as_slice() != [**kind]);
    let offers = others.map(|&kind| {
        let parts = Motor::KINDS
            .iter()
            .flat_map(|&of| bench.catalogue.of_kind(of));
        let motors = parts.filter_map(|part| Motor::of(bench.catalogue, part.id().as_str()));
        let own = motors.filter(|motor| motor.kind() == kind);
        let own: Vec<Id> = own.map(|motor| *motor.part().id()).collect();
        let mut builds = Vec::new();
        for driver in drivers(bench, kind) {
            for motor in &own {
                // Z may want a brake that X and Y do without. Of steppers there are too many to
                // try all pairs, and none has one.
                let lifting = own
                    .iter()
                    .filter(|lift| *lift == motor || kind == MotorKind::Servo);
                builds.extend(lifting.map(|lift| everywhere(bench.build, motor, lift, &driver)));
            }
        }
        Offer::new(format!("{} on all axes", kind.title()), builds)
    });
    Ok(offers.collect())
}

/// The build with one motor on X and Y, one on Z, and one driver on every axis.
fn everywhere(build: &Build, motor: &Id, lifting: &Id, driver: &Id) -> Build {
    let mut build = build.clone();
    for axis in Axis::EACH {
        let motor = if axis == Axis::Z { lifting } else { motor };
        build.drive.motor[axis] = *motor;
        build.drive.driver[axis] = *driver;
    }
    build
}

fn volts(bench: &Bench) -> Result<Vec<Offer>, String> {
    let supplies = &bench.catalogue.supplies;
    let Some(now) = supplies.get(&bench.build.drive.supply) else {
        return Err("The build names a supply that does not exist.".to_owned());
    };
    if kinds(bench).iter().all(|kind| *kind == MotorKind::Servo) {
        return Err("Servos have the voltage that they are made for.".to_owned());
    }
    let found = distinct(supplies.values().map(|one| units::v::from(one.volts)));
    let volts = units::v::from(now.volts);
    let less = found.iter().rev().find(|other| **other < volts);
    let more = found.iter().find(|other| **other > volts);
    let offers = less.into_iter().chain(more).map(|&volts| {
        let alike = supplies
            .values()
            .filter(|supply| units::v::from(supply.volts) == volts && !supply.improvised);
        let builds = alike.map(|supply| {
            let mut build = bench.build.clone();
            build.drive.supply = supply.id;
            build
        });
        Offer::new(format!("supply of {volts} V"), builds.collect())
    });
    Ok(offers.collect())
}

fn gantry(bench: &Bench) -> Result<Vec<Offer>, String> {
    let two = bench.build.drive.gantry == GantryDrive::EachSide;
    let (title, gantry) = match two {
        true => ("one motor in the centre", GantryDrive::Centre),
        false => ("a motor on each side", GantryDrive::EachSide),
    };
    Ok(vec![Offer::one(bench, title, |build| {
        build.drive.gantry = gantry;
        build.control.home_each_side = !two;
    })])
}
