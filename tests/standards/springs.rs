//! Springs of whole builds, each against the same thing worked numerically: carriages as beds
//! of point springs in a stiffness matrix of six freedoms, the Z plate by virtual work summed
//! step by step, tables as plates by finite elements, the first mode as an eigenvalue. Lengths and
//! rigidities are those that the derivations state; nothing else is taken from them.

use gantrywright::assessment::{Assessment, explain};
use gantrywright::build::{Axis, Build, Picked};
use gantrywright::catalogue::Catalogue;
use gantrywright::catalogue::frame::Rides;
use gantrywright::explain::{Derivation, Notes};
use gantrywright::machine::geometry::plan_of;
use gantrywright::units;
use gantrywright::words::Words;

use crate::checks::{Check, hold, rows};
use crate::common;
use crate::rigid::{Group, X, Y, Z};

pub(crate) fn checks() -> Vec<Check> {
    vec![carriages(), plates(), tables(), first_mode()]
}

#[test]
fn springs_hold() {
    hold(checks());
}

/// Builds with different plans, rails, travels and plates.
const BUILDS: [&[(&str, &str)]; 4] = [
    &[],
    &[("frame_plan", "low-base"), ("travel_x_mm", "900")],
    &[("frame_plan", "fixed-portal")],
    &[("carriages_x", "1"), ("carriages_z", "1")],
];

fn explained(catalogue: &Catalogue, edits: &[(&str, &str)]) -> (Build, Assessment, Notes) {
    let build = common::build(catalogue, edits);
    let (assessment, notes) = explain(catalogue, &build, common::today()).expect("notes");
    (build, assessment, notes)
}

/// The n-th input of a symbol, as the derivation shows it.
fn input(note: &Derivation, symbol: &str) -> f64 {
    let mut inputs = note.inputs.iter();
    let found = inputs.find(|input| input.symbol == symbol);
    found
        .unwrap_or_else(|| panic!("{}: no {symbol}", note.path))
        .value
        .number()
}

/// The carriages of X and Z of several builds, under forces along X, Y and Z at the nose.
fn carriages() -> Check {
    let mut check = Check::within("carriages of X and Z, seen from the collet", 0.05)
        .source("blocks as beds of point springs, their stiffness matrix of six freedoms solved numerically")
        .limits("linear springs, two rails alike; how stiff an installed block is stays a guess, good to a factor of two");
    let catalogue = common::catalogue();
    for edits in BUILDS {
        let (build, _, notes) = explained(&catalogue, edits);
        for (axis, rail, side) in [(Axis::X, X, Z), (Axis::Z, Z, X)] {
            let picked = Picked::new(&catalogue, &build).expect("parts");
            let plan = plan_of(&picked, axis);
            let (carriage, foot) = (picked.axes[axis].carriage, picked.axes[axis].rail);
            for force in Axis::EACH {
                let path = format!(
                    "stiffness.springs.{}.carriages-{}",
                    force.id(),
                    if axis == Axis::X { "x" } else { "z" }
                );
                let note = notes.get(&path).expect("a derivation");
                let group = Group {
                    rail,
                    side,
                    normal: Y,
                    span: units::m::from(plan.carriage_span),
                    gap: units::m::from(plan.rail_gap),
                    on_a_rail: build.drive.carriages[axis] as usize,
                    // Balls bear over 65 % of a block (common practice, from memory).
                    bearing: 0.65 * units::m::from(carriage.length),
                    half_foot: units::m::from(foot.foot_width) / 2.0,
                    each: input(note, "k_1") * 1e6,
                };
                // A lever along the force makes no couple, and is not in the formula.
                let lever = |symbol| {
                    let told = note.inputs.iter().any(|input| input.symbol == symbol);
                    if told { input(note, symbol) / 1e3 } else { 0.0 }
                };
                let (h, e) = (lever("h"), lever("e"));
                let along = [X, Y, Z][force as usize];
                let gives = group.gives([0.0, e, -h], along);
                check.case(
                    format_args!("{path} {edits:?}"),
                    note.result.number(),
                    1e-6 / gives,
                );
            }
        }
    }
    check
}

