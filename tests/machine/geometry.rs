//! Lengths follow the travel: doubling each travel changes rails, screws, cuts, chains, cables
//! and holes as computed by hand from the frame plan and the parts' sizes.

use crate::common;
use gantrywright::build::Axis;
use gantrywright::catalogue::frame::RunEnd;
use gantrywright::machine::Machine;
use gantrywright::units;
use gantrywright::words::Words;

fn mm(length: units::Length) -> f64 {
    (units::mm::from(length) * 10.0).round() / 10.0
}

fn machine(edits: &[(&str, &str)]) -> Machine {
    common::assessed(&common::catalogue(), edits).machine
}

const DOUBLED: &[(&str, &str)] = &[
    ("travel_x_mm", "1200"),
    ("travel_y_mm", "1200"),
    ("travel_z_mm", "240"),
];

/// Rail = travel + span of the outer carriages + carriage + two margins, up to a whole
/// number of 60 mm pitches. X: 600 + 130 + 78 + 30 = 838 -> 14 pitches; Y: 600 + 150 + 78 +
/// 30 = 858 -> 15; Z: 120 + 90 + 61 + 20 = 291 -> 5.
///
/// Holes: a rail of n pitches, alike at both ends, has n holes, the first and the last half a
/// pitch from an end; n + 1 would put both on the very ends. X: 30, 90 ... 810 are 14. By the
/// least distance of two screw diameters (M4, 8 mm): floor((840 - 16) / 60) + 1 = 14.
#[test]
fn rails_and_their_holes() {
    let (one, two) = (machine(&[]).geometry, machine(DOUBLED).geometry);
    let rails = |g: &gantrywright::machine::geometry::Geometry| {
        [Axis::X, Axis::Y, Axis::Z].map(|axis| (mm(g.rails[axis].length), g.rails[axis].holes()))
    };
    assert_eq!(rails(&one), [(840.0, 14), (900.0, 15), (300.0, 5)]);
    // 1438 -> 24 pitches, 1458 -> 25, 411 -> 7.
    assert_eq!(rails(&two), [(1440.0, 24), (1500.0, 25), (420.0, 7)]);
}

/// Thread = travel + preloaded nut (2 x 54 mm for 16x10) + two margins of 15 mm; the
/// bearings stand 50 mm farther apart. 600 + 108 + 30 = 738; 788.
#[test]
fn screws() {
    let lengths = |m: &Machine| {
        let cut = m.geometry.drives[Axis::X][0].screw.expect("a screw");
        (mm(cut.thread), mm(cut.between_bearings))
    };
    assert_eq!(lengths(&machine(&[])), (738.0, 788.0));
    assert_eq!(lengths(&machine(DOUBLED)), (1338.0, 1388.0));
}

/// Beam = X rail + 140; sides = Y rail + 60; cross members = X rail + 60 less the width of the side
/// they butt (80), two and one more for each whole 500 mm of Y rail; legs = clearance + 80, two a
/// side and one more each 900 mm.
#[test]
fn steel_cuts() {
    let cuts = |m: &Machine| -> Vec<(String, f64, u32)> {
        m.geometry
            .members
            .iter()
            .map(|cut| (cut.mark.to_string(), mm(cut.length), cut.pieces))
            .collect()
    };
    let named = |mark: &str, length, pieces| (mark.to_owned(), length, pieces);
    assert_eq!(
        cuts(&machine(&[])),
        [
            named("B1", 980.0, 1),
            named("S1", 960.0, 2),
            named("C1", 820.0, 3),
            named("P1", 200.0, 3),
            named("P2", 200.0, 3)
        ]
    );
    assert_eq!(
        cuts(&machine(DOUBLED)),
        [
            named("B1", 1580.0, 1),
            named("S1", 1560.0, 2),
            named("C1", 1420.0, 5),
            named("P1", 200.0, 3),
            named("P2", 200.0, 3)
        ]
    );
}

/// Chain = half the travel + half a turn of 75 mm radius + two links of 46 mm:
/// 300 + 235.6 + 92 = 627.6. Motor X: 1.1 x (1000 + 1200 + half the Y rail + Y chain + 900).
#[test]
fn chains_and_cables() {
    let lengths = |m: &Machine| {
        let run = m
            .geometry
            .runs
            .iter()
            .find(|run| run.to == RunEnd::MotorX)
            .expect("a run");
        (mm(m.geometry.chains[0].length), mm(run.length))
    };
    assert_eq!(lengths(&machine(&[])), (627.6, 4595.4));
    assert_eq!(lengths(&machine(DOUBLED)), (927.6, 5255.4));
}

