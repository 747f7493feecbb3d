//! The place of work: something to stand on, something that holds, tools to cut with.

use super::remedy::{each_option, in_turn, set, together};
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::Step;
use crate::catalogue::material::Family;
use crate::catalogue::spindle::SpindleKind;
use crate::machine::job::ChangeTime;
use crate::units::{self, Mass};

/// Tool changes in a job from which a tool-length sensor pays (common practice).
const MANY_CHANGES: u32 = 3;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "nothing-to-cut",
        title: "Nothing to cut is named",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "Whether any material is wanted.",
        because: "Dust, spindle, stiffness and speeds are judged by what you cut: without it many warnings stay quiet.",
        from: "Count of the wanted materials = 0.",
        instead: "Tick what you mean to cut.",
        reads: &[Fact::Wishes],
        decided_by: Some(&[]),
        check: |facts, report| {
            if facts.picked.materials.is_empty() {
                report.say(
                    Severity::Hint,
                    "no material is named: dust, speeds and spindle are not judged",
                );
            }
        },
        remedies: |facts, _| super::remedy::set(facts, "materials", "softwood"),
        example: Example {
            given: &[],
            choice: "materials",
            fires: "none",
            quiet: "softwood",
        },
    },
    Rule {
        id: "no-table",
        title: "Nothing to stand on",
        severities: &[Severity::Hint],
        step: Step::Extras,
        watches: "Whether there is a stand under the machine.",
        because: "The floor is no place to work: it is neither level nor stiff, and hard on back and knees.",
        from: "Common practice.",
        instead: "Plan a stand that carries the machine.",
        reads: &[Fact::Extras, Fact::Masses],
        decided_by: Some(&[]),
        check: no_table,
        remedies: tables,
        example: Example {
            given: &[],
            choice: "table",
            fires: "none",
            quiet: "table-wood",
        },
    },
    Rule {
        id: "table-too-weak",
        title: "Stand too weak for the machine",
        severities: &[Severity::Caution],
        step: Step::Extras,
        watches: "Mass of machine and enclosure against what the stand carries.",
        because: "A stand at its limit sways with every turn of the gantry, and the sway shows in the parts.",
        from: "Mass > what the stand's data state.",
        instead: "Take a stronger stand.",
        reads: &[Fact::Extras, Fact::Masses],
        decided_by: None,
        check: weak_table,
        remedies: tables,
        example: Example {
            given: &[
                ("travel_x_mm", "1500"),
                ("travel_y_mm", "2500"),
                ("base_tube", "tube-100x100x5"),
            ],
            choice: "table",
            fires: "table-wood",
            quiet: "table-steel",
        },
    },
    Rule {
        id: "no-tool-length-sensor",
        title: "Many tool changes without a sensor",
        severities: &[Severity::Caution, Severity::Hint],
        step: Step::Extras,
        watches: "Tool changes in the job, or a tool-changing spindle, without a tool-length sensor.",
        because: "Each tool stands out differently: touching off by hand takes minutes, and one slip mills into the table.",
        from: "Three changes a job or more, each three minutes by hand against half a minute: common practice.",
        instead: "Add a tool-length sensor.",
        reads: &[Fact::Extras, Fact::Spindle],
        decided_by: Some(&["spindle"]),
        check: no_sensor,
        remedies: |facts, _| each_option(facts, "tool_sensor"),
        example: Example {
            given: &[("tool_sensor", "none")],
            choice: "tool_changes",
            fires: "3",
            quiet: "2",
        },
    },
    Rule {
        id: "no-workholding",
        title: "Nothing holds the workpiece",
        severities: &[Severity::Caution],
        step: Step::Extras,
        watches: "Clamps, and a wasteboard where anything but metal is cut.",
        because: "Loose stock flies; without a wasteboard the tool cuts the table at every through cut.",
        from: "Common practice.",
        instead: "Put clamps and a wasteboard on the list.",
        reads: &[Fact::Extras, Fact::Wishes],
        decided_by: Some(&[]),
        check: workholding,
        remedies: hold,
        example: Example {
            given: &[],
            choice: "workholding",
            fires: "none",
            quiet: "workholding-clamps",
        },
    },
    Rule {
        id: "no-end-mills",
        title: "No money for the first tools",
        severities: &[Severity::Caution],
        step: Step::Extras,
        watches: "Whether the list has end mills and collets for the first weeks.",
        because: "The finished machine stands still, or its only tool breaks on the first day.",
        from: "Common practice.",
        instead: "Put a starter set of end mills and collets on the list.",
        reads: &[Fact::Extras],
        decided_by: Some(&[]),
        check: end_mills,
        remedies: |facts, _| set(facts, "starter_tools", "yes"),
        example: Example {
            given: &[],
            choice: "starter_tools",
            fires: "no",
            quiet: "yes",
        },
    },
];

