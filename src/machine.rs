//! What the choices make: geometry, masses, axes and electrics, as typed figures.
//!
//! [`Machine::of`] is a pure function of the picked parts. Nothing in it is stored; every
//! figure on any surface comes from here.

pub mod axis;
pub mod cabinet;
pub mod cable_load;
pub mod circuit;
pub mod conductor;
pub mod cutting;
pub mod drive;
pub mod electrics;
pub mod feed;
pub mod geometry;
pub mod inverter;
pub mod job;
pub mod life;
pub mod limits;
mod load;
pub mod loads;
pub mod mass;
pub mod measured;
pub mod motion;
pub mod motor_draw;
pub mod printing;
pub mod section;
pub mod servo;
pub mod sizing;
pub mod stepper;
pub mod stiffness;
pub mod supply;
pub mod terminals;
pub mod torque;
pub mod wiring;

use std::sync::Arc;

use crate::build::{Axis, PerAxis, Picked};
use crate::explain::Recorder;
use crate::words::Words as _;
use axis::AxisFigures;
use cutting::Cutting;
use electrics::Electrics;
use geometry::Geometry;
use job::JobTime;
use life::Life;
use mass::Masses;
use measured::Compared;
use stiffness::MachineStiffness;
use wiring::lead::Lead;

/// The path of a figure of an axis.
fn axis_path(axis: Axis, figure: &str) -> String {
    format!("axes.{}.{figure}", axis.id())
}

/// Everything that can be said of a machine before anybody asks what it costs.
#[derive(Clone, Debug)]
pub struct Machine {
    /// Lengths, pieces, cable runs, footprint.
    pub geometry: Geometry,
    /// Moving masses and the total.
    pub masses: Masses,
    /// Speeds, forces and steps of each axis.
    pub axes: PerAxis<AxisFigures>,
    /// How far the tool gives under a force, and the first bending mode.
    pub stiffness: MachineStiffness,
    /// What each tool can do in each material.
    pub cutting: Arc<Cutting>,
    /// How long nuts and carriages last.
    pub life: PerAxis<Life>,
    /// Minutes for the named job; none where no job is named.
    pub job: Option<JobTime>,
    /// Mains circuits, supplies, cabinet heat.
    pub electrics: Electrics,
    /// Runs that no plan routes: mains, cabinet, buttons, earths.
    pub leads: Vec<Lead>,
    /// What was measured, beside what the model says.
    pub measured: Vec<Compared>,
}

impl Machine {
    /// Works the machine out, and notes how.
    pub fn of(picked: &Picked, notes: &mut impl Recorder) -> Self {
        Self::beside(picked, None, notes)
    }

    /// The same beside a machine that is known with its parts: what follows from the same is
    /// taken from there. Then nothing is noted of it.
    pub(crate) fn beside(
        picked: &Picked,
        known: Option<(&Picked, &Self)>,
        notes: &mut impl Recorder,
    ) -> Self {
        let geometry = Geometry::of(picked, notes);
        let masses = Masses::of(picked, &geometry, notes);
        let axes =
            PerAxis::from_fn(|axis| AxisFigures::of(picked, &geometry, &masses, axis, notes));
        let stiffness = MachineStiffness::of(picked, &geometry, &masses, &axes, notes);
        let cutting = Cutting::beside(picked, &axes, &stiffness, known, notes);
        let levers = &stiffness.levers;
        let life = PerAxis::from_fn(|axis| {
            Life::of(picked, &geometry, &masses, &axes, levers, axis, notes)
        });
        let job = JobTime::of(picked, &axes, &cutting, notes);
        let electrics = Electrics::of(picked, &axes, notes);
        let leads = wiring::leads(picked, &geometry, &electrics, notes);
        measured::note_walls(picked, notes);
        let measured = measured::compare(picked, &axes, &stiffness, &electrics, notes);
        Self {
            geometry,
            masses,
            axes,
            stiffness,
            cutting,
            life,
            job,
            electrics,
            leads,
            measured,
        }
    }
}
