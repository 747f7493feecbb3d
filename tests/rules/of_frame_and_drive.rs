//! What single rules of frame and drive promise beyond their example: both severities, both
//! ways round, and no two findings for one cause.

use crate::common;
use gantrywright::assessment::Assessment;
use gantrywright::build::Axis;
use gantrywright::catalogue::Step;
use gantrywright::rules::{Finding, Severity};
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

fn assessed(edits: &[(&str, &str)]) -> Assessment {
    common::assessed(&common::catalogue(), edits)
}

/// The findings of a rule, each as its axis and severity.
fn found(assessment: &Assessment, rule: &str) -> Vec<(Option<Axis>, Severity)> {
    let of_rule = |finding: &&Finding| finding.rule == rule;
    let findings = assessment.findings.iter().filter(of_rule);
    findings
        .map(|finding| (finding.axis, finding.severity))
        .collect()
}

fn fires(edits: &[(&str, &str)], rule: &str) -> Vec<(Option<Axis>, Severity)> {
    found(&assessed(edits), rule)
}

#[test]
fn z_is_a_danger_without_a_brake_and_safe_on_a_thread_that_holds() {
    let servo = [
        ("motor_z", "servo-180w-dc"),
        ("driver_z", "driver-servo-dc"),
    ];
    assert_eq!(
        fires(&servo, "z-drops"),
        [(Some(Axis::Z), Severity::Danger)]
    );
    let stepper = [("motor_z", "stepper-23-1.9")];
    assert_eq!(
        fires(&stepper, "z-drops"),
        [(Some(Axis::Z), Severity::Caution)]
    );
    let braked = [
        ("motor_z", "servo-400w-brake"),
        ("driver_z", "driver-servo-400w"),
    ];
    assert_eq!(fires(&braked, "z-drops"), []);
    let thread = [("drive_z", "lead-screw-12x3"), servo[0], servo[1]];
    assert_eq!(fires(&thread, "z-drops"), []);
}

#[test]
fn a_coupling_may_be_turned_round_and_must_fit_both_screws_of_a_pair() {
    let turned = [
        ("motor_x", "stepper-34-4.5"),
        ("driver_x", "driver-110v-8a"),
        ("coupling_x", "coupling-10x14"),
    ];
    assert_eq!(fires(&turned, "coupling-does-not-fit"), []);
    let pair = [("drive_y2", "ball-screw-20x10")];
    assert_eq!(fires(&pair, "leads-differ-on-a-pair"), []);
    assert_eq!(
        fires(&pair, "coupling-does-not-fit"),
        [(Some(Axis::Y), Severity::Fault)]
    );
}

#[test]
fn a_rack_beside_a_screw_is_a_pair_of_different_drives() {
    let mixed = [("drive_y", "rack-m1"), ("drive_y2", "ball-screw-16x10")];
    assert_eq!(
        fires(&mixed, "leads-differ-on-a-pair"),
        [(Some(Axis::Y), Severity::Fault)]
    );
}

#[test]
fn strips_behind_the_rails_take_the_place_of_a_thick_wall() {
    let thin = ("base_tube", "tube-80x80x3");
    assert_eq!(
        fires(&[thin], "thread-in-thin-wall"),
        [(Some(Axis::Y), Severity::Caution)]
    );
    let backed = assessed(&[thin, ("thread_strips", "yes")]);
    assert_eq!(found(&backed, "thread-in-thin-wall"), []);
    // Two X rails of 840 mm and two Y rails of 900 mm, a twentieth to spare.
    let strip = backed.bill.line("thread-strip").expect("a line");
    assert_eq!(strip.needed.to_string(), "3.6540");
}

#[test]
fn a_strong_motor_buckles_a_long_thin_screw_against_a_stop() {
    let slender = [
        ("travel_x_mm", "800"),
        ("drive_x", "lead-screw-10x2"),
        ("cutting_force_n", "20"),
    ];
    let of = |motor| {
        fires(
            &[&slender[..], &[("motor_x", motor)]].concat(),
            "screw-buckles",
        )
    };
    assert_eq!(of("stepper-23-3.0"), [(Some(Axis::X), Severity::Danger)]);
    assert_eq!(of("stepper-23-1.25"), []);
}

