//! Frames against finite elements (frames.py beside this file makes the table) and against
//! formulas of handbooks; the shear area against finite elements as well.

use gantrywright::build::Axis;
use gantrywright::machine::section::Section;
use gantrywright::machine::stiffness::SpringName;
use gantrywright::machine::stiffness::beam::{Beam, Plane, Portal};
use gantrywright::units::{self, AngularStiffness};

use crate::common;

/// Load of every case of the table, in N or N·m.
const LOAD: f64 = 1000.0;

fn section(sizes: &str) -> Section {
    let shelf = common::catalogue().tubes;
    Section::of(&shelf[format!("tube-{sizes}").as_str()])
}

fn close(what: &str, computed: f64, expected: f64, tolerance: f64) {
    let error = (computed / expected - 1.0).abs();
    assert!(error <= tolerance, "{what}: {computed} against {expected}");
}

fn rows() -> Vec<Vec<&'static str>> {
    let table = include_str!("frames.csv").lines();
    let data = table.filter(|line| !line.starts_with(['#', 'c']) || line.starts_with("couple"));
    data.map(|line| line.split(',').collect()).collect()
}

fn number(cell: &str) -> f64 {
    cell.parse().expect("a number")
}

/// Shear areas of 80x80x4, 100x100x4 and 120x60x4 by finite elements (sectionproperties
/// 3.10.2, warping analysis), in mm²: 516.1, 649.5, 856.7. Cowper's thin box lies within 3 %.
#[test]
fn shear_areas_agree_with_finite_elements() {
    for (sizes, expected) in [
        ("80x80x4", 516.1),
        ("100x100x4", 649.5),
        ("120x60x4", 856.7),
    ] {
        let area = units::mm2::from(section(sizes).shear_up());
        close(sizes, area, expected, 0.03);
    }
}

/// Bending, couple and torsion at three places of three tubes, hinged and clamped; the tables'
/// sections carry six digits, the members of the library do not give in shear.
#[test]
fn beams_agree_with_finite_elements() {
    let mut seen = 0;
    for row in rows() {
        let [case, tube, _, span, _, place, _, ends, value] = row[..] else {
            panic!("{row:?}");
        };
        if !["up", "across", "couple", "twist"].contains(&case) {
            continue;
        }
        seen += 1;
        let clamped = if ends == "clamped" { 100.0 } else { 0.0 };
        let beam = Beam {
            length: units::m::of(number(span)),
            section: section(tube),
            fixity: units::percent::of(clamped),
        };
        let at = units::share::of(number(place));
        let shear = |area: units::Area| {
            let a = number(place);
            number(span) * a * (1.0 - a) / (210e9 / 2.6 * area.value)
        };
        let gives = match case {
            "up" => 1.0 / beam.bends(Plane::Up, at).value - shear(beam.section.shear_up()),
            "across" => {
                1.0 / beam.bends(Plane::Across, at).value - shear(beam.section.shear_across())
            }
            "couple" => 1.0 / beam.turns(Plane::Up, at).as_nm_per_rad(),
            _ => 1.0 / beam.twists(at).as_nm_per_rad(),
        };
        close(&row.join(","), gives * LOAD, number(value), 1e-4);
    }
    assert_eq!(seen, 72);
}

/// Portals pushed along the beam: feet clamped, held by a spring, and all but hinged.
#[test]
fn portals_agree_with_finite_elements() {
    let mut seen = 0;
    for row in rows().into_iter().filter(|row| row[0] == "sway") {
        let [_, tube, leg, span, height, _, _, ends, value] = row[..] else {
            panic!("{row:?}");
        };
        seen += 1;
        let beam = Beam {
            length: units::m::of(number(span)),
            section: section(tube),
            fixity: units::percent::of(100.0),
        };
        let foot = (ends != "clamped").then(|| AngularStiffness::nm_per_rad(number(ends)));
        let portal = Portal {
            beam,
            leg: section(leg),
            height: units::m::of(number(height)),
            foot,
        };
        let gives = LOAD / portal.sways().value;
        // The members of the library also give along their length, a little.
        close(&row.join(","), gives, number(value), 2e-3);
    }
    assert_eq!(seen, 9);
}

/// The table of a handbook of structures for a portal with one inertia all round, span twice
/// the height (any handbook of frames): with κ = (I_b/L)/(I/H), feet clamped
/// k = (24 E I/H³)(1 + 6κ)/(4 + 6κ), hinged k = (24 E I/H³)/(4 + 2/κ).
#[test]
fn portals_agree_with_a_handbook() {
    let tube = section("80x80x4");
    let (height, span) = (0.5, 1.0);
    let ei = 210e9 * tube.iz().as_cm4() * 1e-8;
    let kappa = height / span;
    let post = 24.0 * ei / f64::powi(height, 3);
    for (foot, expected) in [
        (None, post * (1.0 + 6.0 * kappa) / (4.0 + 6.0 * kappa)),
        (
            Some(AngularStiffness::nm_per_rad(1e-6)),
            post / (4.0 + 2.0 / kappa),
        ),
    ] {
        let portal = Portal {
            beam: Beam {
                length: units::m::of(span),
                section: tube,
                fixity: units::percent::of(100.0),
            },
            leg: tube,
            height: units::m::of(height),
            foot,
        };
        close("portal", portal.sways().value, expected, 1e-6);
    }
}

/// A whole gantry on uprights: beam, its twist and the posts of an assessed build against one
/// frame by finite elements with a stiff arm to the tool. The share of shear, which the
/// library's members do not have, is taken out.
#[test]
fn a_whole_gantry_agrees_with_finite_elements() {
    let edits = [("frame_plan", "low-base"), ("beam_ends_percent", "0")];
    let assessment = common::assessed(&common::catalogue(), &edits);
    let stiffness = &assessment.machine.stiffness;
    let levers = stiffness.levers;
    let tube = section("80x80x4");
    for row in rows()
        .into_iter()
        .filter(|row| row[0].starts_with("gantry"))
    {
        for (cell, length) in [
            (row[3], levers.span),
            (row[4], levers.rise),
            (row[5], levers.below),
            (row[6], levers.ahead),
        ] {
            close(row[0], units::m::from(length), number(cell), 1e-6);
        }
        let axis = if row[0] == "gantry-y" {
            Axis::Y
        } else {
            Axis::Z
        };
        let frame = [
            SpringName::Beam,
            SpringName::BeamTwist,
            SpringName::Uprights,
        ];
        let springs = stiffness.springs[axis].iter();
        let gives: f64 = springs
            .filter(|spring| frame.contains(&spring.name))
            .map(|spring| 1.0 / spring.stiffness.value)
            .sum();
        let shear = number(row[3]) / 4.0 / (210e9 / 2.6 * tube.shear_up().value);
        close(&row.join(","), (gives - shear) * LOAD, number(row[8]), 0.01);
    }
}
