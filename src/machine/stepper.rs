//! Hybrid steppers: pull-out torque against speed.
//!
//! The voltage-fed synchronous model of handbooks of stepping motors, with amplitudes, on a
//! sine-driven two-phase motor of 50 rotor teeth (1.8° a step): the torque constant
//! Kt = T_hold/(√2 I), the impedance Z = √(R² + (p ω L)²), and
//!
//! T_volt = Kt V/Z - Kt² ω R/Z²,   plateau = Kt I,   pull-out = the lesser of the two.
//!
//! Published curves of NEMA 17 and 23 motors lie at 0.90 ± 0.06 of the model: it is taken
//! at 0.85. Of large NEMA 34 motors the voltage-bound part is only about half as high as the
//! model says (0.5 to 0.75): 0.55 is taken there. Order-of-fit evidence, not a guarantee. A
//! part's data hold no curve of its own: one is measured at one voltage and one current, and says
//! nothing of the supply and the driver that are chosen here.

use super::conductor::COPPER_PER_KELVIN;
use crate::catalogue::motor::{Flange, Stepper};
use crate::units::{
    self, AngularStiffness, AngularVelocity, ElectricCurrent, ElectricPotential, Ratio, Torque,
};

/// Rotor teeth of a 1.8° motor.
pub const ROTOR_TEETH: f64 = 50.0;

/// Full steps a turn.
pub const STEPS_A_TURN: f64 = 200.0;

/// Copper at 80 °C against 20 °C: 1 + 0.00393 · 60 (IEC 60028, temperature coefficient).
pub const HOT_COPPER: f64 = 1.0 + COPPER_PER_KELVIN * 60.0;

/// Share of the supply's voltage that is left under load (common practice).
pub const SUPPLY_SAG: f64 = 0.95;

/// Fastest turn that is planned with at all: beyond it a hybrid stepper's iron gets hot and
/// its resonances are not worth meeting (common practice; published curves end below half of
/// it).
pub const GREATEST_RPM: f64 = 3000.0;

/// Newton's steps at most; four or five do.
const NEWTON_STEPS: usize = 12;

/// The magnetic spring of a motor of 50 rotor teeth at a torque amplitude, for small swings
/// about its place without load.
pub fn magnetic_spring(amplitude: Torque) -> AngularStiffness {
    AngularStiffness::nm_per_rad(ROTOR_TEETH * units::nm::from(amplitude))
}

/// A stepper as it is fed: SI numbers for the formulas above.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StepperCurve {
    constant: f64,
    resistance: f64,
    inductance: f64,
    volts: f64,
    amperes: f64,
    plateau_fit: f64,
    voltage_fit: f64,
    working_share: f64,
}

impl StepperCurve {
    /// A motor on a supply: `volts` as printed on the supply, `amplitude` as the driver is
    /// set, `working_share` of the pull-out torque.
    pub fn new(
        motor: &Stepper,
        volts: ElectricPotential,
        amplitude: ElectricCurrent,
        working_share: Ratio,
    ) -> Self {
        Self {
            voltage_fit: if motor.flange == Flange::Nema34 {
                0.55
            } else {
                0.85
            },
            plateau_fit: 0.85,
            working_share: units::share::from(working_share),
            ..Self::ideal(
                motor,
                units::v::of(units::v::from(volts) * SUPPLY_SAG),
                amplitude,
                HOT_COPPER,
            )
        }
    }

    /// The bare model without fit, sag and margin, at a resistance factor: for comparison
    /// with its published form.
    pub fn ideal(
        motor: &Stepper,
        volts: ElectricPotential,
        amplitude: ElectricCurrent,
        resistance_factor: f64,
    ) -> Self {
        let hold = units::nm::from(motor.holding);
        Self {
            constant: hold / (std::f64::consts::SQRT_2 * units::a::from(motor.current)),
            resistance: units::ohm::from(motor.resistance) * resistance_factor,
            inductance: units::mh::from(motor.inductance) / 1e3,
            volts: units::v::from(volts),
            amperes: units::a::from(amplitude),
            plateau_fit: 1.0,
            voltage_fit: 1.0,
            working_share: 1.0,
        }
    }

