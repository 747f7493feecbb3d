//! What the machine is for over its years: a job that it cannot do, a bearing that wears out.

use super::rapids::gentler;
use super::remedy::{each_named, each_option, number, set};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::Step;
use crate::machine::cutting::Verdict;
use crate::machine::job::{Obstacle, Work, obstacle};
use crate::machine::life::Life;
use crate::units::{self, Time};
use crate::words::Words as _;

/// Hours of use that nuts and carriages should last: ten hours a week for ten years (common
/// practice).
const LASTING_H: f64 = 5000.0;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "job-cannot-be-cut",
        title: "The job cannot be done on this machine",
        severities: &[Severity::Caution],
        step: Step::Extras,
        watches: "Whether some tool cuts the material of the job, and every axis moves.",
        because: "No minutes can be told for a job that the machine cannot do, and it may be the job that you build it for.",
        from: "No cut of the material with a verdict better than no, or rapids of zero.",
        instead: "Name a job that fits, or change what the warning says stops it.",
        reads: &[
            Fact::Wishes,
            Fact::Extras,
            Fact::Frame,
            Fact::Axes,
            Fact::Spindle,
        ],
        decided_by: None,
        check: cannot_be_cut,
        remedies: other_jobs,
        example: Example {
            given: &[],
            choice: "job_material",
            fires: "mild-steel",
            quiet: "rigid-foam",
        },
    },
    Rule {
        id: "job-longer-than-travel",
        title: "The job is longer than the travel",
        severities: &[Severity::Caution],
        step: Step::Extras,
        watches: "The straight cuts of the job, against the longest that X and Y can make.",
        because: "The machine would stop in the middle of a cut, and the piece must be moved and set up anew, which is seldom exact.",
        from: "Straight cut <= root(X² + Y²), corner to corner of the travel (calculation).",
        instead: "Plan more travel, name a smaller job, or cut it in two goes with pins that hold its place.",
        reads: &[Fact::Wishes, Fact::Extras, Fact::Geometry],
        decided_by: Some(&[]),
        check: too_long,
        remedies: longer_travel,
        example: Example {
            given: &[],
            choice: "job_piece_mm",
            fires: "900",
            quiet: "800",
        },
    },
    Rule {
        id: "life-too-short",
        title: "Nut or carriage wears out early",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "Hours of use that the nut and the most burdened carriage of each axis last.",
        because: "A worn nut or carriage has play, and play shows in every part long before it jams.",
        from: "Life at 90 % reliability (ISO 3408-5, ISO 14728-1) below 5 000 hours: ten a week for ten years, common practice.",
        instead: "Put two carriages on each rail, or take larger carriages or a larger screw.",
        reads: &[
            Fact::Wishes,
            Fact::Guides,
            Fact::Drives,
            Fact::Masses,
            Fact::Axes,
            Fact::Frame,
        ],
        decided_by: None,
        check: short_life,
        remedies: sturdier,
        example: Example {
            given: &[("carriages_x", "1")],
            choice: "cutting_force_n",
            fires: "85",
            quiet: "75",
        },
    },
];

fn cannot_be_cut(facts: &Facts, report: &mut Report) {
    let machine = facts.machine;
    if machine.job.is_some() {
        return;
    }
    let Some(obstacle) = obstacle(facts.picked, &machine.axes, &machine.cutting) else {
        return;
    };
    let material = facts.picked.job_material.map_or("the job", |of| &of.title);
    let message = match obstacle {
        Obstacle::NoCut(Some(cut)) if cut.verdict == Verdict::No => {
            format!("no tool cuts {material}: {}", cut.limited_by.title())
        }
        Obstacle::NoCut(Some(_)) => format!("no tool finishes {material} in a thin side cut"),
        Obstacle::NoCut(None) => format!("no tool that the spindle takes cuts {material}"),
        Obstacle::Stuck(axis) => {
            format!("{} does not move, so no job can be done", axis.title())
        }
    };
    report.say(Severity::Caution, message);
}

/// The named job's own material, then every other job; a gentler start where an axis stands.
fn other_jobs(facts: &Facts, _: Option<Axis>) -> Remedies {
    let mut found = gentler(facts);
    if facts.picked.build.extras.job.material.is_some() {
        found.extend(set(facts, "job_material", "none"));
    }
    // Wanting no job at all would silence the warning and answer nothing.
    found.extend(each_named(facts, "job"));
    found
}

fn too_long(facts: &Facts, report: &mut Report) {
    let travel = &facts.picked.build.area.travel;
    let longest = travel.x.hypot(travel.y);
    if let Some(work) = Work::of(facts.picked)
        && work.piece > longest
    {
        report.say(
            Severity::Caution,
            format!(
                "cuts of {} in one piece; X and Y make {} from corner to corner",
                say::mm(work.piece, 0),
                say::mm(longest, 0)
            ),
        );
    }
}

/// As much travel along X or Y as the longest cut wants, else another job.
fn longer_travel(facts: &Facts, _: Option<Axis>) -> Remedies {
    let mut found = Remedies::new();
    if let Some(work) = Work::of(facts.picked) {
        let wanted = units::mm::from(work.piece);
        found.extend(number(facts, "travel_x_mm", wanted, true));
        found.extend(number(facts, "travel_y_mm", wanted, true));
    }
    if facts.picked.build.extras.job.piece.is_some() {
        found.extend(set(facts, "job_piece_mm", "none"));
    }
    // Wanting no job at all would silence the warning and answer nothing.
    found.extend(each_named(facts, "job"));
    found
}

fn short_life(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let life = &facts.machine.life[axis];
        let shortest = life.shortest();
        if units::hour::from(shortest) < LASTING_H {
            let days = shortest / facts.picked.build.area.hours_a_day;
            report.say_of(
                axis,
                Severity::Caution,
                format!(
                    "{}: {} last about {} hours of use, {} working days",
                    axis.title(),
                    worn(life, shortest),
                    say::grouped(round(units::hour::from(shortest))),
                    say::grouped(round(units::times::from(days))),
                ),
            );
        }
    }
}

/// Which of the two wears out, with its load.
fn worn(life: &Life, shortest: Time) -> String {
    match (life.nut_hours, life.nut_load) {
        (Some(hours), Some(load)) if hours == shortest => {
            format!("nuts under {}", say::newtons(load))
        }
        _ => format!("carriages under {}", say::newtons(life.carriage_load)),
    }
}

/// Two digits: more than a life is ever known to.
fn round(number: f64) -> f64 {
    if number < 10.0 {
        return number;
    }
    let scale = 10.0_f64.powf(number.log10().floor() - 1.0);
    (number / scale).round() * scale
}

fn sturdier(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let mut found = Remedies::new();
    if facts.picked.build.drive.carriages[axis] < 2 {
        found.extend(number(facts, &axis.choice("carriages"), 2.0, true));
    }
    found.extend(each_option(facts, &axis.choice("guide")));
    found.extend(each_option(facts, &axis.choice("drive")));
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_digits_are_told() {
        assert_eq!(round(4321.0), 4300.0);
        assert_eq!(round(98.7), 99.0);
        assert_eq!(round(3.0), 3.0);
    }
}
