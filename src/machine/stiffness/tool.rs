//! How far the tool itself bends.
//!
//! A cantilever in two pieces: along its edges it bends like a round bar of 0.8 of its
//! diameter, since the flutes take the rest (common practice); from there to the collet its
//! shank is round and whole. A thin tool on a thick shank is therefore far stiffer than its
//! reach alone would say.

use std::f64::consts::PI;

use super::beam::per_length;
use crate::build::Axis;
use crate::catalogue::spindle::EndMill;
use crate::units::{self, Length, Pressure, Stiffness};

/// Diameter of the solid core of a fluted tool, as a share of its cutting diameter (common
/// practice).
pub const CORE: f64 = 0.8;

/// Elastic modulus of cemented carbide, 580 to 640 GPa in tables of handbooks.
pub fn carbide_modulus() -> Pressure {
    units::gpa::of(600.0)
}

/// Diameter of the core along the edges.
pub fn core(tool: &EndMill) -> Length {
    tool.diameter * CORE
}

/// Length of the edges that stands out of the collet.
pub fn edges(tool: &EndMill) -> Length {
    tool.flute_length.min(tool.reach)
}

/// Stiffness of a tool alone at its tip, clamped in the collet: with the edges l long and the
/// reach L, 1/k = l³/(3 E I_core) + (L³ - l³)/(3 E I_shank), I = π d⁴/64.
pub fn tool_bending(tool: &EndMill) -> Stiffness {
    per_length(gives(tool, Axis::X))
}

/// What a tool gives for each newton: aside, or along its axis.
pub(super) fn gives(tool: &EndMill, axis: Axis) -> f64 {
    let (reach, edges) = (tool.reach.value, edges(tool).value);
    let (thin, thick) = (core(tool).value, tool.shank.value);
    let e = carbide_modulus().value;
    match axis {
        Axis::X | Axis::Y => {
            let along = edges.powi(3) / thin.powi(4);
            let above = (reach.powi(3) - edges.powi(3)) / thick.powi(4);
            64.0 / (3.0 * e * PI) * (along + above)
        }
        Axis::Z => 4.0 / (e * PI) * (edges / (thin * thin) + (reach - edges) / (thick * thick)),
    }
}
