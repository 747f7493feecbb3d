//! Cables as a choice: enough cores, and a shield where noise matters.

use super::remedy::{in_turn, together};
use super::say;
use super::wiring::cables;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::{Axis, Picked};
use crate::catalogue::Step;
use crate::catalogue::motor::FeedKind;
use crate::catalogue::wiring::{Cable, CableUse};
use crate::machine::cable_load::{feeds_spindle, motor_at};
use crate::units;

/// Cores to a two-phase stepper, and to three phases with a protective conductor.
pub(super) const MOTOR_CORES: u32 = 4;

/// Cores to an outlet: live, neutral and the protective conductor.
const MAINS_CORES: u32 = 3;

/// Cores that the cable to the spindle needs, or to the outlet of a hand router.
pub(super) fn spindle_cores(picked: &Picked) -> u32 {
    match picked.spindle.needs_vfd() {
        true => MOTOR_CORES,
        false => MAINS_CORES,
    }
}

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "too-few-cores",
        title: "Cable with too few cores",
        severities: &[Severity::Danger, Severity::Fault],
        step: Step::Control,
        watches: "Cores of motor, spindle and switch cables against what they must connect.",
        because: "A spindle without an earth core is live at its first fault; a motor without its fourth core does not turn.",
        from: "Two phases take four cores; three phases three and a protective one (IEC 60204-1); switches by their data.",
        instead: "Take a cable with enough cores.",
        reads: &[Fact::Wiring, Fact::Spindle, Fact::Controller],
        decided_by: Some(&[
            "motor_cable",
            "switch_cable",
            "spindle_cable",
            "switch",
            "spindle",
        ]),
        check: cores,
        remedies: more_cores,
        example: Example {
            given: &[],
            choice: "spindle_cable",
            fires: "cable-signal-3x0.34-shielded-flex",
            quiet: "cable-motor-4x0.75-shielded-flex",
        },
    },
    Rule {
        id: "signal-cable-for-power",
        title: "Signal cable where power flows",
        severities: &[Severity::Danger],
        step: Step::Control,
        watches: "What kind of cable feeds the spindle or the hand router, and motors whose drivers send mains voltage.",
        because: "Its thin insulation is not made for mains in a moving chain: where it breaks, the frame is live.",
        from: "IEC 60204-1:2016, 12.3: above 50 V insulation must stand a test with 2000 V; Table 5: power outside the cabinet takes 0.75 mm² at least (both from memory).",
        instead: "Take a cable for power; for a hand router one with an earth core.",
        reads: &[Fact::Wiring, Fact::Spindle, Fact::Drivers],
        decided_by: Some(&[
            "spindle_cable",
            "motor_cable",
            "driver_x",
            "driver_y",
            "driver_z",
        ]),
        check: for_signals,
        remedies: for_power,
        example: Example {
            given: &[("spindle", "router-1050w-230")],
            choice: "spindle_cable",
            fires: "cable-signal-4x0.34-unshielded-flex",
            quiet: "cable-motor-4x0.75-shielded-flex",
        },
    },
    Rule {
        id: "unshielded-motor-cable",
        title: "Motor or spindle cable without a shield",
        severities: &[Severity::Caution],
        step: Step::Control,
        watches: "Shields of motor and spindle cables.",
        because: "Chopped current radiates from them: switches trip by themselves, steps get lost, links break.",
        from: "EMC manuals of inverter and driver makers; common practice.",
        instead: "Take shielded cables and clamp the shield to metal at the cabinet; the inverter's at both ends.",
        reads: &[Fact::Wiring, Fact::Geometry, Fact::Spindle],
        decided_by: Some(&["motor_cable", "spindle_cable", "spindle"]),
        check: unshielded,
        remedies: shielded,
        example: Example {
            given: &[],
            choice: "motor_cable",
            fires: "cable-motor-4x1.0-unshielded-flex",
            quiet: "cable-motor-4x1.0-shielded-flex",
        },
    },
    Rule {
        id: "unshielded-switch-cable",
        title: "Switch cable without a shield",
        severities: &[Severity::Hint],
        step: Step::Control,
        watches: "Unshielded switch cables in a machine with an inverter.",
        because: "Beside a spindle cable they pick up pulses that look like a switch.",
        from: "Common practice.",
        instead: "Take a shielded cable, its shield on earth at the cabinet.",
        reads: &[Fact::Wiring, Fact::Inverter],
        decided_by: Some(&["switch_cable", "spindle", "vfd"]),
        check: unshielded_switch,
        remedies: |facts, _| cables(facts, "switch_cable", |cable| cable.shielded),
        example: Example {
            given: &[],
            choice: "switch_cable",
            fires: "cable-signal-4x0.34-unshielded-flex",
            quiet: "cable-signal-4x0.34-shielded-flex",
        },
    },
];

