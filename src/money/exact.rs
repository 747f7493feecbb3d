//! Sums and products of the amounts that bills are full of, a few times faster than the general
//! way: what fits into 64 bits is computed there, with the same digits. An assessment adds and
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

    /// Amounts of every length and scale, zeros of any scale and some below zero among them.
    fn amounts() -> Vec<Decimal> {
        let digits = [
            0,
            1,
            -1,
            4,
            5,
            49,
            50,
            95,
            100,
            -12_345,
            12_345,
            999_999,
            i64::from(u32::MAX),
            1 << 40,
            (1 << 61) + 7,
            i64::MAX,
        ];
        let each = digits.into_iter();
        each.flat_map(|digits| (0..8).map(move |scale| Decimal::new(digits, scale)))
            .collect()
    }

    fn digits_of(number: Option<Decimal>) -> Option<[u8; 16]> {
        number.map(|number| number.serialize())
    }

    #[test]
    fn sums_have_the_digits_of_the_decimals_own() {
        for a in amounts() {
            for b in amounts() {
                let known = digits_of(a.checked_add(b));
                assert_eq!(digits_of(sum(a, b)), known, "{a} + {b}");
                let mut running = Sum::default();
                let both = running.add(a).and_then(|()| running.add(b));
                let from_zero = Decimal::ZERO.checked_add(a);
                let known = from_zero.and_then(|sum| sum.checked_add(b));
                let own = both.map(|()| running.worth());
                assert_eq!(digits_of(own), digits_of(known), "0 + {a} + {b}");
            }
        }
    }

    #[test]
    fn long_running_sums_have_the_digits_of_the_decimals_own() {
        let all = amounts();
        for stride in 1..all.len() {
            let (mut own, mut known) = (Sum::default(), Decimal::ZERO);
            for place in 0..40 {
                let one = all[place * stride % all.len()];
                if own.add(one).is_none() {
                    assert_eq!(known.checked_add(one), None);
                    break;
                }
                known = known.checked_add(one).expect("a sum");
                assert_eq!(digits_of(Some(own.worth())), digits_of(Some(known)));
            }
        }
    }

    #[test]
    fn products_are_rounded_as_money_is() {
        let mut fast = 0;
        for currency in [Currency::EUR, "JPY".parse().expect("a code")] {
            for a in amounts() {
                for b in amounts() {
                    let Some(own) = product(a, b, currency.decimals()) else {
                        continue;
                    };
                    fast += 1;
                    let known = Money::new(a, currency).times(b).expect("a product");
                    let known = known.rounded().amount;
                    assert_eq!(own.serialize(), known.serialize(), "{a} x {b}");
                }
            }
        }
        assert!(fast > 5_000, "{fast} of them were computed the fast way");
    }
}
