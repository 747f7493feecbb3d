//! How a servo's mean torque comes about, and what a stop feeds back.

use crate::build::{Axis, PerAxis, Picked};
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::axis::AxisFigures;
use crate::machine::axis::notes::{Told, torque};
use crate::machine::axis_path;
use crate::machine::motion::braking::{BusRise, takes_up, usual_capacitance};
use crate::units::{self, Amount};
use crate::words::Words as _;

pub(super) fn mean_torque(told: &Told) -> Derivation {
    let stretches = told.figures.duty.iter().flat_map(|duty| duty.stretches);
    let inputs = stretches.flat_map(|stretch| {
        let input = |symbol, value| Input::new(symbol, stretch.title, value, Origin::Here);
        [
            input("T_i", units::nm::amount(stretch.torque)),
            input("t_i", units::s::amount(stretch.time)),
        ]
    });
    let mean = told
        .figures
        .duty
        .map_or(units::nm::of(0.0), |duty| duty.mean);
    let area = &told.picked.build.area;
    let (feed, force) = (area.wanted_feed(told.axis), area.cutting_force);
    told.of("rms_torque_nm", "mean (RMS) torque over a typical work cycle", units::nm::amount(mean))
        .by(
            "out over the travel s at the wanted rapids or as far as they are reached, back while cutting at the feed v_c against the force F_c, a pause of a tenth of that time: root mean square of the torque",
            "T = √(Σ T_i² t_i/Σ t_i)",
        )
        .with_each(inputs)
        .with("s", "travel", units::mm::amount(told.figures.travel), told.figure("travel_mm"))
        .with("F_c", "cutting force", units::n::amount(force), Origin::choice("cutting_force_n"))
        .with("v_c", "wanted cutting feed, a third of it on Z", units::m_per_min::amount(feed), Origin::choice("cutting_feed_m_per_min"))
        .from("RMS rule of servo makers; the work cycle is common practice, from memory", "Your own work may be harder: many short moves heat more.")
}

/// The speed from which the axis brakes, and where it comes from.
fn speed(told: &Told) -> Input {
    let speed = told.figures.stop.speed;
    let origin = match (speed < told.figures.rapid, told.axis) {
        (false, _) => told.figure("rapid_m_per_min"),
        (true, Axis::Z) => Origin::choice("rapid_wish_z_m_per_min"),
        (true, Axis::X | Axis::Y) => Origin::choice("rapid_wish_m_per_min"),
    };
    let title = "rapids as wanted, or as far as they are reached";
    Input::new("v", title, units::m_per_min::amount(speed), origin)
}

/// How many motors the axis has.
fn motors(told: &Told) -> Input {
    let count = Amount::plain(f64::from(told.figures.motors));
    let origin = match told.axis {
        Axis::Y => Origin::choice("gantry_drive"),
        Axis::X | Axis::Z => Origin::Plan(told.picked.frame.id.to_string()),
    };
    Input::new("N", "motors of the axis", count, origin)
}

pub(super) fn kinetic(told: &Told) -> Derivation {
    let stop = told.figures.stop;
    let turning = units::rpm::amount(told.drive.turns_at(stop.speed));
    let moving = units::kg::amount(told.figures.moving_mass);
    told.of(
        "kinetic_energy_j",
        "energy of what moves and turns at rapids",
        units::j::amount(stop.kinetic),
    )
    .by(
        "of the moving mass and of what turns, of every motor",
        "E = M_m v²/2 + N J ω²/2",
    )
    .with("M_m", "moving mass", moving, told.figure("moving_mass_kg"))
    .with_each([speed(told)])
    .with_each(told.burden(&["J"]))
    .with("ω", "speed of the motor", turning, Origin::Here)
    .with_each([motors(told)])
    .from("mechanics", "")
}

