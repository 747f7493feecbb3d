//! What each tool can do in each material: the deepest cut that every limit allows.

use crate::build::{PerAxis, Picked};
use crate::catalogue::Id;
use crate::explain::Recorder;
use crate::units::{
    AngularVelocity, Force, Frequency, Length, Power, Pressure, Ratio, Velocity, VolumeRate,
};

use super::axis::AxisFigures;
use super::stiffness::MachineStiffness;

crate::words! {
    /// How well a machine cuts a material.
    Verdict {
        No = "no", "no", "It does not go: the tool would rub, chatter or break.";
        Hardly = "hardly", "hardly", "In tiny cuts, slowly, now and then.";
        WithCare = "with-care", "with care", "In light cuts, with a sharp tool and a close eye.";
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
        Speed = "spindle-too-fast", "spindle too fast", "Even at its slowest the edge is too fast for the material.";
        Feed = "feed-too-slow", "axes too slow", "The axes cannot follow: the tooth would rub.";
        Chatter = "too-soft", "machine too soft", "The frame is softer than this material wants: it would chatter.";
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
    /// Works out every material with every tool that the spindle takes.
    pub(super) fn of(
        _picked: &Picked,
        _axes: &PerAxis<AxisFigures>,
        _stiffness: &MachineStiffness,
        _notes: &mut impl Recorder,
    ) -> Self {
        Self::default()
    }

    /// The cut of a material that removes most in a time; none where no tool can cut it.
    pub fn best(&self, material: &Id) -> Option<&Cut> {
        let able = |cut: &&Cut| cut.material == *material && cut.verdict != Verdict::No;
        self.cuts
            .iter()
            .filter(able)
            .max_by(|a, b| a.removal.value.total_cmp(&b.removal.value))
    }

    /// The cut that removes most of the hardest wished material.
    pub fn wished(&self) -> Option<&Cut> {
        self.cuts.get(self.wished?)
    }
}
