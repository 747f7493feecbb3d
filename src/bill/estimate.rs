//! What a bill of uncertain prices comes to: the average to expect, and the range that eight
//! of ten such bills stay in.
//!
//! Adding up every low price and every high one gives a range that hardly any bill leaves, and
//! hardly any comes near. Here each line is a beta distribution of shape 4 (the usual
//! three-point estimate), and the lines move together a little, since they share currency,
//! season and the builder's own optimism; those of one supplier move together more. With
//! p = likely - low and r = high - likely:
//!
//! mean = (low + 4 likely + high)/6,  s² = (5p + r)(p + 5r)/252,  skewness γ = (r - p)/(6 s)
//!
//! exactly. How skewed lines that move together add up, and where the ends of the range are for
//! the skewness of the sum, is in `spread`.

use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

use self::spread::Sums;
use crate::explain::Recorder;
use crate::money::{Currency, Money, MoneyError, PriceRange};
use crate::units::{self, Ratio};

pub mod items;
mod spread;
mod tell;

/// Nine of ten normal numbers lie below it (tables of the normal distribution).
const NINE_OF_TEN: f64 = 1.281_551_565_544_600_4;

/// How much prices move together: 0 not at all, 1 as one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Correlation {
    between: f64,
    within: f64,
}

impl Correlation {
    /// 0.3 between the lines of one bill, 0.6 within those of one supplier (common practice).
    pub const USUAL: Self = Self {
        between: 0.3,
        within: 0.6,
    };

    /// The correlation between any two lines, and that of two lines in one group; none unless
    /// 0 <= between <= within <= 1. Others can contradict themselves: if every line moves with
    /// those of the other groups, it cannot move less with those of its own.
    pub fn new(between: Ratio, within: Ratio) -> Option<Self> {
        let (between, within) = (units::share::from(between), units::share::from(within));
        let fits = 0.0 <= between && between <= within && within <= 1.0;
        fits.then_some(Self { between, within })
    }
}

/// The lines that are bought of one supplier.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Group(pub u16);

/// One uncertain amount of a bill.
#[derive(Clone, Copy, Debug)]
pub struct Item {
    /// The three points of it.
    pub range: PriceRange,
    /// With what it moves together more; none where it stands alone.
    pub group: Option<Group>,
    /// What each coin of it adds to the bill: 1, and more where duty and tax come on top.
    pub factor: Decimal,
}

impl Item {
    /// An amount that nothing comes on top of and that stands alone.
    pub fn alone(range: PriceRange) -> Self {
        Self {
            range,
            group: None,
            factor: Decimal::ONE,
        }
    }
}

/// What a sum of uncertain prices comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Estimate {
    /// The average to expect.
    pub expected: Decimal,
    /// One bill of ten stays below.
    pub low: Decimal,
    /// Nine bills of ten stay below.
    pub high: Decimal,
    /// The currency of all three.
    pub currency: Currency,
}

impl Estimate {
    /// Works out, to the smallest coin, what to expect of a bill: `total` is all of it, as if
    /// every price were low, likely or high at once; the items are what makes it uncertain.
    ///
    /// # Errors
    /// [`MoneyError::Mixed`] for two currencies, [`MoneyError::Overflow`] past counting.
    pub fn of(
        total: PriceRange,
        items: &[Item],
        correlation: Correlation,
        notes: &mut impl Recorder,
    ) -> Result<Self, MoneyError> {
        let currency = total.currency;
        let mut sums = Sums::default();
        for item in items {
            if item.range.currency != currency {
                return Err(MoneyError::Mixed(currency, item.range.currency));
            }
            sums.add(item);
        }
        let joint = sums.join(correlation);
        let spread = joint.spread(correlation);
        let mean = mean(total).ok_or(MoneyError::Overflow)?;
        let coins = |amount| Money::new(amount, currency).rounded().amount;
        let away = |share: f64| {
            let offset = Decimal::from_f64(spread.deviation * share)?;
            mean.checked_add(offset).map(coins)
        };
        let estimate = Self {
            expected: coins(mean),
            low: away(spread.quantile(-NINE_OF_TEN)).ok_or(MoneyError::Overflow)?,
            high: away(spread.quantile(NINE_OF_TEN)).ok_or(MoneyError::Overflow)?,
            currency,
        };
        notes.note(|| tell::mean(&estimate, total));
        for (end, z) in [(0, -NINE_OF_TEN), (1, NINE_OF_TEN)] {
            notes.note(|| tell::end(&estimate, end, z, &joint, correlation));
        }
        Ok(estimate)
    }
}

/// The mean of a three-point estimate, exact; the mean of a sum is that of its sums.
fn mean(range: PriceRange) -> Option<Decimal> {
    let likely = range.likely.checked_mul(Decimal::from(4))?;
    let sum = range.low.checked_add(likely)?.checked_add(range.high)?;
    sum.checked_div(Decimal::from(6))
}

#[cfg(test)]
mod tests;
