//! The machine as springs: what each gives at the tool under a force along X, Y or Z, with
//! the tool at a place along the beam.
//!
//! Every spring is counted once, at its own lever, and all add up: they lie in series. What
//! gives in a joint is in the carriages' joint factor, and in nothing else.

use super::beam::{Beam, Overhang, Plane, Portal, bending_rigidity};
use super::drive::{Around, DriveGive};
use super::give::{Give, Springs};
use super::guide::Guide;
use super::levers::{Levers, uprights};
use super::posts::{Legs, SideBeams};
use super::table::Table;
use super::{SpringName, Wall};
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::frame::{Layout, Rides};
use crate::machine::axis::AxisFigures;
use crate::machine::geometry::Geometry;
use crate::machine::section::{Section, steel_modulus};
use crate::units::{AngularStiffness, Length, Ratio};

/// What the gantry, or the portal, stands on.
#[derive(Clone, Copy, Debug)]
pub(super) struct Uprights {
    /// E I of all posts of one side against bending forth and back, in N·m².
    pub(super) rigidity: f64,
    /// The portal that they make with the beam.
    pub(super) portal: Portal,
}

/// A machine as springs.
#[derive(Clone, Copy, Debug)]
pub(super) struct Model {
    pub(super) levers: Levers,
    pub(super) beam: Beam,
    pub(super) guides: PerAxis<Guide>,
    /// E I of Z plate and Z rails in the plate's plane, and out of it, in N·m².
    pub(super) plate: (f64, f64),
    pub(super) uprights: Option<Uprights>,
    pub(super) legs: Option<Legs>,
    pub(super) sides: SideBeams,
    pub(super) table: Option<Table>,
    /// The drives of each axis; of Y the other side's besides, where there is one.
    pub(super) drives: PerAxis<DriveGive>,
    pub(super) second: Option<DriveGive>,
    /// Length of one rail of each axis, along which a belt runs.
    pub(super) rails: PerAxis<Length>,
}

/// The tubes' sections, at one wall.
#[derive(Clone, Copy)]
pub(super) struct Sections {
    pub(super) beam: Section,
    pub(super) base: Section,
}

impl Sections {
    fn of(picked: &Picked, wall: Wall) -> Self {
        let section = match wall {
            Wall::Nominal => Section::used,
            Wall::Thinnest => Section::worst,
        };
        Self {
            beam: section(picked.beam_tube, picked.beam_wall),
            base: section(picked.base_tube, picked.base_wall),
        }
    }
}

impl Model {
    /// The machine at its tubes' nominal walls.
    pub(super) fn of(picked: &Picked, geometry: &Geometry, axes: &PerAxis<AxisFigures>) -> Self {
        let levers = Levers::of(picked, geometry);
        let sections = Sections::of(picked, Wall::Nominal);
        let around = |axis: Axis| Around {
            picked,
            geometry,
            axis,
            curve: &axes[axis].curve,
        };
        let second =
            (picked.motors(Axis::Y) == 2).then(|| around(Axis::Y).give(picked.second_drive));
        let moving_table = picked.frame.layout == Layout::MovingTable;
        let mut model = Self {
            levers,
            beam: Beam {
                length: levers.span,
                section: sections.beam,
                fixity: picked.build.area.end_fixity,
            },
            plate: plate(picked, geometry),
            uprights: None,
            legs: None,
            sides: SideBeams::of(picked, geometry, sections.base),
            table: moving_table.then(|| Table::of(picked, geometry, levers.span)),
            drives: PerAxis::from_fn(|axis| around(axis).give(picked.axes[axis].drive)),
            second,
            rails: PerAxis::from_fn(|axis| geometry.rails[axis].length),
            guides: PerAxis::from_fn(|axis| Guide::of(picked, geometry, axis)),
        };
        model.set_walls(picked, geometry, sections);
        model
    }

    /// The same machine with the thinnest walls that the standard allows.
    pub(super) fn thinnest(mut self, picked: &Picked, geometry: &Geometry) -> Self {
        self.set_walls(picked, geometry, Sections::of(picked, Wall::Thinnest));
        self
    }

