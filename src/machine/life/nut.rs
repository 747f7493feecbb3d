//! Life of a ball nut (ISO 3408-5): L = (Ca/Fm)³ · 10⁶ turns, each direction of load on its
//! own side of the thread, and both sides put together.

use super::usage::Usage;
use crate::build::{Axis, Picked};
use crate::catalogue::LinearDrive;
use crate::catalogue::linear_drive::BallScrew;
use crate::machine::axis::AxisFigures;
use crate::units::{self, Force, Length};

/// Preload of a pair of nuts as a share of the dynamic load rating: light, as routers have
/// it (common practice; catalogues state rigidity at twice as much).
pub(super) const PRELOAD: f64 = 0.05;

/// Travel that nine of ten nuts reach, from the mean loads on the two sides of the thread:
/// L = (L1^(-10/9) + L2^(-10/9))^(-9/10), with Li = (Ca/Fi)³ · 10⁶ turns.
pub fn nut_travel(rating: Force, sides: [Force; 2], lead: Length) -> Length {
    let ratings = sides.map(|side| units::n::from(side) / units::n::from(rating));
    lead * (1e6 * strain(ratings).powf(-0.9))
}

/// Σ (Fi/Ca)^(10/3): the sum over both sides from which life and equivalent load follow; a
/// side without load adds nothing, where its life alone would have no end.
fn strain(sides: [f64; 2]) -> f64 {
    sides.iter().map(|side| side.powf(10.0 / 3.0)).sum()
}

/// Loads of a preloaded pair under an outer force: F1 = Fp (1 + F/(2^1.5 Fp))^1.5 and
/// F2 = F1 - F; beyond 2^1.5 Fp the second nut is free (ISO 3408-5, ball contact by Hertz).
pub fn pair_loads(preload: Force, outer: Force) -> [Force; 2] {
    let (preload, outer) = (units::n::from(preload), units::n::from(outer));
    pair(preload, outer).map(units::n::of)
}

fn pair(preload: f64, outer: f64) -> [f64; 2] {
    let free = 2.0_f64.powf(1.5) * preload;
    if outer >= free {
        return [outer, 0.0];
    }
    let pressed = preload * (1.0 + outer / free).powf(1.5);
    [pressed, (pressed - outer).max(0.0)]
}

/// The forces along a screw in one use.
#[derive(Clone, Copy)]
pub(super) struct Forces {
    /// Against the travel while cutting, at rapids, and while speeding up.
    pub(super) against: [f64; 3],
    /// Weight that always pulls one way; zero on X and Y.
    pub(super) weight: f64,
    /// Preload of the pair; zero for a single nut.
    pub(super) preload: f64,
}

impl Forces {
    fn of(picked: &Picked, figures: &AxisFigures, screw: &BallScrew) -> Self {
        let area = &picked.build.area;
        let friction = units::n::from(figures.friction);
        let cut = units::n::from(area.cutting_force * figures.tool_share);
        let inertia = units::n::from(figures.carried_mass * area.acceleration);
        let preload = if picked.build.drive.preloaded_nuts {
            units::n::from(screw.dynamic_load) * PRELOAD
        } else {
            0.0
        };
        Self {
            against: [friction + cut, friction, friction + inertia],
            weight: units::n::from(figures.weight),
            preload,
        }
    }

    /// Mean load on each side of the thread: half of the travel goes either way.
    pub(super) fn sides(&self, usage: &Usage) -> [f64; 2] {
        let forth = self.against.map(|force| self.on_sides(self.weight + force));
        let back = self.against.map(|force| self.on_sides(self.weight - force));
        let mean = |side: usize| {
            let forth = usage.cubic_mean(forth.map(|loads| loads[side]));
            let back = usage.cubic_mean(back.map(|loads| loads[side]));
            ((forth.powi(3) + back.powi(3)) / 2.0).cbrt()
        };
        [mean(0), mean(1)]
    }

    /// The load on each side under one force, which pulls towards the first where positive.
    fn on_sides(&self, force: f64) -> [f64; 2] {
        let [pressed, relieved] = if self.preload > 0.0 {
            pair(self.preload, force.abs())
        } else {
            [force.abs(), 0.0]
        };
        if force >= 0.0 {
            [pressed, relieved]
        } else {
            [relieved, pressed]
        }
    }
}

/// The loads of a ball nut, and what follows from them.
#[derive(Clone, Copy)]
pub(super) struct NutLoads<'c> {
    /// The screw.
    pub(super) screw: &'c BallScrew,
    /// The forces along it.
    pub(super) forces: Forces,
    /// Mean load on each side of the thread.
    pub(super) sides: [Force; 2],
}

impl<'c> NutLoads<'c> {
    /// The nut of an axis that wears out first; none where no ball screw drives it.
    pub(super) fn weakest(
        picked: &Picked<'c>,
        figures: &AxisFigures,
        axis: Axis,
        usage: &Usage,
    ) -> Option<Self> {
        let of = |drive: LinearDrive<'c>| match drive {
            LinearDrive::Ball(screw) => {
                let forces = Forces::of(picked, figures, screw);
                Some(Self {
                    screw,
                    forces,
                    sides: forces.sides(usage).map(units::n::of),
                })
            }
            LinearDrive::Lead(_) | LinearDrive::Rack(_) | LinearDrive::Belt(_) => None,
        };
        let nuts = picked.drives(axis).into_iter().filter_map(of);
        nuts.reduce(|one, other| match other.travel() < one.travel() {
            true => other,
            false => one,
        })
    }

    /// Travel until nine of ten still run.
    pub(super) fn travel(&self) -> Length {
        nut_travel(self.screw.dynamic_load, self.sides, self.screw.lead)
    }

    /// The one load that would give the same life.
    pub(super) fn load(&self) -> Force {
        let rating = self.screw.dynamic_load;
        let ratings = self
            .sides
            .map(|side| units::n::from(side) / units::n::from(rating));
        rating * strain(ratings).powf(0.3)
    }
}
