//! The lengths that pieces and cables of a frame plan follow, and the cable chains.

use super::along::RailCut;
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::frame::{Follows, Rides};
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::axis_path;
use crate::units::{self, Length};
use crate::words::Words as _;

/// A cable chain.
#[derive(Clone, Copy, Debug)]
pub struct ChainCut {
    /// The axis whose travel it follows.
    pub axis: Axis,
    /// Its length.
    pub length: Length,
}

/// The lengths that pieces and cables of the plan may follow.
pub(in crate::machine) struct Lengths<'a, 'c> {
    pub(in crate::machine) picked: &'a Picked<'c>,
    pub(in crate::machine) rails: &'a PerAxis<RailCut>,
}

impl Lengths<'_, '_> {
    pub(in crate::machine) fn of(&self, follows: Follows) -> Length {
        let area = &self.picked.build.area;
        match follows {
            Follows::TravelX => area.travel.x,
            Follows::TravelY => area.travel.y,
            Follows::TravelZ => area.travel.z,
            Follows::RailX => self.rails.x.length,
            Follows::RailY => self.rails.y.length,
            Follows::RailZ => self.rails.z.length,
            Follows::Clearance => area.clearance,
            Follows::Nothing => units::mm::of(0.0),
        }
    }
}

/// A chain is half the travel, half a turn of its bend, and two links to hold it.
pub(super) fn chains(picked: &Picked, notes: &mut impl Recorder) -> Vec<ChainCut> {
    let chain = picked.chain;
    let used = |axis: Axis| {
        let rides = Rides::from(axis);
        let mut routes = picked.frame.route.iter();
        let carried = routes.any(|route| route.chains.contains(&rides));
        carried.then(|| ChainCut {
            axis,
            length: picked.build.area.travel[axis] / 2.0
                + chain.bend_radius * std::f64::consts::PI
                + chain.pitch * 2.0,
        })
    };
    let found: Vec<ChainCut> = Axis::EACH.into_iter().filter_map(used).collect();
    for cut in &found {
        notes.note(|| one_chain(picked, cut));
    }
    notes.note(|| all_chains(&found));
    found
}

/// The path of the length of one chain.
pub(crate) fn chain_path(axis: Axis) -> String {
    axis_path(axis, "chain_m")
}

/// How the length of one chain came about.
fn one_chain(picked: &Picked, cut: &ChainCut) -> Derivation {
    let (mm, chain) = (units::mm::amount, picked.chain);
    let letter = cut.axis.title();
    let travel = picked.build.area.travel[cut.axis];
    let from_travel = Origin::choice(cut.axis.choice("travel") + "_mm");
    let title = format!("Cable chain of {letter}");
    Derivation::of(chain_path(cut.axis), title, units::m::amount(cut.length))
        .by(
            "Half the travel, half a turn of its bend and two links to hold it.",
            "L = t/2 + π·r + 2·p",
        )
        .with("t", format!("travel {letter} that you wish"), mm(travel), from_travel)
        .with("r", "bend radius", mm(chain.bend_radius), Origin::part(chain))
        .with("p", "length of a link", mm(chain.pitch), Origin::part(chain))
        .from(
            "geometry of a chain fed in at mid-travel (cable chain catalogues)",
            "A chain that is fed in at one end of the travel needs the whole travel instead of half.",
        )
}

/// How the length of all chains came about.
fn all_chains(chains: &[ChainCut]) -> Derivation {
    let sum: Length = chains.iter().map(|chain| chain.length).sum();
    let each = chains.iter().map(|cut| {
        let title = format!("chain of {}", cut.axis.title());
        let length = units::m::amount(cut.length);
        Input::new("L_i", title, length, Origin::figure(chain_path(cut.axis)))
    });
    Derivation::of(
        "machine.chain_m",
        "All cable chains together",
        units::m::amount(sum),
    )
    .by(
        "The chains of all axes that have one by the plan's cable routes.",
        "L = Σ L_i",
    )
    .with_each(each)
    .from("plain sum", "As for each chain.")
}
