//! What an end mill bears: how far it bends, and when it breaks.
//!
//! A cantilever in two pieces: along its edges it bends like a round bar of 0.8 of its
//! diameter, since the flutes take the rest (common practice); from there to the collet its
//! shank is round and whole. A thin tool on a thick shank is therefore far stiffer than its
//! reach alone would say.

use std::f64::consts::PI;

use crate::catalogue::spindle::EndMill;
use crate::units::{self, Force, Ratio, Stiffness};

/// The core along the edges, as a share of the diameter (common practice).
const CORE_SHARE: f64 = 0.8;

/// Elastic modulus of cemented carbide, 580 to 640 GPa by published data sheets.
const CARBIDE_GPA: f64 = 600.0;

/// Bending stress that a carbide end mill is asked to bear: about a quarter of the transverse
/// rupture strength of fine-grained grades (3500 to 4000 N/mm², ISO 3327, from memory), for
/// the notches of the flutes and for shocks.
const CARBIDE_N_PER_MM2: f64 = 1000.0;

/// Lengths in millimetres: of the edges, and of everything out of the collet.
fn lengths(tool: &EndMill) -> (f64, f64) {
    let reach = units::mm::from(tool.reach);
    (units::mm::from(tool.flute_length).min(reach), reach)
}

/// Second moment of area of a round bar, π d⁴/64, in mm⁴.
fn second_moment(diameter: f64) -> f64 {
    PI * diameter.powi(4) / 64.0
}

fn core(tool: &EndMill) -> f64 {
    CORE_SHARE * units::mm::from(tool.diameter)
}

/// Stiffness of a tool alone at its tip, clamped in the collet: with the edges l long and the
/// reach L, 1/k = l³/(3 E I_core) + (L³ - l³)/(3 E I_shank).
pub fn bending(tool: &EndMill) -> Stiffness {
    let (edges, reach) = lengths(tool);
    let (thin, thick) = (
        second_moment(core(tool)),
        second_moment(units::mm::from(tool.shank)),
    );
    let gives = edges.powi(3) / thin + (reach.powi(3) - edges.powi(3)) / thick;
    units::n_per_um::of(3.0 * CARBIDE_GPA / gives)
}

/// Force at the tip that the tool bears without breaking, where its edges end or at the
/// collet: F = σ π d³/(32 L).
pub fn bears(tool: &EndMill) -> Force {
    let (edges, reach) = lengths(tool);
    let at = |diameter: f64, lever: f64| PI * diameter.powi(3) / 32.0 / lever;
    let least = at(core(tool), edges).min(at(units::mm::from(tool.shank), reach));
    units::n::of(CARBIDE_N_PER_MM2 * least)
}

/// The share of all that gives at the tip that is the tool's own bending, at most all of it.
pub(super) fn own_share(tool: &EndMill, tip: Stiffness) -> Ratio {
    let share = units::n_per_um::from(tip) / units::n_per_um::from(bending(tool));
    units::share::of(share.min(1.0))
}

/// Stiffness at the tip of a tool: its own bending in series with the machine at the collet.
pub fn tip(collet: Stiffness, tool: &EndMill) -> Stiffness {
    let gives = |stiffness| 1.0 / units::n_per_um::from(stiffness);
    units::n_per_um::of(1.0 / (gives(collet) + gives(bending(tool))))
}
