//! Properties of cold-formed hollow sections, from their three sizes.
//!
//! EN 10219-2:2006, Annex B: corner radii for calculation, area, second moments, torsion
//! constant, with E and density of structural steel as in EN 1993-1-1. Sharp-corner formulas
//! would be wrong by 3 to 6 % at these sizes.

use std::f64::consts::PI;

use crate::build::pick::TubeWall;
use crate::catalogue::structure::Tube;
use crate::units::{self, Area, Length, LinearMassDensity, MassDensity};

/// Density of steel, 7850 kg/m³ (EN 10219-2, Annex B; EN 1991-1-1).
pub fn steel_density() -> MassDensity {
    units::kg_per_m3::of(7850.0)
}

/// Elastic modulus of structural steel, 210 000 N/mm² (EN 1993-1-1, 3.2.6).
pub fn steel_modulus() -> units::Pressure {
    units::gpa::of(210.0)
}

/// Shear modulus of structural steel, E/(2(1 + ν)) with ν = 0.3 (EN 1993-1-1, 3.2.6).
pub fn steel_shear_modulus() -> units::Pressure {
    steel_modulus() / (2.0 * (1.0 + POISSON))
}

/// Poisson's ratio of steel (EN 1993-1-1, 3.2.6).
const POISSON: f64 = 0.3;

/// A hollow section; its sizes are kept in millimetres for the standard's formulas.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    h: f64,
    b: f64,
    t: f64,
}

/// A second moment of area or torsion constant, in cm⁴ as tables print it.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct SecondMoment(f64);

impl SecondMoment {
    /// In cm⁴.
    pub fn as_cm4(self) -> f64 {
        self.0
    }
}

impl Section {
    /// The section of a tube at its nominal wall.
    pub fn of(tube: &Tube) -> Self {
        Self::with_wall(tube, tube.wall)
    }

    /// The section of a tube with the thinnest wall that EN 10219-2:2006, Table 2 allows:
    /// T less 10 % up to 5 mm, T less 0.5 mm above.
    pub fn thinnest(tube: &Tube) -> Self {
        Self::with_wall(tube, thinnest_wall(tube.wall))
    }

    /// The section of a tube as figures take it: with its measured wall, where there is one.
    pub fn used(tube: &Tube, wall: TubeWall) -> Self {
        Self::with_wall(tube, wall.used())
    }

    /// The section of a tube at its worst: at its measured wall, else at the thinnest that the
    /// standard allows.
    pub fn worst(tube: &Tube, wall: TubeWall) -> Self {
        Self::with_wall(tube, worst_wall(wall))
    }

    fn with_wall(tube: &Tube, wall: Length) -> Self {
        Self {
            h: units::mm::from(tube.height),
            b: units::mm::from(tube.width),
            t: units::mm::from(wall),
        }
    }

    /// Outer and inner corner radius for calculation, in mm (Annex B).
    fn radii(&self) -> (f64, f64) {
        let t = self.t;
        if t <= 6.0 {
            (2.0 * t, t)
        } else if t <= 10.0 {
            (2.5 * t, 1.5 * t)
        } else {
            (3.0 * t, 2.0 * t)
        }
    }

    /// Cross-section area.
    pub fn area(&self) -> Area {
        let (ro, ri) = self.radii();
        let t = self.t;
        units::mm2::of(2.0 * t * (self.b + self.h - 2.0 * t) - (4.0 - PI) * (ro * ro - ri * ri))
    }

    /// Mass per length.
    pub fn linear_mass(&self) -> LinearMassDensity {
        self.area() * steel_density()
    }

    /// Second moment about the horizontal axis: bending up and down.
    pub fn iy(&self) -> SecondMoment {
        SecondMoment(second_moment(self.h, self.b, self.t, self.radii()) / 1e4)
    }

    /// Second moment about the vertical axis: bending forth and back.
    pub fn iz(&self) -> SecondMoment {
        SecondMoment(second_moment(self.b, self.h, self.t, self.radii()) / 1e4)
    }

