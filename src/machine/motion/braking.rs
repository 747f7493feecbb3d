//! What a stop feeds back: a braking motor is a generator, and what friction, drives and
//! windings do not take up lifts the voltage of the supply's capacitor.
//!
//! Of one axis: linear energy that reaches the screw through its efficiency of back-driving,
//! and the energy of what turns, less friction, drag and the heat of stepper windings while
//! it brakes at the wanted acceleration. Of the supply: V² = V₀² + 2 E/C.

use std::f64::consts::TAU;

use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::Motor;
use crate::catalogue::motor::FeedKind;
use crate::machine::axis::AxisFigures;
use crate::machine::drive::DriveFigures;
use crate::machine::feed::set_current;
use crate::machine::load::Load;
use crate::machine::stepper::HOT_COPPER;
use crate::units::{self, Capacitance, ElectricPotential, Energy, Force, Mass, Power, Velocity};

/// Capacity that takes up what braking motors feed back, where the supply's data say nothing
/// (common practice, from memory).
pub fn usual_capacitance() -> Capacitance {
    units::uf::of(4700.0)
}

/// The energy of one stop from rapids.
#[derive(Clone, Copy, Debug)]
pub struct Stop {
    /// Speed from which it brakes: rapids as wanted, or as far as the axis reaches them.
    pub speed: Velocity,
    /// Energy of what moves and turns.
    pub kinetic: Energy,
    /// Force of the moving mass on the drive while it brakes, friction taken off; below zero
    /// where friction alone brakes harder.
    pub push: Force,
    /// Heat of the stepper's windings while it brakes; nothing for servos.
    pub heat: Energy,
    /// Energy that reaches the supply.
    pub fed_back: Energy,
}

impl Stop {
    pub(in crate::machine) fn of(
        picked: &Picked,
        axis: Axis,
        load: &Load,
        drive: &DriveFigures,
        moving: Mass,
        rapid: Velocity,
    ) -> Self {
        let area = &picked.build.area;
        let speed = rapid.min(area.wanted_rapids(axis));
        let motors = f64::from(picked.motors(axis));
        let (v, a) = (
            units::m_per_min::from(speed) / 60.0,
            units::m_per_s2::from(area.acceleration),
        );
        let omega = units::rpm::from(drive.turns_at(speed)) * TAU / 60.0;
        let time = v / a;
        let mass = units::kg::from(moving);
        let turning = 0.5 * motors * units::kg_m2::from(load.rotating) * omega * omega;
        // Downwards on Z: the weight adds to what must be stopped.
        let push = mass * a - motors * units::n::from(load.friction) + units::n::from(load.weight);
        let through = match push > 0.0 {
            true => units::share::from(drive.back_efficiency),
            false => 1.0 / units::share::from(drive.efficiency),
        };
        let drag = motors * units::nm::from(drive.drag) * omega;
        let heat = units::w::from(winding_heat(picked, axis)) * motors * time;
        let linear = push * through * v * time / 2.0;
        let left = linear + turning - drag * time / 2.0 - heat;
        Self {
            speed,
            kinetic: units::j::of(0.5 * mass * v * v + turning),
            push: units::n::of(push),
            heat: units::j::of(heat),
            fed_back: units::j::of(left.max(0.0)),
        }
    }
}

/// Heat of one motor's windings: both phases of a stepper carry their sine current, hot; a
/// servo's resistance is not in its data, so nothing is taken off for it.
fn winding_heat(picked: &Picked, axis: Axis) -> Power {
    match picked.axes[axis].motor {
        Motor::Servo(_) => units::w::of(0.0),
        Motor::Stepper(motor) => {
            let current = set_current(picked, axis);
            current * current * motor.resistance * HOT_COPPER
        }
    }
}

/// What stops do to the motors' supply.
#[derive(Clone, Copy, Debug)]
pub struct BusRise {
    /// Energy of X and Y when they stop together, or of Z where that is more.
    pub energy: Energy,
    /// Capacity that takes it up.
    pub capacitance: Capacitance,
    /// Voltage afterwards.
    pub volts: ElectricPotential,
    /// The least that driver or supply bear; none where no motor hangs on the supply.
    pub bears: Option<ElectricPotential>,
}

impl BusRise {
    /// The rise of a build's supply.
    pub fn of(picked: &Picked, axes: &PerAxis<AxisFigures>) -> Self {
        let supply = picked.supply;
        let fed = PerAxis::from_fn(|axis| match takes_up(picked, axis) {
            true => 0.0,
            false => units::j::from(axes[axis].stop.fed_back),
        });
        let energy = (fed.x + fed.y).max(fed.z);
        let count = f64::from(picked.build.drive.supply_count);
        let capacitance = supply
            .capacitance
            .map_or_else(usual_capacitance, |c| c * count);
        let energy = units::j::of(energy);
        Self {
            energy,
            capacitance,
            volts: lifted(supply.volts, energy, capacitance),
            bears: bears(picked),
        }
    }
}

/// Whether a braking resistor or the driver takes up what an axis feeds back.
pub(super) fn takes_up(picked: &Picked, axis: Axis) -> bool {
    let driver = picked.axes[axis].driver;
    let clamped = picked.build.drive.braking_clamp;
    clamped || driver.clamps_braking || driver.feed != FeedKind::Dc
}

/// The voltage of a capacitor that has taken up an energy: V² = V₀² + 2 E/C.
pub fn lifted(
    volts: ElectricPotential,
    energy: Energy,
    capacitance: Capacitance,
) -> ElectricPotential {
    let before = units::v::from(volts);
    let farads = units::uf::from(capacitance) / 1e6;
    units::v::of((before * before + 2.0 * units::j::from(energy) / farads).sqrt())
}

/// The least voltage that a driver on the supply bears, or at which the supply switches off.
fn bears(picked: &Picked) -> Option<ElectricPotential> {
    let drivers = Axis::EACH.map(|axis| picked.axes[axis].driver);
    let on_it = drivers.iter().filter(|driver| driver.feed == FeedKind::Dc);
    let least = on_it
        .map(|driver| driver.greatest_voltage)
        .reduce(|a, b| a.min(b))?;
    Some(picked.supply.trip.map_or(least, |trip| trip.min(least)))
}
