//! What if: the effect of an option before it is taken, and the remedy of a finding, both by
//! asking [`assess`](crate::assessment::assess) about a changed build.

pub mod compare;
pub mod effect;
pub mod remedy;
pub mod stiffer;
