//! Masses: what each axis moves, summed from the parts, and what the whole weighs.

use super::geometry::{Geometry, supports};
use super::section;
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::LinearDrive;
use crate::catalogue::frame::{Layout, Rides};
use crate::explain::{Input, Origin, Recorder};
use crate::units::{self, Length, LinearMassDensity, Mass, MassDensity};
use crate::words::Words as _;

mod notes;

/// The masses of a machine.
#[derive(Clone, Copy, Debug)]
pub struct Masses {
    /// What each axis moves, everything that it carries included.
    pub moving: PerAxis<Mass>,
    /// What rides on each axis itself, without the axes above it.
    pub own: PerAxis<Mass>,
    /// Members, plates and rails that stand still.
    pub still: Mass,
    /// The whole machine without stand, cabinet and computer.
    pub total: Mass,
}

impl Masses {
    /// Sums the parts.
    pub fn of(picked: &Picked, geometry: &Geometry, notes: &mut impl Recorder) -> Self {
        let mut ledger = Ledger::new(notes.listens());
        structure(picked, geometry, &mut ledger);
        ledger.add(Rides::Z, picked.spindle.mass, || {
            ("spindle".to_owned(), Origin::part(picked.spindle))
        });
        ledger.add(Rides::Z, picked.clamp.mass, || {
            ("spindle clamp".to_owned(), Origin::part(picked.clamp))
        });
        for axis in Axis::EACH {
            place_axis(picked, geometry, axis, &mut ledger);
        }
        let own = ledger.own;
        let moving_gantry = picked.frame.layout == Layout::MovingGantry;
        let x = own.x + own.z;
        let workpiece = largest_workpiece(picked, geometry);
        let y = if moving_gantry {
            own.y + x
        } else {
            own.y + workpiece
        };
        let masses = Self {
            moving: PerAxis { x, y, z: own.z },
            own,
            still: ledger.still,
            total: own.x + own.y + own.z + ledger.still,
        };
        notes::note(picked, &masses, workpiece, &ledger, notes);
        masses
    }
}

/// Where each part's mass goes; what was added is kept for those alone who listen.
struct Ledger {
    own: PerAxis<Mass>,
    still: Mass,
    keeps: bool,
    entries: Vec<(Rides, Input)>,
}

impl Ledger {
    fn new(keeps: bool) -> Self {
        let none = units::kg::of(0.0);
        Self {
            own: PerAxis::from_fn(|_| none),
            still: none,
            keeps,
            entries: Vec::new(),
        }
    }

    /// Adds a mass to what it rides on; `tell` says what it is, and where its data are from.
    fn add(&mut self, rides: Rides, mass: Mass, tell: impl FnOnce() -> (String, Origin)) {
        match rides {
            Rides::Still => self.still += mass,
            Rides::X => self.own.x += mass,
            Rides::Y => self.own.y += mass,
            Rides::Z => self.own.z += mass,
        }
        if self.keeps && mass > units::kg::of(0.0) {
            let (title, origin) = tell();
            let input = Input::new("m_i", title, units::kg::amount(mass), origin);
            self.entries.push((rides, input));
        }
    }
}

/// The heaviest workpiece that a moving table may carry: the whole bed, as high as the
/// tallest stock, of the densest material wished for.
fn largest_workpiece(picked: &Picked, geometry: &Geometry) -> Mass {
    geometry.bed * picked.build.area.stock_height * densest(picked)
}

/// The density of the densest material wished for; nothing where none is.
fn densest(picked: &Picked) -> MassDensity {
    let densities = picked
        .materials
        .iter()
        .map(|material| units::kg_per_m3::from(material.density));
    units::kg_per_m3::of(densities.fold(0.0, f64::max))
}

/// Members, plates and prints, each on what it rides on.
fn structure(picked: &Picked, geometry: &Geometry, ledger: &mut Ledger) {
    for member in &geometry.members {
        let linear = member.linear_mass;
        let mass = linear * member.length * f64::from(member.pieces);
        ledger.add(member.rides, mass, || {
            let (pieces, length) = (member.pieces, units::mm::amount(member.length));
            let linear = units::kg_per_m::amount(linear);
            let title = format!("{}: {pieces} x {length} at {linear}", member.title);
            (title, Origin::Part(member.tube.to_string()))
        });
    }
    for plate in &geometry.plates {
        let mass = plate.mass * f64::from(plate.pieces);
        ledger.add(plate.rides, mass, || {
            let [width, length, thickness] =
                [plate.width, plate.length, picked.plate.thickness].map(units::mm::amount);
            let title = format!(
                "{}: {} x {width} x {length} x {thickness} at {}",
                plate.title,
                plate.pieces,
                units::kg_per_m3::amount(picked.plate.density)
            );
            (title, Origin::part(picked.plate))
        });
    }
    for print in &geometry.prints {
        let mass = print.volume * picked.filament.density * f64::from(print.pieces);
        ledger.add(print.rides, mass, || {
            let (pieces, volume) = (print.pieces, units::cm3::amount(print.volume));
            let density = units::kg_per_m3::amount(picked.filament.density);
            let title = format!("{}: {pieces} x {volume} at {density}", print.title);
            (title, Origin::part(picked.filament))
        });
    }
}

