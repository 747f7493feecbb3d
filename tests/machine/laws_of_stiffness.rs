//! Laws of stiffness that hold for every build, tried on random ones. Where a change moves a
//! lever besides, the law says in which direction it holds; to try one cause alone, the part
//! itself is changed in the catalogue and nothing else.

use crate::common;
use gantrywright::build::{Axis, Build};
use gantrywright::catalogue::{Catalogue, Id};
use gantrywright::machine::stiffness::{MachineStiffness, SpringName};
use gantrywright::units;

/// Every stiffness of a machine in one direction, in N/µm.
fn each(s: &MachineStiffness, axis: Axis) -> [f64; 5] {
    [
        s.collet[axis],
        s.collet_worst[axis],
        s.tip[axis],
        s.tip_worst[axis],
        s.collet_thin_wall[axis],
    ]
    .map(units::n_per_um::from)
}

fn stiffness(catalogue: &Catalogue, build: &Build) -> MachineStiffness {
    common::machine(catalogue, build).stiffness
}

/// Asserts that the second machine is nowhere softer than the first.
fn never_softer(what: &str, axes: &[Axis], soft: &MachineStiffness, stiff: &MachineStiffness) {
    for &axis in axes {
        let (before, after) = (each(soft, axis), each(stiff, axis));
        let mut pairs = after.iter().zip(before);
        let fine = pairs.all(|(after, before)| common::no_lower(*after, before));
        assert!(fine, "{what}, {axis:?}: {before:?}, then {after:?}");
    }
}

/// Values of a choice, each firmer than the last.
type Ladder<'a> = (&'a str, &'a [&'a str]);

/// Asserts that along each ladder no random build gets softer in any of the directions.
fn climb(ladders: &[Ladder], axes: &[Axis], seed: u64, count: usize) {
    let catalogue = common::catalogue();
    for build in common::modelled_builds(&catalogue, seed, count) {
        for (choice, values) in ladders {
            let mut before: Option<MachineStiffness> = None;
            for value in *values {
                let build = common::with(&catalogue, &build, &[(*choice, *value)]);
                let now = stiffness(&catalogue, &build);
                if let Some(before) = before {
                    never_softer(&format!("{choice} {value}"), axes, &before, &now);
                }
                before = Some(now);
            }
        }
    }
}

/// What is held more firmly, and moves no lever, softens nothing in any direction.
#[test]
fn firmer_joints_are_never_softer() {
    let ends: &[&str] = &["fixed-free", "fixed-supported", "fixed-fixed"];
    let carriages: &[&str] = &["2", "3", "4"];
    climb(
        &[
            ("beam_ends_percent", &["0", "30", "67", "100"]),
            ("carriage_joint_percent", &["5", "33", "100"]),
            ("current_percent", &["20", "60", "100"]),
            ("preloaded_nuts", &["no", "yes"]),
            ("ends_x", ends),
            ("ends_y", ends),
            ("ends_z", ends),
            ("carriages_x", carriages),
            ("carriages_y", carriages),
            ("carriages_z", carriages),
        ],
        &Axis::EACH,
        51,
        36,
    );
}

/// A thicker wall moves no lever, so that it never softens anything in any direction; nor
/// does a screw that is thicker alone.
#[test]
fn thicker_walls_and_screws_are_never_softer() {
    let catalogue = common::catalogue();
    let mut thick = catalogue.clone();
    for tube in thick.tubes.values_mut() {
        tube.wall *= 1.25;
    }
    let mut wide = catalogue.clone();
    for screw in wide.ball_screws.values_mut() {
        (screw.diameter, screw.root) = (screw.diameter * 1.25, screw.root * 1.25);
    }
    for screw in wide.lead_screws.values_mut() {
        (screw.diameter, screw.root) = (screw.diameter * 1.25, screw.root * 1.25);
    }
    for build in common::modelled_builds(&catalogue, 52, 120) {
        let plain = stiffness(&catalogue, &build);
        never_softer("wall", &Axis::EACH, &plain, &stiffness(&thick, &build));
        never_softer("screw", &Axis::EACH, &plain, &stiffness(&wide, &build));
    }
}

/// A thicker plate and a beam that is only wider move the tool further from the beam, which
/// Y does not feel: there they are never softer. In X and Z they may be.
#[test]
fn thicker_plates_and_wider_beams_are_never_softer_in_y() {
    let catalogue = common::catalogue();
    let mut thick = catalogue.clone();
    for plate in thick.plates.values_mut() {
        plate.thickness *= 1.25;
    }
    for build in common::modelled_builds(&catalogue, 53, 120) {
        let plain = stiffness(&catalogue, &build);
        never_softer("plate", &[Axis::Y], &plain, &stiffness(&thick, &build));
        let mut wide = catalogue.clone();
        let id = &build.area.beam_tube;
        let mut tube = wide.tubes[id].clone();
        tube.width *= 1.25;
        tube.id = Id::new("tube-own").expect("an id");
        wide.tubes.insert(tube.id, tube);
        let build = common::with(&wide, &build, &[("beam_tube", "tube-own")]);
        never_softer("beam", &[Axis::Y], &plain, &stiffness(&wide, &build));
    }
}

