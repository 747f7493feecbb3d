//! One tool in one material: the best way at each width, and the verdict.

use super::means::{Means, Stock, Tool, WIDTHS};
use super::ways::{Failed, Tables, Way, Ways};
use super::{Cut, CutLimit, Engagement, Verdict, why};
use crate::explain::Recorder;
use crate::units::{self, Stiffness};
use crate::words::Words;

/// Two rates of removal that differ by a smaller share are the same but for rounding.
const SAME: f64 = 1e-9;

/// Shares of the trade's usual slot from which a material is cut easily, with care, hardly
/// (common practice).
const EASILY: f64 = 1.0;
const WITH_CARE: f64 = 0.4;
const HARDLY: f64 = 0.1;

/// The limits of a depth, in mm, in the order in which they are named where two are alike.
pub(super) type Depths = [(CutLimit, f64); 6];

/// Every limit of the depth of one way at one width.
pub(super) fn depths(stock: &Stock, tool: &Tool, way: &Way, width: usize) -> Depths {
    let engagement = Engagement::ALL[width];
    let across = units::share::from(engagement.share()) * tool.diameter;
    let force = force_a_depth(stock, tool, way, width);
    let given = if tool.bends_most {
        CutLimit::ToolBending
    } else {
        CutLimit::Stiffness
    };
    let specific = stock.specific(way.feed_power, width);
    [
        (CutLimit::Flutes, tool.edges),
        (CutLimit::Habit, habit(stock, tool, width)),
        (given, stock.gives[width] * tool.tip / force),
        (CutLimit::ToolBending, tool.bears / force),
        (CutLimit::Thrust, way.thrust / force),
        (
            CutLimit::Power,
            way.power * 60_000.0 / (specific * across * way.feed),
        ),
    ]
}

/// The usual depth. In thin side cuts the whole edge is used; the habit is one of slots.
fn habit(stock: &Stock, tool: &Tool, width: usize) -> f64 {
    match Engagement::ALL[width] {
        Engagement::Slot | Engagement::Half => {
            units::times::from(stock.material.deepest_cut) * tool.diameter
        }
        Engagement::Quarter | Engagement::Tenth => f64::INFINITY,
    }
}

/// Greatest force in the plane for each millimetre of depth.
pub(super) fn force_a_depth(stock: &Stock, tool: &Tool, way: &Way, width: usize) -> f64 {
    let along = stock.law.at_one * way.tooth_feed * way.feed_power;
    // Where the mean chip is so thick that its specific force no longer falls, neither does the
    // peak's.
    let held = stock.held(way.feed_power, width);
    along * stock.peak(tool, width) * stock.radial * held
}

/// The least of the limits.
fn least(depths: &Depths) -> (CutLimit, f64) {
    let mut least = depths[0];
    for limit in &depths[1..] {
        if limit.1 < least.1 {
            least = *limit;
        }
    }
    least
}

/// What a depth of the slot means for the material.
fn grade(reached: f64) -> Verdict {
    if reached >= EASILY {
        Verdict::Easily
    } else if reached >= WITH_CARE {
        Verdict::WithCare
    } else if reached >= HARDLY {
        Verdict::Hardly
    } else {
        Verdict::No
    }
}

/// The best that a material allows on a machine so stiff at the collet.
fn cap(stock: &Stock, collet: Stiffness) -> Verdict {
    let material = stock.material;
    if collet < material.hardly_from {
        Verdict::No
    } else if collet < material.with_care_from {
        Verdict::Hardly
    } else if collet < material.easily_from {
        Verdict::WithCare
    } else {
        Verdict::Easily
    }
}

/// A way at a width, as deep as it goes.
#[derive(Clone, Copy)]
struct Best {
    way: Way,
    limit: CutLimit,
    depth: f64,
    /// What it earns as a slot, and what it removes.
    rank: (Verdict, f64),
}

/// The best ways at a width. A slot may earn its verdict at a slower feed, where the axes push
/// harder, than the one at which most is removed: what a cut removes never gets less with a
/// stiffer machine.
#[derive(Clone, Copy)]
struct Bests {
    /// That which removes most.
    most: Best,
    /// That which earns the best verdict, and of such ways removes most.
    judged: Best,
}

impl Bests {
    fn only(best: Best) -> Self {
        Self {
            most: best,
            judged: best,
        }
    }

    /// Takes it where it removes more, or earns a better verdict.
    fn consider(&mut self, other: Best) {
        if other.removes_more(&self.most) {
            self.most = other;
        }
        let (verdict, judged) = (other.rank.0, self.judged.rank.0);
        if verdict > judged || verdict == judged && other.removes_more(&self.judged) {
            self.judged = other;
        }
    }
}

impl Best {
    fn of(stock: &Stock, tool: &Tool, way: Way, width: usize) -> Self {
        let (limit, depth) = least(&depths(stock, tool, &way, width));
        let earned = match Engagement::ALL[width] {
            Engagement::Slot => grade(stock.reached(tool, depth, &way)),
            _ => Verdict::No,
        };
        Self {
            way,
            limit,
            depth,
            rank: (earned, depth * way.feed),
        }
    }

    /// No cut at all, and how near it came.
    fn none(limit: CutLimit, way: Way) -> Self {
        Self {
            way,
            limit,
            depth: 0.0,
            rank: (Verdict::No, 0.0),
        }
    }

    /// Whether it removes noticeably more: of two that remove the same, the last digit would
    /// decide.
    fn removes_more(&self, other: &Self) -> bool {
        self.rank.1 > other.rank.1 * (1.0 + SAME)
    }

    /// Whether a slower way could be better: no other limit gets wider with less speed.
    fn may_gain(&self) -> bool {
        matches!(self.limit, CutLimit::Thrust | CutLimit::Power)
    }
}