/// What carries the rails of an axis.
fn below(picked: &Picked, axis: Axis) -> Rides {
    match (axis, picked.frame.layout) {
        (Axis::Z, _) => Rides::X,
        (Axis::X, Layout::MovingGantry) => Rides::Y,
        (Axis::X, Layout::MovingTable) | (Axis::Y, _) => Rides::Still,
    }
}

/// Puts rails, carriages, drive and motors of one axis where they ride: what guides an
/// axis sits on the axis below it, its carriages move with it. The Z carriages sit on the X
/// plate and the Z rails move, as does the Z motor with the X plate.
fn place_axis(picked: &Picked, geometry: &Geometry, axis: Axis, ledger: &mut Ledger) {
    let chosen = &picked.axes[axis];
    let cut = &geometry.rails[axis];
    let letter = axis.title();
    let below = below(picked, axis);
    let with_axis = Rides::from(axis);
    let turning = chosen.drive.is_screw();
    let (rails_on, carriages_on) = match axis {
        Axis::Z => (with_axis, below),
        Axis::X | Axis::Y => (below, with_axis),
    };
    // A pinion's motor travels with it; a screw's stays at the end of the screw.
    let motors_on = match axis {
        Axis::X | Axis::Y if !turning => with_axis,
        _ => below,
    };
    let rails = chosen.rail.linear_mass * cut.length * f64::from(cut.rails);
    ledger.add(rails_on, rails, || {
        let (linear, length) = (
            units::kg_per_m::amount(chosen.rail.linear_mass),
            units::mm::amount(cut.length),
        );
        let title = format!("rails {letter}: {} x {length} at {linear}", cut.rails);
        (title, Origin::part(chosen.rail))
    });
    let carriages = chosen.carriage.mass * f64::from(cut.carriages);
    ledger.add(carriages_on, carriages, || {
        let title = format!(
            "carriages {letter}: {}",
            times(cut.carriages, chosen.carriage.mass)
        );
        (title, Origin::part(chosen.carriage))
    });
    let motors = picked.motors(axis);
    ledger.add(motors_on, chosen.motor.mass() * f64::from(motors), || {
        let title = format!("motor {letter}: {}", times(motors, chosen.motor.mass()));
        (title, Origin::part(chosen.motor.part()))
    });
    if turning {
        ledger.add(motors_on, chosen.coupling.mass * f64::from(motors), || {
            let title = format!("coupling {letter}: {}", times(motors, chosen.coupling.mass));
            (title, Origin::part(chosen.coupling))
        });
    }
    if axis != Axis::Z && picked.build.area.thread_strips {
        let strips = thread_strip() * cut.length * f64::from(cut.rails);
        ledger.add(below, strips, || {
            let linear = units::kg_per_m::amount(thread_strip());
            let title = format!("thread strips {letter}: flat steel of 20 x 6 mm at {linear}");
            (title, Origin::choice("thread_strips"))
        });
    }
    drives(picked, geometry, axis, (below, with_axis), ledger);
}

/// So many of some mass each, in words.
fn times(pieces: u32, mass: Mass) -> String {
    format!("{pieces} x {}", units::kg::amount(mass))
}

/// Puts the drives of an axis where they ride: what lies along the axis on what is below it,
/// what moves on it with the axis.
fn drives(
    picked: &Picked,
    geometry: &Geometry,
    axis: Axis,
    (below, with_axis): (Rides, Rides),
    ledger: &mut Ledger,
) {
    let letter = axis.title();
    let cuts = &geometry.drives[axis];
    for (drive, cut) in picked.drives(axis).into_iter().zip(cuts) {
        let length = cut.length;
        let (lies, rides) = match drive {
            LinearDrive::Ball(screw) => {
                let nuts = if picked.build.drive.preloaded_nuts {
                    PAIRED_NUT
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
        ledger.add(below, lies, || {
            let what = if drive.is_screw() {
                "a round steel bar of the mean of outer and root diameter"
            } else {
                "its mass a metre"
            };
            let length = units::mm::amount(length);
            let title = format!("drive {letter}: {length}, {what}");
            (title, Origin::part(drive.part()))
        });
        ledger.add(with_axis, rides, || {
            let what = match drive {
                LinearDrive::Ball(_) if picked.build.drive.preloaded_nuts => {
                    "nut, a preloaded pair weighs half as much again"
                }
                LinearDrive::Ball(_) | LinearDrive::Lead(_) => "nut",
                LinearDrive::Rack(_) => "pinion",
                LinearDrive::Belt(_) => "pulley",
            };
            (
                format!("drive {letter}: {what}"),
                Origin::part(drive.part()),
            )
        });
        for (unit, pieces) in supports(picked, drive, axis) {
            ledger.add(below, unit.mass * f64::from(pieces), || {
                let title = format!("screw ends {letter}: {}", times(pieces, unit.mass));
                (title, Origin::part(unit))
            });
        }
    }
}

/// What a preloaded pair of nuts weighs against a single one: flange and seals are shared
/// (common practice).
const PAIRED_NUT: f64 = 1.5;

/// The strip that takes the screws of a rail: flat steel of 20 x 6 mm.
pub(crate) fn thread_strip() -> LinearMassDensity {
    section::steel_density() * (units::mm::of(20.0) * units::mm::of(6.0))
}

fn mean(a: Length, b: Length) -> Length {
    (a + b) / 2.0
}

/// Mass of a round steel bar.
fn bar(diameter: Length, length: Length) -> Mass {
    diameter * diameter * (std::f64::consts::PI / 4.0) * length * section::steel_density()
}
