//! What if: the effect of an option before it is taken, the remedy of a finding, the questions
//! that builders ask, what matters most, and a number swept over a range, all by
//! asking [`assess`](crate::assessment::assess) about a changed build.

pub mod compare;
pub mod effect;
pub mod find;
pub mod interview;
pub mod question;
pub mod reading;
pub mod remedy;
pub mod stiffer;
pub mod sweep;
pub mod told;
pub mod trial;
pub mod weigh;
