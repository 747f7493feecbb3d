//! Three-point estimates: single lines against a statistics library, sums whose prices move
//! together against random trials.

use gantrywright::bill::estimate::{Correlation, Estimate};
use gantrywright::explain::Notes;
use gantrywright::money::{Currency, PriceRange};
use gantrywright::units;
use rust_decimal::Decimal;
use rust_decimal::prelude::{FromPrimitive, ToPrimitive};

use crate::checks::{Check, hold, rows};

/// The stored amounts times this are counted, so that rounding to coins is no part of the
/// comparison.
const COINS: f64 = 1_000_000.0;

const LIBRARY: &str = "scipy.stats.beta of scipy 1.17.1 (estimate_lines.py)";

const TRIALS: &str = "two million random trials, numpy 2.4.6 and scipy 1.17.1 (estimate_sums.py)";

pub(crate) fn checks() -> Vec<Check> {
    let mut checks = Vec::from(lines());
    checks.extend(sums());
    checks
}

#[test]
fn estimates_hold() {
    hold(checks());
}

/// An estimate with the standard deviation and skewness that its notes state, in the amounts
/// of the stored tables.
struct Found {
    mean: f64,
    deviation: f64,
    skewness: f64,
    low: f64,
    high: f64,
}

/// The estimate of lines of low, likely, high.
fn found(prices: &[f64], moving_together: f64) -> Found {
    let coins = |price: f64| Decimal::from_f64(price * COINS).expect("an amount");
    let ranges = prices.chunks_exact(3).map(|line| {
        let (low, likely, high) = (coins(line[0]), coins(line[1]), coins(line[2]));
        PriceRange::new(low, likely, high, Currency::EUR).expect("in order")
    });
    let correlation = Correlation::new(units::share::of(moving_together)).expect("0 to 1");
    let mut notes = Notes::default();
    let sum = Estimate::of(ranges, Currency::EUR, correlation, &mut notes).expect("a sum");
    let noted = |symbol: &str| {
        let note = notes.get("cost.range80.1").expect("a note");
        let input = note.inputs.iter().find(|input| input.symbol == symbol);
        input.expect("an input").value.number()
    };
    let plain = |amount: Decimal| amount.to_f64().expect("a number") / COINS;
    Found {
        mean: plain(sum.expected),
        deviation: noted("s") / COINS,
        skewness: noted("γ"),
        low: plain(sum.low),
        high: plain(sum.high),
    }
}

fn lines() -> [Check; 3] {
    let mut moments = Check::within("mean and standard deviation of one line", 0.0001)
        .source(LIBRARY)
        .limits("a guessed range is a guess: the distribution is usual, not measured");
    let mut skewness = Check::within_absolute("skewness of one line", 1e-6, "")
        .source(LIBRARY)
        .limits("nothing beyond the skewness is kept of a line's shape");
    let mut ends = Check::within_absolute("range of one line", 2.0, "% of low to high")
        .source(LIBRARY)
        .limits("made for bills of many lines; a single skewed line is off most");
    for (line, row) in rows(include_str!("estimate_lines.csv")) {
        let (prices, expected) = row.split_at(3);
        let found = found(prices, 0.3);
        let width = (prices[2] - prices[0]) / 100.0;
        moments.case(format_args!("{line} mean"), found.mean, expected[0]);
        moments.case(
            format_args!("{line} deviation"),
            found.deviation,
            expected[1],
        );
        skewness.case(line, found.skewness, expected[2]);
        ends.case(
            format_args!("{line} low"),
            found.low / width,
            expected[3] / width,
        );
        ends.case(
            format_args!("{line} high"),
            found.high / width,
            expected[4] / width,
        );
    }
    [moments, skewness, ends]
}

fn sums() -> [Check; 3] {
    let check = |what, percent| Check::within(what, percent).source(TRIALS);
    let mut mean = check("mean of a bill", 0.02)
        .limits("what is forgotten has no range; trials themselves vary by 0.01 %");
    let mut deviation = check("standard deviation of a bill", 2.0).limits(
        "ρ is taken between prices; the trials have it between the normal numbers behind them",
    );
    let mut ends = check("range of a bill of 4 to 90 lines, ρ 0 to 1", 1.0)
        .limits("bounded prices have thinner tails than the skewness alone tells: up to 1 % where few lines move as one");
    for (case, row) in rows(include_str!("estimate_sums.csv")) {
        let (expected, prices) = row.split_at(5);
        let found = found(prices, expected[0]);
        let name = format!("{case} at {}", expected[0]);
        mean.case(&name, found.mean, expected[1]);
        deviation.case(&name, found.deviation, expected[2]);
        ends.case(format_args!("{name}, low"), found.low, expected[3]);
        ends.case(format_args!("{name}, high"), found.high, expected[4]);
    }
    [mean, deviation, ends]
}
