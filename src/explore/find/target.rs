//! What a found build must do: a figure at least or at most, an axis so fast, a material cut so
//! well, a place that it fits, how many cautions may stand, a part that it has or has not.

use crate::assessment::{Assessment, FigureValue};
use crate::build::{Axis, nearest};
use crate::catalogue::{Catalogue, Id, PartKind};
use crate::explore::reading::{Measure, Reading};
use crate::machine::cutting::Verdict;
use crate::rules::Severity;
use crate::units::entry::{self, Unread};
use crate::units::{self, Length, Shown};
use crate::words::Words as _;

/// One thing that is wanted.
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    /// A figure at least so good: at least so much, or at most, as the figure is better.
    Figure(Measure, f64),
    /// One axis at least so fast without cutting, in the unit of [`Measure::Rapids`].
    Rapids(Axis, f64),
    /// A material cut at least so well.
    Cuts(Id, Verdict),
    /// No wider than this, along X.
    Width(Length),
    /// No deeper than this, along Y.
    Depth(Length),
    /// No more cautions than so many, those apart that are accepted or follow from another.
    Cautions(usize),
    /// A part is on the bill.
    Has(Id),
    /// A part is not.
    Without(Id),
}

/// What somebody typed, with what it means.
pub type Wish = Result<Target, String>;

/// How targets are typed. A sign of equality alone means "at least so good".
pub const FORMS: &str = "rapids>=8, rapids:Y>=8, stiffness>=5, removal>=20, current<=12, cost<=5000, \
width<=1200, depth<=1300, cautions<=3, cuts:aluminium-6082>=with-care, has:PART or without:PART";

/// How the rapids of one axis begin, before its letter.
const RAPIDS: &str = "rapids:";

/// Which way a target is bounded, as it was typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sign {
    Least,
    Most,
    /// Whichever is better.
    Better,
}

impl Sign {
    /// Whether it may stand where more is better, or where less is.
    fn fits(self, more_is_better: bool) -> bool {
        match self {
            Self::Least => more_is_better,
            Self::Most => !more_is_better,
            Self::Better => true,
        }
    }
}

impl Target {
    /// Reads a target as people type it; see [`FORMS`]. Lone numbers are in the units of
    /// [`Measure::unit`], lengths in mm; another unit of the kind may stand behind them.
    ///
    /// # Errors
    /// Says what is wrong and what would be right.
    pub fn parse(text: &str, catalogue: &Catalogue) -> Wish {
        let text = text.trim();
        if let Some(part) = text.strip_prefix("has:") {
            return known(part, catalogue).map(Self::Has);
        }
        if let Some(part) = text.strip_prefix("without:") {
            return known(part, catalogue).map(Self::Without);
        }
        let signs = [(">=", Sign::Least), ("<=", Sign::Most), ("=", Sign::Better)];
        let parted = signs
            .into_iter()
            .find_map(|(sign, means)| Some((text.split_once(sign)?, means)));
        let Some(((name, value), sign)) = parted else {
            return Err(unparted(text));
        };
        let (name, value) = (name.trim(), value.trim());
        if let Some(material) = name.strip_prefix("cuts:") {
            return cuts(material.trim(), value, sign, catalogue);
        }
        let bounded = |more: bool, unit: &str| match sign.fits(more) {
            true => number(name, value, unit),
            false => Err(wrong_way(name, more)),
        };
        if let Some(letter) = name.strip_prefix(RAPIDS) {
            let (axis, rapids) = (axis(letter.trim())?, Measure::Rapids);
            let bound = bounded(rapids.more_is_better(), rapids.unit())?;
            return Ok(Self::Rapids(axis, bound));
        }
        match name {
            "width" => Ok(Self::Width(units::mm::of(bounded(false, "mm")?))),
            "depth" => Ok(Self::Depth(units::mm::of(bounded(false, "mm")?))),
            "cautions" if !sign.fits(false) => Err(wrong_way(name, false)),
            "cautions" => match value.parse() {
                Ok(most) => Ok(Self::Cautions(most)),
                Err(_) => Err(format!("{name}: {value:?} is no whole number from 0 up")),
            },
            _ => {
                let Some(measure) = Measure::from_id(name) else {
                    return Err(unknown(name));
                };
                let bound = bounded(measure.more_is_better(), measure.unit())?;
                Ok(Self::Figure(measure, bound))
            }
        }
    }

    /// How it is typed.
    pub fn text(&self) -> String {
        match self {
            Self::Figure(measure, bound) => {
                let sign = if measure.more_is_better() { ">=" } else { "<=" };
                format!("{}{sign}{bound}", measure.id())
            }
            Self::Rapids(axis, bound) => format!("{RAPIDS}{}>={bound}", axis.id()),
            Self::Cuts(material, verdict) => format!("cuts:{material}>={}", verdict.id()),
            Self::Width(most) => format!("width<={}", units::mm::from(*most)),
            Self::Depth(most) => format!("depth<={}", units::mm::from(*most)),
            Self::Cautions(most) => format!("cautions<={most}"),
            Self::Has(part) => format!("has:{part}"),
            Self::Without(part) => format!("without:{part}"),
        }
    }

