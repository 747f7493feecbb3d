//! The findings of each example build, against a list written by hand: what somebody who
//! knows the trade would say of it, worst first, by severity, rule and axis.

use crate::common;
use gantrywright::assessment::assess;
use gantrywright::store::examples;
use gantrywright::words::Words;

fn found(name: &str) -> Vec<String> {
    let catalogue = common::catalogue();
    let build = examples::find(name)
        .expect("an example")
        .build(&catalogue)
        .expect("a build");
    let assessment = assess(&catalogue, &build, common::today()).expect("an assessment");
    let each = assessment.findings.iter().map(|finding| {
        let axis = finding.axis.map_or("", Words::id);
        format!("{} {} {axis}", finding.severity.id(), finding.rule)
            .trim_end()
            .to_owned()
    });
    each.collect()
}

fn check(name: &str, mut expected: Vec<&str>) {
    let mut found = found(name);
    found.sort();
    expected.sort_unstable();
    assert_eq!(found, expected, "{name}");
}

/// A hand router on a small socket: sound, with hints. Its lead screw holds Z; the ABS mounts bear
/// the motors' warmth; M4 finds thread in the strips.
#[test]
fn attic_starter() {
    check(
        "attic-starter",
        vec![
            "hint prices-invented",
            "hint hand-router-no-control",
            "hint pack-larger-than-need",
        ],
    );
}

/// A sound all-rounder: the strong Z motor holds the water-cooled spindle, and a club that left
/// aluminium out of its wishes gets no word on stiffness.
#[test]
fn pier_allrounder() {
    check("pier-allrounder", vec!["hint prices-invented"]);
}

/// Sound, with spindle and motors on circuits of their own, each behind its own device.
#[test]
fn sail_loft_sheet() {
    check("sail-loft-sheet", vec!["hint prices-invented"]);
}

/// Stiff and sound: an aluminium Z plate on steel rails at 0.03 mm, a budget without its reserve,
/// and a spindle that runs for hours. The heavy beam gives so little that its wall hardly counts.
#[test]
fn bell_foundry() {
    check(
        "bell-foundry",
        vec![
            "hint two-metals-one-beam",
            "hint budget-without-reserve",
            "hint prices-invented",
            "hint load-for-hours",
        ],
    );
}

/// Everything wrong at once: among it, 25 kHz of pulses for 128 microsteps creep, so that MDF and
/// hardwood burn, and one carriage a rail on a thin beam is too soft for aluminium.
#[test]
fn barn_find() {
    check(
        "barn-find",
        vec![
            "danger print-near-heat Z",
            "danger screw-whirl X",
            "danger screw-whirl Y",
            "danger z-drops Z",
            "danger supply-above-driver X",
            "danger base-frequency",
            "danger limit-normally-open",
            "danger emergency-stop-missing",
            "danger restart-after-outage",
            "danger rcd-type",
            "danger protective-earth-over-plug",
            "danger improvised-supply",
            "danger wood-without-extraction",
            "danger no-fire-watch",
            "fault z-room",
            "fault leads-differ-on-a-pair Y",
            "fault nut-too-fast Y",
            "fault driver-not-for-motor Z",
            "fault driver-not-fed Z",
            "fault pulses-too-slow X",
            "fault pulses-too-slow Y",
            "fault pulses-too-slow Z",
            "fault coupling-does-not-fit X",
            "fault coupling-does-not-fit Z",
            "fault clamp-does-not-fit-spindle",
            "fault spindle-too-heavy",
            "fault water-without-cooler",
            "fault vfd-too-small",
            "fault vfd-single-phase-derating",
            "fault vfd-voltage-class",
            "fault inputs-too-few",
            "fault computer-link",
            "fault sensor-supply-mismatch",
            "fault circuit-overloaded",
            "fault supply-voltage-wrong-for-spindle",
            "fault bill-incomplete",
            "caution tip-too-soft",
            "caution thread-in-thin-wall X",
            "caution thread-in-thin-wall Y",
            "caution rails-on-raw-tube",
            "caution print-near-heat X",
            "caution print-near-heat Y",
            "caution room-too-small X",
            "caution room-too-small Y",
            "caution over-budget",
            "caution two-carriages-a-rail X",
            "caution two-carriages-a-rail Z",
            "caution short-lead-caps-rapids X",
            "caution short-lead-caps-rapids Y",
            "caution short-lead-caps-rapids Z",
            "caution backlash-over-tolerance X",
            "caution backlash-over-tolerance Y",
            "caution backlash-over-tolerance Z",
            "caution both-ends-clamped X",
            "caution start-shakes-tool",
            "caution life-too-short X",
            "caution driver-below-motor-current X",
            "caution coupling-too-weak X",
            "caution coupling-too-weak Z",
            "caution cooling-water-freezes",
            "caution contactor-behind-vfd",
            "caution edge-too-fast",
            "caution feed-cannot-follow",
            "caution material-out-of-reach",
            "caution material-out-of-reach",
            "caution material-out-of-reach",
            "caution job-cannot-be-cut",
            "caution old-port",
            "caution leakage-over-share",
            "caution unshielded-motor-cable",
            "caution chain-too-tight X",
            "caution chain-too-tight Y",
            "caution static-cable-in-chain",
            "caution cabinet-too-hot",
            "caution cabinet-open-or-wood",
            "caution coolant-with-mdf",
            "caution no-workholding",
            "caution no-end-mills",
            "caution nobody-there",
            "caution no-eye-protection",
            "hint two-metals-one-beam",
            "hint reserve-too-small",
            "hint prices-invented",
            "hint microsteps-are-not-accuracy X",
            "hint microsteps-are-not-accuracy Y",
            "hint screw-sags X",
            "hint screw-sags Y",
            "hint servo-wants-tuning",
            "hint driver-provenance Z",
            "hint load-for-hours",
            "hint no-table",
            "hint no-tool-length-sensor",
        ],
    );
}

/// Each names a job of a material that it means to cut, and all but the careless one can do it.
#[test]
fn every_example_has_a_job_that_suits_it() {
    let catalogue = common::catalogue();
    for example in examples::all() {
        let build = example.build(&catalogue).expect("a build");
        let named = build.extras.job.named.as_ref().expect("a job");
        let job = catalogue.jobs.get(named).expect("a job of the catalogue");
        let name = example.name;
        assert!(build.area.materials.contains(&job.material), "{name}");
        let assessment = assess(&catalogue, &build, common::today()).expect("an assessment");
        let cannot = |one: &gantrywright::rules::Finding| one.rule == "job-cannot-be-cut";
        let careless = example.name == "barn-find";
        assert_eq!(assessment.findings.iter().any(cannot), careless, "{name}");
    }
}
