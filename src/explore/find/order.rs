//! The order in which choices are made, and what of them makes an axis's load light.

use super::Space;
use super::floor::Floor;
use crate::build::choices::drive::ScrewEnds;
use crate::build::{Axis, Value};
use crate::catalogue::Catalogue;
use crate::words::Words as _;

/// The choices of an axis, in the order in which they are made.
const OF_AXIS: &[&str] = &["guide", "drive", "ends", "motor", "coupling", "driver"];

/// The axis that a choice belongs to.
pub(super) fn axis_of(id: &str) -> Option<Axis> {
    let of = |axis: &Axis| OF_AXIS.iter().any(|name| axis.choice(name) == id);
    Axis::EACH.into_iter().find(of)
}

/// Where a choice stands in the order: what is carried comes before what carries it, so that
/// lessons about an axis are known before the next one is looked at.
pub(super) fn turn_of(id: &str) -> usize {
    const FIRST: &[&str] = &[
        "spindle",
        "vfd",
        "spindle_clamp",
        "cooler",
        "tool",
        "controller",
        "supply",
        "gantry_drive",
        "preloaded_nuts",
        "guide_z",
        "guide_x",
        "guide_y",
    ];
    if let Some(place) = FIRST.iter().position(|one| *one == id) {
        return place;
    }
    let axes = [Axis::Z, Axis::X, Axis::Y];
    let own = axes.iter().enumerate().find_map(|(round, axis)| {
        let named = |name: &&str| axis.choice(name) == id;
        let place = OF_AXIS.iter().position(named)?;
        Some(100 + round * 10 + place)
    });
    match id {
        "drive_y2" => 121,
        _ => own.unwrap_or(1000),
    }
}

/// Ways to make the load of an axis lighter, the boldest first: all choices of the axes that it
/// carries, and those that weigh next to nothing; with either what of its own turns with the
/// motor and holds the screw.
pub(super) fn lightest(
    catalogue: &Catalogue,
    floor: &Floor,
    space: &Space,
    axis: Axis,
) -> Vec<Vec<(usize, usize)>> {
    let carried: &[Axis] = match axis {
        Axis::Z => &[],
        Axis::X => &[Axis::Z],
        Axis::Y => &[Axis::X, Axis::Z],
    };
    let ways: [&[&str]; 2] = [OF_AXIS, &["ends", "coupling", "driver"]];
    let way = |names: &[&str]| {
        let ids = carried
            .iter()
            .flat_map(|axis| names.iter().map(|name| axis.choice(name)));
        let turn = |id: &String| space.free.iter().position(|one| one.choice.id == *id);
        let light = ids.filter_map(|id| turn(&id).map(|turn| (turn, floor.lightest(turn, axis))));
        let coupling = turn(&axis.choice("coupling"))
            .map(|turn| (turn, slightest(catalogue, &space.free[turn].options)));
        // A screw with both ends fixed may turn fastest; nothing else hangs on them here.
        let fixed = Value::Word(ScrewEnds::FixedFixed.id());
        let ends = turn(&axis.choice("ends")).and_then(|turn| {
            let mut options = space.free[turn].options.iter();
            Some((turn, options.position(|one| *one == fixed)?))
        });
        light.chain(coupling).chain(ends).collect()
    };
    let found: Vec<Vec<(usize, usize)>> = ways.into_iter().map(way).collect();
    found.into_iter().filter(|some| !some.is_empty()).collect()
}

/// The coupling with the least inertia among some options.
fn slightest(catalogue: &Catalogue, options: &[Value]) -> usize {
    let inertia = |option: &Value| match option {
        Value::Part(Some(id)) => catalogue.couplings.get(id).map(|one| one.inertia.value),
        _ => None,
    };
    let inertia = |place: &usize| inertia(&options[*place]).unwrap_or(f64::INFINITY);
    let each = 0..options.len();
    let least = each.min_by(|a, b| inertia(a).total_cmp(&inertia(b)));
    least.unwrap_or_default()
}
