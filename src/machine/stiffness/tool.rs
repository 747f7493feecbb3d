//! How far the tool itself bends.

use std::f64::consts::PI;

use super::beam::per_length;
use crate::build::Axis;
use crate::catalogue::spindle::EndMill;
use crate::units::{self, Pressure, Stiffness};

/// Diameter of the solid core of a fluted tool, as a share of its cutting diameter (common
/// practice).
pub const CORE: f64 = 0.8;

/// Elastic modulus of cemented carbide, 580 to 640 GPa in tables of handbooks.
pub fn carbide_modulus() -> Pressure {
    units::gpa::of(600.0)
}

/// A tool as a bar that is clamped in the collet and pushed aside at its tip:
/// k = 3 E I/L³, I = π (0.8 D)⁴/64 over the whole reach.
pub fn tool_bending(tool: &EndMill) -> Stiffness {
    per_length(gives(tool, Axis::X))
}

/// What a tool gives for each newton: aside, or along its axis.
pub(super) fn gives(tool: &EndMill, axis: Axis) -> f64 {
    let (reach, core) = (tool.reach.value, tool.diameter.value * CORE);
    let e = carbide_modulus().value;
    match axis {
        Axis::X | Axis::Y => reach.powi(3) * 64.0 / (3.0 * e * PI * core.powi(4)),
        Axis::Z => reach * 4.0 / (e * PI * core * core),
    }
}
