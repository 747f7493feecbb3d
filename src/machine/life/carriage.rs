//! Life of the most burdened carriage (ISO 14728-1): L = (C/(fw P))³ · 50 km, with C at 50 km.
//!
//! The load follows from plain statics: what the carriages hold is a stiff body on n of them,
//! in rows s apart along the travel and g apart across it. A force F at the place d of the
//! tool puts on the worst of them |Fr|/n + |Fq|/n and its moments over the distance that
//! resists them. Directions: t along the travel, q across from rail to rail, r away from the
//! rails.

use super::usage::Usage;
use crate::build::{Axis, Picked};
use crate::catalogue::frame::Layout;
use crate::machine::geometry::{Geometry, plan_of};
use crate::machine::mass::Masses;
use crate::machine::stiffness::Levers;
use crate::units::{self, Force, Length, Ratio};

/// Travel for which the dynamic load rating C is stated, in km (published rail catalogue).
pub(super) const RATED_KM: f64 = 50.0;

/// Distance at which a single block resists pitch and yaw, as a share of its length: static
/// moment over static load in a published rail catalogue, 0.070 to 0.074 for sizes 15 to 25.
const OWN_ALONG: f64 = 0.07;

/// The same for roll, as a share of the rail's foot: 0.34 to 0.37 in that catalogue.
const OWN_ACROSS: f64 = 0.35;

/// Load factor fw for the jolts of a cut at up to 60 m/min: 1.2 to 1.5 in a published rail
/// catalogue, the upper end.
pub fn load_factor() -> Ratio {
    units::times::of(1.5)
}

/// Travel that nine of ten carriages reach.
pub fn carriage_travel(rating: Force, load: Force, factor: Ratio) -> Length {
    let felt = units::n::from(load * factor);
    units::km::of((units::n::from(rating) / felt).powi(3) * RATED_KM)
}

/// A place or a force in the directions t, q, r, in metres or newtons.
type Vector = [f64; 3];

/// How the carriages of one axis stand, and what they hold.
pub(super) struct Stand {
    /// How many there are.
    pub(super) carriages: f64,
    /// Distance that resists pitch and yaw, times the carriages that share it, in metres.
    pub(super) along: f64,
    /// Distance that resists roll, times the carriages that share it, in metres.
    pub(super) across: f64,
    /// Where the tool is, seen from the middle of the carriages, in metres.
    pub(super) tool: Vector,
    /// Load of the weight alone on the worst carriage.
    pub(super) resting: f64,
    /// What the cutting force adds, from its worst direction.
    pub(super) cutting: f64,
    /// What speeding up adds.
    pub(super) speeding: f64,
}

impl Stand {
    pub(super) fn of(
        picked: &Picked,
        geometry: &Geometry,
        masses: &Masses,
        levers: &Levers,
        axis: Axis,
    ) -> Self {
        let mut stand = Self::empty(picked, geometry, axis);
        let places = Places::of(picked, geometry, levers);
        let weight = |axis: Axis| units::n::from(masses.moving[axis] * units::gravity());
        let gantry = picked.frame.layout == Layout::MovingGantry;
        let (tool, resting, mass_at) = match axis {
            Axis::X => {
                let resting = stand.load([0.0, weight(axis), 0.0], [0.0, 0.0, places.before_beam]);
                let tool = [0.0, places.below_beam, places.before_beam];
                (tool, resting, places.before_beam)
            }
            Axis::Y if gantry => {
                let hung = [places.before_gantry, places.aside, 0.0];
                let resting = stand.direct([0.0, 0.0, weight(axis)])
                    + stand.moments([0.0, 0.0, weight(Axis::X)], hung);
                let tool = [places.before_gantry, places.aside, places.above_rails.abs()];
                (tool, resting, places.beam_above_rails)
            }
            Axis::Y => {
                let resting = stand.direct([0.0, 0.0, weight(axis)]);
                let tool = [places.off_table, places.aside, places.above_table];
                (tool, resting, places.above_table)
            }
            Axis::Z => {
                let resting = stand.moments([weight(axis), 0.0, 0.0], [0.0, 0.0, places.before_z]);
                let tool = [places.below_beam, 0.0, places.before_z];
                (tool, resting, places.before_z)
            }
        };
        let area = &picked.build.area;
        let inertia = units::n::from(masses.moving[axis] * area.acceleration);
        stand.tool = tool;
        stand.resting = resting;
        stand.cutting = stand.worst(units::n::from(area.cutting_force), tool);
        stand.speeding = stand.moments([inertia, 0.0, 0.0], [0.0, 0.0, mass_at]);
        stand
    }

