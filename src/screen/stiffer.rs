//! Which changes stiffen an axis most for their money. That takes many assessments, so it is
//! worked out when the page of an axis opens, and kept until the build changes.

use std::rc::Rc;

use super::papers::Source;
use crate::assessment::Assessment;
use crate::build::Axis;
use crate::explore::stiffer::{Stiffer, stiffer};

/// What was worked out last.
#[derive(Default)]
pub struct StifferChanges {
    of: Option<(Axis, Rc<Assessment>)>,
    found: Vec<Stiffer>,
}

impl StifferChanges {
    /// Works the changes of an axis out where they are not known.
    pub fn follow(&mut self, source: Source, axis: Axis) {
        if self.of(axis, source.now).is_some() {
            return;
        }
        self.found = stiffer(&source.bench(), axis);
        self.of = Some((axis, Rc::clone(source.now)));
    }

    /// The changes of an axis, where they are known for this assessment.
    pub fn of(&self, axis: Axis, now: &Rc<Assessment>) -> Option<&[Stiffer]> {
        let (of, known) = self.of.as_ref()?;
        (*of == axis && Rc::ptr_eq(known, now)).then_some(self.found.as_slice())
    }
}
