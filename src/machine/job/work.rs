//! What a job asks of the machine: the named one, with the builder's own numbers over it.

use crate::build::Picked;
use crate::catalogue::material::Material;
use crate::machine::cutting::Cut;
use crate::units::{self, Length, Ratio, Volume};

/// How far a move goes where no named job says it (common practice).
fn usual_move() -> Length {
    units::mm::of(100.0)
}

/// How far a cut goes straight where nothing says it (common practice).
fn usual_piece() -> Length {
    units::mm::of(50.0)
}

/// What a job asks of the machine.
#[derive(Clone, Copy, Debug)]
pub struct Work<'c> {
    /// The material.
    pub material: &'c Material,
    /// Material to remove.
    pub volume: Volume,
    /// Length of the finishing cuts.
    pub finish: Length,
    /// How deep it may be cut at once; as deep as the tool can where nothing says it.
    pub depth: Option<Length>,
    /// The widest tool that its corners take; any where nothing says it.
    pub tool: Option<Length>,
    /// Length of the straight pieces of its cuts.
    pub piece: Length,
    /// Moves between cuts.
    pub moves: u32,
    /// How far such a move goes.
    pub move_length: Length,
    /// Tool changes.
    pub changes: u32,
    /// Share of the roughing time in which the tool is in the material.
    pub roughing_share: Ratio,
}

impl<'c> Work<'c> {
    /// The work of the job; none where there is none to do, or no material to do it in.
    pub fn of(picked: &Picked<'c>) -> Option<Self> {
        let (own, named) = (&picked.build.extras.job, picked.job);
        let volume = own.volume.or(named.map(|job| job.volume));
        let finish = own.finish.or(named.map(|job| job.finish));
        let piece = own.piece.or(named.map(|job| job.piece));
        let moves = own.moves.or(named.map(|job| job.moves));
        let changes = own.tool_changes.or(named.map(|job| job.tool_changes));
        let work = Self {
            material: picked.job_material?,
            volume: volume.unwrap_or_default(),
            finish: finish.unwrap_or_default(),
            depth: own.depth.or(named.map(|job| job.depth)),
            tool: own.tool.or(named.map(|job| job.tool)),
            piece: piece.unwrap_or_else(usual_piece),
            moves: moves.unwrap_or_default(),
            move_length: named.map_or_else(usual_move, |job| job.move_length),
            changes: changes.unwrap_or_default(),
            roughing_share: own.roughing_share,
        };
        (work.roughs() || work.finishes()).then_some(work)
    }

    pub(super) fn roughs(&self) -> bool {
        self.volume.value > 0.0
    }

    pub(super) fn finishes(&self) -> bool {
        self.finish.value > 0.0
    }

    /// Whether the job's corners let the tool of a cut in; a hair absorbs binary fractions.
    pub(super) fn takes(&self, cut: &Cut) -> bool {
        self.tool
            .is_none_or(|widest| cut.diameter <= widest * 1.000_001)
    }

    /// The share of a cut's depth that the job has for it.
    pub(super) fn depth_share(&self, cut: &Cut) -> f64 {
        self.depth
            .map_or(1.0, |depth| units::times::from(depth / cut.depth).min(1.0))
    }
}
