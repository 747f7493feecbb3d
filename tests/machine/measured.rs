//! Measured values take the model's place, say so, and tell how far the model was off.

use crate::common;
use gantrywright::assessment::explain;
use gantrywright::build::Axis;
use gantrywright::explain::{Notes, Origin};
use gantrywright::machine::section::Section;
use gantrywright::units;

fn notes(edits: &[(&str, &str)]) -> Notes {
    let catalogue = common::catalogue();
    let build = common::build(&catalogue, edits);
    explain(&catalogue, &build, common::today())
        .expect("an assessment")
        .1
}

/// The derivation of a figure rests on the measured choice, and remembers the model's value.
fn rests_on(notes: &Notes, figure: &str, choice: &str) {
    let derivation = notes.get(figure).unwrap_or_else(|| panic!("{figure}"));
    let measured = Origin::Measured(choice.to_owned());
    assert!(
        derivation
            .inputs
            .iter()
            .any(|input| input.origin == measured),
        "{figure}: {derivation:?}"
    );
    assert!(derivation.modelled.is_some(), "{figure}");
}

fn close(found: f64, expected: f64) {
    assert!(
        (found / expected - 1.0).abs() < 1e-9,
        "{found}, not {expected}"
    );
}

#[test]
fn a_pull_and_what_gave_replace_the_stiffness() {
    let catalogue = common::catalogue();
    let edits = [("measured_pull_n", "80"), ("measured_give_y_um", "40")];
    let before = common::assessed(&catalogue, &[]).machine;
    let after = common::assessed(&catalogue, &edits).machine;
    let (was, is) = (before.stiffness, after.stiffness);
    // 80 N over 40 µm.
    close(units::n_per_um::from(is.collet.y), 2.0);
    let by = 2.0 / units::n_per_um::from(was.collet.y);
    let scaled = |was: units::Stiffness| units::n_per_um::from(was) * by;
    close(
        units::n_per_um::from(is.collet_worst.y),
        scaled(was.collet_worst.y),
    );
    assert_eq!(is.collet.x, was.collet.x);
    // The tool bends as before: springs in series.
    let tool = catalogue.end_mills.get("mill-6mm-2f").expect("a tool");
    let tool = 1.0 / units::n_per_um::from(gantrywright::machine::stiffness::tool_bending(tool));
    let machine = |tip: units::Stiffness| 1.0 / units::n_per_um::from(tip) - tool;
    close(machine(is.tip.y) * by, machine(was.tip.y));
    let compared = &after.measured[0];
    assert_eq!(compared.choice, "measured_give_y_um");
    // The model's give under 80 N, and how far that is off.
    let modelled = 80.0 / units::n_per_um::from(was.collet.y);
    close(compared.modelled.number, modelled);
    close(units::share::from(compared.off()), modelled / 40.0 - 1.0);
    let notes = notes(&edits);
    rests_on(&notes, "stiffness.collet_n_per_um.Y", "measured_give_y_um");
}

#[test]
fn a_measured_wall_is_the_tubes_wall_at_its_best_and_worst() {
    let catalogue = common::catalogue();
    let edits = [("measured_beam_wall_mm", "3.7")];
    let picked_tube = catalogue.tubes.get("tube-80x80x4").expect("a tube");
    let mut thinner = picked_tube.clone();
    thinner.wall = units::mm::of(3.7);
    let after = common::assessed(&catalogue, &edits).machine;
    let before = common::assessed(&catalogue, &[]).machine;
    let beam = before
        .geometry
        .members
        .iter()
        .find(|member| member.tube == picked_tube.id && member.title == "beam")
        .expect("a beam");
    let lighter = Section::of(picked_tube).linear_mass() - Section::of(&thinner).linear_mass();
    close(
        units::kg::from(before.masses.moving.y - after.masses.moving.y),
        units::kg::from(lighter * beam.length),
    );
    assert!(after.stiffness.collet.y < before.stiffness.collet.y);
    // Only the other tubes may still be thinner than named.
    assert!(after.stiffness.collet_thin_wall.y > before.stiffness.collet_thin_wall.y);
    rests_on(
        &notes(&edits),
        "machine.beam_wall_mm",
        "measured_beam_wall_mm",
    );
}

