//! What lies on a terminal, core by core of every run.

use super::Strip;
use crate::build::choices::control::{EmergencyStop, OnCircuit};
use crate::build::{Axis, Picked};
use crate::catalogue::Motor;
use crate::catalogue::control::SensorType;
use crate::catalogue::frame::RunEnd;
use crate::catalogue::motor::FeedKind;
use crate::machine::cable_load::motor_at;
use crate::machine::loads::{Consumer, circuit_of};
use crate::machine::wiring::lead::{Lead, Purpose, of_axis};
use crate::machine::wiring::{CableRun, feeds_inputs};
use crate::units::{self, ElectricPotential};
use crate::words::Words;

/// How far a wire of the mains is from the socket.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Before the main switch: live with everything switched off.
    Incoming,
    /// Behind main switch and breaker.
    On,
    /// Behind the contactor: dead when the stop is pressed.
    Cut,
}

/// A contact or sensor that the controller listens to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Signal {
    /// A limit or home switch.
    Switch(Axis, u32),
    /// The tool-length sensor.
    Tool,
    /// The flow switch of the spindle's cooler.
    Flow,
    /// The second contact of the stop button.
    Stop,
}

/// What lies on a terminal. The order is that on a strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Potential {
    /// Live.
    Live(Stage),
    /// Neutral.
    Neutral(Stage),
    /// Protective earth.
    Earth,
    /// Plus of the motors' supply.
    MotorPlus,
    /// The same behind a driver's fuse.
    Fused(Axis, u32),
    /// 0 V of the motors' supply.
    MotorZero,
    /// Plus of the control supply.
    ControlPlus,
    /// 0 V of the control supply.
    ControlZero,
    /// Plus of a controller's own supply of its inputs.
    SensorPlus,
    /// 0 V of a controller's own supply of its inputs.
    SensorZero,
    /// Plus behind the stop button.
    BehindStop,
    /// Plus behind start button and holding contact.
    Held,
    /// What a sensor tells.
    Signal(Signal),
    /// A winding's end of a motor; its place among the cores.
    Winding(Axis, u32, u32),
    /// A phase of the spindle; its place among the cores.
    Phase(u32),
    /// A core that nothing uses: kept apart from everything, and from its likes.
    Spare(usize, u32),
}

impl Potential {
    /// Its name on the strip.
    pub fn title(self, picked: &Picked) -> String {
        let stage = |name: &str, stage| match stage {
            Stage::Incoming => name.to_owned(),
            Stage::On => format!("{name}, switched on"),
            Stage::Cut => format!("{name}, behind stop"),
        };
        match self {
            Self::Live(of) => stage("L", of),
            Self::Neutral(of) => stage("N", of),
            Self::Earth => "PE".into(),
            Self::MotorPlus => format!("+{} V", volts(picked)),
            Self::Fused(axis, which) => {
                format!("+{} V, {}", volts(picked), of_axis(axis, "driver", which))
            }
            Self::MotorZero => "0 V motors".into(),
            Self::ControlPlus => "+24 V control".into(),
            Self::ControlZero => "0 V control".into(),
            Self::SensorPlus => format!("+{} V inputs", whole(picked.controller.input_voltage)),
            Self::SensorZero => "0 V inputs".into(),
            Self::BehindStop => "+24 V behind stop".into(),
            Self::Held => "+24 V held".into(),
            Self::Signal(signal) => signal.title(),
            Self::Winding(axis, which, core) => {
                let names = match picked.axes[axis].motor {
                    Motor::Stepper(_) => ["A+", "A-", "B+", "B-"],
                    Motor::Servo(_) => PHASES,
                };
                let name = names.get(core as usize).copied().unwrap_or("-");
                format!("{} {name}", of_axis(axis, "motor", which))
            }
            Self::Phase(core) => {
                format!(
                    "spindle {}",
                    PHASES.get(core as usize).copied().unwrap_or("-")
                )
            }
            Self::Spare(..) => "spare core".into(),
        }
    }
}

/// Three phases and the protective conductor.
const PHASES: [&str; 4] = ["U", "V", "W", "PE"];

