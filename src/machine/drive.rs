//! One interface over ball screws, lead screws, racks and belts: travel for a motor turn,
//! efficiency both ways, inertia, the limits of speed, and what happens without power.

use std::f64::consts::PI;

use super::geometry::along::{ScrewCut, ball_nut, cut_for};
use super::section;
use crate::build::choices::drive::ScrewEnds;
use crate::build::{Axis, Picked};
use crate::catalogue::LinearDrive;
use crate::catalogue::linear_drive::{BallScrew, LeadScrew};
use crate::units::{
    self, AngularVelocity, DnValue, Force, Length, MassDensity, MomentOfInertia, Ratio, Torque,
    Velocity,
};

pub mod toothed;

/// Eigenvalues λ of a bending beam, by how its ends are held (Euler-Bernoulli): the least
/// root of cos λ · cosh λ = -1, and tan λ = tanh λ, and cos λ · cosh λ = 1.
pub fn eigenvalue(ends: ScrewEnds) -> Ratio {
    units::times::of(match ends {
        ScrewEnds::FixedFree => 1.875_104_068_711_961,
        ScrewEnds::FixedSupported => 3.926_602_312_047_919,
        ScrewEnds::FixedFixed => 4.730_040_744_862_704,
    })
}

/// Euler's factor n in F = n π² E I / L², by how the ends are held.
pub fn buckling_factor(ends: ScrewEnds) -> Ratio {
    units::times::of(match ends {
        ScrewEnds::FixedFree => 0.25,
        ScrewEnds::FixedSupported => 2.0457,
        ScrewEnds::FixedFixed => 4.0,
    })
}

/// Share of the critical speed that is used: 0.8 in every screw catalogue.
pub const WHIRL_SHARE: f64 = 0.8;

/// Safety against buckling in screw catalogues.
pub const BUCKLING_SAFETY: f64 = 2.0;

/// DN value taken for rolled commodity nuts whose data say nothing (common practice).
pub const COMMODITY_DN: DnValue = DnValue::mm_rpm(50_000.0);

/// Critical (whirling) speed of a round steel bar between its bearings:
/// n = 60 λ²/(2π) · (d/4) · √(E/ρ) / L², Euler-Bernoulli, the nut not counted as a support.
pub fn critical_speed(root: Length, between: Length, ends: ScrewEnds) -> AngularVelocity {
    let d = units::m::from(root);
    let l = units::m::from(between);
    let e = units::gpa::from(section::steel_modulus()) * 1e9;
    let rho = units::kg_per_m3::from(section::steel_density());
    let lambda = units::times::from(eigenvalue(ends));
    units::rpm::of(60.0 * lambda * lambda / (2.0 * PI) * (d / 4.0) * (e / rho).sqrt() / (l * l))
}

/// Euler's buckling load of a round steel bar: F = n π² E I / L², I = π d⁴/64.
pub fn buckling_load(root: Length, length: Length, ends: ScrewEnds) -> Force {
    let d = units::m::from(root);
    let l = units::m::from(length);
    let e = units::gpa::from(section::steel_modulus()) * 1e9;
    let i = PI * d.powi(4) / 64.0;
    units::n::of(units::times::from(buckling_factor(ends)) * PI * PI * e * i / (l * l))
}

/// Half the angle between the flanks of a trapezoidal thread, 30° (ISO 2901).
const FLANK: f64 = 15.0 * PI / 180.0;

/// Friction as the sloping flanks of a trapezoidal thread make it: μ' = μ/cos 15°, for they
/// are pressed harder than the force along the screw (handbooks of machine elements).
pub fn flank_friction(screw: &LeadScrew) -> Ratio {
    screw.friction / FLANK.cos()
}

/// Mean diameter of a thread, and the tangent of its lead angle there.
fn helix(screw: &LeadScrew) -> (Length, f64) {
    let diameter = (screw.diameter + screw.root) / 2.0;
    (diameter, units::times::from(screw.lead / (diameter * PI)))
}

/// Efficiency of a thread both ways, from friction on its flanks and lead angle:
/// η = (1 - μ' tan α)/(1 + μ'/tan α), and back η' = (1 - μ'/tan α)/(1 + μ' tan α); negative
/// η' means that the nut holds by itself.
pub fn thread_efficiency(screw: &LeadScrew) -> (Ratio, Ratio) {
    let mu = units::times::from(flank_friction(screw));
    let (_, tan) = helix(screw);
    let forth = (1.0 - mu * tan) / (1.0 + mu / tan);
    let back = (1.0 - mu / tan) / (1.0 + mu * tan);
    (units::share::of(forth), units::share::of(back))
}

/// What a drive asks of its motor and allows its axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DriveFigures {
    /// Travel for one turn of the motor, any reduction counted.
    pub travel_a_turn: Length,
    /// Efficiency from torque to thrust.
    pub efficiency: Ratio,
    /// Efficiency from a force on the axis back to torque; below zero it holds by itself.
    pub back_efficiency: Ratio,
    /// Inertia that turns with the motor, without motor and coupling, seen by the motor.
    pub inertia: MomentOfInertia,
    /// Drag torque of nut and bearings, seen by the motor.
    pub drag: Torque,
    /// Fastest turn of the screw before it whips, margin kept; none for racks and belts.
    pub whirl: Option<AngularVelocity>,
    /// Fastest turn that the nut bears; none for racks and belts.
    pub nut: Option<AngularVelocity>,
    /// Fastest speed of rack or belt; none for screws.
    pub track: Option<Velocity>,
    /// Greatest axial force before the screw buckles, or that rack or belt bears.
    pub greatest_force: Force,
    /// Play when the direction turns.
    pub play: Length,
}

