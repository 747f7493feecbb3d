//! What the rules look at: the picked parts and everything worked out from them.

use jiff::civil::Date;

use crate::bill::Bill;
use crate::build::Picked;
use crate::catalogue::material::{Family, Material};
use crate::machine::Machine;

/// The facts of one build.
#[derive(Clone, Copy)]
pub struct Facts<'a> {
    /// The choices and their parts.
    pub picked: &'a Picked<'a>,
    /// What they make.
    pub machine: &'a Machine,
    /// What it takes.
    pub bill: &'a Bill,
    /// The day of the assessment.
    pub today: Date,
}

impl<'a> Facts<'a> {
    /// Materials of one family among the wishes.
    pub fn wishes_for(&self, family: Family) -> Vec<&'a Material> {
        self.picked
            .materials
            .iter()
            .copied()
            .filter(|material| material.family == family)
            .collect()
    }

    /// Whether a material of a family is wished for.
    pub fn wishes(&self, family: Family) -> bool {
        !self.wishes_for(family).is_empty()
    }
}
