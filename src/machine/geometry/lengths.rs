//! The lengths that pieces and cables of a frame plan follow, and the cable chains.

use super::along::RailCut;
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::frame::{Follows, Rides};
use crate::explain::{Derivation, Input, Origin, Recorder};
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
    let used = |axis: Axis, rides: Rides| {
        let carried = picked
            .frame
            .route
            .iter()
            .any(|route| route.chains.contains(&rides));
        carried.then(|| ChainCut {
            axis,
            length: picked.build.area.travel[axis] / 2.0
                + chain.bend_radius * std::f64::consts::PI
                + chain.pitch * 2.0,
        })
    };
    let found: Vec<ChainCut> = [
        (Axis::X, Rides::X),
        (Axis::Y, Rides::Y),
        (Axis::Z, Rides::Z),
    ]
    .into_iter()
    .filter_map(|(axis, rides)| used(axis, rides))
    .collect();
    notes.note(|| chains_note(picked, &found));
    found
}

/// How the length of all chains came about.
fn chains_note(picked: &Picked, chains: &[ChainCut]) -> Derivation {
    let (mm, chain) = (units::mm::amount, picked.chain);
    let sum: Length = chains.iter().map(|chain| chain.length).sum();
    let each = chains.iter().flat_map(|cut| {
        let letter = cut.axis.title();
        let travel = Origin::choice(cut.axis.choice("travel") + "_mm");
        [
            Input::new(
                "t",
                format!("travel {letter} that you wish"),
                mm(picked.build.area.travel[cut.axis]),
                travel,
            ),
            Input::new(
                "L_i",
                format!("chain of {letter}"),
                mm(cut.length),
                Origin::Here,
            ),
        ]
    });
    Derivation::of(
        "machine.chain_m",
        "All cable chains together",
        units::m::amount(sum),
    )
    .by(
        "Each chain is half the travel, half a turn of its bend and two links to hold it; \
             the plan's cable routes say which axes have one.",
        "L_i = t/2 + π·r + 2·p; L = Σ L_i",
    )
    .with(
        "r",
        "bend radius",
        mm(chain.bend_radius),
        Origin::part(chain),
    )
    .with(
        "p",
        "length of a link",
        mm(chain.pitch),
        Origin::part(chain),
    )
    .with_each(each)
    .from(
        "geometry of a chain fed in at mid-travel (cable chain catalogues)",
        "A chain that is fed in at one end of the travel needs the whole travel instead of half.",
    )
}
