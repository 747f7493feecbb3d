//! What the machine takes: one line for each part, with its quantity and where that comes
//! from, its price range, and the totals by step.

pub mod asked;
mod before;
mod by_rules;
pub mod consignments;
pub mod count;
mod counted;
pub mod cuts;
pub mod doubt;
pub mod estimate;
pub mod floor;
pub mod line;
pub mod lines;
mod list;
pub mod nesting;
mod notes;
pub mod ordering;
pub mod paying;
pub mod pricing;
mod shared;
mod weight;
pub mod yearly;

use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use self::before::Before;
pub use self::consignments::Consignment;
use self::cuts::Cuts;
use self::estimate::{Correlation, Estimate, items};
pub use self::line::Line;
use self::ordering::Ordering;
use self::paying::paid;
use self::pricing::Pricing;
pub use self::shared::{EachLine, Lines};
use self::yearly::Yearly;
use crate::build::Picked;
use crate::catalogue::prices::Basis;
use crate::catalogue::{Id, Step};
use crate::explain::{Recorder, nth_key};
use crate::machine::Machine;
use crate::money::{Currency, Money, MoneyError, PriceRange};
use crate::words::Words as _;

/// The name of a line in the paths of figures: its part's id, numbered where earlier lines are
/// of the same part in another step.
pub(crate) fn key(lines: &Lines, place: usize) -> String {
    let part = &lines[place].part;
    let earlier = lines.iter().take(place).filter(|line| line.part == *part);
    nth_key(part.as_str(), earlier.count())
}

/// Something that was paid for and that no line needs.
#[derive(Clone, Debug)]
pub struct Unchosen {
    /// The part, or the supplier whose consignment nothing is left of.
    pub what: Id,
    /// What was paid, in the currency of the bill.
    pub paid: Decimal,
}

/// The whole bill.
#[derive(Clone, Debug)]
pub struct Bill {
    /// Every line, step by step.
    pub lines: Lines,
    /// What is sawn from which bar.
    pub cuts: Cuts,
    /// What comes on top of the goods, by supplier.
    pub consignments: Vec<Consignment>,
    /// The currency of all of it: the site's.
    pub currency: Currency,
    /// Sum of all lines.
    pub goods: PriceRange,
    /// Freight of all consignments.
    pub freight: PriceRange,
    /// Duty on all consignments.
    pub duty: PriceRange,
    /// Tax on top of the prices.
    pub tax: PriceRange,
    /// Goods, freight, duty and tax.
    pub total: PriceRange,
    /// What of the likely total the first cut needs.
    pub first_cut: Decimal,
    /// What it comes to on average, and the range that eight of ten such bills stay in.
    pub estimate: Estimate,
    /// What was paid for and is not used.
    pub unchosen: Vec<Unchosen>,
    /// All that was paid, for what is used and for what is not.
    pub spent: Decimal,
    /// What of the likely total is still to be paid.
    pub to_spend: Decimal,
    /// What all of it comes to in the end: spent and still to spend.
    pub forecast: Decimal,
    /// What to order when.
    pub ordering: Ordering,
    /// What running the machines costs a year: no part of the total.
    pub yearly: Yearly,
    /// How many machines it is for.
    pub machines: u32,
    /// Sum of each step's lines, in the order of the steps.
    steps: Vec<(Step, PriceRange)>,
}

impl Bill {
    /// Writes the bill as of a day: quotes may have run out by then. Beside a bill of that day
    /// that is known with its parts, lines and consignments that are the same are taken from
    /// there.
    ///
    /// # Errors
    /// Where a price cannot be stated in the site's currency.
    pub(crate) fn beside(
        picked: &Picked,
        machine: &Machine,
        today: Date,
        known: Option<(&Picked, &Self)>,
        notes: &mut impl Recorder,
    ) -> Result<Self, MoneyError> {
        let currency = picked.site.currency;
        let pricing = Pricing::of(picked, today);
        let (lines, cuts, told) = priced(&pricing, machine, known, notes)?;
        let consignments = consignments::all(picked, lines.iter().enumerate(), known)?;
        let each = || consignments.iter();
        let freight = PriceRange::sum(each().map(|one| &one.freight), currency)?;
        let duty = PriceRange::sum(each().map(|one| &one.duty), currency)?;
        let tax = PriceRange::sum(each().map(|one| &one.tax), currency)?;
        let steps = by_step(&lines, currency)?;
        let goods = PriceRange::sum(steps.iter().map(|(_, sum)| sum), currency)?;
        let total = goods.plus(freight.plus(duty)?.plus(tax)?)?;
        let items = items::items(picked, &lines, &consignments)?;
        let estimate = Estimate::of(total, &items, Correlation::USUAL, notes)?;
        let first_cut = first_cut(picked, &lines, &consignments, currency)?;
        let unchosen = unchosen(picked, &lines, &consignments, currency)?;
        let used: Decimal = (lines.iter().map(|line| line.paid))
            .chain(consignments.iter().map(|one| one.paid))
            .sum();
        let lost = lost(&unchosen);
        let to_spend = total.likely - used;
        let mut bill = Self {
            lines,
            cuts,
            consignments,
            currency,
            goods,
            freight,
            duty,
            tax,
            total,
            first_cut,
            estimate,
            unchosen,
            spent: used + lost,
            to_spend,
            forecast: used + lost + to_spend,
            ordering: Ordering::default(),
            yearly: Yearly::of(&pricing, machine, notes)?,
            machines: picked.build.area.machines,
            steps,
        };
        notes::note_lines(picked, &bill.lines, &told, notes);
        notes::note(picked, &bill, notes);
        bill.ordering = Ordering::of(picked, &bill, today, notes)?;
        Ok(bill)
    }

