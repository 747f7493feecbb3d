//! Lengths: rails, screws, members, plates, prints and the floor they take.
//!
//! All follow from the travel and the frame plan. A rail holds the travel, the distance of
//! its outer carriages, one carriage and a margin at each end, and is cut to a whole
//! number of hole pitches.

use crate::build::choices::control::LimitEnds;
use crate::build::choices::drive::ScrewEnds;
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::frame::{AxisPlan, Follows, Heat, Layout, PerWhat, Rides, Role};
use crate::catalogue::linear_drive::{BallScrew, SupportHold, SupportUnit};
use crate::catalogue::{Id, LinearDrive};
use crate::units::{self, Area, Length, Volume};

use super::wiring::{self, CableRun};
use uom::si::ratio::ratio;

/// The rails of one axis.
#[derive(Clone, Copy, Debug)]
pub struct RailCut {
    /// How many.
    pub rails: u32,
    /// The least length for the travel.
    pub needed: Length,
    /// The length that there will be: cut to need, or in hand.
    pub length: Length,
    /// Travel that this length allows.
    pub allows: Length,
    /// Mounting holes of one rail.
    pub holes: u32,
    /// Carriages in all on the axis.
    pub carriages: u32,
}

/// A ball or lead screw of one axis.
#[derive(Clone, Copy, Debug)]
pub struct ScrewCut {
    /// The least threaded length for the travel.
    pub needed: Length,
    /// The threaded length that there will be.
    pub thread: Length,
    /// Travel that this length allows.
    pub allows: Length,
    /// Distance between its bearings: the length that whirls.
    pub between_bearings: Length,
    /// The nut's greatest distance from the fixed bearing: the length that buckles.
    pub farthest_nut: Length,
}

/// Steel members of one mark.
#[derive(Clone, Debug)]
pub struct MemberCut {
    /// Mark on the cut list.
    pub mark: String,
    /// How people call it.
    pub title: String,
    /// What it does.
    pub role: Role,
    /// Its tube.
    pub tube: Id,
    /// Length of one.
    pub length: Length,
    /// How many.
    pub pieces: u32,
    /// What it rides on.
    pub rides: Rides,
}

/// Plates of one mark.
#[derive(Clone, Debug)]
pub struct PlateCut {
    /// Mark on the cut list.
    pub mark: String,
    /// How people call it.
    pub title: String,
    /// Width.
    pub width: Length,
    /// Length.
    pub length: Length,
    /// How many.
    pub pieces: u32,
    /// What it rides on.
    pub rides: Rides,
}

/// Printed parts of one mark.
#[derive(Clone, Debug)]
pub struct PrintPiece {
    /// Mark on the print list.
    pub mark: String,
    /// How people call it.
    pub title: String,
    /// Volume of one.
    pub volume: Volume,
    /// How many.
    pub pieces: u32,
    /// What heats it.
    pub heated_by: Heat,
    /// Whether the spindle or the Z axis hangs on it.
    pub bears_z: bool,
    /// What it rides on.
    pub rides: Rides,
}

/// A cable chain.
#[derive(Clone, Copy, Debug)]
pub struct ChainCut {
    /// The axis whose travel it follows.
    pub axis: Axis,
    /// Its length.
    pub length: Length,
}

/// Every length of a machine.
#[derive(Clone, Debug)]
pub struct Geometry {
    /// Rails of each axis.
    pub rails: PerAxis<RailCut>,
    /// Screw of each axis; none where a rack or belt drives it. The other side's screw of a
    /// pair is worked out by [`screw_cut`].
    pub screws: PerAxis<Option<ScrewCut>>,
    /// Steel members.
    pub members: Vec<MemberCut>,
    /// Plates.
    pub plates: Vec<PlateCut>,
    /// Printed parts.
    pub prints: Vec<PrintPiece>,
    /// Cable chains.
    pub chains: Vec<ChainCut>,
    /// Limit and home switches of each axis.
    pub switches: PerAxis<u32>,
    /// Distance of the two Y rails.
    pub span: Length,
    /// Floor and height: X, Y, Z.
    pub footprint: PerAxis<Length>,
    /// The working area.
    pub bed: Area,
    /// Cable runs.
    pub runs: Vec<CableRun>,
}

