//! Drives: torque of screws forth and back, stretch and twist of screws, racks and belts,
//! against published catalogues and standards.

use gantrywright::build::{Axis, Picked};
use gantrywright::catalogue::LinearDrive;
use gantrywright::machine::drive::thread_efficiency;
use gantrywright::machine::drive::toothed::tooth_limit;
use gantrywright::machine::geometry::screw_cut;
use gantrywright::machine::stiffness::SpringName;
use gantrywright::units;

use crate::checks::{Check, hold};
use crate::common;
use crate::rigid::cross;

/// Where the model of a screw's torque ends.
const SCREW_ENDS: &str =
    "efficiency as the part's data have it; a dry or dirty screw takes more, preload adds drag";

pub(crate) fn checks() -> Vec<Check> {
    let mut checks = vec![screw_torque(), back_driving()];
    checks.extend(threads());
    checks.extend(screw_springs());
    checks.extend([belt_springs(), travel_a_turn(), belt_teeth()]);
    checks
}

#[test]
fn drives_hold() {
    hold(checks());
}

/// Published screw catalogues: T = F P/(2π η); 300 N and 1 000 N on a 5 mm lead at 0.9 take
/// 0.265258 and 0.884194 N·m. The torque of the cut, less that of running without it.
fn screw_torque() -> Check {
    let mut check = Check::within("torque for a force on a 5 mm lead", 0.001)
        .source("worked by hand from published screw catalogues, T = F P/(2π η), η 0.9")
        .limits(SCREW_ENDS);
    for (force, torque) in [("300", 0.265_258), ("1000", 0.884_194)] {
        let edits = [
            ("motor_x", "servo-400w"),
            ("driver_x", "driver-servo-400w"),
            ("drive_x", "ball-screw-16x5"),
            ("cutting_force_n", force),
        ];
        let x = common::assessed(&common::catalogue(), &edits)
            .machine
            .axes
            .x;
        let [_, run, _, cut, _] = x.duty.expect("a servo").stretches;
        let computed = units::nm::from(cut.torque - run.torque);
        check.case(format_args!("{force} N"), computed, torque);
    }
    check
}

/// Back-driving by η' = 2 - 1/η (ISO 3408-5): 8 kg (78.48 N) on a 5 mm lead at 0.9 turn the
/// motor with 78.48 · 0.005 · 0.888 889/(2π) = 0.055 513 N·m.
fn back_driving() -> Check {
    let mut check = Check::within("torque with which a weight turns a 5 mm screw back", 0.1)
        .source("worked by hand from ISO 3408-5, η' = 2 - 1/η")
        .limits(SCREW_ENDS);
    let assessment = common::assessed(&common::catalogue(), &[("drive_z", "ball-screw-16x5")]);
    let z = &assessment.machine.axes.z;
    let newtons = units::n::from(z.weight);
    let computed = units::nm::from(z.back_torque) / newtons * 78.48;
    check.case("8 kg", computed, 0.055_513);
    check
}

/// Efficiency of a thread by its forces, forth or back: the flank presses along its normal and
/// rubs along the helix. `flank` is half the angle of the thread's profile.
fn balanced(tan: f64, friction: f64, flank: f64, forth: bool) -> f64 {
    let (sin, cos) = tan.atan().sin_cos();
    // Radial, tangential, axial: along the helix, and along the flank outwards.
    let (helix, outwards) = ([0.0, cos, sin], [flank.cos(), 0.0, flank.sin()]);
    let mut normal = cross(outwards, helix);
    let length = normal.iter().map(|n| n * n).sum::<f64>().sqrt();
    normal = normal.map(|n| n / length);
    // The load's weight is borne; friction works against the motion along the helix.
    let along = if forth { -friction } else { friction };
    let axial = normal[2] + along * helix[2];
    let turning = -(normal[1] + along * helix[1]);
    let share = axial * tan / turning;
    if forth { share } else { 1.0 / share }
}

/// The lead screws on the shelf, with the 30° between their flanks (ISO 2901). The program
/// takes the friction over cos 15°; the vectors know that the flank stands a little steeper
/// along a steep helix.
fn threads() -> [Check; 1] {
    let mut check = Check::within("efficiency of a lead screw's thread, forth and back", 0.5)
        .source("forces on a sloping flank (30°, ISO 2901), summed as vectors")
        .limits(
            "friction of greased steel in bronze or plastic is from memory, and doubles when dry",
        );
    for screw in common::catalogue().lead_screws.values() {
        let mean = units::mm::from(screw.diameter + screw.root) / 2.0;
        let tan = units::mm::from(screw.lead) / (std::f64::consts::PI * mean);
        let friction = units::share::from(screw.friction);
        let (forth, back) = thread_efficiency(screw);
        let (forth, back) = (units::share::from(forth), units::share::from(back));
        let id = &screw.id;
        let exact = |way| balanced(tan, friction, 15f64.to_radians(), way);
        check.case(format_args!("{id} forth"), forth, exact(true));
        check.case(format_args!("{id} back"), back, exact(false));
    }
    [check]
}

/// A spring of an axis's drive alone, in N/µm, as it stands at the collet.
fn spring(edits: &[(&str, &str)], name: SpringName) -> f64 {
    let assessment = common::assessed(&common::catalogue(), edits);
    let mut springs = assessment.machine.stiffness.springs.x.into_iter();
    let spring = springs.find(|spring| spring.name == name);
    units::n_per_um::from(spring.expect("a spring").stiffness)
}