    /// Every step with the sum of its lines.
    pub fn by_step(&self) -> &[(Step, PriceRange)] {
        &self.steps
    }

    /// The sum of one step's lines.
    pub fn of_step(&self, step: Step) -> PriceRange {
        let zero = PriceRange::zero(self.currency);
        self.steps
            .iter()
            .find(|(of, _)| *of == step)
            .map_or(zero, |(_, sum)| *sum)
    }

    /// The share of the likely price of the goods that rests on prices of one basis, from 0 to 1.
    pub fn share_of(&self, basis: Basis) -> Decimal {
        if self.goods.likely.is_zero() {
            return Decimal::ZERO;
        }
        self.likely_of(basis) / self.goods.likely
    }

    /// The likely sum of all lines whose price has one basis.
    fn likely_of(&self, basis: Basis) -> Decimal {
        let of_basis = |line: &&Line| {
            line.price
                .as_ref()
                .is_some_and(|price| price.basis == basis)
        };
        self.lines
            .iter()
            .filter(of_basis)
            .map(|line| line.total.likely)
            .sum()
    }

    /// The share of the goods' likely price that rests on invented prices, to four digits.
    pub fn invented_share(&self) -> Decimal {
        self.share_of(Basis::Invented).round_dp(4)
    }

    /// The share that rests on one basis in whole hundredths, rounded down, so that it is 100
    /// only where all of it is.
    pub fn percent_of(&self, basis: Basis) -> Decimal {
        (self.share_of(basis) * Decimal::ONE_HUNDRED).floor()
    }

    /// The likely freight, duty and tax on top of all goods.
    pub fn on_top(&self) -> Decimal {
        self.total.likely - self.goods.likely
    }

    /// What comes on top of the goods: its word in columns and paths, its name, and its sum.
    pub fn on_top_rows(&self) -> [(&'static str, &'static str, PriceRange); 3] {
        [
            ("freight", "Freight and fees", self.freight),
            ("duty", "Duty", self.duty),
            ("tax", "Tax on top", self.tax),
        ]
    }

    /// What the likely total lies between, and what of it the first cut needs: word, name, amount.
    pub fn range_rows(&self) -> [(&'static str, &'static str, Decimal); 4] {
        let Estimate {
            low,
            expected,
            high,
            ..
        } = self.estimate;
        [
            ("low", "Nine bills of ten are above", low),
            ("expected", "To expect on average", expected),
            ("high", "Nine bills of ten are below", high),
            ("first-cut", "Needed for the first cut", self.first_cut),
        ]
    }

    /// How much of the goods' price is invented: `45 %`; none where nothing is.
    pub fn invented_percent(&self) -> Option<String> {
        if self.share_of(Basis::Invented).is_zero() {
            return None;
        }
        let percent = self.percent_of(Basis::Invented);
        Some(match percent.is_zero() {
            true => "Less than 1 %".to_owned(),
            false => format!("{percent} %"),
        })
    }

    /// The same as the beginning of a sentence.
    pub fn invented(&self) -> Option<String> {
        let share = self.invented_percent()?;
        Some(format!("{share} of the goods' price is invented"))
    }

    /// What was paid for parts that are not used: gone, whatever the rest will cost.
    pub fn lost(&self) -> Decimal {
        lost(&self.unchosen)
    }

    /// What all of it is to be expected to cost, with what was paid for parts that are not used:
    /// what a budget is held against.
    pub fn expected_in_all(&self) -> Decimal {
        self.estimate.expected.saturating_add(self.lost())
    }

