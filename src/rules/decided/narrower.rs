//! Smaller lists for a finding at hand: of all choices that decide a rule, those that alone
//! keep this one finding, read off its figures. Three motors may be too much for a supply
//! because of two of them; then the third may be what it will.

use super::super::cables::{MOTOR_CORES, spindle_cores};
use super::super::control::{has_alarm, needs};
use super::motion;
use crate::build::{Axis, Picked};
use crate::machine::Machine;
use crate::machine::cable_load::motor_at;
use crate::machine::circuit::Circuit;
use crate::machine::loads::Consumer;
use crate::machine::motor_draw::MotorDraw;
use crate::order::Order as _;
use crate::units::{ElectricCurrent, Power};

/// Lists of choices each of which alone keeps a finding of a rule, whatever else is chosen in
/// drive, spindle and control; none where nothing narrower than the rule's own list is known.
pub fn narrower(rule: &str, picked: &Picked, machine: &Machine) -> Vec<Vec<String>> {
    match rule {
        "dc-supply-too-small" => dc_supply(picked, machine),
        "circuit-overloaded" => circuits(machine),
        "cable-too-thin" => cables(machine),
        "too-few-cores" => cores(picked),
        "inputs-too-few" => connections(picked),
        _ => Vec::new(),
    }
}

fn owned(ids: &[&str]) -> Vec<String> {
    ids.iter().map(|&id| id.to_owned()).collect()
}

/// Motor and driver of an axis, and how they are set.
fn drive_of(axis: Axis) -> Vec<String> {
    let mut found = vec![axis.choice("motor"), axis.choice("driver")];
    found.push("current_percent".to_owned());
    if axis == Axis::Y {
        found.push("gantry_drive".to_owned());
    }
    found
}

/// The axes that draw most, as many as are too much together.
fn too_much(each: impl Fn(Axis) -> f64, most: f64) -> Option<Vec<Axis>> {
    let mut axes = Axis::EACH.to_vec();
    axes.order_by(|a, b| each(*b).total_cmp(&each(*a)));
    let mut sum = 0.0;
    for count in 1..=axes.len() {
        sum += each(axes[count - 1]);
        if sum > most {
            axes.truncate(count);
            return Some(axes);
        }
    }
    None
}

fn dc_supply(picked: &Picked, machine: &Machine) -> Vec<Vec<String>> {
    let supply = &machine.electrics.supply;
    let draw = MotorDraw::of(picked, &machine.axes);
    let rated: ElectricCurrent = supply.rated;
    let shared = ["supply", "supply_count"];
    let mut found = Vec::new();
    let by_rule = |axis: Axis| draw.axes[axis].by_rule.value;
    if let Some(axes) = too_much(by_rule, rated.value) {
        let mut list = owned(&shared);
        list.extend(axes.into_iter().flat_map(drive_of));
        found.push(list);
    }
    let most: Power = rated * supply.volts;
    let power = |axis: Axis| (draw.axes[axis].copper + draw.axes[axis].shaft).value;
    if let Some(axes) = too_much(power, most.value) {
        let mut list = owned(&shared);
        for axis in axes {
            list.extend(drive_of(axis));
            list.extend(motion(axis));
        }
        found.push(list);
    }
    found
}

/// What decides how much a load draws, and of which circuit.
fn of_load(name: Consumer) -> Vec<String> {
    let circuit = |ids: &[&str]| owned(ids);
    match name {
        Consumer::Spindle => circuit(&[
            "spindle",
            "vfd",
            "line_choke",
            "power_cap_percent",
            "spindle_speed_rpm",
            "base_frequency_hz",
            "spindle_circuit",
            "spindle_at_once",
        ]),
        Consumer::Extractor => circuit(&["extractor_circuit", "extractor_at_once"]),
        Consumer::Coolant => circuit(&["coolant_circuit", "coolant_at_once"]),
        Consumer::Compressor => circuit(&["spindle", "compressor_circuit", "compressor_at_once"]),
        Consumer::Cooler => circuit(&["cooler", "spindle", "cooler_circuit"]),
        Consumer::Computer => circuit(&["computer", "computer_circuit"]),
        Consumer::Controller => circuit(&[
            "controller",
            "fan",
            "computer",
            "emergency_stop",
            "no_volt_release",
            "controller_circuit",
        ]),
        Consumer::MotorSupply | Consumer::ServoDrivers => {
            let mut found = circuit(&["supply", "supply_count", "motor_circuit"]);
            for axis in Axis::EACH {
                found.extend(drive_of(axis));
                found.extend(motion(axis));
            }
            found
        }
    }
}

