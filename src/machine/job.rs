//! How many minutes a named job takes on this machine, and what holds it back.
//!
//! Four shares make the time: roughing by the best cut that the job allows, finishing at the
//! feed of a thin side cut, both slowed by the corners; moves between cuts by the slower of X
//! and Y and by Z; and tool changes with the finding of each tool's length.

mod change;
mod cuts;
mod tell;
mod work;

use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::Id;
use crate::explain::Recorder;
use crate::units::{self, Length, Time};
use crate::words::Words as _;

use super::axis::AxisFigures;
use super::cutting::{Cut, Cutting};
pub use change::ChangeTime;
use cuts::Cuts;
pub use work::Work;

/// How far the tool lifts for a move to the next cut (common practice).
pub(super) fn lift() -> Length {
    units::mm::of(10.0)
}

/// Why a job cannot be done on a machine.
#[derive(Clone, Copy, Debug)]
pub enum Obstacle<'a> {
    /// No tool cuts the material; the cut that comes nearest, where any was tried.
    NoCut(Option<&'a Cut>),
    /// An axis does not move.
    Stuck(Axis),
}

/// The time of the named job.
#[derive(Clone, Debug)]
pub struct JobTime {
    /// The tool that roughs it, or that finishes it where there is nothing to rough.
    pub tool: Id,
    /// Roughing: the volume to remove.
    pub roughing: Time,
    /// Finishing: the length of finishing cuts.
    pub finishing: Time,
    /// Changing tools and finding their lengths.
    pub changes: Time,
    /// The part of that in which tool lengths are found, by hand or by a sensor.
    pub lengths: Time,
    /// Moves between cuts.
    pub moves: Time,
    /// All of it.
    pub total: Time,
    /// What would shorten it most, in words.
    pub held_by: String,
}

/// Which piece the minutes are for, and of what: the named job, or the builder's own numbers.
pub fn piece(picked: &Picked) -> String {
    let name = match (picked.job, picked.build.extras.job.has_own_numbers()) {
        (Some(job), false) => job.title.to_string(),
        (Some(job), true) => format!("{}, with numbers of your own", job.title),
        (None, _) => "a piece by your own numbers".to_owned(),
    };
    match picked.job_material {
        Some(material) => format!("{name}; cut in: {}", material.title),
        None => name,
    }
}

impl JobTime {
    /// Works the time of the named job out; none where there is no job, or an obstacle.
    pub fn of(
        picked: &Picked,
        axes: &PerAxis<AxisFigures>,
        cutting: &Cutting,
        notes: &mut impl Recorder,
    ) -> Option<Self> {
        let work = Work::of(picked)?;
        let cuts = Cuts::of(&work, axes, cutting).ok()?;
        let change = ChangeTime::of(picked);
        let way = Way::of(&work, axes).ok()?;
        let roughing = cuts.roughing(&work);
        let finishing = cuts.finishing(&work);
        let moves = way.each() * f64::from(work.moves);
        let changing = change.each() * f64::from(work.changes);
        let time = Self {
            tool: cuts.rough.or(cuts.finish)?.tool,
            roughing,
            finishing,
            changes: changing,
            lengths: change.length * f64::from(work.changes),
            moves,
            total: roughing + finishing + changing + moves,
            held_by: held_by(&work, &cuts, [roughing, finishing, changing, moves]),
        };
        tell::all(picked, &work, &cuts, &change, &way, &time, notes);
        Some(time)
    }
}

/// Why the job of a build cannot be done; none where it can, or where there is no job.
pub fn obstacle<'a>(
    picked: &Picked,
    axes: &PerAxis<AxisFigures>,
    cutting: &'a Cutting,
) -> Option<Obstacle<'a>> {
    let work = Work::of(picked)?;
    let cut = Cuts::of(&work, axes, cutting).err();
    cut.or_else(|| Way::of(&work, axes).err().map(Obstacle::Stuck))
}

/// A move to the next cut: up, along, down again.
struct Way {
    /// Along, by the slower of X and Y.
    slower: Axis,
    along: Time,
    /// Up or down.
    lift: Time,
}

impl Way {
    /// The move of a job; the axis that does not move where there are moves to make.
    fn of(work: &Work, axes: &PerAxis<AxisFigures>) -> Result<Self, Axis> {
        if work.moves == 0 {
            return Ok(Self {
                slower: Axis::X,
                along: Time::default(),
                lift: Time::default(),
            });
        }
        let time = |axis: Axis, length: Length| {
            let one = axes[axis].over(length);
            one.map(|one| one.time).ok_or(axis)
        };
        let x = time(Axis::X, work.move_length)?;
        let y = time(Axis::Y, work.move_length)?;
        Ok(Self {
            slower: if y > x { Axis::Y } else { Axis::X },
            along: x.max(y),
            lift: time(Axis::Z, lift())?,
        })
    }

    fn each(&self) -> Time {
        self.along + self.lift * 2.0
    }
}

/// From how many times the time at a steady feed on corners are what holds a cut back.
const CORNERED: f64 = 2.0;

/// What would shorten a job most: the greatest of its shares, and what holds that back.
fn held_by(work: &Work, cuts: &Cuts, [rough, finish, change, moves]: [Time; 4]) -> String {
    let others = [finish, change, moves];
    let corners = "acceleration at its corners";
    match (cuts.rough, cuts.finish) {
        (Some(cut), _) if others.iter().all(|other| rough >= *other) => {
            let limit = if cuts.pace.slowing(cut) >= CORNERED {
                corners
            } else if work.depth_share(cut) < 1.0 {
                "the depth of the job"
            } else {
                cut.limited_by.title()
            };
            format!("roughing, by {limit}")
        }
        (_, Some(cut)) if finish >= change && finish >= moves => {
            let limit = if cuts.pace.slowing(cut) >= CORNERED {
                corners
            } else {
                "its feed"
            };
            format!("finishing, by {limit}")
        }
        _ if change >= moves => "tool changes".to_owned(),
        _ => "moves between cuts".to_owned(),
    }
}