/// The best of some ways at a width.
fn best(stock: &Stock, tool: &Tool, ways: &Ways, width: usize) -> Bests {
    let first = Best::of(stock, tool, ways.first, width);
    let mut best = Bests::only(first);
    if first.may_gain() {
        let deepest = tool.edges.min(habit(stock, tool, width));
        for slower in ways.slower() {
            // No slower way goes deeper than edges and habit allow: one that removes less even
            // then need not be worked out, unless it could earn a better verdict.
            let (verdict, removal) = best.judged.rank;
            let judged = width != Engagement::Slot.index() || verdict == Verdict::Easily;
            if judged && deepest * slower.feed <= removal {
                continue;
            }
            let Some(way) = ways.at(slower) else {
                continue;
            };
            best.consider(Best::of(stock, tool, way, width));
        }
    }
    best
}

/// The best way at every width. In a narrow cut the chip is thinner than the feed per tooth:
/// there the tooth is fed more, or, where the axes cannot, it would rub.
fn best_of_each(
    means: &Means,
    stock: &Stock,
    (tool, tables): (&Tool, &Tables),
    ways: &Ways,
) -> [Bests; WIDTHS] {
    std::array::from_fn(|width| {
        let thickest = stock.thickest[width];
        if thickest >= 1.0 {
            return best(stock, tool, ways, width);
        }
        match Ways::of(means, stock, (tool, tables), thickest) {
            Ok(narrow) => best(stock, tool, &narrow, width),
            Err(failed) => Bests::only(Best::none(failed.limit, failed.way(tool))),
        }
    })
}

/// The cuts of a tool in a material at every width.
pub(super) fn cuts(
    means: &Means,
    stock: &Stock,
    tool: &Tool,
    cuts: &mut Vec<Cut>,
    notes: &mut impl Recorder,
) {
    let tables = Tables::of(stock, tool);
    let ways = match Ways::of(means, stock, (tool, &tables), 1.0) {
        Ok(ways) => ways,
        Err(failed) => return nothing(means, stock, tool, &failed, cuts, notes),
    };
    let best = best_of_each(means, stock, (tool, &tables), &ways);
    let first = cuts.len();
    for (width, Bests { most, .. }) in best.iter().enumerate() {
        cuts.push(cut(stock, tool, &most.way, width, (most.limit, most.depth)));
    }
    let slot = best[Engagement::Slot.index()].judged;
    let reached = stock.reached(tool, slot.depth, &slot.way);
    judge(means, stock, reached, &mut cuts[first..]);
    if notes.listens() {
        let judged = why::Judged {
            depth: units::mm::of(slot.depth),
            tooth_feed: units::mm::of(slot.way.tooth_feed),
        };
        for (cut, best) in cuts[first..].iter().zip(&best) {
            if cut.limited_by == CutLimit::Feed {
                why::tell_nothing(means, stock, tool, cut, notes);
                continue;
            }
            why::tell(means, stock, tool, &best.most.way, &judged, cut, notes);
        }
    }
}

/// Gives every cut of a pair the verdict that its slot earns.
fn judge(means: &Means, stock: &Stock, reached: f64, cuts: &mut [Cut]) {
    let (earned, cap) = (grade(reached), cap(stock, means.collet));
    let verdict = earned.min(cap);
    for cut in cuts {
        if cut.limited_by == CutLimit::Feed {
            // Too narrow for its chip: it rubs, whatever the slot earns.
            continue;
        }
        cut.reached = units::times::of(reached);
        cut.verdict = verdict;
        let soft = cap < earned;
        if soft && (cut.engagement == Engagement::Slot || verdict == Verdict::No) {
            cut.limited_by = CutLimit::Chatter;
        }
    }
}

/// A way that goes, to a depth.
fn cut(
    stock: &Stock,
    tool: &Tool,
    way: &Way,
    width: usize,
    (limit, depth): (CutLimit, f64),
) -> Cut {
    let engagement = Engagement::ALL[width];
    let diameter = tool.mill.diameter;
    let (tooth_feed, across) = (units::mm::of(way.tooth_feed), diameter * engagement.share());
    let feed = units::m_per_min::of(way.feed / 1000.0);
    let depth_length = units::mm::of(depth);
    let specific = units::n_per_mm2::of(stock.specific(way.feed_power, width));
    let removal = depth_length * across * feed;
    let force = force_a_depth(stock, tool, way, width) * depth;
    Cut {
        material: stock.material.id,
        tool: tool.mill.id,
        diameter,
        engagement,
        verdict: Verdict::No,
        limited_by: limit,
        turning: units::rpm::of(way.rpm),
        feed,
        depth: depth_length,
        width: across,
        removal,
        tooth_feed,
        mean_chip: stock.bites[width].mean_chip(tooth_feed),
        specific_force: specific,
        power: specific * removal,
        force: units::n::of(force),
        deflection: units::um::of(if force > 0.0 { force / tool.tip } else { 0.0 }),
        tooth_passing: units::hz::of(way.rpm * tool.flutes / 60.0),
        reached: units::times::of(0.0),
    }
}

/// Where no way goes: the same for every width, with the speed and feed at which it fails.
fn nothing(
    means: &Means,
    stock: &Stock,
    tool: &Tool,
    failed: &Failed,
    cuts: &mut Vec<Cut>,
    notes: &mut impl Recorder,
) {
    let way = failed.way(tool);
    for width in 0..WIDTHS {
        let cut = cut(stock, tool, &way, width, (failed.limit, 0.0));
        why::tell_nothing(means, stock, tool, &cut, notes);
        cuts.push(cut);
    }
}