impl DriveFigures {
    /// Works one drive of an axis out.
    pub fn of(picked: &Picked, axis: Axis, drive: LinearDrive) -> Self {
        let ends = picked.build.drive.ends[axis];
        match drive {
            LinearDrive::Ball(screw) => ball(
                picked,
                screw,
                ends,
                cut_for(picked, axis, ball_nut(picked, screw)),
            ),
            LinearDrive::Lead(screw) => lead(screw, ends, cut_for(picked, axis, screw.nut_length)),
            LinearDrive::Rack(rack) => toothed::rack(picked, rack),
            LinearDrive::Belt(belt) => toothed::belt(picked, axis, belt),
        }
    }

    /// The motor's speed at a speed of the axis.
    pub fn turns_at(&self, speed: Velocity) -> AngularVelocity {
        units::rpm::of(units::m_per_min::from(speed) / units::m::from(self.travel_a_turn))
    }

    /// The axis's speed at a speed of the motor.
    pub fn speed_at(&self, turns: AngularVelocity) -> Velocity {
        units::m_per_min::of(units::rpm::from(turns) * units::m::from(self.travel_a_turn))
    }

    /// Of the two drives of a pair, the lesser in everything that they bear; this one's
    /// travel, efficiency and inertia stand for both.
    pub fn weaker(self, other: Self) -> Self {
        fn least<T: PartialOrd>(one: Option<T>, other: Option<T>) -> Option<T> {
            match (one, other) {
                (Some(one), Some(other)) => Some(if other < one { other } else { one }),
                (one, other) => one.or(other),
            }
        }
        Self {
            whirl: least(self.whirl, other.whirl),
            nut: least(self.nut, other.nut),
            track: least(self.track, other.track),
            greatest_force: self.greatest_force.min(other.greatest_force),
            play: self.play.max(other.play),
            ..self
        }
    }
}

/// Inertia of a round steel bar about its axis at the mean of root and outer diameter.
fn bar_inertia(outer: Length, root: Length, length: Length) -> MomentOfInertia {
    disc_inertia((outer + root) / 2.0, length, section::steel_density())
}

/// Inertia of a solid disc or bar about its axis: J = π ρ d⁴ L/32.
pub fn disc_inertia(diameter: Length, length: Length, density: MassDensity) -> MomentOfInertia {
    let d = units::m::from(diameter);
    let rho = units::kg_per_m3::from(density);
    units::kg_m2::of(PI * rho * d.powi(4) * units::m::from(length) / 32.0)
}

fn ball(picked: &Picked, screw: &BallScrew, ends: ScrewEnds, cut: ScrewCut) -> DriveFigures {
    let eta = units::share::from(screw.efficiency);
    let preloaded = picked.build.drive.preloaded_nuts;
    DriveFigures {
        travel_a_turn: screw.lead,
        efficiency: screw.efficiency,
        // ISO 3408-5: the efficiency of back-driving is 2 - 1/η.
        back_efficiency: units::share::of(2.0 - 1.0 / eta),
        inertia: bar_inertia(screw.diameter, screw.root, cut.between_bearings),
        // A preloaded pair of nuts drags about twice as much (common practice).
        drag: screw.drag * if preloaded { 2.0 } else { 1.0 },
        whirl: Some(critical_speed(screw.root, cut.between_bearings, ends) * WHIRL_SHARE),
        nut: Some(
            screw
                .dn_limit
                .unwrap_or(COMMODITY_DN)
                .speed_at(screw.diameter),
        ),
        track: None,
        greatest_force: buckling_load(screw.root, cut.farthest_nut, ends) / BUCKLING_SAFETY,
        play: if preloaded {
            units::um::of(0.0)
        } else {
            screw.play
        },
    }
}

fn lead(screw: &LeadScrew, ends: ScrewEnds, cut: ScrewCut) -> DriveFigures {
    let (forth, back) = thread_efficiency(screw);
    let (diameter, tan) = helix(screw);
    // The thread's surface slides along the helix: v = π d n / cos α.
    let turns = screw.sliding_speed * tan.atan().cos() / (diameter * PI);
    DriveFigures {
        travel_a_turn: screw.lead,
        efficiency: forth,
        back_efficiency: back,
        inertia: bar_inertia(screw.diameter, screw.root, cut.between_bearings),
        drag: screw.drag,
        whirl: Some(critical_speed(screw.root, cut.between_bearings, ends) * WHIRL_SHARE),
        nut: Some(units::rpm::of(units::hz::from(turns) * 60.0)),
        track: None,
        greatest_force: buckling_load(screw.root, cut.farthest_nut, ends) / BUCKLING_SAFETY,
        play: screw.play,
    }
}
