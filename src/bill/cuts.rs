//! Cuts: which piece of steel comes out of which bar, and whether to buy whole bars at all.
//!
//! Everything that is sold by the bar is nested ([`super::nesting`]): the members of the frame
//! and, where they are chosen, the strips that take the rails' threads; of all machines that
//! are built together. Two ways to buy are priced side by side: the seller saws, and one pays
//! each metre and each cut; or one buys whole bars, saws, keeps the offcuts, and needs a saw.
//! Where whole bars are chosen, the lines of the bill are those bars.
//!
//! Rails and screws are cut to order and stand on no bar.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::list::Need;
use super::nesting::{self, NestedBar, Nesting, OnOffer, Saw, Stock, Task, Tenths, Wanted};
use super::pricing::Pricing;
use crate::build::choices::working_area::TubeSupply;
use crate::build::{Axis, Picked};
use crate::catalogue::quantity::{Count, QuantityRule};
use crate::catalogue::{Catalogue, Id, Step};
use crate::explain::{Recorder, nth_key};
use crate::machine::Machine;
use crate::money::MoneyError;
use crate::units::Length;
use crate::words::Words as _;

mod buy;
mod compare;
mod notes;

pub use compare::Totals;

/// What a piece becomes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PieceOf {
    /// A member of the frame, by its place among them.
    Member(usize),
    /// A strip behind each rail of an axis.
    Strip(Axis),
}

/// Pieces of one mark.
#[derive(Clone, Copy, Debug)]
pub struct CutPiece {
    /// What it becomes.
    pub of: PieceOf,
    /// Length of one.
    pub length: Tenths,
    /// How many, for all machines.
    pub count: u32,
}

impl CutPiece {
    /// Its mark on lists: the frame plan's, or one of its own for strips.
    pub fn mark<'m>(&self, machine: &'m Machine) -> &'m str {
        match self.of {
            PieceOf::Member(place) => {
                let member = machine.geometry.members.get(place);
                member.map_or("", |member| member.mark.as_str())
            }
            PieceOf::Strip(Axis::X) => "TX",
            PieceOf::Strip(Axis::Y) => "TY",
            PieceOf::Strip(Axis::Z) => "TZ",
        }
    }

    /// What it is, in words.
    pub fn title(&self, machine: &Machine) -> String {
        match self.of {
            PieceOf::Member(place) => {
                let member = machine.geometry.members.get(place);
                member
                    .map(|member| member.title.to_string())
                    .unwrap_or_default()
            }
            PieceOf::Strip(axis) => format!("thread strip of a rail of {}", axis.title()),
        }
    }
}

/// All that is cut from bars of one section.
#[derive(Clone, Debug)]
pub struct SectionCuts {
    /// The tube or flat bar.
    pub part: Id,
    /// The step whose line of the bill it is.
    pub step: Step,
    /// The pieces.
    pub pieces: Vec<CutPiece>,
    /// The bars on offer, with the likely price of each; where nobody named a price, with
    /// their length in its place.
    pub bars: Vec<OnOffer>,
    /// Whether the price is known.
    pub priced: bool,
    /// The offcuts in hand.
    pub offcuts: Vec<Tenths>,
    /// Which piece comes out of which bar.
    pub nesting: Nesting,
}

impl SectionCuts {
    /// Metres of new bars, and of pieces that no bar is long enough for.
    pub fn metres(&self) -> Option<Decimal> {
        let bars = self.nesting.bars.iter();
        let bars = bars.filter(|bar| matches!(bar.stock, Stock::New(_)));
        let bars = bars.map(|bar| (bar.length, bar.times));
        let long = self.nesting.too_long.iter();
        let long = long.map(|&(piece, count)| (self.pieces[piece].length, count));
        bars.chain(long)
            .try_fold(Decimal::ZERO, |sum, (length, times)| {
                sum.checked_add(length.metres().checked_mul(Decimal::from(times))?)
            })
    }

    /// The pieces of a bar, one after the other, by their place.
    pub fn pieces_of(bar: &NestedBar) -> impl Iterator<Item = usize> {
        let each = bar.pieces.iter();
        each.flat_map(|&(piece, count)| std::iter::repeat_n(piece, count as usize))
    }
}

/// All cuts of the machines.
#[derive(Clone, Debug)]
pub struct Cuts {
    /// How tube is bought.
    pub supply: TubeSupply,
    /// The saw.
    pub saw: Saw,
    /// Section by section.
    pub sections: Vec<SectionCuts>,
    /// What either way of buying costs.
    pub totals: Totals,
}