#[test]
fn a_wall_that_cannot_be_is_left_out_and_told() {
    let catalogue = common::catalogue();
    let nothing = common::assessed(&catalogue, &[]).machine;
    let wrong = common::assessed(&catalogue, &[("measured_beam_wall_mm", "12")]);
    assert_eq!(wrong.machine.stiffness.collet, nothing.stiffness.collet);
    assert!(wrong.machine.measured.is_empty());
    let rules: Vec<_> = wrong
        .findings
        .iter()
        .map(|finding| finding.rule.as_str())
        .collect();
    assert!(rules.contains(&"measured-wall-impossible"), "{rules:?}");
}

#[test]
fn a_measured_pitch_moves_the_holes() {
    let catalogue = common::catalogue();
    let edits = [("measured_rail_pitch_x_mm", "80")];
    let after = common::assessed(&catalogue, &edits).machine;
    let rail = &after.geometry.rails.x;
    let pitches = units::mm::from(rail.length) / 80.0;
    assert!((pitches - pitches.round()).abs() < 1e-9, "{pitches}");
    // Both ends are alike: half a pitch, 40 mm, before the first hole and behind the last, so
    // a hole for each pitch. One more would leave the rail at both ends.
    assert_eq!(f64::from(rail.holes()), pitches.round());
    let holes = rail.stations.expect("holes");
    close(units::mm::from(holes.margin), 40.0);
    close(units::mm::from(holes.pitch), 80.0);
    rests_on(
        &notes(&edits),
        "axes.X.rail_pitch_mm",
        "measured_rail_pitch_x_mm",
    );
}

#[test]
fn seven_tenths_of_the_stall_are_planned_with() {
    let catalogue = common::catalogue();
    for stall in ["8", "40"] {
        let edits = [
            ("measured_stall_x_m_per_min", stall),
            ("acceleration_m_per_s2", "1.5"),
        ];
        let after = common::assessed(&catalogue, &edits).machine;
        let axis = &after.axes.x;
        let expected = 0.7 * stall.parse::<f64>().expect("a number");
        let motor = axis
            .limits
            .iter()
            .find(|limit| limit.name == gantrywright::machine::limits::LimitName::Motor)
            .expect("a limit");
        close(units::m_per_min::from(motor.speed), expected);
        assert!(axis.rapid <= motor.speed);
        assert!(axis.acceleration >= units::m_per_s2::of(1.5));
        // The model's own stall: where the whole torque is just what acceleration needs.
        let compared = &after.measured[0];
        let turning = axis.turns_at(axis.modelled_stall());
        close(
            units::nm::from(axis.curve.pull_out(turning)),
            units::nm::from(axis.needed_torque),
        );
        assert_eq!(compared.figure, "axes.X.limits_m_per_min.motor-torque");
    }
    let notes = notes(&[("measured_stall_x_m_per_min", "8")]);
    rests_on(
        &notes,
        "axes.X.limits_m_per_min.motor-torque",
        "measured_stall_x_m_per_min",
    );
}

#[test]
fn the_current_at_the_plug_replaces_the_sum() {
    let catalogue = common::catalogue();
    let edits = [("measured_current_a", "5")];
    let after = common::assessed(&catalogue, &edits).machine;
    let circuit = &after.electrics.circuits[0];
    close(units::a::from(circuit.full()), 5.0);
    assert!(circuit.typical() <= circuit.full());
    assert!(circuit.modelled_full() > circuit.full());
    rests_on(
        &notes(&edits),
        "power.circuits.first.current_a",
        "measured_current_a",
    );
}

#[test]
fn nothing_measured_changes_nothing() {
    let catalogue = common::catalogue();
    let machine = common::assessed(&catalogue, &[]).machine;
    assert!(machine.measured.is_empty());
    for axis in Axis::EACH {
        assert!(machine.stiffness.modelled[axis].is_none());
    }
}
