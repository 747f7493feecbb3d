//! What each tool can do in each material: the deepest cut that every limit allows.
//!
//! Every tool that the spindle's collets take is led through every material at four widths.
//! The force on it is linear in the depth, so each limit gives a greatest depth in closed
//! form, and the least of them holds. Chatter that the cut itself stirs up is not modelled;
//! instead the verdict is capped by how stiff a machine the material wants.

pub mod chip;
pub mod force;
mod means;
mod pair;
pub mod tool;
pub mod wanted;
mod ways;
mod why;

use std::sync::Arc;

use crate::build::{PerAxis, Picked};
use crate::catalogue::Id;
use crate::explain::Recorder;
use crate::units::{
    AngularVelocity, Force, Frequency, Length, Power, Pressure, Ratio, Velocity, VolumeRate,
};
use crate::words::Words as _;

use super::Machine;
use super::axis::AxisFigures;
use super::stiffness::MachineStiffness;
use means::{Given, Means, Stock};

crate::words! {
    /// How well a machine cuts a material.
    Verdict {
        No = "no", "no", "It does not go: the tool would rub, chatter or break.";
        Hardly = "hardly", "hardly", "In tiny cuts, slowly, now and then.";
        WithCare = "with-care", "with care", "In light cuts, with a sharp tool and a close eye: deeper cuts may chatter.";
        Easily = "easily", "easily", "In the cuts that the trade takes as usual.";
    }
}

crate::words! {
    /// What holds a cut back.
    CutLimit {
        Power = "spindle-power", "spindle power", "The spindle has no more power at that speed, within your cap.";
        Thrust = "thrust", "thrust", "The axes push no harder at that feed.";
        Stiffness = "stiffness", "stiffness", "The tool would be pushed aside more than the material allows.";
        ToolBending = "tool-bending", "tool bending", "The tool itself would bend or break.";
        Habit = "usual-depth", "usual depth", "Deeper than the trade cuts with such a tool.";
        Flutes = "flute-length", "flute length", "The cutting edges are no longer.";
        Speed = "spindle-too-fast", "least spindle speed", "Even at its slowest the edge is too fast for the material.";
        Feed = "feed-too-slow", "axis speed", "The axes cannot follow: the tooth would rub.";
        Chatter = "too-soft", "frame softness", "The frame is softer than this material wants: heavier cuts would chatter.";
    }
}

crate::words! {
    /// How much of the tool's diameter is in the material.
    Engagement {
        Slot = "slot", "slot", "The whole diameter: a groove.";
        Half = "half", "half the diameter", "A side cut half as wide as the tool.";
        Quarter = "quarter", "a quarter of the diameter", "A side cut a quarter as wide as the tool.";
        Tenth = "tenth", "a tenth of the diameter", "A thin side cut, as in finishing.";
    }
}

impl Engagement {
    /// The width against the diameter of the tool.
    pub fn share(self) -> Ratio {
        crate::units::share::of(match self {
            Self::Slot => 1.0,
            Self::Half => 0.5,
            Self::Quarter => 0.25,
            Self::Tenth => 0.1,
        })
    }
}

/// The best cut of one tool in one material at one width.
#[derive(Clone, Debug)]
pub struct Cut {
    /// The material.
    pub material: Id,
    /// The tool.
    pub tool: Id,
    /// Cutting diameter of the tool.
    pub diameter: Length,
    /// How much of the diameter is in the material.
    pub engagement: Engagement,
    /// Verdict for the material with this tool, from the slot.
    pub verdict: Verdict,
    /// What holds it back.
    pub limited_by: CutLimit,
    /// Speed of the spindle.
    pub turning: AngularVelocity,
    /// Feed.
    pub feed: Velocity,
    /// Depth along the tool.
    pub depth: Length,
    /// Width across the tool.
    pub width: Length,
    /// Material removed in a time.
    pub removal: VolumeRate,
    /// Feed a tooth.
    pub tooth_feed: Length,
    /// Mean thickness of the chip over the arc of engagement.
    pub mean_chip: Length,
    /// Specific cutting force at that chip.
    pub specific_force: Pressure,
    /// Power at the shaft.
    pub power: Power,
    /// Greatest force in the plane on the tool.
    pub force: Force,
    /// How far that force pushes the tip aside.
    pub deflection: Length,
    /// How often a tooth strikes.
    pub tooth_passing: Frequency,
    /// What the reference depth is reached to: 1 is the trade's usual slot.
    pub reached: Ratio,
}

