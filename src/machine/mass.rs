//! Masses: what each axis moves, summed from the parts, and what the whole weighs.

use super::geometry::{Geometry, drive_length, supports};
use super::section;
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::LinearDrive;
use crate::catalogue::frame::{Layout, Rides};
use crate::explain::Recorder;
use crate::units::{self, Length, LinearMassDensity, Mass};

/// The masses of a machine.
#[derive(Clone, Copy, Debug)]
pub struct Masses {
    /// What each axis moves, everything that it carries included.
    pub moving: PerAxis<Mass>,
    /// What rides on each axis itself, without the axes above it.
    pub own: PerAxis<Mass>,
    /// Members, plates and rails that stand still.
    pub still: Mass,
    /// The whole machine without table, cabinet and computer.
    pub total: Mass,
}

impl Masses {
    /// Sums the parts.
    pub fn of(picked: &Picked, geometry: &Geometry, _notes: &mut impl Recorder) -> Self {
        let on = |rides: Rides| structure(picked, geometry, rides);
        let mut own = PerAxis {
            x: on(Rides::X),
            y: on(Rides::Y),
            z: on(Rides::Z),
        };
        let mut still = on(Rides::Still);
        own.z += picked.spindle.mass + picked.clamp.mass;
        for axis in Axis::EACH {
            place_axis(picked, geometry, axis, &mut own, &mut still);
        }
        let moving_gantry = picked.frame.layout == Layout::MovingGantry;
        let x = own.x + own.z;
        let y = if moving_gantry {
            own.y + x
        } else {
            own.y + largest_workpiece(picked, geometry)
        };
        let total = own.x + own.y + own.z + still;
        Self {
            moving: PerAxis { x, y, z: own.z },
            own,
            still,
            total,
        }
    }
}

/// The heaviest workpiece that a moving table may carry: the whole bed, as high as the
/// tallest stock, of the densest material wished for.
fn largest_workpiece(picked: &Picked, geometry: &Geometry) -> Mass {
    let densities = picked
        .materials
        .iter()
        .map(|material| units::kg_per_m3::from(material.density));
    let densest = units::kg_per_m3::of(densities.fold(0.0, f64::max));
    geometry.bed * picked.build.area.stock_height * densest
}

/// Members, plates and prints that ride on one thing.
fn structure(picked: &Picked, geometry: &Geometry, rides: Rides) -> Mass {
    let mut sum = units::kg::of(0.0);
    for member in geometry
        .members
        .iter()
        .filter(|member| member.rides == rides)
    {
        let tube = if member.tube == picked.beam_tube.id {
            picked.beam_tube
        } else {
            picked.base_tube
        };
        sum += section::Section::of(tube).linear_mass() * member.length * f64::from(member.pieces);
    }
    for plate in geometry.plates.iter().filter(|plate| plate.rides == rides) {
        let volume = plate.width * plate.length * picked.plate.thickness;
        sum += volume * picked.plate.density * f64::from(plate.pieces);
    }
    for print in geometry.prints.iter().filter(|print| print.rides == rides) {
        sum += print.volume * picked.filament.density * f64::from(print.pieces);
    }
    sum
}

/// Puts rails, carriages, drive and motors of one axis where they ride: what guides an
/// axis sits on the axis below it, its carriages move with it. The Z carriages sit on the X
/// plate and the Z rails move, as does the Z motor with the X plate.
fn place_axis(
    picked: &Picked,
    geometry: &Geometry,
    axis: Axis,
    own: &mut PerAxis<Mass>,
    still: &mut Mass,
) {
    let chosen = &picked.axes[axis];
    let cut = &geometry.rails[axis];
    let rails = chosen.rail.linear_mass * cut.length * f64::from(cut.rails);
    let carriages = chosen.carriage.mass * f64::from(cut.carriages);
    let motors = f64::from(picked.motors(axis));
    let coupling = if chosen.drive.is_screw() {
        chosen.coupling.mass
    } else {
        units::kg::of(0.0)
    };
    let motor = (chosen.motor.mass() + coupling) * motors;
    let (fixed, nuts) = drive_masses(picked, geometry, axis);
    let below =
        |own: &mut PerAxis<Mass>, still: &mut Mass, mass: Mass| match (axis, picked.frame.layout) {
            (Axis::Z, _) => own.x += mass,
            (Axis::X, Layout::MovingGantry) => own.y += mass,
            (Axis::X, Layout::MovingTable) | (Axis::Y, _) => *still += mass,
        };
    match axis {
        Axis::Z => {
            own.z += rails;
            below(own, still, carriages + fixed + motor);
            own.z += nuts;
        }
        Axis::X | Axis::Y => {
            let turning = chosen.drive.is_screw();
            let strips = if picked.build.area.thread_strips {
                thread_strip() * cut.length * f64::from(cut.rails)
            } else {
                units::kg::of(0.0)
            };
            below(own, still, rails + fixed + strips);
            own[axis] += carriages + nuts;
            // A pinion's motor travels with it; a screw's stays at the end of the screw.
            if turning {
                below(own, still, motor);
            } else {
                own[axis] += motor;
            }
        }
    }
}

/// What the drives of an axis weigh: the part along the axis, and the part that moves on it.
fn drive_masses(picked: &Picked, geometry: &Geometry, axis: Axis) -> (Mass, Mass) {
    let mut along = units::kg::of(0.0);
    let mut moved = units::kg::of(0.0);
    for drive in picked.drives(axis) {
        let length = drive_length(picked, axis, drive, geometry.rails[axis].length);
        let (lies, rides) = match drive {
            LinearDrive::Ball(screw) => {
                let nuts = if picked.build.drive.preloaded_nuts {
                    1.5
                } else {
                    1.0
                };
                (
                    bar(mean(screw.diameter, screw.root), length),
                    screw.nut_mass * nuts,
                )
            }
            LinearDrive::Lead(screw) => (
                bar(mean(screw.diameter, screw.root), length),
                screw.nut_mass,
            ),
            LinearDrive::Rack(rack) => (rack.linear_mass * length, rack.pinion_mass),
            LinearDrive::Belt(belt) => (belt.linear_mass * length, belt.pulley_mass),
        };
        let held = supports(picked, drive, axis).into_iter();
        along += lies
            + held
                .map(|(unit, pieces)| unit.mass * f64::from(pieces))
                .sum::<Mass>();
        moved += rides;
    }
    (along, moved)
}

/// The strip that takes the screws of a rail: flat steel of 20 x 6 mm.
fn thread_strip() -> LinearMassDensity {
    section::steel_density() * (units::mm::of(20.0) * units::mm::of(6.0))
}

fn mean(a: Length, b: Length) -> Length {
    (a + b) / 2.0
}

/// Mass of a round steel bar.
fn bar(diameter: Length, length: Length) -> Mass {
    diameter * diameter * (std::f64::consts::PI / 4.0) * length * section::steel_density()
}
