//! What a bill of uncertain prices comes to: the average to expect, and the range that eight
//! of ten such bills stay in.
//!
//! Adding up every low price and every high one gives a range that hardly any bill leaves, and
//! hardly any comes near. Here each line is a beta distribution of shape 4 (the usual
//! three-point estimate), and the lines move together a little, since they share suppliers,
//! currency and the builder's own optimism. With p = likely - low and r = high - likely:
//!
//! mean = (low + 4 likely + high)/6,  s² = (5p + r)(p + 5r)/252,  skewness γ = (r - p)/(6 s)
//!
//! exactly. To add skewed lines that move together, each is written as a quadratic in a normal
//! number z, s·(c₁ z + c₂ (z² - 1)), that keeps its s and γ: c₂ = √2 sin(⅓ arcsin(γ/√8)),
//! c₁² = 1 - 2 c₂². With one correlation ρ between all lines every sum factors, so that the
//! whole takes one pass over the lines. The ends of the range are Cornish and Fisher's
//! expansion with the skewness.

use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;
use uom::si::ratio::ratio;

use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::money::{Currency, Money, MoneyError, PriceRange};
use crate::units::{Amount, Ratio};

/// Nine of ten normal numbers lie below it (tables of the normal distribution).
const NINE_OF_TEN: f64 = 1.281_551_565_544_600_4;

/// How much the prices of different lines move together: 0 not at all, 1 as one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Correlation(f64);

impl Correlation {
    /// Between the lines of one bill: 0.3 (common practice).
    pub const USUAL: Self = Self(0.3);

