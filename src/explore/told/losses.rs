//! What a machine loses by a change: cuts that go less well or slower, axes that push, step or
//! speed up less well, and what no figure tells.

use super::{WORSE, given_up, slower};
use crate::assessment::Assessment;
use crate::build::{Axis, Build, Edit};
use crate::catalogue::Catalogue;
use crate::machine::axis::AxisFigures;
use crate::units::{self, show};
use crate::words::Words as _;

/// What is lost, each under a name.
pub fn losses(
    (build, before): (&Build, &Assessment),
    edits: &[Edit],
    after: &Assessment,
    catalogue: &Catalogue,
) -> Vec<(&'static str, String)> {
    let mut told = Vec::new();
    told.extend(worse_cuts(before, after, catalogue).map(|words| ("cuts worse", words)));
    told.extend(slower(before, after, catalogue).map(|words| ("slower", words)));
    for (axis, name) in Axis::EACH.into_iter().zip(["axis X", "axis Y", "axis Z"]) {
        let machines = (&before.machine.axes[axis], &after.machine.axes[axis]);
        told.extend(weaker(machines).map(|words| (name, words)));
    }
    let given_up = given_up((build, before), edits, after, catalogue).into_iter();
    told.extend(given_up.map(|(name, words)| (name, words.to_owned())));
    told
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

/// What an axis does less well, besides its rapids.
fn weaker((before, after): (&AxisFigures, &AxisFigures)) -> Option<String> {
    let thrust = |of: &AxisFigures| units::n::from(of.thrust);
    let step = |of: &AxisFigures| units::um::from(of.step);
    let speeds_up = |of: &AxisFigures| units::m_per_s2::from(of.acceleration);
    let fell = |was: f64, is: f64| was > 0.0 && is < was * (1.0 - WORSE);
    let told = |name: &str, was: f64, is: f64, digits: usize, unit: &str| {
        let [was, is] = [was, is].map(|number| show::number(number, digits));
        format!("{name} {was} -> {is} {unit}")
    };
    let mut words = Vec::new();
    if fell(thrust(before), thrust(after)) {
        words.push(told("thrust", thrust(before), thrust(after), 0, "N"));
    }
    // The larger a step, the coarser.
    if fell(step(after), step(before)) {
        words.push(told("one step", step(before), step(after), 1, "µm"));
    }
    if fell(speeds_up(before), speeds_up(after)) {
        words.push(told(
            "speeds up by",
            speeds_up(before),
            speeds_up(after),
            2,
            "m/s²",
        ));
    }
    (!words.is_empty()).then(|| words.join("; "))
}
