//! Which choices alone decide a rule, and so what a search may learn from a finding.
//!
//! A search meets a finding that it must not have. Where the rule names the choices that
//! decide it, the search knows: as long as these keep their values, the finding stays,
//! whatever else is chosen, and it need not look at any such build again. A choice too many
//! in a list makes that lesson narrower; a choice too few would make it false. Therefore a
//! list follows from reading what `check` reads, down to the parts and lengths, and
//! `tests/rules/scopes.rs` holds it against builds of chance.

mod narrower;

use super::Rule;
use crate::build::choices::drive::GantryDrive;
use crate::build::{Axis, Build, Choice, choices};

pub use narrower::narrower;

/// What a rail's length follows from, besides travel, plan and measured holes.
pub(super) const RAIL: &[&str] = &["guide_a", "carriages_a", "rail_length_a_mm"];

/// The same for findings on an axis that may follow from the rail of another one: a plan is
/// free to let any piece follow any rail.
#[rustfmt::skip]
pub(super) const EVERY_RAIL: &[&str] = &[
    "guide_x", "carriages_x", "rail_length_x_mm",
    "guide_y", "carriages_y", "rail_length_y_mm",
    "guide_z", "carriages_z", "rail_length_z_mm",
];

/// All that decides how an axis moves: what it is made of, what the axes that it carries are
/// made of, since they are its load, and what feeds and steps its motors.
pub(super) const MOTION: &str = "motion_a";

/// What an axis is made of, as its load and its drive go.
#[rustfmt::skip]
const OF_AXIS: &[&str] = &[
    "guide_a", "carriages_a", "rail_length_a_mm", "drives_a", "ends_a", "screw_length_a_mm",
    "motor_a", "coupling_a", "driver_a",
];

/// What all axes share of it.
#[rustfmt::skip]
const OF_MOTION: &[&str] = &[
    "spindle", "spindle_clamp", "controller", "supply", "supply_count", "microsteps",
    "current_percent", "working_share_percent", "closed_loop_share_percent", "preloaded_nuts",
    "stretched_screws", "reduction", "braking_clamp",
];

/// What the cut asks of the axes.
#[rustfmt::skip]
pub(super) const CUT: &[&str] = &[
    "motion_a", "vfd", "tool", "cooler", "spindle_speed_rpm", "power_cap_percent",
    "base_frequency_hz",
];

/// What draws current of the mains, and where.
#[rustfmt::skip]
pub(super) const DRAWS: &[&str] = &[
    "motion_a", "motor_x", "motor_y", "motor_z", "driver_x", "driver_y", "driver_z", "gantry_drive",
    "supply", "supply_count", "current_percent", "spindle", "vfd", "line_choke",
    "power_cap_percent", "spindle_speed_rpm", "base_frequency_hz", "cooler", "controller",
    "computer", "fan",
    "spindle_circuit", "extractor_circuit", "motor_circuit", "controller_circuit",
    "computer_circuit", "cooler_circuit", "coolant_circuit", "compressor_circuit",
    "spindle_at_once", "extractor_at_once", "coolant_at_once", "compressor_at_once",
    "emergency_stop", "no_volt_release", "breaker_curve",
];

/// What the cables carry, how long they are, and what they are.
#[rustfmt::skip]
pub(super) const COPPER: &[&str] = &[
    "motor_x", "motor_y", "motor_z", "driver_x", "driver_y", "driver_z", "gantry_drive",
    "supply", "supply_count", "current_percent", "spindle", "vfd", "power_cap_percent",
    "spindle_speed_rpm", "base_frequency_hz", "motor_cable", "spindle_cable", "switch_cable",
    "chain", "cabinet", "guide_x", "guide_y", "guide_z", "carriages_x", "carriages_y",
    "carriages_z", "rail_length_x_mm", "rail_length_y_mm", "rail_length_z_mm",
];

/// Every drive of the axis.
const DRIVES: &str = "drives_a";

/// The same, where both drives of Y are one part.
const LIKE_DRIVES: &str = "like_drives_a";

impl Rule {
    /// The choices that alone decide its findings on an axis, or on the whole machine, in any
    /// build; `None` where they are not declared, an empty list where none does.
    pub fn deciders(&self, axis: Option<Axis>) -> Option<Vec<&'static Choice>> {
        self.deciding(axis, false)
    }

    /// The same for a build and all that agree with it in those choices. Some rules declare
    /// them only where both drives of Y are one part: of two that differ, everything else
    /// decides which one stands for both.
    pub fn deciders_in(&self, axis: Option<Axis>, build: &Build) -> Option<Vec<&'static Choice>> {
        self.deciding(axis, y_drives_alike(build))
    }

    fn deciding(&self, axis: Option<Axis>, alike: bool) -> Option<Vec<&'static Choice>> {
        let names = self.decided_by?;
        let axes = axis.as_ref().map_or(&Axis::EACH[..], std::slice::from_ref);
        let mut found: Vec<&'static Choice> = Vec::new();
        for name in names {
            for &axis in axes {
                if *name == LIKE_DRIVES && axis == Axis::Y && !alike {
                    return None;
                }
                for id in ids(name, axis) {
                    // A name that leads nowhere declares nothing; a test looks for such.
                    let choice = choices::find(&id).ok()?;
                    if found.iter().all(|other| other.id != choice.id) {
                        found.push(choice);
                    }
                }
            }
        }
        Some(found)
    }
}

