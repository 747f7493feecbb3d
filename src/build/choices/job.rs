//! The job whose minutes are told: a named one, and the builder's own numbers over it.

use super::{Choice, Figure, Kind, id, rows};
use crate::build::value::{NumberKind, Value};
use crate::catalogue::{Id, PartKind, Step};
use crate::units::{self, Length, Ratio, Volume};

/// The choices of the job; what is left out is as the named job says.
#[derive(Clone, Debug, PartialEq)]
pub struct JobChoice {
    /// The named job.
    pub named: Option<Id>,
    /// The material.
    pub material: Option<Id>,
    /// Material to remove.
    pub volume: Option<Volume>,
    /// Length of the finishing cuts.
    pub finish: Option<Length>,
    /// How deep it may be cut at once.
    pub depth: Option<Length>,
    /// The widest tool that its corners take.
    pub tool: Option<Length>,
    /// Length of the straight pieces of its cuts.
    pub piece: Option<Length>,
    /// Moves between cuts.
    pub moves: Option<u32>,
    /// Tool changes.
    pub tool_changes: Option<u32>,
    /// Share of the roughing time in which the tool is in the material.
    pub roughing_share: Ratio,
}

impl Default for JobChoice {
    fn default() -> Self {
        Self {
            named: Some(id("job-name-plate")),
            material: None,
            volume: None,
            finish: None,
            depth: None,
            tool: None,
            piece: None,
            moves: None,
            tool_changes: None,
            // Lead-ins, returns and corners take the rest (common practice).
            roughing_share: units::percent::of(70.0),
        }
    }
}

impl JobChoice {
    /// Whether a number of the builder's own stands over the named job's.
    pub fn has_own_numbers(&self) -> bool {
        let measures = [self.finish, self.depth, self.tool, self.piece];
        let counts = [self.moves, self.tool_changes];
        self.volume.is_some()
            || measures.iter().any(Option::is_some)
            || counts.iter().any(Option::is_some)
    }
}

/// The rows of the job, in the extras step.
pub(super) fn rows() -> Vec<Choice> {
    rows! { Extras;
        optional "job" "Job" (extras.job.named) {&[PartKind::Job], "none"} [Job Warnings]
            "A piece that you want to make: the program tells how many minutes it takes on this machine, and what holds it back."
            "Without one you know speeds, but not how long your work takes.";
        optional "job_material" "Job: material" (extras.job.material) {&[PartKind::Material], "as the job says"} [Job Warnings]
            "What your own piece is made of, where it is not what the named job says."
            "A softer material than the real one makes the minutes look too few.";
        maybe "job_volume_cm3" "Job: to remove" (extras.job.volume) {cm3 0.0 1000000.0 10.0 "as the job says"} [Job Warnings]
            "The volume that roughing turns into chips, in cubic centimetres: the stock less the finished piece."
            "Set too small, the minutes look too few.";
        maybe "job_finish_m" "Job: finish cuts" (extras.job.finish) {m 0.0 10000.0 1.0 "as the job says"} [Job Warnings]
            "The length of all finishing cuts together, in metres: the outline times the passes."
            "Set too short, the minutes look too few.";
        maybe "job_depth_mm" "Job: cut depth" (extras.job.depth) {mm 0.1 500.0 1.0 "as the job says"} [Job]
            "How deep the piece may be cut at once: the depth of a pocket, or the thickness of the board."
            "Set too deep, the program counts on cuts that the piece does not allow. A shallow job uses little of what a tool could do.";
        maybe "job_tool_mm" "Job: widest tool" (extras.job.tool) {mm 0.1 100.0 1.0 "as the job says"} [Job Warnings]
            "The widest tool that the inner corners of the piece let in."
            "Set too wide, the real job needs a thinner tool and many more minutes.";
        maybe "job_piece_mm" "Job: straight cuts" (extras.job.piece) {mm 0.1 5000.0 5.0 "as the job says"} [Job Warnings]
            "How far a cut goes straight, from corner to corner, on average: at each corner the machine slows down."
            "Set too long, the minutes look too few. Short pieces ask for acceleration, not for speed.";
        maybe_count "job_moves" "Job: moves" (extras.job.moves) {0.0 100000.0 10.0 "as the job says"} [Job]
            "How often the tool lifts and goes to the next cut."
            "Set too low, the minutes look too few. Many short moves ask for acceleration, not for speed.";
        maybe_count "tool_changes" "Tool changes a job" (extras.job.tool_changes) {0.0 100.0 1.0 "as the job says"} [Job Warnings]
            "How often you change the tool in that job: each costs minutes, fewer with a tool-length sensor."
            "Set too low, you stand at the machine longer than you were told.";
        number "roughing_share_percent" "Time in the cut" (extras.job.roughing_share) {percent 10.0 100.0 5.0} [Job]
            "The share of the roughing time in which the tool cuts; lead-ins, returns and corners take the rest, and 70 % is usual (common practice)."
            "Set too high, the minutes look too few.";
    }
}
