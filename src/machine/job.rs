//! How many minutes a named job takes on this machine, and what holds it back.
//!
//! Four shares make the time: roughing by the best cut of the material, finishing at the feed
//! of a thin side cut, moves between cuts by the slower of X and Y and by Z, and tool changes
//! with the finding of each tool's length.

mod change;
mod tell;

use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::Id;
use crate::catalogue::material::Material;
use crate::explain::Recorder;
use crate::units::{self, Length, Ratio, Time, Volume};
use crate::words::Words as _;

use super::axis::{AxisFigures, traverse};
use super::cutting::{Cut, Cutting, Engagement, Verdict};
pub use change::ChangeTime;

/// How far the tool lifts for a move to the next cut (common practice).
pub(super) fn lift() -> Length {
    units::mm::of(10.0)
}

/// How far a move goes where no named job says it (common practice).
fn usual_move() -> Length {
    units::mm::of(100.0)
}

/// What a job asks of the machine: the named one, with the builder's own numbers over it.
#[derive(Clone, Copy, Debug)]
pub struct Work<'c> {
    /// The material.
    pub material: &'c Material,
    /// Material to remove.
    pub volume: Volume,
    /// Length of the finishing cuts.
    pub finish: Length,
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
        let work = Self {
            material: picked.job_material?,
            volume: own
                .volume
                .or(named.map(|job| job.volume))
                .unwrap_or_default(),
            finish: own
                .finish
                .or(named.map(|job| job.finish))
                .unwrap_or_default(),
            moves: own.moves.or(named.map(|job| job.moves)).unwrap_or_default(),
            move_length: named.map_or_else(usual_move, |job| job.move_length),
            changes: own
                .tool_changes
                .or(named.map(|job| job.tool_changes))
                .unwrap_or_default(),
            roughing_share: own.roughing_share,
        };
        (work.roughs() || work.finishes()).then_some(work)
    }

    fn roughs(&self) -> bool {
        self.volume.value > 0.0
    }

    fn finishes(&self) -> bool {
        self.finish.value > 0.0
    }
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
    /// Minutes of roughing: the volume to remove.
    pub roughing: Time,
    /// Minutes of finishing: the length of finishing cuts.
    pub finishing: Time,
    /// Minutes of changing tools and finding their lengths.
    pub changes: Time,
    /// Moves between cuts.
    pub moves: Time,
    /// All of it.
    pub total: Time,
    /// What would shorten it most, in words.
    pub held_by: String,
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
        let cuts = Cuts::of(&work, cutting).ok()?;
        let change = ChangeTime::of(picked);
        let way = Way::of(&work, axes).ok()?;
        let roughing = cuts.roughing(&work);
        let finishing = cuts.finishing(&work);
        let moves = way.each() * f64::from(work.moves);
        let changing = change.each() * f64::from(work.changes);
        let time = Self {
            tool: cuts.rough.or(cuts.finish)?.tool.clone(),
            roughing,
            finishing,
            changes: changing,
            moves,
            total: roughing + finishing + changing + moves,
            held_by: held_by(&cuts, roughing, finishing, changing, moves),
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
    let cut = Cuts::of(&work, cutting).err();
    cut.or_else(|| Way::of(&work, axes).err().map(Obstacle::Stuck))
}

/// The two cuts that a job is made with.
struct Cuts<'a> {
    rough: Option<&'a Cut>,
    finish: Option<&'a Cut>,
}

impl<'a> Cuts<'a> {
    fn of(work: &Work, cutting: &'a Cutting) -> Result<Self, Obstacle<'a>> {
        let material = &work.material.id;
        let rough = cutting.best(material).filter(|cut| cut.removal.value > 0.0);
        let finish = finest(cutting, material);
        if (work.roughs() && rough.is_none()) || (work.finishes() && finish.is_none()) {
            return Err(Obstacle::NoCut(nearest(cutting, material)));
        }
        Ok(Self {
            rough: rough.filter(|_| work.roughs()),
            finish: finish.filter(|_| work.finishes()),
        })
    }

    fn roughing(&self, work: &Work) -> Time {
        self.rough.map_or(Time::default(), |cut| {
            work.volume / (cut.removal * work.roughing_share)
        })
    }

    fn finishing(&self, work: &Work) -> Time {
        self.finish
            .map_or(Time::default(), |cut| work.finish / cut.feed)
    }
}

/// The fastest thin side cut of a material.
fn finest<'a>(cutting: &'a Cutting, material: &Id) -> Option<&'a Cut> {
    let thin = |cut: &&Cut| {
        cut.material == *material
            && cut.engagement == Engagement::Tenth
            && cut.verdict != Verdict::No
            && cut.feed.value > 0.0
    };
    cutting
        .cuts
        .iter()
        .filter(thin)
        .max_by(|a, b| a.feed.value.total_cmp(&b.feed.value))
}

/// The cut of a material that comes nearest to going, to say what stops it.
fn nearest<'a>(cutting: &'a Cutting, material: &Id) -> Option<&'a Cut> {
    let of_it = cutting.cuts.iter().filter(|cut| cut.material == *material);
    of_it.max_by(|a, b| a.reached.value.total_cmp(&b.reached.value))
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
            let figures = &axes[axis];
            let time = traverse(length, figures.rapid, figures.acceleration);
            if time.is_finite() {
                Ok(time)
            } else {
                Err(axis)
            }
        };
        let x = time(Axis::X, work.move_length)?;
        let y = time(Axis::Y, work.move_length)?;
        Ok(Self {
            slower: if y > x { Axis::Y } else { Axis::X },
            along: if y > x { y } else { x },
            lift: time(Axis::Z, lift())?,
        })
    }

    fn each(&self) -> Time {
        self.along + self.lift * 2.0
    }
}

/// What would shorten a job most: the greatest of its shares, and what holds that back.
fn held_by(cuts: &Cuts, roughing: Time, finishing: Time, changing: Time, moves: Time) -> String {
    let greatest = [finishing, changing, moves]
        .into_iter()
        .fold(
            roughing,
            |most, share| if share > most { share } else { most },
        );
    match cuts.rough {
        Some(cut) if greatest == roughing => {
            format!("roughing, by {}", cut.limited_by.title())
        }
        _ if greatest == finishing => "the feed of the finishing cuts".to_owned(),
        _ if greatest == changing => "tool changes".to_owned(),
        _ => "moves between cuts".to_owned(),
    }
}
