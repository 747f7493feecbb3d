//! The spindle itself: whether Z can hold it, whether it stays cool, and what comes with it.

use rust_decimal::Decimal;

use super::remedy::{each_option, in_turn, part_of, set};
use super::say;
use super::spindle_set::other_spindles;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::Step;
use crate::catalogue::quantity::Count;
use crate::catalogue::spindle::{Cooling, SpindleKind};
use crate::order::Order as _;
use crate::units;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "spindle-too-heavy",
        title: "Spindle too heavy for its clamp",
        severities: &[Severity::Fault],
        step: Step::Spindle,
        watches: "The spindle's mass against what its clamp holds.",
        because: "A clamp that gives way drops a spinning tool onto the work, or lets it tilt in every cut.",
        from: "Spindle mass > the clamp's stated load; published data of clamps.",
        instead: "Take a stronger clamp, or a lighter spindle.",
        reads: &[Fact::Spindle],
        decided_by: Some(&["spindle", "spindle_clamp"]),
        check: too_heavy,
        remedies: lighter,
        example: Example {
            given: &[("spindle", "spindle-2.2kw-tool-changing")],
            choice: "spindle_clamp",
            fires: "clamp-80",
            quiet: "clamp-100",
        },
    },
    Rule {
        id: "water-without-cooler",
        title: "Water-cooled spindle without a cooler",
        severities: &[Severity::Fault],
        step: Step::Spindle,
        watches: "Whether a spindle that wants water has a pump and a tank.",
        because: "Without flowing water its winding overheats within minutes.",
        from: "Common practice.",
        instead: "Add a cooler, or take an air-cooled spindle.",
        reads: &[Fact::Spindle],
        decided_by: Some(&["spindle", "cooler"]),
        check: no_cooler,
        remedies: any_cooler,
        example: Example {
            given: &[("spindle", "spindle-2.2kw-water")],
            choice: "cooler",
            fires: "none",
            quiet: "cooler-pump-tank",
        },
    },
    Rule {
        id: "water-without-watch",
        title: "Nothing watches the cooling water",
        severities: &[Severity::Caution],
        step: Step::Spindle,
        watches: "Whether a switch stops the spindle when the water stands still or gets hot.",
        because: "A kinked hose or a dead pump goes unheard while the machine cuts, until the winding has burnt.",
        from: "Common practice.",
        instead: "Take a cooler with a flow or temperature switch.",
        reads: &[Fact::Spindle],
        decided_by: Some(&["spindle", "cooler"]),
        check: unwatched,
        remedies: any_cooler,
        example: Example {
            given: &[("spindle", "spindle-2.2kw-water")],
            choice: "cooler",
            fires: "cooler-pump-tank",
            quiet: "cooler-pump-tank-watched",
        },
    },
    Rule {
        id: "cooling-water-freezes",
        title: "Cooling water can freeze",
        severities: &[Severity::Caution],
        step: Step::Spindle,
        watches: "A water-cooled spindle in a room that freezes, without antifreeze.",
        because: "Ice needs a tenth more room than water, and cracks the spindle's jacket.",
        from: "Common practice.",
        instead: "Fill in antifreeze, or drain the spindle before every frost.",
        reads: &[Fact::Spindle, Fact::Wishes],
        decided_by: Some(&["spindle", "antifreeze"]),
        check: freezes,
        remedies: |facts, _| set(facts, "antifreeze", "yes"),
        example: Example {
            given: &[
                ("spindle", "spindle-2.2kw-water"),
                ("cooler", "cooler-radiator"),
                ("room_freezes", "yes"),
            ],
            choice: "antifreeze",
            fires: "no",
            quiet: "yes",
        },
    },
    Rule {
        id: "cooler-without-use",
        title: "Cooler without a use",
        severities: &[Severity::Hint],
        step: Step::Spindle,
        watches: "A water cooler beside a spindle that cools itself.",
        because: "It costs money and has nothing to cool.",
        from: "Common practice.",
        instead: "Leave the cooler out.",
        reads: &[Fact::Spindle],
        decided_by: Some(&["spindle", "cooler"]),
        check: needless_cooler,
        remedies: |facts, _| set(facts, "cooler", "none"),
        example: Example {
            given: &[("cooler", "cooler-radiator")],
            choice: "spindle",
            fires: "spindle-2.2kw-air",
            quiet: "spindle-2.2kw-water",
        },
    },
    Rule {
        id: "hand-router-no-control",
        title: "Hand router without control",
        severities: &[Severity::Hint],
        step: Step::Spindle,
        watches: "A hand router instead of a spindle motor.",
        because: "The controller can set neither its speed nor its start; it is loud, its brushes last 80 to 200 hours, and its collet runs less true.",
        from: "Common practice.",
        instead: "Take a spindle motor with an inverter, or accept it: start and set the hand router by hand.",
        reads: &[Fact::Spindle],
        decided_by: Some(&["spindle"]),
        check: hand_router,
        remedies: |facts, _| other_spindles(facts, |spindle| spindle.needs_vfd()),
        example: Example {
            given: &[],
            choice: "spindle",
            fires: "router-1050w-230",
            quiet: "spindle-0.8kw-air",
        },
    },
    Rule {
        id: "tool-changer-adds",
        title: "What a tool changer brings along",
        severities: &[Severity::Hint],
        step: Step::Spindle,
        watches: "A tool-changing spindle, and the price of what it cannot do without.",
        because: "Holders, rack and dry compressed air come on top of the spindle, and are easily forgotten.",
        from: "Sum of the lines for holders, rack, compressor and air lines; common practice.",
        instead: "Budget for all of it, or change tools by hand.",
        reads: &[Fact::Spindle, Fact::Bill],
        decided_by: Some(&["spindle"]),
        check: changer,
        remedies: |facts, _| other_spindles(facts, |spindle| spindle.kind == SpindleKind::Motor),
        example: Example {
            given: &[],
            choice: "spindle",
            fires: "spindle-1.5kw-tool-changing",
            quiet: "spindle-1.5kw-air",
        },
    },
];

