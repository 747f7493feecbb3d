//! Current to earth: whether the protective device sees a fault behind an inverter, whether
//! what leaks anyway trips it, and whether the earth conductor is sure enough.

use super::remedy::{each_option, in_turn, set};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::build::choices::control::ResidualType;
use crate::catalogue::Step;
use crate::catalogue::motor::FeedKind;
use crate::catalogue::site::EarthProtection;
use crate::machine::circuit::Circuit;
use crate::machine::wiring::plug_earth;
use crate::units;
use crate::words::Words;

/// Share of a residual-current device's rating that may leak all the time: 30 %
/// (IEC 60364-5-53, 531.3).
const LEAKAGE_SHARE: f64 = 0.30;

/// What leaks to earth, and what that is held against.
const LEAKING: &[Fact] = &[
    Fact::Mains,
    Fact::Site,
    Fact::Drives,
    Fact::Spindle,
    Fact::Inverter,
    Fact::Supply,
    Fact::Drivers,
];

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "rcd-type",
        title: "Residual-current device of the wrong type",
        severities: &[Severity::Danger, Severity::Caution, Severity::Hint],
        step: Step::Control,
        watches: "The type of the device that protects inverter, mains-fed servo drivers and the motors' supply.",
        because: "Their fault current is not alternating: a simple device goes blind, and does not cut when somebody is touched.",
        from: "Three-phase input: type B. Inverter on one phase: type F, at least A. Whatever rectifies the mains: at least A. IEC 62423, EN 50178; IEC 60364-5-53:2019, 531.3.3 (from memory); makers' manuals decide. North America: UL 943 class A, for alternating current (from memory).",
        instead: "Have an electrician fit the type that the inverter's manual names.",
        reads: &[Fact::Mains, Fact::Site, Fact::Inverter, Fact::Drivers],
        decided_by: Some(&["residual_type", "spindle", "vfd", "driver_a"]),
        check: residual_type,
        remedies: better_type,
        example: Example {
            given: &[],
            choice: "residual_type",
            fires: "type-a",
            quiet: "type-f",
        },
    },
    Rule {
        id: "leakage-over-share",
        title: "Leakage may trip the residual-current device",
        severities: &[Severity::Caution],
        step: Step::Control,
        watches: "What filters and supplies leak to earth all the time against the device's rating.",
        because: "A device trips from half its rating on: with a third used up, switching on is enough.",
        from: "Sum of leakages > 30 % of the rating; IEC 60364-5-53, 531.3.",
        instead: "Leave the extra filter out, take an inverter or supplies that leak less, or share the load between two devices. Else ask the electrician, who may know a device of another kind or put in an isolating transformer; never run without protection.",
        reads: LEAKING,
        decided_by: Some(&[
            "supply",
            "supply_count",
            "driver_a",
            "motor_a",
            "gantry_drive",
            "spindle",
            "vfd",
            "mains_filter",
            "motor_circuit",
            "spindle_circuit",
        ]),
        check: leakage,
        remedies: leak_less,
        example: Example {
            given: &[],
            choice: "mains_filter",
            fires: "yes",
            quiet: "no",
        },
    },
    Rule {
        id: "protective-earth-over-plug",
        title: "Earth through the plug alone",
        severities: &[Severity::Danger],
        step: Step::Control,
        watches: "Standing leakage above 3.5 mA without a second protective conductor.",
        because: "If the plug's earth is lost, the whole leakage flows through whoever touches the frame.",
        from: "Leakage > 3.5 mA wants a fixed, reinforced or second conductor: EN 61800-5-1.",
        instead: "Add a second, firmly connected protective conductor, or parts that leak less.",
        reads: LEAKING,
        decided_by: Some(&[
            "second_earth",
            "supply",
            "supply_count",
            "driver_a",
            "motor_a",
            "gantry_drive",
            "spindle",
            "vfd",
            "mains_filter",
            "motor_circuit",
            "spindle_circuit",
        ]),
        check: plug,
        remedies: second_earth,
        example: Example {
            given: &[],
            choice: "second_earth",
            fires: "no",
            quiet: "yes",
        },
    },
];