/// A shorter span is never softer in Y, unless a rail or a screw in hand sets how far the
/// tool gets: then a longer machine is used near its middle alone.
#[test]
fn shorter_spans_are_never_softer_in_y() {
    let catalogue = common::catalogue();
    let cut = [("rail_length_x_mm", "none"), ("screw_length_x_mm", "none")];
    for build in common::modelled_builds(&catalogue, 54, 90) {
        let build = common::with(&catalogue, &build, &cut);
        let at = |travel| {
            let edits = [("travel_x_mm", travel)];
            stiffness(&catalogue, &common::with(&catalogue, &build, &edits))
        };
        let each = ["1600", "1200", "800", "400", "200"].map(at);
        for pair in each.windows(2) {
            never_softer("travel", &[Axis::Y], &pair[0], &pair[1]);
        }
    }
}

/// A second carriage on each rail makes the carriages stiffer in every direction. The machine
/// may get softer by it: a longer rail wants a longer beam, and plate and table bend between
/// carriages that stand apart.
#[test]
fn a_second_carriage_makes_the_carriages_stiffer() {
    let catalogue = common::catalogue();
    for (choice, name) in [
        ("carriages_x", SpringName::CarriagesX),
        ("carriages_y", SpringName::CarriagesY),
        ("carriages_z", SpringName::CarriagesZ),
    ] {
        let mut found = 0;
        for build in common::modelled_builds(&catalogue, 55, 60) {
            let [one, two] = ["1", "2"].map(|number| {
                let edits = [(choice, number)];
                stiffness(&catalogue, &common::with(&catalogue, &build, &edits))
            });
            for axis in Axis::EACH {
                let of = |s: &MachineStiffness| {
                    let springs = s.springs[axis].iter();
                    let mut named = springs.filter(|spring| spring.name == name);
                    named
                        .next()
                        .map(|spring| units::n_per_um::from(spring.stiffness))
                };
                if let (Some(one), Some(two)) = (of(&one), of(&two)) {
                    assert!(one < two, "{choice} {axis:?}: {one}, then {two}");
                    found += 1;
                }
            }
        }
        assert!(found > 60, "{choice}: {found}");
    }
}

/// A larger tube never softens Y on a usual machine. On others it may, and in X and Z it may
/// on all, for it moves the tool further from the beam's axis, or the Y rails closer together.
#[test]
fn larger_tubes_are_never_softer_in_y_on_usual_machines() {
    let catalogue = common::catalogue();
    for plan in catalogue.frames.keys() {
        let each = ["tube-60x60x4", "tube-80x80x4", "tube-100x100x4"].map(|tube| {
            let edits = [("frame_plan", plan.as_str()), ("beam_tube", tube)];
            let build = common::build(&catalogue, &edits);
            units::n_per_um::from(stiffness(&catalogue, &build).collet.y)
        });
        assert!(each[0] < each[1] && each[1] < each[2], "{plan}: {each:?}");
    }
}

/// Every stiffness of every build is a number above zero; the worst place is no stiffer than
/// mid-span, thin walls than nominal ones; shares add up. The tip may be stiffer than the
/// collet: between tall uprights it comes nearer to the Y rails.
#[test]
fn stiffness_is_sound_for_every_build() {
    let catalogue = common::catalogue();
    for build in common::random_builds(&catalogue, 6, 300) {
        let s = stiffness(&catalogue, &build);
        for axis in Axis::EACH {
            let [collet, worst, tip, tip_worst, thin] = each(&s, axis);
            assert!(collet.is_finite() && tip.is_finite(), "{axis:?}");
            assert!(
                0.0 < worst && common::no_lower(collet, worst),
                "{axis:?}: {worst} {collet}"
            );
            assert!(
                0.0 < thin && common::no_lower(collet, thin),
                "{axis:?}: {thin} {collet}"
            );
            assert!(
                0.0 < tip_worst && common::no_lower(tip, tip_worst),
                "{axis:?}: {tip_worst} {tip}"
            );
            let springs = s.springs[axis].iter();
            let shares: f64 = springs
                .map(|spring| units::percent::from(spring.share))
                .sum();
            assert!((shares - 100.0).abs() < 1e-6, "{axis:?}: {shares}");
        }
        let mode = units::hz::from(s.first_mode);
        assert!((0.01..2000.0).contains(&mode), "{mode} Hz");
    }
}