fn circuits(machine: &Machine) -> Vec<Vec<String>> {
    let over = |circuit: &&Circuit| circuit.measured.is_none() && circuit.full() > circuit.allowed;
    let each = machine.electrics.circuits.iter().filter(over);
    each.filter_map(|circuit| {
        let mut loads: Vec<(Vec<String>, ElectricCurrent)> = circuit
            .loads
            .iter()
            .filter(|load| load.at_once)
            .map(|load| (of_load(load.name), load.current.full))
            .collect();
        // Those that hang on few choices first.
        loads.order_by_key(|(ids, _)| ids.len());
        let (mut sum, mut list) = (ElectricCurrent::default(), Vec::new());
        for (ids, full) in loads {
            if sum <= circuit.allowed {
                sum += full;
                list.extend(ids);
            }
        }
        // Loads that take turns may be what is too much: those are not told apart here.
        (sum > circuit.allowed).then_some(list)
    })
    .collect()
}

/// The cables of motors and spindle that the plan routes; what is beside them in a chain counts
/// too.
fn cables(machine: &Machine) -> Vec<Vec<String>> {
    let thin = machine.geometry.runs.iter().filter_map(|run| {
        let (sizing, load) = (run.sizing?, run.load?);
        (load.heating > sizing.ampacity).then_some(run)
    });
    thin.map(|run| {
        // What is loaded lies beside it: motors always, the spindle's cable with an inverter.
        let mut list = owned(&["gantry_drive", "spindle", "vfd"]);
        match motor_at(run) {
            Some(axis) => {
                list.push("motor_cable".to_owned());
                list.push("supply".to_owned());
                list.extend(drive_of(axis));
            }
            None => list.extend(owned(&[
                "spindle_cable",
                "power_cap_percent",
                "spindle_speed_rpm",
                "base_frequency_hz",
            ])),
        }
        list
    })
    .collect()
}

fn cores(picked: &Picked) -> Vec<Vec<String>> {
    let mut found = Vec::new();
    if picked.motor_cable.cores < MOTOR_CORES {
        found.push(owned(&["motor_cable"]));
    } else if picked.switch_cable.cores < picked.switch.wires {
        found.push(owned(&["switch", "switch_cable"]));
    } else if picked.spindle_cable.cores < spindle_cores(picked) {
        found.push(owned(&["spindle", "spindle_cable"]));
    }
    found
}

/// Connections that lack at the controller, by what alone makes them too few.
fn connections(picked: &Picked) -> Vec<Vec<String>> {
    let (needs, has) = (needs(picked), picked.controller);
    if needs.homes > has.axes || needs.homes > has.home_inputs {
        return vec![owned(&["controller", "gantry_drive", "home_each_side"])];
    }
    if needs.outputs > has.outputs {
        return vec![owned(&["controller", "spindle"])];
    }
    let mut list = owned(&["controller", "gantry_drive", "home_each_side"]);
    list.extend(owned(&["limit_ends", "emergency_stop"]));
    let mut sum = needs.inputs - needs.alarms - needs.flow;
    if sum <= has.inputs && needs.flow > 0 {
        sum += needs.flow;
        list.push("cooler".to_owned());
    }
    if sum <= has.inputs {
        let mut axes = Axis::EACH.into_iter();
        let alarm = axes.find(|&axis| has_alarm(&picked.axes[axis].motor));
        list.extend(alarm.map(|axis| axis.choice("motor")));
    }
    vec![list]
}