    fn set_walls(&mut self, picked: &Picked, geometry: &Geometry, sections: Sections) {
        self.beam.section = sections.beam;
        self.sides = SideBeams::of(picked, geometry, sections.base);
        self.legs = Legs::of(picked, geometry, sections.base);
        let side = self.guides.y.side();
        self.uprights = uprights(picked, geometry).map(|(pieces, _)| {
            let posts = f64::from(pieces) / 2.0;
            Uprights {
                rigidity: bending_rigidity(sections.base, Plane::Up) * posts,
                portal: Portal {
                    beam: self.beam,
                    leg: sections.base,
                    legs: posts,
                    height: self.levers.rise,
                    // The carriages of one rail hold a foot by their own stiffness against roll;
                    // a fixed portal's feet are clamped to the base.
                    foot: self
                        .table
                        .is_none()
                        .then(|| AngularStiffness::nm_per_rad(side.blocks * side.roll)),
                },
            }
        });
    }

    /// Every spring under a force along an axis, with the tool at a place along the beam.
    pub(super) fn springs(&self, axis: Axis, place: Ratio) -> Springs {
        let mut found = Springs::default();
        match axis {
            Axis::X => self.along_x(place, &mut found),
            Axis::Y => self.along_y(place, &mut found),
            Axis::Z => self.along_z(place, &mut found),
        }
        if let Some(table) = &self.table {
            table.add(axis, place, &self.guides.y, &self.sides, &mut found);
        }
        found
    }

    /// The Z plate as a beam that overhangs the Z carriages.
    fn overhang(&self, rigidity: f64) -> Overhang {
        Overhang {
            span: self.guides.z.span.max(1e-3),
            out: self.levers.overhang.value,
            beyond: self.levers.nose.value,
            rigidity,
        }
    }

    /// From the Z carriages' centre down to the nose.
    pub(super) fn below_z(&self) -> f64 {
        let levers = &self.levers;
        levers.overhang.value + levers.nose.value + self.guides.z.span / 2.0
    }

    /// From the Y carriages' height down to the nose; negative where the nose is above.
    pub(super) fn below_y(&self) -> f64 {
        self.levers.below.value - self.levers.rise.value
    }

    /// Against yaw of the gantry: the carriages of both sides, and a drive on each.
    pub(super) fn against_yaw(&self) -> f64 {
        let carriages = self.guides.y.against_pitch();
        match &self.second {
            Some(second) => {
                let span = self.levers.span.value;
                carriages + span * span / (total(&self.drives.y) + total(second))
            }
            None => carriages,
        }
    }

    fn along_x(&self, place: Ratio, found: &mut Springs) {
        let (h, l) = (self.levers.below.value, &self.levers);
        let (x, y, z) = (&self.guides.x, &self.guides.y, &self.guides.z);
        add_drive(found, &self.drives.x, 1.0);
        let (ex, ez) = (l.ahead_of_x.value, l.ahead_of_z.value);
        found.add(
            SpringName::CarriagesX,
            Give::turning(x.pitches(), h) + Give::along(x.pitches() * ex * ex),
        );
        found.add(
            SpringName::CarriagesZ,
            Give::along(z.gives() + z.rolls() * ez * ez)
                + Give::turning(z.pitches(), self.below_z()),
        );
        found.add(SpringName::ZPlate, self.overhang(self.plate.0).give());
        found.add(
            SpringName::Beam,
            Give::turning(1.0 / self.beam.turns(Plane::Up, place).as_nm_per_rad(), h),
        );
        if let Some(uprights) = &self.uprights {
            found.add(
                SpringName::Uprights,
                Give::along(1.0 / uprights.portal.sways().value),
            );
        }
        if self.table.is_some() {
            return;
        }
        let e = l.ahead.value;
        found.add(SpringName::Yaw, Give::along(e * e / self.against_yaw()));
        found.add(
            SpringName::CarriagesY,
            Give::along(y.gives()) + Give::turning(y.rolls(), self.below_y()),
        );
        let rocking = 2.0 * self.sides.give() / (y.gap * y.gap);
        found.add(
            SpringName::SideBeams,
            Give::turning(rocking, self.below_y()),
        );
        if let Some(legs) = &self.legs {
            found.add(SpringName::Legs, Give::along(legs.sideways()));
        }
    }