impl Signal {
    /// The input of the controller that listens to it, by its function.
    pub fn title(self) -> String {
        match self {
            Self::Switch(axis, which) => format!("input: {} switch {which}", axis.title()),
            Self::Tool => "input: tool length".into(),
            Self::Flow => "input: coolant flow".into(),
            Self::Stop => "input: stop pressed".into(),
        }
    }
}

fn volts(picked: &Picked) -> String {
    whole(picked.supply.volts)
}

fn whole(volts: ElectricPotential) -> String {
    format!("{:.0}", units::v::from(volts))
}

/// Plus and 0 V of what feeds switches and sensors.
fn inputs_feed(picked: &Picked) -> [Potential; 2] {
    match feeds_inputs(picked) {
        true => [Potential::SensorPlus, Potential::SensorZero],
        false => [Potential::ControlPlus, Potential::ControlZero],
    }
}

/// The plain contact's other side: where the controller's inputs expect it.
fn common(picked: &Picked) -> Potential {
    let [plus, zero] = inputs_feed(picked);
    match picked.controller.input_types.contains(&SensorType::Npn) {
        true => zero,
        false => plus,
    }
}

/// A sensor's cores: its signal first, then what feeds it.
fn sensor(picked: &Picked, signal: Signal, wires: u32, core: u32) -> Option<Potential> {
    Some(match (core, wires) {
        (0, _) => Potential::Signal(signal),
        (1, 2) => common(picked),
        (1, _) => inputs_feed(picked)[1],
        (2, 3..) => inputs_feed(picked)[0],
        _ => return None,
    })
}

/// Wires of the tool-length sensor: two of a contact, three of an electronic one.
fn tool_wires(picked: &Picked) -> u32 {
    match picked.tool_sensor.map(|sensor| sensor.output) {
        Some(SensorType::Npn | SensorType::Pnp) => 3,
        Some(SensorType::Dry) | None => 2,
    }
}

/// How far behind the socket a load of the mains hangs; `cut` where a contactor cuts its circuit.
fn stage(name: Consumer, cut: bool) -> Stage {
    match name {
        Consumer::Controller | Consumer::Cooler | Consumer::Computer => Stage::On,
        _ if cut => Stage::Cut,
        _ => Stage::On,
    }
}

/// The strip on which the cabinet's end of a run of the plan lands, and what lies on a core.
pub(super) fn of_run(
    picked: &Picked,
    run: &CableRun,
    place: usize,
    core: u32,
    is_cut: impl Fn(OnCircuit) -> bool,
) -> (Strip, Potential) {
    let spare = Potential::Spare(place, core);
    if let Some(axis) = motor_at(run) {
        let winding = Potential::Winding(axis, run.number, core);
        let servo = matches!(picked.axes[axis].motor, Motor::Servo(_));
        let strip = match picked.axes[axis].driver.feed {
            FeedKind::Dc => Strip::Motors,
            FeedKind::Mains => Strip::Own,
        };
        return match core {
            3 if servo && strip == Strip::Motors => (Strip::Earth, Potential::Earth),
            0..=3 => (strip, winding),
            _ => (strip, spare),
        };
    }
    let wires = picked.switch.wires;
    let signal = match run.to {
        RunEnd::Spindle => return of_spindle(picked, core, spare, is_cut),
        RunEnd::ToolSensor => sensor(picked, Signal::Tool, tool_wires(picked), core),
        RunEnd::SwitchX => sensor(picked, Signal::Switch(Axis::X, run.number), wires, core),
        RunEnd::SwitchY => sensor(picked, Signal::Switch(Axis::Y, run.number), wires, core),
        _ => sensor(picked, Signal::Switch(Axis::Z, run.number), wires, core),
    };
    (Strip::Inputs, signal.unwrap_or(spare))
}

