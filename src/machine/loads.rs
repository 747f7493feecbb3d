//! What hangs on the mains: every consumer with its current at idle, in usual work and at
//! most, what it takes at the moment of starting, and what it leaks to earth.

mod inrush;
mod notes;
mod spindle;

use std::ops::Index;

use super::motor_draw::{MotorDraw, TOGETHER};
use crate::build::choices::control::OnCircuit;
use crate::build::{Axis, Picked};
use crate::catalogue::Motor;
use crate::catalogue::motor::FeedKind;
use crate::catalogue::spindle::SpindleKind;
use crate::units::{self, ElectricCurrent, Power, Ratio};

pub use inrush::Start;
pub(super) use notes::note;
pub use spindle::{SpindleDraw, TYPICAL_SHARE};

/// Power factor of small switched supplies without correction (common practice).
const SMALL_POWER_FACTOR: f64 = 0.6;

/// Power factor of small motors: pumps, compressors (common practice).
const MOTOR_POWER_FACTOR: f64 = 0.8;

/// The compressor that a tool changer's air wants (common practice).
fn changer_air() -> Power {
    units::w::of(750.0)
}

crate::words! {
    /// What hangs on the mains.
    Consumer {
        MotorSupply = "motor-supply", "motor supply", "The direct-current supply of the motors.";
        ServoDrivers = "servo-drivers", "servo drivers", "Servo drivers that are fed by the mains.";
        Controller = "controller", "controller and fan", "The controller and the cabinet's fan.";
        Computer = "computer", "computer", "The computer beside the machine, with its screen.";
        Cooler = "spindle-cooler", "spindle cooler", "Pump and fans of a water-cooled spindle.";
        Coolant = "cutting-coolant", "cutting coolant", "Pump or compressor that cools and clears the cut.";
        Compressor = "compressor", "compressor", "The air of a tool changer.";
        Spindle = "spindle", "spindle", "The spindle with its inverter, or the hand router.";
        Extractor = "extractor", "extractor", "The dust extractor.";
    }
}

/// A state of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// Switched on, nothing cut: spindle turning free, motors at rest.
    Idle,
    /// In usual work.
    Typical,
    /// At most, within the builder's cap.
    Full,
}

impl State {
    /// The three states, the least first.
    pub const EACH: [Self; 3] = [Self::Idle, Self::Typical, Self::Full];
}

/// One value for each state of work.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct States<T> {
    /// Switched on, nothing cut: spindle turning free, motors at rest.
    pub idle: T,
    /// In usual work.
    pub typical: T,
    /// At most, within the builder's cap.
    pub full: T,
}

impl<T: Copy> States<T> {
    /// The same in every state.
    fn same(value: T) -> Self {
        Self {
            idle: value,
            typical: value,
            full: value,
        }
    }

    fn map<U>(self, make: impl Fn(T) -> U) -> States<U> {
        States {
            idle: make(self.idle),
            typical: make(self.typical),
            full: make(self.full),
        }
    }
}

impl<T> Index<State> for States<T> {
    type Output = T;
    fn index(&self, state: State) -> &T {
        match state {
            State::Idle => &self.idle,
            State::Typical => &self.typical,
            State::Full => &self.full,
        }
    }
}

/// One consumer on a circuit.
#[derive(Clone, Copy, Debug)]
pub struct CircuitLoad {
    /// What it is.
    pub name: Consumer,
    /// Whether it runs while everything else does; if not, it takes turns with the others
    /// that do not.
    pub at_once: bool,
    /// Power at the plug.
    pub power: States<Power>,
    /// Power factor: power against voltage times current.
    pub power_factor: Ratio,
    /// Current at the plug.
    pub current: States<ElectricCurrent>,
    /// How it starts.
    pub start: Start,
    /// Current of the first half wave after switching on, effective value.
    pub inrush: ElectricCurrent,
    /// What it leaks to earth all the time.
    pub leakage: ElectricCurrent,
}

/// A consumer of a power, on the mains that all share.
fn load(
    picked: &Picked,
    name: Consumer,
    power: States<Power>,
    factor: Ratio,
    start: Start,
    leakage: ElectricCurrent,
) -> CircuitLoad {
    let site = picked.site;
    let current = power.map(|power| at_the_plug(picked, power, factor));
    CircuitLoad {
        name,
        at_once: at_once(picked, name),
        power,
        power_factor: factor,
        current,
        start,
        inrush: start.current(current.full, site.volts, site.frequency),
        leakage,
    }
}

/// A consumer that draws the same all the time, and leaks nothing to speak of.
fn constant(
    picked: &Picked,
    name: Consumer,
    power: Power,
    factor: f64,
    start: Start,
) -> CircuitLoad {
    let (power, factor) = (States::same(power), units::share::of(factor));
    let leakage = ElectricCurrent::default();
    load(picked, name, power, factor, start, leakage)
}

/// Which circuit a consumer hangs on.
pub fn circuit_of(picked: &Picked, name: Consumer) -> OnCircuit {
    let control = &picked.build.control;
    match name {
        Consumer::MotorSupply | Consumer::ServoDrivers => control.motor_circuit,
        Consumer::Controller => control.controller_circuit,
        Consumer::Computer => control.computer_circuit,
        Consumer::Cooler => control.cooler_circuit,
        Consumer::Coolant => control.coolant_circuit,
        Consumer::Compressor => control.compressor_circuit,
        Consumer::Spindle => control.spindle_circuit,
        Consumer::Extractor => control.extractor_circuit,
    }
}