    fn along_y(&self, place: Ratio, found: &mut Springs) {
        let h = self.levers.below.value;
        let (x, y, z) = (&self.guides.x, &self.guides.y, &self.guides.z);
        self.drive_along_y(place, found);
        found.add(
            SpringName::Beam,
            Give::along(1.0 / self.beam.bends(Plane::Across, place).value),
        );
        found.add(
            SpringName::BeamTwist,
            Give::turning(1.0 / self.beam.twists(place).as_nm_per_rad(), h),
        );
        found.add(
            SpringName::CarriagesX,
            Give::along(x.gives()) + Give::turning(x.rolls(), h),
        );
        found.add(
            SpringName::CarriagesZ,
            Give::along(z.gives()) + Give::turning(z.pitches(), self.below_z()),
        );
        found.add(SpringName::ZPlate, self.overhang(self.plate.1).give());
        let sides = both_sides(place);
        if let Some(uprights) = &self.uprights {
            let post = Give::post(1.0 / uprights.rigidity, self.levers.rise.value, h);
            found.add(SpringName::Uprights, post * sides);
        }
        if self.table.is_some() {
            return;
        }
        found.add(
            SpringName::CarriagesY,
            Give::turning(y.side().pitches() * sides, self.below_y()),
        );
        if let Some(legs) = &self.legs {
            found.add(SpringName::Legs, Give::along(legs.lengthways()));
        }
    }

    /// Both drives by their levers, or one in the centre and the gantry's yaw about it.
    fn drive_along_y(&self, place: Ratio, found: &mut Springs) {
        // A table hangs on its drives by its middle, wherever the tool is.
        let a = if self.table.is_some() {
            0.5
        } else {
            place.value
        };
        match &self.second {
            Some(second) => {
                add_drive(found, &self.drives.y, (1.0 - a) * (1.0 - a));
                add_drive(found, second, a * a);
            }
            None => {
                add_drive(found, &self.drives.y, 1.0);
                let off = (a - 0.5) * self.levers.span.value;
                found.add(SpringName::Yaw, Give::along(off * off / self.against_yaw()));
            }
        }
    }

    fn along_z(&self, place: Ratio, found: &mut Springs) {
        let l = &self.levers;
        let (e, ex, ez) = (l.ahead.value, l.ahead_of_x.value, l.ahead_of_z.value);
        let (x, y, z) = (&self.guides.x, &self.guides.y, &self.guides.z);
        let sides = both_sides(place);
        add_drive(found, &self.drives.z, 1.0);
        let along = |give: f64| Give::along(give);
        found.add(
            SpringName::Beam,
            along(1.0 / self.beam.bends(Plane::Up, place).value),
        );
        found.add(
            SpringName::BeamTwist,
            along(e * e / self.beam.twists(place).as_nm_per_rad()),
        );
        found.add(
            SpringName::CarriagesX,
            along(x.gives() + x.rolls() * ex * ex),
        );
        found.add(SpringName::CarriagesZ, along(z.pitches() * ez * ez));
        let ep = l.ahead_of_plate.value;
        found.add(
            SpringName::ZPlate,
            along(self.overhang(self.plate.1).turn() * ep * ep),
        );
        if let Some(uprights) = &self.uprights {
            let moment = l.rise.value / uprights.rigidity;
            found.add(SpringName::Uprights, along(e * e * moment * sides));
        }
        if self.table.is_some() {
            return;
        }
        let side = y.side();
        found.add(
            SpringName::CarriagesY,
            along((side.gives() + side.pitches() * e * e) * sides),
        );
        found.add(SpringName::SideBeams, along(self.sides.give() * sides));
    }
}

/// What a force at a place leaves for the springs of both sides: (1 - a)² + a².
pub(super) fn both_sides(place: Ratio) -> f64 {
    let a = place.value;
    (1.0 - a) * (1.0 - a) + a * a
}

/// All that a drive gives.
pub(super) fn total(drive: &DriveGive) -> f64 {
    drive.parts.iter().map(|(_, give)| give).sum()
}

fn add_drive(found: &mut Springs, drive: &DriveGive, share: f64) {
    for (name, give) in drive.parts {
        found.add(name, Give::along(give * share));
    }
}

/// E I of the Z plate in its plane and out of it, with the Z rails bent beside it as bars of
/// their own: their screws, 60 mm apart, pass on little shear, and what they do is left out.
fn plate(picked: &Picked, geometry: &Geometry) -> (f64, f64) {
    let cut = geometry.plates.iter().find(|plate| plate.rides == Rides::Z);
    let width = cut.map_or(0.0, |plate| plate.width.value);
    let (thick, modulus) = (picked.plate.thickness.value, picked.plate.modulus.value);
    let rail = picked.axes.z.rail;
    let area = rail.linear_mass.value / crate::machine::section::steel_density().value;
    let rails = f64::from(picked.frame.z.rails);
    let bar = |side: f64| steel_modulus().value * area * side * side / 12.0 * rails;
    let strong = modulus * thick * width.powi(3) / 12.0 + bar(rail.foot_width.value);
    let weak = modulus * width * thick.powi(3) / 12.0 + bar(rail.height.value);
    (strong, weak)
}
