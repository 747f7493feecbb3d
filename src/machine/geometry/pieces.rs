//! The pieces that a frame plan is made of: members, plates and prints, cut to the machine.

use super::along::whole_times;
use super::lengths::Lengths;
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::frame::{Heat, PerWhat, Rides, Role};
use crate::catalogue::{Id, Text};
use crate::machine::section::Section;
use crate::units::{self, Length, LinearMassDensity, Mass, Volume};

/// Steel members of one mark.
#[derive(Clone, Debug)]
pub struct MemberCut {
    /// Mark on the cut list.
    pub mark: Text,
    /// How people call it.
    pub title: Text,
    /// What it does.
    pub role: Role,
    /// Its tube.
    pub tube: Id,
    /// Length of one.
    pub length: Length,
    /// Mass of a metre, with the wall as measured where it was.
    pub linear_mass: LinearMassDensity,
    /// How many.
    pub pieces: u32,
    /// What it rides on.
    pub rides: Rides,
}

/// A member or plate of the plan that no length or width is left for, as where the rail that
/// it follows is shorter than what the plan takes off. It is on no list and weighs nothing;
/// a rule tells of it.
#[derive(Clone, Debug)]
pub struct Impossible {
    /// Mark in the plan.
    pub mark: Text,
    /// How people call it.
    pub title: Text,
    /// What its length or width would be: zero or less.
    pub measure: Length,
}

/// Plates of one mark.
#[derive(Clone, Debug)]
pub struct PlateCut {
    /// Mark on the cut list.
    pub mark: Text,
    /// How people call it.
    pub title: Text,
    /// Width.
    pub width: Length,
    /// Length.
    pub length: Length,
    /// Mass of one.
    pub mass: Mass,
    /// How many.
    pub pieces: u32,
    /// What it rides on.
    pub rides: Rides,
}

/// Printed parts of one mark.
#[derive(Clone, Debug)]
pub struct PrintPiece {
    /// Mark on the print list.
    pub mark: Text,
    /// How people call it.
    pub title: Text,
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

impl PrintPiece {
    /// Mass of one, of plastic of this density.
    pub fn mass(&self, density: units::MassDensity) -> Mass {
        self.volume * density
    }
}

pub(super) fn members(lengths: &Lengths, impossible: &mut Vec<Impossible>) -> Vec<MemberCut> {
    let picked = lengths.picked;
    let cut = |member: &crate::catalogue::frame::Member| {
        let more = match (member.one_more_each, member.more_along) {
            (Some(each), Some(along)) => whole_times(lengths.of(along), each),
            _ => 0,
        };
        let (tube, wall) = match member.role {
            Role::Beam => (picked.beam_tube, picked.beam_wall),
            Role::Side | Role::Cross | Role::Upright => (picked.base_tube, picked.base_wall),
        };
        MemberCut {
            mark: member.mark,
            title: member.title,
            role: member.role,
            tube: tube.id,
            length: lengths.of(member.follows) + member.plus
                - picked.base_tube.width * f64::from(member.between_sides),
            linear_mass: Section::used(tube, wall).linear_mass(),
            pieces: member.pieces.saturating_add(more),
            rides: member.rides,
        }
    };
    let cuts = picked.frame.member.iter().map(cut);
    let made = |cut: &MemberCut| can_be_made(&cut.mark, &cut.title, cut.length, impossible);
    cuts.filter(made).collect()
}

pub(super) fn plates(lengths: &Lengths, impossible: &mut Vec<Impossible>) -> Vec<PlateCut> {
    let of = lengths.picked.plate;
    let cut = |plate: &crate::catalogue::frame::PlatePiece| {
        let width = lengths.of(plate.width_follows) + plate.width;
        let length = longer(lengths.of(plate.follows) + plate.plus, plate.least);
        PlateCut {
            mark: plate.mark,
            title: plate.title,
            width,
            length,
            mass: width * length * of.thickness * of.density,
            pieces: plate.pieces,
            rides: plate.rides,
        }
    };
    let cuts = lengths.picked.frame.plate.iter().map(cut);
    let made = |cut: &PlateCut| {
        let smaller = cut.length.min(cut.width);
        can_be_made(&cut.mark, &cut.title, smaller, impossible)
    };
    cuts.filter(made).collect()
}

/// Whether a piece has a length or width above zero; notes down those that have not.
fn can_be_made(mark: &str, title: &str, measure: Length, impossible: &mut Vec<Impossible>) -> bool {
    let made = measure > units::mm::of(0.0);
    if !made {
        impossible.push(Impossible {
            mark: mark.into(),
            title: title.into(),
            measure,
        });
    }
    made
}

/// A length, or the least that there must be where it is shorter.
pub(super) fn longer(one: Length, least: Option<Length>) -> Length {
    least.map_or(one, |least| one.max(least))
}

pub(super) fn prints(picked: &Picked, switches: &PerAxis<u32>) -> Vec<PrintPiece> {
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
        mark: print.mark,
        title: print.title,
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
