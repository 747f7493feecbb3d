//! Cables as conductors: thick enough for their current, and not so long and thin that the
//! motors starve.

use super::remedy::{each_option, number, part_of};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::{Axis, Edit};
use crate::catalogue::frame::RunEnd;
use crate::catalogue::motor::FeedKind;
use crate::catalogue::wiring::Cable;
use crate::catalogue::{Motor, Step};
use crate::machine::conductor::{self, Laying};
use crate::machine::wiring::CableRun;
use crate::units::{self, ElectricCurrent, ElectricPotential, Ratio};

/// Voltage that may be lost to a motor on a DC supply: 5 % (common practice).
const DC_DROP: f64 = 0.05;

/// Voltage that may be lost to a motor fed with mains voltage: 3 % (common practice; the
/// figure of IEC 60364-5-52 for lighting).
const MAINS_DROP: f64 = 0.03;

/// Power factor of spindle motors at full load (typical of published data sheets).
const SPINDLE_POWER_FACTOR: f64 = 0.8;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "cable-too-thin",
        title: "Cable too thin for its current",
        severities: &[Severity::Danger],
        step: Step::Control,
        watches: "What motors and spindle draw against what their cable carries for long.",
        because: "An overloaded core melts its insulation, in a bundle first: a fire inside the chain.",
        from: "IEC 60204-1:2016, Table 6, method B2 in chains and C elsewhere, 40 °C; grouping by IEC 60364-5-52, Table B.52.17. Four cores of a stepper heat as three with 0.82 of its amplitude.",
        instead: "Take a thicker cable, or set less current or power.",
        reads: &[
            Fact::Wiring,
            Fact::Geometry,
            Fact::Drives,
            Fact::Motors,
            Fact::Drivers,
            Fact::Spindle,
        ],
        check: too_thin,
        remedies: thicker,
        example: Example {
            given: &[],
            choice: "motor_cable",
            fires: "cable-signal-4x0.34-shielded-flex",
            quiet: "cable-motor-4x0.75-shielded-flex",
        },
    },
    Rule {
        id: "cable-drop",
        title: "Cable loses too much voltage",
        severities: &[Severity::Caution],
        step: Step::Control,
        watches: "Voltage lost between cabinet and motors or spindle.",
        because: "Lost volts are lost speed for a stepper, and heat in the cable.",
        from: "2 · L · I · R, three phases √3 · L · I · R, at 70 °C with R of IEC 60228 class 5; limits 5 % of DC, 3 % of mains, common practice.",
        instead: "Take a thicker cable, a shorter way, or a higher supply voltage.",
        reads: &[
            Fact::Wiring,
            Fact::Geometry,
            Fact::Motors,
            Fact::Drivers,
            Fact::Supply,
            Fact::Spindle,
            Fact::Site,
        ],
        check: drops,
        remedies: less_drop,
        example: Example {
            given: &[("supply", "supply-24v-350w"), ("travel_y_mm", "800")],
            choice: "motor_cable",
            fires: "cable-motor-4x0.75-shielded-flex",
            quiet: "cable-motor-4x1.0-shielded-flex",
        },
    },
];

/// The cable of a run.
fn cable_of<'a>(facts: &Facts<'a>, run: &CableRun) -> Option<&'a Cable> {
    facts.picked.catalogue.cables.get(&run.cable)
}

/// The axis whose motor a run feeds.
pub(super) fn motor_at(run: &CableRun) -> Option<Axis> {
    match run.to {
        RunEnd::MotorX => Some(Axis::X),
        RunEnd::MotorY => Some(Axis::Y),
        RunEnd::MotorZ => Some(Axis::Z),
        _ => None,
    }
}

/// Whether a run feeds a spindle from the cabinet; a hand router has a lead of its own.
pub(super) fn feeds_spindle(facts: &Facts, run: &CableRun) -> bool {
    run.to == RunEnd::Spindle && facts.picked.spindle.needs_vfd()
}

/// Current that the driver of an axis sends: a stepper's amplitude, a servo's RMS value.
fn motor_current(facts: &Facts, axis: Axis) -> ElectricCurrent {
    let chosen = &facts.picked.axes[axis];
    match chosen.motor {
        Motor::Servo(motor) => motor.current,
        Motor::Stepper(motor) => {
            let set = motor.current * facts.picked.build.drive.current_share;
            let most = chosen.driver.greatest_current;
            if set < most { set } else { most }
        }
    }
}

/// The current in three cores that heats a cable as the real one does in its cores. A
/// stepper's two phases heat four cores with I²·(sin² + cos²), two cores each: as much as
/// three cores with √(2/3) of the amplitude.
fn heating_current(facts: &Facts, run: &CableRun) -> Option<ElectricCurrent> {
    if feeds_spindle(facts, run) {
        return Some(spindle_current(facts));
    }
    let axis = motor_at(run)?;
    let current = motor_current(facts, axis);
    match facts.picked.axes[axis].motor {
        Motor::Servo(_) => Some(current),
        Motor::Stepper(_) => Some(current * (2.0_f64 / 3.0).sqrt()),
    }
}

/// Current of the spindle within the builder's power cap: the part that magnetises flows at
/// any load, the rest in proportion.
fn spindle_current(facts: &Facts) -> ElectricCurrent {
    let cap = units::share::from(facts.picked.build.spindle.power_cap);
    let working = SPINDLE_POWER_FACTOR * cap;
    let idle = 1.0 - SPINDLE_POWER_FACTOR * SPINDLE_POWER_FACTOR;
    facts.picked.spindle.current * (working * working + idle).sqrt()
}