    /// Torsion constant.
    pub fn it(&self) -> SecondMoment {
        let (ro, ri) = self.radii();
        let rc = (ro + ri) / 2.0;
        let (b, h, t) = (self.b, self.h, self.t);
        let middle = 2.0 * ((b - t) + (h - t)) - 2.0 * rc * (4.0 - PI);
        let enclosed = (b - t) * (h - t) - rc * rc * (4.0 - PI);
        let k = 2.0 * enclosed * t / middle;
        SecondMoment((t.powi(3) * middle / 3.0 + 2.0 * k * enclosed) / 1e4)
    }

    /// Area that bears shear up and down: the share of the whole that the shear coefficient of
    /// beam theory (published 1966) gives for a thin-walled box.
    pub fn shear_up(&self) -> Area {
        self.area() * shear_share(self.h - self.t, self.b - self.t)
    }

    /// Area that bears shear forth and back.
    pub fn shear_across(&self) -> Area {
        self.area() * shear_share(self.b - self.t, self.h - self.t)
    }

    /// Length of its outline: the outer surface for each length of tube.
    pub fn outline(&self) -> Length {
        let (ro, _) = self.radii();
        units::mm::of(2.0 * (self.h + self.b) - (8.0 - 2.0 * PI) * ro)
    }

    /// Width of the flat of the upper face at the largest corner radius that EN 10219-2,
    /// Table 2 allows (2.4 T up to 6 mm, 3 T up to 10 mm, 3.6 T above): where a rail's foot can
    /// sit.
    pub fn flat(&self) -> Length {
        let largest = if self.t <= 6.0 {
            2.4
        } else if self.t <= 10.0 {
            3.0
        } else {
            3.6
        };
        units::mm::of(self.b - 2.0 * largest * self.t)
    }
}

/// The wall that a tube has at worst: the measured one, else the thinnest that the standard
/// allows.
pub fn worst_wall(wall: TubeWall) -> Length {
    wall.measured.unwrap_or_else(|| thinnest_wall(wall.named))
}

/// The thinnest wall that EN 10219-2:2006, Table 2 allows.
pub fn thinnest_wall(wall: Length) -> Length {
    if wall <= units::mm::of(5.0) {
        wall * 0.9
    } else {
        wall - units::mm::of(0.5)
    }
}

/// The shear coefficient of a box with one wall all round, from its middle lines.
fn shear_share(along: f64, across: f64) -> f64 {
    let n = across / along;
    let poly = |a: f64, b: f64, c: f64, d: f64| a + n * (b + n * (c + n * d));
    let above = 10.0 * (1.0 + POISSON) * (1.0 + 3.0 * n).powi(2);
    let below = poly(12.0, 72.0, 150.0, 90.0)
        + POISSON * poly(11.0, 66.0, 135.0, 90.0)
        + 10.0 * n * n * ((3.0 + POISSON) * n + 3.0 * n * n);
    above / below
}

/// Annex B: the box less its corners, in mm⁴.
fn second_moment(h: f64, b: f64, t: f64, (ro, ri): (f64, f64)) -> f64 {
    let corner = 1.0 / 3.0 - PI / 16.0 - 1.0 / (3.0 * (12.0 - 3.0 * PI));
    let offset = (10.0 - 3.0 * PI) / (12.0 - 3.0 * PI);
    let area = |r: f64| (1.0 - PI / 4.0) * r * r;
    let outer = corner * ro.powi(4) + area(ro) * (h / 2.0 - offset * ro).powi(2);
    let inner = corner * ri.powi(4) + area(ri) * ((h - 2.0 * t) / 2.0 - offset * ri).powi(2);
    b * h.powi(3) / 12.0 - (b - 2.0 * t) * (h - 2.0 * t).powi(3) / 12.0 - 4.0 * outer + 4.0 * inner
}
