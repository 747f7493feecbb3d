//! What the machine asks of the wall and what warms the cabinet: real current of each
//! circuit, motor supplies, leakage to earth, heat.

use super::axis::AxisFigures;
use super::stepper::HOT_COPPER;
use crate::build::choices::control::OnCircuit;
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::Motor;
use crate::catalogue::motor::FeedKind;
use crate::catalogue::wiring::CabinetMaterial;
use crate::units::{
    self, AirFlow, Area, ElectricCurrent, ElectricPotential, Power, Ratio, TemperatureInterval,
};
use uom::si::ratio::ratio;

/// Continuous share of a breaker: 0.8 (NEC 210.20(A)).
pub const CONTINUOUS_SHARE: f64 = 0.8;

/// Share of a spindle's rated power in usual routing (common practice).
pub const TYPICAL_SHARE: f64 = 0.4;

/// Power factor of small switched supplies without correction (common practice).
const SMALL_POWER_FACTOR: f64 = 0.6;

/// Power factor of brushed hand routers (common practice).
const BRUSHED_POWER_FACTOR: f64 = 0.95;

/// Motors that are never all at full torque and speed together: the share that is planned
/// with for mains-fed servos (common practice).
const SERVO_TOGETHER: f64 = 0.5;

/// How much warmer than the room a cabinet may get: drivers and inverters are rated for
/// 40 °C around them, the room is taken at 25 °C (common practice).
pub fn allowed_rise() -> TemperatureInterval {
    units::kelvin::of(15.0)
}

/// One consumer on a circuit.
#[derive(Clone, Debug)]
pub struct CircuitLoad {
    /// What it is.
    pub name: &'static str,
    /// Current in usual work.
    pub typical: ElectricCurrent,
    /// Current at most, within the builder's cap.
    pub full: ElectricCurrent,
}

/// One mains circuit.
#[derive(Clone, Debug)]
pub struct Circuit {
    /// First or second.
    pub which: OnCircuit,
    /// Its voltage.
    pub volts: ElectricPotential,
    /// Its breaker.
    pub breaker: ElectricCurrent,
    /// What may flow for hours.
    pub allowed: ElectricCurrent,
    /// What hangs on it.
    pub loads: Vec<CircuitLoad>,
}

impl Circuit {
    /// Current with everything on at its most.
    pub fn full(&self) -> ElectricCurrent {
        self.loads.iter().map(|load| load.full).sum()
    }

    /// Current in usual work.
    pub fn typical(&self) -> ElectricCurrent {
        self.loads.iter().map(|load| load.typical).sum()
    }

    /// Full current against the allowed one.
    pub fn fill(&self) -> Ratio {
        self.full() / self.allowed
    }
}

/// The motors' supply.
#[derive(Clone, Copy, Debug)]
pub struct SupplyFigures {
    /// Its voltage.
    pub volts: ElectricPotential,
    /// Current that the motors need.
    pub needed: ElectricCurrent,
    /// Current that the supplies give together.
    pub rated: ElectricCurrent,
}

/// The electrics of a machine.
#[derive(Clone, Debug)]
pub struct Electrics {
    /// The circuits in use, the first one first.
    pub circuits: Vec<Circuit>,
    /// The motors' supply.
    pub supply: SupplyFigures,
    /// Standing leakage to earth.
    pub leakage: ElectricCurrent,
    /// Power at the spindle's input: at the cap.
    pub spindle_input: Power,
    /// Heat in the cabinet.
    pub heat: Power,
    /// How much warmer it gets than the room; none without walls.
    pub rise: Option<TemperatureInterval>,
    /// Air that would keep it within what is allowed, 3.1 P/ΔT (3.1 up to 100 m of altitude,
    /// enclosure makers' form).
    pub air_needed: AirFlow,
}

impl Electrics {
    /// Works the electrics out.
    pub fn of(picked: &Picked, axes: &PerAxis<AxisFigures>) -> Self {
        let motors = motors(picked, axes);
        let spindle = spindle(picked);
        let heat = heat(picked, &motors, &spindle);
        let circuits = circuits(picked, &motors, &spindle);
        Self {
            circuits,
            supply: SupplyFigures {
                volts: picked.supply.volts,
                needed: motors.dc_needed,
                rated: picked.supply.current * f64::from(picked.build.drive.supply_count),
            },
            leakage: leakage(picked),
            spindle_input: spindle.full_power,
            rise: rise(picked, heat),
            air_needed: AirFlow::m3_per_h(
                3.1 * units::w::from(heat) / units::kelvin::from(allowed_rise()),
            ),
            heat,
        }
    }

