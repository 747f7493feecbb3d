//! Price ranges: what something costs at least, most likely, and at most.

use rust_decimal::Decimal;

use super::{Currency, Money, MoneyError, exact};

/// What one unit of a part may cost: three amounts in one currency, low to high.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PriceRange {
    /// The least one may hope for.
    pub low: Decimal,
    /// The most likely.
    pub likely: Decimal,
    /// The most one should fear.
    pub high: Decimal,
    /// The currency of all three.
    pub currency: Currency,
}

impl PriceRange {
    /// A range, checked for order.
    ///
    /// # Errors
    /// [`MoneyError::OutOfOrder`] unless low <= likely <= high.
    pub fn new(
        low: Decimal,
        likely: Decimal,
        high: Decimal,
        currency: Currency,
    ) -> Result<Self, MoneyError> {
        if low <= likely && likely <= high {
            Ok(Self {
                low,
                likely,
                high,
                currency,
            })
        } else {
            Err(MoneyError::OutOfOrder(low, likely, high))
        }
    }

    /// An amount that is certain.
    pub fn certain(amount: Decimal, currency: Currency) -> Self {
        Self {
            low: amount,
            likely: amount,
            high: amount,
            currency,
        }
    }

    /// Nothing, in a currency: where a sum starts.
    pub fn zero(currency: Currency) -> Self {
        Self::certain(Decimal::ZERO, currency)
    }

    /// The sum, amount by amount.
    ///
    /// # Errors
    /// As [`Money::plus`].
    pub fn plus(self, other: Self) -> Result<Self, MoneyError> {
        if self.currency != other.currency {
            return Err(MoneyError::Mixed(self.currency, other.currency));
        }
        let sum = |a: Decimal, b: Decimal| exact::sum(a, b).ok_or(MoneyError::Overflow);
        Ok(Self {
            low: sum(self.low, other.low)?,
            likely: sum(self.likely, other.likely)?,
            high: sum(self.high, other.high)?,
            currency: self.currency,
        })
    }

    /// Whether another range is the same to the last digit that it is written with.
    pub fn is_exactly(&self, other: &Self) -> bool {
        let digits = |range: &Self| {
            let amounts = [range.low, range.likely, range.high];
            amounts.map(|amount| (amount.mantissa(), amount.scale()))
        };
        self.currency == other.currency && digits(self) == digits(other)
    }

    /// The sum of many, amount by amount.
    ///
    /// # Errors
    /// As [`Money::plus`].
    pub fn sum<'a>(
        ranges: impl Iterator<Item = &'a Self>,
        currency: Currency,
    ) -> Result<Self, MoneyError> {
        let mut sums = [exact::Sum::default(); 3];
        for range in ranges {
            if range.currency != currency {
                return Err(MoneyError::Mixed(currency, range.currency));
            }
            let amounts = [range.low, range.likely, range.high];
            for (sum, amount) in sums.iter_mut().zip(amounts) {
                sum.add(amount).ok_or(MoneyError::Overflow)?;
            }
        }
        let [low, likely, high] = sums.map(|sum| sum.worth());
        Ok(Self {
            low,
            likely,
            high,
            currency,
        })
    }

    /// The range taken so many times, each amount rounded to the smallest coin.
    ///
    /// # Errors
    /// As [`Money::times`].
    pub fn times(self, factor: Decimal) -> Result<Self, MoneyError> {
        let digits = self.currency.decimals();
        let one = |amount: Decimal| match exact::product(amount, factor, digits) {
            Some(rounded) => Ok(rounded),
            None => {
                let money = Money::new(amount, self.currency);
                Ok(money.times(factor)?.rounded().amount)
            }
        };
        Ok(Self {
            low: one(self.low)?,
            likely: one(self.likely)?,
            high: one(self.high)?,
            currency: self.currency,
        })
    }

    /// The share of a whole that falls to this part of its parts, amount by amount, unrounded;
    /// this range itself where the parts come to nothing.
    ///
    /// # Errors
    /// [`MoneyError::Overflow`] past counting.
    pub fn spread(self, whole: Self, parts: Self) -> Result<Self, MoneyError> {
        let share = |own: Decimal, whole: Decimal, parts: Decimal| {
            if parts.is_zero() {
                return Ok(own);
            }
            let product = own.checked_mul(whole).ok_or(MoneyError::Overflow)?;
            product.checked_div(parts).ok_or(MoneyError::Overflow)
        };
        Ok(Self {
            low: share(self.low, whole.low, parts.low)?,
            likely: share(self.likely, whole.likely, parts.likely)?,
            high: share(self.high, whole.high, parts.high)?,
            currency: self.currency,
        })
    }

    /// The three amounts through one function.
    ///
    /// # Errors
    /// Whatever the function gives.
    pub fn map(self, f: impl Fn(Money) -> Result<Money, MoneyError>) -> Result<Self, MoneyError> {
        let one = |amount| f(Money::new(amount, self.currency)).map(|money| money.amount);
        Ok(Self {
            low: one(self.low)?,
            likely: one(self.likely)?,
            high: one(self.high)?,
            currency: self.currency,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_out_of_order_is_refused() {
        let one = Decimal::ONE;
        let two = Decimal::TWO;
        assert!(PriceRange::new(two, one, two, Currency::EUR).is_err());
        assert!(PriceRange::new(one, one, two, Currency::EUR).is_ok());
    }
}