pub(super) fn fed_back(told: &Told) -> Derivation {
    let stop = told.figures.stop;
    let (a, origin) = told.wanted();
    let turning = units::rpm::amount(told.drive.turns_at(stop.speed));
    let moving = units::kg::amount(told.figures.moving_mass);
    let figure = told
        .of(
            "brake_energy_j",
            "energy that a stop from rapids feeds back",
            units::j::amount(stop.fed_back),
        )
        .with("M_m", "moving mass", moving, told.figure("moving_mass_kg"))
        .with_each([speed(told)])
        .with("a", "wanted acceleration", a, origin)
        .with("ω", "speed of the motor", turning, Origin::Here)
        .with(
            "Q",
            "force of what is braked, all motors together",
            units::n::amount(stop.push),
            Origin::Here,
        )
        .with(
            "H",
            "heat of stepper windings meanwhile: I² R of two phases",
            units::j::amount(stop.heat),
            Origin::Here,
        )
        .with_each([motors(told)])
        .with_each(told.burden(&["J", "M", "F", "W"]));
    let figure = match units::n::from(stop.push) > 0.0 {
        true => figure
            .by(
                "energy of what turns, and the force of what moves over the way of braking, less drag and the heat of stepper windings; not below zero",
                "E = max(N J ω²/2 + Q η' v t/2 - N M ω t/2 - H, 0), t = v/a, Q = M_m a - N F + W",
            )
            .with("η'", "efficiency of back-driving", units::times::amount(told.drive.back_efficiency), torque::back_origin(told)),
        false => figure
            .by(
                "energy of what turns, less what friction takes over the way of braking, less drag and the heat of stepper windings; not below zero",
                "E = max(N J ω²/2 + Q v t/(2 η) - N M ω t/2 - H, 0), t = v/a, Q = M_m a - N F + W",
            )
            .with_each(told.burden(&["η"])),
    };
    figure.from(
        "mechanics; windings at 80 °C",
        "A servo's windings and the drivers take up a little more, which is not counted.",
    )
}

/// Tells of what stops do to the supply.
pub fn note_rise(
    picked: &Picked,
    axes: &PerAxis<AxisFigures>,
    rise: &BusRise,
    notes: &mut impl Recorder,
) {
    notes.note(|| {
        let path = "power.supplies.motors.braking_volts";
        let supply = || Origin::part(picked.supply);
        let (one, from) = match picked.supply.capacitance {
            Some(one) => (one, supply()),
            None => (usual_capacitance(), Origin::Constant("supplies of this size, common practice, from memory")),
        };
        let symbols = PerAxis { x: "E_X", y: "E_Y", z: "E_Z" };
        let open = Axis::EACH.into_iter().filter(|axis| !takes_up(picked, *axis));
        let each = open.map(|axis| {
            let title = format!("what {} feeds back", axis.title());
            let energy = units::j::amount(axes[axis].stop.fed_back);
            let path = axis_path(axis, "brake_energy_j");
            Input::new(symbols[axis], title, energy, Origin::figure(path))
        });
        // A usual capacity stands for all supplies together.
        let count = match picked.supply.capacitance {
            Some(_) => Input::new("n", "supplies", Amount::plain(f64::from(picked.build.drive.supply_count)), Origin::choice("supply_count")),
            None => Input::new("n", "taken once, however many supplies there are", Amount::plain(1.0), Origin::Here),
        };
        Derivation::of(path, "voltage of the motors' supply after a stop", units::v::amount(rise.volts))
            .by(
                "the supply's output capacitors take up what X and Y feed back when they stop together, or Z where that is more; an axis counts as nothing where a braking resistor or its driver takes it up",
                "V = √(V₀² + 2 E/(n C)), E = max(E_X + E_Y, E_Z)",
            )
            .with("V₀", "voltage of the supply", units::v::amount(picked.supply.volts), supply())
            .with_each(each)
            .with("E", "energy that comes back", units::j::amount(rise.energy), Origin::Here)
            .with("C", "output capacity of one supply", units::uf::amount(one), from)
            .with_each([count])
            .from("energy of a capacitor", "What other motors draw at that moment helps; the drivers' own capacitors do too.")
    });
}
