//! The two cuts that a job is made with, and how its corners slow them.

use super::Obstacle;
use super::work::Work;
use crate::build::{Axis, PerAxis};
use crate::machine::axis::AxisFigures;
use crate::machine::cutting::{Cut, Cutting, Engagement, Verdict};
use crate::machine::motion::ramp::Ramp;
use crate::units::{self, Length, Time, Velocity, VolumeRate};

/// How the machine goes along the pieces of a cut: from rest to rest in each.
pub(super) struct Pace {
    /// The axis that starts more slowly.
    pub(super) slower: Axis,
    /// How the controller speeds it up.
    pub(super) ramp: Ramp,
    /// Length of a piece.
    pub(super) piece: Length,
}

impl Pace {
    /// The pace of a job; the axis that does not move, where one does not.
    fn of(work: &Work, axes: &PerAxis<AxisFigures>) -> Result<Self, Axis> {
        let ramp = |axis: Axis| axes[axis].ramp.ok_or(axis);
        let (x, y) = (ramp(Axis::X)?, ramp(Axis::Y)?);
        let (slower, ramp) = match y.acceleration() < x.acceleration() {
            true => (Axis::Y, y),
            false => (Axis::X, x),
        };
        Ok(Self {
            slower,
            ramp,
            piece: work.piece,
        })
    }

    /// The speed over a piece, its start and stop counted.
    pub(super) fn reached(&self, feed: Velocity) -> Velocity {
        self.piece / self.ramp.up_to(feed).over(self.piece).time
    }

    /// How many times as long a cut takes as it would at its steady feed.
    pub(super) fn slowing(&self, cut: &Cut) -> f64 {
        units::times::from(cut.feed / self.reached(cut.feed))
    }
}

/// The two cuts that a job is made with.
pub(super) struct Cuts<'a> {
    pub(super) rough: Option<&'a Cut>,
    pub(super) finish: Option<&'a Cut>,
    pub(super) pace: Pace,
}

impl<'a> Cuts<'a> {
    pub(super) fn of(
        work: &Work,
        axes: &PerAxis<AxisFigures>,
        cutting: &'a Cutting,
    ) -> Result<Self, Obstacle<'a>> {
        let pace = Pace::of(work, axes).map_err(Obstacle::Stuck)?;
        let able = |cut: &&Cut| {
            cut.material == work.material.id
                && work.takes(cut)
                && cut.verdict != Verdict::No
                && cut.removal.value > 0.0
                && cut.feed.value > 0.0
                && cut.depth.value > 0.0
        };
        let cuts = || cutting.cuts.iter().filter(able);
        let mut rough = None;
        if work.roughs() {
            let by_removal = |cut: &&Cut| removal(work, &pace, cut).value;
            rough = greatest(cuts(), by_removal);
        }
        let mut finish = None;
        if work.finishes() {
            let thin = cuts().filter(|cut| cut.engagement == Engagement::Tenth);
            finish = greatest(thin, |cut| cut.feed.value);
        }
        if (work.roughs() && rough.is_none()) || (work.finishes() && finish.is_none()) {
            return Err(Obstacle::NoCut(nearest(work, cutting)));
        }
        Ok(Self {
            rough,
            finish,
            pace,
        })
    }

    pub(super) fn roughing(&self, work: &Work) -> Time {
        self.rough.map_or(Time::default(), |cut| {
            work.volume / (removal(work, &self.pace, cut) * work.roughing_share)
        })
    }

    pub(super) fn finishing(&self, work: &Work) -> Time {
        self.finish.map_or(Time::default(), |cut| {
            work.finish / self.pace.reached(cut.feed)
        })
    }
}

/// What a cut removes in this job: less where the job is not as deep, and at its corners.
pub(super) fn removal(work: &Work, pace: &Pace, cut: &Cut) -> VolumeRate {
    cut.removal * (work.depth_share(cut) / pace.slowing(cut))
}

fn greatest<'a>(
    cuts: impl Iterator<Item = &'a Cut>,
    number: impl Fn(&&'a Cut) -> f64,
) -> Option<&'a Cut> {
    cuts.map(|cut| (number(&cut), cut))
        .max_by(|(a, _), (b, _)| a.total_cmp(b))
        .map(|(_, cut)| cut)
}

/// The cut of the material that comes nearest to going, to say what stops it.
fn nearest<'a>(work: &Work, cutting: &'a Cutting) -> Option<&'a Cut> {
    let of_it = cutting.cuts.iter();
    let of_it = of_it.filter(|cut| cut.material == work.material.id && work.takes(cut));
    greatest(of_it, |cut| cut.reached.value)
}
