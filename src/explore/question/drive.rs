//! Questions about rails and screws.

use super::{Bench, Offer, Question, distinct};
use crate::build::{Axis, Build};
use crate::catalogue::guide::{Carriage, Rail};
use crate::catalogue::linear_drive::BallScrew;
use crate::catalogue::{Id, Step};
use crate::units;
use crate::words::Words as _;

pub(super) const QUESTIONS: &[Question] = &[
    Question {
        id: "lead",
        step: Step::Drive,
        title: "A lead of 5 or of 10 mm?",
        why: "A long lead is fast before the screw whips; a short one pushes harder, steps finer and holds Z up by itself sooner.",
        ask: lead,
    },
    Question {
        id: "screw-diameter",
        step: Step::Drive,
        title: "A 16 or a 20 mm screw?",
        why: "A thicker screw whips later and stretches less, but its own inertia takes motor torque.",
        ask: diameter,
    },
    Question {
        id: "rail-size",
        step: Step::Drive,
        title: "15 or 20 mm rails?",
        why: "Larger rails give less under side load, cost and weigh more, and need wider tubes.",
        ask: rails,
    },
];

/// The screw of the same make as one, and most nearly as exact, that differs from it as wanted: no
/// question on lead or diameter makes a ground screw out of a rolled one.
fn nearest<'c>(
    bench: &Bench<'c>,
    now: &BallScrew,
    wanted: impl Fn(&BallScrew) -> bool,
) -> Option<&'c BallScrew> {
    let off = |screw: &BallScrew| (screw.travel_error - now.travel_error).value.abs();
    let all = bench.catalogue.ball_screws.values();
    all.filter(|screw| screw.make == now.make && wanted(screw))
        .min_by(|a, b| off(a).total_cmp(&off(b)))
}

/// Puts a screw on an axis; the other side of the gantry gets the same.
fn put(build: &mut Build, axis: Axis, screw: &Id) {
    build.drive.drive[axis] = *screw;
    if axis == Axis::Y {
        build.drive.second_drive = None;
    }
}

/// The ball screw of an axis.
fn screw<'c>(bench: &Bench<'c>, axis: Axis) -> Option<&'c BallScrew> {
    let id = &bench.build.drive.drive[axis];
    bench.catalogue.ball_screws.get(id)
}

fn lead(bench: &Bench) -> Result<Vec<Offer>, String> {
    let mut offers = Vec::new();
    let groups: [(&[Axis], &str); 2] = [(&[Axis::X, Axis::Y], "X and Y"), (&[Axis::Z], "Z")];
    for (axes, name) in groups {
        let screws: Vec<(Axis, &BallScrew)> = axes
            .iter()
            .filter_map(|&axis| Some((axis, screw(bench, axis)?)))
            .collect();
        let name = match screws.as_slice() {
            [(only, _)] => only.title().to_owned(),
            _ => name.to_owned(),
        };
        let mut leads = Vec::new();
        for (_, now) in &screws {
            let all = bench.catalogue.ball_screws.values();
            let alike =
                all.filter(|other| other.diameter == now.diameter && other.make == now.make);
            leads.extend(alike.map(|other| units::mm::from(other.lead)));
        }
        for lead in distinct(leads) {
            let mut build = bench.build.clone();
            for (axis, now) in &screws {
                let same = |other: &BallScrew| {
                    other.diameter == now.diameter && units::mm::from(other.lead) == lead
                };
                let other = nearest(bench, now, same);
                if units::mm::from(now.lead) != lead
                    && let Some(other) = other
                {
                    put(&mut build, *axis, &other.id);
                }
            }
            if build != *bench.build {
                offers.push(Offer::new(format!("{name}: lead {lead} mm"), vec![build]));
            }
        }
    }
    match offers.is_empty() {
        true => Err("No axis runs on a ball screw that comes with another lead.".to_owned()),
        false => Ok(offers),
    }
}

fn diameter(bench: &Bench) -> Result<Vec<Offer>, String> {
    let screws: Vec<(Axis, &BallScrew)> = [Axis::X, Axis::Y]
        .into_iter()
        .filter_map(|axis| Some((axis, screw(bench, axis)?)))
        .collect();
    let mut sizes = Vec::new();
    for (_, now) in &screws {
        let all = bench.catalogue.ball_screws.values();
        let alike = all.filter(|other| other.lead == now.lead && other.make == now.make);
        sizes.extend(alike.map(|other| units::mm::from(other.diameter)));
    }
    let now: Vec<f64> = screws
        .iter()
        .map(|(_, screw)| units::mm::from(screw.diameter))
        .collect();
    let least = now.iter().copied().fold(f64::INFINITY, f64::min);
    let most = now.iter().copied().fold(0.0, f64::max);
    let sizes = distinct(sizes);
    let thinner = sizes.iter().rev().find(|size| **size < least);
    let thicker = sizes.iter().filter(|size| **size > most).take(2);
    let offers = thinner.into_iter().chain(thicker).filter_map(|&size| {
        let mut build = bench.build.clone();
        for (axis, now) in &screws {
            let same = |other: &BallScrew| {
                other.lead == now.lead && units::mm::from(other.diameter) == size
            };
            if let Some(other) = nearest(bench, now, same) {
                put(&mut build, *axis, &other.id);
            }
        }
        let title = format!("{size} mm screws on X and Y");
        (build != *bench.build).then(|| Offer::new(title, vec![build]))
    });
    let offers: Vec<Offer> = offers.collect();
    match offers.is_empty() {
        true => Err("X and Y run on no ball screw that comes with another diameter.".to_owned()),
        false => Ok(offers),
    }
}

/// The carriage of an axis with its rail.
fn guide<'c>(bench: &Bench<'c>, axis: Axis) -> Option<(&'c Carriage, &'c Rail)> {
    let carriage = bench
        .catalogue
        .carriages
        .get(&bench.build.drive.guide[axis])?;
    Some((carriage, bench.catalogue.rails.get(&carriage.rail)?))
}

fn rails(bench: &Bench) -> Result<Vec<Offer>, String> {
    let sizes = |now: u32| {
        let all = bench.catalogue.rails.values().map(|rail| rail.size);
        let (mut less, mut more): (Vec<u32>, Vec<u32>) = all
            .filter(|size| *size != now)
            .partition(|size| *size < now);
        less.sort_unstable();
        more.sort_unstable();
        (less.last().copied(), more.first().copied())
    };
    let mut offers = Vec::new();
    for up in [true, false] {
        for axes in [&Axis::EACH[..], &[Axis::Z]] {
            let mut build = bench.build.clone();
            let mut names = Vec::new();
            for &axis in axes {
                let Some((carriage, rail)) = guide(bench, axis) else {
                    continue;
                };
                let (less, more) = sizes(rail.size);
                let Some(size) = (if up { more } else { less }) else {
                    continue;
                };
                let all = bench.catalogue.carriages.values();
                let mut fits = all.filter(|other| {
                    let rail = bench.catalogue.rails.get(&other.rail);
                    other.shape == carriage.shape && rail.is_some_and(|rail| rail.size == size)
                });
                if let Some(other) = fits.next() {
                    build.drive.guide[axis] = other.id;
                    names.push(format!("{} {size}", axis.title()));
                }
            }
            if !names.is_empty() && (axes.len() > 1 || up) {
                let title = format!("{} mm rails", names.join(", "));
                offers.push(Offer::new(title, vec![build]));
            }
        }
    }
    match offers.is_empty() {
        true => Err("The catalogue has rails of one size only.".to_owned()),
        false => Ok(offers),
    }
}
