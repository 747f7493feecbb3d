//! The chip of a milling cutter: how thick it is over the arc on which a tooth is in the
//! material, and how the forces of several teeth add up.
//!
//! A tooth enters where the chip is nothing thick and turns through the arc φ_s with
//! cos φ_s = 1 - 2 a_e/D, a_e being the width in the material and D the diameter; at the angle
//! φ its chip is h = f_z sin φ thick (any handbook of machining; the true path is a trochoid,
//! which differs by less than f_z/D). Up and down milling are mirror images of each other and
//! have the same thickness.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use crate::units::{self, AngularVelocity, Length, Ratio, Velocity};

/// How far a cutter bites into the material.
#[derive(Clone, Copy, Debug)]
pub struct Bite {
    /// Width against diameter, 0 to 1.
    width: f64,
    /// Arc on which a tooth is in the material, in radians.
    arc: f64,
}

impl Bite {
    /// A cut so wide against the diameter; wider than the tool is as wide as the tool.
    pub fn of(width: Ratio) -> Self {
        let width = units::times::from(width).clamp(0.0, 1.0);
        Self {
            width,
            arc: (1.0 - 2.0 * width).acos(),
        }
    }

    /// The arc as a share of a full turn.
    pub fn turn_share(&self) -> Ratio {
        units::share::of(self.arc / TAU)
    }

    /// Mean thickness of the chip over the arc, h_m = 2 a_e f_z/(D φ_s).
    pub fn mean_chip(&self, tooth_feed: Length) -> Length {
        tooth_feed * self.mean_share()
    }

    pub(super) fn mean_share(&self) -> f64 {
        if self.arc > 0.0 {
            2.0 * self.width / self.arc
        } else {
            0.0
        }
    }

    pub(super) fn greatest_share(&self) -> f64 {
        self.arc.min(FRAC_PI_2).sin()
    }

    /// The greatest resultant of all teeth in the material, against the force of one tooth
    /// whose chip is as thick as the feed per tooth.
    ///
    /// Force along a tooth's path goes with h^(1-m), force across it in a fixed ratio to that:
    /// each tooth's resultant has the same direction relative to the tooth, so the resultants
    /// of teeth at φ_i add up like Σ sin^(1-m) φ_i · e^(iφ_i). Two teeth 120° or more apart
    /// never pull harder than the stronger one alone: up to three flutes the thickest chip
    /// decides. With more, the positions are tried at which the sum can be greatest: the last
    /// tooth about to leave, a tooth at the thickest chip, and two teeth evenly on either side
    /// of it. The teeth are taken as straight: a helix spreads them and lowers the peak.
    pub fn peak(&self, flutes: u32, exponent: Ratio) -> Ratio {
        let power = 1.0 - units::share::from(exponent);
        let apart = TAU / f64::from(flutes.max(1));
        if flutes <= 3 || apart >= self.arc {
            return units::times::of(self.greatest_share().powf(power));
        }
        let tried = [self.arc, FRAC_PI_2, FRAC_PI_2 + apart / 2.0];
        let greatest = tried.map(|tooth| self.resultant(flutes, power, tooth % apart));
        units::times::of(greatest.into_iter().fold(0.0, f64::max))
    }

    /// The resultant with the first tooth at an angle.
    fn resultant(&self, flutes: u32, power: f64, first: f64) -> f64 {
        let apart = TAU / f64::from(flutes);
        let (mut along, mut across) = (0.0, 0.0);
        for tooth in 0..flutes {
            let angle = first + f64::from(tooth) * apart;
            if angle > self.arc + 1e-9 {
                break;
            }
            let force = angle.sin().max(0.0).powf(power);
            along += force * angle.cos();
            across += force * angle.sin();
        }
        along.hypot(across)
    }
}

/// Speed of the cutting edge of a tool, v = π D n.
pub fn edge_speed(diameter: Length, turning: AngularVelocity) -> Velocity {
    units::m_per_min::of(PI * units::m::from(diameter) * units::rpm::from(turning))
}

/// Turns at which the edge of a tool has a speed, n = v/(π D).
pub fn turns_for(diameter: Length, edge: Velocity) -> AngularVelocity {
    units::rpm::of(units::m_per_min::from(edge) / (PI * units::m::from(diameter)))
}
