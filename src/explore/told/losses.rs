//! What a machine loses by a change: cuts that go less well or slower, axes that push, step or
//! hold less well or start more gently, and what no figure tells.

use super::{Labelled, WORSE, given_up, slower};
use crate::assessment::Assessment;
use crate::build::{Axis, Edit};
use crate::catalogue::Catalogue;
use crate::explore::trial::Bench;
use crate::machine::axis::AxisFigures;
use crate::machine::motion::ramp::SHORT_MOVES_MM;
use crate::units::{self, show};
use crate::words::Words as _;

/// What is lost by changes to the build at hand, each under a name.
pub fn losses(bench: &Bench, edits: &[Edit], after: &Assessment) -> Vec<Labelled> {
    let before = bench.before;
    let mut told = Vec::new();
    told.extend(worse_cuts(before, after, bench.catalogue).map(|words| ("cuts worse", words)));
    told.extend(slower(before, after, bench.catalogue).map(|words| ("slower", words)));
    told.extend(longer_job(before, after).map(|words| ("the job", words)));
    told.extend(worse_axes(before, after));
    let given_up = given_up(bench, edits, after).into_iter();
    told.extend(given_up);
    told
}

/// What the axes and the frame do less well, besides rapids.
pub fn worse_axes(before: &Assessment, after: &Assessment) -> Vec<Labelled> {
    let mut told = Vec::new();
    for (axis, name) in Axis::EACH.into_iter().zip(["axis X", "axis Y", "axis Z"]) {
        let mut words = softer(before, after, axis);
        words.extend(weaker(
            &before.machine.axes[axis],
            &after.machine.axes[axis],
        ));
        if !words.is_empty() {
            told.push((name, words.join("; ")));
        }
    }
    let rings = |of: &Assessment| units::hz::from(of.machine.stiffness.first_mode);
    if fell(rings(before), rings(after)) {
        let words = changed("rings at", rings(before), rings(after), 0, "Hz");
        told.push(("the frame", words));
    }
    told
}

/// Where a change makes rapids or their start other: how long each axis takes for a short move,
/// and for the whole travel.
pub fn moves(before: &Assessment, after: &Assessment) -> Vec<Labelled> {
    let names = ["moves X", "moves Y", "moves Z"];
    let each = Axis::EACH
        .into_iter()
        .zip(names)
        .filter_map(|(axis, name)| {
            let (was, is) = (&before.machine.axes[axis], &after.machine.axes[axis]);
            let pairs = [
                ("10 mm in", short_move(was)?, short_move(is)?),
                (
                    "the whole travel in",
                    units::s::from(was.full_travel?),
                    units::s::from(is.full_travel?),
                ),
            ];
            let differs = |was: f64, is: f64| show::number(was, 2) != show::number(is, 2);
            let told = pairs
                .into_iter()
                .filter(|(_, was, is)| differs(*was, *is))
                .map(|(what, was, is)| changed(what, was, is, 2, "s"));
            let told = told.collect::<Vec<_>>().join(", ");
            (!told.is_empty()).then_some((name, told))
        });
    each.collect()
}

/// Seconds of the shortest move by which machines are compared, 10 mm.
fn short_move(axis: &AxisFigures) -> Option<f64> {
    let one = axis.over(units::mm::of(SHORT_MOVES_MM[0]))?;
    Some(units::s::from(one.time))
}

/// Whether something is less than before, by a share worth telling.
fn fell(was: f64, is: f64) -> bool {
    was > 0.0 && is < was * (1.0 - WORSE)
}

/// A figure that changed: `thrust 240 -> 120 N`, with a digit more where both read the same.
fn changed(name: &str, was: f64, is: f64, digits: usize, unit: &str) -> String {
    let read = |digits| [was, is].map(|number| show::number(number, digits));
    let [short_was, short_is] = read(digits);
    let [was, is] = read(digits + usize::from(short_was == short_is));
    format!("{name} {was} -> {is} {unit}")
}

/// Materials that go less well.
fn worse_cuts(before: &Assessment, after: &Assessment, catalogue: &Catalogue) -> Option<String> {
    let each = catalogue.materials.values().filter_map(|material| {
        let verdict = |of: &Assessment| of.machine.cutting.verdict(&material.id);
        let (was, is) = (verdict(before), verdict(after));
        let words = format!("{} {} -> {}", material.title, was.title(), is.title());
        (is < was).then_some(words)
    });
    let words = each.collect::<Vec<_>>().join(", ");
    (!words.is_empty()).then_some(words)
}

/// The job, where it takes longer.
fn longer_job(before: &Assessment, after: &Assessment) -> Option<String> {
    let minutes = |of: &Assessment| {
        let job = of.machine.job.as_ref()?;
        Some(units::minute::from(job.total))
    };
    let (was, is) = (minutes(before)?, minutes(after)?);
    fell(is, was).then(|| changed("takes", was, is, 0, "min"))
}

/// Where an axis gives way more.
fn softer(before: &Assessment, after: &Assessment, axis: Axis) -> Vec<String> {
    let collet = |of: &Assessment| units::n_per_um::from(of.machine.stiffness.collet[axis]);
    let tip = |of: &Assessment| units::n_per_um::from(of.machine.stiffness.tip_worst[axis]);
    let mut words = Vec::new();
    let both = [
        ("softer at the collet", collet(before), collet(after)),
        ("softer at the tip", tip(before), tip(after)),
    ];
    for (name, was, is) in both {
        if fell(was, is) {
            words.push(changed(name, was, is, 1, "N/µm"));
        }
    }
    words
}

/// What an axis does less well, besides its rapids.
fn weaker(before: &AxisFigures, after: &AxisFigures) -> Vec<String> {
    let thrust = |of: &AxisFigures| units::n::from(of.thrust);
    let step = |of: &AxisFigures| units::um::from(of.step);
    let speeds_up = |of: &AxisFigures| units::m_per_s2::from(of.acceleration);
    let mut words = Vec::new();
    if fell(thrust(before), thrust(after)) {
        words.push(changed("thrust", thrust(before), thrust(after), 0, "N"));
    }
    // The larger a step, the coarser.
    if fell(step(after), step(before)) {
        words.push(changed("one step", step(before), step(after), 1, "µm"));
    }
    // Whoever goes faster has less left to speed up with there: a loss only where even a short
    // move takes longer.
    let longer = match (short_move(before), short_move(after)) {
        (Some(was), Some(is)) => fell(is, was),
        (was, is) => was.is_some() && is.is_none(),
    };
    if longer && fell(speeds_up(before), speeds_up(after)) {
        words.push(changed(
            "speeds up by",
            speeds_up(before),
            speeds_up(after),
            2,
            "m/s²",
        ));
    }
    words
}
