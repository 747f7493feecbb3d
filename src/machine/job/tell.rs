//! How the minutes of a job came about, for those who ask.

use super::cuts::{Cuts, removal};
use super::{ChangeTime, JobTime, Way, Work, lift};
use crate::build::{Axis, Picked};
use crate::explain::{Derivation, Origin, Recorder};
use crate::machine::axis_path;
use crate::machine::cutting::Cut;
use crate::units::{self, Amount};
use crate::words::Words as _;

pub(super) fn all(
    picked: &Picked,
    work: &Work,
    cuts: &Cuts,
    change: &ChangeTime,
    way: &Way,
    time: &JobTime,
    notes: &mut impl Recorder,
) {
    notes.note(|| roughing(picked, work, cuts, time));
    notes.note(|| finishing(picked, work, cuts, time));
    notes.note(|| moves(picked, work, way, time));
    notes.note(|| changes(picked, work, change, time));
    notes.note(|| lengths(picked, work, change, time));
    notes.note(|| total(time));
}

/// Where a number of the job comes from: the builder's own, or the named job's.
fn origin(picked: &Picked, own: bool, choice: &str) -> Origin {
    match picked.job {
        Some(job) if !own => Origin::part(job),
        _ => Origin::choice(choice),
    }
}

/// How corners slow a cut: each straight piece from rest to rest.
fn corners(told: Derivation, picked: &Picked, cuts: &Cuts, cut: &Cut) -> Derivation {
    let own = picked.build.extras.job.piece.is_some();
    let piece = match picked.job {
        None if !own => Origin::Constant("common practice"),
        _ => origin(picked, own, "job_piece_mm"),
    };
    let pace = &cuts.pace;
    told.with(
        "v",
        "feed of the cut",
        units::m_per_min::amount(cut.feed),
        Origin::figure(cut.path("feed_mm_per_min")),
    )
    .with("l", "straight piece", units::mm::amount(pace.piece), piece)
    .with(
        "a",
        format!(
            "acceleration of {}, the slower to start",
            pace.slower.title()
        ),
        units::m_per_s2::amount(pace.ramp.acceleration()),
        Origin::figure(axis_path(pace.slower, "acceleration_m_per_s2")),
    )
    .with(
        "tl",
        "time for a piece from rest to rest",
        units::s::amount(pace.piece / pace.reached(cut.feed)),
        Origin::Here,
    )
}

fn roughing(picked: &Picked, work: &Work, cuts: &Cuts, time: &JobTime) -> Derivation {
    let own = picked.build.extras.job.volume.is_some();
    let mut told = Derivation::of(
        "job.roughing_min",
        "minutes of roughing",
        units::minute::amount(time.roughing),
    )
    .by(
        "Volume to remove over the removal of the cut that removes most of this job, as deep as \
         the job lets it and slowed by its corners, of which a share of the time is spent in the \
         cut.",
        "t = V/(Qj s), Qj = Q k (l/tl)/v",
    )
    .with(
        "V",
        "volume to remove",
        units::cm3::amount(work.volume),
        origin(picked, own, "job_volume_cm3"),
    );
    if let Some(cut) = cuts.rough {
        told = told.with(
            "Q",
            "removal of the cut at its own depth",
            units::cm3_per_min::amount(cut.removal),
            Origin::figure(cut.path("removal_cm3_per_min")),
        );
        told = told.with(
            "k",
            "share of the cut's depth that the job has",
            Amount::plain(work.depth_share(cut)),
            Origin::Here,
        );
        told = corners(told, picked, cuts, cut).with(
            "Qj",
            "removal in this job",
            units::cm3_per_min::amount(removal(work, &cuts.pace, cut)),
            Origin::Here,
        );
    }
    told.with(
        "s",
        "share of the time in the cut",
        Amount::plain(units::share::from(work.roughing_share)),
        Origin::choice("roughing_share_percent"),
    )
    .from(
        "common practice",
        "Every corner is taken as a full stop, where a controller that looks ahead rounds the \
         wide ones; the time for tight pockets is no more than an estimate.",
    )
}

fn finishing(picked: &Picked, work: &Work, cuts: &Cuts, time: &JobTime) -> Derivation {
    let own = picked.build.extras.job.finish.is_some();
    let told = Derivation::of(
        "job.finishing_min",
        "minutes of finishing",
        units::minute::amount(time.finishing),
    )
    .by(
        "Length of the finishing cuts over the fastest feed of a cut a tenth of the tool wide, \
         slowed by the corners.",
        "t = lf/(l/tl)",
    )
    .with(
        "lf",
        "length of the finishing cuts",
        units::m::amount(work.finish),
        origin(picked, own, "job_finish_m"),
    );
    let told = match cuts.finish {
        Some(cut) => corners(told, picked, cuts, cut),
        None => told,
    };
    told.from(
        "common practice",
        "Every corner is taken as a full stop, where a controller that looks ahead rounds the \
         wide ones.",
    )
}

