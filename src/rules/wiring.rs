//! Cables: enough cores, thick enough, shielded where noise matters, and not so long and thin
//! that the motors starve.

use super::inverter;
use super::remedy::{each_option, number, part_of};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::{Axis, Edit};
use crate::catalogue::frame::RunEnd;
use crate::catalogue::motor::FeedKind;
use crate::catalogue::wiring::{Cable, CableUse};
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

/// Cores to a two-phase stepper, and to three phases with a protective conductor.
const MOTOR_CORES: u32 = 4;

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
        reads: &[Fact::Wiring, Fact::Motors, Fact::Drivers, Fact::Spindle],
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
        id: "too-few-cores",
        title: "Cable with too few cores",
        severities: &[Severity::Danger, Severity::Fault],
        step: Step::Control,
        watches: "Cores of motor, spindle and switch cables against what they must connect.",
        because: "A spindle without an earth core is live at its first fault; a motor without its fourth core does not turn.",
        from: "Two phases take four cores; three phases three and a protective one (IEC 60204-1); switches by their data.",
        instead: "Take a cable with enough cores.",
        reads: &[Fact::Wiring, Fact::Spindle, Fact::Controller],
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
        id: "unshielded-motor-cable",
        title: "Motor or spindle cable without a shield",
        severities: &[Severity::Caution],
        step: Step::Control,
        watches: "Shields of motor and spindle cables.",
        because: "Chopped current radiates from them: switches trip by themselves, steps get lost, links break.",
        from: "EMC manuals of inverter and driver makers; common practice.",
        instead: "Take shielded cables and clamp the shield to metal at the cabinet; the inverter's at both ends.",
        reads: &[Fact::Wiring, Fact::Spindle],
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
        check: unshielded_switch,
        remedies: |facts, _| cables(facts, "switch_cable", |cable| cable.shielded),
        example: Example {
            given: &[],
            choice: "switch_cable",
            fires: "cable-signal-4x0.34-unshielded-flex",
            quiet: "cable-signal-4x0.34-shielded-flex",
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
            Fact::Supply,
            Fact::Spindle,
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
fn motor_at(run: &CableRun) -> Option<Axis> {
    match run.to {
        RunEnd::MotorX => Some(Axis::X),
        RunEnd::MotorY => Some(Axis::Y),
        RunEnd::MotorZ => Some(Axis::Z),
        _ => None,
    }
}

/// Whether a run feeds a spindle from the cabinet; a hand router has a lead of its own.
fn feeds_spindle(facts: &Facts, run: &CableRun) -> bool {
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
        found.extend(number(
            facts,
            "power_cap_percent",
            cap - 5.0 * f64::from(less),
            false,
        ));
    }
    found
}

/// A candidate for every other cable of a choice that suits; those made for chains and
/// shielded first, the cheaper first among them.
fn cables(facts: &Facts, choice: &str, suits: impl Fn(&Cable) -> bool) -> Remedies {
    let shelf = &facts.picked.catalogue.cables;
    let cable = |edits: &Vec<Edit>| edits.first().and_then(|edit| part_of(edit, shelf));
    let mut found = each_option(facts, choice);
    found.retain(|edits| cable(edits).is_some_and(&suits));
    found.sort_by_key(|edits| cable(edits).is_none_or(|cable| !(cable.flexible && cable.shielded)));
    found
}

fn cores(facts: &Facts, report: &mut Report) {
    let picked = facts.picked;
    let short = |what: &str, cable: &Cable, needs: u32, why: &str| {
        format!(
            "{what} cable has {} for the {needs} that it needs{why}",
            say::count(cable.cores, "core")
        )
    };
    if picked.spindle.needs_vfd() && picked.spindle_cable.cores < MOTOR_CORES {
        let message = short(
            "the spindle's",
            picked.spindle_cable,
            MOTOR_CORES,
            ": its body would have no earth",
        );
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

fn more_cores(facts: &Facts, _: Option<Axis>) -> Remedies {
    let wires = facts.picked.switch.wires;
    let for_power = |cable: &Cable| cable.cores >= MOTOR_CORES && cable.usage == CableUse::Power;
    let spindle = cables(facts, "spindle_cable", for_power);
    let motor = cables(facts, "motor_cable", for_power);
    let mut found = spindle.clone();
    found.extend(motor.clone());
    found.extend(cables(facts, "switch_cable", |cable| cable.cores >= wires));
    for one in spindle {
        found.extend(
            motor
                .iter()
                .map(|other| [one.clone(), other.clone()].concat()),
        );
    }
    found
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
                None => spindle.is_some() && feeds_spindle(facts, run),
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
    let mut found = motor.clone();
    found.extend(spindle.clone());
    for one in motor {
        found.extend(
            spindle
                .iter()
                .map(|other| [one.clone(), other.clone()].concat()),
        );
    }
    found
}

fn unshielded_switch(facts: &Facts, report: &mut Report) {
    if inverter::in_use(facts).is_some() && !facts.picked.switch_cable.shielded {
        report.say(
            Severity::Hint,
            format!(
                "{}: beside the inverter's cable it picks up false signals",
                facts.picked.switch_cable.title
            ),
        );
    }
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