    /// The fullest circuit.
    pub fn fullest(&self) -> Option<&Circuit> {
        self.circuits
            .iter()
            .max_by(|a, b| a.fill().get::<ratio>().total_cmp(&b.fill().get::<ratio>()))
    }
}

/// What the motors draw.
struct MotorDraw {
    /// Current at the supply's output.
    dc_needed: ElectricCurrent,
    /// Power that the supply delivers at most.
    dc_power: Power,
    /// Power of mains-fed servos at most, at their drivers' input.
    servo_power: Power,
    /// Heat of the drivers.
    driver_heat: Power,
}

/// Steppers: the larger of two thirds of the rated currents (driver makers' rule) and copper
/// loss plus mechanical power at rapids; DC servos: their rated power.
fn motors(picked: &Picked, axes: &PerAxis<AxisFigures>) -> MotorDraw {
    let volts = picked.supply.volts;
    let mut rated = units::a::of(0.0);
    let mut real = units::w::of(0.0);
    let mut servo = units::w::of(0.0);
    let mut driver_heat = units::w::of(0.0);
    for (axis, figures) in axes.iter() {
        let count = f64::from(figures.motors);
        let chosen = &picked.axes[axis];
        let passed = match chosen.motor {
            Motor::Stepper(motor) => {
                let current = motor.current * picked.build.drive.current_share;
                rated += current * (2.0 / 3.0) * count;
                // Two phases with sine currents: 2 · (I²/2) · R, hot.
                let copper = current * current * motor.resistance * HOT_COPPER;
                let turning = figures.turns_at(figures.rapid);
                let mechanical = shaft_power(figures.needed_torque, turning);
                real += (copper + mechanical) * count;
                current * (2.0 / 3.0) * volts * count
            }
            Motor::Servo(motor) => {
                let power = shaft_power(motor.rated, motor.rated_speed) * count;
                match motor.feed {
                    FeedKind::Dc => {
                        rated += motor.current * count;
                        real += power;
                    }
                    FeedKind::Mains => servo += power * SERVO_TOGETHER / 0.85,
                }
                power * SERVO_TOGETHER
            }
        };
        driver_heat += passed * chosen.driver.loss;
    }
    let by_power = real / volts;
    let dc_needed = if rated > by_power { rated } else { by_power };
    MotorDraw {
        dc_needed,
        dc_power: dc_needed * volts,
        servo_power: servo,
        driver_heat,
    }
}

fn shaft_power(torque: units::Torque, turning: units::AngularVelocity) -> Power {
    let omega = turning.get::<uom::si::angular_velocity::radian_per_second>();
    units::w::of(units::nm::from(torque) * omega)
}

/// What the spindle draws from the wall.
struct SpindleDraw {
    full_power: Power,
    typical_power: Power,
    power_factor: f64,
    /// Heat of the inverter in usual work.
    heat: Power,
}

/// Input power rises from the no-load power at idle to shaft power over efficiency at full
/// load, and passes the inverter.
fn spindle(picked: &Picked) -> SpindleDraw {
    let spindle = picked.spindle;
    let full_load = spindle.power / spindle.efficiency;
    let at = |share: f64| spindle.no_load + (full_load - spindle.no_load) * share;
    let cap = picked.build.spindle.power_cap.get::<ratio>();
    let typical = at(cap.min(TYPICAL_SHARE));
    match picked.vfd.filter(|_| spindle.needs_vfd()) {
        Some(vfd) => {
            let factor = if picked.build.spindle.choke {
                vfd.power_factor_choke
            } else {
                vfd.power_factor
            };
            SpindleDraw {
                full_power: at(cap) / vfd.efficiency,
                typical_power: typical / vfd.efficiency,
                power_factor: factor.get::<ratio>(),
                heat: typical / vfd.efficiency - typical,
            }
        }
        None => SpindleDraw {
            full_power: at(cap),
            typical_power: typical,
            power_factor: BRUSHED_POWER_FACTOR,
            heat: units::w::of(0.0),
        },
    }
}