impl Cuts {
    /// Nests what the machines take. A section that was cut out of the same bars into the same
    /// pieces in a known bill is taken from there.
    ///
    /// # Errors
    /// Where a price cannot be stated in the site's currency, or is past counting.
    pub(super) fn of(
        pricing: &Pricing,
        machine: &Machine,
        needs: &[Need],
        known: Option<&Self>,
        notes: &mut impl Recorder,
    ) -> Result<Self, MoneyError> {
        let picked = pricing.picked;
        let area = &picked.build.area;
        let saw = Saw {
            kerf: Tenths::up(area.saw_kerf),
            trim: Tenths::up(area.end_trim),
        };
        let mut sections = Vec::new();
        for (part, step, pieces) in wanted(picked, machine) {
            let asked = needs
                .iter()
                .find(|need| need.step == step && *need.part.id() == part);
            if let Some(need) = asked {
                sections.extend(nested(pricing, (saw, known), need, pieces)?);
            }
        }
        let totals = compare::totals(pricing, machine, needs, &sections)?;
        let cuts = Self {
            supply: area.tube_supply,
            saw,
            sections,
            totals,
        };
        if notes.listens() {
            notes::note(&cuts, picked, machine, pricing.currency, notes);
        }
        Ok(cuts)
    }

    /// Every bar with its section, and its name in the paths of figures.
    pub fn bars(&self) -> impl Iterator<Item = (String, &SectionCuts, &NestedBar)> {
        let mut seen: Vec<(&Id, usize)> = Vec::new();
        let each = self.sections.iter();
        let bars =
            each.flat_map(|section| section.nesting.bars.iter().map(move |bar| (section, bar)));
        bars.map(move |(section, bar)| {
            let earlier = match seen.iter_mut().find(|(part, _)| *part == &section.part) {
                Some((_, count)) => {
                    *count += 1;
                    *count
                }
                None => {
                    seen.push((&section.part, 0));
                    0
                }
            };
            (nth_key(section.part.as_str(), earlier), section, bar)
        })
    }

    /// Pieces that neither a bar on offer nor an offcut in hand is long enough for, with how
    /// many of each.
    pub fn too_long(&self) -> impl Iterator<Item = (&SectionCuts, &CutPiece, u32)> {
        self.sections.iter().flat_map(|section| {
            let long = section.nesting.too_long.iter();
            long.map(move |&(piece, count)| (section, &section.pieces[piece], count))
        })
    }

    /// Whether no way to cut costs less.
    pub fn is_proven(&self) -> bool {
        self.sections
            .iter()
            .all(|section| section.nesting.is_proven())
    }

    /// Metres of all bars and offcuts that are sawn, and of the pieces that come out of them.
    fn sawn(&self) -> (Decimal, Decimal) {
        let (mut stock, mut pieces) = (Decimal::ZERO, Decimal::ZERO);
        for section in &self.sections {
            for bar in &section.nesting.bars {
                let times = Decimal::from(bar.times);
                stock += bar.length.metres() * times;
                for &(piece, count) in &bar.pieces {
                    let length = section.pieces[piece].length.metres();
                    pieces += length * Decimal::from(count) * times;
                }
            }
        }
        (stock, pieces)
    }

    /// What becomes no piece, in percent of all that is sawn; none where nothing is.
    pub fn waste_percent(&self) -> Option<Decimal> {
        let (stock, pieces) = self.sawn();
        let share = (stock - pieces).checked_div(stock)?;
        Some((share * Decimal::ONE_HUNDRED).round_dp(2))
    }
}

/// What is cut, section by section.
fn wanted(picked: &Picked, machine: &Machine) -> Vec<(Id, Step, Vec<CutPiece>)> {
    let machines = picked.build.area.machines;
    let mut found: Vec<(Id, Step, Vec<CutPiece>)> = Vec::new();
    let mut add = |part: &Id, step: Step, piece: CutPiece| {
        let known = found
            .iter_mut()
            .find(|(id, of, _)| id == part && *of == step);
        match known {
            Some((_, _, pieces)) => pieces.push(piece),
            None => found.push((*part, step, vec![piece])),
        }
    };
    for (place, member) in machine.geometry.members.iter().enumerate() {
        let piece = CutPiece {
            of: PieceOf::Member(place),
            length: Tenths::up(member.length),
            count: member.pieces.saturating_mul(machines),
        };
        add(&member.tube, Step::WorkingArea, piece);
    }
    if picked.build.area.thread_strips {
        let rules = picked.catalogue.quantities.iter();
        for (rule, each) in rules.filter_map(|rule| Some((rule, strips_a_rail(rule)?))) {
            for axis in [Axis::X, Axis::Y] {
                let rails = &machine.geometry.rails[axis];
                let piece = CutPiece {
                    of: PieceOf::Strip(axis),
                    length: Tenths::up(rails.length),
                    count: rails.rails.saturating_mul(machines).saturating_mul(each),
                };
                add(&rule.part, rule.step, piece);
            }
        }
    }
    found
}