    fn empty(picked: &Picked, geometry: &Geometry, axis: Axis) -> Self {
        let plan = plan_of(picked, axis);
        let chosen = &picked.axes[axis];
        let a_rail = picked.build.drive.carriages[axis];
        let rails = plan.rails;
        let gap = if axis == Axis::Y {
            geometry.span
        } else {
            plan.rail_gap
        };
        // A lone block, or a plan without a distance, resists by its own rows of balls.
        let along = resisting(
            a_rail > 1,
            plan.carriage_span,
            chosen.carriage.length * OWN_ALONG,
        );
        let across = resisting(rails > 1, gap, chosen.rail.foot_width * OWN_ACROSS);
        Self {
            carriages: f64::from(rails * a_rail),
            along: along * f64::from(rails),
            across: across * f64::from(a_rail),
            tool: [0.0; 3],
            resting: 0.0,
            cutting: 0.0,
            speeding: 0.0,
        }
    }

    /// What a force itself puts on each carriage, moments aside; along the travel the drive
    /// bears it.
    fn direct(&self, force: Vector) -> f64 {
        (force[1].abs() + force[2].abs()) / self.carriages
    }

    /// What the moments of a force at a place put on the worst carriage.
    fn moments(&self, force: Vector, at: Vector) -> f64 {
        let ([ft, fq, fr], [dt, dq, dr]) = (force.map(f64::abs), at.map(f64::abs));
        let pitch = ft * dr + fr * dt;
        let yaw = ft * dq + fq * dt;
        let roll = fq * dr + fr * dq;
        (pitch + yaw) / self.along + roll / self.across
    }

    fn load(&self, force: Vector, at: Vector) -> f64 {
        self.direct(force) + self.moments(force, at)
    }

    /// The load from a force of one size in the direction that loads most.
    fn worst(&self, force: f64, at: Vector) -> f64 {
        let directions = [[force, 0.0, 0.0], [0.0, force, 0.0], [0.0, 0.0, force]];
        let loads = directions.map(|force| self.load(force, at));
        loads.into_iter().fold(0.0, f64::max)
    }

    /// The mean load on the worst carriage over a use.
    pub(super) fn mean_load(&self, usage: &Usage) -> Force {
        units::n::of(usage.cubic_mean([
            self.resting + self.cutting,
            self.resting,
            self.resting + self.speeding,
        ]))
    }
}

/// The longer of a distance between carriages, where there is one, and a block's own.
fn resisting(several: bool, between: Length, own: Length) -> f64 {
    let (between, own) = (units::m::from(between), units::m::from(own));
    if several { between.max(own) } else { own }
}

/// Where tool and masses stand against the carriages, in metres: as they do for the stiffness,
/// but with the tip at the table.
struct Places {
    /// Tool before the carriages on the beam.
    before_beam: f64,
    /// Tool before the Z carriages.
    before_z: f64,
    /// Tip below the middle of the beam, at the table.
    below_beam: f64,
    /// Tool before the middle of the gantry's foot.
    before_gantry: f64,
    /// Tool beside the middle of the machine, at the end of the X travel.
    aside: f64,
    /// Tip above the Y carriages; below them where negative.
    above_rails: f64,
    /// Middle of the beam above the Y carriages.
    beam_above_rails: f64,
    /// Tip above the rails of a moving table.
    above_table: f64,
    /// Tool off the middle of a moving table, at the end of its travel.
    off_table: f64,
}

impl Places {
    fn of(picked: &Picked, geometry: &Geometry, levers: &Levers) -> Self {
        let m = units::m::from;
        let area = &picked.build.area;
        let below_beam = area.clearance + picked.beam_tube.height / 2.0;
        let table = picked.axes.y.carriage.assembly_height + picked.plate.thickness;
        Self {
            before_beam: m(levers.ahead_of_x),
            before_z: m(levers.ahead_of_z),
            below_beam: m(below_beam),
            before_gantry: m(levers.ahead),
            aside: m(geometry.travel.x / 2.0),
            above_rails: m(levers.rise - below_beam),
            beam_above_rails: m(levers.rise),
            above_table: m(table + area.stock_height),
            off_table: m(geometry.travel.y / 2.0),
        }
    }
}