fn circuits(picked: &Picked, motors: &MotorDraw, spindle: &SpindleDraw) -> Vec<Circuit> {
    let site = picked.site;
    let continuous = site.breaker * CONTINUOUS_SHARE;
    let allowed = if site.plug < continuous {
        site.plug
    } else {
        continuous
    };
    let current = |power: Power, factor: f64| power / (site.volts * factor);
    let constant = |name, power: Power, factor: f64| CircuitLoad {
        name,
        typical: current(power, factor),
        full: current(power, factor),
    };
    let mut first = vec![];
    let supply = picked.supply;
    let drawn = motors.dc_power / supply.efficiency;
    let factor = supply.power_factor.get::<ratio>();
    if motors.dc_power > units::w::of(0.0) {
        // The two-thirds rule is an upper bound; 30 to 50 % of it flows on average.
        first.push(CircuitLoad {
            name: "motor supply",
            typical: current(drawn, factor) * 0.5,
            full: current(drawn, factor),
        });
    }
    if motors.servo_power > units::w::of(0.0) {
        first.push(CircuitLoad {
            name: "servo drivers",
            typical: current(motors.servo_power, SMALL_POWER_FACTOR) * 0.5,
            full: current(motors.servo_power, SMALL_POWER_FACTOR),
        });
    }
    let mut small = picked.controller.power;
    small += picked.fan.map_or(units::w::of(0.0), |fan| fan.power);
    first.push(constant("controller and fan", small, SMALL_POWER_FACTOR));
    if let Some(computer) = picked.computer {
        first.push(constant("computer", computer.power, SMALL_POWER_FACTOR));
    }
    if let Some(cooler) = picked.cooler {
        first.push(constant("spindle cooler", cooler.power, 0.8));
    }
    if let Some(coolant) = picked.coolant {
        first.push(constant("cutting coolant", coolant.power, 0.8));
    }
    let mut second = vec![];
    let control = &picked.build.control;
    let turning = CircuitLoad {
        name: "spindle",
        typical: current(spindle.typical_power, spindle.power_factor),
        full: current(spindle.full_power, spindle.power_factor),
    };
    let on = |which: OnCircuit, load, first: &mut Vec<_>, second: &mut Vec<_>| match which {
        OnCircuit::First => first.push(load),
        OnCircuit::Second => second.push(load),
    };
    on(control.spindle_circuit, turning, &mut first, &mut second);
    if let Some(extractor) = picked.extractor {
        let load = constant(
            "extractor",
            extractor.power,
            extractor.power_factor.get::<ratio>(),
        );
        on(control.extractor_circuit, load, &mut first, &mut second);
    }
    let circuit = |which, loads| Circuit {
        which,
        volts: site.volts,
        breaker: site.breaker,
        allowed,
        loads,
    };
    let mut found = vec![circuit(OnCircuit::First, first)];
    if !second.is_empty() {
        found.push(circuit(OnCircuit::Second, second));
    }
    found
}

fn leakage(picked: &Picked) -> ElectricCurrent {
    let none = units::ma::of(0.0);
    let mut sum = none;
    let mut fed_by_dc = false;
    for axis in Axis::EACH {
        let driver = picked.axes[axis].driver;
        sum += driver.leakage.unwrap_or(none) * f64::from(picked.motors(axis));
        fed_by_dc |= driver.feed == FeedKind::Dc;
    }
    if fed_by_dc {
        sum += picked.supply.leakage * f64::from(picked.build.drive.supply_count);
    }
    sum += picked.vfd.map_or(none, |vfd| vfd.leakage);
    if picked.build.control.filter {
        let filter = picked.catalogue.sundries.get("mains-filter");
        sum += filter.and_then(|part| part.leakage).unwrap_or(none);
    }
    sum
}

/// Losses of drivers, supplies and inverter, in usual work, and what the controller and fan
/// take.
fn heat(picked: &Picked, motors: &MotorDraw, spindle: &SpindleDraw) -> Power {
    let supply = motors.dc_power * 0.5 * (1.0 / picked.supply.efficiency.get::<ratio>() - 1.0);
    let fan = picked.fan.map_or(units::w::of(0.0), |fan| fan.power);
    motors.driver_heat + supply + spindle.heat + picked.controller.power + fan
}

/// ΔT = P/(k A), with what a fan carries off besides: k by material (enclosure makers'
/// tables), A of a wall-mounted box as in IEC 60890.
fn rise(picked: &Picked, heat: Power) -> Option<TemperatureInterval> {
    let cabinet = picked.cabinet;
    let k = match cabinet.material {
        CabinetMaterial::Steel => 5.5,
        CabinetMaterial::Stainless => 3.7,
        CabinetMaterial::Aluminium => 12.0,
        CabinetMaterial::Plastic | CabinetMaterial::Wood => 3.5,
        CabinetMaterial::OpenBoard => return None,
    };
    let walls = k * units::m2::from(wall_area(picked));
    let blown = picked.fan.map_or(0.0, |fan| fan.air.as_m3_per_h() / 3.1);
    Some(units::kelvin::of(units::w::from(heat) / (walls + blown)))
}

/// Effective surface of a box on a wall: 1.4 W (H + D) + 1.8 D H (IEC 60890).
pub fn wall_area(picked: &Picked) -> Area {
    let cabinet = picked.cabinet;
    cabinet.width * (cabinet.height + cabinet.depth) * 1.4 + cabinet.depth * cabinet.height * 1.8
}
