//! Questions about the working area, the frame, and what is cut.

use super::{Bench, Offer, Question};
use crate::build::choices::{self, Kind, tidy};
use crate::build::{Axis, Build};
use crate::catalogue::material::Family;
use crate::catalogue::structure::Tube;
use crate::catalogue::{Id, Part as _, Step};
use crate::explore::reading::Reading;
use crate::explore::stiffer::stiffer;
use crate::order::Order as _;
use crate::units::{self, Length};

pub(super) const QUESTIONS: &[Question] = &[
    Question {
        id: "larger-area",
        step: Step::WorkingArea,
        title: "A larger working area?",
        why: "Longer travel costs rail, screw and tube, long screws whip sooner, and the longer beam bends more.",
        ask: larger,
    },
    Question {
        id: "tube",
        step: Step::WorkingArea,
        title: "A thicker wall, or a larger tube?",
        why: "A larger side stiffens far more than a thicker wall of the same mass, but takes more room under the rails.",
        ask: tube,
    },
    Question {
        id: "aluminium",
        step: Step::WorkingArea,
        title: "Will it cut aluminium?",
        why: "Metal asks for a stiff frame, a slow feed and a tool that clears its chips. It is counted in here, with what helps it most.",
        ask: aluminium,
    },
];

/// How many times as long as now the longer travel is, and the longest on offer.
const GROWTH: [f64; 2] = [1.25, 1.5];

/// Travels are rounded up to a multiple of this.
const ROUND_MM: f64 = 50.0;

/// A travel made longer; none where the choice takes no such length.
fn longer(build: &Build, axis: Axis, growth: f64) -> Option<Length> {
    let choice = choices::find(&format!("travel_{}_mm", axis.letter())).ok()?;
    let Kind::Number(kind) = choice.kind else {
        return None;
    };
    let now = tidy(units::mm::from(build.area.travel[axis]));
    let wanted = (now * growth / ROUND_MM).ceil() * ROUND_MM;
    (wanted <= kind.most).then(|| units::mm::of(wanted))
}

fn larger(bench: &Bench) -> Result<Vec<Offer>, String> {
    let ways: [(&[Axis], f64); 4] = [
        (&[Axis::X], GROWTH[0]),
        (&[Axis::Y], GROWTH[0]),
        (&[Axis::X, Axis::Y], GROWTH[0]),
        (&[Axis::X, Axis::Y], GROWTH[1]),
    ];
    let offers = ways.iter().filter_map(|(axes, growth)| {
        let mut build = bench.build.clone();
        for &axis in *axes {
            build.area.travel[axis] = longer(bench.build, axis, *growth)?;
        }
        let size = |axis| tidy(units::mm::from(build.area.travel[axis]));
        let title = format!("{} x {} mm", size(Axis::X), size(Axis::Y));
        Some(Offer::new(title, vec![build]))
    });
    let offers: Vec<Offer> = offers.collect();
    match offers.is_empty() {
        true => Err("It is as large already as the program plans.".to_owned()),
        false => Ok(offers),
    }
}

/// The tubes of the same outside size, the thinner wall first.
fn same_outside<'c>(bench: &Bench<'c>, tube: &Tube) -> Vec<&'c Tube> {
    let all = bench.catalogue.tubes.values();
    let mut alike: Vec<&Tube> = all
        .filter(|other| (other.height, other.width) == (tube.height, tube.width))
        .collect();
    alike.order_by(|a, b| a.wall.value.total_cmp(&b.wall.value));
    alike
}

/// The tube of the next larger side, as square or as narrow, with the nearest wall.
fn next_larger<'c>(bench: &Bench<'c>, tube: &Tube) -> Option<&'c Tube> {
    let square = |tube: &Tube| tube.height == tube.width;
    let larger = bench
        .catalogue
        .tubes
        .values()
        .filter(|other| other.height > tube.height && other.width >= tube.width)
        .filter(|other| square(other) == square(tube));
    larger.min_by(|a, b| {
        let off = |other: &Tube| (other.wall - tube.wall).value.abs();
        a.height
            .value
            .total_cmp(&b.height.value)
            .then(off(a).total_cmp(&off(b)))
            .then(a.width.value.total_cmp(&b.width.value))
    })
}

