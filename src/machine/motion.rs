//! How an axis moves: its ramps, the torque that speeding up and braking take, where a
//! stepper shakes, how warm a servo gets, and what a stop feeds back into the supply.
//!
//! Each of these is a small formula of its own; [`super::axis`] puts them together.

pub mod braking;
pub mod duty;
pub mod notes;
pub mod ramp;
pub mod resonance;
pub mod torque_points;