impl Geometry {
    /// Works the lengths out.
    pub fn of(picked: &Picked) -> Self {
        let rails = PerAxis::from_fn(|axis| rail(picked, axis));
        let screws = PerAxis::from_fn(|axis| screw_cut(picked, axis, picked.axes[axis].drive));
        let switches = PerAxis::from_fn(|axis| switches(picked, axis));
        let lengths = Lengths {
            picked,
            rails: &rails,
        };
        let members = members(&lengths);
        let beam = members
            .iter()
            .find(|member| member.role == Role::Beam)
            .map_or(rails.x.length, |member| member.length);
        let plan = picked.frame;
        let travel = picked.build.area.travel;
        let plates = plates(&lengths);
        let moving_table = plan.layout == Layout::MovingTable;
        let along_y = if moving_table {
            longer(rails.y.length, swept_by_table(&plates, travel.y))
        } else {
            rails.y.length
        };
        let footprint = PerAxis {
            x: beam + plan.outside_x,
            y: along_y + plan.outside_y,
            z: picked.build.area.clearance
                + picked.beam_tube.height
                + rails.z.length
                + plan.outside_z,
        };
        let chains = chains(picked);
        Self {
            runs: wiring::runs(&lengths, &chains, &switches),
            plates,
            prints: prints(picked, &switches),
            chains,
            span: if moving_table {
                plan.y.rail_gap
            } else {
                rails.x.length + plan.y.rail_gap
            },
            bed: travel.x * travel.y,
            rails,
            screws,
            members,
            switches,
            footprint,
        }
    }

    /// All cable runs together.
    pub fn cable_length(&self) -> Length {
        self.runs.iter().map(|run| run.length).sum()
    }

    /// All cable chains together.
    pub fn chain_length(&self) -> Length {
        self.chains.iter().map(|chain| chain.length).sum()
    }

    /// The largest piece that must pass the door when the machine is taken apart: the longer
    /// of beam and side, which pass lengthwise, never matter; the width of the base does.
    pub fn narrowest_carry(&self) -> Length {
        let side = if self.footprint.x < self.footprint.y {
            self.footprint.x
        } else {
            self.footprint.y
        };
        if side < self.footprint.z {
            side
        } else {
            self.footprint.z
        }
    }
}

/// How an axis is laid out in the plan.
pub fn plan_of<'c>(picked: &Picked<'c>, axis: Axis) -> &'c AxisPlan {
    match axis {
        Axis::X => &picked.frame.x,
        Axis::Y => &picked.frame.y,
        Axis::Z => &picked.frame.z,
    }
}

/// What the rail must hold besides the travel: outer carriages, one carriage, two margins.
/// One carriage a rail has no span.
fn rail_extra(picked: &Picked, axis: Axis) -> Length {
    let plan = plan_of(picked, axis);
    let several = picked.build.drive.carriages[axis] > 1;
    let span = if several {
        plan.carriage_span
    } else {
        units::mm::of(0.0)
    };
    span + picked.axes[axis].carriage.length + plan.end_margin * 2.0
}

/// A thousandth of a part absorbs what binary fractions take from or add to a whole number.
const HAIR: f64 = 1e-3;

/// How many whole times a part goes into a length.
fn whole_times(length: Length, part: Length) -> u32 {
    ((length / part).get::<ratio>() + HAIR).floor() as u32
}

fn rail(picked: &Picked, axis: Axis) -> RailCut {
    let plan = plan_of(picked, axis);
    let extra = rail_extra(picked, axis);
    let needed = picked.build.area.travel[axis] + extra;
    let pitch = picked.axes[axis].rail.hole_pitch;
    let cut = pitch * ((needed / pitch).get::<ratio>() - HAIR).ceil();
    let length = picked.build.drive.rail_length[axis].unwrap_or(cut);
    RailCut {
        rails: plan.rails,
        needed,
        length,
        allows: not_below_zero(length - extra),
        holes: whole_times(length, pitch) + 1,
        carriages: plan.rails * picked.build.drive.carriages[axis],
    }
}