    /// A correlation, from 0 to 1; none outside: prices that flee each other would make a
    /// bill of many lines certain, which no bill is.
    pub fn new(correlation: Ratio) -> Option<Self> {
        let value = correlation.get::<ratio>();
        (0.0..=1.0).contains(&value).then_some(Self(value))
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
    /// Works the sum of some ranges out, to the smallest coin.
    ///
    /// # Errors
    /// [`MoneyError::Mixed`] for two currencies, [`MoneyError::Overflow`] past counting.
    pub fn of(
        ranges: impl IntoIterator<Item = PriceRange>,
        currency: Currency,
        correlation: Correlation,
        notes: &mut impl Recorder,
    ) -> Result<Self, MoneyError> {
        let mut total = PriceRange::zero(currency);
        let mut sums = Sums::default();
        for range in ranges {
            total = total.plus(range)?;
            sums.add(range);
        }
        let spread = sums.spread(correlation);
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
        estimate.note_mean(total, notes);
        for (end, z) in [(0, -NINE_OF_TEN), (1, NINE_OF_TEN)] {
            notes.note(|| estimate.end(end, z, &sums, correlation));
        }
        Ok(estimate)
    }

    fn note_mean(self, total: PriceRange, notes: &mut impl Recorder) {
        let cost = |path: &str| Origin::figure(format!("cost.{path}"));
        notes.note(|| {
            let title = "cost to expect";
            Derivation::of("cost.expected", title, Money::new(self.expected, self.currency))
                .by(
                    "a sixth of: the sum of the low prices, four times that of the likely ones, that of the high ones",
                    "mean = (a + 4 m + b)/6",
                )
                .with("a", "sum of the low prices", Money::new(total.low, self.currency), cost("low"))
                .with("m", "sum of the likely prices", Money::new(total.likely, self.currency), cost("likely"))
                .with("b", "sum of the high prices", Money::new(total.high, self.currency), cost("high"))
                .from(SOURCE, LIMITS)
        });
    }

    /// How the lower (0) or upper (1) end of the range came about.
    fn end(self, end: usize, z: f64, sums: &Sums, correlation: Correlation) -> Derivation {
        let (amount, side) = match end {
            0 => (self.low, "above"),
            _ => (self.high, "below"),
        };
        let title = format!("nine such bills of ten are {side}");
        let spread = sums.spread(correlation);
        let normal = Origin::Constant("tables of the normal distribution");
        let usual = Origin::Constant("common practice: 0.3 between the lines of one bill");
        let mean = Origin::figure("cost.expected");
        let here = [
            (
                "S1",
                "sum of the lines' standard deviations",
                sums.deviations,
            ),
            ("S2", "sum of their squares", sums.variances),
            ("H", "sum of the lines' straight parts h", sums.linear),
            ("D", "sum of the lines' bent parts d", sums.bent),
            ("DH", "sum of d h", sums.bent_linear),
            ("DHH", "sum of d h²", sums.bent_linear_squares),
            ("DD", "sum of d²", sums.bent_squares),
            ("DDD", "sum of d³", sums.bent_cubes),
            ("s", "standard deviation of the bill", spread.deviation),
            ("γ", "skewness of the bill", spread.skewness),
        ];
        let here = here.map(|(symbol, title, number)| Input {
            symbol,
            title: title.to_owned(),
            value: Amount::plain(number).into(),
            origin: Origin::Here,
        });
        Derivation::of(format!("cost.range80.{end}"), title, Money::new(amount, self.currency))
            .by(
                "the cost to expect, and so many standard deviations of the bill beside it as its skewed distribution asks for",
                "mean + s (z + γ (z² - 1)/6); σ = 1 - ρ; s² = σ S2 + ρ S1²; γ = (6 (σ² DHH + 2 σ ρ H DH + ρ² H² D) + 8 (σ² (σ + 3 ρ) DDD + 3 σ ρ² D DD + ρ³ D³))/s³",
            )
            .with("mean", "cost to expect", Money::new(self.expected, self.currency), mean)
            .with("z", "one in ten on a side", Amount::plain(z), normal)
            .with("ρ", "how much prices move together", Amount::plain(correlation.0), usual)
            .with_each(here)
            .from(SOURCE, LIMITS)
    }
}

/// Where the statistics come from.
const SOURCE: &str = "three-point estimates by the beta distribution of shape 4; variance of a correlated sum; Cornish and Fisher's expansion (handbooks of statistics)";

/// Where they end.
const LIMITS: &str = "The ranges themselves are somebody's guess, and what is forgotten has none. That prices move together by 0.3 is common practice, not measured.";

/// An amount as a number for the statistics: digits over a power of ten, which is several
/// times faster than the general conversion, and correctly rounded for amounts below 10¹⁵
/// coins.
fn number(amount: Decimal) -> f64 {
    amount.mantissa() as f64 / 10f64.powi(amount.scale() as i32)
}

/// The mean of a three-point estimate, exact; the mean of a sum is that of its sums.
fn mean(range: PriceRange) -> Option<Decimal> {
    let likely = range.likely.checked_mul(Decimal::from(4))?;
    let sum = range.low.checked_add(likely)?.checked_add(range.high)?;
    sum.checked_div(Decimal::from(6))
}

/// What the lines add up to: all that their joint spread needs.
#[derive(Clone, Copy, Debug, Default)]
struct Sums {
    /// Σ s
    deviations: f64,
    /// Σ s²
    variances: f64,
    /// Σ h, where h = s c₁
    linear: f64,
    /// Σ d, where d = s c₂
    bent: f64,
    /// Σ d h
    bent_linear: f64,
    /// Σ d h²
    bent_linear_squares: f64,
    /// Σ d²
    bent_squares: f64,
    /// Σ d³
    bent_cubes: f64,
}

/// Standard deviation and skewness of a sum.
#[derive(Clone, Copy, Debug)]
struct Spread {
    deviation: f64,
    skewness: f64,
}

impl Sums {
    fn add(&mut self, range: PriceRange) {
        let likely = number(range.likely);
        let below = likely - number(range.low);
        let above = number(range.high) - likely;
        let variance = (5.0 * below + above) * (below + 5.0 * above) / 252.0;
        if variance <= 0.0 {
            return;
        }
        let deviation = variance.sqrt();
        let skewness = (above - below) / (6.0 * deviation);
        // The skewness of this beta family stays below 1.2, so the arcsine always exists.
        let bent = 2f64.sqrt() * ((skewness / 8f64.sqrt()).asin() / 3.0).sin();
        let h = deviation * (1.0 - 2.0 * bent * bent).sqrt();
        let d = deviation * bent;
        self.deviations += deviation;
        self.variances += variance;
        self.linear += h;
        self.bent += d;
        self.bent_linear += d * h;
        self.bent_linear_squares += d * h * h;
        self.bent_squares += d * d;
        self.bent_cubes += d * d * d;
    }

    /// The spread of the sum: with the correlation matrix C = (1 - ρ) I + ρ 1 1' and
    /// D = diag(d), the third cumulant is 6 h' C D C h + 8 tr((D C)³), multiplied out.
    fn spread(&self, correlation: Correlation) -> Spread {
        let (shared, own) = (correlation.0, 1.0 - correlation.0);
        let variance = own * self.variances + shared * self.deviations.powi(2);
        if variance <= 0.0 {
            return Spread {
                deviation: 0.0,
                skewness: 0.0,
            };
        }
        let pull = shared * self.linear;
        let mixed = own * own * self.bent_linear_squares
            + 2.0 * own * pull * self.bent_linear
            + pull * pull * self.bent;
        let cubes = own * own * (own + 3.0 * shared) * self.bent_cubes
            + 3.0 * own * shared * shared * self.bent * self.bent_squares
            + (shared * self.bent).powi(3);
        let deviation = variance.sqrt();
        Spread {
            deviation,
            skewness: (6.0 * mixed + 8.0 * cubes) / (variance * deviation),
        }
    }
}

impl Spread {
    /// Standard deviations from the mean, for those of a normal number (Cornish and Fisher).
    fn quantile(self, z: f64) -> f64 {
        z + self.skewness * (z * z - 1.0) / 6.0
    }
}

#[cfg(test)]
mod tests;
