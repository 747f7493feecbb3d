//! What makes an axis faster where the axis has two drives, and where the cheapest change brings a
//! warning.

use crate::common::{self, catalogue};
use crate::standing::{Standing, assessed, examples};
use gantrywright::build::Axis;
use gantrywright::explore::weigh::is_free;
use gantrywright::explore::{question, remedy};
use gantrywright::machine::limits::LimitName;
use gantrywright::words::Words as _;

/// Two drives that differ hold their axis as the slower of them would on both sides, and that one is
/// named; a cure that changes the first changes the second with it.
#[test]
fn drives_that_differ_are_changed_together() {
    let catalogue = catalogue();
    let all = examples(&catalogue).into_iter();
    let mut all = all.filter(|(name, _)| name.contains("barn-find"));
    let (_, build) = all.next().expect("an example");
    let mut named = 0;
    for (first, second) in [
        ("ball-screw-16x5", "ball-screw-16x10"),
        ("ball-screw-16x10", "ball-screw-16x5"),
    ] {
        let build = common::with(
            &catalogue,
            &build,
            &[("drive_y", first), ("drive_y2", second)],
        );
        let alike = |drive| {
            let alike = [("drive_y", drive), ("drive_y2", drive)];
            let build = common::with(&catalogue, &build, &alike);
            assessed(&catalogue, &build).machine.axes[Axis::Y].rapid
        };
        let standing = Standing::of(&catalogue, &build);
        let axis = &standing.before.machine.axes[Axis::Y];
        let by_second = alike(second) < alike(first);
        assert_eq!(axis.held_by().ends_with(" of the second drive"), by_second);
        named += usize::from(by_second);
        let answer = question::faster(Axis::Y).answer(&standing.bench());
        let cures = answer.alternatives.iter().filter(|one| {
            let mut edits = one.trial.edits.iter();
            edits.any(|edit| edit.choice.id == "drive_y")
        });
        let cures: Vec<_> = cures.collect();
        assert!(!cures.is_empty(), "{}", answer.apart);
        for one in cures {
            let drive = &one.trial.build.drive;
            assert_eq!(drive.second_drive, None, "{}", one.title);
            assert!(one.title.contains(" on both sides: "), "{}", one.title);
        }
    }
    assert_eq!(named, 1);
}

/// Where the cheapest cure brings a warning that a further change lifts, both together are offered
/// too, and bring fewer.
#[test]
fn the_cheapest_cure_is_offered_with_what_lifts_its_warning() {
    let catalogue = catalogue();
    let mut together = 0;
    for (name, build) in examples(&catalogue) {
        let standing = Standing::of(&catalogue, &build);
        for axis in Axis::EACH {
            let answer = question::faster(axis).answer(&standing.bench());
            let all = &answer.alternatives;
            let Some(first) = all.iter().min_by_key(|one| one.trial.price) else {
                continue;
            };
            let longer = format!("{}, and ", first.title);
            let more = all.iter().filter(|one| one.title.starts_with(&longer));
            for one in more {
                let (few, many) = (one.trial.added.len(), first.trial.added.len());
                together += usize::from(few < many);
                // Which of them is there for the warning, and for which, is said.
                let along = one.title.strip_prefix(&longer).unwrap_or_default();
                let said = format!("\"{along}\" lifts what the rest brings (");
                assert!(few >= many || one.note.starts_with(&said), "{}", one.note);
                assert!(one.trial.is_sound(), "{name}: {}", one.title);
                let bench = standing.bench();
                let build = &first.trial.build;
                let changed = common::bench(&catalogue, build, &first.trial.after);
                // Nothing else that lifts as much is cheaper.
                let lifts = first.trial.added.iter();
                let lifts = lifts.flat_map(|finding| remedy::remedies(&changed, finding));
                for edits in lifts {
                    let mut other = build.clone();
                    edits.iter().for_each(|edit| edit.apply(&mut other));
                    let other = bench.trial(other).expect("a trial");
                    let as_fast = other.after.machine.axes[axis].rapid
                        >= one.trial.after.machine.axes[axis].rapid;
                    let as_quiet = other.added.len() <= one.trial.added.len();
                    let is_open = edits.iter().all(|edit| is_free(edit.choice));
                    if other.is_sound() && as_fast && as_quiet && is_open {
                        assert!(one.trial.price <= other.price, "{name}: {edits:?}");
                    }
                }
            }
        }
    }
    assert!(together > 0);
}