    /// That nobody should order by it, where prices are invented.
    pub fn never_order(&self) -> Option<String> {
        let invented = self.invented()?;
        Some(format!("{invented}: never order by it"))
    }

    /// The likely cost of one of the machines that are built together.
    pub fn per_machine(&self) -> Decimal {
        let share = self.total.likely.checked_div(Decimal::from(self.machines));
        Money::new(share.unwrap_or(self.total.likely), self.currency)
            .rounded()
            .amount
    }

    /// The line of a part.
    pub fn line(&self, part: &str) -> Option<&Line> {
        self.lines.iter().find(|line| line.part.as_str() == part)
    }
}

/// The lines with their prices, the cuts, and what asked for the lines.
fn priced(
    pricing: &Pricing,
    machine: &Machine,
    known: Option<(&Picked, &Bill)>,
    notes: &mut impl Recorder,
) -> Result<(Lines, Cuts, Vec<list::Told>), MoneyError> {
    let picked = pricing.picked;
    let (mut needs, mut told) = lines::all(picked, machine, notes)?;
    let cuts = Cuts::of(
        pricing,
        machine,
        &needs,
        known.map(|(_, bill)| &bill.cuts),
        notes,
    )?;
    cuts.buy_whole_bars(&mut needs, &mut told, notes.listens());
    let mut lines = Lines::with_capacity(needs.len());
    let mut before = Before::of(pricing, known);
    for need in needs {
        // A part that two steps need: what is in hand is used up once. Only a part that
        // something is written down of can be in hand.
        let id = need.part.id();
        let noted = picked.build.purchases.of(id).is_some();
        let same = before.as_mut().filter(|_| !noted);
        if let Some(same) = same.and_then(|before| before.line(&need)) {
            lines.push(same);
            continue;
        }
        let earlier = lines.iter().filter(|line| noted && line.part == *id);
        let used = earlier.map(|line| line.have).reduce(|sum, have| sum + have);
        lines.push(Arc::new(pricing.line(need, used)?));
    }
    Ok((lines, cuts, told))
}

/// Every step with the sum of its lines.
fn by_step(lines: &Lines, currency: Currency) -> Result<Vec<(Step, PriceRange)>, MoneyError> {
    let each = Step::ALL.iter().map(|&step| {
        let own = lines.iter().filter(|line| line.step == step);
        Ok((
            step,
            PriceRange::sum(own.map(|line| &line.total), currency)?,
        ))
    });
    each.collect()
}

/// What the first cut needs, with the freight, duty and tax of its own parcels.
fn first_cut(
    picked: &Picked,
    lines: &Lines,
    consignments: &[Consignment],
    currency: Currency,
) -> Result<Decimal, MoneyError> {
    let own = lines.iter().filter(|line| line.first_cut);
    let mut all = PriceRange::sum(own.map(|line| &line.total), currency)?;
    // Consignments of which all is needed are the same ones; of the others only a part comes.
    let whole = |one: &&Consignment| one.lines.iter().all(|&line| lines[line].first_cut);
    let (whole, parted): (Vec<_>, Vec<_>) = consignments.iter().partition(whole);
    let own = parted.iter().flat_map(|one| &one.lines);
    let own = own.map(|&place| (place, &lines[place]));
    let parted = consignments::all(picked, own.filter(|(_, line)| line.first_cut), None)?;
    for one in whole.into_iter().chain(&parted) {
        all = all.plus(one.on_top()?)?;
    }
    Ok(all.likely)
}

fn lost(unchosen: &[Unchosen]) -> Decimal {
    unchosen.iter().map(|one| one.paid).sum()
}

/// What was paid for parts that no line needs, and for consignments that nothing is left of.
fn unchosen(
    picked: &Picked,
    lines: &Lines,
    consignments: &[Consignment],
    currency: Currency,
) -> Result<Vec<Unchosen>, MoneyError> {
    let purchases = &picked.build.purchases;
    let mut found = Vec::new();
    let parts = purchases.parts.iter().map(|(id, one)| (id, &one.payments));
    let unused = parts.filter(|(id, _)| !lines.iter().any(|line| line.part == **id));
    let ways = purchases.consignments.iter();
    let ways = ways.map(|(id, one)| (id, &one.payments));
    let idle = ways.filter(|(id, _)| !consignments.iter().any(|one| one.supplier == **id));
    for (id, payments) in unused.chain(idle) {
        let paid = paid(picked.catalogue, payments, id, currency)?;
        if !payments.is_empty() {
            found.push(Unchosen { what: *id, paid });
        }
    }
    Ok(found)
}
