//! How stiff a machine should be at the collet for a material.
//!
//! No standard says so; these are the lower ends of what the trade calls fit, from memory.
//! Below them a cut chatters before it loads spindle or motors.

use crate::catalogue::material::{Family, Material};
use crate::units::{self, Stiffness};

/// Specific cutting force from which a metal counts as steel: that of structural steel
/// begins at 1350 N/mm² in published tables, that of brass and aluminium ends near 830.
const STEEL_FORCE: f64 = 1000.0;

/// Density that no aluminium reaches and no copper alloy falls short of.
const HEAVY: f64 = 5000.0;

/// Specific force up to which wood counts as soft.
const SOFT_WOOD: f64 = 25.0;

/// The stiffness at the collet that a material wants: 1 N/µm for foam and soft wood, 2 for
/// other wood and plastics, 5 for light cuts in aluminium, 10 for brass, 20 for steel.
pub fn wanted(material: &Material) -> Stiffness {
    let force = units::n_per_mm2::from(material.specific_force);
    let heavy = units::kg_per_m3::from(material.density) > HEAVY;
    units::n_per_um::of(match material.family {
        Family::Foam => 1.0,
        Family::Wood if force <= SOFT_WOOD => 1.0,
        Family::Wood | Family::Plastic => 2.0,
        Family::Metal if force >= STEEL_FORCE => 20.0,
        Family::Metal if heavy => 10.0,
        Family::Metal => 5.0,
    })
}