fn cores(facts: &Facts, report: &mut Report) {
    let picked = facts.picked;
    let short = |what: &str, cable: &Cable, needs: u32, why: &str| {
        format!(
            "{what} cable has {} for the {needs} that it needs{why}",
            say::count(cable.cores, "core")
        )
    };
    let needs = spindle_cores(picked);
    if picked.spindle_cable.cores < needs {
        let (what, why) = match picked.spindle.needs_vfd() {
            true => ("the spindle's", ": its body would have no earth"),
            false => ("the hand router's", ": its outlet would have no earth"),
        };
        let message = short(what, picked.spindle_cable, needs, why);
        report.say(Severity::Danger, message);
    }
    if picked.motor_cable.cores < MOTOR_CORES {
        report.say(
            Severity::Fault,
            short("the motors'", picked.motor_cable, MOTOR_CORES, ""),
        );
    }
    if picked.switch_cable.cores < picked.switch.wires {
        report.say(
            Severity::Fault,
            short(
                "the switches'",
                picked.switch_cable,
                picked.switch.wires,
                "",
            ),
        );
    }
}

/// Whether a cable can feed a motor or an outlet.
fn is_for_power(cable: &Cable) -> bool {
    cable.usage == CableUse::Power && cable.cores >= MOTOR_CORES
}

fn more_cores(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let wires = facts.picked.switch.wires;
    in_turn([
        for_power(facts, axis),
        cables(facts, "switch_cable", |cable| cable.cores >= wires),
    ])
}

/// Whether the motors' cables carry more than the low voltage of the motors' supply.
fn motors_on_mains(picked: &Picked) -> bool {
    let mut drivers = Axis::EACH.iter().map(|axis| picked.axes[*axis].driver);
    drivers.any(|driver| driver.feed == FeedKind::Mains)
}

fn for_signals(facts: &Facts, report: &mut Report) {
    let picked = facts.picked;
    let is_for_signals = |cable: &Cable| cable.usage == CableUse::Signal;
    let fed = match picked.spindle.needs_vfd() {
        true => "the spindle",
        false => "the outlet of the hand router",
    };
    let mut fed_so = Vec::new();
    if is_for_signals(picked.spindle_cable) {
        fed_so.push(fed);
    }
    if is_for_signals(picked.motor_cable) && motors_on_mains(picked) {
        fed_so.push("the motors");
    }
    if !fed_so.is_empty() {
        let message = format!("{} would be fed by a cable for signals", say::list(&fed_so));
        report.say(Severity::Danger, message);
    }
}

fn for_power(facts: &Facts, _: Option<Axis>) -> Remedies {
    let spindle = cables(facts, "spindle_cable", is_for_power);
    let motor = cables(facts, "motor_cable", is_for_power);
    let both = together(&spindle, &motor);
    in_turn([spindle, motor, both])
}

fn unshielded(facts: &Facts, report: &mut Report) {
    let picked = facts.picked;
    let motor = (!picked.motor_cable.shielded).then_some("motors");
    let spindle =
        (picked.spindle.needs_vfd() && !picked.spindle_cable.shielded).then_some("spindle");
    let bare: Vec<&str> = motor.into_iter().chain(spindle).collect();
    if !bare.is_empty() {
        let metres: f64 = facts
            .machine
            .geometry
            .runs
            .iter()
            .filter(|run| match motor_at(run) {
                Some(_) => motor.is_some(),
                None => spindle.is_some() && feeds_spindle(facts.picked, run),
            })
            .map(|run| units::m::from(run.length))
            .sum();
        report.say(
            Severity::Caution,
            format!(
                "{metres:.0} m of cable to the {} have no shield",
                say::list(&bare)
            ),
        );
    }
}

fn shielded(facts: &Facts, _: Option<Axis>) -> Remedies {
    let picked = facts.picked;
    let motor = cables(facts, "motor_cable", |cable| {
        cable.shielded && cable.area >= picked.motor_cable.area
    });
    let spindle = cables(facts, "spindle_cable", |cable| {
        cable.shielded && cable.area >= picked.spindle_cable.area
    });
    let both = together(&motor, &spindle);
    in_turn([motor, spindle, both])
}

fn unshielded_switch(facts: &Facts, report: &mut Report) {
    if facts.picked.inverter().is_some() && !facts.picked.switch_cable.shielded {
        report.say(
            Severity::Hint,
            format!(
                "{}: beside the inverter's cable it picks up false signals",
                facts.picked.switch_cable.title
            ),
        );
    }
}
