//! How far the tool is pushed aside: whether the frame is stiff enough for what it is to cut,
//! and whether another tube would make it so for nothing.

use super::cuts::larger_beams;
use super::remedy::{in_turn, number, options_where, price_of, set, travel};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::pick::TubeWall;
use crate::build::{Axis, Picked};
use crate::catalogue::material::Material;
use crate::catalogue::structure::Tube;
use crate::catalogue::{Id, Step};
use crate::machine::cutting::Verdict;
use crate::machine::section::Section;
use crate::machine::stiffness::MachineStiffness;
use crate::units::{self, Stiffness};
use crate::words::Words;

/// Stiffness that another tube must give besides to be worth a hint.
const WORTH: f64 = 1.15;

/// The shares of the Z travel that are tried where the tip is too soft.
const LESS_Z: [f64; 2] = [0.8, 0.6];

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "tip-too-soft",
        title: "The tool is pushed too far aside",
        severities: &[Severity::Caution],
        step: Step::WorkingArea,
        watches: "The collet's stiffness against what the hardest wanted material needs, and the tip's give under the cutting force against the wanted accuracy.",
        because: "A tool that is pushed aside cuts the wrong size, and one that springs back and forth chatters: it leaves waves and breaks edges.",
        from: "Springs in series at the worst place; at the collet what the material's data want: 2 N/µm for wood and plastics, 5 for aluminium, 10 for brass, 30 for steel (common practice, from memory; no standard).",
        instead: "Take a thicker Z plate, a larger beam, or a shorter or thicker tool; else shorten the Z travel, plan lighter cuts, or softer materials.",
        reads: &[
            Fact::Frame,
            Fact::Guides,
            Fact::Drives,
            Fact::Geometry,
            Fact::Motors,
            Fact::Spindle,
            Fact::Wishes,
        ],
        decided_by: None,
        check: tip,
        remedies: tip_remedies,
        example: Example {
            given: &[("materials", "softwood")],
            choice: "cutting_force_n",
            fires: "130",
            quiet: "120",
        },
    },
    Rule {
        id: "bigger-tube-beats-thicker-wall",
        title: "A larger, thinner tube is stiffer",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "The beam's tube against larger ones with a thinner wall on offer that are neither heavier nor dearer.",
        because: "Stiffness grows with the third power of a tube's side, and only in step with its wall: the same steel further out holds better.",
        from: "Stiffness at the collet in Y by springs in series, at least 15 % more; mass per metre by EN 10219-2:2006, Annex B.",
        instead: "Take the larger tube, where its wall still holds the rails' screws.",
        reads: &[
            Fact::Frame,
            Fact::Guides,
            Fact::Drives,
            Fact::Geometry,
            Fact::Motors,
            Fact::Bill,
        ],
        decided_by: None,
        check: larger_tube,
        remedies: larger_remedies,
        example: Example {
            given: &[
                ("beam_tube", "tube-80x80x5"),
                ("thread_strips", "yes"),
                ("plate", "plate-20"),
                ("travel_z_mm", "80"),
            ],
            choice: "travel_x_mm",
            fires: "2500",
            quiet: "2000",
        },
    },
];

/// The softer of X and Y.
fn softer(x: Stiffness, y: Stiffness) -> (Axis, Stiffness) {
    if y < x { (Axis::Y, y) } else { (Axis::X, x) }
}

/// The wished material that wants the stiffest machine.
fn hardest<'a>(facts: &Facts<'a>) -> Option<&'a Material> {
    let materials = facts.picked.materials.iter().copied();
    materials.max_by(|a, b| a.easily_from.value.total_cmp(&b.easily_from.value))
}

fn tip(facts: &Facts, report: &mut Report) {
    let stiffness = &facts.machine.stiffness;
    let (axis, collet) = softer(stiffness.collet_worst.x, stiffness.collet_worst.y);
    if let Some(material) = hardest(facts)
        && collet < material.easily_from
    {
        let verdict = facts.machine.cutting.verdict(&material.id);
        let goes = match verdict {
            Verdict::No => "it does not go, it would chatter".to_owned(),
            verdict => format!("it goes {}, deeper cuts chatter", verdict.title()),
        };
        let message = format!(
            "{}: {} at the collet, {} wants {}: {goes}",
            axis.title(),
            per_um(collet),
            material.title,
            per_um(material.easily_from),
        );
        report.say(Severity::Caution, message);
        return;
    }
    let area = &facts.picked.build.area;
    let (axis, tip) = softer(stiffness.tip_worst.x, stiffness.tip_worst.y);
    let aside = area.cutting_force / tip;
    if aside > area.tolerance {
        let [aside, wanted] = say::lengths(aside, area.tolerance, 3);
        let message = format!(
            "{}: {} push the tip of the usual tool {aside} aside; you want {wanted}",
            axis.title(),
            say::newtons(area.cutting_force),
        );
        report.say(Severity::Caution, message);
    }
}

