//! How far the tool gives under a force: springs in series, and the first mode.
//!
//! The machine is taken for springs along X, Y and Z: the drives' screws, nuts, bearings and
//! motors, the carriages with their joints, the Z plate, the beam in bending and torsion, and
//! what it stands on. Each is worked out by a closed form of a handbook and brought to the tool
//! by its lever; what they give adds up. The places along the beam are mid-span, both ends of
//! the travel and halfway between.

use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::spindle::EndMill;
use crate::explain::Recorder;
use crate::order::Order as _;
use crate::units::{self, Frequency, Ratio, Stiffness};
use crate::words::Words;

use super::axis::AxisFigures;
use super::geometry::Geometry;
use super::mass::Masses;

pub mod beam;
mod drive;
mod drive_said;
mod formulas;
mod give;
mod guide;
mod inputs;
pub mod levers;
mod mode;
mod model;
mod notes;
mod posts;
mod table;
pub mod tool;

use beam::per_length;
use give::{Give, Springs};
pub use levers::Levers;
use model::Model;
pub use tool::tool_bending;

crate::words! {
    /// What gives under a force on the tool.
    SpringName {
        Screw = "screw", "screw stretching", "The screw is stretched and pressed between its nut and its fixed bearing.";
        Nut = "nut", "nut", "The balls or threads in the nut give.";
        Bearing = "screw-bearing", "screw bearing", "The bearing that takes the screw's thrust gives.";
        Twist = "screw-twist", "screw twisting", "The screw is twisted between motor and nut.";
        Coupling = "coupling", "coupling", "The coupling between motor and screw twists.";
        Bracket = "screw-bracket", "screw bracket", "The printed bracket that holds the screw's bearing is squeezed.";
        Rack = "rack", "rack teeth", "The teeth of rack and pinion bend.";
        Belt = "belt", "belt", "The belt stretches.";
        Motor = "motor", "motor", "A stepper's rotor lags behind its field: a magnetic spring.";
        CarriagesX = "carriages-x", "X carriages", "The carriages on the beam give and tilt, with their joints.";
        CarriagesY = "carriages-y", "Y carriages", "The carriages of gantry or table give and tilt, with their joints.";
        CarriagesZ = "carriages-z", "Z carriages", "The carriages of the Z axis give and tilt, with their joints.";
        ZPlate = "z-plate", "Z plate", "The plate that holds the spindle bends below its carriages.";
        Beam = "beam", "beam bending", "The beam bends between its ends.";
        BeamTwist = "beam-twist", "beam twisting", "The beam twists between its ends, for the tool hangs below and before it.";
        Uprights = "uprights", "uprights", "The posts below the beam's ends bend.";
        Legs = "legs", "legs", "The legs below the side beams bend.";
        SideBeams = "side-beams", "side beams", "The tubes below the Y rails bend between their supports.";
        Yaw = "gantry-yaw", "gantry turning", "The gantry turns aside on its Y carriages and drives.";
        Table = "table", "table plate", "The moving table bends between and beyond its carriages.";
    }
}

/// Which wall a tube is taken to have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Wall {
    /// The measured one, else its nominal one.
    Nominal,
    /// The measured one, else the thinnest that the standard allows.
    Thinnest,
}

/// One spring of the series, as it gives at the tool.
#[derive(Clone, Copy, Debug)]
pub struct Spring {
    /// What gives.
    pub name: SpringName,
    /// How stiff it would be alone, seen from the collet.
    pub stiffness: Stiffness,
    /// Its share of all that gives.
    pub share: Ratio,
}

/// How many places along the beam are looked at.
const PLACES: usize = 5;

