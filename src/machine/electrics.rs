//! What the machine asks of the wall and what warms the cabinet: real current of each
//! circuit, motor supplies, leakage to earth, heat.

use super::axis::AxisFigures;
use super::loads::{self, CircuitLoad, MotorDraw, SpindleDraw};
use super::motion::braking::BusRise;
use super::motion::notes::note_rise;
use crate::build::choices::control::OnCircuit;
use crate::build::{PerAxis, Picked};
use crate::catalogue::wiring::CabinetMaterial;
use crate::explain::Recorder;
use crate::units::{
    self, AirFlow, Area, ElectricCurrent, ElectricPotential, Power, Ratio, TemperatureInterval,
};
use uom::si::ratio::ratio;

/// Continuous share of a breaker: 0.8 (NEC 210.20(A)).
pub const CONTINUOUS_SHARE: f64 = 0.8;

/// How much warmer than the room a cabinet may get: drivers and inverters are rated for
/// 40 °C around them, the room is taken at 25 °C (common practice).
pub fn allowed_rise() -> TemperatureInterval {
    units::kelvin::of(15.0)
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

    /// One of its loads by name.
    pub fn load(&self, name: &str) -> Option<&CircuitLoad> {
        self.loads.iter().find(|load| load.name == name)
    }

    /// What leaks to earth all the time through the circuit's residual-current device.
    pub fn leakage(&self) -> ElectricCurrent {
        self.loads.iter().map(|load| load.leakage).sum()
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
    /// What stops do to its voltage.
    pub braking: BusRise,
}

impl SupplyFigures {
    /// Needed current against the rated one.
    pub fn fill(&self) -> Ratio {
        self.needed / self.rated
    }
}

/// The electrics of a machine.
#[derive(Clone, Debug)]
pub struct Electrics {
    /// The circuits in use, the first one first.
    pub circuits: Vec<Circuit>,
    /// The motors' supply.
    pub supply: SupplyFigures,
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
    pub fn of(picked: &Picked, axes: &PerAxis<AxisFigures>, notes: &mut impl Recorder) -> Self {
        let motors = loads::motors(picked, axes);
        let spindle = loads::spindle_draw(picked);
        let heat = heat(picked, &motors, &spindle);
        let circuits = circuits(picked, &motors, &spindle);
        let braking = BusRise::of(picked, axes);
        note_rise(picked, &braking, notes);
        Self {
            circuits,
            supply: SupplyFigures {
                volts: picked.supply.volts,
                needed: motors.dc_needed,
                rated: picked.supply.current * f64::from(picked.build.drive.supply_count),
                braking,
            },
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

fn circuits(picked: &Picked, motors: &MotorDraw, spindle: &SpindleDraw) -> Vec<Circuit> {
    let site = picked.site;
    let continuous = site.breaker * CONTINUOUS_SHARE;
    let allowed = if site.plug < continuous {
        site.plug
    } else {
        continuous
    };
    let control = &picked.build.control;
    let mut loads = loads::fixed(picked, motors);
    loads.push((control.spindle_circuit, loads::spindle(picked, spindle)));
    if let Some(extractor) = picked.extractor {
        let factor = extractor.power_factor.get::<ratio>();
        let load = loads::constant(picked, loads::EXTRACTOR, extractor.power, factor);
        loads.push((control.extractor_circuit, load));
    }
    let on = |which: OnCircuit| Circuit {
        which,
        volts: site.volts,
        breaker: site.breaker,
        allowed,
        loads: loads
            .iter()
            .filter(|(on, _)| *on == which)
            .map(|(_, load)| load.clone())
            .collect(),
    };
    let mut found = vec![on(OnCircuit::First)];
    found.extend(Some(on(OnCircuit::Second)).filter(|circuit| !circuit.loads.is_empty()));
    found
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
        CabinetMaterial::Plastic => 3.5,
        // 18 mm of wood of 0.13 W/mK between two still layers of air (ISO 6946).
        CabinetMaterial::Wood => 2.6,
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
