//! The electricity of a year: what really flows in usual work, and what stays switched on while
//! the next workpiece is set up.

use rust_decimal::Decimal;

use super::super::count::decimal;
use crate::build::Picked;
use crate::build::choices::control::OnCircuit;
use crate::machine::Machine;
use crate::machine::loads::{CircuitLoad, Consumer};
use crate::units::{self, Energy, Power, Time};

/// Hours of setting up for each hour of work: clamping, changing tools, measuring, sweeping
/// (common practice).
pub(super) const SETTING_UP: f64 = 0.5;

/// What one machine draws, and for how long.
pub(super) struct Drawn {
    /// What flows in usual work: circuit and load.
    pub(super) at_work: Vec<(OnCircuit, Consumer, Power)>,
    /// What stays on while the next workpiece is set up.
    pub(super) set_up: Vec<(OnCircuit, Consumer, Power)>,
    /// Hours of work on a working day.
    pub(super) hours: Time,
    /// Hours of setting up on a working day.
    pub(super) between: Time,
    /// Working days a year.
    pub(super) days: u32,
    /// Machines.
    pub(super) machines: u32,
}

impl Drawn {
    pub(super) fn of(picked: &Picked, machine: &Machine) -> Self {
        let area = &picked.build.area;
        let mut at_work = Vec::with_capacity(9);
        let mut set_up = Vec::with_capacity(4);
        for circuit in &machine.electrics.circuits {
            let in_turn = circuit.loads.iter().filter(|load| !load.at_once);
            let largest =
                in_turn.max_by(|a, b| a.power.typical.value.total_cmp(&b.power.typical.value));
            let runs = |load: &&CircuitLoad| {
                load.at_once || largest.is_some_and(|largest| largest.name == load.name)
            };
            for load in circuit.loads.iter().filter(runs) {
                at_work.push((circuit.which, load.name, load.power.typical));
            }
            for load in circuit.loads.iter().filter(|load| stays_on(load.name)) {
                set_up.push((circuit.which, load.name, load.power.idle));
            }
        }
        let hours = area.hours_a_day;
        let (half, rest) = (hours * SETTING_UP, units::hour::of(24.0) - hours);
        Self {
            at_work,
            set_up,
            hours,
            between: half.min(rest),
            days: area.days_a_year,
            machines: area.machines,
        }
    }

    /// The electricity of a year, of all machines.
    pub(super) fn energy(&self) -> Energy {
        let sum = |loads: &[(OnCircuit, Consumer, Power)]| -> Power {
            loads.iter().map(|(_, _, power)| *power).sum()
        };
        let a_day = sum(&self.at_work) * self.hours + sum(&self.set_up) * self.between;
        a_day * f64::from(self.days) * f64::from(self.machines)
    }
}

/// Whether a load stays switched on while nothing is cut: spindle, air and liquids rest then.
fn stays_on(name: Consumer) -> bool {
    match name {
        Consumer::MotorSupply
        | Consumer::ServoDrivers
        | Consumer::Controller
        | Consumer::Computer => true,
        Consumer::Cooler
        | Consumer::Coolant
        | Consumer::Compressor
        | Consumer::Spindle
        | Consumer::Extractor => false,
    }
}

/// Electricity as a meter counts it: in kilowatt-hours, to the thousandth.
pub(super) fn counted(energy: Energy) -> Decimal {
    decimal(units::kwh::from(energy))
}
