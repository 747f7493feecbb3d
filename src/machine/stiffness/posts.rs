//! What a machine stands on: the side beams between their supports, and the legs below.

use super::beam::{Beam, Plane, bending_rigidity};
use crate::build::Picked;
use crate::catalogue::frame::{Layout, Rides, Role};
use crate::machine::geometry::Geometry;
use crate::machine::section::Section;
use crate::units::{self, Length};

/// The tubes that carry the Y rails, between what holds them up.
#[derive(Clone, Copy, Debug)]
pub(super) struct SideBeams {
    /// One of them, between two supports; none where the plan has no side beams.
    pub(super) beam: Option<Beam>,
}

impl SideBeams {
    /// A side is held up by its legs, where the frame has such; else it lies on the stand at
    /// the cross members. Between two supports it counts as hinged, though it runs on.
    pub(super) fn of(picked: &Picked, geometry: &Geometry, section: Section) -> Self {
        let side = geometry.members.iter().find(|m| m.role == Role::Side);
        let legs = legs(picked, geometry).map(|(pieces, _)| pieces / 2);
        let supports = legs.unwrap_or_else(|| {
            let cross = geometry.members.iter().filter(|m| m.role == Role::Cross);
            cross.map(|member| member.pieces).sum()
        });
        let bays = f64::from(supports.max(2) - 1);
        let beam = side.map(|side| Beam {
            length: side.length / bays,
            section,
            fixity: units::share::of(0.0),
        });
        Self { beam }
    }

    /// What one gives in the middle for each newton, in m/N.
    pub(super) fn give(&self) -> f64 {
        let middle = units::share::of(0.5);
        self.beam
            .map_or(0.0, |beam| 1.0 / beam.bends(Plane::Up, middle).value)
    }
}

/// The legs of raised sides.
#[derive(Clone, Copy, Debug)]
pub(super) struct Legs {
    pub(super) pieces: f64,
    pub(super) height: Length,
    pub(super) section: Section,
}

/// Legs that stand still below a travelling gantry: how many, and how high.
fn legs(picked: &Picked, geometry: &Geometry) -> Option<(u32, Length)> {
    match picked.frame.layout {
        Layout::MovingGantry => geometry.posts(Rides::Still),
        Layout::MovingTable => None,
    }
}

impl Legs {
    pub(super) fn of(picked: &Picked, geometry: &Geometry, section: Section) -> Option<Self> {
        legs(picked, geometry).map(|(pieces, height)| Self {
            pieces: f64::from(pieces),
            height,
            section,
        })
    }

    /// Each is clamped at one end: H³/(3 n E I).
    fn give(&self, plane: Plane) -> f64 {
        let height = units::m::from(self.height);
        height.powi(3) / (3.0 * self.pieces * bending_rigidity(self.section, plane))
    }

    /// What they give along the beam.
    pub(super) fn sideways(&self) -> f64 {
        self.give(Plane::Across)
    }

    /// What they give along the side beams.
    pub(super) fn lengthways(&self) -> f64 {
        self.give(Plane::Up)
    }
}
