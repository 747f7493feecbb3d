//! Which changes stiffen an axis most for their money. That takes many assessments, so it is
//! worked out when the page of an axis opens, and kept until the build changes.

use std::rc::Rc;

use jiff::civil::Date;

use crate::assessment::Assessment;
use crate::build::{Axis, Build};
use crate::catalogue::Catalogue;
use crate::explore::stiffer::{Stiffer, stiffer};

/// What was worked out last.
#[derive(Default)]
pub struct StifferChanges {
    of: Option<(Axis, Rc<Assessment>)>,
    found: Vec<Stiffer>,
}

impl StifferChanges {
    /// Works the changes of an axis out where they are not known.
    pub fn follow(
        &mut self,
        catalogue: &Catalogue,
        build: &Build,
        axis: Axis,
        now: &Rc<Assessment>,
        today: Date,
    ) {
        if self.of(axis, now).is_some() {
            return;
        }
        // A build that is on the screen can be assessed; so can its changes, or they are none.
        self.found = stiffer(catalogue, build, axis, today).unwrap_or_default();
        self.of = Some((axis, Rc::clone(now)));
    }

    /// The changes of an axis, where they are known for this assessment.
    pub fn of(&self, axis: Axis, now: &Rc<Assessment>) -> Option<&[Stiffer]> {
        let (of, known) = self.of.as_ref()?;
        (*of == axis && Rc::ptr_eq(known, now)).then_some(self.found.as_slice())
    }
}
