//! What goes into every cut, worked out once: what the machine brings, what a tool bears and
//! what a material wants. Plain numbers in mm, N, N/µm, W, rpm and mm/min, since they are used
//! five hundred times at every keypress and stay within this folder.

use super::Engagement;
use super::chip::{Bite, turns_for};
use super::force::{Resistance, with_radial};
use super::tool::{bears, own_share};
use super::ways::Way;
use crate::build::{PerAxis, Picked};
use crate::catalogue::Shelf;
use crate::catalogue::material::Material;
use crate::catalogue::spindle::{EndMill, Spindle};
use crate::machine::axis::{AxisFigures, Push};
use crate::machine::stiffness::{MachineStiffness, Tips};
use crate::units::{self, Power, Ratio, Stiffness};
use crate::words::Words;

/// Widths that are tried, in the order of their list.
pub(super) const WIDTHS: usize = Engagement::ALL.len();

/// Feeds that are tried below the fastest one, in mm/min: near the top of their speed motors
/// hardly push. They are the same for every machine, so that a faster one is offered all that
/// a slower one is.
const RUNGS: [f64; 5] = [8000.0, 4000.0, 2000.0, 1000.0, 500.0];

/// A feed and the force that the weaker of X and Y pushes with at it.
#[derive(Clone, Copy)]
pub(super) struct Rung {
    pub(super) feed: f64,
    pub(super) thrust: f64,
}

/// All that cuts are worked out from, and nothing else: where it is the same, so are they.
/// Parts are the same where they are one entry of the catalogue.
pub(super) struct Given<'a> {
    spindle: &'a Spindle,
    cap: Ratio,
    wished: &'a [&'a Material],
    mills: &'a Shelf<EndMill>,
    pub(super) materials: &'a Shelf<Material>,
    x: Push,
    y: Push,
    /// At the worst place, along X and Y.
    collet: (Stiffness, Stiffness),
    tips: Tips,
}

impl<'a> Given<'a> {
    pub(super) fn of(
        picked: &'a Picked,
        axes: &PerAxis<AxisFigures>,
        stiffness: &MachineStiffness,
    ) -> Self {
        Self {
            spindle: picked.spindle,
            cap: picked.build.spindle.power_cap,
            wished: &picked.materials,
            mills: &picked.catalogue.end_mills,
            materials: &picked.catalogue.materials,
            x: axes.x.push(),
            y: axes.y.push(),
            collet: (stiffness.collet_worst.x, stiffness.collet_worst.y),
            tips: stiffness.tips(),
        }
    }

    /// Whether another machine is given the same.
    pub(super) fn is_as(&self, other: &Given) -> bool {
        let one = |a: &&Material, b: &&Material| std::ptr::eq(*a, *b);
        let mut wished = self.wished.iter().zip(other.wished);
        std::ptr::eq(self.spindle, other.spindle)
            && std::ptr::eq(self.mills, other.mills)
            && std::ptr::eq(self.materials, other.materials)
            && self.wished.len() == other.wished.len()
            && wished.all(|(a, b)| one(a, b))
            && (self.x, self.y, self.cap) == (other.x, other.y, other.cap)
            && (self.collet, self.tips) == (other.collet, other.tips)
    }

    /// The tools that the spindle takes.
    pub(super) fn tools(&self) -> Vec<Tool<'a>> {
        let mills = self.mills.values();
        let taken = mills.filter(|mill| self.spindle.takes(mill));
        taken.map(|mill| Tool::of(mill, &self.tips)).collect()
    }

    /// Of the wished materials the one that resists most at its stated chip.
    pub(super) fn hardest(&self) -> Option<&'a Material> {
        let each = self.wished.iter().copied();
        each.max_by(|a, b| {
            let (a, b) = (a.specific_force.value, b.specific_force.value);
            a.total_cmp(&b)
        })
    }
}

/// What the machine brings.
pub(super) struct Means<'a> {
    pub(super) spindle: &'a Spindle,
    /// The user's cap on the spindle's power.
    pub(super) cap: Power,
    x: Push,
    y: Push,
    pub(super) slowest: f64,
    pub(super) fastest: f64,
    /// The fastest feed of X and Y together.
    pub(super) top: Rung,
    pub(super) rungs: [Rung; RUNGS.len()],
    /// Stiffness at the collet in the softer direction of X and Y, at the worst place.
    pub(super) collet: Stiffness,
    /// The path of that figure.
    pub(super) collet_path: &'static str,
}

/// The softer of X and Y, in which the peak of the teeth will sooner or later pull.
pub(super) fn softer((x, y): (Stiffness, Stiffness)) -> Stiffness {
    x.min(y)
}

impl<'a> Means<'a> {
    pub(super) fn of(given: &Given<'a>) -> Self {
        let spindle = given.spindle;
        let (x, y) = (given.x, given.y);
        let top = mm_per_min(x.rapid).min(mm_per_min(y.rapid));
        let rung = |feed| Rung {
            feed,
            thrust: thrust(&x, &y, feed),
        };
        Self {
            spindle,
            cap: spindle.power * given.cap,
            x,
            y,
            slowest: units::rpm::from(spindle.least_speed),
            fastest: units::rpm::from(spindle.greatest_speed),
            top: rung(top),
            rungs: RUNGS.map(rung),
            collet: softer(given.collet),
            collet_path: match given.collet.1 < given.collet.0 {
                true => "stiffness.collet_worst_n_per_um.Y",
                false => "stiffness.collet_worst_n_per_um.X",
            },
        }
    }

