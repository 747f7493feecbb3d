//! How a servo's mean torque comes about, and what a stop feeds back.

use crate::build::Picked;
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::axis::notes::Told;
use crate::machine::motion::braking::BusRise;
use crate::units::{self, Amount};

pub(super) fn mean_torque(told: &Told) -> Derivation {
    let stretches = told.figures.duty.iter().flat_map(|duty| duty.stretches);
    let inputs = stretches.flat_map(|stretch| {
        let input = |symbol, value| Input {
            symbol,
            title: stretch.title.to_owned(),
            value,
            origin: Origin::Here,
        };
        [
            input("T", units::nm::amount(stretch.torque).into()),
            input("t", units::s::amount(stretch.time).into()),
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

pub(super) fn kinetic(told: &Told) -> Derivation {
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

pub(super) fn fed_back(told: &Told) -> Derivation {
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