/// The screw of one drive of an axis; none for racks and belts.
pub fn screw_cut(picked: &Picked, axis: Axis, drive: LinearDrive) -> Option<ScrewCut> {
    match drive {
        LinearDrive::Ball(screw) => Some(cut_for(picked, axis, ball_nut(picked, screw))),
        LinearDrive::Lead(screw) => Some(cut_for(picked, axis, screw.nut_length)),
        LinearDrive::Rack(_) | LinearDrive::Belt(_) => None,
    }
}

/// Length of a ball nut: a preloaded one is a pair.
pub(super) fn ball_nut(picked: &Picked, screw: &BallScrew) -> Length {
    let nuts = if picked.build.drive.preloaded_nuts {
        2.0
    } else {
        1.0
    };
    screw.nut_length * nuts
}

/// The screw of an axis for a nut of some length.
pub(super) fn cut_for(picked: &Picked, axis: Axis, nut: Length) -> ScrewCut {
    let plan = plan_of(picked, axis);
    let extra = nut + plan.end_margin * 2.0;
    let needed = picked.build.area.travel[axis] + extra;
    let thread = picked.build.drive.screw_length[axis].unwrap_or(needed);
    ScrewCut {
        needed,
        thread,
        allows: not_below_zero(thread - extra),
        between_bearings: thread + plan.bearing_margin,
        farthest_nut: thread + plan.bearing_margin / 2.0 - plan.end_margin,
    }
}

/// Too short a rail or screw allows no travel at all.
fn not_below_zero(travel: Length) -> Length {
    let none = units::mm::of(0.0);
    if travel > none { travel } else { none }
}

/// The length of one drive as it is bought: the screw over its bearings, the rack along the
/// rail, an open belt along the rail with half a metre for loop and clamps.
pub fn drive_length(
    picked: &Picked,
    geometry: &Geometry,
    axis: Axis,
    drive: LinearDrive,
) -> Length {
    let rail = geometry.rails[axis].length;
    match (drive, screw_cut(picked, axis, drive)) {
        (_, Some(cut)) => cut.between_bearings,
        (LinearDrive::Belt(_), None) => rail + units::mm::of(500.0),
        (_, None) => rail,
    }
}

/// The support units that fit the ends of a drive's screw, as its ends are held, and how many
/// of each; fewer than asked for where the catalogue has none that fit.
pub fn supports<'c>(
    picked: &Picked<'c>,
    drive: LinearDrive,
    axis: Axis,
) -> Vec<(&'c SupportUnit, u32)> {
    let bore = match drive {
        LinearDrive::Ball(screw) => screw.support_bore,
        LinearDrive::Lead(screw) => screw.support_bore,
        LinearDrive::Rack(_) | LinearDrive::Belt(_) => return Vec::new(),
    };
    let (fixed, floating) = match picked.build.drive.ends[axis] {
        ScrewEnds::FixedFree => (1, 0),
        ScrewEnds::FixedSupported => (1, 1),
        ScrewEnds::FixedFixed => (2, 0),
    };
    let fits = |unit: &&SupportUnit, hold| {
        unit.hold == hold && (units::mm::from(unit.bore) - units::mm::from(bore)).abs() < 0.05
    };
    let units = [
        (SupportHold::Fixed, fixed),
        (SupportHold::Floating, floating),
    ];
    let found = units
        .into_iter()
        .filter(|(_, pieces)| *pieces > 0)
        .filter_map(|(hold, pieces)| {
            let mut offered = picked.catalogue.support_units.values();
            offered
                .find(|unit| fits(unit, hold))
                .map(|unit| (unit, pieces))
        });
    found.collect()
}

/// Switches: one an axis end that is homed, one for each side of a pair that is homed each
/// on its own; the far ends besides, where both ends have one.
fn switches(picked: &Picked, axis: Axis) -> u32 {
    let control = &picked.build.control;
    let sides = if control.home_each_side {
        picked.motors(axis)
    } else {
        1
    };
    let far = u32::from(control.limit_ends == LimitEnds::Both);
    sides + far
}

/// The lengths that pieces and cables of the plan may follow.
pub(super) struct Lengths<'a, 'c> {
    pub(super) picked: &'a Picked<'c>,
    pub(super) rails: &'a PerAxis<RailCut>,
}