/// The axes whose parts are an axis's load, itself first.
fn carried(axis: Axis) -> &'static [Axis] {
    match axis {
        Axis::Z => &[Axis::Z],
        Axis::X => &[Axis::X, Axis::Z],
        Axis::Y => &[Axis::Y, Axis::X, Axis::Z],
    }
}

/// The choices that decide how an axis moves.
pub fn motion(axis: Axis) -> Vec<String> {
    let axes = carried(axis).iter();
    let own = axes.flat_map(|&axis| OF_AXIS.iter().flat_map(move |name| ids(name, axis)));
    let shared = OF_MOTION.iter().map(|&id| id.to_owned());
    own.chain(shared).collect()
}

/// The ids that a name in a list stands for on an axis.
fn ids(name: &str, axis: Axis) -> Vec<String> {
    if name == MOTION {
        return motion(axis);
    }
    let letter = axis.letter();
    if name == DRIVES || name == LIKE_DRIVES {
        let mut found = vec![axis.choice("drive")];
        if axis == Axis::Y {
            found.extend(["drive_y2", "gantry_drive"].map(str::to_owned));
        }
        return found;
    }
    let of_axis = ["_a", "_a_mm"].into_iter().find_map(|end| {
        let start = name.strip_suffix(end)?;
        Some(format!("{start}{}", end.replace('a', &letter.to_string())))
    });
    vec![of_axis.unwrap_or_else(|| name.to_owned())]
}

/// Whether Y has one drive, or two of the same part.
fn y_drives_alike(build: &Build) -> bool {
    let drive = &build.drive;
    let second = drive.second_drive.as_ref();
    drive.gantry == GantryDrive::Centre || second.is_none_or(|second| *second == drive.drive.y)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Step;
    use crate::rules::{all, find};

    #[test]
    fn every_name_is_a_choice_of_the_three_steps() {
        let decided = [Step::Drive, Step::Spindle, Step::Control];
        for rule in all() {
            for name in rule.decided_by.unwrap_or_default() {
                for id in Axis::EACH.iter().flat_map(|&axis| ids(name, axis)) {
                    let choice = choices::find(&id).unwrap_or_else(|error| panic!("{error:?}"));
                    assert!(decided.contains(&choice.step), "{}: {id}", rule.id);
                    assert!(!id.starts_with("measured_"), "{}: {id}", rule.id);
                }
            }
        }
    }

    fn names(rule: &str, axis: Option<Axis>, build: &Build) -> Option<Vec<&'static str>> {
        let found = find(rule)?.deciders_in(axis, build)?;
        Some(found.iter().map(|choice| choice.id).collect())
    }

    #[test]
    fn names_stand_for_the_axis_of_the_finding() {
        let build = Build::default();
        let of = |rule, axis| names(rule, axis, &build);
        let x = ["coupling_x", "motor_x", "drive_x"];
        assert_eq!(of("coupling-does-not-fit", Some(Axis::X)), Some(x.to_vec()));
        let y = [
            "coupling_y",
            "motor_y",
            "drive_y",
            "drive_y2",
            "gantry_drive",
        ];
        assert_eq!(of("coupling-does-not-fit", Some(Axis::Y)), Some(y.to_vec()));
        let all = ["motor_x", "motor_y", "motor_z"];
        assert_eq!(of("servo-wants-tuning", None), Some(all.to_vec()));
        let rail = ["guide_z", "carriages_z", "rail_length_z_mm"];
        assert_eq!(
            of("travel-exceeds-rail", Some(Axis::Z)),
            Some(rail.to_vec())
        );
    }

    #[test]
    fn none_is_not_the_same_as_undeclared() {
        let build = Build::default();
        assert_eq!(names("no-fire-watch", None, &build), Some(Vec::new()));
        assert_eq!(names("over-budget", None, &build), None);
    }

    #[test]
    fn of_drives_that_differ_nothing_is_said() {
        let rule = find("step-too-coarse").expect("a rule");
        let mut build = Build::default();
        assert!(rule.deciders(Some(Axis::X)).is_some());
        assert!(rule.deciders(Some(Axis::Y)).is_none());
        assert!(rule.deciders(None).is_none());
        assert!(rule.deciders_in(Some(Axis::Y), &build).is_some());
        build.drive.second_drive = Some(build.drive.drive.z);
        assert!(rule.deciders_in(Some(Axis::Y), &build).is_none());
        assert!(rule.deciders_in(Some(Axis::Z), &build).is_some());
        build.drive.gantry = GantryDrive::Centre;
        assert!(rule.deciders_in(Some(Axis::Y), &build).is_some());
    }
}