/// A hand-computed mass: the side beams of 80 x 80 x 3 tube at 7.071 kg/m (EN 10219
/// manufacturer's table), two of 960 mm: 13.58 kg of what stands still.
#[test]
fn masses_follow_lengths() {
    let parts = [
        ("base_tube", "tube-80x80x3"),
        ("guide_x", "carriage-20-wide"),
        ("guide_y", "carriage-20-wide"),
    ];
    let (one, two) = (
        machine(&parts).masses,
        machine(&[&parts, DOUBLED].concat()).masses,
    );
    assert!(one.still > units::kg::of(13.58));
    // Two side beams 600 mm longer each, three cross members 600 mm longer and two more of
    // 1500 mm, at 7.071 kg/m: 8.49 + 12.73 + 21.21 = 42.43 kg; rails (2.21 kg/m, two of 600
    // more: 2.65 kg) and the Y screws come on top.
    let grown = units::kg::from(two.still - one.still);
    assert!(
        grown > 42.43 + 2.65 && grown < 42.43 + 2.65 + 4.0,
        "{grown}"
    );
}

/// Each travel alone. Screws: 600 + 2 x 54 + 30 = 738 of thread for X and Y, 120 + 2 x 42 + 20
/// = 224 for Z, 50 mm more between bearings. Runs: 1.1 x (1000 + 1200, a share of the Y rail,
/// chains, the last way): X motor half the rail and the Y chain, Y motor and switch the
/// whole rail and no chain, Z motor and spindle half the rail and both chains.
#[test]
fn each_travel_alone_moves_what_follows_it() {
    type Lengths = ([f64; 3], [f64; 2], [f64; 5]);
    let lengths = |edits: &[(&str, &str)]| -> Lengths {
        let g = machine(edits).geometry;
        let screw = |axis| mm(g.drives[axis][0].screw.expect("a screw").between_bearings);
        let run = |end| {
            mm(g.runs
                .iter()
                .find(|run| run.to == end)
                .expect("a run")
                .length)
        };
        (
            [screw(Axis::X), screw(Axis::Y), screw(Axis::Z)],
            [mm(g.chains[0].length), mm(g.chains[1].length)],
            [
                RunEnd::MotorX,
                RunEnd::MotorY,
                RunEnd::MotorZ,
                RunEnd::SwitchY,
                RunEnd::Spindle,
            ]
            .map(run),
        )
    };
    let one = lengths(&[]);
    assert_eq!(
        one,
        (
            [788.0, 788.0, 274.0],
            [627.6, 627.6],
            [4595.4, 3850.0, 5285.8, 3850.0, 5285.8]
        )
    );
    // X: 600 more of screw, 300 of chain X, which the Z motor's and the spindle's runs pass.
    assert_eq!(
        lengths(&[("travel_x_mm", "1200")]),
        (
            [1388.0, 788.0, 274.0],
            [927.6, 627.6],
            [4595.4, 3850.0, 5615.8, 3850.0, 5615.8]
        )
    );
    // Y: 600 more of rail, half or all of it along a run, and 300 of chain Y.
    assert_eq!(
        lengths(&[("travel_y_mm", "1200")]),
        (
            [788.0, 1388.0, 274.0],
            [627.6, 927.6],
            [5255.4, 4510.0, 5945.8, 4510.0, 5945.8]
        )
    );
    // Z: 120 more of its screw, and of nothing else here.
    assert_eq!(
        lengths(&[("travel_z_mm", "240")]),
        ([788.0, 788.0, 394.0], one.1, one.2)
    );
}