    /// The voltage-bound torque T_volt of the bare model, never below zero.
    pub fn voltage_bound(&self, speed: AngularVelocity) -> Torque {
        let omega = speed.get::<uom::si::angular_velocity::radian_per_second>();
        let reactance = ROTOR_TEETH * omega * self.inductance;
        let z2 = self.resistance * self.resistance + reactance * reactance;
        let torque = self.constant * self.volts / z2.sqrt()
            - self.constant * self.constant * omega * self.resistance / z2;
        units::nm::of(torque.max(0.0))
    }

    /// The magnetic spring that holds the rotor to its field: 50 rotor teeth times the torque
    /// amplitude for each radian, while the motor bears little. It softens under load and is
    /// gone at the greatest torque.
    pub fn magnetic_spring(&self) -> AngularStiffness {
        magnetic_spring(self.plateau())
    }

    /// The current-bound plateau of the bare model.
    pub fn plateau(&self) -> Torque {
        units::nm::of(self.constant * self.amperes)
    }

    /// The plateau, fitted to published curves.
    pub fn fitted_plateau(&self) -> Torque {
        self.plateau() * self.plateau_fit
    }

    /// Torque at which the motor falls out of step.
    pub fn pull_out(&self, speed: AngularVelocity) -> Torque {
        let bound = self.voltage_bound(speed) * self.voltage_fit;
        bound.min(self.fitted_plateau())
    }

    /// The share of the pull-out torque that the user dares to use.
    pub fn usable(&self, speed: AngularVelocity) -> Torque {
        self.pull_out(speed) * self.working_share
    }

    /// The speed at which the voltage starts to bind.
    pub fn corner(&self) -> AngularVelocity {
        self.voltage_bound_to(units::nm::from(self.fitted_plateau()) / self.voltage_fit)
    }

    /// The greatest speed at which it may be used for a torque; zero where it gives it nowhere.
    pub fn fastest_with(&self, needed: Torque) -> AngularVelocity {
        let wanted = units::nm::from(needed) / self.working_share;
        if wanted > units::nm::from(self.fitted_plateau()) {
            return units::rpm::of(0.0);
        }
        self.voltage_bound_to(wanted / self.voltage_fit)
    }

    /// The speed at which T_volt falls to a torque, in N·m; zero where it lies below it at rest,
    /// a speed past every limit where no torque is asked.
    ///
    /// With X = p ω L and Z² = R² + X² the condition reads K V Z - c X - T Z² = 0, with
    /// c = K² R/(p L). Without its middle term, which only lowers the torque, it gives a speed
    /// that is too high; from there Newton's steps fall onto the root.
    fn voltage_bound_to(&self, torque: f64) -> AngularVelocity {
        let (r2, drive) = (
            self.resistance * self.resistance,
            self.constant * self.volts,
        );
        let back =
            self.constant * self.constant * self.resistance / (ROTOR_TEETH * self.inductance);
        if torque <= 0.0 {
            return units::rpm::of(f64::from(u16::MAX));
        }
        let impedance = drive / torque;
        if impedance * impedance <= r2 {
            return units::rpm::of(0.0);
        }
        let mut x = (impedance * impedance - r2).sqrt();
        for _ in 0..NEWTON_STEPS {
            let z = (r2 + x * x).sqrt();
            let over = drive * z - back * x - torque * z * z;
            let slope = drive * x / z - back - 2.0 * torque * x;
            let next = if slope < 0.0 { x - over / slope } else { x };
            if (x - next).abs() <= 1e-12 * x {
                break;
            }
            x = next.max(0.0);
        }
        let omega = x / (ROTOR_TEETH * self.inductance);
        units::rpm::of(omega * 60.0 / std::f64::consts::TAU)
    }

    /// The torque constant Kt of one phase.
    pub fn torque_constant(&self) -> Torque {
        units::nm::of(self.constant)
    }

    /// What the model is multiplied by: the plateau, and the voltage-bound part.
    pub fn fits(&self) -> (Ratio, Ratio) {
        (
            units::share::of(self.plateau_fit),
            units::share::of(self.voltage_fit),
        )
    }

    /// The share of the pull-out torque that may be used.
    pub fn working_share(&self) -> Ratio {
        units::share::of(self.working_share)
    }

    /// The voltage that is left under load.
    pub fn volts(&self) -> ElectricPotential {
        units::v::of(self.volts)
    }
}