impl Cut {
    /// The path of one of its figures.
    pub(super) fn path(&self, figure: &str) -> String {
        let width = self.engagement.id();
        format!("cutting.{}.{}.{width}.{figure}", self.material, self.tool)
    }
}

/// What the standard tools can do.
#[derive(Clone, Debug, Default)]
pub struct Cutting {
    /// For every material and tool, the slot and the side cuts; the best of each pair is
    /// given by [`Cutting::best`].
    pub cuts: Vec<Cut>,
    /// Place in `cuts` of the best cut in the hardest wished material.
    wished: Option<usize>,
}

impl Cutting {
    /// Works out every material with every tool that the spindle takes; `known` is what was
    /// worked out for a machine that may be given the same.
    pub(super) fn beside(
        picked: &Picked,
        axes: &PerAxis<AxisFigures>,
        stiffness: &MachineStiffness,
        known: Option<(&Picked, &Machine)>,
        notes: &mut impl Recorder,
    ) -> Arc<Self> {
        let given = Given::of(picked, axes, stiffness);
        if let Some((picked, machine)) = known
            && given.is_as(&Given::of(picked, &machine.axes, &machine.stiffness))
        {
            return Arc::clone(&machine.cutting);
        }
        if notes.listens() {
            for tool in given.tools() {
                why::tip(&tool, stiffness, notes);
            }
        }
        Arc::new(Self::from(&given, notes))
    }

    /// Works out every material with every tool that the spindle takes.
    pub fn of(
        picked: &Picked,
        axes: &PerAxis<AxisFigures>,
        stiffness: &MachineStiffness,
        notes: &mut impl Recorder,
    ) -> Arc<Self> {
        Self::beside(picked, axes, stiffness, None, notes)
    }

    fn from(given: &Given, notes: &mut impl Recorder) -> Self {
        let means = Means::of(given);
        let tools = given.tools();
        let materials = given.materials;
        let mut cuts = Vec::with_capacity(materials.len() * tools.len() * means::WIDTHS);
        let bites = means::bites();
        for material in materials.values() {
            let stock = Stock::of(material, bites);
            for tool in &tools {
                pair::cuts(&means, &stock, tool, &mut cuts, notes);
            }
        }
        let mut cutting = Self { cuts, wished: None };
        let hardest = given.hardest();
        cutting.wished = hardest.and_then(|material| cutting.best_place(&material.id));
        cutting
    }

    /// Place of the cut of a material that removes most in a time, of those that go as well as the
    /// material does: what is barely faster with another tool, and only with care, is no gain.
    fn best_place(&self, material: &Id) -> Option<usize> {
        let verdict = self.verdict(material).max(Verdict::Hardly);
        let cuts = self.cuts.iter().enumerate();
        let able = |(_, cut): &(usize, &Cut)| cut.verdict >= verdict && cut.material == *material;
        cuts.filter(able)
            .max_by(|(_, a), (_, b)| a.removal.value.total_cmp(&b.removal.value))
            .map(|(place, _)| place)
    }

    /// How well a material goes as a whole: as its [outlook](Self::outlook).
    pub fn verdict(&self, material: &Id) -> Verdict {
        self.outlook(material)
            .map_or(Verdict::No, |cut| cut.verdict)
    }

    /// The slot of the tool that is best for a material, which gives the verdict on the
    /// material as a whole; none where the spindle takes no tool.
    pub fn outlook(&self, material: &Id) -> Option<&Cut> {
        let slots = self.cuts.iter();
        slots
            .filter(|cut| cut.engagement == Engagement::Slot && cut.material == *material)
            .max_by(|a, b| {
                let reached = a.reached.value.total_cmp(&b.reached.value);
                a.verdict.cmp(&b.verdict).then(reached)
            })
    }

    /// The cut of a material that removes most in a time, of those that go as well as the material
    /// does; none where no tool can cut it.
    pub fn best(&self, material: &Id) -> Option<&Cut> {
        self.cuts.get(self.best_place(material)?)
    }

    /// The cut that removes most of the hardest wished material.
    pub fn wished(&self) -> Option<&Cut> {
        self.cuts.get(self.wished?)
    }
}
