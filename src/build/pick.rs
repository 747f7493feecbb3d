//! The build with its ids followed into the catalogue: what `machine`, `bill` and `rules`
//! work on.

use super::choices::working_area::SecondCircuit;
use super::{Axis, Build, PerAxis, choices, nearest};
use crate::catalogue::control::{Computer, Controller, Licence, Switch};
use crate::catalogue::destination::Destination;
use crate::catalogue::extras::{Coolant, Extractor, Table, ToolSensor, Workholding};
use crate::catalogue::frame::FramePlan;
use crate::catalogue::guide::{Carriage, Rail};
use crate::catalogue::job::Job;
use crate::catalogue::linear_drive::Coupling;
use crate::catalogue::material::Material;
use crate::catalogue::motor::{Driver, Supply};
use crate::catalogue::site::Site;
use crate::catalogue::spindle::{Cooler, EndMill, Spindle, SpindleClamp, Vfd};
use crate::catalogue::structure::{Filament, Plate, Tube};
use crate::catalogue::wiring::{Cabinet, Cable, Chain, Enclosure, Fan};
use crate::catalogue::{Catalogue, Id, LinearDrive, Motor, Shelf};
use crate::units::Length;

/// An id that leads nowhere.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{choice}: there is no part {id:?} in the catalogue{hint}")]
pub struct Unresolved {
    /// The choice that names it.
    pub choice: String,
    /// The id.
    pub id: String,
    /// The nearest known id.
    pub hint: String,
}

/// The parts of one axis.
#[derive(Clone, Copy, Debug)]
pub struct PickedAxis<'c> {
    /// Carriage.
    pub carriage: &'c Carriage,
    /// The rail it runs on.
    pub rail: &'c Rail,
    /// Linear drive.
    pub drive: LinearDrive<'c>,
    /// Motor.
    pub motor: Motor<'c>,
    /// Coupling.
    pub coupling: &'c Coupling,
    /// Driver.
    pub driver: &'c Driver,
}

/// The wall of a tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TubeWall {
    /// As the tube is named.
    pub named: Length,
    /// As it was measured, where that can be this tube at all.
    pub measured: Option<Length>,
}

impl TubeWall {
    /// How far a measured wall may lie from the named one, as a share of it: three times what
    /// EN 10219-2:2006, Table 2 allows. Beyond that another tube was measured.
    pub const PLAUSIBLE: f64 = 0.3;

    /// The wall of a tube that nobody measured.
    pub fn named(tube: &Tube) -> Self {
        Self::measured(tube, None)
    }

    /// The wall of a tube; a measured one that cannot be this tube's is left out.
    pub fn measured(tube: &Tube, measured: Option<Length>) -> Self {
        let near = |wall: &Length| ((*wall / tube.wall).value - 1.0).abs() <= Self::PLAUSIBLE;
        Self {
            named: tube.wall,
            measured: measured.filter(near),
        }
    }

    /// The wall that figures take.
    pub fn used(self) -> Length {
        self.measured.unwrap_or(self.named)
    }
}

/// A build and the parts that it names.
#[derive(Clone, Debug)]
pub struct Picked<'c> {
    /// The build itself.
    pub build: &'c Build,
    /// Where its parts come from.
    pub catalogue: &'c Catalogue,
    /// Site.
    pub site: &'c Site,
    /// Where goods are delivered to.
    pub destination: &'c Destination,
    /// Frame plan.
    pub frame: &'c FramePlan,
    /// Tube of the beam.
    pub beam_tube: &'c Tube,
    /// Tube of the rest.
    pub base_tube: &'c Tube,
    /// Wall of the beam's tube.
    pub beam_wall: TubeWall,
    /// Wall of the other tubes.
    pub base_wall: TubeWall,
    /// Plate.
    pub plate: &'c Plate,
    /// Printing material.
    pub filament: &'c Filament,
    /// Materials to be cut.
    pub materials: Vec<&'c Material>,
    /// Each axis.
    pub axes: PerAxis<PickedAxis<'c>>,
    /// The other side's drive on Y.
    pub second_drive: LinearDrive<'c>,
    /// Motor supply.
    pub supply: &'c Supply,
    /// Spindle.
    pub spindle: &'c Spindle,
    /// Inverter.
    pub vfd: Option<&'c Vfd>,
    /// Spindle clamp.
    pub clamp: &'c SpindleClamp,
    /// Spindle cooler.
    pub cooler: Option<&'c Cooler>,
    /// Usual tool.
    pub tool: &'c EndMill,
    /// Controller.
    pub controller: &'c Controller,
    /// Computer.
    pub computer: Option<&'c Computer>,
    /// Tool-path program that is paid by the year.
    pub licence: Option<&'c Licence>,
    /// Limit switches.
    pub switch: &'c Switch,
    /// Motor cable.
    pub motor_cable: &'c Cable,
    /// Switch cable.
    pub switch_cable: &'c Cable,
    /// Spindle cable.
    pub spindle_cable: &'c Cable,
    /// Cable chain.
    pub chain: &'c Chain,
    /// Cabinet.
    pub cabinet: &'c Cabinet,
    /// Cabinet fan.
    pub fan: Option<&'c Fan>,
    /// Extractor.
    pub extractor: Option<&'c Extractor>,
    /// Cutting coolant.
    pub coolant: Option<&'c Coolant>,
    /// Enclosure.
    pub enclosure: Option<&'c Enclosure>,
    /// Table.
    pub table: Option<&'c Table>,
    /// Tool-length sensor.
    pub tool_sensor: Option<&'c ToolSensor>,
    /// Workholding.
    pub workholding: Option<&'c Workholding>,
    /// The named job.
    pub job: Option<&'c Job>,
    /// The material of the job: the one chosen for it, else the one that the job names.
    pub job_material: Option<&'c Material>,
}