fn tube(bench: &Bench) -> Result<Vec<Offer>, String> {
    let area = &bench.build.area;
    let (Some(beam), Some(base)) = (
        bench.catalogue.tubes.get(&area.beam_tube),
        bench.catalogue.tubes.get(&area.base_tube),
    ) else {
        return Err("The build names a tube that does not exist.".to_owned());
    };
    let mut offers = Vec::new();
    let alike = same_outside(bench, beam);
    let thicker = alike.iter().find(|other| other.wall > beam.wall);
    let thinner = alike.iter().rev().find(|other| other.wall < beam.wall);
    for other in thinner.into_iter().chain(thicker) {
        let title = format!("beam of {}", other.short());
        offers.push(Offer::one(bench, title, |build| {
            build.area.beam_tube = other.id;
        }));
    }
    let beam_up = next_larger(bench, beam);
    if let Some(other) = beam_up {
        let title = format!("beam of {}", other.short());
        offers.push(Offer::one(bench, title, |build| {
            build.area.beam_tube = other.id;
        }));
    }
    if let (Some(beam), Some(base)) = (beam_up, next_larger(bench, base)) {
        offers.push(Offer::one(bench, "all tubes a size larger", |build| {
            build.area.beam_tube = beam.id;
            build.area.base_tube = base.id;
        }));
    }
    match offers.is_empty() {
        true => Err("The beam is of the only tube of its size already.".to_owned()),
        false => Ok(offers),
    }
}

/// The kinds of aluminium in the catalogue.
fn aluminium_ids(bench: &Bench) -> Vec<Id> {
    let all = bench.catalogue.materials.values();
    all.filter(|material| material.family == Family::Metal)
        .map(|material| material.id)
        .filter(|id| id.as_str().starts_with("aluminium"))
        .collect()
}

fn aluminium(bench: &Bench) -> Result<Vec<Offer>, String> {
    let known = aluminium_ids(bench);
    let Some(first) = known.first() else {
        return Err("The catalogue has no aluminium to cut.".to_owned());
    };
    let wanted = bench
        .build
        .area
        .materials
        .iter()
        .any(|id| known.contains(id));
    let add = |build: &mut Build| {
        if !wanted {
            build.area.materials.push(*first);
        }
    };
    let mut offers = Vec::new();
    if !wanted {
        offers.push(Offer::one(bench, "as it is, with aluminium", add));
    }
    if let Some(tool) = single_flute(bench) {
        offers.push(Offer::one(bench, "with a single-flute end mill", |build| {
            add(build);
            build.spindle.tool = tool;
        }));
    }
    // What stiffens its softest direction most for the money.
    let softest = Reading::of(bench.before).softest();
    let best = stiffer(bench, softest);
    for stiffer in best.iter().take(2) {
        let choice = stiffer.edit.choice;
        let value = choice.show_short(&stiffer.edit.value, bench.catalogue);
        offers.push(Offer::one(
            bench,
            format!("{}: {value}", choice.title),
            |build| {
                add(build);
                stiffer.edit.apply(build);
            },
        ));
    }
    match (offers.is_empty(), wanted) {
        (true, true) => Err("Aluminium is among what you cut, and no single change of the frame or the tool helps it.".to_owned()),
        _ => Ok(offers),
    }
}

/// The end mill with one flute whose diameter is nearest to that of the usual tool; none where
/// that is one already.
fn single_flute(bench: &Bench) -> Option<Id> {
    let mills = &bench.catalogue.end_mills;
    let now = mills.get(&bench.build.spindle.tool)?;
    if now.flutes == 1 {
        return None;
    }
    let off = |diameter: Length| (diameter - now.diameter).value.abs();
    let single = mills.values().filter(|mill| mill.flutes == 1);
    single
        .min_by(|a, b| off(a.diameter).total_cmp(&off(b.diameter)))
        .map(|mill| mill.id)
}
