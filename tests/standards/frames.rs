//! Frames against finite elements (frames.py beside this file makes the table) and against
//! formulas of handbooks; the shear area against finite elements as well.

use gantrywright::build::Axis;
use gantrywright::machine::section::Section;
use gantrywright::machine::stiffness::SpringName;
use gantrywright::machine::stiffness::beam::{Beam, Plane, Portal};
use gantrywright::units::{self, AngularStiffness, Ratio};

use crate::checks::{Check, hold, lines, rows as table};
use crate::common;

/// Load of every case of the table, in N or N·m.
const LOAD: f64 = 1000.0;

/// Where the model of a beam ends.
const BEAM_ENDS: &str = "straight, stiff joints, no local give of the walls under rails and welds; how far ends are clamped is a guess";

/// Where the model of a portal ends.
const PORTAL_ENDS: &str =
    "joints as stiff as their members; a welded corner of thin walls gives more";

const LIBRARY: &str = "finite elements: PyNiteFEA 3.2.0 (frames.py)";

/// E of steel, N/m² (EN 1993-1-1), and G with a Poisson's ratio of 0.3.
const E: f64 = 210e9;
const G: f64 = E / 2.6;

pub(crate) fn checks() -> Vec<Check> {
    let mut checks = vec![shear_areas()];
    checks.extend(beams());
    checks.extend(handbook_beams());
    checks.extend([portals(), handbook_portals(), whole_gantries()]);
    checks
}

#[test]
fn frames_hold() {
    hold(checks());
}

fn section(sizes: &str) -> Section {
    let shelf = common::catalogue().tubes;
    Section::of(&shelf[format!("tube-{sizes}").as_str()])
}

fn beam(tube: &str, span: f64, clamped: f64) -> Beam {
    Beam {
        length: units::m::of(span),
        section: section(tube),
        fixity: units::percent::of(clamped),
    }
}

fn rows() -> Vec<Vec<&'static str>> {
    let lines = lines(include_str!("frames.csv"));
    lines.map(|line| line.split(',').collect()).collect()
}

fn number(cell: &str) -> f64 {
    cell.parse().expect("a number")
}

/// Along the height and along the width (shear_areas.py beside this file makes the table).
fn shear_areas() -> Check {
    let mut check = Check::within("shear area of a tube, upright and lying", 3.0)
        .source("finite elements: sectionproperties 3.10.2, warping analysis (shear_areas.py)")
        .limits("the thin box of the formula has no rounded corners");
    for (sizes, row) in table(include_str!("shear_areas.csv")) {
        let section = section(sizes);
        let (up, across) = (section.shear_up(), section.shear_across());
        check.case(format_args!("{sizes} up"), units::mm2::from(up), row[3]);
        check.case(
            format_args!("{sizes} across"),
            units::mm2::from(across),
            row[4],
        );
    }
    check
}

/// Bending, couple and torsion at three places of three tubes, hinged and clamped; the tables'
/// sections carry six digits, the members of the library do not give in shear, so that the
/// beam's own shear is taken out.
fn beams() -> [Check; 2] {
    let check = |what| Check::within(what, 0.01).source(LIBRARY).limits(BEAM_ENDS);
    let mut bending = check("bending of a beam at three places, hinged and clamped");
    let mut turning = check("the same under a couple and under a torque");
    for row in rows() {
        let [case, tube, _, span, _, place, _, ends, value] = row[..] else {
            panic!("{row:?}");
        };
        if !["up", "across", "couple", "twist"].contains(&case) {
            continue;
        }
        let beam = beam(
            tube,
            number(span),
            if ends == "clamped" { 100.0 } else { 0.0 },
        );
        let at = units::share::of(number(place));
        let shear = |area: units::Area| {
            let a = number(place);
            number(span) * a * (1.0 - a) / (G * area.value)
        };
        let force = |plane, area| 1.0 / beam.bends(plane, at).value - shear(area);
        let name = row.join(",");
        let (check, gives) = match case {
            "up" => (&mut bending, force(Plane::Up, beam.section.shear_up())),
            "across" => (
                &mut bending,
                force(Plane::Across, beam.section.shear_across()),
            ),
            "couple" => (
                &mut turning,
                1.0 / beam.turns(Plane::Up, at).as_nm_per_rad(),
            ),
            _ => (&mut turning, 1.0 / beam.twists(at).as_nm_per_rad()),
        };
        check.case(name, gives * LOAD, number(value));
    }
    [bending, turning]
}

