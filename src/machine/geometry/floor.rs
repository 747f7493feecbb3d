//! The room that a machine takes: floor and height.

use super::along::RailCut;
use super::pieces::{MemberCut, PlateCut, longer};
use crate::build::{PerAxis, Picked};
use crate::catalogue::frame::{Layout, Rides, Role};
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::units::{self, Length};

const LIMITS: &str = "Cables, hoses and the room that a person needs around it are not counted.";
const SOURCE: &str = "geometry, from the frame plan's outer sizes";

/// Floor and height: X, Y, Z.
pub(super) fn footprint(
    picked: &Picked,
    rails: &PerAxis<RailCut>,
    members: &[MemberCut],
    plates: &[PlateCut],
    notes: &mut impl Recorder,
) -> PerAxis<Length> {
    PerAxis {
        x: width(picked, rails, members, notes),
        y: depth(picked, rails, plates, notes),
        z: height(picked, rails, notes),
    }
}

fn width(
    picked: &Picked,
    rails: &PerAxis<RailCut>,
    members: &[MemberCut],
    notes: &mut impl Recorder,
) -> Length {
    let plan = picked.frame;
    let beam = members.iter().find(|member| member.role == Role::Beam);
    let length = beam.map_or(rails.x.length, |beam| beam.length);
    let width = length + plan.outside_x;
    notes.note(|| {
        let note = Derivation::of(
            "machine.footprint_mm.0",
            "Width of the floor that it takes, along X",
            units::mm::amount(width),
        );
        let rail = Origin::figure("axes.X.rail_mm");
        let rail = Input::new(
            "L",
            "length of an X rail",
            units::mm::amount(rails.x.length),
            rail,
        );
        let note = match beam {
            Some(_) => note
                .by(
                    "The beam, which is longer than the X rail by what the plan says, and what \
                     stands out beyond its ends.",
                    "W = B + o; B = L + b",
                )
                .with_each([rail])
                .with(
                    "b",
                    "what the beam is longer than the rail by",
                    units::mm::amount(length - rails.x.length),
                    origin(picked),
                )
                .with(
                    "B",
                    "length of the beam",
                    units::mm::amount(length),
                    Origin::Here,
                ),
            None => note
                .by(
                    "The X rail and what stands out beyond its ends.",
                    "W = L + o",
                )
                .with_each([rail]),
        };
        note.with(
            "o",
            "what motors and ends stand out by, both sides together",
            units::mm::amount(plan.outside_x),
            origin(picked),
        )
        .from(SOURCE, LIMITS)
    });
    width
}

fn depth(
    picked: &Picked,
    rails: &PerAxis<RailCut>,
    plates: &[PlateCut],
    notes: &mut impl Recorder,
) -> Length {
    let plan = picked.frame;
    let travel = picked.build.area.travel.y;
    let table = if plan.layout == Layout::MovingTable {
        longest_on_y(plates)
    } else {
        None
    };
    let swept = table.map(|table| table + travel);
    let depth = longer(rails.y.length, swept) + plan.outside_y;
    notes.note(|| depth_note(picked, rails.y.length, table, depth));
    depth
}

fn depth_note(picked: &Picked, rail: Length, table: Option<Length>, depth: Length) -> Derivation {
    let travel = picked.build.area.travel.y;
    let note = Derivation::of(
        "machine.footprint_mm.1",
        "Depth of the floor that it takes, along Y",
        units::mm::amount(depth),
    );
    let note = match table {
        Some(table) => note
            .by(
                "The longer of the Y rail and of what the moving table sweeps, and what \
                     stands out beyond it.",
                "S = P + t; D = max(L, S) + o",
            )
            .with(
                "P",
                "length of the table's longest plate",
                units::mm::amount(table),
                origin(picked),
            )
            .with(
                "t",
                "travel Y that you wish",
                units::mm::amount(travel),
                Origin::choice("travel_y_mm"),
            )
            .with(
                "S",
                "what the table sweeps",
                units::mm::amount(table + travel),
                Origin::Here,
            ),
        None => note.by(
            "The Y rail and what stands out beyond its ends.",
            "D = L + o",
        ),
    };
    note.with(
        "L",
        "length of a Y rail",
        units::mm::amount(rail),
        Origin::figure("axes.Y.rail_mm"),
    )
    .with(
        "o",
        "what motors and ends stand out by, both ends together",
        units::mm::amount(picked.frame.outside_y),
        origin(picked),
    )
    .from(SOURCE, LIMITS)
}

fn height(picked: &Picked, rails: &PerAxis<RailCut>, notes: &mut impl Recorder) -> Length {
    let (plan, clearance) = (picked.frame, picked.build.area.clearance);
    let beam = picked.beam_tube.height;
    let height = clearance + beam + rails.z.length + plan.outside_z;
    notes.note(|| {
        Derivation::of(
            "machine.footprint_mm.2",
            "Height that it takes",
            units::mm::amount(height),
        )
        .by(
            "Height under the beam, the beam, the Z rail above it, and what the plan adds for \
             base and motor.",
            "H = c + h + L + o",
        )
        .with(
            "c",
            "free height under the beam",
            units::mm::amount(clearance),
            Origin::choice("clearance_mm"),
        )
        .with(
            "h",
            "height of the beam's tube",
            units::mm::amount(beam),
            Origin::part(picked.beam_tube),
        )
        .with(
            "L",
            "length of a Z rail",
            units::mm::amount(rails.z.length),
            Origin::figure("axes.Z.rail_mm"),
        )
        .with(
            "o",
            "what the plan adds",
            units::mm::amount(plan.outside_z),
            origin(picked),
        )
        .from(SOURCE, LIMITS)
    });
    height
}

fn origin(picked: &Picked) -> Origin {
    Origin::Plan(picked.frame.id.to_string())
}

/// The longest plate that rides on Y.
fn longest_on_y(plates: &[PlateCut]) -> Option<Length> {
    let riding = plates.iter().filter(|plate| plate.rides == Rides::Y);
    riding.map(|plate| plate.length).reduce(|a, b| a.max(b))
}