/// The spindle's cable goes to its inverter unbroken; that of a hand router to the mains.
fn of_spindle(
    picked: &Picked,
    core: u32,
    spare: Potential,
    is_cut: impl Fn(OnCircuit) -> bool,
) -> (Strip, Potential) {
    if picked.spindle.needs_vfd() {
        return match core {
            3 if picked.inverter().is_none() => (Strip::Earth, Potential::Earth),
            0..=3 => (Strip::Own, Potential::Phase(core)),
            _ => (Strip::Own, spare),
        };
    }
    let circuit = circuit_of(picked, Consumer::Spindle);
    let stage = stage(Consumer::Spindle, is_cut(circuit));
    match core {
        0 => (Strip::mains(circuit), Potential::Live(stage)),
        1 => (Strip::mains(circuit), Potential::Neutral(stage)),
        2 => (Strip::Earth, Potential::Earth),
        _ => (Strip::mains(circuit), spare),
    }
}

/// What lies on a core of a run that no plan routes; `signals` are those that landed.
pub(super) fn of_lead(
    picked: &Picked,
    lead: &Lead,
    core: u32,
    signals: &[Signal],
    cut: bool,
) -> Potential {
    let spare = Potential::Spare(lead.number, core);
    let nth = |all: &[Potential]| all.get(core as usize).copied().unwrap_or(spare);
    let mains = |stage| {
        nth(&[
            Potential::Live(stage),
            Potential::Neutral(stage),
            Potential::Earth,
        ])
    };
    if let Some(name) = lead.purpose.consumer() {
        return mains(stage(name, cut));
    }
    let (axis, which) = (lead.axis.unwrap_or(Axis::X), lead.which);
    match lead.purpose {
        Purpose::MainsFeed | Purpose::SwitchIn => mains(Stage::Incoming),
        Purpose::SwitchOut | Purpose::ContactorIn => mains(Stage::On),
        Purpose::ContactorOut => mains(Stage::Cut),
        Purpose::EarthBar
        | Purpose::SecondEarth
        | Purpose::PlateEarth
        | Purpose::DoorEarth
        | Purpose::FrameEarth
        | Purpose::EarthStrap
        | Purpose::BridgeEarth => Potential::Earth,
        Purpose::SupplyOut => nth(&[Potential::MotorPlus, Potential::MotorZero]),
        Purpose::DriverFeed => nth(&[Potential::Fused(axis, which), Potential::MotorZero]),
        Purpose::DriverOut => match (core, picked.axes[axis].motor) {
            (3, Motor::Servo(_)) => Potential::Earth,
            _ => Potential::Winding(axis, which, core),
        },
        Purpose::InputSignals => {
            let signal = signals.get(core as usize);
            signal.map_or(spare, |signal| Potential::Signal(*signal))
        }
        _ => of_control(picked, lead, core).unwrap_or(spare),
    }
}

/// What lies on a core of the control circuits; none on a spare one.
fn of_control(picked: &Picked, lead: &Lead, core: u32) -> Option<Potential> {
    use Potential::{BehindStop, ControlPlus, ControlZero, Held};
    let nth = |all: &[Potential]| all.get(core as usize).copied();
    let control = &picked.build.control;
    let stopped = match control.emergency_stop {
        EmergencyStop::HardWired => BehindStop,
        EmergencyStop::None | EmergencyStop::Input => ControlPlus,
    };
    let told = [Potential::Signal(Signal::Stop), common(picked)];
    match lead.purpose {
        Purpose::InputsOwn => nth(&inputs_feed(picked)),
        Purpose::ControlOut | Purpose::ControllerFeed | Purpose::InputsFeed | Purpose::StopFeed => {
            nth(&[ControlPlus, ControlZero])
        }
        // Its second contact tells the controller, where the cable has both cores for it.
        Purpose::StopButton if lead.cores >= 4 => nth(&[ControlPlus, BehindStop, told[0], told[1]]),
        Purpose::StopButton => nth(&[ControlPlus, BehindStop]),
        Purpose::StopInput => nth(&told),
        Purpose::StartButton => nth(&[stopped, Held]),
        Purpose::StopCoil if control.no_volt_release => nth(&[Held, ControlZero, stopped]),
        Purpose::StopCoil => nth(&[stopped, ControlZero]),
        Purpose::FlowSwitch => sensor(picked, Signal::Flow, 2, core),
        Purpose::ToolSensor => sensor(picked, Signal::Tool, tool_wires(picked), core),
        _ => None,
    }
}
