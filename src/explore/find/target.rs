//! What a found build must do: a figure at least or at most, a material cut so well, a place
//! that it fits, a part that it has or has not.

use crate::assessment::{Assessment, FigureValue};
use crate::build::nearest;
use crate::catalogue::{Catalogue, Id};
use crate::explore::reading::{Measure, Reading};
use crate::machine::cutting::Verdict;
use crate::units::{self, Length};
use crate::words::Words as _;

/// One thing that is wanted.
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    /// A figure at least so good: at least so much, or at most, as the figure is better.
    Figure(Measure, f64),
    /// A material cut at least so well.
    Cuts(Id, Verdict),
    /// No wider than this, along X.
    Width(Length),
    /// No deeper than this, along Y.
    Depth(Length),
    /// A part is on the bill.
    Has(Id),
    /// A part is not.
    Without(Id),
}

/// What somebody typed, with what it means.
pub type Wish = Result<Target, String>;

/// How targets are typed.
pub const FORMS: &str = "rapids>=8, stiffness>=5, removal>=20, current<=12, cost<=5000, \
width<=1200, depth<=1300, cuts:aluminium>=with-care, has:PART or without:PART";

impl Target {
    /// Reads a target as people type it; see [`FORMS`]. Figures are in the units that they are
    /// shown in; lengths in mm.
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
        let at = text.find(">=").map(|place| (place, true));
        let at = at.or_else(|| text.find("<=").map(|place| (place, false)));
        let Some((place, least)) = at else {
            return Err(format!(
                "{text:?} is no target: expected one such as {FORMS}"
            ));
        };
        let (name, value) = (text[..place].trim(), text[place + 2..].trim());
        if let Some(material) = name.strip_prefix("cuts:") {
            return cuts(material.trim(), value, least, catalogue);
        }
        let number = || {
            let number: f64 = value
                .parse()
                .map_err(|_| format!("{name}: {value:?} is no number"))?;
            match number.is_finite() && number >= 0.0 {
                true => Ok(number),
                false => Err(format!("{name}: {value:?} is not a number from 0 up")),
            }
        };
        let wrong = |right: &str| Err(format!("{name} is better the {right}"));
        match name {
            "width" if !least => Ok(Self::Width(units::mm::of(number()?))),
            "depth" if !least => Ok(Self::Depth(units::mm::of(number()?))),
            "width" | "depth" => wrong("less it is: write <="),
            _ => {
                let Some(measure) = Measure::from_id(name) else {
                    let ids = Measure::ALL.iter().map(|one| one.id());
                    let ids = ids.chain(["width", "depth", "cuts:", "has:", "without:"]);
                    let hint = nearest::hint(name, ids);
                    return Err(format!(
                        "there is no figure {name:?}{hint}: expected one such as {FORMS}"
                    ));
                };
                match (more_is_better(measure), least) {
                    (true, false) => wrong("more it is: write >="),
                    (false, true) => wrong("less it is: write <="),
                    _ => Ok(Self::Figure(measure, number()?)),
                }
            }
        }
    }

    /// How it is typed.
    pub fn text(&self) -> String {
        match self {
            Self::Figure(measure, bound) => {
                let sign = if more_is_better(*measure) { ">=" } else { "<=" };
                format!("{}{sign}{bound}", measure.id())
            }
            Self::Cuts(material, verdict) => format!("cuts:{material}>={}", verdict.id()),
            Self::Width(most) => format!("width<={}", units::mm::from(*most)),
            Self::Depth(most) => format!("depth<={}", units::mm::from(*most)),
            Self::Has(part) => format!("has:{part}"),
            Self::Without(part) => format!("without:{part}"),
        }
    }

    /// Whether a build meets it.
    pub fn is_met(&self, assessment: &Assessment, reading: &Reading) -> bool {
        let footprint = &assessment.machine.geometry.footprint;
        match self {
            Self::Figure(measure, bound) => {
                let value = reading.value(*measure);
                value.is_some_and(|value| meets(&value, *bound))
            }
            Self::Cuts(material, verdict) => {
                let cut = assessment.machine.cutting.outlook(material);
                cut.is_some_and(|cut| cut.verdict >= *verdict)
            }
            Self::Width(most) => footprint.x <= *most,
            Self::Depth(most) => footprint.y <= *most,
            Self::Has(part) => assessment.bill.line(part.as_str()).is_some(),
            Self::Without(part) => assessment.bill.line(part.as_str()).is_none(),
        }
    }
}

/// Whether more of a figure is better.
pub(super) fn more_is_better(measure: Measure) -> bool {
    match measure {
        Measure::Rapids | Measure::Stiffness | Measure::Removal => true,
        Measure::Cost | Measure::Current => false,
    }
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

fn meets(value: &FigureValue, bound: f64) -> bool {
    match value.more_is_better {
        Some(false) => value.number <= bound,
        _ => value.number >= bound,
    }
}

fn known(part: &str, catalogue: &Catalogue) -> Result<Id, String> {
    let part = part.trim();
    match catalogue.part(part) {
        Some((_, known)) => Ok(known.id().clone()),
        None => Err(format!(
            "there is no part {part:?}; see `gantrywright parts`"
        )),
    }
}

fn cuts(material: &str, verdict: &str, least: bool, catalogue: &Catalogue) -> Wish {
    if !least {
        return Err(format!(
            "cuts:{material} is better the more it is: write >="
        ));
    }
    let materials = &catalogue.materials;
    let Some(found) = materials.values().find(|one| one.id.as_str() == material) else {
        let hint = nearest::hint(material, materials.values().map(|one| one.id.as_str()));
        return Err(format!("there is no material {material:?}{hint}"));
    };
    let Some(verdict) = Verdict::from_id(verdict) else {
        let ids: Vec<&str> = Verdict::ALL.iter().map(|one| one.id()).collect();
        return Err(format!(
            "cuts:{material}: expected one of {}",
            ids.join(", ")
        ));
    };
    Ok(Target::Cuts(found.id.clone(), verdict))
}