fn moves(picked: &Picked, work: &Work, way: &Way, time: &JobTime) -> Derivation {
    let own = picked.build.extras.job.moves.is_some();
    let length = match picked.job {
        Some(job) => Origin::part(job),
        None => Origin::Constant("common practice"),
    };
    let rapid = |axis: Axis| Origin::figure(axis_path(axis, "rapid_m_per_min"));
    Derivation::of(
        "job.moves_min",
        "minutes of moves between cuts",
        units::minute::amount(time.moves),
    )
    .by(
        "Each move lifts the tool, goes along at rapids by the slower of X and Y, and comes \
         down again, every one of them from rest to rest by the controller's ramp, as the short \
         moves of an axis are.",
        "t = n (tl + 2 tz)",
    )
    .with(
        "n",
        "moves",
        Amount::plain(f64::from(work.moves)),
        origin(picked, own, "job_moves"),
    )
    .with("l", "length of a move", units::mm::amount(work.move_length), length)
    .with(
        "tl",
        format!("time along, by {}", way.slower.title()),
        units::s::amount(way.along),
        rapid(way.slower),
    )
    .with(
        "z",
        "lift",
        units::mm::amount(lift()),
        Origin::Constant("common practice"),
    )
    .with(
        "tz",
        "time up, or down",
        units::s::amount(way.lift),
        rapid(Axis::Z),
    )
    .from(
        "trapezoid or double-S profile; lift by common practice",
        "The acceleration is the lesser of what the motor has left at rapids and at half of them; a \
         controller set lower takes longer.",
    )
}

fn changes(picked: &Picked, work: &Work, change: &ChangeTime, time: &JobTime) -> Derivation {
    let own = picked.build.extras.job.tool_changes.is_some();
    let sensor = match picked.tool_sensor {
        Some(_) => "length found by the sensor",
        None => "length found by touching off by hand",
    };
    Derivation::of(
        "job.changes_min",
        "minutes of tool changes",
        units::minute::amount(time.changes),
    )
    .by(
        "Each change takes the tool out, puts another in, and finds its length.",
        "t = n (tw + tf)",
    )
    .with(
        "n",
        "tool changes",
        Amount::plain(f64::from(work.changes)),
        origin(picked, own, "tool_changes"),
    )
    .with(
        "tw",
        "tool out and another in",
        units::minute::amount(change.swap),
        Origin::Constant("2 min by hand, 0.25 min by a tool-changing spindle: common practice"),
    )
    .with(
        "tf",
        sensor,
        units::minute::amount(change.length),
        Origin::Constant("3 min by hand, 0.5 min by a sensor: common practice"),
    )
    .from(
        "common practice",
        "The first tool is taken to be in; workholding and turning the workpiece are not counted.",
    )
}

/// Of the minutes of changes those that a tool-length sensor shortens.
fn lengths(picked: &Picked, work: &Work, change: &ChangeTime, time: &JobTime) -> Derivation {
    let own = picked.build.extras.job.tool_changes.is_some();
    let (by, origin_of_minutes) = match picked.tool_sensor {
        Some(sensor) => ("length found by the sensor", Origin::part(sensor)),
        None => (
            "length found by touching off by hand",
            Origin::Constant("common practice"),
        ),
    };
    let changes = Amount::plain(f64::from(work.changes));
    Derivation::of(
        "job.lengths_min",
        "minutes of finding tool lengths",
        units::minute::amount(time.lengths),
    )
    .by("The length of each new tool is found once.", "t = n tf")
    .with(
        "n",
        "tool changes",
        changes,
        origin(picked, own, "tool_changes"),
    )
    .with(
        "tf",
        by,
        units::minute::amount(change.length),
        origin_of_minutes,
    )
    .from(
        "3 min by hand, 0.5 min by a sensor: common practice",
        "Setting zero on the workpiece is not counted.",
    )
}

fn total(time: &JobTime) -> Derivation {
    let part = |minutes, path: &str| (units::minute::amount(minutes), Origin::figure(path));
    let (rough, rough_from) = part(time.roughing, "job.roughing_min");
    let (finish, finish_from) = part(time.finishing, "job.finishing_min");
    let (moves, moves_from) = part(time.moves, "job.moves_min");
    let (changes, changes_from) = part(time.changes, "job.changes_min");
    Derivation::of(
        "job.total_min",
        "minutes of the whole job",
        units::minute::amount(time.total),
    )
    .by(
        "Roughing, finishing, moves between cuts and tool changes together.",
        "t = tr + tf + tm + tc",
    )
    .with("tr", "roughing", rough, rough_from)
    .with("tf", "finishing", finish, finish_from)
    .with("tm", "moves between cuts", moves, moves_from)
    .with("tc", "tool changes", changes, changes_from)
    .from("plain sum", "Setting up, cleaning and mishaps come on top.")
}