/// The stiffness of a machine, direction by direction.
#[derive(Clone, Debug)]
pub struct MachineStiffness {
    /// At the collet, with the carriage at mid-span.
    pub collet: PerAxis<Stiffness>,
    /// At the collet, at the worst place of the travel.
    pub collet_worst: PerAxis<Stiffness>,
    /// At the tip of the usual tool, at mid-span.
    pub tip: PerAxis<Stiffness>,
    /// At the tip of the usual tool, at the worst place.
    pub tip_worst: PerAxis<Stiffness>,
    /// At the collet at mid-span, with the thinnest walls that the standard allows.
    pub collet_thin_wall: PerAxis<Stiffness>,
    /// The same at the worst place of the travel.
    pub collet_worst_thin_wall: PerAxis<Stiffness>,
    /// At the tip of the usual tool, at the worst place, with the thinnest walls: the worst case
    /// of all.
    pub tip_worst_thin_wall: PerAxis<Stiffness>,
    /// The springs of each direction at mid-span, the softest first.
    pub springs: PerAxis<Vec<Spring>>,
    /// First bending mode of the gantry.
    pub first_mode: Frequency,
    /// What the model says at the collet where the builder measured it.
    pub modelled: PerAxis<Option<Stiffness>>,
    /// Where things lie.
    pub levers: Levers,
    /// What all springs give together at each place, the first one mid-span.
    gives: PerAxis<[Give; PLACES]>,
}

/// What the machine gives along X and Y at each place of its travel, which is all that cuts
/// need of the stiffness at the tips of tools.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Tips {
    x: [Give; PLACES],
    y: [Give; PLACES],
}

impl Tips {
    /// Stiffness at the tip of a tool along X and Y, the machine at its worst place.
    pub(super) fn with(&self, tool: &EndMill) -> (Stiffness, Stiffness) {
        (
            at_tip(&self.x, tool, Axis::X),
            at_tip(&self.y, tool, Axis::Y),
        )
    }
}

/// Stiffness along an axis at the tip of a tool, the machine at its worst place.
fn at_tip(gives: &[Give; PLACES], tool: &EndMill, axis: Axis) -> Stiffness {
    per_length(most(gives, tool.reach.value) + tool::gives(tool, axis))
}

impl MachineStiffness {
    /// Works the stiffness out.
    pub(super) fn of(
        picked: &Picked,
        geometry: &Geometry,
        masses: &Masses,
        axes: &PerAxis<AxisFigures>,
        notes: &mut impl Recorder,
    ) -> Self {
        let model = Model::of(picked, geometry, axes);
        let thin = model.thinnest(picked, geometry);
        let places = places(&model.levers);
        let middle = PerAxis::from_fn(|axis| model.springs(axis, places[0]));
        let modelled = PerAxis::from_fn(|axis| {
            let mut each = [middle[axis].all(); PLACES];
            for (give, place) in each.iter_mut().zip(places).skip(1) {
                *give = model.springs(axis, place).all();
            }
            each
        });
        // What was measured at the collet takes the model's place; the other places, the thin
        // wall and the tip follow in proportion. The shares of the springs stay the model's.
        let by = PerAxis::from_fn(|axis| measured_by(picked, axis, modelled[axis][0]));
        let scaled = |gives: [Give; PLACES], axis: Axis| gives.map(|give| give * (1.0 / by[axis]));
        let gives = PerAxis::from_fn(|axis| scaled(modelled[axis], axis));
        let thin_gives = PerAxis::from_fn(|axis| {
            scaled(places.map(|place| thin.springs(axis, place).all()), axis)
        });
        let mode = mode::first(&model, &middle, masses, geometry, &by);
        let tool = |axis| tool::gives(picked.tool, axis);
        let reach = picked.tool.reach.value;
        let stiffness = Self {
            collet: PerAxis::from_fn(|axis| per_length(gives[axis][0].reaching(0.0))),
            collet_worst: PerAxis::from_fn(|axis| per_length(most(&gives[axis], 0.0))),
            tip: PerAxis::from_fn(|axis| per_length(gives[axis][0].reaching(reach) + tool(axis))),
            tip_worst: PerAxis::from_fn(|axis| at_tip(&gives[axis], picked.tool, axis)),
            collet_thin_wall: PerAxis::from_fn(|axis| {
                per_length(thin_gives[axis][0].reaching(0.0))
            }),
            collet_worst_thin_wall: PerAxis::from_fn(|axis| {
                per_length(most(&thin_gives[axis], 0.0))
            }),
            tip_worst_thin_wall: PerAxis::from_fn(|axis| {
                at_tip(&thin_gives[axis], picked.tool, axis)
            }),
            springs: PerAxis::from_fn(|axis| ranked(&middle[axis])),
            first_mode: mode.frequency,
            modelled: PerAxis::from_fn(|axis| {
                let measured = picked.build.measured.give[axis];
                measured.map(|_| per_length(modelled[axis][0].reaching(0.0)))
            }),
            levers: model.levers,
            gives,
        };
        notes::all(&stiffness, (&model, &thin), picked, &mode, notes);
        stiffness
    }

