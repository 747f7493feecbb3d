//! What the machine asks of the wall and what warms the cabinet: real current of each
//! circuit, motor supplies, leakage to earth, heat.

use super::axis::AxisFigures;
use super::cabinet::CabinetHeat;
use super::circuit::{self, Circuit};
use super::inverter::InverterSettings;
use super::loads::{self, SpindleDraw};
use super::motor_draw::MotorDraw;
use super::supply::SupplyFigures;
use crate::build::{PerAxis, Picked};
use crate::explain::{Derivation, Origin, Recorder};
use crate::units::{self, Amount, Power};

/// The electrics of a machine.
#[derive(Clone, Debug)]
pub struct Electrics {
    /// The circuits in use, the first one first.
    pub circuits: Vec<Circuit>,
    /// The motors' supply.
    pub supply: SupplyFigures,
    /// Power at the spindle's input: at the cap.
    pub spindle_input: Power,
    /// What its inverter is told; none where it needs none, or where its poles are not known.
    pub inverter: Option<InverterSettings>,
    /// What warms the cabinet, and what its walls shed.
    pub cabinet: CabinetHeat,
}

impl Electrics {
    /// Works the electrics out.
    pub fn of(picked: &Picked, axes: &PerAxis<AxisFigures>, notes: &mut impl Recorder) -> Self {
        let motors = MotorDraw::of(picked, axes);
        let spindle = SpindleDraw::of(picked);
        let supply = SupplyFigures::of(picked, axes, &motors, notes);
        let loads = loads::all(picked, &motors, &spindle);
        let circuits = circuit::circuits(picked, &motors, &loads, notes);
        note_spindle(picked, &spindle, notes);
        Self {
            circuits,
            supply,
            spindle_input: spindle.power.full,
            inverter: InverterSettings::of(picked, notes),
            cabinet: CabinetHeat::of(picked, &motors, &spindle, notes),
        }
    }

    /// The fullest circuit.
    pub fn fullest(&self) -> Option<&Circuit> {
        self.circuits
            .iter()
            .max_by(|a, b| units::share::from(a.fill()).total_cmp(&units::share::from(b.fill())))
    }
}

fn note_spindle(picked: &Picked, drawn: &SpindleDraw, notes: &mut impl Recorder) {
    notes.note(|| {
        let spindle = picked.spindle;
        let inverter = picked.inverter();
        let figure = Derivation::of("power.spindle_input_w", "power at the spindle's plug at most", units::w::amount(drawn.power.full))
            .by(
                "power running free, and from there in proportion to full load, which is shaft power over efficiency; through the inverter",
                "P = (P₀ + (P₂/η - P₀) · s) / η_i",
            )
            .with("P₀", "power running free", units::w::amount(spindle.no_load), Origin::part(spindle))
            .with("P₂", "rated shaft power", units::w::amount(spindle.power), Origin::part(spindle))
            .with("η", "efficiency of the motor at full load", Amount::plain(units::share::from(spindle.efficiency)), Origin::part(spindle))
            .with("s", "share that you allow", Amount::plain(drawn.share.full), Origin::choice("power_cap_percent"))
            .from("energy balance; efficiencies of data sheets", "below its rated speed the motor gives and takes less");
        match inverter {
            Some(vfd) => figure.with("η_i", "efficiency of the inverter", Amount::plain(units::share::from(vfd.efficiency)), Origin::part(vfd)),
            None => figure.with("η_i", "no inverter in use", Amount::plain(1.0), Origin::Here),
        }
    });
}