fn too_heavy(facts: &Facts, report: &mut Report) {
    let (spindle, clamp) = (facts.picked.spindle, facts.picked.clamp);
    if spindle.mass > clamp.holds {
        let (mass, holds) = (units::kg::from(spindle.mass), units::kg::from(clamp.holds));
        report.say(
            Severity::Fault,
            format!(
                "the spindle weighs {} kg, its clamp holds {} kg",
                say::at_most(mass, 1),
                say::at_most(holds, 1)
            ),
        );
    }
}

fn lighter(facts: &Facts, _: Option<Axis>) -> Remedies {
    let now = facts.picked.spindle.mass;
    in_turn([
        each_option(facts, "spindle_clamp"),
        other_spindles(facts, |spindle| spindle.mass < now),
    ])
}

fn by_water(facts: &Facts) -> bool {
    facts.picked.spindle.cooling == Cooling::Water
}

fn no_cooler(facts: &Facts, report: &mut Report) {
    if by_water(facts) && facts.picked.cooler.is_none() {
        let power = say::watts(facts.picked.spindle.power);
        report.say(
            Severity::Fault,
            format!("the {power} spindle is cooled by water, and there is no pump"),
        );
    }
}

/// Coolers, those with a watch first.
fn any_cooler(facts: &Facts, _: Option<Axis>) -> Remedies {
    let mut coolers = each_option(facts, "cooler");
    coolers.order_by_key(|edits| {
        let cooler = edits
            .first()
            .and_then(|edit| part_of(edit, &facts.picked.catalogue.coolers));
        cooler.is_none_or(|cooler| !cooler.watched)
    });
    in_turn([
        coolers,
        other_spindles(facts, |spindle| spindle.cooling != Cooling::Water),
    ])
}

fn unwatched(facts: &Facts, report: &mut Report) {
    if by_water(facts) && facts.picked.cooler.is_some_and(|cooler| !cooler.watched) {
        report.say(
            Severity::Caution,
            "no flow or temperature switch stops the spindle when its water stands still",
        );
    }
}

fn freezes(facts: &Facts, report: &mut Report) {
    let build = facts.picked.build;
    if by_water(facts) && build.area.freezes && !build.spindle.antifreeze {
        report.say(
            Severity::Caution,
            "the room freezes, and the cooling water has no antifreeze",
        );
    }
}

fn needless_cooler(facts: &Facts, report: &mut Report) {
    if let Some(cooler) = facts.picked.cooler
        && !by_water(facts)
    {
        let message = format!(
            "{}: the spindle cools itself with its own fan",
            cooler.title
        );
        report.say(Severity::Hint, message);
    }
}

fn hand_router(facts: &Facts, report: &mut Report) {
    let spindle = facts.picked.spindle;
    if spindle.kind == SpindleKind::HandRouter {
        report.say(
            Severity::Hint,
            format!(
                "speed and start are set by hand; it sounds {} dB(A), and its collet runs out {} µm",
                say::at_most(spindle.noise_dba.as_dba(), 0),
                say::at_most(units::um::from(spindle.runout), 0)
            ),
        );
    }
}

fn changer(facts: &Facts, report: &mut Report) {
    if facts.picked.spindle.kind != SpindleKind::ToolChanger {
        return;
    }
    let rules = facts.picked.catalogue.quantities.iter();
    let brought = rules.filter(|rule| rule.per == Count::ToolChange);
    let lines = brought.filter_map(|rule| facts.bill.line(rule.part.as_str()));
    let sum: Decimal = lines.map(|line| line.total.likely).sum();
    let sum = say::money(sum, facts.bill.currency);
    report.say(
        Severity::Hint,
        format!("holders, rack, compressor and air lines for it come to {sum}; it wants dry air and a tool sensor"),
    );
}