fn one<'c, T>(shelf: &'c Shelf<T>, id: &Id, choice: &str) -> Result<&'c T, Unresolved> {
    shelf
        .get(id)
        .ok_or_else(|| unresolved(id, choice, shelf.keys().map(Id::as_str)))
}

fn maybe<'c, T>(
    shelf: &'c Shelf<T>,
    id: Option<&Id>,
    choice: &str,
) -> Result<Option<&'c T>, Unresolved> {
    id.map(|id| one(shelf, id, choice)).transpose()
}

fn unresolved<'k>(id: &Id, choice: &str, known: impl Iterator<Item = &'k str>) -> Unresolved {
    Unresolved {
        choice: choice.to_owned(),
        id: id.to_string(),
        hint: nearest::hint(id.as_str(), known),
    }
}

fn drive<'c>(
    catalogue: &'c Catalogue,
    id: &Id,
    choice: &str,
) -> Result<LinearDrive<'c>, Unresolved> {
    LinearDrive::of(catalogue, id.as_str()).ok_or_else(|| {
        let known = LinearDrive::KINDS
            .iter()
            .flat_map(|&kind| catalogue.of_kind(kind));
        unresolved(id, choice, known.map(|part| part.id().as_str()))
    })
}

fn axis<'c>(
    catalogue: &'c Catalogue,
    build: &Build,
    axis: Axis,
) -> Result<PickedAxis<'c>, Unresolved> {
    let named = |what: &str| axis.choice(what);
    let chosen = &build.drive;
    let carriage = one(&catalogue.carriages, &chosen.guide[axis], &named("guide"))?;
    let motor = &chosen.motor[axis];
    Ok(PickedAxis {
        carriage,
        rail: one(&catalogue.rails, &carriage.rail, &named("guide"))?,
        drive: drive(catalogue, &chosen.drive[axis], &named("drive"))?,
        motor: Motor::of(catalogue, motor.as_str()).ok_or_else(|| {
            let known = Motor::KINDS
                .iter()
                .flat_map(|&kind| catalogue.of_kind(kind));
            unresolved(motor, &named("motor"), known.map(|part| part.id().as_str()))
        })?,
        coupling: one(
            &catalogue.couplings,
            &chosen.coupling[axis],
            &named("coupling"),
        )?,
        driver: one(&catalogue.drivers, &chosen.driver[axis], &named("driver"))?,
    })
}

