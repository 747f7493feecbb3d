//! One pure function over everything: [`assess`] takes the catalogue, a build and a day, and
//! gives machine, bill and findings as one value. Screen, commands, search and tests call it
//! and nothing else; no figure is computed anywhere else.

use jiff::civil::Date;

use crate::bill::Bill;
use crate::build::pick::Unresolved;
use crate::build::{Build, Picked};
use crate::catalogue::Catalogue;
use crate::explain::{Notes, Recorder, Silent};
use crate::machine::Machine;
use crate::money::MoneyError;
use crate::rules::safety_notes::{self, SafetyNote};
use crate::rules::{self, Facts, Finding, Severity};

pub mod figures;
pub mod json;
pub mod moved;
mod value;

pub use value::FigureValue;

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
    pub safety: Vec<&'static SafetyNote>,
}

impl Assessment {
    /// The findings of one severity that count: those that nobody accepted, and every danger.
    pub fn open(&self, severity: Severity) -> impl Iterator<Item = &Finding> {
        self.findings
            .iter()
            .filter(move |finding| finding.severity == severity && finding.counts())
    }

    /// The dangers, and the faults that nobody accepted.
    pub fn grave(&self) -> impl Iterator<Item = &Finding> {
        self.findings
            .iter()
            .filter(|finding| finding.severity <= Severity::Fault && finding.counts())
    }

    /// Whether a danger stands, or a fault that nobody accepted: the exit code of `assess`.
    pub fn is_unsound(&self) -> bool {
        self.grave().next().is_some()
    }

    /// Whether something hangs on a circuit that is not there, and nobody means to lay one.
    pub fn lacks_circuit(&self) -> bool {
        let mut found = self.findings.iter();
        found.any(|finding| finding.rule == rules::NO_SECOND_CIRCUIT)
    }

    /// Whether something hangs on a circuit that is still to be laid.
    pub fn lays_circuit(&self) -> bool {
        let mut circuits = self.machine.electrics.circuits.iter();
        circuits.any(|circuit| !circuit.there)
    }
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
    assess_with(catalogue, build, today, None, &mut Silent)
}

/// The same, faster, beside a build that differs little and its assessment: what follows from
/// the same as there is taken from there. Gives what [`assess`] gives, to the last bit.
///
/// Nothing is kept from one call to the next. What is taken over is compared by value with what
/// it was made of, so that a build that differs in all is assessed as well, only no faster. The
/// other assessment must be that of the other build, by the same catalogue, on the same day.
///
/// # Errors
/// As [`assess`].
pub fn assess_beside(
    catalogue: &Catalogue,
    build: &Build,
    today: Date,
    (other, known): (&Build, &Assessment),
) -> Result<Assessment, AssessError> {
    let other = Picked::new(catalogue, other).ok();
    let known = other.as_ref().map(|other| (other, known));
    assess_with(catalogue, build, today, known, &mut Silent)
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
    let assessment = note(catalogue, build, today, &mut notes)?;
    Ok((assessment, notes))
}

/// The same, into notes that may keep less than all.
///
/// # Errors
/// As [`assess`].
pub fn note(
    catalogue: &Catalogue,
    build: &Build,
    today: Date,
    notes: &mut Notes,
) -> Result<Assessment, AssessError> {
    assess_with(catalogue, build, today, None, notes)
}

fn assess_with(
    catalogue: &Catalogue,
    build: &Build,
    today: Date,
    known: Option<(&Picked, &Assessment)>,
    notes: &mut impl Recorder,
) -> Result<Assessment, AssessError> {
    let picked = Picked::new(catalogue, build)?;
    let machine = known.map(|(other, known)| (other, &known.machine));
    let machine = Machine::beside(&picked, machine, notes);
    let bill = known.map(|(other, known)| (other, &known.bill));
    let bill = Bill::beside(&picked, &machine, today, bill, notes)?;
    let mut assessment = Assessment {
        machine,
        bill,
        findings: Vec::new(),
        safety: Vec::new(),
    };
    let facts = Facts {
        picked: &picked,
        machine: &assessment.machine,
        bill: &assessment.bill,
        today,
    };
    let read = |figure| assessment.figure(figure).map(|value| value.number);
    let findings = rules::findings(&facts, &read);
    let safety = safety_notes::of(&facts);
    assessment.findings = findings;
    assessment.safety = safety;
    Ok(assessment)
}