/// What sends the mains through an inverter in this machine, and on how many phases.
fn inverting(facts: &Facts) -> Option<(&'static str, u32)> {
    if let Some(vfd) = facts.picked.inverter() {
        return Some(("the inverter", vfd.input_phases));
    }
    let servo = facts
        .picked
        .axes
        .iter()
        .any(|(_, axis)| axis.driver.feed == FeedKind::Mains);
    servo.then_some(("a mains-fed servo driver", 1))
}

fn residual_type(facts: &Facts, report: &mut Report) {
    let kind = facts.picked.build.control.residual;
    if facts.picked.site.earth_protection == EarthProtection::GroundFault {
        match inverting(facts) {
            Some((what, 3)) => report.say(
                Severity::Danger,
                format!("{what} has a three-phase input: a ground-fault circuit interrupter is blind to its fault current"),
            ),
            Some((what, _)) => report.say(
                Severity::Hint,
                format!("a ground-fault circuit interrupter is made for alternating current: what leaks behind {what} may trip it or pass it unseen; ask an electrician and the maker"),
            ),
            None => {}
        }
        return;
    }
    let Some((what, phases)) = inverting(facts) else {
        // A switched supply rectifies the mains as well: its fault current pulsates.
        if kind == ResidualType::Ac {
            report.say(Severity::Caution, format!("{} behind which the motors' supply hangs sees alternating fault current only; type A is the least", kind.title()));
        }
        return;
    };
    if phases == 3 && kind != ResidualType::B {
        report.say(
            Severity::Danger,
            format!("{what} has a three-phase input: {} is blind to its fault current, only type B sees it", kind.title()),
        );
    } else if kind == ResidualType::Ac {
        report.say(
            Severity::Danger,
            format!(
                "{} behind which {what} hangs sees alternating fault current only",
                kind.title()
            ),
        );
    } else if kind == ResidualType::A {
        report.say(
            Severity::Caution,
            format!(
                "{what} on one phase: type F is made for it, type A is the least; follow its manual"
            ),
        );
    }
}

fn better_type(facts: &Facts, _: Option<Axis>) -> Remedies {
    if facts.picked.site.earth_protection == EarthProtection::GroundFault {
        return Vec::new();
    }
    let enough = match inverting(facts) {
        Some(_) => ["type-f", "type-b"],
        None => ["type-a", "type-f"],
    };
    let each = enough.into_iter();
    each.flat_map(|kind| set(facts, "residual_type", kind))
        .collect()
}

fn leakage(facts: &Facts, report: &mut Report) {
    let rating = facts.picked.site.residual;
    let may = rating * LEAKAGE_SHARE;
    for circuit in &facts.machine.electrics.circuits {
        let leaks = circuit.leakage();
        if leaks <= may {
            continue;
        }
        let says = match leaks >= rating {
            true => "will trip as soon as the machine is switched on".to_owned(),
            false => format!("should see {} at most", say::milliamperes(may)),
        };
        report.say(
            Severity::Caution,
            format!(
                "{}: {} leak to earth all the time; a device that trips at {} {says}",
                circuit.which.title(),
                say::milliamperes(leaks),
                say::milliamperes(rating)
            ),
        );
    }
}

fn leak_less(facts: &Facts, _: Option<Axis>) -> Remedies {
    let mut found = set(facts, "mains_filter", "no");
    if facts.picked.has_second_circuit() {
        found.extend(set(facts, "motor_circuit", "second"));
        found.extend(set(facts, "spindle_circuit", "second"));
    }
    found.extend(each_option(facts, "vfd"));
    found.extend(each_option(facts, "supply"));
    for axis in Axis::EACH {
        found.extend(each_option(facts, &axis.choice("driver")));
    }
    found
}

fn plug(facts: &Facts, report: &mut Report) {
    let each = facts
        .machine
        .electrics
        .circuits
        .iter()
        .map(Circuit::leakage);
    let leaks = each.fold(units::ma::of(0.0), |most, leaks| most.max(leaks));
    if leaks > plug_earth() && !facts.picked.build.control.second_earth {
        report.say(
            Severity::Danger,
            format!(
                "{} leak to earth through one plug: above {} its earth alone is not enough",
                say::milliamperes(leaks),
                say::milliamperes(plug_earth())
            ),
        );
    }
}

fn second_earth(facts: &Facts, axis: Option<Axis>) -> Remedies {
    in_turn([set(facts, "second_earth", "yes"), leak_less(facts, axis)])
}
