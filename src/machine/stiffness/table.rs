//! The moving table under a fixed portal: a plate on the Y carriages that bends between and
//! beyond them, and rocks on them when the tool presses beside their middle.

use super::SpringName;
use super::give::{Give, Springs};
use super::guide::Guide;
use super::posts::SideBeams;
use crate::build::{Axis, Picked};
use crate::catalogue::frame::Rides;
use crate::machine::geometry::Geometry;
use crate::units::{Length, Ratio};

/// A moving table.
#[derive(Clone, Copy, Debug)]
pub(super) struct Table {
    /// E I of a strip across the travel, and of one along it, in N·m².
    pub(super) rigidity: (f64, f64),
    /// From the Y carriages' middle up to the top of the plate.
    pub(super) height: f64,
    /// How far from the table's middle the tool presses at the end of the Y travel.
    pub(super) off: f64,
    /// Travel of X.
    pub(super) travel: f64,
    /// Distance of the portal's uprights.
    portal: f64,
}

impl Table {
    pub(super) fn of(picked: &Picked, geometry: &Geometry, portal: Length) -> Self {
        let travel = &geometry.travel;
        let plates = geometry
            .plates
            .iter()
            .filter(|plate| plate.rides == Rides::Y);
        let widest = plates.max_by(|a, b| a.width.value.total_cmp(&b.width.value));
        let (width, length) = widest.map_or((travel.x, travel.y), |p| (p.width, p.length));
        let thick = picked.plate.thickness;
        let strip = picked.plate.modulus.value * thick.value.powi(3) / 12.0;
        Self {
            rigidity: (strip * length.value, strip * width.value),
            height: (picked.axes.y.carriage.assembly_height / 2.0 + thick).value,
            off: travel.y.value / 2.0,
            travel: travel.x.value,
            portal: portal.value,
        }
    }

    /// Where the tool presses: across, from the table's middle, and along. With the tool at
    /// mid-span the table stands in the middle too; else at the end of its travel.
    pub(super) fn pressed(&self, place: Ratio) -> (f64, f64) {
        let across = (place.value - 0.5) * self.portal;
        let share = if self.travel > 0.0 {
            (2.0 * across.abs() / self.travel).min(1.0)
        } else {
            0.0
        };
        (across, self.off * share)
    }

    /// Adds what the table's side gives under a force on it.
    pub(super) fn add(
        &self,
        axis: Axis,
        place: Ratio,
        guide: &Guide,
        sides: &SideBeams,
        found: &mut Springs,
    ) {
        let up = self.height * self.height;
        let carriages = match axis {
            Axis::X => guide.gives() + guide.rolls() * up,
            Axis::Y => guide.pitches() * up,
            Axis::Z => return self.pressed_down(place, guide, sides, found),
        };
        found.add(SpringName::CarriagesY, Give::along(carriages));
    }

    fn pressed_down(&self, place: Ratio, guide: &Guide, sides: &SideBeams, found: &mut Springs) {
        let (x, y) = self.pressed(place);
        let plate = strip(self.rigidity.0, guide.gap, x) + strip(self.rigidity.1, guide.span, y);
        found.add(SpringName::Table, Give::along(plate));
        let rocking = guide.rolls() * x * x + guide.pitches() * y * y;
        found.add(SpringName::CarriagesY, Give::along(guide.gives() + rocking));
        let a = if guide.gap > 0.0 { x / guide.gap } else { 0.0 };
        let (near, far) = (0.5 + a, 0.5 - a);
        found.add(
            SpringName::SideBeams,
            Give::along(sides.give() * (near * near + far * far)),
        );
    }
}

/// A strip on two supports: L³ (ab)²/(3 E I) between them, l² (l + L)/(3 E I) beyond.
fn strip(rigidity: f64, span: f64, off: f64) -> f64 {
    let out = off.abs() - span / 2.0;
    if out > 0.0 {
        return out * out * (out + span) / (3.0 * rigidity);
    }
    if span <= 0.0 {
        return 0.0;
    }
    let a = 0.5 + off / span;
    let ab = a * (1.0 - a);
    span.powi(3) * ab * ab / (3.0 * rigidity)
}
