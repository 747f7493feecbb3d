//! What gives along an axis between the motor and the carriage plate: screw, nut, bearing,
//! coupling, motor, bracket; or rack, or belt.

use std::f64::consts::PI;

use super::SpringName;
use crate::build::choices::drive::ScrewEnds;
use crate::build::{Axis, Picked};
use crate::catalogue::LinearDrive;
use crate::catalogue::frame::PerWhat;
use crate::catalogue::linear_drive::SupportHold;
use crate::machine::geometry::along::{ScrewCut, support_unit};
use crate::machine::geometry::{Geometry, screw_cut};
use crate::machine::section::{steel_modulus, steel_shear_modulus};
use crate::machine::torque::TorqueCurve;
use crate::units::{self, Length, Stiffness};

/// What is left of a ball nut's rigidity when it has play: published nut formulas give 0.4 to
/// 0.5 of the preloaded value at usual loads.
pub(super) const PLAY_SHARE: f64 = 0.45;

/// Axial rigidity where the catalogue has no fixed unit for a screw's ends: that of the
/// smallest (from memory).
pub(super) fn smallest_bearing() -> Stiffness {
    units::n_per_um::of(25.0)
}

/// Stiffness of a pair of steel teeth for each width of face, 14 N/(mm·µm) (ISO 6336-1,
/// spur gears of solid steel), in N/m for each metre.
pub(super) const TOOTH: f64 = 14e9;

/// How many springs a drive has at most.
pub(super) const MOST: usize = 7;

/// The springs of one drive in series: what each gives for each newton, in m/N.
#[derive(Clone, Copy, Debug)]
pub(super) struct DriveGive {
    pub(super) parts: [(SpringName, f64); MOST],
}

/// Thickness over area, added up, of the printed blocks that take the thrust of an axis's
/// screw, in 1/m; nothing where the plan has none.
pub(super) fn bracket_shape(picked: &Picked, axis: Axis) -> f64 {
    let per = match axis {
        Axis::X => PerWhat::ScrewX,
        Axis::Y => PerWhat::ScrewY,
        Axis::Z => PerWhat::ScrewZ,
    };
    let prints = picked.frame.print.iter();
    prints
        .filter(|print| print.per == per && print.pieces > 0)
        .filter_map(|print| Some(print.load_depth?.value / print.load_area?.value))
        .sum()
}

/// What a drive hangs on.
pub(super) struct Around<'a, 'c> {
    pub(super) picked: &'a Picked<'c>,
    pub(super) geometry: &'a Geometry,
    pub(super) axis: Axis,
    pub(super) curve: &'a TorqueCurve,
}

impl Around<'_, '_> {
    /// The springs of one drive of the axis.
    pub(super) fn give(&self, drive: LinearDrive) -> DriveGive {
        let mut parts = [(SpringName::Screw, 0.0); MOST];
        match (drive, screw_cut(self.picked, self.axis, drive)) {
            (LinearDrive::Ball(screw), Some(cut)) => {
                let share = if self.picked.build.drive.preloaded_nuts {
                    1.0
                } else {
                    PLAY_SHARE
                };
                let nut = screw.nut_rigidity.value * share;
                self.screw(&mut parts, drive, screw.root, nut, cut);
            }
            (LinearDrive::Lead(screw), Some(cut)) => {
                self.screw(&mut parts, drive, screw.root, screw.nut_rigidity.value, cut);
            }
            (LinearDrive::Rack(rack), _) => {
                parts[0] = (SpringName::Rack, 1.0 / (TOOTH * rack.face.value));
            }
            (LinearDrive::Belt(belt), _) => {
                parts[0] = (SpringName::Belt, self.belt(belt.spring_rate.value));
            }
            (LinearDrive::Ball(_) | LinearDrive::Lead(_), None) => {}
        }
        parts[MOST - 1] = (SpringName::Motor, self.motor(drive));
        DriveGive { parts }
    }

    /// A screw between its bearings, with everything at its ends.
    fn screw(
        &self,
        parts: &mut [(SpringName, f64); MOST],
        drive: LinearDrive,
        root: Length,
        nut: f64,
        cut: ScrewCut,
    ) {
        let per_radian = drive.travel_a_turn().value / (2.0 * PI);
        let d = root.value;
        let rod = steel_modulus().value * PI * d * d / 4.0;
        let far = cut.farthest_nut.value.max(0.0);
        let (stretch, ends) = match self.picked.build.drive.ends[self.axis] {
            // Held at both ends, a nut in the middle hangs on two halves.
            ScrewEnds::FixedFixed => (cut.between_bearings.value / (4.0 * rod), 2.0),
            ScrewEnds::FixedFree | ScrewEnds::FixedSupported => (far / rod, 1.0),
        };
        let shaft = steel_shear_modulus().value * PI * d.powi(4) / 32.0;
        let coupling = self.picked.axes[self.axis].coupling.torsion.as_nm_per_rad();
        parts[0] = (SpringName::Screw, stretch);
        parts[1] = (SpringName::Nut, 1.0 / nut);
        parts[2] = (SpringName::Bearing, 1.0 / (self.bearing(drive) * ends));
        parts[3] = (SpringName::Twist, per_radian * per_radian * far / shaft);
        parts[4] = (SpringName::Coupling, per_radian * per_radian / coupling);
        parts[5] = (SpringName::Bracket, self.bracket() / ends);
    }

    /// The fixed bearing unit of a screw, in N/m.
    pub(super) fn bearing(&self, drive: LinearDrive) -> f64 {
        support_unit(self.picked, drive, SupportHold::Fixed)
            .and_then(|unit| unit.rigidity)
            .unwrap_or_else(smallest_bearing)
            .value
    }

    /// The printed bracket that takes the screw's thrust, t/(E A); nothing where the plan has
    /// none.
    fn bracket(&self) -> f64 {
        bracket_shape(self.picked, self.axis) / self.picked.filament.modulus.value
    }

    /// An open belt clamped at both ends of the travel, its pulley in the middle where it is
    /// softest: k = E A (1/L1 + 1/L2).
    fn belt(&self, rate: f64) -> f64 {
        self.geometry.rails[self.axis].length.value.max(0.0) / (4.0 * rate)
    }

    /// The magnetic spring of a stepper, seen along the axis. A servo's loop is taken as stiff.
    fn motor(&self, drive: LinearDrive) -> f64 {
        let TorqueCurve::Stepper(curve) = self.curve else {
            return 0.0;
        };
        let per_radian = self.picked.travel_a_motor_turn(drive).value / (2.0 * PI);
        per_radian * per_radian / curve.magnetic_spring().as_nm_per_rad()
    }
}
