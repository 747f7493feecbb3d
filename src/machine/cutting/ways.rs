//! The speeds and feeds at which a tool may be led through a material.
//!
//! The tooth takes the greatest feed that the material's table allows, and the spindle turns
//! as fast as the material bears. Where the axes cannot follow, the spindle turns slower down
//! to the material's slowest usual edge, then the chip gets thinner down to where the edge
//! would rub, then the spindle turns slower still, down to its own slowest; past that it does
//! not go. Foam cuts however thin the chip is.
//!
//! Tables state the feed per tooth of cuts at least half as wide as the tool, where the thickest
//! chip is the feed itself. In narrower cuts it is thinner; the feed per tooth is raised by as
//! much, so that the edge still cuts and does not rub (cutter makers' chip thinning).

use super::means::{Means, Rung, Stock, Tool};
use super::{CutLimit, Engagement};
use crate::catalogue::material::{Family, ToothFeeds};
use crate::units;
use crate::words::Words;

/// One way: speed, feed per tooth in mm, feed in mm/min, and what is there to drive it.
#[derive(Clone, Copy)]
pub(super) struct Way {
    pub(super) rpm: f64,
    pub(super) tooth_feed: f64,
    pub(super) feed: f64,
    /// Force of the weaker of X and Y at that feed, in N.
    pub(super) thrust: f64,
    /// Power at the shaft at that speed, in W.
    pub(super) power: f64,
    /// f_z^-m, for the specific force.
    pub(super) feed_power: f64,
    /// (f_z/f_max)^(1-m): the force of its chip against that of the full one.
    pub(super) chip_share: f64,
}

/// Where no way goes: why, and how near it came.
pub(super) struct Failed {
    pub(super) limit: CutLimit,
    rpm: f64,
    /// Feed in mm/min.
    feed: f64,
}

impl Failed {
    /// The speed and feed at which it fails, as a way that nothing drives.
    pub(super) fn way(&self, tool: &Tool) -> Way {
        Way {
            rpm: self.rpm,
            tooth_feed: self.feed / (self.rpm * tool.flutes),
            feed: self.feed,
            thrust: 0.0,
            power: 0.0,
            feed_power: 0.0,
            chip_share: 0.0,
        }
    }
}

/// The bounds within which a way is looked for.
struct Bounds {
    flutes: f64,
    /// Slowest turn of the spindle.
    slowest: f64,
    /// Slowest and fastest usual turn in this material.
    usual: (f64, f64),
    /// Least and greatest feed per tooth.
    chip: (f64, f64),
    /// The greatest feed per tooth to the power of -m.
    full_power: f64,
    foam: bool,
}

/// What a material's tables say of a tool.
pub(super) struct Tables {
    /// Slowest and fastest usual turn.
    turns: (f64, f64),
    /// Least and greatest feed per tooth, in wide cuts.
    chip: (f64, f64),
}

impl Tables {
    pub(super) fn of(stock: &Stock, tool: &Tool) -> Self {
        let material = stock.material;
        let chip = |table: &ToothFeeds| units::mm::from(table.at(tool.mill.diameter));
        Self {
            turns: stock.turns(tool),
            chip: (chip(&material.least_chip), chip(&material.greatest_chip)),
        }
    }
}

impl Bounds {
    /// Speed and feed per tooth for a feed; none where the tooth would rub.
    fn at(&self, feed: f64) -> Option<(f64, f64)> {
        let (least, greatest) = self.chip;
        let rpm = feed / (self.flutes * greatest);
        if rpm >= self.usual.0 {
            return Some((rpm, greatest));
        }
        let chip = feed / (self.flutes * self.usual.0);
        if chip >= least {
            return Some((self.usual.0, chip));
        }
        let rpm = feed / (self.flutes * least);
        if rpm >= self.slowest {
            return Some((rpm, least));
        }
        let chip = feed / (self.flutes * self.slowest);
        (self.foam && chip > 0.0).then_some((self.slowest, chip))
    }
}

/// The ways of one tool in one material.
pub(super) struct Ways<'a> {
    means: &'a Means<'a>,
    stock: &'a Stock<'a>,
    bounds: Bounds,
    /// The fastest.
    pub(super) first: Way,
    /// The slowest feed with the full chip.
    natural: f64,
}

impl<'a> Ways<'a> {
    /// The ways there are at a width whose thickest chip is such a share of the feed per tooth;
    /// where there is none, why.
    pub(super) fn of(
        means: &'a Means,
        stock: &'a Stock,
        (tool, tables): (&Tool, &Tables),
        thickest: f64,
    ) -> Result<Self, Failed> {
        let (slow, fast) = tables.turns;
        if fast < means.slowest * (1.0 - 1e-9) {
            return Err(Failed {
                limit: CutLimit::Speed,
                rpm: means.slowest,
                feed: 0.0,
            });
        }
        let fastest = fast.min(means.fastest).max(means.slowest);
        let chip = (tables.chip.0 / thickest, tables.chip.1 / thickest);
        let bounds = Bounds {
            flutes: tool.flutes,
            slowest: means.slowest,
            usual: (slow.max(means.slowest).min(fastest), fastest),
            chip,
            full_power: chip.1.powf(-stock.law.exponent),
            foam: stock.material.family == Family::Foam,
        };
        let per_turn = bounds.flutes * bounds.chip.1;
        let (natural, swiftest) = (bounds.usual.0 * per_turn, bounds.usual.1 * per_turn);
        let highest = if swiftest < means.top.feed {
            means.at(swiftest)
        } else {
            means.top
        };
        match way(means, stock, &bounds, highest) {
            Some(first) => Ok(Self {
                means,
                stock,
                bounds,
                first,
                natural,
            }),
            None => Err(Failed {
                limit: CutLimit::Feed,
                rpm: means.slowest,
                feed: means.top.feed,
            }),
        }
    }

    /// Slower feeds, at which the axes push harder or the spindle's power goes deeper.
    pub(super) fn slower(&self) -> impl Iterator<Item = Slower> {
        let first = self.first.feed;
        let natural = Slower {
            feed: self.natural,
            rung: None,
        };
        let rungs = self.means.rungs.iter().map(|&rung| Slower {
            feed: rung.feed,
            rung: Some(rung),
        });
        let all = rungs.chain([natural]);
        all.filter(move |one| one.feed < first)
    }

    /// The way at a feed; none where the tooth would rub.
    pub(super) fn at(&self, slower: Slower) -> Option<Way> {
        let rung = slower.rung.unwrap_or_else(|| self.means.at(slower.feed));
        way(self.means, self.stock, &self.bounds, rung)
    }
}

/// A slower feed, and what the axes push with at it where that is known already.
#[derive(Clone, Copy)]
pub(super) struct Slower {
    pub(super) feed: f64,
    rung: Option<Rung>,
}

fn way(means: &Means, stock: &Stock, bounds: &Bounds, rung: Rung) -> Option<Way> {
    let (rpm, tooth_feed) = bounds.at(rung.feed)?;
    let exponent = stock.law.exponent;
    let (full, full_power) = (bounds.chip.1, bounds.full_power);
    let feed_power = match tooth_feed == full {
        true => full_power,
        false => tooth_feed.powf(-exponent),
    };
    let slot = Engagement::Slot.index();
    Some(Way {
        rpm,
        tooth_feed,
        feed: rung.feed,
        thrust: rung.thrust,
        power: means.power(rpm),
        feed_power,
        chip_share: if tooth_feed < full {
            let held = stock.held(feed_power, slot) / stock.held(full_power, slot);
            (tooth_feed / full).powf(1.0 - exponent) * held
        } else {
            1.0
        },
    })
}