/// At mid-span, P L³/(48 E I) on hinges and P L³/(192 E I) clamped, with shear P L/(4 G As);
/// T L/(4 G It) with ends held (any handbook of structures). I and It as published tables for
/// EN 10219 print them, As by finite elements: nothing of it is the program's.
fn handbook_beams() -> [Check; 3] {
    let source =
        "handbook formulas with I and It of published tables and As of finite elements, by hand";
    let check = |what| Check::within(what, 0.5).source(source).limits(BEAM_ENDS);
    let mut hinged = check("beam on hinges, with shear, mid-span");
    let mut clamped = check("beam clamped, with shear, mid-span");
    let mut twisted = check("beam in torsion, mid-span");
    let middle: Ratio = units::share::of(0.5);
    for (tube, i, it, area) in [
        ("80x80x4", 111.0, 180.0, 516.1),
        ("100x100x4", 226.0, 362.0, 649.5),
        ("120x60x4", 241.0, 201.0, 856.7),
    ] {
        for span in [0.8, 1.2] {
            let name = format!("{tube}, {span} m");
            let shear = span / (4.0 * G * area * 1e-6);
            let at = |give: f64| 1.0 / (give + shear);
            let ei = E * i * 1e-8;
            let bends = |fixity| beam(tube, span, fixity).bends(Plane::Up, middle).value;
            let cube = f64::powi(span, 3);
            hinged.case(&name, bends(0.0), at(cube / (48.0 * ei)));
            clamped.case(&name, bends(100.0), at(cube / (192.0 * ei)));
            let turns = beam(tube, span, 0.0).twists(middle).as_nm_per_rad();
            twisted.case(&name, turns, 4.0 * G * it * 1e-8 / span);
        }
    }
    [hinged, clamped, twisted]
}

/// Portals pushed along the beam: feet clamped, held by a spring, and all but hinged.
fn portals() -> Check {
    let mut check = Check::within("portal pushed along its beam, feet clamped to hinged", 0.05)
        .source(LIBRARY)
        .limits(PORTAL_ENDS);
    for row in rows().into_iter().filter(|row| row[0] == "sway") {
        let [_, tube, leg, span, height, _, _, ends, value] = row[..] else {
            panic!("{row:?}");
        };
        let portal = Portal {
            beam: beam(tube, number(span), 100.0),
            leg: section(leg),
            legs: 1.0,
            height: units::m::of(number(height)),
            foot: (ends != "clamped").then(|| AngularStiffness::nm_per_rad(number(ends))),
        };
        // The members of the library also give along their length, a little.
        check.case(row.join(","), LOAD / portal.sways().value, number(value));
    }
    check
}

/// A portal with one section all round, span twice the height (any handbook of frames): with n
/// legs a side and κ = (I_b/L)/(n I/H), feet clamped k = (24 n E I/H³)(1 + 6κ)/(4 + 6κ), hinged
/// k = (24 n E I/H³)/(4 + 2/κ); I of 80x80x4 as a published table prints it, 111.04 cm⁴.
fn handbook_portals() -> Check {
    let mut check = Check::within("portal with one section all round", 0.01)
        .source("worked from a handbook of frames, I of a published table")
        .limits(PORTAL_ENDS);
    let (height, span) = (0.5, 1.0);
    for legs in [1.0, 2.0] {
        let kappa = height / span / legs;
        let post = 24.0 * legs * E * 111.04e-8 / f64::powi(height, 3);
        let hinge = AngularStiffness::nm_per_rad(1e-6);
        let clamped = post * (1.0 + 6.0 * kappa) / (4.0 + 6.0 * kappa);
        let hinged = post / (4.0 + 2.0 / kappa);
        for (ends, foot, expected) in [("clamped", None, clamped), ("hinged", Some(hinge), hinged)]
        {
            let portal = Portal {
                beam: beam("80x80x4", span, 100.0),
                leg: section("80x80x4"),
                legs,
                height: units::m::of(height),
                foot,
            };
            let name = format!("{ends}, {legs} a side");
            check.case(name, portal.sways().value, expected);
        }
    }
    check
}

/// Whole gantries and portals on uprights: beam, its twist and the posts of an assessed build
/// against one frame by finite elements with a stiff arm to the tool. The share of shear, which
/// the library's members do not have, is taken out.
fn whole_gantries() -> Check {
    let what = "beam, its twist and the posts of four builds as one frame";
    let mut check = Check::within(what, 0.05)
        .source(LIBRARY)
        .limits("mid-span; what members give along their length is left out of both");
    for (plan, beam, base) in [
        ("low-base", "80x80x4", "80x80x4"),
        ("fixed-portal", "80x80x4", "80x80x4"),
        ("low-base", "100x100x4", "80x80x4"),
        ("fixed-portal", "120x60x4", "120x60x4"),
    ] {
        let (beam_id, base_id) = (format!("tube-{beam}"), format!("tube-{base}"));
        let edits = [
            ("frame_plan", plan),
            ("beam_ends_percent", "0"),
            ("plate", "plate-15"),
            ("beam_tube", beam_id.as_str()),
            ("base_tube", base_id.as_str()),
        ];
        let stiffness = common::assessed(&common::catalogue(), &edits)
            .machine
            .stiffness;
        let levers = stiffness.levers;
        let is = [levers.span, levers.rise, levers.below, levers.ahead].map(units::m::from);
        for (case, axis) in [("gantry-y", Axis::Y), ("gantry-z", Axis::Z)] {
            let mut all = rows().into_iter();
            let row = all.find(|row| {
                let far = |(cell, is): (&&str, &f64)| (number(cell) - is).abs() > 1e-6;
                row[..3] == [case, beam, base] && !row[3..7].iter().zip(&is).any(far)
            });
            let row = row.unwrap_or_else(|| panic!("frames.py has no {plan} {beam} {base} {is:?}"));
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
            let tube = section(beam);
            let area = if axis == Axis::Y {
                tube.shear_across()
            } else {
                tube.shear_up()
            };
            let shear = number(row[3]) / 4.0 / (G * area.value);
            check.case(row.join(","), (gives - shear) * LOAD, number(row[8]));
        }
    }
    check
}