/// Fasteners and prints follow as well: rail screws are the holes and a sixth of spares in
/// packs of 50; frame bolts four for each of two joints a member; screw brackets two a screw.
#[test]
fn fasteners_and_prints() {
    let catalogue = common::catalogue();
    let needed = |edits: &[(&str, &str)], part: &str| {
        let assessment = common::assessed(&catalogue, edits);
        let line = assessment.bill.line(part).expect("a line").clone();
        line.needed.round_dp(1).to_string()
    };
    // M4 holes of 15 mm rails: X 2 x 14, Y 2 x 15, Z 2 x 5 = 68; doubled 48 + 50 + 14 = 112;
    // 15 % more: 78.2 and 128.8.
    assert_eq!(needed(&[], "screw-m4x16"), "78.2");
    assert_eq!(needed(DOUBLED, "screw-m4x16"), "128.8");
    // Members 1 + 2 + 3 + 2 x 3 = 12, doubled 1 + 2 + 5 + 2 x 3 = 14: two joints each, four
    // bolts a joint and a tenth more.
    let bolts = |edits: &[(&str, &str)]| {
        needed(edits, "bolt-frame-m8")
            .parse::<f64>()
            .expect("a number")
    };
    assert!((bolts(DOUBLED) / bolts(&[]) - 14.0 / 12.0).abs() < 0.01);
    let brackets = |edits: &[(&str, &str)]| -> u32 {
        let machine = common::assessed(&catalogue, edits).machine;
        let prints = machine.geometry.prints.iter();
        prints
            .filter(|print| print.mark.starts_with("F4"))
            .map(|print| print.pieces)
            .sum()
    };
    assert_eq!(brackets(&[]), 8);
    assert_eq!(
        brackets(&[("drive_x", "rack-m1"), ("drive_y", "rack-m1")]),
        2
    );
}

/// A rail or screw in hand shortens the travel to what it allows: 738 mm of thread less a
/// preloaded nut of 108 and two margins of 15 gives 600; 438 gives 300; 50 gives none.
#[test]
fn what_is_in_hand_may_shorten_the_travel() {
    let travel = |edits: &[(&str, &str)]| mm(machine(edits).axes[Axis::X].travel);
    assert_eq!(travel(&[("screw_length_x_mm", "738")]), 600.0);
    assert_eq!(travel(&[("screw_length_x_mm", "438")]), 300.0);
    assert_eq!(travel(&[("screw_length_x_mm", "50")]), 0.0);
    assert_eq!(travel(&[("rail_length_x_mm", "50")]), 0.0);
}

/// An X rail of 500 mm allows 500 - 130 - 78 - 30 = 262 mm, so that the tool comes less near to
/// either side of the gantry: rails 500 + 80 mm apart, the nearer drive bears 1/2 + 262/1160 of
/// the force on it. A longer wish changes nothing then. The same for the lowest place of Z.
#[test]
fn levers_follow_the_travel_that_there_is() {
    let machine_at = |x: &str, z: &str| {
        machine(&[
            ("rail_length_x_mm", "500"),
            ("rail_length_z_mm", "230"),
            ("travel_x_mm", x),
            ("travel_z_mm", z),
        ])
    };
    let (wished, longer) = (machine_at("600", "120"), machine_at("900", "200"));
    for machine in [&wished, &longer] {
        let travel = mm(machine.axes[Axis::X].travel);
        assert_eq!(travel, mm(machine.geometry.rails.x.allows));
        assert!(travel < 600.0, "{travel}");
        let span = mm(machine.geometry.span);
        let share = units::share::from(machine.axes[Axis::Y].tool_share);
        let expected = 0.5 + travel / span / 2.0;
        assert!((share - expected).abs() < 1e-9, "{share} for {expected}");
    }
    let below = |machine: &Machine| mm(machine.stiffness.levers.below);
    assert_eq!(below(&wished), below(&longer));
}

/// A rack on one side and a screw on the other: the screw's whirl still holds the axis.
#[test]
fn the_weaker_side_of_a_mixed_pair_counts() {
    let mixed = machine(&[("drive_y", "rack-m1"), ("drive_y2", "ball-screw-12x4")]);
    let names: Vec<&str> = mixed.axes[Axis::Y]
        .limits
        .iter()
        .map(|limit| limit.name.id())
        .collect();
    assert!(
        names.contains(&"screw-whirl") && names.contains(&"track-speed"),
        "{names:?}"
    );
}

/// One switch for each homed end, one for each side of a pair: X 1, Y 2, Z 1; both ends: one
/// more each (common practice).
#[test]
fn switches() {
    let count = |edits: &[(&str, &str)]| {
        let g = machine(edits).geometry;
        [g.switches.x, g.switches.y, g.switches.z]
    };
    assert_eq!(count(&[]), [1, 2, 1]);
    assert_eq!(count(&[("home_each_side", "no")]), [1, 1, 1]);
    assert_eq!(count(&[("limit_ends", "both-ends")]), [2, 3, 2]);
}