    /// Whether it is the limit of the money.
    pub fn is_money(&self) -> bool {
        matches!(self, Self::Figure(Measure::Cost, _))
    }

    /// Whether a build meets it.
    pub fn is_met(&self, assessment: &Assessment, reading: &Reading) -> bool {
        let footprint = &assessment.machine.geometry.footprint;
        match self {
            Self::Figure(measure, bound) => {
                let value = reading.value(*measure);
                value.is_some_and(|value| measure.is_met(value.number, *bound))
            }
            Self::Rapids(axis, bound) => {
                Measure::Rapids.is_met(reading.rapid(*axis).number, *bound)
            }
            Self::Cuts(material, verdict) => {
                assessment.machine.cutting.verdict(material) >= *verdict
            }
            Self::Width(most) => footprint.x <= *most,
            Self::Depth(most) => footprint.y <= *most,
            Self::Cautions(most) => cautions(reading) <= *most,
            Self::Has(part) => assessment.bill.line(part.as_str()).is_some(),
            Self::Without(part) => assessment.bill.line(part.as_str()).is_none(),
        }
    }
}

/// How many cautions count against a build: those that nobody accepted and that follow from no
/// other warning.
pub fn cautions(reading: &Reading) -> usize {
    reading.warnings[Severity::Caution.index()]
}

/// A figure in steps of the last digit that is shown, the better the greater: what cannot be
/// told apart on the screen is alike.
pub(super) fn steps(value: &FigureValue) -> i64 {
    let steps = (value.number * 10_f64.powi(value.digits as i32)).round() as i64;
    match value.more_is_better {
        Some(false) => -steps,
        _ => steps,
    }
}

/// A number from 0 up, with its unit or another of the same kind behind it, or without.
fn number(name: &str, value: &str, unit: &str) -> Result<f64, String> {
    let number = entry::read(value, unit, Shown::PLAIN).map_err(|error| match (error, unit) {
        (Unread::NoNumber, "") => format!("{name}: {value:?} is no number"),
        (Unread::NoNumber, _) => format!("{name}: {value:?} is no number of {unit}"),
        (other, _) => format!("{name}: {other}"),
    })?;
    match number.is_finite() && number >= 0.0 {
        // There is a zero below zero, which would be told as -0.
        true => Ok(number.abs()),
        false => Err(format!("{name}: {value:?} is not a number from 0 up")),
    }
}

fn wrong_way(name: &str, more_is_better: bool) -> String {
    match more_is_better {
        true => format!("{name} is better the more it is: write >="),
        false => format!("{name} is better the less it is: write <="),
    }
}

/// What is wrong with a text that has no sign. In most shells `>` and `<` lead to files where
/// they stand without quotes.
fn unparted(text: &str) -> String {
    let names = Measure::ALL.iter().map(|one| one.id());
    let is_name = names
        .chain(["width", "depth", "cautions"])
        .any(|name| name == text);
    let is_of = ["cuts:", RAPIDS].iter().any(|of| text.starts_with(of));
    match is_name || is_of {
        true => format!(
            "{text:?} does not say how much: expected one such as {FORMS}; on a command line \
             with quotes around it, since > alone leads to a file"
        ),
        false => format!("{text:?} is no target: expected one such as {FORMS}"),
    }
}

fn unknown(name: &str) -> String {
    let ids = Measure::ALL.iter().map(|one| one.id());
    let ids = ids.chain(["width", "depth", "cautions", "cuts:", "has:", "without:"]);
    let hint = nearest::hint(name, ids);
    format!("there is no figure {name:?}{hint}: expected one such as {FORMS}")
}

/// The axis of a letter, large or small.
fn axis(letter: &str) -> Result<Axis, String> {
    Axis::from_id(&letter.to_uppercase()).ok_or_else(|| {
        let ids: Vec<&str> = Axis::EACH.iter().map(|one| one.id()).collect();
        format!("{RAPIDS}{letter}: expected one of {}", ids.join(", "))
    })
}

fn known(part: &str, catalogue: &Catalogue) -> Result<Id, String> {
    let part = part.trim();
    if let Some((_, known)) = catalogue.part(part) {
        return Ok(*known.id());
    }
    let all = PartKind::ALL
        .iter()
        .flat_map(|kind| catalogue.of_kind(*kind));
    let hint = nearest::hint(part, all.map(|one| one.id().as_str()));
    Err(format!(
        "there is no part {part:?}{hint}; `gantrywright parts` lists all"
    ))
}

fn cuts(material: &str, verdict: &str, sign: Sign, catalogue: &Catalogue) -> Wish {
    if !sign.fits(true) {
        return Err(wrong_way(&format!("cuts:{material}"), true));
    }
    let materials = &catalogue.materials;
    let Some(found) = materials.values().find(|one| one.id.as_str() == material) else {
        let hint = nearest::or_all(material, materials.values().map(|one| one.id.as_str()));
        return Err(format!("there is no material {material:?}{hint}"));
    };
    let Some(verdict) = Verdict::from_id(verdict) else {
        let ids: Vec<&str> = Verdict::ALL.iter().map(|one| one.id()).collect();
        return Err(format!(
            "cuts:{material}: expected one of {}",
            ids.join(", ")
        ));
    };
    Ok(Target::Cuts(found.id, verdict))
}
