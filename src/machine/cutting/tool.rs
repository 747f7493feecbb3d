//! When an end mill breaks, and how much of what gives is its own.

use std::f64::consts::PI;

use crate::catalogue::spindle::EndMill;
use crate::machine::stiffness::tool::{core, edges};
use crate::machine::stiffness::tool_bending;
use crate::units::{self, Force, Length, Ratio, Stiffness};

/// Bending stress that a carbide end mill is asked to bear: about a quarter of the transverse
/// rupture strength of fine-grained grades (3500 to 4000 N/mm², ISO 3327, from memory), for
/// the notches of the flutes and for shocks.
const CARBIDE_N_PER_MM2: f64 = 1000.0;

/// Force at the tip that the tool bears without breaking, where its edges end or at the
/// collet: F = σ π d³/(32 L).
pub fn bears(tool: &EndMill) -> Force {
    let at = |diameter: Length, lever: Length| {
        PI * units::mm::from(diameter).powi(3) / 32.0 / units::mm::from(lever)
    };
    let least = at(core(tool), edges(tool)).min(at(tool.shank, tool.reach));
    units::n::of(CARBIDE_N_PER_MM2 * least)
}

/// The share of all that gives at the tip that is the tool's own bending, at most all of it.
pub(super) fn own_share(tool: &EndMill, tip: Stiffness) -> Ratio {
    let share = units::n_per_um::from(tip) / units::n_per_um::from(tool_bending(tool));
    units::share::of(share.min(1.0))
}