    /// Stiffness at the tip of a tool, the machine at its worst place: that of the machine
    /// at the tool's reach below the nose, in series with the tool's own bending.
    pub fn tip_with(&self, tool: &EndMill) -> PerAxis<Stiffness> {
        PerAxis::from_fn(|axis| at_tip(&self.gives[axis], tool, axis))
    }

    /// What it gives along X and Y at the tips of tools.
    pub(super) fn tips(&self) -> Tips {
        Tips {
            x: self.gives.x,
            y: self.gives.y,
        }
    }

    /// The stiffness at the collet at mid-span of a machine that is the same but for what
    /// `picked` names otherwise, such as its tubes: for rules that look at what is on offer.
    pub fn collet_of(
        picked: &Picked,
        geometry: &Geometry,
        axes: &PerAxis<AxisFigures>,
    ) -> PerAxis<Stiffness> {
        let model = Model::of(picked, geometry, axes);
        let middle = places(&model.levers)[0];
        PerAxis::from_fn(|axis| per_length(model.springs(axis, middle).all().reaching(0.0)))
    }

    /// What the thinnest wall takes of the stiffness at the collet, where it takes most.
    pub fn thin_wall_loss(&self) -> (Axis, Ratio) {
        let loss = |axis: Axis| 1.0 - (self.collet_thin_wall[axis] / self.collet[axis]).value;
        let mut worst = (Axis::X, loss(Axis::X));
        for axis in [Axis::Y, Axis::Z] {
            if loss(axis) > worst.1 {
                worst = (axis, loss(axis));
            }
        }
        (worst.0, units::share::of(worst.1))
    }
}

/// How many times stiffer the collet was measured than the model has it; 1 where it was not.
fn measured_by(picked: &Picked, axis: Axis, give: Give) -> f64 {
    let measured = &picked.build.measured;
    measured.give[axis].map_or(1.0, |gave| {
        units::n::from(measured.pull) / units::m::from(gave) * give.reaching(0.0)
    })
}

/// The places along the beam: mid-span, both ends of the travel, and halfway to them.
fn places(levers: &Levers) -> [Ratio; PLACES] {
    let end = (levers.margin / levers.span).value.clamp(0.0, 0.5);
    let half = (0.5 + end) / 2.0;
    [0.5, end, 1.0 - end, half, 1.0 - half].map(units::share::of)
}

/// What gives most at a reach, of several places.
fn most(gives: &[Give; PLACES], reach: f64) -> f64 {
    gives
        .iter()
        .map(|give| give.reaching(reach))
        .fold(0.0, f64::max)
}

/// The springs that there are, the softest first.
fn ranked(springs: &Springs) -> Vec<Spring> {
    let all = springs.all().reaching(0.0);
    let mut found: Vec<Spring> = Vec::with_capacity(SpringName::ALL.len());
    for &name in SpringName::ALL {
        let give = springs.of(name).reaching(0.0);
        if give > 0.0 {
            found.push(Spring {
                name,
                stiffness: per_length(give),
                share: units::share::of(give / all),
            });
        }
    }
    found.order_by(|a, b| b.share.value.total_cmp(&a.share.value));
    found
}
