//! Three-point estimates: single lines against a statistics library, sums whose prices move
//! together, those of one supplier more, against random trials.

use gantrywright::bill::estimate::{Correlation, Estimate, Group, Item};
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

/// The estimate of lines of low, likely, high and group, where 0 is none.
fn found(lines: &[f64], between: f64, within: f64) -> Found {
    let coins = |price: f64| Decimal::from_f64(price * COINS).expect("an amount");
    let items = lines.chunks_exact(4).map(|line| {
        let (low, likely, high) = (coins(line[0]), coins(line[1]), coins(line[2]));
        let range = PriceRange::new(low, likely, high, Currency::EUR).expect("in order");
        Item {
            group: (line[3] > 0.0).then_some(Group(line[3] as u16)),
            ..Item::alone(range)
        }
    });
    let items: Vec<Item> = items.collect();
    let zero = PriceRange::zero(Currency::EUR);
    let total = items
        .iter()
        .try_fold(zero, |sum, item| sum.plus(item.range));
    let share = units::share::of;
    let correlation = Correlation::new(share(between), share(within)).expect("0 to 1");
    let mut notes = Notes::default();
    let total = total.expect("a total");
    let sum = Estimate::of(total, &items, correlation, &mut notes).expect("a sum");
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
        let found = found(&[prices[0], prices[1], prices[2], 0.0], 0.3, 0.6);
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

fn sums() -> [Check; 4] {
    let check = |what, percent| Check::within(what, percent).source(TRIALS);
    let mut mean = check("mean of a bill", 0.05)
        .limits("what is forgotten has no range; trials themselves vary by up to 0.03 %");
    let mut deviation = check("standard deviation of a bill", 1.0)
        .limits("nothing beyond a line's skewness is kept of how prices move together");
    let mut ends = check("range of a bill of 4 to 90 lines, correlations 0 to 1", 1.0)
        .limits("bounded prices have thinner tails than the skewness alone tells: up to 1 % where few lines move as one");
    let mut stray = check(
        "range of a bill of wild guesses, the dearest a hundred times the likely",
        2.0,
    )
    .limits("the short side of a bill that nobody knows anything about: get quotes instead");
    for (case, row) in rows(include_str!("estimate_sums.csv")) {
        let (expected, lines) = row.split_at(6);
        let [
            between,
            within,
            mean_of_trials,
            deviation_of_trials,
            low,
            high,
        ] = *expected.first_chunk().expect("six results");
        let found = found(lines, between, within);
        let name = format!("{case} at {between} and {within}");
        mean.case(&name, found.mean, mean_of_trials);
        deviation.case(&name, found.deviation, deviation_of_trials);
        let ends = match case.starts_with("stray") {
            true => &mut stray,
            false => &mut ends,
        };
        ends.case(format_args!("{name}, low"), found.low, low);
        ends.case(format_args!("{name}, high"), found.high, high);
    }
    [mean, deviation, ends, stray]
}
