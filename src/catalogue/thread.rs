//! Metric coarse threads of the sizes that a router is bolted together with: what to drill for
//! the tap, what to drill for the screw to pass.

use crate::units::{self, Length};

/// One thread. Millimetres, as the standards print them.
#[derive(Clone, Copy, Debug)]
pub struct Thread {
    diameter: f64,
    pitch: f64,
    tap_drill: f64,
    passes: f64,
    rivet_nut: f64,
}

/// Pitches: ISO 261, coarse. Tap drills: ISO 2306, diameter less pitch. Holes to pass: ISO 273,
/// medium. Holes for rivet nuts: from memory, they differ a little from maker to maker.
const COARSE: [Thread; 7] = [
    thread(3.0, 0.5, 2.5, 3.4, 5.0),
    thread(4.0, 0.7, 3.3, 4.5, 6.0),
    thread(5.0, 0.8, 4.2, 5.5, 7.0),
    thread(6.0, 1.0, 5.0, 6.6, 9.0),
    thread(8.0, 1.25, 6.8, 9.0, 11.0),
    thread(10.0, 1.5, 8.5, 11.0, 13.0),
    thread(12.0, 1.75, 10.2, 13.5, 16.0),
];

const fn thread(diameter: f64, pitch: f64, tap_drill: f64, passes: f64, rivet_nut: f64) -> Thread {
    Thread {
        diameter,
        pitch,
        tap_drill,
        passes,
        rivet_nut,
    }
}

impl Thread {
    /// The coarse thread of a screw's diameter; none where it is none of the usual ones.
    pub fn of(diameter: Length) -> Option<&'static Self> {
        let wanted = units::mm::from(diameter);
        COARSE
            .iter()
            .find(|one| (one.diameter - wanted).abs() < 0.1)
    }

    /// Its diameter.
    pub fn diameter(&self) -> Length {
        units::mm::of(self.diameter)
    }

    /// Distance from turn to turn.
    pub fn pitch(&self) -> Length {
        units::mm::of(self.pitch)
    }

    /// The drill for its tap.
    pub fn tap_drill(&self) -> Length {
        units::mm::of(self.tap_drill)
    }

    /// The drill for its screw to pass.
    pub fn passes(&self) -> Length {
        units::mm::of(self.passes)
    }

    /// The drill for a rivet nut that holds it.
    pub fn rivet_nut(&self) -> Length {
        units::mm::of(self.rivet_nut)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The inner diameter of a nut thread, ISO 724 and its tolerance 6H by ISO 965-1: a tap
    /// drill must leave it within.
    #[test]
    fn tap_drills_leave_an_inner_diameter_of_tolerance_6h() {
        let tolerances = [0.140, 0.180, 0.200, 0.236, 0.265, 0.300, 0.335];
        for (thread, tolerance) in COARSE.iter().zip(tolerances) {
            let least = thread.diameter - 1.082_532 * thread.pitch;
            let drill = thread.tap_drill;
            assert!(drill >= least && drill <= least + tolerance, "{thread:?}");
            // And the rule that it is remembered by.
            let rule = thread.diameter - thread.pitch;
            assert!((drill - rule).abs() <= 0.051, "{thread:?}");
        }
    }

    #[test]
    fn only_usual_sizes_are_known() {
        assert!(Thread::of(units::mm::of(5.0)).is_some());
        assert!(Thread::of(units::mm::of(7.0)).is_none());
    }
}
