//! How skewed prices that move together add up.
//!
//! Each line is written as a quadratic in a normal number z, h z + d (z² - 1), that keeps its
//! standard deviation s and skewness γ: d = s √2 sin(⅓ arcsin(γ/√8)), h² = s² - 2 d². The
//! normal numbers move together by the matrix C: 1 on its diagonal, w between two lines of one
//! group, b between all others. With D = diag(d), the sum has
//!
//! variance h'C h + 2 tr((D C)²),  third cumulant 6 h'C D C h + 8 tr((D C)³)
//!
//! exactly. C = (1 - w) I + (w - b) Z Z' + b 1 1', where Z says which line is in which group,
//! so that every term is a sum over lines or over groups: one pass over the lines is enough.
//! A line without a group is a group of its own. Skewness must be taken under the correlation:
//! adding up third moments as if nothing moved together leaves hardly any in a long bill.

use rust_decimal::Decimal;

use super::{Correlation, Group, Item};

/// Powers of ten that a number holds exactly.
const TENS: [f64; 13] = [
    1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12,
];

/// An amount as a number for the statistics: digits over a power of ten, which is several
/// times faster than the general conversion, and correctly rounded for amounts below 10¹⁵
/// coins.
fn number(amount: Decimal) -> f64 {
    let (digits, scale) = (amount.mantissa(), amount.scale());
    match (i64::try_from(digits), TENS.get(scale as usize)) {
        (Ok(digits), Some(ten)) => digits as f64 / ten,
        _ => digits as f64 / 10f64.powi(scale as i32),
    }
}

/// Sums over the lines of one group, or over the lines that stand alone.
#[derive(Clone, Copy, Debug, Default)]
struct Part {
    /// Σ h
    h: f64,
    /// Σ h²
    hh: f64,
    /// Σ d
    d: f64,
    /// Σ d h
    dh: f64,
    /// Σ d h²
    dhh: f64,
    /// Σ d²
    dd: f64,
    /// Σ d³
    ddd: f64,
}

impl Part {
    fn add(&mut self, h: f64, d: f64) {
        self.h += h;
        self.hh += h * h;
        self.d += d;
        self.dh += d * h;
        self.dhh += d * h * h;
        self.dd += d * d;
        self.ddd += d * d * d;
    }
}

/// What the lines add up to, group by group: all that their joint spread needs.
#[derive(Clone, Debug, Default)]
pub(super) struct Sums {
    alone: Part,
    groups: Vec<(Group, Part)>,
}

impl Sums {
    /// Adds one line; a line that is certain adds nothing.
    pub(super) fn add(&mut self, item: &Item) {
        let (range, factor) = (item.range, number(item.factor));
        let likely = number(range.likely);
        let below = (likely - number(range.low)) * factor;
        let above = (number(range.high) - likely) * factor;
        let variance = (5.0 * below + above) * (below + 5.0 * above) / 252.0;
        if variance <= 0.0 {
            return;
        }
        let deviation = variance.sqrt();
        let (straight, bent) = shape((above - below) / (6.0 * deviation));
        let (h, d) = (deviation * straight, deviation * bent);
        let Some(group) = item.group else {
            return self.alone.add(h, d);
        };
        match self.groups.iter_mut().find(|(known, _)| *known == group) {
            Some((_, part)) => part.add(h, d),
            None => {
                let mut part = Part::default();
                part.add(h, d);
                self.groups.push((group, part));
            }
        }
    }

    /// The sums over lines and groups of which variance and third cumulant are made.
    pub(super) fn join(&self, correlation: Correlation) -> Joint {
        let Correlation {
            between: b,
            within: w,
        } = correlation;
        let alone = &self.alone;
        let groups = || self.groups.iter().map(|(_, part)| part);
        let both = |of: fn(&Part) -> f64| of(alone) + groups().map(of).sum::<f64>();
        let h = both(|part| part.h);
        // What the lines of a group share of C h, and what is each line's own: σ h + shared.
        let pull = |own: f64, shared: f64, part: &Part| {
            own * own * part.dhh + 2.0 * own * shared * part.dh + shared * shared * part.d
        };
        let pulls = groups().map(|part| pull(1.0 - w, (w - b) * part.h + b * h, part));
        let squares = |of: fn(&Part) -> f64| groups().map(of).sum::<f64>();
        Joint {
            h,
            hh: both(|part| part.hh),
            group_hh: alone.hh + squares(|part| part.h * part.h),
            d: both(|part| part.d),
            dd: both(|part| part.dd),
            ddd: both(|part| part.ddd),
            group_dd: alone.dd + squares(|part| part.d * part.d),
            group_ddd: alone.ddd + squares(|part| part.d * part.d * part.d),
            group_mixed: alone.ddd + squares(|part| part.dd * part.d),
            pull: pull(1.0 - b, b * h, alone) + pulls.sum::<f64>(),
        }
    }
}