#[test]
fn current_that_burns_a_motor_is_a_fault_and_lost_torque_a_caution() {
    let burns = [("motor_x", "stepper-17-0.45")];
    assert_eq!(
        fires(&burns, "driver-below-motor-current"),
        [(Some(Axis::X), Severity::Fault)]
    );
    let weak = [("driver_x", "driver-40v-2a")];
    assert_eq!(
        fires(&weak, "driver-below-motor-current"),
        [(Some(Axis::X), Severity::Caution)]
    );
}

#[test]
fn a_soft_print_is_a_danger_only_where_z_hangs_on_it() {
    let mut soft = fires(&[("filament", "filament-pla")], "print-near-heat");
    soft.sort_by_key(|(axis, _)| axis.map(|axis| axis as u8));
    assert_eq!(
        soft,
        [
            (Some(Axis::X), Severity::Caution),
            (Some(Axis::Y), Severity::Caution),
            (Some(Axis::Z), Severity::Danger),
        ]
    );
}

#[test]
fn each_axis_has_its_own_wanted_rapids() {
    let x_and_y = assessed(&[("rapid_wish_m_per_min", "32")]);
    let whipping = found(&x_and_y, "screw-whirl");
    assert_eq!(
        whipping.iter().map(|one| one.0).collect::<Vec<_>>(),
        [Some(Axis::X), Some(Axis::Y)]
    );
    assert_eq!(found(&x_and_y, "nut-too-fast"), []);
}

/// Rules that say why an axis is slow: of one axis, one of them speaks.
const WHY_SLOW: [&str; 3] = [
    "short-lead-caps-rapids",
    "rapids-below-wish",
    "supply-too-low-for-rapids",
];

#[test]
fn a_slow_axis_gets_one_explanation() {
    let catalogue = common::catalogue();
    let mut rng = ChaCha8Rng::seed_from_u64(5);
    for _ in 0..1000 {
        let build = common::random_build(&catalogue, &mut rng, 0.1);
        let Ok(assessment) = gantrywright::assessment::assess(&catalogue, &build, common::today())
        else {
            continue;
        };
        for axis in [Axis::X, Axis::Y, Axis::Z] {
            let findings = assessment
                .findings
                .iter()
                .filter(|one| one.axis == Some(axis));
            let general = findings.clone().any(|one| one.rule == "rapids-below-wish");
            let said = findings
                .filter(|one| WHY_SLOW.contains(&one.rule.as_str()))
                .count();
            assert!(!general || said == 1, "{axis:?}: {:?}", assessment.findings);
        }
    }
}

#[test]
fn messages_are_short_and_carry_their_number() {
    let catalogue = common::catalogue();
    let mut rng = ChaCha8Rng::seed_from_u64(3);
    for place in 0..2000 {
        let share = [0.05, 0.3, 1.0][place % 3];
        let build = common::random_build(&catalogue, &mut rng, share);
        let Ok(assessment) = gantrywright::assessment::assess(&catalogue, &build, common::today())
        else {
            continue;
        };
        let ours = |finding: &&Finding| finding.step == Step::Drive || finding.axis.is_some();
        for finding in assessment.findings.iter().filter(ours) {
            let message = &finding.message;
            let length = message.chars().count();
            assert!(length <= 140, "{}: {length} in {message}", finding.rule);
            assert!(
                message.chars().any(|c| c.is_ascii_digit()),
                "{}: {message}",
                finding.rule
            );
            assert!(
                !message.contains("NaN") && !message.contains("inf"),
                "{message}"
            );
        }
    }
}

/// A screw in hand is longer than its thread: one whose data know no such length is none.
#[test]
fn a_screw_in_hand_is_no_longer_than_its_data_know() {
    let in_hand = |mm: &str| fires(&[("screw_length_y_mm", mm)], "screw-longer-than-offered");
    assert_eq!(in_hand("1900"), []);
    assert_eq!(in_hand("2000"), [(Some(Axis::Y), Severity::Fault)]);
}