impl Lengths<'_, '_> {
    pub(super) fn of(&self, follows: Follows) -> Length {
        let area = &self.picked.build.area;
        match follows {
            Follows::TravelX => area.travel.x,
            Follows::TravelY => area.travel.y,
            Follows::TravelZ => area.travel.z,
            Follows::RailX => self.rails.x.length,
            Follows::RailY => self.rails.y.length,
            Follows::RailZ => self.rails.z.length,
            Follows::Clearance => area.clearance,
            Follows::Nothing => units::mm::of(0.0),
        }
    }
}

fn members(lengths: &Lengths) -> Vec<MemberCut> {
    let picked = lengths.picked;
    let cut = |member: &crate::catalogue::frame::Member| {
        let more = match (member.one_more_each, member.more_along) {
            (Some(each), Some(along)) => whole_times(lengths.of(along), each),
            _ => 0,
        };
        let tube = if member.role == Role::Beam {
            picked.beam_tube
        } else {
            picked.base_tube
        };
        MemberCut {
            mark: member.mark.clone(),
            title: member.title.clone(),
            role: member.role,
            tube: tube.id.clone(),
            length: lengths.of(member.follows) + member.plus
                - picked.base_tube.width * f64::from(member.between_sides),
            pieces: member.pieces + more,
            rides: member.rides,
        }
    };
    picked.frame.member.iter().map(cut).collect()
}

fn plates(lengths: &Lengths) -> Vec<PlateCut> {
    let cut = |plate: &crate::catalogue::frame::PlatePiece| PlateCut {
        mark: plate.mark.clone(),
        title: plate.title.clone(),
        width: lengths.of(plate.width_follows) + plate.width,
        length: longer(lengths.of(plate.follows) + plate.plus, plate.least),
        pieces: plate.pieces,
        rides: plate.rides,
    };
    lengths.picked.frame.plate.iter().map(cut).collect()
}

/// What a moving table sweeps: its longest plate and the travel.
fn swept_by_table(plates: &[PlateCut], travel: Length) -> Option<Length> {
    let riding = plates.iter().filter(|plate| plate.rides == Rides::Y);
    let longest = riding
        .map(|plate| plate.length)
        .reduce(|a, b| if a > b { a } else { b });
    longest.map(|longest| longest + travel)
}

fn longer(one: Length, least: Option<Length>) -> Length {
    least.filter(|least| *least > one).unwrap_or(one)
}

fn prints(picked: &Picked, switches: &PerAxis<u32>) -> Vec<PrintPiece> {
    let count = |per: PerWhat| match per {
        PerWhat::Machine => 1,
        PerWhat::MotorX => picked.motors(Axis::X),
        PerWhat::MotorY => picked.motors(Axis::Y),
        PerWhat::MotorZ => picked.motors(Axis::Z),
        PerWhat::Switch => switches.iter().map(|(_, count)| count).sum(),
        PerWhat::ScrewX => screws(picked, Axis::X),
        PerWhat::ScrewY => screws(picked, Axis::Y),
        PerWhat::ScrewZ => screws(picked, Axis::Z),
    };
    let piece = |print: &crate::catalogue::frame::Print| PrintPiece {
        mark: print.mark.clone(),
        title: print.title.clone(),
        volume: print.volume,
        pieces: print.pieces * count(print.per),
        heated_by: print.heated_by,
        bears_z: print.bears_z,
        rides: print.rides,
    };
    picked.frame.print.iter().map(piece).collect()
}

/// Screws of an axis.
fn screws(picked: &Picked, axis: Axis) -> u32 {
    picked
        .drives(axis)
        .iter()
        .filter(|drive| drive.is_screw())
        .count() as u32
}

/// A chain is half the travel, half a turn of its bend, and two links to hold it.
fn chains(picked: &Picked) -> Vec<ChainCut> {
    let chain = picked.chain;
    let used = |axis: Axis, rides: Rides| {
        let carried = picked
            .frame
            .route
            .iter()
            .any(|route| route.chains.contains(&rides));
        carried.then(|| ChainCut {
            axis,
            length: picked.build.area.travel[axis] / 2.0
                + chain.bend_radius * std::f64::consts::PI
                + chain.pitch * 2.0,
        })
    };
    [
        (Axis::X, Rides::X),
        (Axis::Y, Rides::Y),
        (Axis::Z, Rides::Z),
    ]
    .into_iter()
    .filter_map(|(axis, rides)| used(axis, rides))
    .collect()
}
