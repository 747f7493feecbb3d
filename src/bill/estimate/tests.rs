use rust_decimal::prelude::ToPrimitive;

use super::*;
use crate::explain::{Notes, Silent};
use crate::units;

fn range(low: i64, likely: i64, high: i64) -> PriceRange {
    let [low, likely, high] = [low, likely, high].map(Decimal::from);
    PriceRange::new(low, likely, high, Currency::EUR).expect("in order")
}

fn correlation(value: f64) -> Correlation {
    Correlation::new(units::share::of(value)).expect("a correlation")
}

fn estimate(ranges: &[PriceRange], moving_together: f64) -> Estimate {
    let ranges = ranges.iter().copied();
    Estimate::of(
        ranges,
        Currency::EUR,
        correlation(moving_together),
        &mut Silent,
    )
    .expect("a sum")
}

#[test]
fn prices_without_a_range_are_certain() {
    for ranges in [
        &[][..],
        &[range(5, 5, 5)],
        &[range(5, 5, 5), range(7, 7, 7)],
    ] {
        let sum: Decimal = ranges.iter().map(|range| range.likely).sum();
        let found = estimate(ranges, 0.3);
        assert_eq!((found.low, found.expected, found.high), (sum, sum, sum));
    }
}

#[test]
fn the_mean_is_exact_to_the_coin() {
    let cents = |low, likely, high| {
        range(low, likely, high)
            .map(|money| money.times(Decimal::new(1, 2)))
            .expect("cents")
    };
    // (100 + 4 · 150 + 301)/6 = 166.833... cents
    let found = estimate(&[cents(100, 150, 301)], 0.0);
    assert_eq!(found.expected, Decimal::new(167, 2));
    let yen = "JPY".parse().expect("a code");
    let line = PriceRange {
        currency: yen,
        ..range(100, 150, 301)
    };
    let found = Estimate::of([line], yen, Correlation::USUAL, &mut Silent).expect("a sum");
    assert_eq!(found.expected, Decimal::from(167));
    assert_eq!(found.low.scale(), 0);
}

#[test]
fn only_correlations_from_none_to_one_are_taken() {
    for value in [-0.01, 1.01, f64::NAN, f64::INFINITY] {
        assert_eq!(Correlation::new(units::share::of(value)), None, "{value}");
    }
    assert_eq!(correlation(0.3), Correlation::USUAL);
}

#[test]
fn two_currencies_are_refused() {
    let found = Estimate::of(
        [range(1, 2, 3)],
        Currency::USD,
        Correlation::USUAL,
        &mut Silent,
    );
    assert_eq!(found, Err(MoneyError::Mixed(Currency::USD, Currency::EUR)));
}

/// The range opens as prices move together, and never leaves what the lines allow.
#[test]
fn the_range_opens_with_correlation_and_stays_within_the_prices() {
    let shapes = [
        range(0, 0, 100),
        range(0, 100, 100),
        range(0, 50, 100),
        range(90, 100, 160),
        range(0, 1, 1_000_000),
    ];
    for first in shapes {
        for second in shapes {
            let lines = [first, second, first];
            let total = lines.iter().map(|line| (line.low, line.high));
            let (low, high) = total.fold((Decimal::ZERO, Decimal::ZERO), |sum, line| {
                (sum.0 + line.0, sum.1 + line.1)
            });
            let mut before = estimate(&lines, 0.0);
            for step in 1..=10 {
                let now = estimate(&lines, f64::from(step) / 10.0);
                assert!(low <= now.low && now.high <= high, "{lines:?}: {now:?}");
                assert!(now.low < now.expected && now.expected < now.high, "{now:?}");
                let width = |estimate: Estimate| estimate.high - estimate.low;
                assert!(width(now) > width(before), "{lines:?}: {now:?}");
                before = now;
            }
        }
    }
}

#[test]
fn a_note_tells_what_the_estimate_says() {
    let mut notes = Notes::default();
    let lines = [range(100, 150, 300), range(40, 50, 60)];
    let found = Estimate::of(lines, Currency::EUR, Correlation::USUAL, &mut notes).expect("a sum");
    for (path, amount) in [
        ("cost.expected", found.expected),
        ("cost.range80.0", found.low),
        ("cost.range80.1", found.high),
    ] {
        let note = notes.get(path).unwrap_or_else(|| panic!("no {path}"));
        assert_eq!(Some(note.result.number()), amount.to_f64(), "{path}");
        assert!(note.inputs.len() >= 3 && !note.source.is_empty(), "{path}");
    }
    let end = notes.get("cost.range80.1").expect("a note");
    let of = |symbol: &str| {
        let input = end.inputs.iter().find(|input| input.symbol == symbol);
        input.expect("an input").value.number()
    };
    let (z, rho) = (of("z"), of("ρ"));
    let variance = (1.0 - rho) * of("S2") + rho * of("S1").powi(2);
    assert!((variance.sqrt() / of("s") - 1.0).abs() < 1e-12);
    let by_hand = of("mean") + of("s") * (z + of("γ") * (z * z - 1.0) / 6.0);
    assert!((by_hand - end.result.number()).abs() < 0.01);
}
