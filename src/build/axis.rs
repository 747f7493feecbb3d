//! The three axes, and values that exist once for each of them.

use std::ops::{Index, IndexMut};

use crate::catalogue::frame::Rides;

crate::words! {
    /// An axis of the machine.
    Axis {
        X = "X", "X", "Along the beam, left and right.";
        Y = "Y", "Y", "Along the side rails, forth and back.";
        Z = "Z", "Z", "Up and down.";
    }
}

impl Axis {
    /// The three axes.
    pub const EACH: [Axis; 3] = [Axis::X, Axis::Y, Axis::Z];

    /// The axis that carries what rides there; none where that stands still.
    pub fn of(rides: Rides) -> Option<Self> {
        match rides {
            Rides::Still => None,
            Rides::X => Some(Axis::X),
            Rides::Y => Some(Axis::Y),
            Rides::Z => Some(Axis::Z),
        }
    }

    /// Its letter in the keys of choices.
    pub fn letter(self) -> char {
        match self {
            Axis::X => 'x',
            Axis::Y => 'y',
            Axis::Z => 'z',
        }
    }

    /// The key of a choice that exists for each axis: `drive` becomes `drive_x`.
    pub fn choice(self, name: &str) -> String {
        format!("{name}_{}", self.letter())
    }
}

impl From<Axis> for Rides {
    fn from(axis: Axis) -> Self {
        match axis {
            Axis::X => Self::X,
            Axis::Y => Self::Y,
            Axis::Z => Self::Z,
        }
    }
}

/// One value for each axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct PerAxis<T> {
    /// For X.
    pub x: T,
    /// For Y.
    pub y: T,
    /// For Z.
    pub z: T,
}

impl<T> PerAxis<T> {
    /// Makes the value of each axis in turn.
    pub fn from_fn(mut make: impl FnMut(Axis) -> T) -> Self {
        Self {
            x: make(Axis::X),
            y: make(Axis::Y),
            z: make(Axis::Z),
        }
    }

    /// The same, stopping at the first error.
    ///
    /// # Errors
    /// Whatever the function gives.
    pub fn try_from_fn<E>(mut make: impl FnMut(Axis) -> Result<T, E>) -> Result<Self, E> {
        Ok(Self {
            x: make(Axis::X)?,
            y: make(Axis::Y)?,
            z: make(Axis::Z)?,
        })
    }

    /// Each axis with its value.
    pub fn iter(&self) -> impl Iterator<Item = (Axis, &T)> {
        [(Axis::X, &self.x), (Axis::Y, &self.y), (Axis::Z, &self.z)].into_iter()
    }
}

impl<T> Index<Axis> for PerAxis<T> {
    type Output = T;
    fn index(&self, axis: Axis) -> &T {
        match axis {
            Axis::X => &self.x,
            Axis::Y => &self.y,
            Axis::Z => &self.z,
        }
    }
}

impl<T> IndexMut<Axis> for PerAxis<T> {
    fn index_mut(&mut self, axis: Axis) -> &mut T {
        match axis {
            Axis::X => &mut self.x,
            Axis::Y => &mut self.y,
            Axis::Z => &mut self.z,
        }
    }
}
