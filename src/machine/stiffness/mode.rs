//! The lowest frequency at which the machine rings, by Dunkerley's sum.
//!
//! 1/ω² is at most Σ m c, with each mass on the springs between it and the ground, at its own
//! centre; the sum is never below the true value, so the frequency never above it. Masses are
//! the Z axis at the clamp, the X axis at the beam, the gantry on its carriages, and the beam
//! with 17/35 of its mass at its middle (any handbook of vibrations).

use std::f64::consts::PI;

use super::SpringName;
use super::give::Springs;
use super::model::Model;
use crate::build::{Axis, PerAxis};
use crate::catalogue::frame::{Rides, Role};
use crate::machine::geometry::Geometry;
use crate::machine::mass::Masses;
use crate::machine::section::Section;
use crate::units::{self, Frequency, Mass};

/// Share of a beam's mass that counts at its middle: 17/35.
pub(super) const BEAM_SHARE: f64 = 17.0 / 35.0;

/// The first mode, with what it came from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mode {
    pub(super) axis: Axis,
    pub(super) frequency: Frequency,
    /// The masses: Z axis, X axis, gantry or table without the beam, beam.
    pub(super) masses: [Mass; 4],
    /// What each gives for each newton at its centre, in m/N.
    pub(super) gives: [f64; 4],
}

/// Springs between the X assembly and the spindle.
fn above_x(axis: Axis, name: SpringName) -> bool {
    matches!(name, SpringName::CarriagesZ | SpringName::ZPlate) || axis == Axis::Z && is_drive(name)
}

/// Springs between gantry and X assembly.
fn above_gantry(axis: Axis, name: SpringName) -> bool {
    name == SpringName::CarriagesX || axis == Axis::X && is_drive(name)
}

fn is_beam(name: SpringName) -> bool {
    matches!(name, SpringName::Beam | SpringName::BeamTwist)
}

fn is_drive(name: SpringName) -> bool {
    use SpringName::*;
    matches!(
        name,
        Screw | Nut | Bearing | Twist | Coupling | Bracket | Rack | Belt | Motor
    )
}

/// The lowest of the three directions; `by` is how much stiffer each was measured than the model
/// has it, 1 where nothing was measured.
pub(super) fn first(
    model: &Model,
    middle: &PerAxis<Springs>,
    masses: &Masses,
    geometry: &Geometry,
    by: &PerAxis<f64>,
) -> Mode {
    let mut lowest = of(model, &middle.x, Axis::X, masses, geometry, by.x);
    for (axis, springs) in [(Axis::Y, &middle.y), (Axis::Z, &middle.z)] {
        let mode = of(model, springs, axis, masses, geometry, by[axis]);
        if mode.frequency < lowest.frequency {
            lowest = mode;
        }
    }
    lowest
}

fn of(
    model: &Model,
    springs: &Springs,
    axis: Axis,
    masses: &Masses,
    geometry: &Geometry,
    by: f64,
) -> Mode {
    let (nose, h) = (model.levers.nose.value, model.levers.below.value);
    let rides = if model.table.is_some() {
        Rides::Still
    } else {
        Rides::Y
    };
    let beams = geometry.members.iter();
    let beam: Mass = beams
        .filter(|member| member.role == Role::Beam && member.rides == rides)
        .map(|member| weight(model.beam.section, member))
        .sum();
    let own = if model.table.is_some() {
        // The table rings by itself, not with the portal.
        units::kg::of(0.0)
    } else {
        masses.own.y - beam
    };
    // What a portal stands on does not give; the table's springs do not move it.
    let base = |name: SpringName| {
        let table = model.table.is_some()
            && (is_drive(name) && axis == Axis::Y
                || matches!(
                    name,
                    SpringName::CarriagesY | SpringName::SideBeams | SpringName::Table
                ));
        !above_x(axis, name) && !above_gantry(axis, name) && !is_beam(name) && !table
    };
    let z = springs
        .sum(|name| base(name) || is_beam(name) || above_x(axis, name) || above_gantry(axis, name))
        .reaching(-nose);
    let x = springs
        .sum(|name| base(name) || is_beam(name) || above_gantry(axis, name))
        .reaching(-h);
    // The gantry turns about its own middle: its mass does not lie at the tool's lever.
    let gantry = springs
        .sum(|name| base(name) && name != SpringName::Yaw)
        .reaching(-h);
    let bent = springs.of(SpringName::Beam).reaching(-h);
    let masses = [masses.own.z, masses.own.x, own, beam];
    let gives = [z, x, gantry, gantry + BEAM_SHARE * bent].map(|give| give / by);
    let sum: f64 = masses
        .iter()
        .zip(gives)
        .map(|(mass, give)| mass.value * give)
        .sum();
    Mode {
        axis,
        frequency: units::hz::of(1.0 / (2.0 * PI * sum.sqrt())),
        masses,
        gives,
    }
}

fn weight(section: Section, member: &crate::machine::geometry::MemberCut) -> Mass {
    section.linear_mass() * member.length * f64::from(member.pieces)
}
