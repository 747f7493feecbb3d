//! Lengths: rails, screws, members, plates, prints and the floor they take.
//!
//! All follow from the travel and the frame plan. A rail holds the travel, the distance of
//! its outer carriages, one carriage and a margin at each end, and is cut to a whole
//! number of hole pitches.

pub mod along;
mod drives;
mod floor;
pub mod lengths;
pub mod pieces;
pub mod stations;

use crate::build::choices::control::LimitEnds;
use crate::build::pick::TubeWall;
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::frame::{Layout, Rides, Role};
use crate::explain::Recorder;
use crate::units::{self, Area, Length};

use super::wiring::{self, CableRun};
pub use along::{RailCut, ScrewCut, plan_of, screw_cut, supports, supports_lacking};
pub use drives::DriveCut;
pub use lengths::ChainCut;
use lengths::{Lengths, chains};
pub use pieces::{Impossible, MemberCut, PlateCut, PrintPiece};
use pieces::{members, plates, prints};
pub use stations::Stations;

/// Bores and shafts that differ by less are of one nominal size.
const SAME_SIZE_MM: f64 = 0.05;

/// Whether two diameters are of one nominal size.
pub fn same_size(a: Length, b: Length) -> bool {
    (units::mm::from(a) - units::mm::from(b)).abs() < SAME_SIZE_MM
}

/// Every length of a machine.
#[derive(Clone, Debug)]
pub struct Geometry {
    /// Rails of each axis.
    pub rails: PerAxis<RailCut>,
    /// Travel that there will be: the wish, or less where a rail or screw in hand is too short.
    pub travel: PerAxis<Length>,
    /// Drives of each axis, in the order of [`Picked::drives`].
    pub drives: PerAxis<Vec<DriveCut>>,
    /// Wall of the beam's tube.
    pub beam_wall: TubeWall,
    /// Wall of the other tubes.
    pub base_wall: TubeWall,
    /// Steel members.
    pub members: Vec<MemberCut>,
    /// Plates.
    pub plates: Vec<PlateCut>,
    /// Members and plates that cannot be made.
    pub impossible: Vec<Impossible>,
    /// Printed parts.
    pub prints: Vec<PrintPiece>,
    /// Cable chains.
    pub chains: Vec<ChainCut>,
    /// Limit and home switches of each axis.
    pub switches: PerAxis<u32>,
    /// Distance of the two Y rails.
    pub span: Length,
    /// Floor and height: X, Y, Z.
    pub footprint: PerAxis<Length>,
    /// The working area.
    pub bed: Area,
    /// Cable runs.
    pub runs: Vec<CableRun>,
}

impl Geometry {
    /// Works the lengths out.
    pub fn of(picked: &Picked, notes: &mut impl Recorder) -> Self {
        let rails = PerAxis::from_fn(|axis| along::rail(picked, axis, notes));
        let travel = PerAxis::from_fn(|axis| along::travel(picked, &rails, axis, notes));
        let drives = PerAxis::from_fn(|axis| drives::cuts(picked, axis, rails[axis].length));
        let switches = PerAxis::from_fn(|axis| switches(picked, axis));
        let lengths = Lengths {
            picked,
            rails: &rails,
        };
        let mut impossible = Vec::new();
        let members = members(&lengths, &mut impossible);
        let plan = picked.frame;
        let wished = picked.build.area.travel;
        let plates = plates(&lengths, &mut impossible);
        let moving_table = plan.layout == Layout::MovingTable;
        let footprint = floor::footprint(picked, &rails, &members, &plates, notes);
        let chains = chains(picked, notes);
        Self {
            runs: wiring::runs(&lengths, &chains, &switches, notes),
            plates,
            impossible,
            prints: prints(picked, &switches),
            chains,
            span: if moving_table {
                plan.y.rail_gap
            } else {
                rails.x.length + plan.y.rail_gap
            },
            bed: wished.x * wished.y,
            beam_wall: picked.beam_wall,
            base_wall: picked.base_wall,
            rails,
            travel,
            drives,
            members,
            switches,
            footprint,
        }
    }

    /// The posts that stand or ride on something: how many in all, and how high the first of
    /// them are; none where the plan has none there.
    pub(super) fn posts(&self, rides: Rides) -> Option<(u32, Length)> {
        let mut posts = self
            .members
            .iter()
            .filter(|member| member.role == Role::Upright && member.rides == rides);
        let first = posts.next()?;
        let pieces = first.pieces + posts.map(|member| member.pieces).sum::<u32>();
        (pieces > 0).then_some((pieces, first.length))
    }

    /// All cable runs together.
    pub fn cable_length(&self) -> Length {
        self.runs.iter().map(|run| run.length).sum()
    }

    /// All cable chains together.
    pub fn chain_length(&self) -> Length {
        self.chains.iter().map(|chain| chain.length).sum()
    }

    /// How wide a door must be for the whole machine: the least of its three outer sizes, since
    /// it can be turned.
    pub fn narrowest_carry(&self) -> Length {
        let floor = &self.footprint;
        floor.x.min(floor.y).min(floor.z)
    }
}

/// Switches: one an axis end that is homed, one for each side of a pair that is homed each
/// on its own; the far ends besides, where both ends have one.
fn switches(picked: &Picked, axis: Axis) -> u32 {
    let control = &picked.build.control;
    let sides = if control.home_each_side {
        picked.motors(axis)
    } else {
        1
    };
    let far = u32::from(control.limit_ends == LimitEnds::Both);
    sides + far
}
