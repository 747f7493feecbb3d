//! The handful of numbers by which two builds are told apart at a glance, taken out of an
//! assessment, so that hundreds of tried builds can be kept side by side.

use rust_decimal::prelude::ToPrimitive as _;

use crate::assessment::{Assessment, FigureValue};
use crate::build::{Axis, PerAxis};
use crate::machine::limits::LimitName;
use crate::money::PriceRange;
use crate::rules::{Severity, topics};
use crate::units::{self, ElectricCurrent, Stiffness, Velocity, VolumeRate};
use crate::words::Words as _;

crate::words! {
    /// A number by which builds are weighed.
    Measure {
        Cost = "cost", "cost", "The likely total, freight, duty and tax included.";
        Rapids = "rapids", "rapids", "Speed without cutting, of the slower of X and Y. Z moves short ways and is planned apart.";
        Stiffness = "stiffness", "stiffness", "Force for each micrometre that the tool's tip gives, in its softest direction at the worst place.";
        Removal = "removal", "removal", "Most material that a minute removes in the hardest material you want to cut.";
        Current = "current", "mains current", "Current of the fullest circuit with everything on.";
    }
}

impl Measure {
    /// Whether more of it is better.
    pub fn more_is_better(self) -> bool {
        match self {
            Self::Rapids | Self::Stiffness | Self::Removal => true,
            Self::Cost | Self::Current => false,
        }
    }

    /// The unit in which it is told and wanted; that of the cost is the money of the build, whose
    /// code is not known at compile time.
    pub fn unit(self) -> &'static str {
        match self {
            Self::Cost => "",
            Self::Rapids => "m/min",
            Self::Stiffness => "N/µm",
            Self::Removal => "cm³/min",
            Self::Current => "A",
        }
    }

    /// Whether a number of it is as good as one that is wanted, or better.
    pub fn is_met(self, number: f64, wanted: f64) -> bool {
        match self.more_is_better() {
            true => number >= wanted,
            false => number <= wanted,
        }
    }
}

/// What is read off one assessment.
#[derive(Clone, Debug)]
pub struct Reading {
    /// The total, freight, duty and tax included, of all machines.
    pub cost: PriceRange,
    /// How many machines that is for.
    pub machines: u32,
    /// Speed without cutting of each axis, and what holds it back.
    pub rapids: PerAxis<(Velocity, LimitName)>,
    /// Stiffness at the tool's tip, at the worst place, in each direction.
    pub tip: PerAxis<Stiffness>,
    /// Most removal in the hardest wanted material; none where nothing is to be cut.
    pub removal: Option<VolumeRate>,
    /// Current of the fullest circuit with everything on.
    pub current: ElectricCurrent,
    /// What that circuit may carry for long.
    pub allowed: ElectricCurrent,
    /// Warnings that nobody accepted and that follow from no other, by severity, worst first.
    pub warnings: [usize; Severity::ALL.len()],
}

impl Reading {
    /// Reads an assessment.
    pub fn of(assessment: &Assessment) -> Self {
        let (machine, bill) = (&assessment.machine, &assessment.bill);
        let fullest = machine.electrics.fullest();
        let heads = topics::heads(&assessment.findings);
        let mut warnings = [0; Severity::ALL.len()];
        for head in heads.iter().filter(|head| head.counts()) {
            warnings[head.severity.index()] += 1;
        }
        Self {
            cost: bill.total,
            machines: bill.machines,
            rapids: PerAxis::from_fn(|axis| {
                let axis = &machine.axes[axis];
                (axis.rapid, axis.limited_by)
            }),
            tip: machine.stiffness.tip_worst,
            removal: machine.cutting.wished().map(|cut| cut.removal),
            current: fullest.map(|circuit| circuit.full()).unwrap_or_default(),
            allowed: fullest.map(|circuit| circuit.allowed).unwrap_or_default(),
            warnings,
        }
    }

    /// The slower of X and Y; X where they are alike.
    pub fn slower(&self) -> Axis {
        match self.rapids.y.0 < self.rapids.x.0 {
            true => Axis::Y,
            false => Axis::X,
        }
    }

    /// The direction in which the tip gives most; the first of equals.
    pub fn softest(&self) -> Axis {
        let less = |a: &Axis, b: &Axis| self.tip[*a].value.total_cmp(&self.tip[*b].value);
        Axis::EACH.into_iter().min_by(less).unwrap_or(Axis::X)
    }

    /// How full the fullest circuit is, in hundredths of what it may carry.
    pub fn fill(&self) -> f64 {
        if self.allowed.value <= 0.0 {
            return 0.0;
        }
        units::percent::from(self.current / self.allowed)
    }

    /// A number by its name; none where this machine has none.
    pub fn value(&self, measure: Measure) -> Option<FigureValue> {
        let (number, digits) = match measure {
            Measure::Cost => (self.cost.likely.to_f64()?, 0),
            Measure::Rapids => return Some(self.rapid(self.slower())),
            Measure::Stiffness => (units::n_per_um::from(self.tip[self.softest()]), 2),
            Measure::Removal => (units::cm3_per_min::from(self.removal?), 1),
            Measure::Current => (units::a::from(self.current), 1),
        };
        Some(FigureValue {
            number,
            unit: measure.unit(),
            digits,
            more_is_better: Some(measure.more_is_better()),
        })
    }

    /// The speed of one axis without cutting.
    pub fn rapid(&self, axis: Axis) -> FigureValue {
        FigureValue {
            number: units::m_per_min::from(self.rapids[axis].0),
            unit: Measure::Rapids.unit(),
            digits: 1,
            more_is_better: Some(Measure::Rapids.more_is_better()),
        }
    }

    /// By how much a number is better here than there, in its unit; below zero where it is
    /// worse, none where either machine has no such number.
    pub fn gain_over(&self, other: &Self, measure: Measure) -> Option<f64> {
        let (here, there) = (self.value(measure)?, other.value(measure)?);
        let more = here.number - there.number;
        Some(match here.more_is_better {
            Some(false) => -more,
            _ => more,
        })
    }
}