/// The sums over lines and groups of which variance and third cumulant are made.
#[derive(Clone, Copy, Debug)]
pub(super) struct Joint {
    /// Σ h
    pub(super) h: f64,
    /// Σ h²
    pub(super) hh: f64,
    /// The sum over groups of (Σ h)²
    pub(super) group_hh: f64,
    /// Σ d
    pub(super) d: f64,
    /// Σ d²
    pub(super) dd: f64,
    /// Σ d³
    pub(super) ddd: f64,
    /// The sum over groups of (Σ d)²
    pub(super) group_dd: f64,
    /// The sum over groups of (Σ d)³
    pub(super) group_ddd: f64,
    /// The sum over groups of Σ d² · Σ d
    pub(super) group_mixed: f64,
    /// Σ d (C h)², which is h'C D C h
    pub(super) pull: f64,
}

/// Standard deviation and skewness of a sum.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spread {
    pub(super) deviation: f64,
    pub(super) skewness: f64,
}

impl Joint {
    /// The spread of the sum.
    pub(super) fn spread(&self, correlation: Correlation) -> Spread {
        let Correlation {
            between: b,
            within: w,
        } = correlation;
        let (own, more) = (1.0 - w, w - b);
        let straight = own * self.hh + more * self.group_hh + b * self.h * self.h;
        let bent =
            (1.0 - w * w) * self.dd + (w * w - b * b) * self.group_dd + b * b * self.d * self.d;
        let variance = straight + 2.0 * bent;
        if variance <= 0.0 {
            return Spread {
                deviation: 0.0,
                skewness: 0.0,
            };
        }
        let cubes = own * own * (own + 3.0 * w) * self.ddd
            + 3.0 * own * ((w * w - b * b) * self.group_mixed + b * b * self.dd * self.d)
            + more * more * (w + 2.0 * b) * self.group_ddd
            + 3.0 * more * b * b * self.group_dd * self.d
            + (b * self.d).powi(3);
        let deviation = variance.sqrt();
        Spread {
            deviation,
            skewness: (6.0 * self.pull + 8.0 * cubes) / (variance * deviation),
        }
    }
}

impl Spread {
    /// Whether an end of the range, by its normal number, is the short one: the one away from
    /// which the distribution leans.
    pub(super) fn is_short(self, z: f64) -> bool {
        self.skewness * z < 0.0
    }

    /// Standard deviations from the mean, for those of a normal number. The long side is
    /// Cornish and Fisher's expansion. The short side ends somewhere, as the prices do, which
    /// the expansion does not know: there the sum is taken for a quadratic, as each line is.
    pub(super) fn quantile(self, z: f64) -> f64 {
        match self.is_short(z) {
            true => {
                let (straight, bent) = shape(self.skewness);
                straight * z + bent * (z * z - 1.0)
            }
            false => z + self.skewness * (z * z - 1.0) / 6.0,
        }
    }
}

/// The straight and the bent part of a quadratic in a normal number that has a standard
/// deviation of 1 and this skewness: k z + c (z² - 1), where γ = 6 k² c + 8 c³. The skewness of
/// the lines stays below 1.2, that of their sums too, and quadratics go up to √8: the arcsine
/// always exists.
pub(super) fn shape(skewness: f64) -> (f64, f64) {
    let bent = 2f64.sqrt() * ((skewness / 8f64.sqrt()).asin() / 3.0).sin();
    ((1.0 - 2.0 * bent * bent).sqrt(), bent)
}
