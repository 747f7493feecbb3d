//! Where things lie: the levers at which a force on the tool turns beam, carriages and plates.
//!
//! All follow from the plan and the parts, with the Z axis at the lowest place that is used:
//! the end of its travel, or where the usual tool meets the table.

use crate::build::Picked;
use crate::catalogue::frame::{Layout, Rides, Role};
use crate::machine::geometry::Geometry;
use crate::units::{self, Length};

/// The wall of a spindle clamp behind the spindle's body (common practice, from memory).
pub(super) fn clamp_wall() -> Length {
    units::mm::of(8.0)
}

/// The levers of a machine.
#[derive(Clone, Copy, Debug)]
pub struct Levers {
    /// From the beam's axis down to the spindle's nose: h.
    pub below: Length,
    /// From the beam's axis forward to the tool's axis: e.
    pub ahead: Length,
    /// From the X carriages forward to the tool's axis.
    pub ahead_of_x: Length,
    /// From the Z carriages forward to the tool's axis.
    pub ahead_of_z: Length,
    /// From the middle of the Z plate forward to the tool's axis.
    pub ahead_of_plate: Length,
    /// From the lower Z carriages down to the spindle clamp, whose lower edge meets that of the
    /// Z plate.
    pub overhang: Length,
    /// From the upper edge of the clamp down to the nose: clamp and body are as good as stiff.
    pub nose: Length,
    /// Distance of the beam's supports.
    pub span: Length,
    /// From the Y carriages, or the feet of the uprights, up to the beam's axis: H.
    pub rise: Length,
    /// How far from the nearer support the tool comes at the end of the X travel.
    pub margin: Length,
}

impl Levers {
    /// From the parts and the plan.
    pub(super) fn of(picked: &Picked, geometry: &Geometry) -> Self {
        let none = units::mm::of(0.0);
        let plan = picked.frame;
        let down = lowest(picked, geometry);
        let (x, z) = (picked.axes.x.carriage, picked.axes.z.carriage);
        let body = picked.spindle.body / 2.0 + clamp_wall();
        let thick = picked.plate.thickness;
        let ahead_of_plate = body + thick / 2.0;
        let ahead_of_z = body + thick + z.assembly_height / 2.0;
        let ahead_of_x = body + thick * 2.0 + z.assembly_height + x.assembly_height / 2.0;
        let plate = geometry.plates.iter().find(|plate| plate.rides == Rides::Z);
        let more = plate.map_or(none, |plate| {
            ((plate.length - geometry.rails.z.length) / 2.0).max(none)
        });
        let span = span(picked, geometry);
        let to_end = plan.z.end_margin + z.length / 2.0 + more + down;
        // A clamp that is higher than the overhang reaches up to the carriages and no further.
        let grip = picked.clamp.grip.min(to_end);
        Self {
            below: picked.beam_tube.height / 2.0 - plan.nose_above_beam + down,
            ahead: ahead_of_x + x.assembly_height / 2.0 + picked.beam_tube.width / 2.0,
            ahead_of_x,
            ahead_of_z,
            ahead_of_plate,
            overhang: to_end - grip,
            nose: plan.nose_below_plate + grip,
            span,
            rise: uprights(picked, geometry)
                .map_or(none, |(_, height)| height + picked.beam_tube.height / 2.0),
            margin: ((span - geometry.travel.x) / 2.0).max(none),
        }
    }
}

/// How far below the top of its travel the Z axis is used: as far as it goes, or until the
/// usual tool meets the table.
fn lowest(picked: &Picked, geometry: &Geometry) -> Length {
    let nose = picked.build.area.clearance + picked.frame.nose_above_beam;
    let to_table = (nose - picked.tool.reach).max(units::mm::of(0.0));
    geometry.travel.z.min(to_table)
}

/// The posts that carry the beam's ends, how many and how high, where there are such: they
/// travel with a gantry, or stand on the base of a fixed portal.
pub(super) fn uprights(picked: &Picked, geometry: &Geometry) -> Option<(u32, Length)> {
    geometry.posts(match picked.frame.layout {
        Layout::MovingGantry => Rides::Y,
        Layout::MovingTable => Rides::Still,
    })
}

/// Between the Y rails of a gantry; between the uprights of a portal, which stand under the
/// ends of the beam.
fn span(picked: &Picked, geometry: &Geometry) -> Length {
    if picked.frame.layout == Layout::MovingGantry {
        return geometry.span;
    }
    let beam = geometry.members.iter().find(|m| m.role == Role::Beam);
    let length = beam.map_or(geometry.rails.x.length, |beam| beam.length);
    let clear = length - picked.base_tube.width;
    if clear > units::mm::of(0.0) {
        clear
    } else {
        length
    }
}