/// The choice of that circuit.
pub fn circuit_choice(name: Consumer) -> &'static str {
    match name {
        Consumer::MotorSupply | Consumer::ServoDrivers => "motor_circuit",
        Consumer::Controller => "controller_circuit",
        Consumer::Computer => "computer_circuit",
        Consumer::Cooler => "cooler_circuit",
        Consumer::Coolant => "coolant_circuit",
        Consumer::Compressor => "compressor_circuit",
        Consumer::Spindle => "spindle_circuit",
        Consumer::Extractor => "extractor_circuit",
    }
}

/// What flows at the plug where so much power is drawn.
pub(super) fn at_the_plug(picked: &Picked, power: Power, factor: Ratio) -> ElectricCurrent {
    power / (picked.site.volts * factor)
}

/// Whether a consumer runs while everything else does: the builder's word on those that can
/// be switched by themselves.
fn at_once(picked: &Picked, name: Consumer) -> bool {
    let control = &picked.build.control;
    match name {
        Consumer::Spindle => control.spindle_at_once,
        Consumer::Extractor => control.extractor_at_once,
        Consumer::Coolant => control.coolant_at_once,
        Consumer::Compressor => control.compressor_at_once,
        _ => true,
    }
}

/// Every consumer of a machine, in the order of [`Consumer`].
pub(super) fn all(picked: &Picked, motors: &MotorDraw, spindle: &SpindleDraw) -> Vec<CircuitLoad> {
    let mut found = Vec::with_capacity(9);
    found.extend(motor_supply(picked, motors));
    found.extend(servo_drivers(picked, motors));
    let fan = picked.fan.map_or(Power::default(), |fan| fan.power);
    let small = picked.controller.power + fan;
    found.push(constant(
        picked,
        Consumer::Controller,
        small,
        SMALL_POWER_FACTOR,
        inrush::small(1.0),
    ));
    found.extend(picked.computer.map(|part| {
        constant(
            picked,
            Consumer::Computer,
            part.power,
            SMALL_POWER_FACTOR,
            inrush::small(1.0),
        )
    }));
    let pump = |name, power| constant(picked, name, power, MOTOR_POWER_FACTOR, inrush::pump());
    found.extend(picked.cooler.map(|part| pump(Consumer::Cooler, part.power)));
    found.extend(
        picked
            .coolant
            .map(|part| pump(Consumer::Coolant, part.power)),
    );
    let changes = picked.spindle.kind == SpindleKind::ToolChanger;
    found.extend(changes.then(|| pump(Consumer::Compressor, changer_air())));
    found.push(load(
        picked,
        Consumer::Spindle,
        spindle.power,
        spindle.power_factor,
        spindle.start,
        spindle.leakage,
    ));
    found.extend(picked.extractor.map(|part| {
        load(
            picked,
            Consumer::Extractor,
            States::same(part.power),
            part.power_factor,
            Start::Motor(part.inrush),
            ElectricCurrent::default(),
        )
    }));
    found
}

/// The motors' DC supply with what its drivers leak; none where nothing hangs on it.
fn motor_supply(picked: &Picked, motors: &MotorDraw) -> Option<CircuitLoad> {
    let supply = picked.supply;
    let count = f64::from(picked.build.drive.supply_count);
    (motors.power > Power::default()).then(|| {
        let power = States {
            idle: motors.at_rest,
            typical: motors.power * TOGETHER,
            full: motors.power,
        };
        load(
            picked,
            Consumer::MotorSupply,
            power.map(|power| power / supply.efficiency),
            supply.power_factor,
            inrush::supply(supply, count),
            supply.leakage * count + leakage(picked, FeedKind::Dc),
        )
    })
}

/// Servo drivers on the mains; none where there are none.
fn servo_drivers(picked: &Picked, motors: &MotorDraw) -> Option<CircuitLoad> {
    (motors.mains > Power::default()).then(|| {
        let power = States {
            // The greatest power holds what is never drawn together: undo that share at rest.
            idle: motors.mains * super::motor_draw::SERVO_AT_REST / TOGETHER,
            typical: motors.mains * TOGETHER,
            full: motors.mains,
        };
        load(
            picked,
            Consumer::ServoDrivers,
            power,
            units::share::of(SMALL_POWER_FACTOR),
            inrush::small(f64::from(on_mains(picked))),
            leakage(picked, FeedKind::Mains),
        )
    })
}

/// How many servos have drivers that the mains feed: each charges capacitors of its own.
fn on_mains(picked: &Picked) -> u32 {
    let fed = |axis: &Axis| match picked.axes[*axis].motor {
        Motor::Servo(servo) => servo.feed == FeedKind::Mains,
        Motor::Stepper(_) => false,
    };
    let each = Axis::EACH.into_iter().filter(fed);
    each.map(|axis| picked.motors(axis)).sum()
}

/// What the drivers of one kind of feed leak to earth.
fn leakage(picked: &Picked, feed: FeedKind) -> ElectricCurrent {
    let each = Axis::EACH.into_iter();
    each.filter(|axis| picked.axes[*axis].driver.feed == feed)
        .map(|axis| {
            let leaks = picked.axes[axis].driver.leakage.unwrap_or_default();
            leaks * f64::from(picked.motors(axis))
        })
        .sum()
}
