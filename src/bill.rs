//! What the machine takes: one line for each part, with its quantity and where that comes
//! from, its price range, and the totals by step.

pub mod count;
mod counted;
pub mod estimate;
pub mod lines;
mod list;
mod notes;

use rust_decimal::Decimal;

use self::estimate::{Correlation, Estimate};
use crate::build::Picked;
use crate::catalogue::prices::{Basis, Price};
use crate::catalogue::{Id, Step, Unit};
use crate::explain::{Recorder, nth_key};
use crate::machine::Machine;
use crate::money::{Currency, MoneyError, PriceRange};
use crate::words::Words;

/// One line of the bill.
#[derive(Clone, Debug)]
pub struct Line {
    /// The part.
    pub part: Id,
    /// How people call it.
    pub title: String,
    /// The step it belongs to.
    pub step: Step,
    /// What the machine needs.
    pub needed: Decimal,
    /// What is bought: `needed` in whole pieces and packs.
    pub quantity: Decimal,
    /// The counting unit.
    pub unit: Unit,
    /// Price of one unit; none where no price book has it.
    pub price: Option<Price>,
    /// Price of the line.
    pub total: PriceRange,
    /// Where the quantity comes from, in words.
    pub why: String,
}

/// The name of a line in the paths of figures: its part's id, numbered where earlier lines are
/// of the same part in another step.
fn key(lines: &[Line], place: usize) -> String {
    let part = &lines[place].part;
    let earlier = lines[..place].iter().filter(|line| line.part == *part);
    nth_key(part.as_str(), earlier.count())
}

/// The whole bill.
#[derive(Clone, Debug)]
pub struct Bill {
    /// Every line, step by step.
    pub lines: Vec<Line>,
    /// The currency of all of it: the site's.
    pub currency: Currency,
    /// Sum of all lines.
    pub total: PriceRange,
    /// What it comes to on average, and the range that eight of ten such bills stay in.
    pub estimate: Estimate,
    /// Sum of each step's lines, in the order of the steps.
    steps: Vec<(Step, PriceRange)>,
}

impl Bill {
    /// Writes the bill.
    ///
    /// # Errors
    /// Where a price cannot be stated in the site's currency.
    pub fn of(
        picked: &Picked,
        machine: &Machine,
        notes: &mut impl Recorder,
    ) -> Result<Self, MoneyError> {
        let currency = picked.site.currency;
        let lines = lines::all(picked, machine, currency, notes)?;
        let zero = PriceRange::zero(currency);
        let sum = |step: Option<Step>| {
            let of_step = |line: &&Line| step.is_none_or(|step| line.step == step);
            lines
                .iter()
                .filter(of_step)
                .try_fold(zero, |sum, line| sum.plus(line.total))
        };
        let by_step = Step::ALL.iter().map(|&step| Ok((step, sum(Some(step))?)));
        let ranges = lines.iter().map(|line| line.total);
        let estimate = Estimate::of(ranges, currency, Correlation::USUAL, notes)?;
        let bill = Self {
            estimate,
            steps: by_step.collect::<Result<_, MoneyError>>()?,
            total: sum(None)?,
            lines,
            currency,
        };
        notes::note(&bill, notes);
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

    /// The share of the likely total that rests on prices of one basis, from 0 to 1.
    pub fn share_of(&self, basis: Basis) -> Decimal {
        if self.total.likely.is_zero() {
            return Decimal::ZERO;
        }
        self.likely_of(basis) / self.total.likely
    }

    /// The likely sum of all lines whose price has one basis.
    fn likely_of(&self, basis: Basis) -> Decimal {
        let of_basis = |line: &&Line| line.price.is_some_and(|price| price.basis == basis);
        self.lines
            .iter()
            .filter(of_basis)
            .map(|line| line.total.likely)
            .sum()
    }

    /// The share of the likely total that rests on invented prices, to four digits.
    pub fn invented_share(&self) -> Decimal {
        self.share_of(Basis::Invented).round_dp(4)
    }

    /// The same in whole hundredths, rounded down, so that it is 100 only where all of it is.
    pub fn percent_of(&self, basis: Basis) -> Decimal {
        (self.share_of(basis) * Decimal::ONE_HUNDRED).floor()
    }

    /// The line of a part.
    pub fn line(&self, part: &str) -> Option<&Line> {
        self.lines.iter().find(|line| line.part.as_str() == part)
    }
}