/// A motor that asks for more pulses than the controller gives makes the axis slower alone; with
/// fewer microsteps, which cost nothing and leave this axis as it is, it is the cheapest cure. Both
/// are offered together.
#[test]
fn a_free_setting_is_taken_with_what_it_makes_cheaper() {
    let catalogue = catalogue();
    let mut all = examples(&catalogue).into_iter();
    let (_, build) = all
        .find(|(name, _)| name.contains("barn-find"))
        .expect("an example");
    let standing = Standing::of(&catalogue, &build);
    let answer = question::faster(Axis::Z).answer(&standing.bench());
    let reaches =
        |one: &&question::Alternative| question::reaches_wish(&build, &one.trial.after, Axis::Z);
    let reaching = answer.alternatives.iter().filter(reaches);
    let cheapest = reaching.min_by_key(|one| one.trial.price);
    let trial = &cheapest.expect("a cure that reaches the wish").trial;
    let mut ids: Vec<&str> = trial.edits.iter().map(|edit| edit.choice.id).collect();
    ids.sort_unstable();
    assert_eq!(ids, ["microsteps", "motor_z"]);
    assert!(trial.added.is_empty() && trial.price.is_sign_negative());
    let was = standing.before.machine.axes[Axis::Z].rapid;
    for edit in &trial.edits {
        let alone = edit.clone().applied(&build);
        let alone = assessed(&catalogue, &alone).machine.axes[Axis::Z].rapid;
        assert!(alone <= was, "{}", edit.choice.id);
    }
}

/// A screw that wants another coupling is offered with it, also where another one fits as it is.
#[test]
fn a_screw_that_wants_another_coupling_is_offered_with_it() {
    let catalogue = catalogue();
    let mut all = examples(&catalogue).into_iter();
    let (_, build) = all
        .find(|(name, _)| name.contains("pier-allrounder"))
        .expect("an example");
    let standing = Standing::of(&catalogue, &build);
    let answer = question::faster(Axis::Y).answer(&standing.bench());
    let was = standing.before.machine.axes[Axis::Y].rapid;
    let drive = "ball-screw-16x10";
    let mut all = answer.alternatives.iter();
    let one = all.find(|one| one.trial.build.drive.drive.y.as_str() == drive);
    let one = one.unwrap_or_else(|| panic!("{drive} is not offered"));
    let mut edits = one.trial.edits.iter();
    assert!(edits.any(|edit| edit.choice.id == "coupling_y"), "{drive}");
    assert!(one.trial.is_sound() && one.trial.price.is_sign_negative());
    assert!(one.trial.after.machine.axes[Axis::Y].rapid > was);
}

/// A gentler start leaves torque for speed, but makes no machine better: it stands last and says
/// so, and is left out where the travel or the job takes longer by it.
#[test]
fn a_gentler_start_is_no_cure_where_all_takes_longer() {
    let catalogue = catalogue();
    for (name, build) in examples(&catalogue) {
        let standing = Standing::of(&catalogue, &build);
        for axis in Axis::EACH {
            let answer = question::faster(axis).answer(&standing.bench());
            let all = &answer.alternatives;
            let is_gentler = |one: &question::Alternative| {
                let mut edits = one.trial.edits.iter();
                edits.any(|edit| edit.choice.id == "acceleration_m_per_s2")
            };
            let first = all.iter().position(is_gentler).unwrap_or(all.len());
            for one in &all[first..] {
                let says_so = one.note.starts_with(remedy::LOWERS_WISH);
                assert!(is_gentler(one) && says_so, "{name}: {}", one.title);
                let (before, after) = (&standing.before.machine, &one.trial.after.machine);
                assert!(
                    after.axes[axis].full_travel <= before.axes[axis].full_travel,
                    "{name}"
                );
                let job =
                    |of: &gantrywright::machine::Machine| of.job.as_ref().map(|job| job.total);
                assert!(job(after) <= job(before), "{name}");
            }
        }
    }
}

/// Each limit says what lifts it.
#[test]
fn every_limit_says_what_lifts_it() {
    for limit in LimitName::ALL {
        let plain = limit.word().plain;
        assert!(
            plain.contains(" lift this") || plain.contains(" lifts this"),
            "{plain}"
        );
    }
}

/// The warning about a rack or belt that steps too coarsely fits one with a reduction as well as one
/// without.
#[test]
fn a_coarse_belt_with_a_reduction_is_told_as_such() {
    let catalogue = catalogue();
    for (reduction, wanted) in [
        ("1", "of travel per turn without a reduction"),
        ("3", "of travel per turn even with a reduction of 3"),
    ] {
        let choices = [
            ("drive_x", "belt-5m-15"),
            ("reduction", reduction),
            ("tolerance_mm", "0.01"),
        ];
        let build = common::build(&catalogue, &choices);
        let after = assessed(&catalogue, &build);
        let mut coarse = after.findings.iter();
        let coarse = coarse.find(|one| one.rule == "rack-wants-reduction");
        let message = &coarse.expect("a warning").message;
        assert!(message.contains(wanted), "{message}");
    }
    let rule = gantrywright::rules::find("rack-wants-reduction").expect("a rule");
    assert!(rule.title.contains("too little reduction"));
}
