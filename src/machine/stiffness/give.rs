//! How a spring gives at the tool, and what the springs of one direction give together.

use std::ops::{Add, AddAssign, Mul};

use super::SpringName;
use crate::words::Words;

/// What a spring gives for each newton at a point that lies `reach` below the spindle's nose,
/// in m/N: `at + tilt reach + turn reach²`. A spring that turns gives with the square of the
/// lever, and the lever grows by the reach of the tool: so one set of three numbers serves
/// the collet and the tip of every tool.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Give {
    at: f64,
    tilt: f64,
    turn: f64,
}

impl Give {
    /// A spring that gives along the force, wherever the force acts.
    pub(super) fn along(per_n: f64) -> Self {
        Self {
            at: per_n,
            ..Self::default()
        }
    }

    /// A spring that turns by so much a newton metre, at the end of a lever.
    pub(super) fn turning(per_nm: f64, lever: f64) -> Self {
        Self {
            at: per_nm * lever * lever,
            tilt: 2.0 * per_nm * lever,
            turn: per_nm,
        }
    }

    /// The end of a post of height `h`, clamped at its foot, that a force bends at a lever
    /// below its head: ∫(x - lever)² dx over the height, by its flexibility 1/(E I).
    pub(super) fn post(per_ei: f64, h: f64, lever: f64) -> Self {
        Self {
            at: per_ei * (h.powi(3) / 3.0 - lever * h * h + lever * lever * h),
            tilt: per_ei * (2.0 * lever * h - h * h),
            turn: per_ei * h,
        }
    }

    /// What it gives at a reach below the nose, in m/N.
    pub(super) fn reaching(self, reach: f64) -> f64 {
        self.at + reach * (self.tilt + reach * self.turn)
    }
}

impl Add for Give {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            at: self.at + other.at,
            tilt: self.tilt + other.tilt,
            turn: self.turn + other.turn,
        }
    }
}

impl Mul<f64> for Give {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self {
            at: self.at * by,
            tilt: self.tilt * by,
            turn: self.turn * by,
        }
    }
}

/// The springs of one direction at one place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Springs([Give; SpringName::ALL.len()]);

impl Default for Springs {
    fn default() -> Self {
        Self([Give::default(); SpringName::ALL.len()])
    }
}

impl Springs {
    /// Adds to a spring.
    pub(super) fn add(&mut self, name: SpringName, give: Give) {
        self.0[name as usize] += give;
    }

    /// What one spring gives.
    pub(super) fn of(&self, name: SpringName) -> Give {
        self.0[name as usize]
    }

    /// What those springs give that a test lets through.
    pub(super) fn sum(&self, which: impl Fn(SpringName) -> bool) -> Give {
        let mut sum = Give::default();
        for &name in SpringName::ALL {
            if which(name) {
                sum += self.of(name);
            }
        }
        sum
    }

    /// What all give.
    pub(super) fn all(&self) -> Give {
        self.sum(|_| true)
    }
}

impl AddAssign for Give {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}
