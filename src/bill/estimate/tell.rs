//! How the cost to expect and the ends of its range came about.

use super::spread::{self, Joint};
use super::{Correlation, Estimate};
use crate::explain::{Derivation, Input, Origin};
use crate::money::{Money, PriceRange};
use crate::units::Amount;

/// Where the statistics come from.
const SOURCE: &str = "three-point estimates by the beta distribution of shape 4; variance and third cumulant of a sum of quadratics in correlated normal numbers; Cornish and Fisher's expansion (handbooks of statistics)";

/// Where they end.
const LIMITS: &str = "The ranges themselves are somebody's guess, and what is forgotten has none. How much prices move together is common practice, not measured.";

/// The formula of one end: how far it is, and what standard deviation and skewness are.
macro_rules! formula {
    ($end:literal) => {
        concat!(
            $end,
            "; s² = (1-w) HH + (w-b) HG + b H² + 2 ((1-w²) DD + (w²-b²) DG + b² D²)",
            "; γ = (6 P + 8 ((1-w)² (1+2w) DDD + 3 (1-w) ((w²-b²) DM + b² DD D)",
            " + (w-b)² (w+2b) DGG + 3 (w-b) b² DG D + b³ D³))/s³"
        )
    };
}

/// How the cost to expect came about.
pub(super) fn mean(estimate: &Estimate, total: PriceRange) -> Derivation {
    let cost = |path: &str| Origin::figure(format!("cost.{path}"));
    let money = |amount| Money::new(amount, total.currency);
    Derivation::of("cost.expected", "cost to expect", money(estimate.expected))
        .by(
            "the low prices, four times the likely ones and the high ones, each summed over the bill, and a sixth of all that",
            "mean = (a + 4 m + b)/6",
        )
        .with("a", "sum of the low prices", money(total.low), cost("low"))
        .with("m", "sum of the likely prices", money(total.likely), cost("likely"))
        .with("b", "sum of the high prices", money(total.high), cost("high"))
        .from(SOURCE, LIMITS)
}

/// How far an end is from the cost to expect: in words, and as a formula.
fn way(short: bool) -> (String, &'static str) {
    let (formula, side) = match short {
        true => (
            formula!("mean + s (k z + c (z² - 1)); c = √2 sin(arcsin(γ/√8)/3); k² = 1 - 2 c²"),
            "on this short side as if the bill were one such quadratic with the skewness γ",
        ),
        false => (
            formula!("mean + s (z + γ (z² - 1)/6)"),
            "on this long side by Cornish and Fisher's expansion",
        ),
    };
    let words = format!(
        "The cost to expect, and so many standard deviations of the bill beside it as its skewed \
         distribution asks for: {side}. Each line is a quadratic h z + d (z² - 1) of a normal \
         number z, and these move together by C: 1 for a line with itself, w within a supplier, \
         b else; a line of no supplier is a supplier of its own."
    );
    (words, formula)
}

/// How much lines move together, as inputs.
fn together(correlation: Correlation) -> [Input; 2] {
    let practice = |symbol, title, share, source| {
        Input::new(
            symbol,
            title,
            Amount::plain(share),
            Origin::Constant(source),
        )
    };
    [
        practice(
            "b",
            "how much lines move together",
            correlation.between,
            "common practice: 0.3 between the lines of one bill",
        ),
        practice(
            "w",
            "how much those of one supplier do",
            correlation.within,
            "common practice: 0.6 within the lines of one supplier",
        ),
    ]
}

/// How the lower (0) or upper (1) end of the range came about.
pub(super) fn end(
    estimate: &Estimate,
    end: usize,
    z: f64,
    joint: &Joint,
    correlation: Correlation,
) -> Derivation {
    let (amount, side) = match end {
        0 => (estimate.low, "above"),
        _ => (estimate.high, "below"),
    };
    let money = |amount| Money::new(amount, estimate.currency);
    let title = format!("nine such bills of ten are {side}");
    let spread = joint.spread(correlation);
    let normal = Origin::Constant("tables of the normal distribution");
    let plain = Amount::plain;
    let short = spread.is_short(z);
    let (words, formula) = way(short);
    let note = Derivation::of(format!("cost.range80.{end}"), title, money(amount))
        .by(words, formula)
        .with(
            "mean",
            "cost to expect",
            money(estimate.expected),
            Origin::figure("cost.expected"),
        )
        .with("z", "one in ten on a side", plain(z), normal)
        .with_each(together(correlation))
        .with_each(sums(joint))
        .with(
            "s",
            "standard deviation of the bill",
            plain(spread.deviation),
            Origin::Here,
        )
        .with(
            "γ",
            "skewness of the bill",
            plain(spread.skewness),
            Origin::Here,
        );
    let (straight, bent) = spread::shape(spread.skewness);
    let note = match short {
        true => note
            .with(
                "k",
                "straight part of the bill",
                plain(straight),
                Origin::Here,
            )
            .with("c", "bent part of the bill", plain(bent), Origin::Here),
        false => note,
    };
    note.from(SOURCE, LIMITS)
}

/// The sums that a spread is made of.
fn sums(joint: &Joint) -> impl Iterator<Item = Input> {
    let rows = [
        ("H", "sum of the lines' straight parts h", joint.h),
        ("HH", "sum of h²", joint.hh),
        ("HG", "sum over suppliers of (Σ h)²", joint.group_hh),
        ("D", "sum of the lines' bent parts d", joint.d),
        ("DD", "sum of d²", joint.dd),
        ("DDD", "sum of d³", joint.ddd),
        ("DG", "sum over suppliers of (Σ d)²", joint.group_dd),
        ("DGG", "sum over suppliers of (Σ d)³", joint.group_ddd),
        (
            "DM",
            "sum over suppliers of Σ d² times Σ d",
            joint.group_mixed,
        ),
        ("P", "sum of d (C h)²", joint.pull),
    ];
    rows.into_iter().map(|(symbol, title, number)| Input {
        symbol,
        title: title.to_owned(),
        value: Amount::plain(number).into(),
        origin: Origin::Here,
    })
}
