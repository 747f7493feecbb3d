//! The value of a [`Figure`] that a choice moves, as rows of the screen show it.

use super::Assessment;
use crate::build::choices::control::OnCircuit;
use crate::build::{Axis, Figure};
use crate::machine::electrics::Electrics;
use crate::units::{self, Amount};

/// The value of a [`Figure`], as a number with its unit's symbol.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FigureValue {
    /// The number, in the unit of the figure.
    pub number: f64,
    /// The unit's symbol.
    pub unit: &'static str,
    /// Digits after the point that make sense.
    pub digits: usize,
    /// Whether more of it is better; none where it depends.
    pub more_is_better: Option<bool>,
}

impl FigureValue {
    fn new(amount: Amount, digits: usize, more_is_better: Option<bool>) -> Self {
        Self {
            number: amount.number,
            unit: amount.unit,
            digits,
            more_is_better,
        }
    }

    fn better_more(amount: Amount, digits: usize) -> Self {
        Self::new(amount, digits, Some(true))
    }

    fn better_less(amount: Amount, digits: usize) -> Self {
        Self::new(amount, digits, Some(false))
    }
}

/// The current of a circuit with everything on; none where nothing hangs on it.
fn current(electrics: &Electrics, which: OnCircuit) -> Option<FigureValue> {
    let mut circuits = electrics.circuits.iter();
    let circuit = circuits.find(|circuit| circuit.which == which)?;
    Some(FigureValue::better_less(
        units::a::amount(circuit.full()),
        1,
    ))
}

impl Assessment {
    /// A figure by its name; none for cost and warnings, which are no plain numbers, and for
    /// what this machine does not have.
    pub fn figure(&self, figure: Figure) -> Option<FigureValue> {
        match figure {
            Figure::Cost | Figure::Warnings => None,
            Figure::RapidX => Some(self.rapid(Axis::X)),
            Figure::RapidY => Some(self.rapid(Axis::Y)),
            Figure::RapidZ => Some(self.rapid(Axis::Z)),
            Figure::ThrustX => Some(self.thrust(Axis::X)),
            Figure::ThrustY => Some(self.thrust(Axis::Y)),
            Figure::ThrustZ => Some(self.thrust(Axis::Z)),
            Figure::StepX => Some(self.step(Axis::X)),
            Figure::StepY => Some(self.step(Axis::Y)),
            Figure::StepZ => Some(self.step(Axis::Z)),
            Figure::MassX => Some(self.mass(Axis::X)),
            Figure::MassY => Some(self.mass(Axis::Y)),
            Figure::MassZ => Some(self.mass(Axis::Z)),
            Figure::StiffnessX => Some(self.stiffness(Axis::X)),
            Figure::StiffnessY => Some(self.stiffness(Axis::Y)),
            Figure::StiffnessZ => Some(self.stiffness(Axis::Z)),
            Figure::Mass
            | Figure::Footprint
            | Figure::FirstMode
            | Figure::Removal
            | Figure::Job
            | Figure::Mains
            | Figure::FirstCircuit
            | Figure::SecondCircuit
            | Figure::Supply
            | Figure::Energy
            | Figure::Heat
            | Figure::Cables => self.of_the_whole(figure),
        }
    }

    /// A figure that is about no single axis.
    fn of_the_whole(&self, figure: Figure) -> Option<FigureValue> {
        let (machine, electrics) = (&self.machine, &self.machine.electrics);
        Some(match figure {
            Figure::Mass => FigureValue::new(units::kg::amount(machine.masses.total), 0, None),
            Figure::Footprint => {
                let floor = machine.geometry.footprint;
                FigureValue::better_less(units::m2::amount(floor.x * floor.y), 2)
            }
            Figure::FirstMode => {
                FigureValue::better_more(units::hz::amount(machine.stiffness.first_mode), 0)
            }
            Figure::Removal => {
                let best = machine.cutting.wished()?;
                FigureValue::better_more(units::cm3_per_min::amount(best.removal), 1)
            }
            Figure::Job => {
                let job = machine.job.as_ref()?;
                FigureValue::better_less(units::minute::amount(job.total), 0)
            }
            Figure::Mains => {
                let fullest = electrics.fullest();
                let fill = fullest.map_or(0.0, |circuit| units::percent::from(circuit.fill()));
                FigureValue::better_less(Amount::of(fill, "% of the circuit"), 0)
            }
            Figure::FirstCircuit => current(electrics, OnCircuit::First)?,
            Figure::SecondCircuit => current(electrics, OnCircuit::Second)?,
            Figure::Supply => {
                let fill = units::percent::from(electrics.supply.fill());
                FigureValue::better_less(Amount::of(fill, "% of the supply"), 0)
            }
            Figure::Energy => {
                FigureValue::better_less(units::kwh::amount(self.bill.yearly.energy), 0)
            }
            Figure::Heat => {
                let rise = units::kelvin::from(electrics.cabinet.rise?);
                FigureValue::better_less(Amount::of(rise, "K warmer"), 0)
            }
            Figure::Cables => {
                FigureValue::better_less(units::m::amount(machine.geometry.cable_length()), 1)
            }
            _ => return None,
        })
    }

    fn rapid(&self, axis: Axis) -> FigureValue {
        FigureValue::better_more(units::m_per_min::amount(self.machine.axes[axis].rapid), 1)
    }

    fn thrust(&self, axis: Axis) -> FigureValue {
        FigureValue::better_more(units::n::amount(self.machine.axes[axis].thrust), 0)
    }

    fn step(&self, axis: Axis) -> FigureValue {
        FigureValue::better_less(units::um::amount(self.machine.axes[axis].step), 1)
    }

    fn stiffness(&self, axis: Axis) -> FigureValue {
        FigureValue::better_more(
            units::n_per_um::amount(self.machine.stiffness.collet[axis]),
            1,
        )
    }

    fn mass(&self, axis: Axis) -> FigureValue {
        FigureValue::better_less(units::kg::amount(self.machine.masses.moving[axis]), 1)
    }
}
