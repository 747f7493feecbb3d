//! One pure function over everything: [`assess`] takes the catalogue, a build and a day, and
//! gives machine, bill and findings as one value. Screen, commands, search and tests call it
//! and nothing else; no figure is computed anywhere else.

use jiff::civil::Date;
use uom::si::ratio::percent;

use crate::bill::Bill;
use crate::build::pick::Unresolved;
use crate::build::{Axis, Build, Figure, Picked};
use crate::catalogue::Catalogue;
use crate::explain::{Notes, Recorder, Silent};
use crate::machine::Machine;
use crate::money::MoneyError;
use crate::rules::cautions::{self, Caution};
use crate::rules::{self, Facts, Finding, Severity};
use crate::units;

pub mod figures;
pub mod json;

/// Everything that can be said of a build.
#[derive(Clone, Debug)]
pub struct Assessment {
    /// What the machine is and does.
    pub machine: Machine,
    /// What it takes and costs.
    pub bill: Bill,
    /// What is wrong with it, worst first.
    pub findings: Vec<Finding>,
    /// Where the work on it can hurt.
    pub cautions: Vec<&'static Caution>,
}

/// Why a build cannot be assessed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum AssessError {
    /// It names a part that does not exist.
    #[error(transparent)]
    Unresolved(#[from] Unresolved),
    /// Its prices cannot be stated in one currency.
    #[error("prices: {0}")]
    Money(#[from] MoneyError),
}

/// Assesses a build as of a day.
///
/// # Errors
/// [`AssessError`] where the build names unknown parts, or prices lack a rate.
pub fn assess(
    catalogue: &Catalogue,
    build: &Build,
    today: Date,
) -> Result<Assessment, AssessError> {
    assess_with(catalogue, build, today, &mut Silent)
}

/// The same, with the derivation of every figure.
///
/// # Errors
/// As [`assess`].
pub fn explain(
    catalogue: &Catalogue,
    build: &Build,
    today: Date,
) -> Result<(Assessment, Notes), AssessError> {
    let mut notes = Notes::default();
    let assessment = assess_with(catalogue, build, today, &mut notes)?;
    Ok((assessment, notes))
}

fn assess_with(
    catalogue: &Catalogue,
    build: &Build,
    today: Date,
    notes: &mut impl Recorder,
) -> Result<Assessment, AssessError> {
    let picked = Picked::new(catalogue, build)?;
    let machine = Machine::of(&picked, notes);
    let bill = Bill::of(&picked, &machine, notes)?;
    let facts = Facts {
        picked: &picked,
        machine: &machine,
        bill: &bill,
        today,
    };
    let findings = rules::findings(&facts);
    let cautions = cautions::of(&facts);
    Ok(Assessment {
        machine,
        bill,
        findings,
        cautions,
    })
}

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

impl Assessment {
    /// The findings that nobody accepted, of one severity.
    pub fn open(&self, severity: Severity) -> impl Iterator<Item = &Finding> {
        self.findings
            .iter()
            .filter(move |finding| finding.severity == severity && finding.counts())
    }

    /// Whether a danger stands, or a fault that nobody accepted: the exit code of `assess`.
    pub fn is_unsound(&self) -> bool {
        self.open(Severity::Danger).next().is_some() || self.open(Severity::Fault).next().is_some()
    }

    /// A figure by its name; none for cost and warnings, which are no plain numbers.
    pub fn figure(&self, figure: Figure) -> Option<FigureValue> {
        let (number, unit, digits, more_is_better) = match figure {
            Figure::Cost | Figure::Warnings => return None,
            Figure::RapidX => self.rapid(Axis::X),
            Figure::RapidY => self.rapid(Axis::Y),
            Figure::RapidZ => self.rapid(Axis::Z),
            Figure::ThrustX => self.thrust(Axis::X),
            Figure::ThrustY => self.thrust(Axis::Y),
            Figure::ThrustZ => self.thrust(Axis::Z),
            Figure::StepX => self.step(Axis::X),
            Figure::StepY => self.step(Axis::Y),
            Figure::StepZ => self.step(Axis::Z),
            Figure::MassX => self.mass(Axis::X),
            Figure::MassY => self.mass(Axis::Y),
            Figure::MassZ => self.mass(Axis::Z),
            Figure::Mass => (units::kg::from(self.machine.masses.total), "kg", 0, None),
            Figure::Footprint => {
                let floor = self.machine.geometry.footprint;
                (units::m2::from(floor.x * floor.y), "m²", 2, Some(false))
            }
            Figure::Mains => {
                let fill = self
                    .machine
                    .electrics
                    .fullest()
                    .map_or(0.0, |c| c.fill().get::<percent>());
                (fill, "% of the circuit", 0, Some(false))
            }
            Figure::Supply => {
                let supply = self.machine.electrics.supply;
                (
                    supply.fill().get::<percent>(),
                    "% of the supply",
                    0,
                    Some(false),
                )
            }
            Figure::Heat => {
                let rise = self.machine.electrics.rise?;
                (units::kelvin::from(rise), "K warmer", 0, Some(false))
            }
            Figure::StiffnessX => self.stiffness(Axis::X),
            Figure::StiffnessY => self.stiffness(Axis::Y),
            Figure::StiffnessZ => self.stiffness(Axis::Z),
            Figure::FirstMode => {
                let mode = self.machine.stiffness.first_mode;
                (units::hz::from(mode), "Hz", 0, Some(true))
            }
            Figure::Removal => {
                let best = self.machine.cutting.wished()?;
                (
                    units::cm3_per_min::from(best.removal),
                    "cm³/min",
                    1,
                    Some(true),
                )
            }
            Figure::Job => {
                let job = self.machine.job.as_ref()?;
                (units::minute::from(job.total), "min", 0, Some(false))
            }
            Figure::Cables => {
                let length = self.machine.geometry.cable_length();
                (units::m::from(length), "m", 1, Some(false))
            }
        };
        Some(FigureValue {
            number,
            unit,
            digits,
            more_is_better,
        })
    }

    fn rapid(&self, axis: Axis) -> (f64, &'static str, usize, Option<bool>) {
        (
            units::m_per_min::from(self.machine.axes[axis].rapid),
            "m/min",
            1,
            Some(true),
        )
    }

    fn thrust(&self, axis: Axis) -> (f64, &'static str, usize, Option<bool>) {
        (
            units::n::from(self.machine.axes[axis].thrust),
            "N",
            0,
            Some(true),
        )
    }

    fn step(&self, axis: Axis) -> (f64, &'static str, usize, Option<bool>) {
        (
            units::um::from(self.machine.axes[axis].step),
            "µm",
            1,
            Some(false),
        )
    }

    fn stiffness(&self, axis: Axis) -> (f64, &'static str, usize, Option<bool>) {
        (
            units::n_per_um::from(self.machine.stiffness.collet[axis]),
            "N/µm",
            1,
            Some(true),
        )
    }

    fn mass(&self, axis: Axis) -> (f64, &'static str, usize, Option<bool>) {
        (
            units::kg::from(self.machine.masses.moving[axis]),
            "kg",
            1,
            Some(false),
        )
    }
}
