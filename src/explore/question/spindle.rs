//! Questions about the spindle.

use super::{Bench, Offer, Question, distinct};
use crate::build::Build;
use crate::catalogue::Step;
use crate::catalogue::spindle::{Cooling, Spindle, SpindleKind};
use crate::units;

pub(super) const QUESTIONS: &[Question] = &[
    Question {
        id: "spindle-power",
        step: Step::Spindle,
        title: "1.5 or 2.2 kW on this socket?",
        why: "A stronger spindle takes more current from the wall and weighs on Z. It only helps where the power holds the cut back.",
        ask: power,
    },
    Question {
        id: "cooling",
        step: Step::Spindle,
        title: "Cooled by air or by water?",
        why: "Water is quiet and cools at any speed, but needs pump and hoses, must not leak, and must not freeze.",
        ask: cooling,
    },
];

/// Builds with a spindle and all that belongs to it: clamp, base frequency, cooler, and each
/// inverter in turn.
fn with(bench: &Bench, spindle: &Spindle) -> Vec<Build> {
    let mut build = bench.build.clone();
    let chosen = &mut build.spindle;
    chosen.spindle = spindle.id;
    if let Some(rated) = spindle.rated_frequency() {
        chosen.base_frequency = rated;
    }
    chosen.speed = chosen
        .speed
        .max(spindle.least_speed)
        .min(spindle.greatest_speed);
    let clamps = bench.catalogue.spindle_clamps.values();
    let fits = clamps.filter(|clamp| clamp.bore == spindle.body);
    // Of the clamps with its bore the lightest that carries it; where none does, the strongest.
    let best = fits.max_by(|a, b| {
        let carries = |holds: units::Mass| holds.value.min(spindle.mass.value);
        let lighter = b.mass.value.total_cmp(&a.mass.value);
        carries(a.holds).total_cmp(&carries(b.holds)).then(lighter)
    });
    if let Some(clamp) = best {
        chosen.clamp = clamp.id;
    }
    let water = spindle.cooling == Cooling::Water;
    if !water {
        chosen.cooler = None;
        chosen.antifreeze = false;
    } else if chosen.cooler.is_none() {
        let coolers = bench.catalogue.coolers.values();
        let mut watched = coolers.filter(|cooler| cooler.watched);
        chosen.cooler = watched.next().map(|cooler| cooler.id);
        chosen.antifreeze = build.area.freezes;
    }
    if !spindle.needs_vfd() {
        build.spindle.vfd = None;
        return vec![build];
    }
    let inverters = bench.catalogue.vfds.values().map(|vfd| {
        let mut build = build.clone();
        build.spindle.vfd = Some(vfd.id);
        build
    });
    // The one in place may do, and is cheapest where it is bought already.
    let kept = build.spindle.vfd.is_some().then(|| build.clone());
    kept.into_iter().chain(inverters).collect()
}

/// The spindle that is chosen.
fn now<'c>(bench: &Bench<'c>) -> Result<&'c Spindle, String> {
    let found = bench.catalogue.spindles.get(&bench.build.spindle.spindle);
    found.ok_or_else(|| "The build names a spindle that does not exist.".to_owned())
}

fn power(bench: &Bench) -> Result<Vec<Offer>, String> {
    let now = now(bench)?;
    let all = || {
        let alike = bench.catalogue.spindles.values();
        alike.filter(|other| other.kind == now.kind)
    };
    let powers = distinct(all().map(|one| units::kw::from(one.power)));
    let kw = units::kw::from(now.power);
    let less = powers.iter().rev().find(|other| **other < kw);
    let more = powers.iter().find(|other| **other > kw);
    let offers = less.into_iter().chain(more).map(|&power| {
        let own = || all().filter(|one| units::kw::from(one.power) == power);
        let alike = own().any(|one| one.cooling == now.cooling);
        let spindles = own().filter(|one| !alike || one.cooling == now.cooling);
        let builds = spindles.flat_map(|spindle| with(bench, spindle));
        Offer::new(format!("spindle of {power} kW"), builds.collect())
    });
    let offers: Vec<Offer> = offers.collect();
    match offers.is_empty() {
        true => Err("The catalogue has no such spindle of another power.".to_owned()),
        false => Ok(offers),
    }
}

fn cooling(bench: &Bench) -> Result<Vec<Offer>, String> {
    let now = now(bench)?;
    if now.kind == SpindleKind::HandRouter {
        return Err(
            "A hand router has its own fan; only spindle motors come with water.".to_owned(),
        );
    }
    let all = bench.catalogue.spindles.values();
    let other: Vec<&Spindle> = all
        .filter(|other| (other.kind, other.power) == (now.kind, now.power))
        .filter(|other| other.cooling != now.cooling)
        .collect();
    let Some(first) = other.first() else {
        return Err("No spindle of this power is cooled the other way.".to_owned());
    };
    let title = match first.cooling {
        Cooling::Water => "the same cooled by water",
        Cooling::Fan => "the same cooled by air",
    };
    let builds = other.iter().flat_map(|spindle| with(bench, spindle));
    Ok(vec![Offer::new(title, builds.collect())])
}