/// How many strips behind each rail a rule asks for, where they are sawn.
fn strips_a_rail(rule: &QuantityRule) -> Option<u32> {
    // Part of a strip would be no piece to saw.
    let sawn = rule.per == Count::ThreadStrip && rule.each.is_integer();
    rule.each.to_u32().filter(|_| sawn)
}

/// The lengths of the bars in which a tube or a small part is sold; none where it is not.
pub(in crate::bill) fn bars_of<'c>(catalogue: &'c Catalogue, id: &Id) -> &'c [Length] {
    let tube = catalogue.tubes.get(id).map(|tube| tube.bars.as_slice());
    let sundry = || {
        catalogue
            .sundries
            .get(id)
            .map(|sundry| sundry.bars.as_slice())
    };
    tube.or_else(sundry).unwrap_or_default()
}

/// Whether what a rule asks for is bought as whole bars, which hold what is sawn from them: there
/// are no packs then, and nothing to spare.
pub(in crate::bill) fn comes_as_bars(picked: &Picked, rule: &QuantityRule) -> bool {
    picked.build.area.tube_supply == TubeSupply::WholeBars
        && strips_a_rail(rule).is_some()
        && !bars_of(picked.catalogue, &rule.part).is_empty()
}

impl Cuts {
    /// The nesting of a section, where it was the same task.
    fn nesting_of(&self, part: &Id, task: &Task) -> Option<&Nesting> {
        let mut sections = self.sections.iter().filter(|_| self.saw == task.saw);
        let same = |section: &&SectionCuts| {
            let pieces = section
                .pieces
                .iter()
                .map(|piece| (piece.length, piece.count));
            let wanted = task.pieces.iter().map(|piece| (piece.length, piece.count));
            let digits = |bar: &OnOffer| (bar.length, bar.price.serialize());
            section.part == *part
                && pieces.eq(wanted)
                && section.offcuts == task.offcuts
                && (section.bars.iter().map(digits)).eq(task.bars.iter().map(digits))
        };
        sections.find(same).map(|section| &section.nesting)
    }
}

/// Nests the pieces of one section; none where it is not sold in bars.
fn nested(
    pricing: &Pricing,
    (saw, known): (Saw, Option<&Cuts>),
    need: &Need,
    pieces: Vec<CutPiece>,
) -> Result<Option<SectionCuts>, MoneyError> {
    let picked = pricing.picked;
    let id = need.part.id();
    let price = pricing.unit_price(id, need.needed)?;
    let price = price.map(|price| price.range.likely);
    let mut bars = Vec::new();
    for &length in bars_of(picked.catalogue, id) {
        let length = Tenths::down(length);
        let metres = length.metres();
        let price = match price {
            Some(price) => price.checked_mul(metres).ok_or(MoneyError::Overflow)?,
            None => metres,
        };
        bars.push(OnOffer { length, price });
    }
    let offcuts = picked.build.purchases.offcuts.get(id);
    let offcuts: Vec<Tenths> = offcuts
        .into_iter()
        .flatten()
        .map(|&length| Tenths::down(length))
        .collect();
    if bars.is_empty() && offcuts.is_empty() {
        return Ok(None);
    }
    let wanted: Vec<Wanted> = pieces
        .iter()
        .map(|piece| Wanted {
            length: piece.length,
            count: piece.count,
        })
        .collect();
    let task = Task {
        pieces: &wanted,
        bars: &bars,
        offcuts: &offcuts,
        saw,
    };
    let same = known.and_then(|known| known.nesting_of(id, &task));
    let nesting = match same {
        Some(same) => same.clone(),
        None => nesting::nest(&task).ok_or(MoneyError::Overflow)?,
    };
    Ok(Some(SectionCuts {
        part: *id,
        step: need.step,
        pieces,
        bars,
        priced: price.is_some(),
        offcuts,
        nesting,
    }))
}
