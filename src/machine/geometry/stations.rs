//! Where the holes of a rail stand, measured from one end: what the frame is drilled by, and
//! how many screws and taps are bought.

use super::along::whole_times;
use crate::units::Length;

/// Least distance of a hole's middle from the rail's end, in diameters of its screw: the head
/// stands in a counterbore nearly twice as wide (common practice).
const LEAST_EDGE: f64 = 2.0;

/// The holes of one rail. A rail is cut so that both ends are alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stations {
    /// Distance of the first hole from the rail's end, and of the last from the other.
    pub margin: Length,
    /// Distance from hole to hole.
    pub pitch: Length,
    /// How many.
    pub holes: u32,
}

impl Stations {
    /// The holes of a rail of some length, a pitch apart, bolted with screws of a diameter: as
    /// many as fit; none where the rail is too short for one.
    pub fn of(length: Length, pitch: Length, screw: Length) -> Option<Self> {
        let edges = screw * (2.0 * LEAST_EDGE);
        if length < edges {
            return None;
        }
        let gaps = whole_times(length - edges, pitch);
        Some(Self {
            margin: (length - pitch * f64::from(gaps)) / 2.0,
            pitch,
            holes: gaps.saturating_add(1),
        })
    }

    /// The distance of a hole from the rail's end, counted from 0.
    pub fn at(&self, hole: u32) -> Length {
        self.margin + self.pitch * f64::from(hole)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units;

    fn stations(length: f64, pitch: f64) -> Option<(u32, f64, f64)> {
        let mm = units::mm::of;
        let found = Stations::of(mm(length), mm(pitch), mm(5.0))?;
        let last = found.at(found.holes - 1);
        Some((
            found.holes,
            units::mm::from(found.margin).round(),
            units::mm::from(last).round(),
        ))
    }

    /// A catalogue length of 1000 mm has 17 holes at 20, 80 ... 980; whole pitches have half a
    /// pitch at either end.
    #[test]
    fn holes_stand_alike_from_both_ends() {
        assert_eq!(stations(1000.0, 60.0), Some((17, 20.0, 980.0)));
        assert_eq!(stations(840.0, 60.0), Some((14, 30.0, 810.0)));
        // 10 mm from an end is the least for M5: a hole more would stand at 5 mm.
        assert_eq!(stations(980.0, 60.0), Some((17, 10.0, 970.0)));
        assert_eq!(stations(970.0, 60.0), Some((16, 35.0, 935.0)));
    }

    #[test]
    fn a_stub_has_one_hole_in_its_middle_or_none() {
        assert_eq!(stations(50.0, 60.0), Some((1, 25.0, 25.0)));
        assert_eq!(stations(19.0, 60.0), None);
    }
}
