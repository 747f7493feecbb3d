//! Sums and products of the amounts that bills are full of, a few times faster than the general
//! way: what fits into 64 bits is reckoned there, with the same digits. An assessment adds and
//! rounds some thousand of them. Whatever else comes is left to the decimals themselves.

use rust_decimal::Decimal;

/// Powers of ten up to those by which amounts are scaled.
const TENS: [u64; 13] = [
    1,
    10,
    100,
    1_000,
    10_000,
    100_000,
    1_000_000,
    10_000_000,
    100_000_000,
    1_000_000_000,
    10_000_000_000,
    100_000_000_000,
    1_000_000_000_000,
];

/// The digits of an amount above zero that is far from filling 64 bits.
fn digits(amount: Decimal) -> Option<u64> {
    let parts = amount.unpack();
    let digits = u64::from(parts.mid) << 32 | u64::from(parts.lo);
    (parts.hi == 0 && !parts.negative && digits > 0 && digits < 1 << 62).then_some(digits)
}

/// An amount of so many units of its last digit.
fn of_digits(digits: u64, scale: u32) -> Option<Decimal> {
    Some(Decimal::new(i64::try_from(digits).ok()?, scale))
}

/// The exact sum; none past counting.
pub(super) fn sum(one: Decimal, other: Decimal) -> Option<Decimal> {
    if one.scale() == other.scale()
        && let (Some(a), Some(b)) = (digits(one), digits(other))
    {
        return of_digits(a + b, one.scale());
    }
    one.checked_add(other)
}

/// A running sum, with the digits that adding one after the other gives.
#[derive(Clone, Copy, Default)]
pub(super) struct Sum {
    /// Units of the last digit; nothing where `other` holds the sum.
    digits: u64,
    scale: u32,
    other: Decimal,
}

impl Sum {
    /// Adds an amount; none past counting.
    #[inline]
    pub(super) fn add(&mut self, amount: Decimal) -> Option<()> {
        if self.digits > 0
            && self.scale == amount.scale()
            && let Some(more) = digits(amount)
        {
            self.digits += more;
            if self.digits < 1 << 62 {
                return Some(());
            }
            self.digits -= more;
        }
        let sum = self.worth().checked_add(amount)?;
        (self.other, self.scale) = (sum, sum.scale());
        self.digits = digits(sum).unwrap_or_default();
        Some(())
    }

    /// What it comes to.
    pub(super) fn worth(&self) -> Decimal {
        match i64::try_from(self.digits) {
            Ok(digits) if digits > 0 => Decimal::new(digits, self.scale),
            _ => self.other,
        }
    }
}

/// The product, rounded to so many digits after the point, halves away from zero; none where
/// the general way must be taken.
pub(super) fn product(amount: Decimal, factor: Decimal, places: u32) -> Option<Decimal> {
    let all = digits(amount)?.checked_mul(digits(factor)?)?;
    let scale = amount.scale() + factor.scale();
    if scale <= places {
        let wider = *TENS.get((places - scale) as usize)?;
        return of_digits(all.checked_mul(wider)?, places);
    }
    let cut = *TENS.get((scale - places) as usize)?;
    let (whole, rest) = (all / cut, all % cut);
    of_digits(whole + u64::from(rest >= cut / 2), places)
}

#[cfg(test)]
mod tests {
    use super::super::{Currency, Money};
    use super::*;
    use rand::{RngExt as _, SeedableRng as _};
    use rand_chacha::ChaCha8Rng;

    /// Amounts of every length and scale, zeros of any scale and some below zero among them.
    fn amount(rng: &mut ChaCha8Rng) -> Decimal {
        let digits = rng.random_range(0..=i64::MAX) >> rng.random_range(0..63);
        let scale = rng.random_range(0..8);
        match rng.random_range(0..10) {
            0 => Decimal::new(0, scale),
            1 => Decimal::new(-digits, scale),
            _ => Decimal::new(digits, scale),
        }
    }

    #[test]
    fn sums_have_the_digits_of_the_decimals_own() {
        let mut rng = ChaCha8Rng::seed_from_u64(1);
        for _ in 0..100_000 {
            let (a, b) = (amount(&mut rng), amount(&mut rng));
            let (own, known) = (sum(a, b), a.checked_add(b));
            assert_eq!(own.map(|d| d.serialize()), known.map(|d| d.serialize()));
        }
    }

    #[test]
    fn running_sums_have_the_digits_of_the_decimals_own() {
        let mut rng = ChaCha8Rng::seed_from_u64(4);
        for _ in 0..20_000 {
            let scale = rng.random_range(0..4);
            let (mut own, mut known) = (Sum::default(), Some(Decimal::ZERO));
            for _ in 0..rng.random_range(0..12) {
                let mut one = amount(&mut rng);
                if rng.random_bool(0.8) {
                    one = Decimal::new(rng.random_range(0..100_000), scale);
                }
                let added = own.add(one);
                known = known.and_then(|sum| sum.checked_add(one));
                assert_eq!(added.is_some(), known.is_some());
            }
            let Some(known) = known else { continue };
            assert_eq!(own.worth().serialize(), known.serialize());
        }
    }

    #[test]
    fn products_are_rounded_as_money_is() {
        let mut rng = ChaCha8Rng::seed_from_u64(2);
        let mut fast = 0;
        for _ in 0..100_000 {
            let (a, b) = (amount(&mut rng), amount(&mut rng));
            for currency in [Currency::EUR, "JPY".parse().expect("a code")] {
                let Some(own) = product(a, b, currency.decimals()) else {
                    continue;
                };
                fast += 1;
                let known = Money::new(a, currency).times(b).expect("a product");
                let known = known.rounded().amount;
                assert_eq!(own.serialize(), known.serialize(), "{a} x {b}");
            }
        }
        assert!(fast > 20_000, "{fast} of them were reckoned the fast way");
    }
}
