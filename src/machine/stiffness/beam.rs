//! Closed forms of beams and portals, as every handbook of structures has them.
//!
//! The ends of a beam lie between a hinge and a clamp: its give is mixed between both, by the
//! share of the clamp's moment that the ends hold. Torsion always counts with held ends.

use crate::machine::section::{Section, steel_modulus, steel_shear_modulus};
use crate::units::{AngularStiffness, Length, Ratio, Stiffness};

/// The direction in which a beam bends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plane {
    /// Up and down, about its horizontal axis.
    Up,
    /// Forth and back, about its vertical axis.
    Across,
}

/// A steel beam between its two ends.
#[derive(Clone, Copy, Debug)]
pub struct Beam {
    /// Distance of its ends.
    pub length: Length,
    /// Its section.
    pub section: Section,
    /// How its ends are held: 0 hinged, 1 clamped.
    pub fixity: Ratio,
}

/// One cm⁴ in m⁴.
const CM4: f64 = 1e-8;

/// E I of a section, in N·m².
pub(super) fn bending_rigidity(section: Section, plane: Plane) -> f64 {
    let second = match plane {
        Plane::Up => section.iy(),
        Plane::Across => section.iz(),
    };
    steel_modulus().value * second.as_cm4() * CM4
}

/// G It of a section, in N·m².
pub(super) fn torsion_rigidity(section: Section) -> f64 {
    steel_shear_modulus().value * section.it().as_cm4() * CM4
}

impl Beam {
    /// a(1 - a), for a place a along the beam.
    fn between(place: Ratio) -> f64 {
        (place.value * (1.0 - place.value)).max(0.0)
    }

    /// Against a force at a place: L³ (ab)²/(3 E I) on hinges, L³ (ab)³/(3 E I) clamped,
    /// and shear L ab/(G As) always.
    pub fn bends(&self, plane: Plane, place: Ratio) -> Stiffness {
        let (l, ab, r) = (self.length.value, Self::between(place), self.fixity.value);
        let area = match plane {
            Plane::Up => self.section.shear_up(),
            Plane::Across => self.section.shear_across(),
        };
        let bending = l.powi(3) * ab * ab * (1.0 - r + r * ab)
            / (3.0 * bending_rigidity(self.section, plane));
        let shear = l * ab / (steel_shear_modulus().value * area.value);
        per_length(bending + shear)
    }

    /// Against a couple at a place: L (1 - 3ab)/(3 E I) on hinges, L ab (1 - 3ab)/(E I)
    /// clamped. At mid-span clamped ends leave three quarters of the hinged give.
    pub fn turns(&self, plane: Plane, place: Ratio) -> AngularStiffness {
        let (l, ab, r) = (self.length.value, Self::between(place), self.fixity.value);
        let shape = (1.0 - 3.0 * ab) * ((1.0 - r) / 3.0 + r * ab);
        AngularStiffness::nm_per_rad(bending_rigidity(self.section, plane) / (l * shape))
    }

    /// Against a torque about its own axis at a place, its ends held: L ab/(G It).
    pub fn twists(&self, place: Ratio) -> AngularStiffness {
        let give = self.length.value * Self::between(place);
        AngularStiffness::nm_per_rad(torsion_rigidity(self.section) / give)
    }
}

/// A portal of two equal sides with a beam on top, pushed sideways at the beam.
#[derive(Clone, Copy, Debug)]
pub struct Portal {
    /// The beam, whose ends are joined to the legs.
    pub beam: Beam,
    /// Section of a leg.
    pub leg: Section,
    /// Legs of one side, which share the push.
    pub legs: f64,
    /// Height of the legs.
    pub height: Length,
    /// What holds the foot of each side from turning; none for feet that are clamped.
    pub foot: Option<AngularStiffness>,
}

impl Portal {
    /// E I/H of the legs of one side.
    fn leg_stiffness(&self) -> f64 {
        self.rigidity() / self.height.value
    }

    /// E I of the legs of one side, bent along the beam, in N·m².
    pub(super) fn rigidity(&self) -> f64 {
        self.legs * bending_rigidity(self.leg, Plane::Across)
    }

    /// Turns of a head and of a foot for one radian of the legs' chords.
    pub(super) fn turns(&self) -> (f64, f64) {
        let i = self.leg_stiffness();
        let b = 6.0 * bending_rigidity(self.beam.section, Plane::Up) / self.beam.length.value;
        match self.foot {
            None => (6.0 * i / (4.0 * i + b), 0.0),
            Some(foot) => {
                let k = foot.as_nm_per_rad();
                let all = (4.0 * i + b) * (4.0 * i + k) - 4.0 * i * i;
                (6.0 * i * (2.0 * i + k) / all, 6.0 * i * (2.0 * i + b) / all)
            }
        }
    }

    /// Against a push along the beam, by the slope-deflection method: with i = E I/H of the legs
    /// of a side, B = 6 E I/L of the beam and K of a side's foot, each side bears
    /// 12 i - 6 i (θ_top + θ_foot) for a turn of one radian of its legs' chord.
    pub fn sways(&self) -> Stiffness {
        let h = self.height.value;
        let i = self.leg_stiffness();
        let (top, foot) = self.turns();
        let leg = 12.0 * i - 6.0 * i * (top + foot);
        per_length(h * h / (2.0 * leg))
    }
}

/// A stiffness from what gives for each newton.
pub(super) fn per_length(give: f64) -> Stiffness {
    crate::units::n_per_um::of(1e-6 / give)
}

/// A plate that overhangs the two carriages that hold it, with a stiff body at its end.
#[derive(Clone, Copy, Debug)]
pub(super) struct Overhang {
    /// Distance of the carriages' centres.
    pub(super) span: f64,
    /// From the lower carriage to the end of the plate.
    pub(super) out: f64,
    /// From the end of the plate to the point of the force, on the stiff body.
    pub(super) beyond: f64,
    /// E I in N·m².
    pub(super) rigidity: f64,
}

impl Overhang {
    /// What its end turns for each newton metre there: (s + 3 l)/(3 E I).
    pub(super) fn turn(&self) -> f64 {
        (self.span + 3.0 * self.out) / (3.0 * self.rigidity)
    }

    /// What the point gives: l² (l + s)/(3 E I) of its end, the slope there times the stiff
    /// body twice, and the body's own couple.
    pub(super) fn give(&self) -> super::give::Give {
        use super::give::Give;
        let (s, l) = (self.span, self.out);
        let end = l * l * (l + s) / (3.0 * self.rigidity);
        let slope = l * (2.0 * s + 3.0 * l) / (6.0 * self.rigidity);
        // Turning about the point where the slope alone would put the end: the remainder
        // stays at the end itself.
        let pivot = slope / self.turn();
        let turning = Give::turning(self.turn(), pivot + self.beyond);
        turning + Give::along(end - slope * pivot)
    }
}