/// Newtons a micrometre: `0.62 N/µm`.
fn per_um(stiffness: Stiffness) -> String {
    let number = units::n_per_um::from(stiffness);
    format!(
        "{} N/µm",
        say::at_most(number, if number < 10.0 { 2 } else { 0 })
    )
}

/// Thicker plates, larger beams, shorter or thicker tools; else less of Z, lighter cuts or looser
/// parts.
fn tip_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let area = &facts.picked.build.area;
    let stiffness = &facts.machine.stiffness;
    let (_, tip) = softer(stiffness.tip_worst.x, stiffness.tip_worst.y);
    let aside = units::mm::from(area.cutting_force / tip);
    let bearable = units::n::from(area.tolerance * tip);
    let shelf = &facts.picked.catalogue.plates;
    let thicker = |id: &Id| {
        shelf
            .get(id)
            .is_some_and(|plate| plate.thickness > facts.picked.plate.thickness)
    };
    let now = facts.picked.tool;
    let firmer = |id: &Id| {
        let tool = facts.picked.catalogue.end_mills.get(id);
        tool.is_some_and(|tool| tool.reach < now.reach || tool.diameter > now.diameter)
    };
    let less_z = |share: f64| travel(facts, Axis::Z, area.travel.z * share);
    in_turn([
        options_where(facts, "plate", thicker),
        larger_beams(facts),
        options_where(facts, "tool", firmer),
        in_turn(LESS_Z.map(less_z)),
        number(facts, "cutting_force_n", bearable, false),
        number(facts, "tolerance_mm", aside, true),
    ])
}

/// A tube with a larger side and a thinner wall that is neither heavier nor dearer.
fn beats_on_paper(facts: &Facts, now: &Tube, other: &Tube) -> bool {
    let mass = |tube: &Tube| Section::of(tube).linear_mass();
    let larger = other.height >= now.height
        && other.width >= now.width
        && (other.height > now.height || other.width > now.width)
        && other.wall < now.wall;
    if !larger || mass(other) > mass(now) {
        return false;
    }
    match (price_of(facts, &other.id), price_of(facts, &now.id)) {
        (Some(other), Some(now)) => other <= now,
        _ => false,
    }
}

/// The stiffest such tube with what it gives at the collet in Y, where it is worth a hint.
fn better<'a>(facts: &Facts<'a>) -> Option<(&'a Tube, Stiffness)> {
    let picked = facts.picked;
    let shelf = picked.catalogue.tubes.values();
    let on_paper = shelf.filter(|tube| beats_on_paper(facts, picked.beam_tube, tube));
    let with = |tube: &'a Tube| {
        let other = Picked {
            beam_tube: tube,
            beam_wall: TubeWall::named(tube),
            ..picked.clone()
        };
        let machine = facts.machine;
        let collet = MachineStiffness::collet_of(&other, &machine.geometry, &machine.axes);
        (tube, collet.y)
    };
    let stiffest = on_paper
        .map(with)
        .max_by(|a, b| a.1.value.total_cmp(&b.1.value))?;
    (stiffest.1 >= modelled_now(facts) * WORTH).then_some(stiffest)
}

/// What the model says at the collet in Y: other tubes are known by the model alone.
fn modelled_now(facts: &Facts) -> Stiffness {
    let stiffness = &facts.machine.stiffness;
    stiffness.modelled.y.unwrap_or(stiffness.collet.y)
}

fn larger_tube(facts: &Facts, report: &mut Report) {
    if let Some((tube, stiffness)) = better(facts) {
        let now = modelled_now(facts);
        let message = format!(
            "Y: {} as beam gives {} at the collet instead of {}, for no more mass and money",
            tube.title,
            per_um(stiffness),
            per_um(now),
        );
        report.say(Severity::Hint, message);
    }
}

fn larger_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    better(facts).map_or_else(Vec::new, |(tube, _)| {
        set(facts, "beam_tube", tube.id.as_str())
    })
}
