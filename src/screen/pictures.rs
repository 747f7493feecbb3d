//! The pictures on the screen: which there are, and where the machine's pieces stand, ready to
//! be drawn. That is worked out anew only when the build, or what is previewed, changed.

use std::rc::Rc;

use super::papers::Source;
use crate::assessment::Assessment;
use crate::build::{Axis, Edit};
use crate::explore::effect::Effect;
use crate::sheets::pictures::seen::Scene;

crate::words! {
    /// The pictures, in the order in which keys go through them.
    PictureKind {
        Plan = "plan", "machine from above", "The machine to scale, seen from above, with the tool in the middle of its travel.";
        Front = "front", "machine from the front", "The machine to scale, seen from the front, with the tool in the middle of its travel.";
        Room = "room", "machine in its room", "The floor that the machine takes in its room, with the room that a person needs beside it.";
        TorqueX = "torque-x", "torque of motor X", "What the motor of X gives at each speed, and what is asked of it.";
        TorqueY = "torque-y", "torque of motor Y", "What a motor of Y gives at each speed, and what is asked of it.";
        TorqueZ = "torque-z", "torque of motor Z", "What the motor of Z gives at each speed, and what is asked of it.";
        Cost = "cost", "cost by step", "What each step costs: the likely sum, and between which others it lies.";
        Power = "power", "current in each circuit", "What flows in each mains circuit with everything on at its most, against what may flow for hours.";
        Stiffness = "stiffness", "what gives when pushed", "What gives when the tool is pushed: each part's share, the softest first.";
        Removal = "removal", "removal by material", "How much of each material the machine removes in a minute.";
    }
}

impl PictureKind {
    /// Its name among those of all pictures, in a row.
    pub fn short(self) -> &'static str {
        match self {
            Self::Plan => "above",
            Self::Front => "front",
            Self::Room => "room",
            Self::TorqueX => "motor X",
            Self::TorqueY => "motor Y",
            Self::TorqueZ => "motor Z",
            Self::Cost => "cost",
            Self::Power => "amps",
            Self::Stiffness => "stiffness",
            Self::Removal => "removal",
        }
    }

    /// The axis that it is about.
    pub fn axis(self) -> Option<Axis> {
        match self {
            Self::TorqueX => Some(Axis::X),
            Self::TorqueY => Some(Axis::Y),
            Self::TorqueZ => Some(Axis::Z),
            _ => None,
        }
    }
}

/// Where the pieces stand.
#[derive(Debug, Default)]
pub struct Pictures {
    now: Option<(Rc<Assessment>, Scene)>,
    after: Option<(Rc<Effect>, Scene)>,
}

impl Pictures {
    /// Brings them up to the build as it stands and to what is previewed.
    pub fn follow(&mut self, source: Source, preview: Option<(&Rc<Effect>, Edit)>) {
        let ready = self.now.as_ref();
        if !ready.is_some_and(|(now, _)| Rc::ptr_eq(now, source.now)) {
            let scene = source.paper(Scene::of);
            self.now = scene.map(|scene| (Rc::clone(source.now), scene));
        }
        let Some((effect, edit)) = preview else {
            self.after = None;
            return;
        };
        let ready = self.after.as_ref();
        if !ready.is_some_and(|(known, _)| Rc::ptr_eq(known, effect)) {
            let build = edit.applied(source.build);
            let scene = source.beside(&build, &effect.after, Scene::of);
            self.after = scene.map(|scene| (Rc::clone(effect), scene));
        }
    }

    /// The machine as it stands; none before a picture was looked at.
    pub fn now(&self) -> Option<&Scene> {
        self.now.as_ref().map(|(_, scene)| scene)
    }

    /// The machine as it would be.
    pub fn after(&self) -> Option<&Scene> {
        self.after.as_ref().map(|(_, scene)| scene)
    }
}