impl<'c> Picked<'c> {
    /// Follows every id of a build.
    ///
    /// # Errors
    /// The first choice whose part does not exist.
    pub fn new(catalogue: &'c Catalogue, build: &'c Build) -> Result<Self, Unresolved> {
        let Build {
            area,
            drive: motion,
            spindle,
            control,
            extras,
            ..
        } = build;
        let materials = area
            .materials
            .iter()
            .map(|id| one(&catalogue.materials, id, "materials"));
        let job = maybe(&catalogue.jobs, extras.job.named.as_ref(), "job")?;
        let beam_tube = one(&catalogue.tubes, &area.beam_tube, "beam_tube")?;
        let base_tube = one(&catalogue.tubes, &area.base_tube, "base_tube")?;
        Ok(Self {
            build,
            catalogue,
            beam_tube,
            base_tube,
            beam_wall: TubeWall::measured(beam_tube, build.measured.beam_wall),
            base_wall: TubeWall::measured(base_tube, build.measured.base_wall),
            site: one(&catalogue.sites, &area.site, "site")?,
            destination: one(&catalogue.destinations, &area.destination, "destination")?,
            frame: one(&catalogue.frames, &area.frame, "frame_plan")?,
            plate: one(&catalogue.plates, &area.plate, "plate")?,
            filament: one(&catalogue.filaments, &area.filament, "filament")?,
            materials: materials.collect::<Result<_, _>>()?,
            axes: PerAxis::try_from_fn(|which| axis(catalogue, build, which))?,
            second_drive: match &motion.second_drive {
                Some(id) => drive(catalogue, id, "drive_y2")?,
                None => drive(catalogue, &motion.drive.y, "drive_y")?,
            },
            supply: one(&catalogue.supplies, &motion.supply, "supply")?,
            spindle: one(&catalogue.spindles, &spindle.spindle, "spindle")?,
            vfd: maybe(&catalogue.vfds, spindle.vfd.as_ref(), "vfd")?,
            clamp: one(&catalogue.spindle_clamps, &spindle.clamp, "spindle_clamp")?,
            cooler: maybe(&catalogue.coolers, spindle.cooler.as_ref(), "cooler")?,
            tool: one(&catalogue.end_mills, &spindle.tool, "tool")?,
            controller: one(&catalogue.controllers, &control.controller, "controller")?,
            computer: maybe(&catalogue.computers, control.computer.as_ref(), "computer")?,
            licence: maybe(
                &catalogue.licences,
                control.cam_licence.as_ref(),
                "cam_licence",
            )?,
            switch: one(&catalogue.switches, &control.switch, "switch")?,
            motor_cable: one(&catalogue.cables, &control.motor_cable, "motor_cable")?,
            switch_cable: one(&catalogue.cables, &control.switch_cable, "switch_cable")?,
            spindle_cable: one(&catalogue.cables, &control.spindle_cable, "spindle_cable")?,
            chain: one(&catalogue.chains, &control.chain, "chain")?,
            cabinet: one(&catalogue.cabinets, &control.cabinet, "cabinet")?,
            fan: maybe(&catalogue.fans, control.fan.as_ref(), "fan")?,
            extractor: maybe(
                &catalogue.extractors,
                extras.extractor.as_ref(),
                "extractor",
            )?,
            coolant: maybe(&catalogue.coolants, extras.coolant.as_ref(), "coolant")?,
            enclosure: maybe(
                &catalogue.enclosures,
                extras.enclosure.as_ref(),
                "enclosure",
            )?,
            table: maybe(&catalogue.tables, extras.table.as_ref(), "table")?,
            tool_sensor: maybe(
                &catalogue.tool_sensors,
                extras.tool_sensor.as_ref(),
                "tool_sensor",
            )?,
            workholding: maybe(
                &catalogue.workholdings,
                extras.workholding.as_ref(),
                "workholding",
            )?,
            job,
            job_material: match (&extras.job.material, job) {
                (Some(id), _) => Some(one(&catalogue.materials, id, "job_material")?),
                (None, Some(job)) => Some(one(&catalogue.materials, &job.material, "job")?),
                (None, None) => None,
            },
        })
    }

    /// Whether loads may hang on a second circuit: as somebody looked, else as is usual at such
    /// a socket.
    pub fn has_second_circuit(&self) -> bool {
        match self.build.area.second_circuit {
            SecondCircuit::Usual => self.site.second_circuit,
            SecondCircuit::There | SecondCircuit::Laid => true,
            SecondCircuit::Missing => false,
        }
    }

    /// The inverter that is in use: one beside a hand router feeds nothing.
    pub fn inverter(&self) -> Option<&'c Vfd> {
        self.vfd.filter(|_| self.spindle.needs_vfd())
    }

    /// Hole pitch of an axis's rails: as measured, else as their type has it.
    pub fn rail_pitch(&self, axis: Axis) -> Length {
        let measured = self.build.measured.rail_pitch[axis];
        measured.unwrap_or(self.axes[axis].rail.hole_pitch)
    }

    /// Motors on an axis.
    pub fn motors(&self, axis: Axis) -> u32 {
        let paired = self.build.drive.gantry == choices::drive::GantryDrive::EachSide;
        if axis == Axis::Y && paired { 2 } else { 1 }
    }

    /// Travel for one turn of the motor behind a drive: a screw has no reduction.
    pub fn travel_a_motor_turn(&self, drive: LinearDrive) -> Length {
        match drive.is_screw() {
            true => drive.travel_a_turn(),
            false => drive.travel_a_turn() / self.build.drive.reduction,
        }
    }

    /// The second drive of an axis, where it has one that differs from the first.
    pub fn other_drive(&self, axis: Axis) -> Option<LinearDrive<'c>> {
        let second = self.second_drive;
        let differs = self.axes[axis].drive.part().id() != second.part().id();
        (self.motors(axis) == 2 && differs).then_some(second)
    }

    /// The drives of an axis, one for each motor.
    pub fn drives(&self, axis: Axis) -> Vec<LinearDrive<'c>> {
        let first = self.axes[axis].drive;
        if self.motors(axis) == 2 {
            vec![first, self.second_drive]
        } else {
            vec![first]
        }
    }
}