/// What the stand carries: the machine, and the enclosure around it.
fn burden(facts: &Facts) -> Mass {
    let enclosure = facts
        .picked
        .enclosure
        .map_or(units::kg::of(0.0), |enclosure| enclosure.mass);
    facts.machine.masses.total + enclosure
}

fn no_table(facts: &Facts, report: &mut Report) {
    if facts.picked.table.is_none() {
        let mass = units::kg::from(burden(facts));
        report.say(
            Severity::Hint,
            format!("{mass:.0} kg of machine, and no stand on the list"),
        );
    }
}

fn weak_table(facts: &Facts, report: &mut Report) {
    let mass = burden(facts);
    if let Some(table) = facts.picked.table
        && mass > table.carries
    {
        report.say(
            Severity::Caution,
            format!(
                "{:.0} kg stand on it, it carries {:.0} kg",
                units::kg::from(mass),
                units::kg::from(table.carries)
            ),
        );
    }
}

fn tables(facts: &Facts, _: Option<Axis>) -> Remedies {
    let mut found = each_option(facts, "table");
    found.retain(|edits| *edits != super::edit(facts, "table", "none"));
    found
}

fn no_sensor(facts: &Facts, report: &mut Report) {
    if facts.picked.tool_sensor.is_some() {
        return;
    }
    let own = facts.picked.build.extras.job.tool_changes;
    let named = facts.picked.job.map(|job| job.tool_changes);
    let changes = own.or(named).unwrap_or_default();
    if facts.picked.spindle.kind == SpindleKind::ToolChanger {
        report.say(
            Severity::Caution,
            "a tool-changing spindle, and nothing measures the tool that it took",
        );
    } else if changes >= MANY_CHANGES {
        let saved = units::minute::from(ChangeTime::saved()) * f64::from(changes);
        let of = match &facts.machine.job {
            Some(job) => format!("of the job's {:.0}", units::minute::from(job.total)),
            None => "a job".to_owned(),
        };
        report.say(
            Severity::Hint,
            format!("{changes} tool changes by hand: a sensor saves about {saved:.0} minutes {of}"),
        );
    }
}

fn workholding(facts: &Facts, report: &mut Report) {
    let picked = facts.picked;
    let through = picked
        .materials
        .iter()
        .any(|material| material.family != Family::Metal);
    let clamps = picked.workholding.is_none().then_some("clamps");
    let board = (through && !picked.build.extras.wasteboard).then_some("wasteboard");
    let lacking: Vec<&str> = clamps.into_iter().chain(board).collect();
    if !lacking.is_empty() {
        report.say(
            Severity::Caution,
            format!("no {} on the list", lacking.join(" and no ")),
        );
    }
}

fn hold(facts: &Facts, _: Option<Axis>) -> Remedies {
    let board = set(facts, "wasteboard", "yes");
    let clamps = each_option(facts, "workholding");
    let both = together(&clamps, &board);
    in_turn([board, clamps, both])
}

fn end_mills(facts: &Facts, report: &mut Report) {
    if !facts.picked.build.extras.starter_tools {
        report.say(
            Severity::Caution,
            format!(
                "the list has one tool, {}, and no set to start with",
                facts.picked.tool.title
            ),
        );
    }
}