/// Loaded cables that lie in one chain with a run, itself counted; the fullest chain counts.
fn touching(facts: &Facts, run: &CableRun) -> usize {
    let runs = &facts.machine.geometry.runs;
    let in_chain = |chain: &Axis| {
        let with = |other: &&CableRun| {
            other.chains.contains(chain) && heating_current(facts, other).is_some()
        };
        runs.iter().filter(with).count()
    };
    run.chains.iter().map(in_chain).max().unwrap_or(1)
}

fn too_thin(facts: &Facts, report: &mut Report) {
    let mut worst: Option<(Ratio, String)> = None;
    for run in &facts.machine.geometry.runs {
        let (Some(cable), Some(current)) = (cable_of(facts, run), heating_current(facts, run))
        else {
            continue;
        };
        let laying = if run.chains.is_empty() {
            Laying::OnSurface
        } else {
            Laying::Enclosed
        };
        let together = touching(facts, run);
        let carries = conductor::ampacity(cable.area, laying, together);
        let load = current / carries;
        if current > carries && worst.as_ref().is_none_or(|(most, _)| load > *most) {
            let beside = if together > 1 {
                format!(" beside {} more", together - 1)
            } else {
                String::new()
            };
            let message = format!(
                "{}: {} mm² carries {}{beside}, {} flow",
                run.title(),
                say::trimmed(units::mm2::from(cable.area), 2),
                say::amperes(carries),
                say::amperes(current)
            );
            worst = Some((load, message));
        }
    }
    if let Some((_, message)) = worst {
        report.say(Severity::Danger, message);
    }
}

fn thicker(facts: &Facts, _: Option<Axis>) -> Remedies {
    let picked = facts.picked;
    let mut found = cables(facts, "motor_cable", |cable| {
        cable.area > picked.motor_cable.area
    });
    found.extend(cables(facts, "spindle_cable", |cable| {
        cable.area > picked.spindle_cable.area
    }));
    for motor in cables(facts, "motor_cable", |cable| {
        cable.area > picked.motor_cable.area
    }) {
        let spindle = cables(facts, "spindle_cable", |cable| {
            cable.area > picked.spindle_cable.area
        });
        found.extend(
            spindle
                .into_iter()
                .map(|spindle| [motor.clone(), spindle].concat()),
        );
    }
    let cap = units::percent::from(picked.build.spindle.power_cap);
    for less in 1..=8 {
        let cap = cap - 5.0 * f64::from(less);
        found.extend(number(facts, "power_cap_percent", cap, false));
    }
    found
}

/// A candidate for every other cable of a choice that suits; those made for chains and
/// shielded first, the cheaper first among them.
pub(super) fn cables(facts: &Facts, choice: &str, suits: impl Fn(&Cable) -> bool) -> Remedies {
    let shelf = &facts.picked.catalogue.cables;
    let cable = |edits: &Vec<Edit>| edits.first().and_then(|edit| part_of(edit, shelf));
    let mut found = each_option(facts, choice);
    found.retain(|edits| cable(edits).is_some_and(&suits));
    found.sort_by_key(|edits| cable(edits).is_none_or(|cable| !(cable.flexible && cable.shielded)));
    found
}

/// Voltage lost on a run, and the voltage that it is measured by.
fn drop(facts: &Facts, run: &CableRun) -> Option<(ElectricPotential, ElectricPotential, f64)> {
    let picked = facts.picked;
    let area = cable_of(facts, run)?.area;
    let there_and_back = |current| conductor::drop(area, run.length, current, conductor::warm());
    if feeds_spindle(facts, run) {
        // √3 · L · I · R between phases is √3/2 of the way there and back.
        let lost = there_and_back(spindle_current(facts)) * (3.0_f64.sqrt() / 2.0);
        return Some((lost, picked.spindle.volts, MAINS_DROP));
    }
    let axis = motor_at(run)?;
    let lost = there_and_back(motor_current(facts, axis));
    match picked.axes[axis].driver.feed {
        FeedKind::Dc => Some((lost, picked.supply.volts, DC_DROP)),
        FeedKind::Mains => Some((lost * (3.0_f64.sqrt() / 2.0), picked.site.volts, MAINS_DROP)),
    }
}

fn drops(facts: &Facts, report: &mut Report) {
    let mut worst: Option<(f64, String)> = None;
    for run in &facts.machine.geometry.runs {
        let Some((lost, of, limit)) = drop(facts, run) else {
            continue;
        };
        let share = units::share::from(lost / of);
        let over = share / limit;
        if over > 1.0 && worst.as_ref().is_none_or(|(most, _)| over > *most) {
            let message = format!(
                "{}: {} m lose {} of {}, {:.1} % where {:.0} % are fair",
                run.title(),
                say::trimmed(units::m::from(run.length), 1),
                say::volts(lost),
                say::volts(of),
                share * 100.0,
                limit * 100.0
            );
            worst = Some((over, message));
        }
    }
    if let Some((_, message)) = worst {
        report.say(Severity::Caution, message);
    }
}

fn less_drop(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let mut found = thicker(facts, axis);
    found.extend(each_option(facts, "supply"));
    found
}