/// A published rail and screw catalogue: R = π d² E/(4 l · 10³) N/µm held at one end, four
/// times as much between two fixed ends with the nut in the middle; for d 12.9 mm and
/// l 1000 mm that is 27.4466 and 109.7864. Twisting, any handbook of mechanics: G π d⁴/(32 l)
/// of a bar, 219.6 N·m/rad for the same screw, over (P/2π)²: 346.756 N/µm on a lead of 5 mm.
fn screw_springs() -> [Check; 2] {
    let limits = "a smooth bar of root diameter, which errs towards less";
    let mut stretch = Check::within("stretch of a screw of 12.9 mm, one end held or both", 0.01)
        .source("a published rail and screw catalogue's form, 27.4466 and 109.7864 N/µm for 1 m, by hand to the length")
        .limits(limits);
    let mut twist = Check::within("twist of a screw of 12.9 mm on a lead of 5 mm", 0.01)
        .source("handbook of mechanics, by hand: 346.756 N/µm for 1 m, to the length")
        .limits(limits);
    let catalogue = common::catalogue();
    for travel in ["400", "600", "900"] {
        for (ends, printed) in [("fixed-supported", 27.4466), ("fixed-fixed", 109.7864)] {
            let edits = [
                ("drive_x", "ball-screw-16x5"),
                ("ends_x", ends),
                ("travel_x_mm", travel),
            ];
            let build = common::build(&catalogue, &edits);
            let picked = Picked::new(&catalogue, &build).expect("parts");
            let cut = screw_cut(&picked, Axis::X, picked.axes.x.drive).expect("a screw");
            let far = units::m::from(cut.farthest_nut);
            let length = if ends == "fixed-fixed" {
                units::m::from(cut.between_bearings)
            } else {
                far
            };
            let name = format!("{travel} mm, {ends}");
            stretch.case(&name, spring(&edits, SpringName::Screw), printed / length);
            twist.case(&name, spring(&edits, SpringName::Twist), 346.756 / far);
        }
    }
    [stretch, twist]
}

/// Belt makers' form for an open belt clamped at both ends, k = E A (1/L1 + 1/L2), with the
/// pulley in the middle where it is softest. A published sheet's 15 mm belt of 5 mm pitch with
/// steel cords has E A 330 000 N: 0.605 N/µm for 1000 and 1200 mm, 1.32 N/µm for 1000 in two
/// halves.
fn belt_springs() -> Check {
    let mut check = Check::within("stiffness of a belt of 15 mm, pulley in the middle", 0.01)
        .source("worked by hand from a belt maker's sheet: 1.32 N/µm for 1 m, to the length")
        .limits("teeth and cords alone: pulleys, clamps and preload lost over the years soften it");
    for travel in ["400", "600", "900"] {
        let edits = [("drive_x", "belt-5m-15"), ("travel_x_mm", travel)];
        let machine = common::assessed(&common::catalogue(), &edits).machine;
        let length = units::m::from(machine.geometry.rails.x.length);
        let computed = spring(&edits, SpringName::Belt);
        check.case(format_args!("{travel} mm"), computed, 1.32 / length);
    }
    check
}

/// Racks by ISO 53: travel a turn π m z, 62.831853, 78.539816 and 94.247780 mm with 20 teeth;
/// at 1:1 and 16 microsteps module 1.25 steps 24.54 µm. Belts: pitch by teeth.
fn travel_a_turn() -> Check {
    let mut check = Check::within(
        "travel for one turn of pinion or pulley, and a step of it",
        0.02,
    )
    .source("worked by hand from ISO 53, π m z, and pitch by teeth")
    .limits("play between teeth, and eccentric pinions, are not in it");
    let catalogue = common::catalogue();
    for (rack, travel) in [
        ("rack-m1", 62.831_853),
        ("rack-m1.25", 78.539_816),
        ("rack-m1.5", 94.247_780),
        ("belt-5m-15", 100.0),
    ] {
        let drive = LinearDrive::of(&catalogue, rack).expect("a drive");
        check.case(rack, units::mm::from(drive.travel_a_turn()), travel);
    }
    let edits = [("drive_x", "rack-m1.25"), ("microsteps", "16")];
    let x = common::assessed(&catalogue, &edits).machine.axes.x;
    check.case("step of rack-m1.25", units::um::from(x.step), 24.54);
    check
}

/// Belt makers' sheets, 5 mm pitch with steel cords: 36.80 N for each tooth and centimetre at
/// rest, 30.87 at 300 rpm, 26.05 at 1000; 15 mm, ten teeth in mesh. The sheets end there: the
/// program keeps their last value beyond, which is held here so that nobody overlooks it.
fn belt_teeth() -> Check {
    let mut check = Check::within("force that a belt's teeth bear", 0.001)
        .source("a belt maker's sheet, 5 mm pitch with steel cords")
        .limits("steel cords alone: glass cords bear a fifth to a third, and no sheet tells their teeth");
    let catalogue = common::catalogue();
    let belt = &catalogue.belts["belt-5m-15"];
    for (rpm, newtons) in [
        (0.0, 552.0),
        (300.0, 463.05),
        (1000.0, 390.75),
        (5000.0, 390.75),
    ] {
        let bears = tooth_limit(belt, units::rpm::of(rpm)).map(units::n::from);
        check.case(format_args!("{rpm} rpm"), bears.expect("known"), newtons);
    }
    let glass = &catalogue.belts["belt-3m-15"];
    assert!(tooth_limit(glass, units::rpm::of(300.0)).is_none());
    check
}