    /// The path of the rapids that bound the feed: those of the slower of X and Y.
    pub(super) fn slower_axis(&self) -> &'static str {
        match self.y.rapid < self.x.rapid {
            true => "axes.Y.rapid_m_per_min",
            false => "axes.X.rapid_m_per_min",
        }
    }

    /// Power at the shaft at a speed: as the spindle's torque allows, within the cap.
    pub(super) fn power(&self, rpm: f64) -> f64 {
        let torque_bound = self.spindle.power_at(units::rpm::of(rpm));
        units::w::from(torque_bound).min(units::w::from(self.cap))
    }

    /// A feed with what the axes push at it.
    pub(super) fn at(&self, feed: f64) -> Rung {
        Rung {
            feed,
            thrust: thrust(&self.x, &self.y, feed),
        }
    }
}

fn mm_per_min(speed: units::Velocity) -> f64 {
    units::m_per_min::from(speed) * 1000.0
}

fn thrust(x: &Push, y: &Push, feed: f64) -> f64 {
    let speed = units::m_per_min::of(feed / 1000.0);
    units::n::from(x.at(speed)).min(units::n::from(y.at(speed)))
}

/// What a tool bears on this machine.
pub(super) struct Tool<'a> {
    pub(super) mill: &'a EndMill,
    pub(super) diameter: f64,
    pub(super) flutes: f64,
    pub(super) edges: f64,
    /// Stiffness at its tip in the softer direction, at the worst place.
    pub(super) tip: f64,
    /// Whether the tool itself gives more than the machine.
    pub(super) bends_most: bool,
    /// Force that does not break it.
    pub(super) bears: f64,
}

impl<'a> Tool<'a> {
    fn of(mill: &'a EndMill, tips: &Tips) -> Self {
        let tip = softer(tips.with(mill));
        Self {
            mill,
            diameter: units::mm::from(mill.diameter),
            flutes: f64::from(mill.flutes),
            edges: units::mm::from(mill.flute_length),
            tip: units::n_per_um::from(tip),
            bends_most: own_share(mill, tip) > units::share::of(0.5),
            bears: units::n::from(bears(mill)),
        }
    }
}

/// What a material wants, and how it resists at each width.
pub(super) struct Stock<'a> {
    pub(super) material: &'a Material,
    pub(super) law: Resistance,
    /// √(1 + r²): the force across the cut counted in.
    pub(super) radial: f64,
    pub(super) bites: [Bite; WIDTHS],
    /// The thickest chip against the feed per tooth at each width.
    pub(super) thickest: [f64; WIDTHS],
    /// (h_m/f_z)^-m at each width.
    mean_power: [f64; WIDTHS],
    /// The peak of the teeth at each width, for up to three flutes.
    peaks: [f64; WIDTHS],
    /// How far the tip may be pushed aside, in µm.
    pub(super) gives: [f64; WIDTHS],
}

impl<'a> Stock<'a> {
    /// Of a material, with the [`bites`] that are the same for all.
    pub(super) fn of(material: &'a Material, bites: [Bite; WIDTHS]) -> Self {
        let law = Resistance::of(material);
        let mut gives = [units::um::from(material.roughing_give); WIDTHS];
        gives[Engagement::Tenth.index()] = units::um::from(material.finishing_give);
        Self {
            material,
            law,
            radial: with_radial(material),
            bites,
            thickest: bites.map(|bite| bite.greatest_share()),
            mean_power: bites.map(|bite| bite.mean_share().powf(-law.exponent)),
            peaks: bites.map(|bite| units::times::from(bite.peak(3, material.chip_exponent))),
            gives,
        }
    }

    /// The peak of the teeth of a tool at a width.
    pub(super) fn peak(&self, tool: &Tool, width: usize) -> f64 {
        if tool.mill.flutes <= 3 {
            return self.peaks[width];
        }
        let peak = self.bites[width].peak(tool.mill.flutes, self.material.chip_exponent);
        units::times::from(peak)
    }

    /// Specific force in N/mm² at a width, from f_z^-m.
    pub(super) fn specific(&self, feed_power: f64, width: usize) -> f64 {
        self.falling(feed_power, width).max(self.law.least)
    }

    /// How many times the law would have to be what it says where the chip is so thick that the
    /// specific force no longer falls; 1 elsewhere.
    pub(super) fn held(&self, feed_power: f64, width: usize) -> f64 {
        let falling = self.falling(feed_power, width);
        // Where nothing goes there is no chip either.
        if falling > 0.0 {
            self.specific(feed_power, width) / falling
        } else {
            1.0
        }
    }

    fn falling(&self, feed_power: f64, width: usize) -> f64 {
        self.law.at_one * feed_power * self.mean_power[width]
    }

    /// The depth of a slot against the trade's usual one. A thin chip needs less force, so a
    /// depth that only a thin chip allows counts for less, as deep as it would be with the
    /// full chip: F goes with f_z^(1-m).
    pub(super) fn reached(&self, tool: &Tool, depth: f64, way: &Way) -> f64 {
        let usual = units::times::from(self.material.usual_slot) * tool.diameter;
        depth / usual * way.chip_share
    }

    /// Edge speeds of the material as turns of a tool: the slowest and the fastest usual.
    pub(super) fn turns(&self, tool: &Tool) -> (f64, f64) {
        let turns = |edge| units::rpm::from(turns_for(tool.mill.diameter, edge));
        (
            turns(self.material.least_speed),
            turns(self.material.greatest_speed),
        )
    }
}

/// How far a tool bites into the material at each width.
pub(super) fn bites() -> [Bite; WIDTHS] {
    std::array::from_fn(|width| Bite::of(Engagement::ALL[width].share()))
}
