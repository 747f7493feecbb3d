//! What a machine loses by a change: cuts that go less well or slower, axes that push, step or
//! hold less well or start more gently, and what no figure tells; and what it gains of the same.

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
    let worse = other_cuts(before, after, bench.catalogue, Way::Worse);
    told.extend(worse.map(|words| ("cuts worse", words)));
    told.extend(slower(before, after, bench.catalogue).map(|words| ("slower", words)));
    told.extend(longer_job(before, after).map(|words| ("the job", words)));
    told.extend(worse_axes(before, after));
    let given_up = given_up(bench, edits, after).into_iter();
    told.extend(given_up);
    told
}

/// What is gained besides rapids: materials that go better, axes that push and hold better.
pub fn gains(before: &Assessment, after: &Assessment, catalogue: &Catalogue) -> Vec<Labelled> {
    let better = other_cuts(before, after, catalogue, Way::Better);
    let mut told: Vec<Labelled> = better
        .map(|words| ("cuts better", words))
        .into_iter()
        .collect();
    let names = ["better X", "better Y", "better Z"];
    told.extend(axes(before, after, names, Way::Better));
    told
}

/// Which way something changed.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    Worse,
    Better,
}

impl Way {
    /// Whether a figure of which more is better went this way, by a share worth telling.
    fn is(self, was: f64, is: f64) -> bool {
        match self {
            Self::Worse => fell(was, is),
            Self::Better => fell(is, was),
        }
    }

    /// One word for each way.
    fn word<'w>(self, worse: &'w str, better: &'w str) -> &'w str {
        match self {
            Self::Worse => worse,
            Self::Better => better,
        }
    }
}

/// What each axis does less well or better, besides rapids.
fn axes(
    before: &Assessment,
    after: &Assessment,
    names: [&'static str; 3],
    way: Way,
) -> Vec<Labelled> {
    let each = Axis::EACH.into_iter().zip(names);
    let each = each.filter_map(|(axis, name)| {
        let mut words = softer(before, after, axis, way);
        words.extend(weaker(
            &before.machine.axes[axis],
            &after.machine.axes[axis],
            way,
        ));
        (!words.is_empty()).then(|| (name, words.join("; ")))
    });
    each.collect()
}

/// What the axes and the frame do less well, besides rapids.
pub fn worse_axes(before: &Assessment, after: &Assessment) -> Vec<Labelled> {
    let names = ["axis X", "axis Y", "axis Z"];
    let mut told = axes(before, after, names, Way::Worse);
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

/// Materials that go less well, or better.
fn other_cuts(
    before: &Assessment,
    after: &Assessment,
    catalogue: &Catalogue,
    way: Way,
) -> Option<String> {
    let each = catalogue.materials.values().filter_map(|material| {
        let verdict = |of: &Assessment| of.machine.cutting.verdict(&material.id);
        let (was, is) = (verdict(before), verdict(after));
        let words = format!("{} {} -> {}", material.title, was.title(), is.title());
        let changed = match way {
            Way::Worse => is < was,
            Way::Better => is > was,
        };
        changed.then_some(words)
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

/// Where an axis gives way more, or less.
fn softer(before: &Assessment, after: &Assessment, axis: Axis, way: Way) -> Vec<String> {
    let collet = |of: &Assessment| units::n_per_um::from(of.machine.stiffness.collet[axis]);
    let tip = |of: &Assessment| units::n_per_um::from(of.machine.stiffness.tip_worst[axis]);
    let mut words = Vec::new();
    let both = [
        ("at the collet", collet(before), collet(after)),
        ("at the tip", tip(before), tip(after)),
    ];
    for (place, was, is) in both {
        if way.is(was, is) {
            let name = format!("{} {place}", way.word("softer", "stiffer"));
            words.push(changed(&name, was, is, 1, "N/µm"));
        }
    }
    words
}

/// What an axis does less well, or better, besides its rapids.
fn weaker(before: &AxisFigures, after: &AxisFigures, way: Way) -> Vec<String> {
    let thrust = |of: &AxisFigures| units::n::from(of.thrust);
    let step = |of: &AxisFigures| units::um::from(of.step);
    let speeds_up = |of: &AxisFigures| units::m_per_s2::from(of.acceleration);
    let mut words = Vec::new();
    if way.is(thrust(before), thrust(after)) {
        words.push(changed("thrust", thrust(before), thrust(after), 0, "N"));
    }
    // The larger a step, the coarser.
    if way.is(step(after), step(before)) {
        words.push(changed("one step", step(before), step(after), 1, "µm"));
    }
    if way == Way::Better {
        return words;
    }
    let sinks = |of: &AxisFigures| units::nm::from(of.back_torque) > 0.0;
    if sinks(after) && !sinks(before) {
        words.push("without power the motor alone holds it, no longer the screw".to_owned());
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