/// The Z plate as a beam on two carriages that overhangs the lower one, a stiff body at its
/// end: ∫ M²/(E I) dx for a force of 1 N at the nose, summed step by step.
fn plates() -> Check {
    let mut check = Check::within("Z plate, seen from the collet in X and Y", 0.001)
        .source("virtual work, ∫ M m/(E I) dx, summed step by step")
        .limits("plate and rails bend side by side; clamp and spindle body are taken as stiff");
    let catalogue = common::catalogue();
    for edits in BUILDS {
        let (_, _, notes) = explained(&catalogue, edits);
        for axis in ["X", "Y"] {
            let path = format!("stiffness.springs.{axis}.z-plate");
            let note = notes.get(&path).expect("a derivation");
            let length = |symbol| input(note, symbol) / 1e3;
            let (l, d, s) = (length("l"), length("d"), length("s").max(1e-3));
            let steps = 20_000;
            let dx = (s + l) / f64::from(steps);
            let mut gives = 0.0;
            for step in 0..steps {
                let x = (f64::from(step) + 0.5) * dx;
                let moment = if x < s {
                    x * (l + d) / s
                } else {
                    s + l + d - x
                };
                gives += moment * moment * dx / input(note, "E I");
            }
            check.case(
                format_args!("{path} {edits:?}"),
                note.result.number(),
                1e-6 / gives,
            );
        }
    }
    check
}

/// Moving tables pressed in the middle, against plates on four points by finite elements
/// (table_plates.py beside this file makes the table). Two strips, one across and one along,
/// are softer than the whole plate.
fn tables() -> Check {
    let mut check = Check::band("moving table as two strips: plate over strips", 1.0, 1.3)
        .source("plate elements: PyNiteFEA 3.2.0 (table_plates.py)")
        .limits("pressed in the middle a table is 8 to 24 % stiffer than its two strips; the error is on the safe side");
    let catalogue = common::catalogue();
    for (name, row) in rows(include_str!("table_plates.csv")) {
        let travel = format!("{}", row[0] - 60.0);
        let plate = format!("plate-{}", row[2]);
        let edits = [
            ("frame_plan", "fixed-portal"),
            ("travel_x_mm", travel.as_str()),
            ("travel_y_mm", "300"),
            ("plate", plate.as_str()),
        ];
        let (_, assessment, notes) = explained(&catalogue, &edits);
        let mut plates = assessment.machine.geometry.plates.iter();
        let table = plates.find(|plate| plate.rides == Rides::Y);
        let table = table.expect("a table");
        let note = notes.get("stiffness.springs.Z.table").expect("one");
        for (is, wanted) in [
            (units::mm::from(table.width), row[0]),
            (units::mm::from(table.length), row[1]),
            (input(note, "g"), row[3]),
            (input(note, "s"), row[4]),
        ] {
            assert!((is - wanted).abs() < 1e-6, "{name} is not the plan's: {is}");
        }
        check.case(name, note.result.number(), row[5]);
    }
    check
}

/// The masses of the derivation on their springs in a row, as an eigenvalue: what one mass
/// gives under a force on another is the give of the springs that both hang on. Found by
/// iterating the product of flexibility and mass. Dunkerley's sum must lie below it.
fn first_mode() -> Check {
    let mut check = Check::band("first mode: eigenvalue over Dunkerley's sum", 1.0, 1.2)
        .source("least eigenvalue of the masses on their springs in a row, by iteration")
        .limits("Dunkerley's sum is never above the model's own mode; real gantries ring at half of it or less, since joints and floor give too");
    let catalogue = common::catalogue();
    for edits in BUILDS {
        let (_, assessment, notes) = explained(&catalogue, edits);
        let note = notes.get("stiffness.first_mode_hz").expect("a derivation");
        let all = |symbol: &str, scale: f64| -> Vec<f64> {
            let inputs = note.inputs.iter();
            let those = inputs.filter(|input| input.symbol == symbol);
            those.map(|input| input.value.number() * scale).collect()
        };
        let (masses, gives) = (all("m_i", 1.0), all("c_i", 1e-6));
        assert_eq!((masses.len(), gives.len()), (4, 4));
        let mut shape = [1.0; 4];
        let mut least = 0.0;
        for _ in 0..500 {
            let moved: [f64; 4] = std::array::from_fn(|i| {
                (0..4)
                    .map(|j| gives[i].min(gives[j]) * masses[j] * shape[j])
                    .sum()
            });
            least = moved.iter().copied().fold(0.0, f64::max);
            shape = moved.map(|m| m / least);
        }
        let hertz = 1.0 / (std::f64::consts::TAU * f64::sqrt(least));
        let computed = units::hz::from(assessment.machine.stiffness.first_mode);
        check.case(format_args!("{edits:?}"), computed, hertz);
    }
    check
}
