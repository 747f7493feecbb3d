//! The cabinet's heat: what each device loses in it, how much warmer it gets than the room,
//! and the air that would keep it cool.

mod notes;

use super::loads::SpindleDraw;
use super::motor_draw::{MotorDraw, TOGETHER};
use crate::build::Picked;
use crate::build::choices::control::Mounting;
use crate::catalogue::wiring::CabinetMaterial;
use crate::explain::Recorder;
use crate::units::{self, AirFlow, Area, Power, TemperatureInterval};

/// Cubic metres an hour that carry off one watt at one kelvin, up to 100 m above the sea
/// (enclosure makers' form; 3.5 at 750 to 1000 m, where air is thinner).
pub const AIR_PER_WATT: f64 = 3.1;

/// How much warmer than the room a cabinet may get: drivers and inverters are rated for
/// 40 °C around them, the room is taken at 25 °C (common practice).
pub fn allowed_rise() -> TemperatureInterval {
    units::kelvin::of(15.0)
}

/// Heat of each kind of device in usual work.
#[derive(Clone, Copy, Debug, Default)]
pub struct Losses {
    /// Motor drivers.
    pub drivers: Power,
    /// The motors' supplies.
    pub supplies: Power,
    /// The inverter.
    pub inverter: Power,
    /// The controller.
    pub controller: Power,
    /// The fan itself.
    pub fan: Power,
}

impl Losses {
    /// All together.
    pub fn total(&self) -> Power {
        self.drivers + self.supplies + self.inverter + self.controller + self.fan
    }
}

/// The cabinet's heat.
#[derive(Clone, Copy, Debug)]
pub struct CabinetHeat {
    /// What each kind of device loses.
    pub losses: Losses,
    /// Walls that shed heat; none on an open board.
    pub surface: Option<Area>,
    /// How much warmer it gets than the room; none on an open board.
    pub rise: Option<TemperatureInterval>,
    /// Air that would keep it within what is allowed, beside what its walls shed.
    pub air_needed: AirFlow,
}

impl CabinetHeat {
    /// Works the heat out.
    pub(super) fn of(
        picked: &Picked,
        motors: &MotorDraw,
        spindle: &SpindleDraw,
        recorder: &mut impl Recorder,
    ) -> Self {
        let losses = Losses {
            drivers: motors.driver_heat,
            supplies: motors.power
                * TOGETHER
                * (1.0 / units::share::from(picked.supply.efficiency) - 1.0),
            inverter: spindle.heat,
            controller: picked.controller.power,
            fan: picked.fan.map_or(Power::default(), |fan| fan.power),
        };
        let conducts = conductance(picked.cabinet.material);
        let surface = conducts.map(|_| surface(picked));
        let (k, area) = (conducts.unwrap_or(0.0), surface.unwrap_or_default());
        let blown = picked.fan.map(|fan| fan.air);
        let found = Self {
            losses,
            surface,
            rise: surface.map(|area| rise(losses.total(), k, area, blown)),
            air_needed: air_for(losses.total(), k, area, allowed_rise()),
        };
        notes::losses(picked, motors, spindle, &losses, recorder);
        notes::rise(picked, &found, k, recorder);
        found
    }
}

/// Heat that a square metre of wall passes for each kelvin, in W/m²K (enclosure makers'
/// tables); none without walls.
pub fn conductance(material: CabinetMaterial) -> Option<f64> {
    match material {
        CabinetMaterial::Steel => Some(5.5),
        CabinetMaterial::Stainless => Some(3.7),
        CabinetMaterial::Aluminium => Some(12.0),
        CabinetMaterial::Plastic => Some(3.5),
        // 18 mm of wood of 0.13 W/mK between two still layers of air (ISO 6946).
        CabinetMaterial::Wood => Some(2.6),
        CabinetMaterial::OpenBoard => None,
    }
}

/// Effective surface of the cabinet as it stands.
fn surface(picked: &Picked) -> Area {
    let cabinet = picked.cabinet;
    let mounting = picked.build.control.mounting;
    effective_surface(mounting, cabinet.height, cabinet.width, cabinet.depth)
}

/// Effective surface of a box of its height, width and depth (IEC 60890): a top sheds more
/// than a side, a back against a wall nothing.
pub fn effective_surface(
    mounting: Mounting,
    height: units::Length,
    width: units::Length,
    depth: units::Length,
) -> Area {
    match mounting {
        Mounting::Wall => width * (height + depth) * 1.4 + depth * height * 1.8,
        Mounting::Free => height * (width + depth) * 1.8 + width * depth * 1.4,
    }
}

/// ΔT = P/(k A + air/3.1): what walls and fan carry off together.
pub fn rise(heat: Power, k: f64, area: Area, blown: Option<AirFlow>) -> TemperatureInterval {
    let blown = blown.map_or(0.0, |air| air.as_m3_per_h() / AIR_PER_WATT);
    units::kelvin::of(units::w::from(heat) / (k * units::m2::from(area) + blown))
}

/// Air that carries off what the walls do not: 3.1 (P - k A ΔT)/ΔT, nothing where the walls
/// alone do.
pub fn air_for(heat: Power, k: f64, area: Area, allowed: TemperatureInterval) -> AirFlow {
    let allowed = units::kelvin::from(allowed);
    let left = units::w::from(heat) - k * units::m2::from(area) * allowed;
    AirFlow::m3_per_h(AIR_PER_WATT * left.max(0.0) / allowed)
}
