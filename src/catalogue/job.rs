//! Jobs: what somebody wants to make, as far as its time on the machine depends on it.
//!
//! A job says what comes off, how long the finishing cuts are, and how often the machine
//! moves or changes its tool. It says nothing of the machine: the minutes follow from that.

use super::part::{Id, part};
use crate::units::{self, Length, Volume};

part! {
    /// A named job.
    Job by Piece {
        /// The material that is cut.
        material: Id,
        /// Material to be removed by roughing.
        #[serde(rename = "volume_cm3", with = "units::cm3::or_zero")]
        volume: Volume,
        /// Length of the finishing cuts, passes counted each.
        #[serde(rename = "finish_m", with = "units::m::or_zero")]
        finish: Length,
        /// How deep it may be cut at once: the depth of its pockets, or of the board.
        #[serde(rename = "depth_mm", with = "units::mm")]
        depth: Length,
        /// The widest tool that its inner corners take.
        #[serde(rename = "tool_mm", with = "units::mm")]
        tool: Length,
        /// Length of the straight pieces of its cuts from corner to corner, on average.
        #[serde(rename = "piece_mm", with = "units::mm")]
        piece: Length,
        /// Moves from one cut to the next: lift, traverse, down again.
        #[serde(deserialize_with = "units::count::<0, 100_000, _>")]
        moves: u32,
        /// How far such a move goes, on average.
        #[serde(rename = "move_mm", with = "units::mm::or_zero")]
        move_length: Length,
        /// Tool changes while it runs; the first tool is in already.
        #[serde(deserialize_with = "units::count::<0, 1000, _>")]
        tool_changes: u32,
    }
}
